package voice

import (
	"math"

	"waywright/checks/quantity"
	"waywright/engine"
)

// Changed says by how much a gate's value differs from the one before, and
// where that may be noise, so. It says nothing of a first value.
func (v Voice) Changed(j engine.Judgement, c *engine.Change) Screen {
	if c == nil {
		return nil
	}
	was := j
	was.Value, was.Verdict = c.From, 0
	f := v.figures(was)
	was.Element = c.Element
	f.element = elementWords(was)
	before := f.sided()
	if f.element != "" {
		before = f.element + ": " + before
	}
	by, doubt := v.differs(c.By, c.U, j.Unit)
	switch {
	case c.Shown && c.U == 0:
		return Screen{labelled("Before", before+": changed by "+by)}
	case c.Shown:
		return Screen{labelled("Before", before+": changed by "+by+", give or take "+doubt)}
	}
	return Screen{labelled("Before", before), {Text: noDifference(by, doubt)}}
}

func noDifference(by, doubt string) string {
	return "NO DIFFERENCE SHOWN: changed by " + by + ", doubt " + doubt + "."
}

// differs writes a difference and its doubt, with enough digits that they
// compare in print as they do.
func (v Voice) differs(by, doubt float64, u quantity.Unit) (string, string) {
	u = quantity.InRun(u, v.Inch).Difference()
	by = math.Abs(by)
	d := quantity.EnoughDigits(by, u, max(0, quantity.RoundedDecimals(doubt, u)), doubt)
	return hold(quantity.Format(by, u, d)), hold(quantity.Format(doubt, u, d))
}
