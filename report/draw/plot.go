package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Plot is a row of values, each with its doubt and its limits: a profile along
// stations, the attempts at a test one after the other, a value over the
// years. Several series stand in one plot, told apart by dots and lines.
type Plot struct {
	Title, Desc string
	Across      string // what runs from left to right, with its unit
	Unit        string // of the values
	Up, Down    string // what plus and minus mean, in words; may be empty
	Name        string // of the values, where there are other series
	Values      []Val
	Others      []Series
	Even        bool     // the values stand in equal steps, under their labels
	Joined      bool     // a line joins them
	Ticks       []Tick   // below the axis, instead of round numbers
	Refs        []Ref    // lines that were fitted, or values to hold against
	Bracket     *Bracket // a range, at the right
	Note        string   // a line of lettering below the picture
	low         float64  // its height, where not the usual one
	from, to    float64  // stations that it reaches over at least, where they differ
	left, right float64  // room at its sides, at least
}

// Series is a further row of values. Their shapes are those of verdicts, or
// one for the whole series.
type Series struct {
	Name   string
	Values []Val
}

// Val is one value of a plot.
type Val struct {
	At     float64 // ignored with Even
	Label  string  // below the axis, with Even
	Y      float64
	U      float64 // reach of the doubt either way; 0 where there is none
	Lo, Hi float64 // limits, ±Inf where there is none
	Shape  Shape
	Note   string // above the value, or below it, where there is room
}

// Tick is a place of an axis with its lettering.
type Tick struct {
	At   float64
	Text string
}

// Ref is a straight line of its own, named below the plot.
type Ref struct {
	X0, Y0, X1, Y1 float64
	Text           string
}

// Bracket spans from the least to the greatest value.
type Bracket struct {
	Lo, Hi float64
	Text   string
}

func (v Val) hasDoubt() bool { return doubtful(v.Y, v.U) }

// doubtful tells whether a value has a doubt that can be drawn.
func doubtful(y, u float64) bool { return u > 0 && isFinite(y-u) && isFinite(y+u) }

// The plane of a plot: so wide that lettering of 13 pixels can still be read
// on a telephone.
const (
	plotW, plotH       = 420.0, 250.0
	right, top, bottom = 12.0, 26.0, 52.0

	lettering   = 13.0 // size
	bracketRoom = 14.0
	keyHigh     = 18.0
)

// Draw returns the picture of the plot. Values that are not finite are left
// out; without any the picture says so.
func (p Plot) Draw() Picture {
	pic := Picture{W: plotW, H: cmp.Or(p.low, plotH), Title: p.Title, Desc: p.Desc}
	rows := p.rows()
	if len(rows) == 0 {
		pic.Marks = []Mark{Label{X: plotW / 2, Y: pic.H / 2, Text: "no values", Anchor: Middle, Class: Text}}
		return pic
	}
	x, y := p.scales(rows, pic.H)
	pic.Marks = slices.Concat(band(rows[0].Values, x, y), yAxis(x, y), p.xAxis(rows[0].Values, x, pic.H-bottom), p.refs(x, y))
	for i, row := range rows {
		pic.Marks = append(pic.Marks, p.trace(row.Values, i, x, y)...)
	}
	for _, row := range rows {
		pic.Marks = append(pic.Marks, dots(row.Values, x, y)...)
	}
	pic.Marks = slices.Concat(pic.Marks, p.bracket(x, y), p.notes(rows, x, y), p.words(pic.H))
	return p.below(pic, rows)
}

// rows leaves out what cannot be drawn, gives even places, and puts the rest
// in order from left to right. Series without any value are left out.
func (p Plot) rows() []Series {
	var out []Series
	for _, s := range append([]Series{{p.Name, p.Values}}, p.Others...) {
		var vals []Val
		for i, v := range s.Values {
			if p.Even {
				v.At = float64(i)
			}
			if isFinite(v.Y) && isFinite(v.At) {
				vals = append(vals, v)
			}
		}
		if len(vals) == 0 {
			continue
		}
		slices.SortStableFunc(vals, func(a, b Val) int { return cmp.Compare(a.At, b.At) })
		out = append(out, Series{s.Name, vals})
	}
	return out
}

func (p Plot) scales(rows []Series, high float64) (x, y scale) {
	x0, x1 := math.Inf(1), math.Inf(-1)
	if p.from < p.to {
		x0, x1 = reach(x0, x1, p.from, p.to)
	}
	y0, y1 := math.Inf(1), math.Inf(-1)
	for _, row := range rows {
		for _, v := range row.Values {
			x0, x1 = reach(x0, x1, v.At)
			y0, y1 = reach(y0, y1, v.Y, v.Lo, v.Hi)
			if v.hasDoubt() {
				y0, y1 = reach(y0, y1, v.Y-v.U, v.Y+v.U)
			}
		}
	}
	for _, r := range p.Refs {
		y0, y1 = reach(y0, y1, r.Y0, r.Y1)
	}
	pad := (y1 - y0) * 0.11 // room for the word beside a limit
	switch {
	case pad == 0 && y0 == 0:
		pad = 1 // nought alone has no size of its own
	case pad == 0:
		pad = math.Abs(y0) * 0.1
	}
	edge := (x1 - x0) * 0.04
	if p.Even {
		edge = 0.5
	}
	if edge == 0 {
		edge = 1
	}
	y = scale{y0 - pad, y1 + pad, high - bottom, top}
	return scale{x0 - edge, x1 + edge, math.Max(labelRoom(y), p.left), plotW - math.Max(p.rightRoom(), p.right)}, y
}

