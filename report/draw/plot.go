package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"unicode/utf8"
)

// Plot is a row of values, each with its doubt and its limits: a profile along
// stations, or the attempts at a test one after the other.
type Plot struct {
	Title, Desc string
	Across      string // what runs from left to right, with its unit
	Unit        string // of the values
	Up, Down    string // what plus and minus mean, in words; may be empty
	Values      []Val
	Even        bool // the values stand in equal steps, under their labels
	Joined      bool // a line joins them
}

// Val is one value of a plot.
type Val struct {
	At     float64 // ignored with Even
	Label  string  // below the axis, with Even
	Y      float64
	U      float64 // reach of the doubt either way; 0 where there is none
	Lo, Hi float64 // limits, ±Inf where there is none
	Shape  Shape
	Note   string // beside the value, where there is room
}

func (v Val) hasDoubt() bool { return v.U > 0 && isFinite(v.U) }

// The plane of a plot: so wide that lettering of 13 pixels can still be read
// on a telephone.
const (
	plotW, plotH       = 420.0, 250.0
	right, top, bottom = 12.0, 26.0, 52.0

	letter = 7.4 // width of a figure in lettering of 13 pixels
)

// Draw returns the picture of the plot. Values that are not finite are left
// out; without any the picture says so.
func (p Plot) Draw() Picture {
	pic := Picture{W: plotW, H: plotH, Title: p.Title, Desc: p.Desc}
	vals := p.spread()
	if len(vals) == 0 {
		pic.Marks = []Mark{Label{X: plotW / 2, Y: plotH / 2, Text: "no values", Anchor: Middle, Class: Text}}
		return pic
	}
	x, y := p.scales(vals)
	pic.Marks = slices.Concat(band(vals, x, y), yAxis(x.a, y), p.xAxis(vals, x), p.trace(vals, x, y), dots(vals, x, y), p.words())
	return pic
}

// spread leaves out what cannot be drawn, gives even places, and puts the rest
// in order from left to right.
func (p Plot) spread() []Val {
	var out []Val
	for i, v := range p.Values {
		if p.Even {
			v.At = float64(i)
		}
		if !isFinite(v.Y) || !isFinite(v.At) {
			continue
		}
		out = append(out, v)
	}
	slices.SortStableFunc(out, func(a, b Val) int { return cmp.Compare(a.At, b.At) })
	return out
}

func (p Plot) scales(vals []Val) (x, y scale) {
	x0, x1 := math.Inf(1), math.Inf(-1)
	y0, y1 := math.Inf(1), math.Inf(-1)
	for _, v := range vals {
		x0, x1 = reach(x0, x1, v.At)
		y0, y1 = reach(y0, y1, v.Y, v.Lo, v.Hi)
		if v.hasDoubt() {
			y0, y1 = reach(y0, y1, v.Y-v.U, v.Y+v.U)
		}
	}
	pad := (y1 - y0) * 0.11 // room for the word beside a limit
	if pad == 0 {
		pad = math.Max(math.Abs(y0)*0.1, 1e-6)
	}
	edge := (x1 - x0) * 0.04
	if p.Even {
		edge = 0.5
	}
	if edge == 0 {
		edge = 1
	}
	y = scale{y0 - pad, y1 + pad, plotH - bottom, top}
	return scale{x0 - edge, x1 + edge, labelRoom(y), plotW - right}, y
}

// labelRoom is the room to the left that the figures of the axis need.
func labelRoom(y scale) float64 {
	room := 40.0
	at, decimals := ticks(y.from, y.to, 5)
	for _, t := range at {
		room = math.Max(room, 10+letter*float64(utf8.RuneCountInString(figure(t, decimals))))
	}
	return math.Min(room, plotW/3)
}

