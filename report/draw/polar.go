package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Polar is readings round a turn, with their deviation far larger than life.
// Nought is at the top and angles run clockwise, unless they are said to run
// anticlockwise; outward is plus.
type Polar struct {
	Title, Desc string
	Unit        string    // of the values
	Out         string    // what plus means, in words; may be empty
	Words       [4]string // what lies at the top, right, bottom and left; may be empty
	Turning     string    // how angles run, in words: "anticlockwise, seen from the tailstock"; may be empty
	Bare        bool      // words stand in the place of degrees
	Values      []Around
	Circle      *Circle // fitted to the values
	Lo, Hi      float64 // limits, ±Inf where there is none
}

// Around is a value at an angle.
type Around struct {
	Angle float64 // degrees
	Y     float64
	U     float64 // reach of the doubt either way; 0 where there is none
	Shape Shape
}

// Circle is a circle fitted to readings round a turn: its run is mean +
// amplitude·cos(angle − high).
type Circle struct {
	Mean, Amplitude, High float64 // High in degrees
	Text                  string  // of the high spot: "high spot 135°"; may be empty
}

func (c Circle) at(angle float64) float64 {
	return c.Mean + c.Amplitude*math.Cos((angle-c.High)*math.Pi/180)
}

const (
	turnR      = 118.0 // radius of the turn's frame
	innerShare = 0.34  // of it, where the least value lies
	wordSigns  = 12    // letters in a line beside the turn
)

// Draw returns the picture of the turn.
func (p Polar) Draw() Picture {
	vals := p.usable()
	pic := Picture{W: plotW, H: 2*turnR + 92, Title: p.Title, Desc: p.Desc}
	if len(vals) == 0 {
		pic.Marks = []Mark{Label{X: plotW / 2, Y: pic.H / 2, Text: "no values", Anchor: Middle, Class: Text}}
		return pic
	}
	t := turn{c: Point{plotW / 2, turnR + 48}, r: p.radii(vals), left: p.left()}
	pic.Marks = slices.Concat(p.ground(t), p.fitted(t), p.limits(t), p.run(vals, t), p.around(t), p.tops())
	if p.Circle != nil && p.Circle.Text != "" {
		pic.Marks = append(pic.Marks, Label{X: plotW / 2, Y: pic.H - 6, Text: shortened(p.Circle.Text, lettering*bolder, plotW-8), Anchor: Middle, Class: Strong})
	}
	return pic
}

func (p Polar) usable() []Around {
	var out []Around
	for _, v := range p.Values {
		if isFinite(v.Y) && math.Abs(v.Angle) < 1e6 {
			v.Angle = math.Mod(math.Mod(v.Angle, 360)+360, 360)
			out = append(out, v)
		}
	}
	slices.SortStableFunc(out, func(a, b Around) int { return cmp.Compare(a.Angle, b.Angle) })
	return out
}

// turn maps values at angles to places.
type turn struct {
	c    Point
	r    scale // of values to radii
	left bool  // angles run anticlockwise
}

// left tells whether angles run anticlockwise.
func (p Polar) left() bool {
	return strings.Contains(p.Turning, "anticlockwise") || strings.Contains(p.Turning, "counterclockwise")
}

func (t turn) at(angle, y float64) Point { return t.on(angle, t.r.at(y)) }

// on is the place at an angle and a radius.
func (t turn) on(angle, radius float64) Point {
	if t.left {
		angle = -angle
	}
	s, c := math.Sincos(angle * math.Pi / 180)
	return Point{t.c.X + radius*s, t.c.Y - radius*c}
}

// ring is a circle, or a curve round the centre.
func (t turn) ring(radius func(angle float64) float64, class Class) Mark {
	const steps = 72
	var ps []Point
	for i := range steps + 1 {
		a := float64(i%steps) * 360 / steps
		ps = append(ps, t.on(a, radius(a)))
	}
	return Line{Points: ps, Class: class}
}

func (p Polar) radii(vals []Around) scale {
	lo, hi := reach(math.Inf(1), math.Inf(-1), p.Lo, p.Hi)
	for _, v := range vals {
		lo, hi = reach(lo, hi, v.Y)
		if doubtful(v.Y, v.U) {
			lo, hi = reach(lo, hi, v.Y-v.U, v.Y+v.U)
		}
	}
	if c := p.fit(); c != nil {
		lo, hi = reach(lo, hi, c.Mean-math.Abs(c.Amplitude), c.Mean+math.Abs(c.Amplitude))
	}
	if pad := (hi - lo) * 0.06; pad > 0 {
		lo, hi = lo-pad, hi+pad
	} else {
		d := math.Max(math.Abs(lo)*0.1, 1e-6)
		lo, hi = lo-d, hi+d
	}
	return scale{lo, hi, innerShare * turnR, turnR}
}

func (p Polar) fit() *Circle {
	if c := p.Circle; c != nil && isFinite(math.Abs(c.Mean)+math.Abs(c.Amplitude)) && math.Abs(c.High) < 1e6 {
		return c
	}
	return nil
}

