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
		b := box{h: h + 2*look.pad, draw: func(s *sheet, x, y float64) {
			for i, c := range now {
				at := y + look.pad
				for _, it := range c.items {
					it.draw(s, x+cols[i].x, at, cols[i].w)
					at += it.h
				}
			}
		}}
		if look.line && first {
			b.hair = look.wide
		}
		out = append(out, b)
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
	if !ok || t.Kind == document.Cards && len(cols) >= manyColumns && reach(cols) > fr.wide-1 {
		return append(caption, l.listed(t, fr)...)
	}
	head := l.headRow(t, cols, fr)
	if n := folds(t, cols, fr); n > 1 {
		return append(caption, l.folded(t, cols, fr, head, n)...)
	}
	again := head
	out := append(caption, head)
	begin := len(out)
	first := true
	for _, r := range t.Rows {
		if r.Group != "" {
			out = append(out, l.group(r.Group, fr, &again)...)
			first = true
			continue
		}
		boxes := l.row(l.cells(t, r, cols, fr), cols, rowLook{pad: 2.5, line: !first, wide: reach(cols)})
		for i := range boxes {
			boxes[i].head = &again
		}
		out = append(out, boxes...)
		first = false
	}
	stay(out[begin:])
	last := &out[len(out)-1]
	*last = padded(*last, 4)
	return out
}

const (
	manyColumns = 7   // from which a full table of words is easier to read as a list
	lowTable    = 170 // height up to which a table is not broken
	lowRow      = 45  // height up to which a row does not stand alone at an end
)

// stay keeps a low table together, and the first and last two rows of any.
func stay(rows []box) {
	high := 0.0
	for _, b := range rows {
		high += b.h
	}
	for i := range rows[:max(len(rows)-1, 0)] {
		end := (i == 0 || i == len(rows)-2) && rows[i].h < lowRow
		if high <= lowTable || end {
			rows[i].keep = true
		}
	}
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
		lines := wrap(l.spans(document.Line{{Text: n}}, style{size: fr.size}), at.w)
		if at.figures {
			out.figuresOf(lines)
		} else {
			out.texts(lines, 0)
		}
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

// listed shows the rows of a table one under the other, each cell behind the
// head of its column.
func (l *layout) listed(t document.Table, fr frame) []box {
	var out []box
	name := 0.0
	for _, e := range l.headTexts(t, fr) {
		name = max(name, e[0].natural)
	}
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
		boxes := l.factsBeside(f, fr, name)
		for i := range boxes[:max(len(boxes)-1, 0)] {
			boxes[i].keep = len(boxes) < 14
		}
		if len(boxes) > 0 {
			boxes[0].before, boxes[0].over = 10, hair
		}
		out = append(out, boxes...)
	}
	return out
}
