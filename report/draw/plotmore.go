package draw

import (
	"math"
	"slices"
)

// refs draws the lines that values are held against, cut where they leave the
// plot at its sides.
func (p Plot) refs(x, y scale) []Mark {
	var ms []Mark
	for _, r := range p.Refs {
		if !isFinite(r.X0) || !isFinite(r.X1) || !isFinite(r.Y0) || !isFinite(r.Y1) {
			continue
		}
		a, b := Point{x.at(r.X0), y.at(r.Y0)}, Point{x.at(r.X1), y.at(r.Y1)}
		if !within(a, x, y) || !within(b, x, y) {
			continue
		}
		ms = append(ms, Line{Points: []Point{a, b}, Class: Fitted})
	}
	return ms
}

func within(p Point, x, y scale) bool {
	const bit = 0.5
	return p.X >= x.a-bit && p.X <= x.b+bit && p.Y <= y.a+bit && p.Y >= y.b-bit
}

// bracket spans the range from the least to the greatest value.
func (p Plot) bracket(x, y scale) []Mark {
	b := p.Bracket
	if b == nil || !isFinite(b.Lo) || !isFinite(b.Hi) {
		return nil
	}
	hi, lo := y.at(b.Hi), y.at(b.Lo)
	if hi < y.b-1 || lo > y.a+1 || lo < hi {
		return nil
	}
	at := x.b + bracketRoom/2
	room := plotW - at - 8
	return []Mark{
		Line{Points: []Point{{at - 4, hi}, {at, hi}, {at, lo}, {at - 4, lo}}, Class: Fitted},
		Label{X: at + 5, Y: (hi+lo)/2 + 4, Text: shortened(b.Text, lettering*bolder, room), Anchor: Start, Class: Strong},
	}
}

// notes letters values, from the last to the first: above the reach of the
// doubt, or below it, or not at all where neither has room. Lettering does not
// lie across a limit, or on the line from value to value, where it can lie
// beside them.
func (p Plot) notes(rows []Series, x, y scale) []Mark {
	var taken []box
	for _, l := range limitWords(rows[0].Values, x, y) {
		taken = append(taken, l.box())
	}
	var joins [][]Point
	for i, row := range rows {
		taken = append(taken, boxes(row.Values, x, y)...)
		for _, m := range p.trace(row.Values, i, x, y) {
			joins = append(joins, m.(Line).Points)
		}
	}
	var ms []Mark
	for _, row := range rows {
		for _, v := range slices.Backward(row.Values) {
			if v.Note == "" {
				continue
			}
			if l, ok := note(v, taken, joins, x, y); ok {
				taken = append(taken, noteBox(l))
				ms = append(ms, l)
			}
		}
	}
	return ms
}

func note(v Val, taken []box, joins [][]Point, x, y scale) (Label, bool) {
	u := 0.0
	if v.hasDoubt() {
		u = v.U
	}
	above, below := y.at(v.Y+u)-DotRadius-3, y.at(v.Y-u)+DotRadius+12
	l := Label{X: x.at(v.At), Text: v.Note, Anchor: Middle, Class: Strong}
	w := l.Width()
	place := func(aside, at float64) (Label, bool) {
		l := l
		l.X, l.Y = math.Min(math.Max(l.X+aside, x.a+w/2+2), x.b-w/2-2), at
		return l, at-noteHigh >= y.b-8 && at <= y.a-1 && !slices.ContainsFunc(taken, noteBox(l).on)
	}
	for _, at := range []float64{beyond(v, above, y), beyond(v, below, y)} {
		for _, aside := range []float64{0, w/2 + 4, -w/2 - 4} {
			if l, ok := place(aside, at); ok && !slices.ContainsFunc(joins, noteBox(l).crossed) {
				return l, true
			}
		}
	}
	for _, at := range []float64{beyond(v, above, y), beyond(v, below, y), above, below} {
		if l, ok := place(0, at); ok {
			return l, true
		}
	}
	return Label{}, false
}

func noteBox(l Label) box {
	w := l.Width()
	return box{l.X - w/2 - 2, l.Y - noteHigh, l.X + w/2 + 2, l.Y + 2}
}

