package pdf

import (
	"strings"

	"waywright/report/document"
)

// span is text of one look.
type span struct {
	text string
	face *face
	size float64
	ref  string // id that it points to
	page bool   // its text is the page of ref, known only at the end
}

// longestPage stands for the page of a reference while its width is asked for.
const longestPage = "page 888"

func (s span) width() float64 {
	if s.page {
		return s.face.width(longestPage, s.size)
	}
	return s.face.width(s.text, s.size)
}

// piece is a span at its place in a line.
type piece struct {
	span
	x, w float64
}

// textLine is a line that is broken to its width.
type textLine struct {
	pieces []piece
	w      float64
	size   float64 // of the largest letters
}

const leading = 1.34 // height of a line, in parts of the size of its letters

func (t textLine) h() float64 { return t.size * leading }

// style is how the text of a block looks.
type style struct {
	size float64
	bold bool
}

// spans turns a line of the document into spans.
func (l *layout) spans(line document.Line, st style) []span {
	var out []span
	for _, r := range line {
		f, size := l.faces.plain, st.size
		switch {
		case r.Code:
			f = l.faces.mono
		case r.Strong || st.bold:
			f = l.faces.bold
		}
		out = append(out, l.span(r.Text, f, size, r.Ref))
	}
	return out
}

func (l *layout) span(text string, f *face, size float64, ref string) span {
	text, whole := f.printable(text)
	if !whole {
		l.missing = true
	}
	return span{text: text, face: f, size: size, ref: ref}
}

// words parts spans into words: each a row of spans between which a line is not
// broken, with the blank that follows.
func words(spans []span) [][]span {
	var out [][]span
	open := false
	for _, s := range spans {
		if s.page {
			if !open {
				out = append(out, nil)
			}
			out[len(out)-1] = append(out[len(out)-1], s)
			open = true
			continue
		}
		for text := s.text; text != ""; {
			n := strings.IndexByte(text, ' ')
			end := n >= 0
			if !end {
				n = len(text)
			}
			for n < len(text) && text[n] == ' ' {
				n++
			}
			part := s
			part.text, text = text[:n], text[n:]
			if !open {
				out = append(out, nil)
			}
			out[len(out)-1] = append(out[len(out)-1], part)
			open = !end
		}
	}
	return out
}

// wordWidth is that of a word, without the blank at its end.
func wordWidth(word []span) (w, blank float64) {
	for i, s := range word {
		if i == len(word)-1 && !s.page {
			bare := strings.TrimRight(s.text, " ")
			w += s.face.width(bare, s.size)
			return w, s.face.width(s.text[len(bare):], s.size)
		}
		w += s.width()
	}
	return w, 0
}

// wrap breaks spans into lines. A word that is wider than a line is broken
// where it must be, if it can behind a mark.
func wrap(spans []span, wide float64) []textLine {
	var out []textLine
	var now textLine
	x := 0.0
	put := func(s span) {
		w := s.width()
		now.pieces = append(now.pieces, piece{s, x, w})
		now.size = max(now.size, s.size)
		x += w
	}
	end := func() {
		if len(now.pieces) == 0 {
			return
		}
		last := &now.pieces[len(now.pieces)-1]
		if bare := strings.TrimRight(last.text, " "); !last.page && bare != last.text {
			last.text, last.w = bare, last.face.width(bare, last.size)
		}
		now.w = last.x + last.w
		out = append(out, now)
		now, x = textLine{}, 0
	}
	for _, word := range words(spans) {
		w, _ := wordWidth(word)
		if x > 0 && x+w > wide+0.01 {
			end()
		}
		if w <= wide+0.01 {
			for _, s := range word {
				put(s)
			}
			continue
		}
		for _, s := range word {
			for s.text != "" && !s.page && x+s.face.width(strings.TrimRight(s.text, " "), s.size) > wide+0.01 {
				head, tail := cut(s, wide-x, x == 0)
				if head != "" {
					part := s
					part.text = head
					put(part)
				}
				s.text = tail
				end()
			}
			if s.text != "" || s.page {
				put(s)
			}
		}
	}
	end()
	return out
}

// cut takes as much of a span as there is room for, at least one letter where
// it must.
func cut(s span, room float64, must bool) (head, tail string) {
	w, n, good := 0.0, 0, 0
	for i, r := range s.text {
		w += s.face.width(string(r), s.size)
		if w > room && (i > 0 || !must) {
			break
		}
		n = i + len(string(r))
		if strings.ContainsRune("/._,;:-)]=&", r) {
			good = n
		}
	}
	if good > n/2 {
		n = good
	}
	return s.text[:n], s.text[n:]
}

// longestWord is the width of the widest word, and natural that of the text on
// one line.
func longestWord(spans []span) (longest, natural float64) {
	for _, word := range words(spans) {
		w, blank := wordWidth(word)
		longest = max(longest, w)
		natural += w + blank
	}
	return longest, natural
}
