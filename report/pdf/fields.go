package pdf

import (
	"math"
	"slices"

	"waywright/report/document"
)

// Room to write in, in points: a hand with a pencil beside a machine wants 9 mm
// of height, and more than 20 mm for a value.
const (
	mm        = 72 / 25.4
	roomHigh  = 9 * mm
	valueWide = 22 * mm
	tightWide = 19 * mm // where fields stand side by side
	wordsWide = 85 * mm // of a line to write on, beside what is asked
	tickSize  = 4.5 * mm
	noWide    = 13 * mm // of the number of a field, at least
	leastAsk  = 45 * mm // of what is asked, beside its rooms
	rowPad    = 2.5
	roomGap   = 7.0

	foldFrom = 6  // rows from which short ones stand side by side
	bandRows = 12 // of them one under the other, before the next column begins
)

// fields lays fields out: the number, what is asked, and the rooms at the right,
// or below where they need the width. Many short ones stand side by side, to be
// read down each column.
func (l *layout) fields(f document.Fields, fr frame) []box {
	no := noWide
	for _, r := range f.Rows {
		no = max(no, l.faces.bold.width(r.No, fr.size)+8)
	}
	if n := l.sideBySide(f, no, fr); n > 1 {
		return l.bands(f, no, n, fr)
	}
	var out []box
	for i, r := range f.Rows {
		b := l.field(r, no, fr)
		if i > 0 {
			b.hair = fr.wide
		}
		out = append(out, b)
	}
	if len(out) > 0 {
		out[0].before = 4
	}
	return out
}

// room is a room at its size.
type room struct {
	w, h float64
	draw func(s *sheet, x, y float64)
}

// rooms sizes the rooms of a field. A sum takes what the others leave of a width;
// what is written out, the whole of it where it needs more than a line.
func (l *layout) rooms(r document.Field, wide float64, fr frame) []room {
	var out []room
	sum, left := -1, wide
	for _, x := range r.Rooms {
		n := len(out)
		switch x.Kind {
		case document.Ticks:
			out = append(out, l.ticks(x, fr)...)
		case document.Words:
			out = append(out, lined(x, wide))
			if x.Lines < 2 {
				out[n] = lined(x, min(wide, wordsWide))
			}
		case document.Sum:
			sum = n
			out = append(out, room{})
			continue
		default:
			out = append(out, l.valueRoom(x, valueWide, fr))
		}
		if sum >= 0 {
			for _, y := range out[n:] {
				left -= y.w + roomGap
			}
		}
	}
	for i, x := range r.Rooms {
		if x.Kind == document.Sum && i == sum {
			out[sum] = lined(x, max(left, leastAsk))
		}
	}
	return out
}

func (l *layout) plainLine(s string, fr frame) textLine {
	lines := wrap(l.spans(document.Line{{Text: s}}, style{size: fr.size}), math.Inf(1))
	if len(lines) == 0 {
		return textLine{size: fr.size}
	}
	return lines[0]
}

// valueRoom is a box, with which take it is for before it and the unit behind.
func (l *layout) valueRoom(x document.Room, box float64, fr frame) room {
	head, unit := l.plainLine(x.Head, fr), l.plainLine(x.Unit, fr)
	left := 0.0
	if x.Head != "" {
		left = head.w + 3
	}
	w := left + box
	if x.Unit != "" {
		w += 3 + unit.w
	}
	return room{w, roomHigh, func(s *sheet, x0, y float64) {
		base := y + (roomHigh-fr.size*leading)/2
		head.draw(s, x0, base)
		s.frame(x0+left, y, box, roomHigh)
		unit.draw(s, x0+left+box+3, base)
	}}
}

// ticks are boxes to tick, each with its word.
func (l *layout) ticks(x document.Room, fr frame) []room {
	var out []room
	for _, word := range x.Words {
		t := l.plainLine(word, fr)
		out = append(out, room{tickSize + 4 + t.w + 4, tickSize + 2, func(s *sheet, x0, y float64) {
			s.frame(x0, y+1, tickSize, tickSize)
			t.draw(s, x0+tickSize+4, y+1+(tickSize-fr.size*leading)/2)
		}})
	}
	return out
}

// lined is lines to write on.
func lined(x document.Room, wide float64) room {
	n := max(x.Lines, 1)
	return room{wide, float64(n) * roomHigh, func(s *sheet, x0, y float64) {
		for i := range n {
			at := y + float64(i+1)*roomHigh - 3
			s.hair(x0, at, x0+wide)
		}
	}}
}

// frame draws a box.
func (s *sheet) frame(x, y, w, h float64) {
	s.ops = append(s.ops, func(p *painter) {
		p.f.SetLineWidth(0.7)
		p.f.Rect(x, y, w, h, "D")
	})
}

