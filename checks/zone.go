package checks

import "math"

// PassZone returns the values that must be read for a pass: what a perfect
// machine has to show. ok is false where nothing can pass, because the zone
// is too narrow for u: under 3.92 u with Guarded and a well-known u (measure
// rule 13).
func PassZone(lo, hi, u, dof float64, rule Rule) (from, to float64, ok bool) {
	return Within(0, lo, hi, u, dof, rule).PassZone()
}

// PassZone is like the function of that name, with the uncertainty of each
// margin. Value and Drawn are not used; the margins are taken as known equally
// well all over the zone. For a value that cannot be negative a limit of
// nought, or below, is returned as it is.
func (q Request) PassZone() (from, to float64, ok bool) {
	if math.IsNaN(q.Lo) || math.IsNaN(q.Hi) || q.Lo > q.Hi {
		return 0, 0, false
	}
	q.Drawn = nil
	if q.Rule == NoRule {
		q.Rule = Guarded
	}
	if !q.NonNegative {
		return q.passZone()
	}
	p := q.pessimistic()
	p.NonNegative = false
	if q.Rule == Simple {
		p.Lo = q.plain().Lo
	}
	from, to, ok = p.passZone()
	if math.IsInf(from, -1) {
		from = q.Lo
	}
	return from, to, ok && to >= math.Max(0, from)
}

func (q Request) passZone() (from, to float64, ok bool) {
	if q.Rule == Simple || q.AtLo.U == 0 && q.AtHi.U == 0 {
		return q.Lo, q.Hi, q.Lo <= q.Hi
	}
	if math.IsInf(q.Lo, -1) || math.IsInf(q.Hi, 1) {
		from, to = q.Lo+q.guard(Lower), q.Hi-q.guard(Upper)
		return from, to, !math.IsNaN(from) && !math.IsNaN(to)
	}
	best := q.mostLikely()
	if !q.passes(best) {
		return 0, 0, false
	}
	return q.edge(best, q.Lo), q.edge(best, q.Hi), true
}

func (q Request) passes(value float64) bool {
	q.Value = value
	return Decide(q).Verdict == Pass
}

// mostLikely returns the value between the limits with the greatest P. Between
// them P is a sum of concave functions, so thirds close in on it.
func (q Request) mostLikely() float64 {
	if q.AtLo == q.AtHi {
		return q.Lo + (q.Hi-q.Lo)/2
	}
	p := func(v float64) float64 { q.Value = v; return q.conforming() }
	a, b := q.Lo, q.Hi
	for range 200 {
		third := (b - a) / 3
		if p(a+third) < p(b-third) {
			a += third
		} else {
			b -= third
		}
	}
	return a + (b-a)/2
}

// edge returns the last passing value on the way from one that passes to a
// limit.
func (q Request) edge(passing, limit float64) float64 {
	if q.passes(limit) {
		return limit
	}
	for range 200 {
		mid := passing + (limit-passing)/2
		if mid == passing || mid == limit {
			break
		}
		if q.passes(mid) {
			passing = mid
		} else {
			limit = mid
		}
	}
	return passing
}
