package compare

import (
	"fmt"
	"math"
	"slices"
	"time"

	"waywright/checks/quantity"
	"waywright/checks/stat"
	"waywright/checks/uncert"
	"waywright/report"
)

// A year is 365.25 days, a drift wants three runs, and over less than the time
// here a year's drift would be guessed from too little.
const (
	year       = 365.25
	fewest     = 3
	leastDays  = 1
	shortDays  = 90
	hoursInDay = 24
)

// drifts works out, for each machine with three runs or more, by how much a
// value changes in a year.
func (c *comparer) drifts(x row, out *Test) {
	var machines []string
	for i := range x {
		if m := c.records[i].Record.Machine.ID; !slices.Contains(machines, m) {
			machines = append(machines, m)
		}
	}
	for _, m := range machines {
		levels, runs := c.levels(x, m, out)
		if runs < fewest {
			continue
		}
		out.Drifts = append(out.Drifts, drift(m, levels))
	}
}

// levels are the values of one machine in the order of time: within one level
// nothing was corrected that these records know of. What cannot be compared
// with the newest is left out. runs is how many records have a part in them.
func (c *comparer) levels(x row, machine string, out *Test) (levels [][]*entry, runs int) {
	type pair struct {
		found, left *entry
		worked      bool
	}
	var all []pair
	for i, t := range x {
		left := c.entry(i, t, AsLeft)
		if c.retold(i, x) || c.records[i].Record.Machine.ID != machine || left == nil || left.at.IsZero() {
			continue
		}
		found := c.entry(i, t, AsFound)
		if found != nil && found.at.IsZero() {
			found = nil
		}
		// Without a first reading nobody knows what the work did.
		worked := out.Values[i].Worked || found == nil
		all = append(all, pair{found, left, worked})
	}
	if len(all) == 0 {
		return nil, 0
	}
	slices.SortStableFunc(all, func(a, b pair) int { return a.left.at.Compare(b.left.at) })
	newest := all[len(all)-1].left
	level := []*entry{}
	for _, p := range all {
		if unlike(newest, p.left) != "" {
			continue // told of the pair already, where it is one
		}
		runs++
		if !p.worked {
			level = append(level, p.left)
			continue
		}
		if p.found != nil && unlike(newest, p.found) == "" {
			level = append(level, p.found)
		}
		if len(level) > 0 {
			levels = append(levels, level)
		}
		level = []*entry{p.left}
	}
	return append(levels, level), runs
}

// drift is the slope that the levels share.
func drift(machine string, levels [][]*entry) Drift {
	d := Drift{Machine: machine}
	newest := levels[len(levels)-1][len(levels[len(levels)-1])-1]
	// A level of one value says nothing of a drift.
	levels = slices.DeleteFunc(slices.Clone(levels), func(l []*entry) bool { return len(l) < 2 })
	var first, last time.Time
	for _, l := range levels {
		for _, e := range l {
			if d.Values++; d.Values == 1 {
				first = e.at
			}
			last = e.at
		}
	}
	d.Levels = len(levels)
	d.Days = math.Round(last.Sub(first).Hours()/hoursInDay*10) / 10
	if d.Days < leastDays && d.Values > 0 {
		d.Said = "no drift can be told: all within a day"
		return d
	}
	where := everywhere(levels, newest)
	level := together(len(where))
	var worst uncert.Difference
	none := true
	for _, w := range where {
		s, ok := stat.CommonSlope(dated(levels, w, first)...)
		if !ok {
			continue
		}
		r := uncert.Result{Std: s.U, DoF: s.DoF, K: uncert.CoverageAt(level, s.DoF)}
		r.U = r.K * r.Std
		if x := uncert.Differ(s.By, r); none || x.Shown && !worst.Shown || x.Shown == worst.Shown && share(x) > share(worst) {
			worst, d.Where, d.Scatter, none = x, w, s.Scatter, false
		}
	}
	if none {
		d.Said = "no drift can be told: it was corrected each time, or its doubt is not stated everywhere"
		return d
	}
	if len(where) > 1 {
		d.Places = len(where)
	}
	d.put(worst, newest.unit)
	d.Said = d.words(senseOf(newest))
	return d
}

func (d *Drift) put(x uncert.Difference, u quantity.Unit) {
	d.PerYear, d.U = report.Differing(x.By, x.U, u)
	d.Shown = x.Shown
	if d.U != nil {
		d.K = x.K
		if !math.IsInf(x.DoF, 0) {
			d.DoF = math.Floor(x.DoF)
		}
	}
}

func (d *Drift) words(s sense) string {
	if d.PerYear == nil {
		return "no drift can be told: it is no number"
	}
	n := d.PerYear.Without().WithUnit() + " a year"
	out := fmt.Sprintf("%s (%s)", n, s.way(d.PerYear.Value))
	if !d.Shown {
		out = "no drift shown: " + n
	}
	out += doubt(d.U, d.Shown, " a year")
	if d.Where != "" {
		out = "at " + d.Where + ": " + out
	}
	if d.Places > 1 {
		out += fmt.Sprintf(", for looking at %d places", d.Places)
	}
	out += fmt.Sprintf("; %d values over %s", d.Values, days(d.Days))
	if d.Levels > 1 {
		out += ", what was corrected taken out"
	}
	if d.Scatter {
		out += "; they lie further from a line than their doubts explain, and the doubt here is from that"
	}
	if d.Days < shortDays {
		out += "; a year is much more than was seen"
	}
	return out
}

// days says a time: 40 days, 2.1 years.
func days(n float64) string {
	if n < year {
		return fmt.Sprintf("%.0f days", n)
	}
	return fmt.Sprintf("%.1f years", n/year)
}

// everywhere are the places that all values have.
func everywhere(levels [][]*entry, newest *entry) []string {
	out := places(newest, newest)
	for _, l := range levels {
		for _, e := range l {
			out = slices.DeleteFunc(out, func(w string) bool { _, ok := e.number(w); return !ok })
		}
	}
	return out
}

// dated are the values at one place, in years since the first.
func dated(levels [][]*entry, where string, first time.Time) [][]stat.Point {
	var out [][]stat.Point
	for _, l := range levels {
		var g []stat.Point
		for _, e := range l {
			n, _ := e.number(where)
			g = append(g, stat.Point{X: e.at.Sub(first).Hours() / hoursInDay / year, Y: n.y, U: n.u, DoF: n.dof})
		}
		out = append(out, g)
	}
	return out
}
