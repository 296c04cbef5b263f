package draw

import "math"

// Strip is a value between its limits, on one line: all strips are equally
// wide, whatever the limits are.
type Strip struct {
	Title, Desc string
	Value       float64
	U           float64 // reach of the doubt; 0 where there is none
	Lo, Hi      float64 // ±Inf where there is none
	Shape       Shape
}

const (
	stripW, stripH = 150.0, 22.0
	barLo, barHi   = 45.0, 105.0 // places of the limits
	stripEdge      = 5.0
)

// Draw returns the picture of the strip. A value further out than the strip
// reaches is an arrow at its end.
func (s Strip) Draw() Picture {
	pic := Picture{W: stripW, H: stripH, Title: s.Title, Desc: s.Desc}
	const mid = stripH / 2
	x := s.scale()
	from, to := 0.0, stripW
	if isFinite(s.Lo) {
		from = x.at(s.Lo)
	}
	if isFinite(s.Hi) {
		to = x.at(s.Hi)
	}
	pic.Marks = append(pic.Marks,
		Rect{X: from, Y: 4, W: math.Max(to-from, 0), H: stripH - 8, Class: Band},
		Line{Points: []Point{{0, mid}, {stripW, mid}}, Class: Grid})
	for _, l := range []float64{s.Lo, s.Hi} {
		if isFinite(l) {
			pic.Marks = append(pic.Marks, Line{Points: []Point{{x.at(l), 2}, {x.at(l), stripH - 2}}, Class: Limit})
		}
	}
	if !isFinite(s.Value) {
		return pic
	}
	if s.U > 0 && isFinite(s.U) {
		a, b := inside(x.at(s.Value-s.U)), inside(x.at(s.Value+s.U))
		pic.Marks = append(pic.Marks, Rect{X: a, Y: mid - 2, W: math.Max(b-a, 1), H: 4, Class: Doubt})
	}
	at := x.at(s.Value)
	dot := Dot{X: inside(at), Y: mid, Shape: s.Shape, Class: Value}
	switch {
	case at > stripW-stripEdge:
		dot.Shape = ArrowOut
	case at < stripEdge:
		dot.Shape = ArrowIn
	}
	pic.Marks = append(pic.Marks, dot)
	return pic
}

// scale puts both limits at their bars. With one limit the other bar stands
// for nought, or for the value where that tells more.
func (s Strip) scale() scale {
	lo, hi := s.Lo, s.Hi
	switch {
	case !isFinite(lo) && !isFinite(hi):
		return scale{s.Value - 1, s.Value + 1, barLo, barHi}
	case !isFinite(lo):
		lo = hi - s.size(hi)
	case !isFinite(hi):
		hi = lo + s.size(lo)
	}
	if hi == lo {
		lo, hi = lo-s.size(lo), hi+s.size(hi)
	}
	return scale{lo, hi, barLo, barHi}
}

// size is what the way from bar to bar stands for, where there is one limit.
func (s Strip) size(limit float64) float64 {
	if limit != 0 {
		return math.Abs(limit)
	}
	if d := math.Max(math.Abs(s.Value), s.U); d > 0 && isFinite(d) {
		return d
	}
	return 1
}

func inside(x float64) float64 { return math.Min(math.Max(x, stripEdge), stripW-stripEdge) }
