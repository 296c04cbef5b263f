package lsp_test

import (
	"testing"
	"unicode/utf16"

	"pgregory.net/rapid"

	"waywright/cmd/waywright/internal/editor/lsp"
)

func TestPositions(t *testing.T) {
	text := lsp.NewText([]byte("title = \"µm Ø 🙂 x\"\r\nsecond\n\nlast"))
	for _, tt := range []struct {
		name       string
		line, char int
		offset     int
		backTo     int // character; −1: the same
	}{
		{"the beginning", 0, 0, 0, -1},
		{"µ", 0, 9, 9, -1},
		{"behind µ: one unit, two bytes", 0, 10, 11, -1},
		{"Ø", 0, 12, 13, -1},
		{"behind Ø", 0, 13, 15, -1},
		{"the emoji", 0, 14, 16, -1},
		{"within the emoji is its beginning", 0, 15, 16, 14},
		{"behind the emoji: two units, four bytes", 0, 16, 20, -1},
		{"the end of the line", 0, 19, 23, -1},
		{"behind the end of the line", 0, 99, 23, 19},
		{"the second line", 1, 0, 25, -1},
		{"an empty line", 2, 5, 32, 0},
		{"the last line", 3, 4, 37, -1},
	} {
		at := lsp.Position{Line: tt.line, Character: tt.char}
		if got := text.Offset(at); got != tt.offset {
			t.Errorf("%s: Offset(%v) = %d; want %d", tt.name, at, got, tt.offset)
		}
		if tt.backTo >= 0 {
			at.Character = tt.backTo
		}
		if got := text.Position(tt.offset); got != at {
			t.Errorf("%s: Position(%d) = %v; want %v", tt.name, tt.offset, got, at)
		}
	}
	if got := text.Offset(lsp.Position{Line: 99}); got != 37 {
		t.Errorf("behind the last line: %d; want the end", got)
	}
	if got := text.Offset(lsp.Position{Line: -1, Character: 3}); got != 0 {
		t.Errorf("before the first line: %d; want the beginning", got)
	}
}

// A change at a place counted in UTF-16 is the change that an editor makes,
// which keeps its text as UTF-16.
func TestEdit(t *testing.T) {
	piece := rapid.StringOfN(rapid.SampledFrom([]rune("ab µØ🙂\n\"")), 0, 20, -1)
	rapid.Check(t, func(t *rapid.T) {
		src := piece.Draw(t, "text")
		wide := utf16.Encode([]rune(src))
		from := rapid.IntRange(0, len(wide)).Draw(t, "from")
		to := rapid.IntRange(from, len(wide)).Draw(t, "to")
		for from > 0 && utf16.IsSurrogate(rune(wide[from-1])) && from < len(wide) && wide[from-1] < 0xDC00 {
			from--
		}
		for to > 0 && to < len(wide) && wide[to-1] >= 0xD800 && wide[to-1] < 0xDC00 {
			to++
		}
		put := piece.Draw(t, "new text")
		place := func(n int) lsp.Position {
			p := lsp.Position{}
			for _, u := range wide[:n] {
				p.Character++
				if u == '\n' {
					p = lsp.Position{Line: p.Line + 1}
				}
			}
			return p
		}
		want := string(utf16.Decode(wide[:from])) + put + string(utf16.Decode(wide[to:]))
		got := lsp.NewText([]byte(src)).Edit(lsp.Change{Range: &lsp.Range{Start: place(from), End: place(to)}, Text: put})
		if string(got.Bytes) != want {
			t.Fatalf("Edit(%q, %d to %d, %q) = %q; want %q", src, from, to, put, got.Bytes, want)
		}
		for i := range got.Bytes {
			p := got.Position(i)
			if at := got.Offset(p); at > i {
				t.Fatalf("byte %d is at %v, which is byte %d", i, p, at)
			}
		}
	})
}
