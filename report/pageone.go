package report

import (
	"cmp"
	"math"
	"slices"
)

// What stands on page one of every form. Nothing here is worked out that the
// record does not hold: it is only chosen and put in order.

// The verdicts as the JSON has them.
const (
	Pass        = "pass"
	Fail        = "fail"
	Undecided   = "undecided"
	NotMeasured = "not_measured"
	NotApplied  = "not_applied"
	Open        = "open"
)

// FallsShort returns the tests that are not as the limits ask, the worst
// first: failed, not measured, undecided, not yet judged.
func (r Record) FallsShort() []Test {
	order := map[string]int{Fail: 0, NotMeasured: 1, Undecided: 2, Open: 3}
	out := r.with(func(t Test) bool { _, ok := order[t.Verdict]; return ok && !t.Noted })
	slices.SortStableFunc(out, func(a, b Test) int { return cmp.Compare(order[a.Verdict], order[b.Verdict]) })
	return out
}

// AsFound returns the tests that were noted as found, those that are not as
// their limits ask first.
func (r Record) AsFound() []Test {
	order := map[string]int{Fail: 0, NotMeasured: 1, Undecided: 2, Open: 3, Pass: 4}
	out := r.with(func(t Test) bool { _, ok := order[t.Verdict]; return ok && t.Noted })
	slices.SortStableFunc(out, func(a, b Test) int { return cmp.Compare(order[a.Verdict], order[b.Verdict]) })
	return out
}

// LeftOut returns the tests that were left out by agreement before the work
// began.
func (r Record) LeftOut() []Test {
	return r.with(func(t Test) bool { return t.LeftOut != nil })
}

// NotApplying returns the tests that do not apply by what was answered first.
func (r Record) NotApplying() []Test {
	return r.with(func(t Test) bool { return t.Verdict == NotApplied && t.LeftOut == nil })
}

// Closest returns up to n passed tests of the machine whose results lie
// closest to a limit, for the size of the limit, the closest first.
func (r Record) Closest(n int) []Test {
	out := r.with(func(t Test) bool {
		return t.Verdict == Pass && !t.Setup && !t.Noted && !math.IsInf(t.room(), 1)
	})
	slices.SortStableFunc(out, func(a, b Test) int { return cmp.Compare(a.room(), b.room()) })
	return out[:min(n, len(out))]
}

func (r Record) with(keep func(Test) bool) []Test {
	var out []Test
	for _, t := range r.Tests {
		if keep(t) {
			out = append(out, t)
		}
	}
	return out
}

// room is the distance from the nearer limit in parts of the limit, or of half
// the zone between two. It orders the tests and is printed nowhere.
func (t Test) room() float64 {
	if t.Found == nil || t.Found.Nearer == nil {
		return math.Inf(1)
	}
	size := 0.0
	switch lo, hi := t.Allowed.Lower, t.Allowed.Upper; {
	case lo != nil && hi != nil:
		size = (hi.Value - lo.Value) / 2
	case hi != nil:
		size = math.Abs(hi.Value)
	case lo != nil:
		size = math.Abs(lo.Value)
	}
	if size == 0 {
		return math.Inf(1)
	}
	return t.Found.Nearer.Value / size
}

// FromMemory tells whether the limits of some test are from memory of their
// source.
func (r Record) FromMemory() []Test {
	return r.with(func(t Test) bool { return t.Allowed.Memory && t.Verdict != NotApplied })
}

// Temperatures returns the least and the greatest temperature that was read.
func (r Record) Temperatures() (least, greatest Number, ok bool) {
	for _, rd := range r.Readings {
		for _, p := range rd.Places {
			for _, t := range p.Takes {
				if t.Number == nil || t.Number.Code != "Cel" || t.Withdrawn != nil {
					continue
				}
				if !ok || t.Number.Value < least.Value {
					least = *t.Number
				}
				if !ok || t.Number.Value > greatest.Value {
					greatest = *t.Number
				}
				ok = true
			}
		}
	}
	return least, greatest, ok
}

// Overdue returns the instruments whose calibration had ended when they were
// used.
func (r Record) Overdue() []Instrument {
	var out []Instrument
	for _, i := range r.Instruments {
		if i.Overdue {
			out = append(out, i)
		}
	}
	return out
}

// Reading returns the reading with that id.
func (r Record) Reading(id string) (Reading, bool) {
	for _, rd := range r.Readings {
		if rd.ID == id {
			return rd, true
		}
	}
	return Reading{}, false
}

// Instrument returns the binding with that id.
func (r Record) Instrument(id string) (Instrument, bool) {
	for _, i := range r.Instruments {
		if i.ID == id {
			return i, true
		}
	}
	return Instrument{}, false
}

// Result returns the result with that name.
func (r Record) Result(name string) (Result, bool) {
	for _, x := range r.Results {
		if x.Name == name {
			return x, true
		}
	}
	return Result{}, false
}
