package draw

import (
	"cmp"
	"slices"
)

// paint makes the marks of a course that is laid out.
func (c Course) paint(l *course) Picture {
	pic := Picture{Title: c.Title, Desc: cmp.Or(c.Alt, c.Desc)}
	pic.W = l.left + l.wide + margin
	for _, r := range l.rows {
		for _, b := range r.beside {
			pic.W = max(pic.W, b.right()+margin)
		}
	}
	for _, b := range l.buses {
		pic.W = max(pic.W, b.x+margin)
	}
	y := margin + lineHigh
	for _, s := range wrapWide(c.Title, Head, pic.W-2*margin) {
		pic.Marks = append(pic.Marks, Label{X: margin, Y: y, Text: s, Anchor: Start, Class: Head})
		y += lineHigh + 4
	}
	for _, s := range wrapWide(c.Desc, Small, pic.W-2*margin) {
		pic.Marks = append(pic.Marks, Label{X: margin, Y: y, Text: s, Anchor: Start, Class: Small})
		y += lineHigh
	}
	l.down(y)
	pic.H = y
	for _, r := range l.rows {
		pic.H = max(pic.H, r.y+r.high)
	}
	pic.Marks = append(pic.Marks, c.lines(l)...)
	for _, r := range l.rows {
		pic.Marks = append(pic.Marks, r.marks()...)
		for _, b := range r.beside {
			pic.Marks = append(pic.Marks, b.marks()...)
		}
	}
	pic.H += margin
	return Graph{Key: c.Key}.key(pic)
}

// down moves all boxes down.
func (l *course) down(by float64) {
	for i := range l.rows {
		r := &l.rows[i]
		r.y += by
		for k := range r.beside {
			r.beside[k].y += by
		}
	}
}

func (b courseBox) marks() []Mark {
	marks := []Mark{Rect{X: b.x, Y: b.y, W: b.w, H: b.h, Class: b.class}}
	y := b.y + boxPad + lineHigh - 5
	for _, s := range b.head {
		marks = append(marks, Label{X: b.x + boxPad, Y: y, Text: s, Anchor: Start, Class: Strong})
		y += lineHigh
	}
	x := b.x + boxPad
	if b.inline {
		x, y = b.x+aloneLines, y-lineHigh
	}
	for _, s := range b.lines {
		marks = append(marks, Label{X: x, Y: y, Text: s, Anchor: Start, Class: Small})
		y += lineHigh
	}
	return marks
}

// lines are all lines between the boxes.
func (c Course) lines(l *course) []Mark {
	var out []Mark
	for i, r := range c.Boxes {
		if r.Follows && i > 0 {
			out = append(out, l.follow(i)...)
		}
		out = append(out, l.beside(i, r.If)...)
	}
	ports := l.ports()
	for _, b := range l.buses {
		out = append(out, l.bus(b, ports)...)
	}
	return out
}

// follow is the arrow from the box above.
func (l *course) follow(i int) []Mark {
	x := l.left + l.wide/2
	from, to := l.rows[i-1].bottom(), l.rows[i].y
	return []Mark{
		Line{Points: []Point{{x, from}, {x, to - tipLong}}, Class: Flow},
		Line{Points: []Point{{x - 3.5, to - tipLong}, {x, to}, {x + 3.5, to - tipLong}}, Closed: true, Class: Tip},
	}
}

// beside is the line from a box to those beside it.
func (l *course) beside(i int, word string) []Mark {
	r := l.rows[i]
	if len(r.beside) == 0 {
		return nil
	}
	x := r.right() + trunkGap
	from := min(r.y+r.h/2, r.beside[0].y+portTop)
	out := []Mark{
		Line{Points: []Point{{r.right(), from}, {x, from}}, Class: Dashed},
	}
	last := r.beside[len(r.beside)-1]
	if end := last.y + portTop; end != from {
		out = append(out, Line{Points: []Point{{x, from}, {x, end}}, Class: Dashed})
	}
	for k, b := range r.beside {
		y := b.y + portTop
		out = append(out, Line{Points: []Point{{x, y}, {b.x - tipLong, y}}, Class: Dashed}, tip(Point{b.x, y}))
		if k == 0 && word != "" {
			out = append(out, Label{X: x + 3, Y: y - 4, Text: word, Anchor: Start, Class: Small})
		}
	}
	return out
}

// port is where a bus touches a row's own box.
type port struct {
	bus *bus
	row int
}

// ports spreads the lines that end at a box along its side, so that no two lie
// on one another and few cross: those from above stand above those from below.
func (l *course) ports() map[port]float64 {
	out := map[port]float64{}
	for i, r := range l.rows {
		for _, right := range []bool{false, true} {
			var up, down []*bus
			for _, b := range l.buses {
				switch {
				case b.right != right || !b.touches(i):
				case b.first < i && !(b.hub == i && b.gather):
					up = append(up, b)
				default:
					down = append(down, b)
				}
			}
			inner := func(a, b *bus) int { return cmp.Compare(a.lane, b.lane) }
			slices.SortStableFunc(up, inner)
			slices.SortStableFunc(down, func(a, b *bus) int { return inner(b, a) })
			all := append(up, down...)
			for k, b := range all {
				out[port{b, i}] = r.y + r.h*float64(k+1)/float64(len(all)+1)
			}
		}
	}
	return out
}

// touches tells whether a bus ends at the box of a row.
func (b *bus) touches(row int) bool {
	if b.hub == row {
		return true
	}
	return slices.ContainsFunc(b.ways, func(w Route) bool {
		return w.To == row || w.From == row && w.Beside == 0
	})
}

// bus draws a line that ways share.
func (l *course) bus(b *bus, ports map[port]float64) []Mark {
	var out []Mark
	top, bottom := 1e9, -1e9
	edge, in := l.left, 1.0 // where a box's side is, and which way it lies
	if b.right {
		edge, in = l.left+l.wide, -1
	}
	side := func(row int, ends bool) {
		y := ports[port{b, row}]
		top, bottom = min(top, y), max(bottom, y)
		if !ends {
			out = append(out, Line{Points: []Point{{b.x, y}, {edge, y}}, Class: b.class})
			return
		}
		out = append(out, Line{Points: []Point{{b.x, y}, {edge - in*tipLong, y}}, Class: b.class},
			Line{Points: []Point{{edge - in*tipLong, y - 3.5}, {edge, y}, {edge - in*tipLong, y + 3.5}}, Closed: true, Class: Tip})
	}
	side(b.hub, b.gather)
	for _, w := range b.ways {
		switch {
		case !b.gather:
			side(w.To, true)
		case w.Beside == 0 && w.From == b.hub: // once more the same
			y := l.rows[w.From].bottom() - portTop/2
			top, bottom = min(top, y), max(bottom, y)
			out = append(out, Line{Points: []Point{{b.x, y}, {edge, y}}, Class: b.class})
		case w.Beside == 0:
			side(w.From, false)
		default:
			x := l.rows[w.From].beside[w.Beside-1]
			y := x.bottom() - portTop + 3
			top, bottom = min(top, y), max(bottom, y)
			out = append(out, Line{Points: []Point{{b.x, y}, {x.x, y}}, Class: b.class})
		}
	}
	return append(out, Line{Points: []Point{{b.x, top}, {b.x, bottom}}, Class: b.class})
}