// rightRoom is the room to the right, with that of a bracket.
func (p Plot) rightRoom() float64 {
	if p.Bracket == nil {
		return right
	}
	return right + bracketRoom + math.Min(TextWidth(p.Bracket.Text, lettering)*bolder, plotW/4)
}

// labelRoom is the room to the left that the figures of the axis need.
func labelRoom(y scale) float64 {
	room := 40.0
	at, decimals := ticks(y.from, y.to, 5)
	for _, t := range at {
		room = math.Max(room, 10+TextWidth(figure(t, decimals), lettering))
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
	for _, l := range limitWords(vals, x, y) {
		lines = append(lines, l)
	}
	return append(fill, lines...)
}

// limitWords names the limits: at their right ends, or at their left ones where
// a value lies in the way.
func limitWords(vals []Val, x, y scale) []Label {
	var out []Label
	taken := boxes(vals, x, y)
	first, last := vals[0], vals[len(vals)-1]
	for _, l := range []struct{ left, right, off float64 }{{first.Hi, last.Hi, -4}, {first.Lo, last.Lo, 13}} {
		if !isFinite(l.right) {
			continue
		}
		word := Label{X: x.b - 3, Y: y.at(l.right) + l.off, Text: "limit", Anchor: End, Class: Text}
		other := Label{X: x.a + 4, Y: y.at(l.left) + l.off, Text: "limit", Anchor: Start, Class: Text}
		if isFinite(l.left) && slices.ContainsFunc(taken, word.box().on) && !slices.ContainsFunc(taken, other.box().on) {
			word = other
		}
		out = append(out, word)
	}
	return out
}

func yAxis(x, y scale) []Mark {
	at, decimals := ticks(y.from, y.to, 5)
	var ms []Mark
	for _, t := range at {
		ms = append(ms,
			Line{Points: []Point{{x.a, y.at(t)}, {x.b, y.at(t)}}, Class: Grid},
			Label{X: x.a - 5, Y: y.at(t) + 4, Text: figure(t, decimals), Anchor: End, Class: Text})
	}
	return append(ms, Line{Points: []Point{{x.a, y.a}, {x.a, y.b}}, Class: Axis})
}

func (p Plot) xAxis(vals []Val, x scale, base float64) []Mark {
	ms := []Mark{Line{Points: []Point{{x.a, base}, {x.b, base}}, Class: Axis}}
	list := p.Ticks
	if p.Even {
		list = nil
		for _, v := range vals {
			list = append(list, Tick{v.At, v.Label})
		}
	}
	if list == nil {
		at, decimals := ticks(x.from, x.to, 6)
		for _, t := range at {
			list = append(list, Tick{t, figure(t, decimals)})
		}
	}
	ms = append(ms, tickMarks(list, x, base)...)
	return append(ms, Label{X: (x.a + x.b) / 2, Y: base + 32, Text: p.Across, Anchor: Middle, Class: Text})
}

// tickMarks letters an axis, and leaves out the lettering that would lie on
// that before it.
func tickMarks(list []Tick, x scale, base float64) []Mark {
	var ms []Mark
	taken := math.Inf(-1)
	for _, t := range list {
		at := x.at(t.At)
		if at < x.a-0.1 || at > x.b+0.1 {
			continue
		}
		l := Label{X: at, Y: base + 17, Text: t.Text, Anchor: Middle, Class: Text}
		from, to := l.span()
		if from < taken+4 {
			continue
		}
		taken = to
		ms = append(ms, Line{Points: []Point{{at, base}, {at, base + 4}}, Class: Axis}, l)
	}
	return ms
}

// traces are the lines of the first, second and third series.
var traces = [...]Class{Trace, Trace2, Trace3}

func (p Plot) trace(vals []Val, series int, x, y scale) []Mark {
	if !p.Joined || len(vals) < 2 {
		return nil
	}
	var ps []Point
	for _, v := range vals {
		ps = append(ps, Point{x.at(v.At), y.at(v.Y)})
	}
	return []Mark{Line{Points: ps, Class: traces[series%len(traces)]}}
}

// dots draws values and their doubt. Where they stand closer than dots are
// wide, the doubt is drawn without its end strokes.
func dots(vals []Val, x, y scale) []Mark {
	var ms []Mark
	close := len(vals) > 1 && (x.b-x.a)/float64(len(vals)) < 2*DotRadius+2
	for _, v := range vals {
		cx := x.at(v.At)
		if v.hasDoubt() {
			up, down := y.at(v.Y+v.U), y.at(v.Y-v.U)
			ms = append(ms, Line{Points: []Point{{cx, up}, {cx, down}}, Class: Doubt})
			if !close {
				ms = append(ms,
					Line{Points: []Point{{cx - 4, up}, {cx + 4, up}}, Class: Doubt},
					Line{Points: []Point{{cx - 4, down}, {cx + 4, down}}, Class: Doubt})
			}
		}
		if close && v.Shape == Round && len(vals) > 100 {
			continue // the line joins them
		}
		ms = append(ms, Dot{X: cx, Y: y.at(v.Y), Shape: v.Shape, Class: Value})
	}
	return ms
}

// words says what up and down mean, beside the ends of the axis.
func (p Plot) words(high float64) []Mark {
	up := p.Unit
	if p.Up != "" {
		up = fmt.Sprintf("%s ↑ %s", p.Unit, p.Up)
	}
	ms := []Mark{Label{X: 4, Y: 14, Text: shortened(up, lettering*bolder, plotW-8), Anchor: Start, Class: Strong}}
	if p.Down != "" {
		ms = append(ms, Label{X: 4, Y: high - 4, Text: shortened("↓ "+p.Down, lettering*bolder, plotW-8), Anchor: Start, Class: Strong})
	}
	return ms
}