// flowed puts rooms on lines of a width, each down to the foot of its line, and
// returns how high they are.
func flowed(rooms []room, wide float64) (at []float64, down []float64, high float64) {
	x, y, line, first := 0.0, 0.0, 0.0, 0
	settle := func() {
		for i := first; i < len(at); i++ {
			if r := rooms[i]; r.h < roomHigh && line >= roomHigh { // in the middle of the lowest box
				down[i] = y + line - (roomHigh+r.h)/2
			} else {
				down[i] = y + line - r.h
			}
		}
		first = len(at)
	}
	for _, r := range rooms {
		if x > 0 && x+r.w > wide+0.01 {
			settle()
			x, y, line = 0, y+line+rowPad, 0
		}
		at, down = append(at, x), append(down, y)
		x += r.w + roomGap
		line = max(line, r.h)
	}
	settle()
	return at, down, y + line
}

// field is one row.
func (l *layout) field(r document.Field, no float64, fr frame) box {
	number := l.spans(document.Line{{Text: r.No, Strong: true}}, style{size: fr.size})
	whole := fr.wide - no
	rooms := l.rooms(r, whole, fr)
	need := -roomGap
	for _, x := range rooms {
		need += x.w + roomGap
	}
	beside := len(rooms) > 0 && whole-need-column >= leastAsk
	asked := whole
	if beside {
		asked = whole - need - column
	}
	var words flowCell
	words.texts(wrap(l.spans(r.Line, style{size: fr.size}), asked), 0)
	for _, u := range r.Under {
		words.texts(wrap(l.spans(u, style{size: fr.size}), asked), 0)
	}
	text := heightOf(words)
	at, down, high := flowed(rooms, whole)
	top, left, h := text+rowPad, no, text
	switch {
	case beside:
		top, left, h = 0, no+asked+column, max(text, high)
	case len(rooms) > 0:
		h = text + rowPad + high
	}
	return box{h: h + 2*rowPad, draw: func(s *sheet, x, y float64) {
		y += rowPad
		for _, t := range wrap(number, no) {
			t.draw(s, x, y)
		}
		down0 := y
		for _, it := range words.items {
			it.draw(s, x+no, down0, asked)
			down0 += it.h
		}
		for i, rm := range rooms {
			rm.draw(s, x+left+at[i], y+top+down[i])
		}
	}}
}

// sideBySide is how many columns of fields there is room for.
func (l *layout) sideBySide(f document.Fields, no float64, fr frame) int {
	if len(f.Rows) < foldFrom {
		return 1
	}
	need := 0.0
	for _, r := range f.Rows {
		if len(r.Under) > 0 || len(r.Rooms) == 0 || len(r.Rooms) > 2 {
			return 1
		}
		_, natural := longestWord(l.spans(r.Line, style{size: fr.size}))
		w := no + natural + 6 - roomGap
		for _, x := range r.Rooms {
			if x.Kind != document.Value {
				return 1
			}
			w += l.valueRoom(x, tightWide, fr).w + roomGap
		}
		need = max(need, w)
	}
	return max(1, min(3, int((fr.wide+2*column)/(need+2*column))))
}

// bands puts rows side by side in bands, each of which is read down its
// columns, and is not broken.
func (l *layout) bands(f document.Fields, no float64, n int, fr frame) []box {
	var out []box
	wide := (fr.wide - 2*column*float64(n-1)) / float64(n)
	for rows := f.Rows; len(rows) > 0; {
		k := min(bandRows, (len(rows)+n-1)/n)
		take := min(len(rows), k*n)
		band := rows[:take]
		rows = rows[take:]
		high := roomHigh + 2*rowPad
		out = append(out, box{h: float64(k)*high + 6, before: 4, draw: func(s *sheet, x, y float64) {
			for i, r := range band {
				x0, y0 := x+float64(i/k)*(wide+2*column), y+float64(i%k)*high+rowPad
				base := y0 + (roomHigh-fr.size*leading)/2
				for _, t := range wrap(l.spans(document.Line{{Text: r.No, Strong: true}}, style{size: fr.size}), wide) {
					t.draw(s, x0, base)
				}
				for _, t := range wrap(l.spans(r.Line, style{size: fr.size}), wide) {
					t.draw(s, x0+no, base)
				}
				at := x0 + wide
				for _, rm := range slices.Backward(r.Rooms) {
					box := l.valueRoom(rm, tightWide, fr)
					at -= box.w
					box.draw(s, at, y0)
					at -= roomGap
				}
			}
			for c := 1; c < n; c++ {
				at := x + float64(c)*(wide+2*column) - column
				s.ops = append(s.ops, func(p *painter) {
					p.f.SetDrawColor(hairGrey, hairGrey, hairGrey)
					p.f.SetLineWidth(hair)
					p.f.Line(at, y, at, y+float64(k)*high)
					p.f.SetDrawColor(0, 0, 0)
				})
			}
		}})
	}
	return out
}
