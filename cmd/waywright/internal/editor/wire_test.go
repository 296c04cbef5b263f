package editor

import (
	"bufio"
	"bytes"
	"io"
	"strings"
	"testing"
)

func TestWire(t *testing.T) {
	for _, tt := range []struct{ name, in, want, err string }{
		{"a message", "Content-Length: 2\r\n\r\n{}", "{}", ""},
		{"more headers, in other letters", "Content-Type: x; charset=utf-8\r\ncontent-length:2\r\n\r\n{}", "{}", ""},
		{"nothing", "", "", "EOF"},
		{"a message that breaks off", "Content-Length: 9\r\n\r\n{}", "", "EOF"},
		{"no number of bytes", "X: 1\r\n\r\n{}", "", "without Content-Length"},
		{"no header", "hello\r\n\r\n", "", "no header"},
		{"more than there can be", "Content-Length: 99999999999999999999\r\n\r\n", "", "at most"},
		{"more than there may be", "Content-Length: 9999999999\r\n\r\n", "", "at most"},
		{"less than nothing", "Content-Length: -1\r\n\r\n", "", "at most"},
		{"a header without end", strings.Repeat("x", 1<<16), "", "buffer full"},
	} {
		w := &wire{in: bufio.NewReader(strings.NewReader(tt.in))}
		got, err := w.Recv()
		switch {
		case tt.err == "" && (err != nil || string(got) != tt.want):
			t.Errorf("%s: Recv() = %q, %v; want %q", tt.name, got, err, tt.want)
		case tt.err != "" && (err == nil || !strings.Contains(err.Error(), tt.err)):
			t.Errorf("%s: Recv() = %q, %v; want an error with %q", tt.name, got, err, tt.err)
		}
	}
	var b bytes.Buffer
	w := &wire{in: bufio.NewReader(&b), out: &b, end: func() error { return io.ErrClosedPipe }}
	if err := w.Send([]byte("{\"µ\": 1}")); err != nil {
		t.Fatal(err)
	}
	if got, err := w.Recv(); err != nil || string(got) != "{\"µ\": 1}" {
		t.Errorf("what was sent is received as %q, %v", got, err)
	}
}
