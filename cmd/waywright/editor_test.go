package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// The real program talks to an editor over its standard input and output, and
// ends when it is told, though its input stays open.
func TestEditor(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "p.hcl")
	cmd := command(dir, "editor", "--stdio")
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	// One that says nothing is not waited for.
	defer time.AfterFunc(2*time.Minute, func() { _ = cmd.Process.Kill() }).Stop()
	say := func(text string) {
		if _, err := fmt.Fprintf(in, "Content-Length: %d\r\n\r\n%s", len(text), text); err != nil {
			t.Fatal(err)
		}
	}
	uri := (&url.URL{Scheme: "file", Path: filepath.ToSlash(file)}).String()
	say(`{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"capabilities":{}}}`)
	say(`{"jsonrpc":"2.0","method":"initialized","params":{}}`)
	say(fmt.Sprintf(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":%q,"version":7,"text":"procedure \"µ🙂\" { titel = 1 }"}}}`, uri))
	r := bufio.NewReader(out)
	found := false
	for !found {
		m := frame(t, r)
		if m.Method == "textDocument/publishDiagnostics" {
			found = strings.Contains(string(m.Params), `"code":"E101"`) && strings.Contains(string(m.Params), `"start":{"line":0,"character":18}`)
			if !found {
				t.Fatalf("it tells %s", m.Params)
			}
		}
	}
	say(`{"jsonrpc":"2.0","id":2,"method":"shutdown"}`)
	for frame(t, r).ID != 2 {
	}
	say(`{"jsonrpc":"2.0","method":"exit"}`)
	if err := cmd.Wait(); err != nil {
		t.Errorf("it ends with %v", err)
	}
	in.Close()

	// An editor that is gone without a word.
	cmd = command(dir, "editor")
	cmd.Stdin = strings.NewReader("")
	var e *exec.ExitError
	if err := cmd.Run(); !errors.As(err, &e) || e.ExitCode() != 1 {
		t.Errorf("without a word it ends with %v", err)
	}
	if _, err := os.Stat(file); err == nil {
		t.Error("the file was written")
	}
}

type framed struct {
	ID     int             `json:"id"`
	Method string          `json:"method"`
	Params json.RawMessage `json:"params"`
}

// frame reads a message with its header.
func frame(t *testing.T, r *bufio.Reader) framed {
	t.Helper()
	size := 0
	for {
		line, err := r.ReadString('\n')
		if err != nil {
			t.Fatalf("it says no more: %v", err)
		}
		if line == "\r\n" {
			break
		}
		if _, err := fmt.Sscanf(line, "Content-Length: %d", &size); err != nil {
			t.Fatalf("the header %q: %v", line, err)
		}
	}
	b := make([]byte, size)
	if _, err := io.ReadFull(r, b); err != nil {
		t.Fatal(err)
	}
	var m framed
	if err := json.Unmarshal(b, &m); err != nil {
		t.Fatalf("%s: %v", b, err)
	}
	return m
}
