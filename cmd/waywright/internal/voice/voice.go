// Package voice puts what the engine says into the words and the short lines
// that a person reads at the machine.
//
// A text says one thing at a time: where, what the machine is doing, what to
// do, what to read. A verdict stands first and in capitals. Directions are
// words, as seen by the person in front. No colour, box or symbol carries
// meaning, labels stand before values, and no line is wider than the screen.
//
// The package takes values and returns lines. It reads nothing, writes
// nothing and keeps nothing.
package voice

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// The widths in columns.
const (
	defaultWidth = 60
	largeWidth   = 30
	labelWidth   = 8 // "Found   ", "Allowed "
)

// Voice is how to speak to somebody.
type Voice struct {
	Title   string // of the procedure
	Machine string // its id
	Inch    bool   // the run is in inches
	Width   int    // columns of the screen; 0 is 60
	Large   bool   // few words in 30 columns, one line a screen
	Watched bool   // the screen is drawn again each second of a wait, so that a bar can be seen to grow
	Bare    bool   // no pictures: the screen has no dots for them, or is listened to
	Wide    bool   // lines as wide as Width, for a page that is read rather than answered
}

// columns returns how wide a line may be.
func (v Voice) columns() int {
	width := defaultWidth
	if v.Large {
		width = largeWidth
	}
	if v.Width > 0 && (v.Width < width || v.Wide) {
		width = v.Width
	}
	return max(width, 16)
}

// Line is one thing to say. It may be wider than the screen; [Voice.Lay]
// breaks it.
type Line struct {
	Text string
	Hang int // blanks before what does not fit on the first row
}

// Screen is what is said at once, from top to bottom.
type Screen []Line

// say returns a screen of plain lines. Empty texts at the beginning are left
// out.
func say(texts ...string) Screen {
	var s Screen
	for _, t := range texts {
		if t != "" {
			s = append(s, Line{Text: t})
		}
	}
	return s
}

// labelled returns "Found   0.045 larger", with what does not fit below the
// value.
func labelled(label, text string) Line {
	pad := max(labelWidth-utf8.RuneCountInString(label), 1)
	return Line{Text: label + strings.Repeat(" ", pad) + text, Hang: labelWidth}
}

// detail returns a line that is set in by one blank.
func detail(text string) Line { return Line{Text: " " + text, Hang: 1} }

// Lay breaks the screen's lines at blanks to fit. Blanks that part columns
// stay where the line fits.
func (v Voice) Lay(s Screen) []string {
	var out []string
	for i, l := range s {
		if v.Large && l.Text == "" {
			continue
		}
		if v.Large && i > 0 {
			out = append(out, "")
		}
		for _, row := range wrap(l, v.columns()) {
			out = append(out, strings.ReplaceAll(row, hard, " "))
		}
	}
	return out
}

// hard is a blank at which no line is broken: between a number and its unit.
const hard = "\u00a0"

// hold keeps a number and its unit on one line.
func hold(s string) string { return strings.ReplaceAll(s, " ", hard) }

// Pages lays a question out as screens that follow each other: one, or in
// large letters one for each line of what comes before the question itself.
// Where nothing has to be done first, large letters leave out where one is.
func (v Voice) Pages(a Asked) [][]string {
	tail := append(append(Screen(nil), a.Ask...), v.Numbered(a.Options)...)
	if !v.Large {
		return [][]string{v.Lay(append(append(append(Screen(nil), a.Head...), a.Body...), tail...))}
	}
	var pages [][]string
	if len(a.Body) > 0 {
		for _, l := range append(append(Screen(nil), a.Head...), a.Body...) {
			if l.Text != "" {
				pages = append(pages, v.Lay(Screen{l}))
			}
		}
	}
	if len(tail) > 0 {
		pages = append(pages, v.Lay(tail))
	}
	return pages
}

// Leaves lays a question out for a screen of so many rows. What does not fit is
// turned leaf by leaf, from the top and broken at gaps where it can be: what
// stands first would otherwise have left the screen before anybody read it. The
// last leaf has what is asked, and the line that it is about.
func (v Voice) Leaves(a Asked, rows int) [][]string {
	said := append(append(Screen(nil), a.Head...), a.Body...)
	text := v.Lay(said)
	tail := v.Lay(append(append(Screen(nil), a.Ask...), v.Numbered(a.Options)...))
	if len(text)+len(tail) <= rows || len(text) == 0 {
		return [][]string{append(text, tail...)}
	}
	turn := v.Lay(Screen{{Text: turnLeaf}})
	size := max(rows-len(turn), 1)
	var leaves [][]string
	var leaf []string
	turned := func() {
		if len(leaf) > 0 {
			leaves = append(leaves, append(leaf, turn...))
		}
		leaf = nil
	}
	about := Line{}
	for _, part := range parts(said) {
		lines := v.Lay(part)
		if len(leaf)+1+len(lines) > size {
			turned()
		}
		for ; len(lines) > size; lines = lines[size:] {
			leaf = slices.Clone(lines[:size])
			turned()
		}
		if len(leaf) > 0 {
			leaf = append(leaf, "")
		}
		leaf, about = append(leaf, lines...), part[0]
	}
	if len(leaf)+len(tail) > rows {
		turned()
		leaf = v.Lay(Screen{about})
	}
	return append(leaves, append(leaf, tail...))
}

// parts splits a screen at its gaps.
func parts(s Screen) []Screen {
	var out []Screen
	fresh := true
	for _, l := range s {
		switch {
		case l.Text == "":
			fresh = true
		case fresh:
			out, fresh = append(out, Screen{l}), false
		default:
			out[len(out)-1] = append(out[len(out)-1], l)
		}
	}
	return out
}

// turnLeaf stands below what is not the whole of a question.
const turnLeaf = "There is more: Enter turns the page."

func wrap(l Line, width int) []string {
	text := strings.TrimRight(l.Text, " ")
	if utf8.RuneCountInString(text) <= width {
		return []string{text}
	}
	hang := min(l.Hang, width/2)
	indent := len(text) - len(strings.TrimLeft(text, " "))
	row := strings.Repeat(" ", indent)
	fresh := true
	var out []string
	for i, word := range words(text[indent:]) {
		gap := ""
		if !fresh {
			gap = word.gap
		}
		if i > 0 && utf8.RuneCountInString(row+gap+word.text) > width && strings.TrimSpace(row) != "" {
			out = append(out, row)
			row, gap = strings.Repeat(" ", hang), ""
		}
		row += gap + word.text
		fresh = false
		for utf8.RuneCountInString(row) > width { // a word wider than the screen
			r := []rune(row)
			out = append(out, string(r[:width]))
			row = strings.Repeat(" ", hang) + string(r[width:])
		}
	}
	return append(out, row)
}

// piece is a word with the blanks before it.
type piece struct{ gap, text string }

func words(s string) []piece {
	var out []piece
	for s != "" {
		rest := strings.TrimLeft(s, " ")
		gap := s[:len(s)-len(rest)]
		end := strings.IndexByte(rest, ' ')
		if end < 0 {
			end = len(rest)
		}
		out = append(out, piece{gap, rest[:end]})
		s = rest[end:]
	}
	return out
}
