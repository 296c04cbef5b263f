package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/stat"
	"waywright/checks/uncert"
	"waywright/report"
)

// alike is by what part a given may differ and still count as the same: a
// value that grows with a length is off by no more than that.
const alike = 0.01

// differences judges the pairs of values that are asked about: on one machine
// what stood at the end of a run against what the next one found, and against
// what it left; and each run against the first one.
func (c *comparer) differences(x row, out *Test) {
	first := -1
	last := map[string]*entry{} // what stood, by machine
	var seen []string
	cannot := func(s string) {
		if s != "" && !slices.Contains(seen, s) {
			seen = append(seen, s)
		}
	}
	var base *entry
	for i, t := range x {
		v := out.Values[i]
		cannot(c.missing(v, t))
		found, left := c.entry(i, t, AsFound), c.entry(i, t, AsLeft)
		machine := c.records[i].Record.Machine.ID
		if j := c.told(i); j >= 0 {
			// What it found is what the other one found, before the work that the
			// other one tells too.
			found, v.Worked = nil, false
			if old := c.entry(j, x[j], AsLeft); old != nil && left != nil && c.sameReadings(i, j, t) {
				d, why := c.taken(old, left, out)
				cannot(why)
				if d != nil {
					out.Differences = append(out.Differences, *d)
				}
				last[machine] = left
				if first == j {
					base = left
				}
				if own := c.own(i, t, out.Values[i]); own != nil {
					out.Differences = append(out.Differences, *own)
				}
				continue
			}
		}
		var pairs [][2]*entry
		if before := last[machine]; before != nil {
			switch {
			case left == nil && found == nil:
			case left == nil, v.Worked:
				pairs = append(pairs, [2]*entry{before, found})
			case before != base:
				pairs = append(pairs, [2]*entry{before, left})
			}
		}
		if base != nil && left != nil {
			pairs = append(pairs, [2]*entry{base, left})
		}
		for _, p := range pairs {
			d, why := c.difference(p[0], p[1], out)
			cannot(why)
			if d != nil {
				out.Differences = append(out.Differences, *d)
			}
		}
		if left != nil {
			last[machine] = left
			if first < 0 {
				first, base = i, left
			}
		}
		if own := c.own(i, t, out.Values[i]); own != nil {
			out.Differences = append(out.Differences, *own)
		}
	}
	out.Cannot = append(out.Cannot, c.without(out)...)
	out.Cannot = append(out.Cannot, seen...)
}

// without names the runs that have no such test.
func (c *comparer) without(t *Test) []string {
	var names []string
	for _, v := range t.Values {
		if v.State == NoTest {
			names = append(names, v.Run)
		}
	}
	switch len(names) {
	case 0:
		return nil
	case 1:
		return []string{names[0] + " has no such test."}
	}
	return []string{and(names) + " have no such test."}
}

// missing says of a run that it has nothing to compare.
func (c *comparer) missing(v Value, t *report.Test) string {
	why := ""
	if t != nil && t.Why != "" {
		why = ": " + strings.TrimRight(t.Why, ".")
	}
	switch v.State {
	case NotMeasured:
		return "Not measured in " + v.Run + why + "."
	case NotApplied:
		return "It does not apply in " + v.Run + why + "."
	case Open:
		return "Not judged in " + v.Run + "."
	}
	return ""
}

// own is what a record says itself of what it left against what it found.
func (c *comparer) own(i int, t *report.Test, v Value) *Difference {
	if t == nil || t.Change == nil || v.AsFound == nil || v.AsLeft == nil {
		return nil
	}
	ch := t.Change
	d := &Difference{
		From: Place{v.Run, AsFound}, To: Place{v.Run, AsLeft}, By: ch.By, U: ch.U, K: ch.K, DoF: ch.DoF, Shown: ch.Shown, Where: ch.Where, Own: true,
	}
	e := c.entry(i, t, AsLeft)
	d.Said = words(d, senseOf(e))
	return d
}