// ground draws spokes and rings; the rings carry their values.
func (p Polar) ground(t turn) []Mark {
	ms := []Mark{t.ring(func(float64) float64 { return turnR }, Axis)}
	for a := 0.0; a < 360; a += 45 {
		ms = append(ms, Line{Points: []Point{t.on(a, 0), t.on(a, turnR)}, Class: Grid})
	}
	at, decimals := ticks(t.r.from, t.r.to, 3)
	for _, v := range at {
		ms = append(ms, t.ring(func(float64) float64 { return t.r.at(v) }, Grid))
		q := t.at(22.5, v)
		ms = append(ms, Label{X: q.X, Y: q.Y + 4, Text: figure(v, decimals), Anchor: Middle, Class: Text})
	}
	return ms
}

func (p Polar) limits(t turn) []Mark {
	var ms []Mark
	for _, l := range []float64{p.Lo, p.Hi} {
		if !isFinite(l) {
			continue
		}
		ms = append(ms, t.ring(func(float64) float64 { return t.r.at(l) }, Limit))
		q := t.at(337.5, l)
		ms = append(ms, Label{X: q.X, Y: q.Y + 14, Text: "limit", Anchor: Middle, Class: Text})
	}
	return ms
}

// fitted draws the circle and the way from the centre to its high spot.
func (p Polar) fitted(t turn) []Mark {
	c := p.fit()
	if c == nil {
		return nil
	}
	ms := []Mark{t.ring(func(a float64) float64 { return t.r.at(c.at(a)) }, Fitted)}
	if c.Amplitude == 0 || c.Text == "" {
		return ms
	}
	return append(ms, Line{Points: []Point{t.c, t.on(c.High, turnR)}, Class: Fitted})
}

func (p Polar) run(vals []Around, t turn) []Mark {
	var ps []Point
	var doubts, ds []Mark
	for _, v := range vals {
		at := t.at(v.Angle, v.Y)
		ps = append(ps, at)
		if doubtful(v.Y, v.U) {
			doubts = append(doubts, Line{Points: []Point{t.at(v.Angle, v.Y-v.U), t.at(v.Angle, v.Y+v.U)}, Class: Doubt})
		}
		if len(vals) <= 120 || v.Shape != Round {
			ds = append(ds, Dot{X: at.X, Y: at.Y, Shape: v.Shape, Class: Value})
		}
	}
	ms := doubts
	if len(ps) > 2 {
		ms = append(ms, Line{Points: append(ps, ps[0]), Class: Trace})
	}
	return append(ms, ds...)
}

// around letters the turn, and marks its high spot outside the frame.
func (p Polar) around(t turn) []Mark {
	var ms []Mark
	high := math.NaN()
	if c := p.fit(); c != nil && c.Amplitude != 0 && c.Text != "" {
		high = math.Mod(math.Mod(c.High, 360)+360, 360)
		q := t.on(high, turnR+9)
		ms = append(ms, Dot{X: q.X, Y: q.Y, Shape: Triangle, Class: Value})
	}
	for i := range 4 {
		ms = append(ms, p.side(t, i, high)...)
	}
	for _, a := range []float64{45, 135, 225, 315} {
		if p.Bare || apart(a, high) < 14 {
			continue
		}
		ms = append(ms, beside(t.on(a, turnR+7), a > 180 != t.left, figure(a, 0)+"°"))
	}
	return ms
}

// apart is how many degrees lie between two angles; far where one is none.
func apart(a, b float64) float64 {
	if math.IsNaN(b) {
		return 360
	}
	d := math.Mod(math.Abs(a-b), 360)
	return math.Min(d, 360-d)
}

// side letters one of the four sides: its degrees, and what lies there.
func (p Polar) side(t turn, i int, high float64) []Mark {
	a := float64(i) * 90
	degrees := figure(a, 0) + "°"
	if p.Bare {
		degrees = ""
	}
	off := turnR + 7.0
	if apart(a, high) < 10 {
		off += 12
	}
	q := t.on(a, off)
	if i%2 == 0 {
		text := strings.TrimSpace(strings.TrimSuffix(degrees+", "+p.Words[i], ", "))
		text = strings.TrimPrefix(text, ", ")
		if i == 2 {
			q.Y += 11
		}
		return []Mark{Label{X: q.X, Y: q.Y, Text: text, Anchor: Middle, Class: Text}}
	}
	lines := wrap(p.Words[i], wordSigns)
	if degrees != "" {
		lines = append([]string{degrees}, lines...)
	}
	var ms []Mark
	for k, s := range lines {
		l := Label{X: q.X, Y: q.Y + 4 + lineHigh*(float64(k)-float64(len(lines)-1)/2), Text: s, Anchor: Start, Class: Text}
		room := plotW - q.X - 2
		if (i == 3) != t.left {
			l.Anchor, room = End, q.X-2
		}
		l.Text = shortened(s, lettering, room)
		ms = append(ms, l)
	}
	return ms
}

// beside letters a place outside the frame.
func beside(q Point, left bool, text string) Mark {
	l := Label{X: q.X, Y: q.Y + 4, Text: text, Anchor: Start, Class: Text}
	if left {
		l.Anchor = End
	}
	return l
}

func (p Polar) tops() []Mark {
	text := p.Unit
	if p.Out != "" {
		text = fmt.Sprintf("%s, outward: %s", p.Unit, p.Out)
	}
	ms := []Mark{Label{X: 4, Y: 14, Text: shortened(text, lettering*bolder, plotW-8), Anchor: Start, Class: Strong}}
	if p.Turning != "" {
		ms = append(ms, Label{X: 4, Y: 14 + lineHigh, Text: shortened(p.Turning, lettering, turnR), Anchor: Start, Class: Text})
	}
	return ms
}
