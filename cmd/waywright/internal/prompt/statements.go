package prompt

import (
	"errors"
	"io"
)

// Statements reads an answers file whole. The error is a [FileError] at the first
// line that is none.
func Statements(r io.Reader, file string) ([]Statement, error) {
	in := newStatementReader(r, file)
	var out []Statement
	for {
		st, err := in.next()
		if errors.Is(err, io.EOF) {
			return out, nil
		} else if err != nil {
			return nil, err
		}
		out = append(out, st)
	}
}