// difference judges b against a. Where it cannot, it says why.
func (c *comparer) difference(a, b *entry, out *Test) (*Difference, string) {
	if why := unlike(a, b); why != "" {
		return nil, why
	}
	for _, n := range besides(a, b) {
		if !slices.Contains(out.Notes, n) {
			out.Notes = append(out.Notes, n)
		}
	}
	d := &Difference{From: a.place, To: b.place, Shared: shared(a, b)}
	more := biased(a, b)
	common := places(a, b)
	level := together(len(common))
	var worst uncert.Difference
	for i, where := range common {
		x, _ := a.number(where)
		y, _ := b.number(where)
		diff := between(x, y, opposed(a, b), more, level)
		if i == 0 || diff.Shown && !worst.Shown || diff.Shown == worst.Shown && share(diff) > share(worst) {
			worst, d.Where = diff, where
		}
	}
	if len(common) > 1 {
		d.Places = len(common)
	}
	by, bigU := report.Differing(worst.By, worst.U, a.unit)
	if by == nil {
		return nil, fmt.Sprintf("%s and %s: the difference is no number.", a.place, b.place)
	}
	d.By, d.U, d.Shown = *by, bigU, worst.Shown
	if bigU != nil {
		d.K = worst.K
		if !math.IsInf(worst.DoF, 0) {
			d.DoF = math.Floor(worst.DoF)
		}
	}
	d.Said = words(d, senseOf(b))
	return d, ""
}

// together is the level at which each of n differences is judged so that none
// of them is real by chance with a probability of 0.95: the n-th root of that,
// for differences that know nothing of one another, and safe where they do
// (Z. Šidák, J. Amer. Statist. Assoc. 62 (1967) 626–633, from memory).
func together(n int) float64 { return math.Pow(0.95, 1/float64(max(1, n))) }

// between judges one number against another. covered is added to the variance,
// more to U.
func between(x, y known, covered, more, level float64) uncert.Difference {
	r := uncert.Result{
		Std: math.Sqrt(x.u*x.u + y.u*y.u + covered),
		DoF: stat.EffectiveDoF([]float64{x.u, y.u}, []float64{x.dof, y.dof}),
	}
	if math.IsNaN(r.DoF) {
		r.DoF = math.Inf(1)
	}
	r.K = uncert.CoverageAt(level, r.DoF)
	r.U = r.K*r.Std + more
	return uncert.Differ(y.y-x.y, r)
}

// share is how large a difference is beside its doubt.
func share(d uncert.Difference) float64 {
	switch {
	case d.By == 0:
		return 0
	case d.U == 0:
		return math.Inf(1)
	}
	return math.Abs(d.By) / d.U
}

// places are those that both have, in the order of a.
func places(a, b *entry) []string {
	var out []string
	for _, n := range a.numbers {
		if _, ok := b.number(n.where); ok && !slices.Contains(out, n.where) {
			out = append(out, n.where)
		}
	}
	return out
}

// biased is by how much values that cannot be negative may differ for no other
// reason than that their errors are not alike: what noise makes them too large
// by (measure rule 15) is not taken off a value, and so counts here.
func biased(a, b *entry) float64 {
	x, okX := a.bias()
	y, okY := b.bias()
	if okX && okY {
		return math.Abs(x - y)
	}
	return math.Max(math.Abs(x), math.Abs(y))
}

// opposed is what must be added to the variance for sources of one instrument,
// under one calibration, that are known to work the opposite way in the two.
func opposed(a, b *entry) (sum float64) {
	if a.place.State != AsLeft || b.place.State != AsLeft {
		return 0
	}
	for _, in := range common(a, b) {
		for _, x := range a.test.Doubt {
			for _, y := range b.test.Doubt {
				if x.Source != y.Source || !strings.Contains(x.Source, in.Number) || !(x.Sensitivity*y.Sensitivity < 0) {
					continue
				}
				ux, okX := report.UnitOf(x.U)
				uy, okY := report.UnitOf(y.U)
				if okX && okY {
					sum += 2 * ux.Base(x.U.Value) * uy.Base(y.U.Value)
				}
			}
		}
	}
	return sum
}

// common are the instruments that were used for both under one calibration.
func common(a, b *entry) []report.Instrument {
	var out []report.Instrument
	for _, id := range a.bindings {
		x, ok := a.record.Instrument(id)
		if !ok || x.Number == "" {
			continue
		}
		for _, other := range b.bindings {
			y, ok := b.record.Instrument(other)
			same := ok && x.Number == y.Number && x.CertificateNo == y.CertificateNo && x.Calibrated == y.Calibrated
			if same && !slices.ContainsFunc(out, func(i report.Instrument) bool { return i.Number == x.Number }) {
				out = append(out, x)
			}
		}
	}
	return out
}

func shared(a, b *entry) []string {
	var out []string
	for _, i := range common(a, b) {
		out = append(out, i.Number)
	}
	return out
}

// String names a place as it is printed: B as left.
func (p Place) String() string { return p.Run + " " + strings.ReplaceAll(p.State, "_", " ") }

// slope tells whether a value is one that a length has been taken out of.
func slope(u quantity.Unit) bool { return u.Dim.Length <= 0 }
