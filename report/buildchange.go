package report

import (
	"math"
	"strings"

	"waywright/checks/quantity"
	"waywright/engine"
)

// change says by how much a value differs from an earlier one, and where that
// may be noise, so. from names the earlier one, "attempt 1" or "as found", and
// now the later one, where it is not the one that this stands beside.
func (b *builder) change(j engine.Judgement, c *engine.Change, now, from string) *Change {
	if c == nil {
		return nil
	}
	d := b.unit(j.Unit).Difference()
	places := differing(c.By, c.U, d)
	by, u := number(c.By, d, places), number(c.U, d, places)
	if by == nil {
		return nil
	}
	out := &Change{Attempt: c.Since, By: *by, Shown: c.Shown}
	if c.U > 0 && u != nil {
		out.U, out.K = u, steady(c.K)
		if !math.IsInf(c.DoF, 1) {
			out.DoF = steady(c.DoF)
		}
	}
	if c.Element != "" {
		was := j
		was.Element = c.Element
		out.Where = b.elementName(j.Gate, c.Element, elementAt(was))
	}
	out.Said = out.words(now, from)
	return out
}

func (c *Change) words(now, from string) string {
	s := strings.TrimSpace(now+" differs from ") + " " + from + " by " + c.By.abs().WithUnit()
	if !c.Shown {
		s = "no difference shown between " + from + " and " + now
		if now == "" {
			s = "no difference shown from " + from
		}
		s += ": changed by " + c.By.abs().WithUnit()
	}
	switch {
	case c.U == nil:
	case c.Shown:
		s += ", give or take " + c.U.WithUnit()
	default:
		s += ", doubt " + c.U.WithUnit()
	}
	if c.Where != "" {
		s = "at " + c.Where + ": " + s
	}
	return s
}

// differing returns the places at which a difference and its doubt compare in
// print as they do unrounded.
func differing(by, u float64, d quantity.Unit) int {
	places := placesFor(u, d)
	if u == 0 {
		return places
	}
	want := sign(steady(math.Abs(by)) - steady(u))
	for p := places; p <= places+morePlaces; p++ {
		if sign(printed(digits(math.Abs(by), d, p))-printed(digits(u, d, p))) == want {
			return p
		}
	}
	return places
}

// sinceFound holds what stands at the end against what was found before any
// work was done.
func (b *builder) sinceFound(t Test, history []engine.Attempt) *Change {
	n := len(history)
	if n < 2 || !t.AsFound.Read || !history[n-1].Stands {
		return nil
	}
	last := history[n-1]
	if last.Overall == nil || last.Overall.Since != 1 {
		return nil
	}
	return b.change(last.Judgement, last.Overall, "as left", "as found")
}