// crossed reports whether a line from point to point passes through the box.
func (a box) crossed(ps []Point) bool {
	for i := 1; i < len(ps); i++ {
		p, q := ps[i-1], ps[i]
		from, to := 0.0, 1.0
		for _, side := range [...]struct{ at, way, lo, hi float64 }{{p.X, q.X - p.X, a.x0, a.x1}, {p.Y, q.Y - p.Y, a.y0, a.y1}} {
			if side.way == 0 {
				if side.at <= side.lo || side.at >= side.hi {
					to = -1
				}
				continue
			}
			in, out := (side.lo-side.at)/side.way, (side.hi-side.at)/side.way
			from, to = math.Max(from, math.Min(in, out)), math.Min(to, math.Max(in, out))
		}
		if from < to {
			return true
		}
	}
	return false
}

// noteHigh is how far lettering reaches above its line.
const noteHigh = 11.0

// beyond moves lettering at a height off the limits that it would lie across:
// away from its value.
func beyond(v Val, at float64, y scale) float64 {
	up := at < y.at(v.Y)
	for _, limit := range []float64{v.Hi, v.Lo} {
		if !isFinite(limit) {
			continue
		}
		line := y.at(limit)
		switch {
		case line < at-noteHigh-1 || line > at+3:
		case up:
			at = line - 4
		default:
			at = line + noteHigh + 2
		}
	}
	return at
}

// boxes are where values and the reach of their doubt lie.
func boxes(vals []Val, x, y scale) []box {
	var out []box
	for _, v := range vals {
		cx, cy := x.at(v.At), y.at(v.Y)
		out = append(out, box{cx - DotRadius, cy - DotRadius, cx + DotRadius, cy + DotRadius})
		if v.hasDoubt() {
			out = append(out, box{cx - 1, y.at(v.Y + v.U), cx + 1, y.at(v.Y - v.U)})
		}
	}
	return out
}

// box is where lettering lies.
func (l Label) box() box {
	from, to := l.span()
	return box{from - 1, l.Y - 10, to + 1, l.Y + 2}
}

// box is a part of the plane, from left and top to right and bottom.
type box struct{ x0, y0, x1, y1 float64 }

func (a box) on(b box) bool { return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1 }

// below adds what stands below the plot: which series is which, and a note.
func (p Plot) below(pic Picture, rows []Series) Picture {
	if len(rows) > 1 {
		for i, row := range rows {
			y := pic.H + keyHigh - 6
			if p.Joined {
				pic.Marks = append(pic.Marks, Line{Points: []Point{{10, y - 4}, {44, y - 4}}, Class: traces[i%len(traces)]})
			}
			pic.Marks = append(pic.Marks,
				Dot{X: 27, Y: y - 4, Shape: row.Values[0].Shape, Class: Value},
				Label{X: 52, Y: y, Text: shortened(row.Name, lettering, plotW-56), Anchor: Start, Class: Text})
			pic.H += keyHigh
		}
		pic.H += 4
	}
	for _, r := range p.Refs {
		if r.Text == "" {
			continue
		}
		y := pic.H + keyHigh - 6
		pic.Marks = append(pic.Marks, Line{Points: []Point{{10, y - 4}, {44, y - 4}}, Class: Fitted},
			Label{X: 52, Y: y, Text: shortened(r.Text, lettering, plotW-56), Anchor: Start, Class: Text})
		pic.H += keyHigh
	}
	if p.Note != "" {
		pic.H += keyHigh
		pic.Marks = append(pic.Marks, Label{X: plotW / 2, Y: pic.H - 6, Text: shortened(p.Note, lettering*bolder, plotW-8), Anchor: Middle, Class: Strong})
	}
	return pic
}

// Stack puts pictures below one another.
func Stack(title, desc string, parts ...Picture) Picture {
	out := Picture{Title: title, Desc: desc}
	for _, p := range parts {
		for _, m := range p.Marks {
			out.Marks = append(out.Marks, moved(m, 0, out.H))
		}
		out.W = math.Max(out.W, p.W)
		out.H += p.H
	}
	return out
}

// moved is a mark somewhere else.
func moved(m Mark, dx, dy float64) Mark {
	shift := func(ps []Point) []Point {
		out := make([]Point, len(ps))
		for i, p := range ps {
			out[i] = Point{p.X + dx, p.Y + dy}
		}
		return out
	}
	switch m := m.(type) {
	case Rect:
		m.X, m.Y = m.X+dx, m.Y+dy
		return m
	case Line:
		m.Points = shift(m.Points)
		return m
	case Curve:
		m.Points = shift(m.Points)
		return m
	case Label:
		m.X, m.Y = m.X+dx, m.Y+dy
		return m
	case Dot:
		m.X, m.Y = m.X+dx, m.Y+dy
		return m
	}
	return m
}
