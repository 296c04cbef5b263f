package engine

import (
	"math"

	"waywright/checks/montecarlo"
	"waywright/checks/propagate"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// chain is all that a subject is worked out by, from its readings through the
// results on the way. Its numbers are those of the subject, then the margins
// to its limits where these come from readings too, then the divisors.
type chain struct {
	s   *State
	q   subject
	est *estimate

	form     formula.Traits
	lo, hi   bool // the margin to that limit is a number of its own
	margin   formula.Traits
	divisors []placed
}

// placed is a program in a round of its step.
type placed struct {
	p     *formula.Program
	step  *procedures.Step
	round []string
}

func (s *State) chain(q subject, est *estimate) *chain {
	c := &chain{s: s, q: q, est: est, form: s.plan.traits(q.of)}
	for _, p := range q.limits() {
		t := s.plan.traits(p)
		if t.Varies {
			c.margin.Kinked = c.margin.Kinked || t.Kinked
			c.lo, c.hi = !math.IsInf(est.lo, 0), !math.IsInf(est.hi, 0)
		}
	}
	for _, x := range c.reached() {
		for _, d := range s.plan.divisors(x.p) {
			c.divisors = append(c.divisors, placed{d, x.step, x.round})
		}
	}
	return c
}

// reached lists the programs that the subject is worked out by, each once.
func (c *chain) reached() []placed {
	var out []placed
	seen := map[string]bool{}
	var visit func(x placed)
	visit = func(x placed) {
		out = append(out, x)
		for _, r := range x.p.Refs() {
			res, ok := c.s.plan.items[r.Name].(*procedures.Result)
			if !ok || r.Space != formula.Result {
				continue
			}
			for _, round := range c.s.roundsOf(res.Step, r, x.round) {
				if id := address(res.Name, round...); !seen[id] {
					seen[id] = true
					visit(placed{res.Value, res.Step, round})
				}
			}
		}
	}
	for _, p := range append([]*formula.Program{c.q.of}, c.q.limits()...) {
		visit(placed{p, c.q.step, c.q.round})
	}
	return out
}

// roundsOf are the rounds of a step that a name means: the present one, or
// all.
func (s *State) roundsOf(st *procedures.Step, r formula.Ref, present []string) [][]string {
	switch {
	case len(st.Each) == 0:
		return oneRound
	case r.Round:
		return [][]string{present}
	}
	return s.rounds(st)
}

// forms tells what is known of each number but the divisors, and the limits
// that the share of trials beyond is wanted of.
func (c *chain) forms() (forms []propagate.Form, zones []propagate.Zone) {
	n := len(c.est.of)
	add := func(f propagate.Form, z propagate.Zone) {
		for range n {
			forms, zones = append(forms, f), append(zones, z)
		}
	}
	add(c.est.form, propagate.Zone{Lo: c.est.lo, Hi: c.est.hi})
	margin := propagate.Form{Kinked: c.form.Kinked || c.margin.Kinked, NonNegative: c.form.NonNegative}
	for _, there := range []bool{c.lo, c.hi} {
		if there {
			add(margin, propagate.Zone{Lo: 0, Hi: math.Inf(1)})
		}
	}
	return forms, zones
}

// parts takes what was solved apart: the numbers, and their margins.
func (c *chain) parts(solved []propagate.Estimate) (e, below, above []propagate.Estimate) {
	n := len(c.est.of)
	e, solved = solved[:n], solved[n:]
	if c.lo {
		below, solved = solved[:n], solved[n:]
	}
	if c.hi {
		above = solved[:n]
	}
	return e, below, above
}

// eval gives the numbers with the inputs shifted; see [propagate.Problem].
func (c *chain) eval(shift []float64) []float64 {
	e := &env{s: c.s, shift: map[string]float64{}, memo: map[string]value.Value{}}
	for i, d := range shift {
		if d != 0 {
			e.shift[c.est.inputs[i].key()] = d
		}
	}
	if len(e.shift) == 0 {
		e = c.s.env()
	}
	of, lo, hi, st, _ := c.q.numbers(e)
	if st != value.Present || len(of) != len(c.est.of) {
		return nil
	}
	out := make([]float64, 0, 3*len(of)+len(c.divisors))
	for i, n := range of {
		y := math.NaN()
		if n.state == value.Present && n.state == c.est.of[i].state {
			y = n.y
		}
		out = append(out, y)
	}
	out = c.addMargins(out, lo, hi)
	for _, d := range c.divisors {
		out = append(out, c.divisor(d, e))
	}
	return out
}

func (c *chain) addMargins(out []float64, lo, hi float64) []float64 {
	n := len(c.est.of)
	if c.lo {
		for i := range n {
			out = append(out, out[i]-lo)
		}
	}
	if c.hi {
		for i := range n {
			out = append(out, hi-out[i])
		}
	}
	return out
}

// divisor evaluates a divisor: of several the one nearest to nought.
func (c *chain) divisor(d placed, e *env) float64 {
	v := d.p.Eval(e.in(d.step, d.round))
	least := math.NaN()
	for _, n := range leavesOf(v) {
		if n.state == value.Present && !(math.Abs(n.y) >= math.Abs(least)) {
			least = n.y
		}
	}
	return least
}

// start returns the numbers for columns of shifts, nil where they cannot be
// worked out so, and whether the divisors are among them.
func (c *chain) start() (start func() montecarlo.Func, all bool) {
	pl := &columns{c: c, nodes: map[string]*node{}}
	of, ok := pl.root(c.q.of, len(c.est.of))
	if !ok {
		return nil, false
	}
	var limits []*node
	if c.lo || c.hi {
		for _, p := range c.q.limits() {
			n, ok := pl.root(p, 1+b2i(p == c.q.gate.Within))
			if !ok {
				return nil, false
			}
			limits = append(limits, n)
		}
	}
	pl.addDivisors()
	return func() montecarlo.Func { return pl.worker(of, limits) }, len(pl.divisors) == len(c.divisors)
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}
