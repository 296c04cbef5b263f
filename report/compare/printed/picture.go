package printed

import (
	"fmt"
	"math"
	"slices"
	"time"

	"waywright/checks/quantity"
	"waywright/report"
	"waywright/report/compare"
	"waywright/report/document"
	"waywright/report/draw"
)

// overDays is from how many days on a picture has an axis of time.
const overDays = 2

// picture draws the values of a test: over time where they are of one machine
// and lie days apart, else one beside the other. ok is false where fewer than
// two values can be drawn in one unit.
func picture(c compare.Comparison, i int) (document.Figure, bool) {
	t := c.Tests[i]
	s, ok := seriesOf(c, t)
	if !ok {
		return document.Figure{}, false
	}
	caption := "What was found in each run, with its doubt: " + t.Title + "."
	if far := s.leaveFar(); far > 0 {
		caption += " What was found before it was corrected lies too far off to be drawn; the table has it."
	}
	desc := fmt.Sprintf("%s in %s. The table has the numbers.", t.Title, runsSaid(len(s.left)))
	f := document.Figure{ID: "picture-" + id(i), Caption: caption}
	if s.oneMachine && s.days() >= overDays {
		if t.Limits != "" {
			s.noLimits()
			f.Caption += " The limits are not drawn, because they differ."
		}
		f.Picture = s.over(desc, t.Title)
	} else {
		f.Picture = s.beside(desc, t.Title)
	}
	return f, true
}

// Picture draws test i of a comparison, as the printed forms have it. ok is
// false where fewer than two values can be drawn in one unit.
func Picture(c compare.Comparison, i int) (draw.Picture, bool) {
	f, ok := picture(c, i)
	return f.Picture, ok
}

func runsSaid(n int) string {
	if n == 1 {
		return "one run"
	}
	return fmt.Sprintf("%d runs", n)
}

// series are the values of a test in one unit.
type series struct {
	unit        quantity.Unit
	plus, minus string
	left, found []point
	oneMachine  bool
}

type point struct {
	run    string
	at     time.Time
	y, u   float64
	lo, hi float64
	shape  draw.Shape
}

func seriesOf(c compare.Comparison, t compare.Test) (series, bool) {
	s := series{oneMachine: true, plus: t.Positive, minus: t.Negative}
	for i, v := range t.Values {
		if v.AsLeft == nil || v.AsLeft.Value == nil {
			continue
		}
		u, ok := report.UnitOf(*v.AsLeft.Value)
		if !ok || len(s.left) > 0 && u.Dim != s.unit.Dim {
			continue
		}
		if len(s.left) == 0 {
			s.unit = u
		}
		s.oneMachine = s.oneMachine && c.Runs[i].Machine == c.Runs[0].Machine
		s.left = append(s.left, s.point(v, v.AsLeft))
		if v.Worked && v.AsFound != nil && v.AsFound.Value != nil {
			s.found = append(s.found, s.point(v, v.AsFound))
		}
	}
	return s, len(s.left) >= 2
}

// leaveFar leaves out what was found so far off that the rest would be drawn
// flat: beyond the reach of all that was left, and of its limits, by more than
// that reach. It returns how many were left out.
func (s *series) leaveFar() int {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range s.left {
		for _, y := range []float64{p.y - p.u, p.y + p.u, p.lo, p.hi} {
			if !math.IsInf(y, 0) && !math.IsNaN(y) {
				lo, hi = math.Min(lo, y), math.Max(hi, y)
			}
		}
	}
	n := len(s.found)
	s.found = slices.DeleteFunc(s.found, func(p point) bool { return p.y > hi+(hi-lo) || p.y < lo-(hi-lo) })
	return n - len(s.found)
}

// noLimits takes the limits off: over time there is one zone, or none.
func (s *series) noLimits() {
	for _, ps := range [][]point{s.left, s.found} {
		for i := range ps {
			ps[i].lo, ps[i].hi = math.Inf(-1), math.Inf(1)
		}
	}
}

func (s series) in(n *report.Number, none float64) float64 {
	if n == nil {
		return none
	}
	u, ok := report.UnitOf(*n)
	if !ok {
		return none
	}
	return s.unit.Difference().Of(u.Difference().Base(n.Value))
}

func (s series) point(v compare.Value, e *compare.Entry) point {
	p := point{run: v.Run, y: s.in(e.Value, math.NaN()), u: s.in(e.U, 0), lo: math.Inf(-1), hi: math.Inf(1), shape: draw.Round}
	if v.Allowed != nil {
		p.lo, p.hi = s.in(v.Allowed.Lower, p.lo), s.in(v.Allowed.Upper, p.hi)
	}
	switch e.Verdict {
	case report.Fail:
		p.shape = draw.Cross
	case report.Undecided:
		p.shape = draw.Diamond
	}
	p.at, _ = time.Parse(time.RFC3339, e.At) // without a time it has no place on an axis of time
	return p
}

func (s series) days() float64 {
	first, last := s.left[0].at, s.left[0].at
	for _, p := range s.left {
		if p.at.IsZero() {
			return 0
		}
		if p.at.Before(first) {
			first = p.at
		}
		if p.at.After(last) {
			last = p.at
		}
	}
	return last.Sub(first).Hours() / 24
}

// over draws the values over the years, as found apart from as left.
func (s series) over(desc, title string) draw.Picture {
	t := draw.Trend{Title: title, Desc: desc, Unit: s.unit.Symbol, Up: s.plus, Down: s.minus, Lo: s.left[len(s.left)-1].lo, Hi: s.left[len(s.left)-1].hi}
	add := func(name string, ps []point) {
		x := draw.TrendSeries{Name: name}
		for _, p := range ps {
			x.Values = append(x.Values, draw.Dated{At: p.at, Y: p.y, U: p.u})
		}
		t.Series = append(t.Series, x)
	}
	add("as left", s.left)
	if len(s.found) > 0 {
		add("as found", s.found)
	}
	return t.Draw()
}

// beside draws the values one beside the other, under the letters of their
// runs.
func (s series) beside(desc, title string) draw.Picture {
	p := draw.Plot{Title: title, Desc: desc, Across: "run", Unit: s.unit.Symbol, Up: s.plus, Down: s.minus, Even: true}
	for _, x := range s.left {
		p.Values = append(p.Values, draw.Val{Label: x.run, Y: x.y, U: x.u, Lo: x.lo, Hi: x.hi, Shape: x.shape})
	}
	return p.Draw()
}
