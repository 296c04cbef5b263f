package lsp

import (
	"bytes"
	"sort"
	"unicode/utf8"
)

// Text is a text with the places where its lines begin. Lines end with LF, or
// CR and LF, or CR.
type Text struct {
	Bytes  []byte
	starts []int
}

// NewText finds the lines of a text.
func NewText(b []byte) *Text {
	t := &Text{Bytes: b, starts: []int{0}}
	for i, c := range b {
		if c == '\n' || c == '\r' && (i+1 == len(b) || b[i+1] != '\n') {
			t.starts = append(t.starts, i+1)
		}
	}
	return t
}

// Offset returns the byte of a position. What lies behind the end of a line or
// of the text is its end; within a character, its beginning.
func (t *Text) Offset(p Position) int {
	if p.Line < 0 {
		return 0
	}
	if p.Line >= len(t.starts) {
		return len(t.Bytes)
	}
	at := t.starts[p.Line]
	line := t.line(p.Line)
	for n := 0; len(line) > 0; {
		r, size := utf8.DecodeRune(line)
		if n += units(r); n > p.Character {
			break
		}
		at += size
		line = line[size:]
	}
	return at
}

// Position returns the position of a byte; within a character, its beginning.
func (t *Text) Position(offset int) Position {
	offset = max(0, min(offset, len(t.Bytes)))
	line := sort.SearchInts(t.starts, offset+1) - 1
	p := Position{Line: line}
	for at := t.starts[line]; at < offset; {
		r, size := utf8.DecodeRune(t.Bytes[at:])
		if at += size; at <= offset {
			p.Character += units(r)
		}
	}
	return p
}

// Range returns the range of some bytes.
func (t *Text) Range(from, to int) Range {
	return Range{Start: t.Position(from), End: t.Position(max(from, to))}
}

// Whole returns the range of all of it.
func (t *Text) Whole() Range { return t.Range(0, len(t.Bytes)) }

// line returns a line without its end.
func (t *Text) line(n int) []byte {
	end := len(t.Bytes)
	if n+1 < len(t.starts) {
		end = t.starts[n+1]
	}
	return bytes.TrimRight(t.Bytes[t.starts[n]:end], "\r\n")
}

// units is the number of UTF-16 units of a character. A byte that is no UTF-8
// is one, as the character that editors show for it.
func units(r rune) int {
	if r > 0xFFFF {
		return 2
	}
	return 1
}

// Edit returns the text with a change made to it.
func (t *Text) Edit(c Change) *Text {
	if c.Range == nil {
		return NewText([]byte(c.Text))
	}
	from, to := t.Offset(c.Range.Start), t.Offset(c.Range.End)
	to = max(from, to)
	out := make([]byte, 0, len(t.Bytes)-(to-from)+len(c.Text))
	out = append(out, t.Bytes[:from]...)
	out = append(out, c.Text...)
	out = append(out, t.Bytes[to:]...)
	return NewText(out)
}
