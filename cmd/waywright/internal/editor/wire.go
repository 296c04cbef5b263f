package editor

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// maxMessage bounds a message: a procedure file has at most 1 MiB, and JSON
// may write a byte of it as six.
const maxMessage = 16 << 20

// wire frames messages as the protocol has them: a header with the number of
// bytes, an empty line, the bytes. A number beyond the bound ends it, where the
// framing of the library would take the memory.
type wire struct {
	in  *bufio.Reader
	out io.Writer
	end func() error
}

// Recv returns the next message.
func (w *wire) Recv() ([]byte, error) {
	size := -1
	for {
		line, err := w.in.ReadSlice('\n')
		if err != nil {
			return nil, err
		}
		text := strings.TrimRight(string(line), "\r\n")
		if text == "" {
			break
		}
		name, value, ok := strings.Cut(text, ":")
		if !ok {
			return nil, fmt.Errorf("editor: %q is no header of a message", text)
		}
		if strings.EqualFold(name, "Content-Length") {
			n, err := strconv.Atoi(strings.TrimSpace(value))
			if err != nil || n < 0 || n > maxMessage {
				return nil, fmt.Errorf("editor: a message of %q bytes: at most %d are read", strings.TrimSpace(value), maxMessage)
			}
			size = n
		}
	}
	if size < 0 {
		return nil, errors.New("editor: a message without Content-Length")
	}
	b := make([]byte, size)
	_, err := io.ReadFull(w.in, b)
	return b, err
}

// Send writes a message.
func (w *wire) Send(b []byte) error {
	_, err := fmt.Fprintf(w.out, "Content-Length: %d\r\n\r\n%s", len(b), b)
	return err
}

// Close ends the conversation.
func (w *wire) Close() error { return w.end() }
