package voice

import (
	"fmt"
	"math"
	"strings"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/report"
	"waywright/report/draw"
)

const (
	pictureRows  = 11 // of a picture among the lines of an explanation
	leastColumns = 40 // with fewer a picture shows nothing
)

// Shape draws what a gate judged at many places against its limits, and lists
// the same in figures. It is empty for a gate of one value.
func (v Voice) Shape(j engine.Judgement) Screen {
	if len(j.Elements) < 2 || j.Holds || !judged(j.Verdict) {
		return nil
	}
	f := v.figures(j)
	u := f.j.Unit
	p := draw.Plot{Unit: u.Symbol, Up: f.plus, Down: f.minus, Across: "place", Even: true}
	var list []string
	for _, e := range j.Elements {
		val := draw.Val{Label: name(strings.ReplaceAll(e.Key, ".", ", ")), Y: u.Of(e.Value), Lo: limitIn(u, e.Lo), Hi: limitIn(u, e.Hi), Shape: shapeOf(e.Verdict)}
		if e.U > 0 {
			val.U = u.Difference().Of(e.U)
		}
		where := val.Label
		switch kindOf(j) {
		case value.Profile:
			p.Even, p.Joined, p.Across, val.At = false, true, "station, mm", e.At
			where = hold(e.Key + " mm")
		case value.Turn:
			p.Even, p.Joined, p.Across, val.At = false, true, "angle, °", e.At*180/math.Pi
			where = e.Key + "°"
		}
		p.Values = append(p.Values, val)
		list = append(list, where+":"+hard+f.number(e.Value))
	}
	s := v.drawn(p.Draw())
	return append(s, labelled("Values", strings.Join(list, ", ")+hard+u.Symbol))
}

// Attempts draws how the attempts at a gate came to its limits, and lists them.
// It is empty where there was but one.
func (v Voice) Attempts(list []engine.Attempt) Screen {
	p := draw.Plot{Across: "attempt", Even: true, Joined: true}
	var s Screen
	for i, a := range list {
		j := a.Judgement
		if j.Holds || !judged(j.Verdict) {
			continue
		}
		f := v.figures(j)
		u := f.j.Unit
		val := draw.Val{Label: fmt.Sprint(i + 1), Y: u.Of(j.Value), Lo: limitIn(u, j.Lo), Hi: limitIn(u, j.Hi), Shape: shapeOf(j.Verdict)}
		if j.U > 0 {
			val.U = u.Difference().Of(j.U)
		}
		p.Unit, p.Up, p.Down = u.Symbol, f.plus, f.minus
		p.Values = append(p.Values, val)
		s = append(s, Line{Text: fmt.Sprintf("%d  %s: %s", i+1, report.VerdictWord(j.Verdict), f.found()), Hang: 3})
	}
	if len(s) < 2 {
		return nil
	}
	s = append(Screen{{Text: "The attempts so far:"}}, s...)
	return append(v.drawn(p.Draw()), s...)
}

// drawn is a picture in a few rows; none where it is not to be seen.
func (v Voice) drawn(p draw.Picture) Screen {
	if v.Bare || v.Large || v.columns() < leastColumns {
		return nil
	}
	var s Screen
	for _, l := range draw.Terminal(p, min(v.columns(), defaultWidth), pictureRows) {
		s = append(s, Line{Text: strings.ReplaceAll(l, " ", hard)})
	}
	return append(s, detail("o PASS  x FAIL  ? CANNOT TELL  | the doubt"))
}

func judged(v checks.Verdict) bool {
	return v == checks.Pass || v == checks.Fail || v == checks.Undecided
}

func kindOf(j engine.Judgement) value.Kind {
	if j.Gate != nil && j.Gate.Of != nil {
		return j.Gate.Of.Type().Kind
	}
	return value.Keyed
}

// limitIn is a limit in a unit; one that there is not stays so.
func limitIn(u quantity.Unit, x float64) float64 {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return x
	}
	return u.Of(x)
}

func shapeOf(v checks.Verdict) draw.Shape {
	switch v {
	case checks.Pass:
		return draw.Round
	case checks.Fail:
		return draw.Cross
	}
	return draw.Diamond
}