// band draws the zone between the limits, piece by piece where it changes.
func band(vals []Val, x, y scale) []Mark {
	var fill, lines []Mark
	from := x.a
	for i, v := range vals {
		to := x.b
		if i < len(vals)-1 {
			if next := vals[i+1]; next.Lo == v.Lo && next.Hi == v.Hi {
				continue // one piece, without a seam
			}
			to = x.at((v.At + vals[i+1].At) / 2)
		}
		hasLo, hasHi := isFinite(v.Lo), isFinite(v.Hi)
		if !hasLo && !hasHi {
			from = to
			continue
		}
		yTop, yBottom := y.b, y.a
		if hasHi {
			yTop = y.at(v.Hi)
			lines = append(lines, Line{Points: []Point{{from, yTop}, {to, yTop}}, Class: Limit})
		}
		if hasLo {
			yBottom = y.at(v.Lo)
			lines = append(lines, Line{Points: []Point{{from, yBottom}, {to, yBottom}}, Class: Limit})
		}
		if yBottom >= yTop {
			fill = append(fill, Rect{X: from, Y: yTop, W: to - from, H: yBottom - yTop, Class: Band})
		}
		from = to
	}
	last := vals[len(vals)-1]
	if isFinite(last.Hi) {
		lines = append(lines, Label{X: x.b - 3, Y: y.at(last.Hi) - 4, Text: "limit", Anchor: End, Class: Text})
	}
	if isFinite(last.Lo) {
		lines = append(lines, Label{X: x.b - 3, Y: y.at(last.Lo) + 13, Text: "limit", Anchor: End, Class: Text})
	}
	return append(fill, lines...)
}

func yAxis(left float64, y scale) []Mark {
	at, decimals := ticks(y.from, y.to, 5)
	var ms []Mark
	for _, t := range at {
		ms = append(ms,
			Line{Points: []Point{{left, y.at(t)}, {plotW - right, y.at(t)}}, Class: Grid},
			Label{X: left - 5, Y: y.at(t) + 4, Text: figure(t, decimals), Anchor: End, Class: Text})
	}
	return append(ms, Line{Points: []Point{{left, y.a}, {left, y.b}}, Class: Axis})
}

func (p Plot) xAxis(vals []Val, x scale) []Mark {
	base := plotH - bottom
	ms := []Mark{Line{Points: []Point{{x.a, base}, {x.b, base}}, Class: Axis}}
	if p.Even {
		every := (len(vals)*34 + int(x.b-x.a) - 1) / int(x.b-x.a) // labels of about 34 pixels
		for i, v := range vals {
			if i%max(every, 1) == 0 {
				ms = append(ms, tick(x.at(v.At), base, v.Label)...)
			}
		}
	} else {
		at, decimals := ticks(x.from, x.to, 6)
		for _, t := range at {
			ms = append(ms, tick(x.at(t), base, figure(t, decimals))...)
		}
	}
	return append(ms, Label{X: (x.a + x.b) / 2, Y: base + 32, Text: p.Across, Anchor: Middle, Class: Text})
}

func tick(x, base float64, text string) []Mark {
	return []Mark{
		Line{Points: []Point{{x, base}, {x, base + 4}}, Class: Axis},
		Label{X: x, Y: base + 17, Text: text, Anchor: Middle, Class: Text},
	}
}

func (p Plot) trace(vals []Val, x, y scale) []Mark {
	if !p.Joined || len(vals) < 2 {
		return nil
	}
	var ps []Point
	for _, v := range vals {
		ps = append(ps, Point{x.at(v.At), y.at(v.Y)})
	}
	return []Mark{Line{Points: ps, Class: Trace}}
}

func dots(vals []Val, x, y scale) []Mark {
	var ms []Mark
	for _, v := range vals {
		cx := x.at(v.At)
		if v.hasDoubt() {
			up, down := y.at(v.Y+v.U), y.at(v.Y-v.U)
			ms = append(ms,
				Line{Points: []Point{{cx, up}, {cx, down}}, Class: Doubt},
				Line{Points: []Point{{cx - 4, up}, {cx + 4, up}}, Class: Doubt},
				Line{Points: []Point{{cx - 4, down}, {cx + 4, down}}, Class: Doubt})
		}
		ms = append(ms, Dot{X: cx, Y: y.at(v.Y), Shape: v.Shape, Class: Value})
		if v.Note != "" {
			ms = append(ms, Label{X: cx + 8, Y: y.at(v.Y) + 4, Text: v.Note, Anchor: Start, Class: Strong})
		}
	}
	return ms
}

// words says what up and down mean, beside the ends of the axis.
func (p Plot) words() []Mark {
	up, down := p.Unit, ""
	if p.Up != "" {
		up = fmt.Sprintf("%s ↑ %s", p.Unit, p.Up)
	}
	if p.Down != "" {
		down = "↓ " + p.Down
	}
	ms := []Mark{Label{X: 4, Y: 14, Text: up, Anchor: Start, Class: Strong}}
	if down != "" {
		ms = append(ms, Label{X: 4, Y: plotH - 4, Text: down, Anchor: Start, Class: Strong})
	}
	return ms
}
