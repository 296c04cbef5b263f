package draw

import (
	"math"
	"slices"
)

// TwoPlanes is how a line lies to the travel that it should follow, in one plane or
// in two side by side: the near end stands on the line wanted, the far end
// where it was found.
type TwoPlanes struct {
	Title, Desc string
	Planes      []Plane
}

// Plane is one of the planes. Up and Down are what lies that way on paper:
// seen from above the operator stands below. Plus is drawn upward, or downward
// with PlusDown.
type Plane struct {
	Seen      string // seen from above
	Near, Far string // the ends
	Up, Down  string
	PlusDown  bool
	Unit      string
	Value     float64
	U         float64 // reach of the doubt either way; 0 where there is none
	Lo, Hi    float64 // limits at the far end, ±Inf where there is none
	Shape     Shape
	Text      []string // lines below: the value in words, its doubt, the verdict
}

const (
	planeHigh = 132.0 // of the drawing itself
	planeTop  = 42.0
	planeGap  = 16.0
	farRoom   = 26.0 // beyond the far end
)

// Draw returns the picture. Planes in one unit have one scale.
func (a TwoPlanes) Draw() Picture {
	pic := Picture{W: plotW, Title: a.Title, Desc: a.Desc}
	n := float64(max(len(a.Planes), 1))
	wide := (plotW - planeGap*(n-1)) / n
	lines := 1
	for i, p := range a.Planes {
		left := float64(i) * (wide + planeGap)
		ms, said := p.draw(left, wide, a.reachOf(p))
		pic.Marks = append(pic.Marks, ms...)
		lines = max(lines, said)
	}
	pic.H = planeTop + planeHigh + 44 + float64(lines)*lineHigh
	return pic
}

// reachOf is how far the drawing of a plane reaches either way.
func (a TwoPlanes) reachOf(p Plane) float64 {
	most := 0.0
	for _, q := range a.Planes {
		if q.Unit != p.Unit {
			continue
		}
		for _, x := range q.numbers() {
			if isFinite(x) {
				most = math.Max(most, math.Abs(x))
			}
		}
	}
	if most == 0 {
		return 1
	}
	return most * 1.08
}

// numbers are those that the drawing has to reach.
func (p Plane) numbers() []float64 {
	if doubtful(p.Value, p.U) {
		return []float64{p.Lo, p.Hi, p.Value, p.Value - p.U, p.Value + p.U}
	}
	return []float64{p.Lo, p.Hi, p.Value}
}

func (p Plane) draw(left, wide, most float64) (ms []Mark, said int) {
	mid := planeTop + planeHigh/2
	y := scale{-most, most, mid + planeHigh/2, mid - planeHigh/2}
	if p.PlusDown {
		y.a, y.b = y.b, y.a
	}
	near, far := Point{left + 10, y.at(0)}, left+wide-farRoom
	inner := wide - 4
	ms = []Mark{
		Label{X: left + 2, Y: 14, Text: shortened(p.Seen, lettering*bolder, inner), Anchor: Start, Class: Strong},
		Label{X: left + 2, Y: planeTop - 8, Text: shortened("↑ "+p.Up, lettering, inner), Anchor: Start, Class: Text},
		Label{X: left + 2, Y: mid + planeHigh/2 + 15, Text: shortened("↓ "+p.Down, lettering, inner), Anchor: Start, Class: Text},
	}
	ms = slices.Concat(ms, p.wedge(near, far, y), []Mark{
		Line{Points: []Point{near, {far, near.Y}}, Class: Axis},
		Line{Points: []Point{{far, y.a}, {far, y.b}}, Class: Grid},
	})
	ms = append(ms, p.bar(near, far, y)...)
	ends := mid + planeHigh/2 + 32
	half := inner/2 - 4
	ms = append(ms,
		Label{X: left + 2, Y: ends, Text: shortened(p.Near, lettering, half), Anchor: Start, Class: Text},
		Label{X: left + wide - 2, Y: ends, Text: shortened(p.Far, lettering, half), Anchor: End, Class: Text})
	var list []string
	for _, s := range p.Text {
		list = append(list, wrap(s, int(inner/7.9))...)
	}
	for i, s := range list {
		ms = append(ms, Label{X: left + 2, Y: ends + lineHigh + 2 + float64(i)*lineHigh, Text: shortened(s, lettering*bolder, inner), Anchor: Start, Class: Strong})
	}
	return ms, len(list)
}

// wedge is where the bar may lie: a zone that opens from the near end to the
// limits at the far end.
func (p Plane) wedge(near Point, far float64, y scale) []Mark {
	lo, hi := y.at(p.Lo), y.at(p.Hi)
	hasLo, hasHi := isFinite(p.Lo), isFinite(p.Hi)
	if !hasLo && !hasHi {
		return nil
	}
	from, to := lo, hi
	if !hasLo {
		from = y.a
	}
	if !hasHi {
		to = y.b
	}
	ms := []Mark{Line{Points: []Point{near, {far, from}, {far, to}}, Closed: true, Class: Band}}
	for _, l := range []struct {
		y   float64
		has bool
	}{{lo, hasLo}, {hi, hasHi}} {
		if l.has {
			ms = append(ms, Line{Points: []Point{near, {far, l.y}}, Class: Limit}, Line{Points: []Point{{far - 6, l.y}, {far + 6, l.y}}, Class: Limit})
		}
	}
	return ms
}

func (p Plane) bar(near Point, far float64, y scale) []Mark {
	if !isFinite(p.Value) {
		return nil
	}
	at := y.at(p.Value)
	ms := []Mark{Line{Points: []Point{near, {far, at}}, Class: Trace}}
	if doubtful(p.Value, p.U) {
		a, b := y.at(p.Value-p.U), y.at(p.Value+p.U)
		ms = append(ms,
			Line{Points: []Point{{far + 11, a}, {far + 11, b}}, Class: Doubt},
			Line{Points: []Point{{far + 7, a}, {far + 15, a}}, Class: Doubt},
			Line{Points: []Point{{far + 7, b}, {far + 15, b}}, Class: Doubt},
			Line{Points: []Point{{far, at}, {far + 11, at}}, Class: Trace})
	}
	return append(ms, Dot{X: near.X, Y: near.Y, Shape: Ring, Class: Value}, Dot{X: far, Y: at, Shape: p.Shape, Class: Value})
}
