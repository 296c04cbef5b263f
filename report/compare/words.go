package compare

import (
	"fmt"
	"math"
	"strings"

	"waywright/report"
)

// sense is the words for the two ways of a value.
type sense struct{ plus, minus string }

func senseOf(e *entry) sense { return sense{e.finding.Positive, e.finding.Negative} }

// way puts the sign of a difference into words.
func (s sense) way(x float64) string {
	switch {
	case s.plus != "" && x > 0:
		return s.plus
	case s.minus != "" && x < 0:
		return s.minus
	case x < 0:
		return "less"
	}
	return "more"
}

// words says a difference, without what it is between.
func words(d *Difference, s sense) string {
	n := d.By.Without().WithUnit()
	out := fmt.Sprintf("differs by %s (%s)", n, s.way(d.By.Value))
	if !d.Shown {
		out = "no difference shown: changed by " + n
	}
	out += doubt(d.U, d.Shown, "")
	if d.Where != "" {
		out = "at " + d.Where + ": " + out
	}
	if d.Places > 1 {
		out += fmt.Sprintf(", for looking at %d places", d.Places)
	}
	return out
}

// doubt is the doubt of a difference: what is shown has a give or take, what is
// not is held against its doubt.
func doubt(u *report.Number, shown bool, per string) string {
	switch {
	case u == nil:
		return ""
	case shown:
		return ", give or take " + u.WithUnit() + per
	}
	return ", doubt " + u.WithUnit() + per
}

// and joins names: A, B and C.
func and(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// notes says how it was compared, and what the letters do not.
func (c *comparer) notes() []string {
	out := []string{"A difference is real where it is more than its own give or take, in which the doubts of both values count. What is not shown may be there all the same."}
	judged, exact := 0, false
	shared := map[string]bool{}
	var names []string
	for _, t := range c.out.Tests {
		for _, d := range t.Differences {
			if d.From.Run == d.To.Run || d.Taken {
				continue
			}
			judged++
			exact = exact || d.U == nil
			for _, s := range d.Shared {
				if !shared[s] {
					shared[s], names = true, append(names, s)
				}
			}
		}
	}
	if judged >= 10 {
		out = append(out, fmt.Sprintf("Where nothing has changed at all, one difference in twenty is called real by chance: of the %d judged here about %.0f.", judged, math.Max(1, math.Round(float64(judged)/20))))
	}
	if len(names) > 0 {
		out = append(out, fmt.Sprintf("Used in several runs under one calibration: %s. What it errs by alike in both is counted in each, so these doubts are rather too large.", strings.Join(names, ", ")))
	}
	machines := map[string]int{}
	for _, r := range c.out.Runs {
		machines[r.Machine]++
	}
	if len(machines) < len(c.out.Runs) {
		out = append(out, "What was done to a machine between two runs stands in neither record.")
	}
	return out
}
