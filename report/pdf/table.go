package pdf

import (
	"waywright/report/document"
)

// flowCell is a cell as a row of lines and pictures, one under the other.
type flowCell struct{ items []item }

// item is a line of a cell, or a picture.
type item struct {
	h    float64
	draw func(s *sheet, x, y, wide float64)
}

// col is a column at its place.
type col struct {
	x, w    float64
	figures bool // bare figures: they end at the right edge
}

func (c *flowCell) texts(lines []textLine, before float64) {
	for i, t := range lines {
		up := 0.0
		if i == 0 {
			up = before
		}
		c.items = append(c.items, item{h: t.h() + up, draw: func(s *sheet, x, y, _ float64) { t.draw(s, x, y+up) }})
	}
}

// figuresOf puts lines at the right edge of their column.
func (c *flowCell) figuresOf(lines []textLine) {
	for _, t := range lines {
		c.items = append(c.items, item{h: t.h(), draw: func(s *sheet, x, y, wide float64) { t.draw(s, x+wide-t.w, y) }})
	}
}

// rowLook is how a row looks.
type rowLook struct {
	pad  float64 // above and below
	line bool    // a hairline above
	wide float64
}

// mostRow is the height up to which a row is not broken.
const mostRow = 260.0

// row makes a box of a row of cells. One that is too high is broken between
// lines, in all its cells at once.
func (l *layout) row(cells []flowCell, cols []col, look rowLook) []box {
	var out []box
	for first := true; ; first = false {
		now, rest, h := taken(cells, mostRow)
		if h == 0 && !first {
			return out
		}
		line := look.line && first
		out = append(out, box{h: h + 2*look.pad, draw: func(s *sheet, x, y float64) {
			if line {
				s.rule(x, y, x+look.wide, y, hair)
			}
			for i, c := range now {
				at := y + look.pad
				for _, it := range c.items {
					it.draw(s, x+cols[i].x, at, cols[i].w)
					at += it.h
				}
			}
		}})
		cells = rest
	}
}

// taken takes from each cell what fits into a height, at least one item.
func taken(cells []flowCell, most float64) (now, rest []flowCell, high float64) {
	now, rest = make([]flowCell, len(cells)), make([]flowCell, len(cells))
	for i, c := range cells {
		h, n := 0.0, 0
		for n < len(c.items) && (n == 0 || h+c.items[n].h <= most) {
			h += c.items[n].h
			n++
		}
		now[i].items, rest[i].items = c.items[:n], c.items[n:]
		high = max(high, h)
	}
	return now, rest, high
}

const stripWide = 96.0 // of a picture in a table

// table makes a box of each row. The heads of the columns stand again on each
// sheet. A table that is too wide for its words becomes a list of its rows.
func (l *layout) table(t document.Table, fr frame) []box {
	caption := l.paragraph(document.Line{{Text: t.Caption}}, style{size: fr.size}, fr.wide, 9)
	for i := range caption {
		caption[i].keep = true
	}
	if n := len(caption); n > 0 {
		caption[n-1] = padded(caption[n-1], 3)
	}
	cols, ok := l.columns(t, fr)
	if !ok {
		return append(caption, l.listed(t, fr)...)
	}
	head := l.headRow(t, cols, fr)
	again := head
	out := append(caption, head)
	first := true
	for _, r := range t.Rows {
		if r.Group != "" {
			out = append(out, l.group(r.Group, fr, &again)...)
			first = true
			continue
		}
		boxes := l.row(l.cells(t, r, cols, fr), cols, rowLook{pad: 2.5, line: !first, wide: fr.wide})
		for i := range boxes {
			boxes[i].head = &again
		}
		out = append(out, boxes...)
		first = false
	}
	last := &out[len(out)-1]
	*last = padded(*last, 4)
	return out
}

func (l *layout) group(title string, fr frame, head *box) []box {
	boxes := l.paragraph(document.Line{{Text: title}}, style{fr.size, true}, fr.wide, 6)
	for i := range boxes {
		boxes[i].keep, boxes[i].head = true, head
	}
	return boxes
}

func (l *layout) headRow(t document.Table, cols []col, fr frame) box {
	cells := make([]flowCell, len(cols))
	high := 0.0
	for i, c := range cols {
		lines := wrap(l.spans(document.Line{{Text: t.Columns[i].Head}}, style{size: fr.size}), c.w)
		if c.figures {
			cells[i].figuresOf(lines)
		} else {
			cells[i].texts(lines, 0)
		}
		high = max(high, heightOf(cells[i]))
	}
	return box{h: high + 5, keep: true, draw: func(s *sheet, x, y float64) {
		for i, c := range cells {
			at := y + high - heightOf(c)
			for _, it := range c.items {
				it.draw(s, x+cols[i].x, at, cols[i].w)
				at += it.h
			}
		}
		s.rule(x, y+high+2, x+reach(cols), y+high+2, 0.8)
	}}
}

func heightOf(c flowCell) float64 {
	h := 0.0
	for _, it := range c.items {
		h += it.h
	}
	return h
}

func reach(cols []col) float64 {
	if len(cols) == 0 {
		return 0
	}
	last := cols[len(cols)-1]
	return last.x + last.w
}

