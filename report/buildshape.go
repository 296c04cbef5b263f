package report

import (
	"math"

	"waywright/checks/form"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
)

// places along which a collection stands.
var alongWords = map[value.Kind]string{value.Profile: "station", value.Turn: "angle", value.Keyed: "key"}

// senses says what the many values of a result stand along, and what plus and
// minus mean of them.
func (b *builder) senses(x *Result, v value.Value, r engine.ResultValue) {
	x.Along = alongWords[v.Kind]
	s := senseOf(b.s.Words(r.Result.Positive, r.Result.Step, r.Keys), "")
	x.Positive, x.Negative = s.plus, s.minus
}

// ofTurn is the circle of a turn that was worked out.
func ofTurn(v value.Value, u quantity.Unit) *Circle {
	if v.Kind != value.Turn {
		return nil
	}
	var ys []float64
	for _, e := range v.Elems {
		if e = e.Mean(); e.State != value.Present || e.Kind != value.Number && e.Kind != value.Point {
			return nil
		}
		ys = append(ys, e.Num)
	}
	return circle(v.At, ys, u, quantity.Usual(u.Difference()))
}

// readRound is the circle of a reading round a turn, as it was read.
func (b *builder) readRound(r Reading, sets []engine.ReadingSet) *Circle {
	set := sets[0]
	if len(sets) != 1 || set.Reading.Unit == nil || kindOf(set.Reading) != value.Turn {
		return nil
	}
	u := b.unit(*set.Reading.Unit)
	var at, ys []float64
	places := 0
	for _, p := range r.Places {
		n := p.Mean
		if n == nil && len(p.Takes) > 0 {
			n = p.Takes[len(p.Takes)-1].Number
		}
		if p.Pass != "" || p.At == nil || n == nil {
			continue
		}
		at, ys = append(at, p.At.Value*math.Pi/180), append(ys, u.Base(n.Value))
		places = max(places, decimalsOf(n.Text))
	}
	return circle(at, ys, u, places)
}

// circle is fitted to values, in base units, at angles. There is none where the
// angles do not go round; a circle that is out by less than its last digit has
// no high spot.
func circle(at, ys []float64, u quantity.Unit, places int) *Circle {
	amplitude, high, err := form.Eccentricity(at, ys)
	if err != nil {
		return nil
	}
	sum := 0.0
	for i, y := range ys {
		sum += y - amplitude*math.Cos(at[i]-high)
	}
	deg, err := quantity.Lookup("deg")
	if err != nil {
		return nil
	}
	mean, out := number(sum/float64(len(ys)), u, places), number(amplitude, u.Difference(), places)
	if mean == nil || out == nil {
		return nil
	}
	c := &Circle{Mean: *mean, Eccentricity: *out}
	if !isNought(out.Text) {
		c.High = number(high, deg, 0)
	}
	return c
}