func (l *layout) cells(t document.Table, r document.Row, cols []col, fr frame) []flowCell {
	out := make([]flowCell, len(cols))
	for i, c := range r.Cells {
		if i >= len(cols) {
			break
		}
		out[i] = l.cell(t, c, cols[i], fr)
	}
	return out
}

func (l *layout) cell(t document.Table, c document.Cell, at col, fr frame) flowCell {
	var out flowCell
	if c.Picture != nil {
		out.items = append(out.items, l.pictureItem(*c.Picture, min(at.w, stripWide)))
	}
	lines := wrap(l.cellSpans(t, c, fr), at.w)
	if at.figures {
		out.figuresOf(lines)
	} else {
		out.texts(lines, 0)
	}
	for _, n := range c.Notes {
		out.texts(wrap(l.spans(document.Line{{Text: n}}, style{size: fr.size}), at.w), 0)
	}
	return out
}

func (l *layout) cellSpans(t document.Table, c document.Cell, fr frame) []span {
	st := style{size: fr.size}
	if t.Kind == document.Sheet && c.Ref != "" { // the test sheet names the page
		return []span{l.pageOf(c.Ref, st)}
	}
	return l.spans(document.Line{{Text: c.Text, Strong: c.Strong, Ref: c.Ref}}, st)
}

// columns finds how wide each column is: as wide as its longest line where
// there is room for all, else each as wide as its longest word with a part of
// the rest. It is not ok where there is no room for the words.
func (l *layout) columns(t document.Table, fr frame) (cols []col, ok bool) {
	n := len(t.Columns)
	least, most := make([]float64, n), make([]float64, n)
	widen := func(i int, spans []span) {
		a, b := longestWord(spans)
		least[i], most[i] = max(least[i], min(a, longWord)), max(most[i], b)
	}
	for i, c := range t.Columns {
		widen(i, l.spans(document.Line{{Text: c.Head}}, style{size: fr.size}))
	}
	for _, r := range t.Rows {
		for i, c := range r.Cells {
			if i >= n {
				break
			}
			if c.Picture != nil {
				least[i], most[i] = max(least[i], stripWide), max(most[i], stripWide)
			}
			widen(i, l.cellSpans(t, c, fr))
			for _, note := range c.Notes {
				widen(i, l.spans(document.Line{{Text: note}}, style{size: fr.size}))
			}
		}
	}
	room := fr.wide - column*float64(max(n-1, 0))
	ws, ok := shared(least, most, room)
	x := 0.0
	for i, w := range ws {
		cols = append(cols, col{x, w, t.Columns[i].Figures})
		x += w + column
	}
	return cols, ok
}

// longWord is the width from which a word may be broken in a table.
const longWord = 96.0

// shared divides room among columns.
func shared(least, most []float64, room float64) ([]float64, bool) {
	sumLeast, sumMost := 0.0, 0.0
	for i := range least {
		most[i] = max(most[i], least[i])
		sumLeast += least[i]
		sumMost += most[i]
	}
	if sumMost <= room {
		return most, true
	}
	if sumLeast > room {
		return nil, false
	}
	// What a column asks for beyond its words counts less the more it is, so
	// that one long remark leaves room for the others.
	out := make([]float64, len(least))
	rest := room - sumLeast
	for range 8 { // each time round some columns may be full
		asked := 0.0
		for i := range least {
			if out[i] < most[i]-least[i] {
				asked += weight(most[i] - least[i])
			}
		}
		if rest < 0.1 || asked == 0 {
			break
		}
		given := 0.0
		for i := range least {
			if want := most[i] - least[i] - out[i]; want > 0 {
				part := min(rest*weight(most[i]-least[i])/asked, want)
				out[i] += part
				given += part
			}
		}
		rest -= given
	}
	for i := range out {
		out[i] += least[i]
	}
	return out, true
}

func weight(x float64) float64 { return min(x, 400) }

// listed shows the rows of a table one under the other, each cell behind the
// head of its column.
func (l *layout) listed(t document.Table, fr frame) []box {
	var out []box
	for _, r := range t.Rows {
		if r.Group != "" {
			out = append(out, l.group(r.Group, fr, nil)...)
			continue
		}
		var f document.Facts
		for i, c := range r.Cells {
			if c.Empty() || i >= len(t.Columns) {
				continue
			}
			var lines []document.Line
			if c.Text != "" {
				lines = append(lines, document.Line{{Text: c.Text, Strong: c.Strong || i == 0, Ref: c.Ref}})
			}
			for _, n := range c.Notes {
				lines = append(lines, document.Line{{Text: n}})
			}
			f.Rows = append(f.Rows, document.Fact{Name: t.Columns[i].Head, Lines: lines})
		}
		boxes := l.facts(f, fr)
		for i := range boxes[:max(len(boxes)-1, 0)] {
			boxes[i].keep = len(boxes) < 14
		}
		if len(boxes) > 0 {
			boxes[0] = ruledHair(boxes[0], fr.wide)
			boxes[0].before = 5
		}
		out = append(out, boxes...)
	}
	return out
}
