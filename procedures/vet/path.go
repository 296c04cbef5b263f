package vet

import (
	"waywright/procedures"
)

// longest counts the prompts on the longest path: one pass with every count
// at the upper end of its range, and for each correction its attempts times
// what has to be done again. Nothing sets a count back, so it is finite
// (semantics rule 51).
//
// A working of a step counts its cautions, hold point and change of power;
// each confirm, wait and value; three further rounds of a set with closure;
// two further takes of what a gate is decided from.
func (ix *index) longest() int {
	at := map[string]float64{}
	for _, g := range ix.p.Givens {
		at[g.Name] = 1
	}
	w := newWorld(ix, at)
	n := 1 + len(ix.p.Signoffs) // who is at the machine, and who signs
	if len(ix.p.Grades) > 0 {
		n++
	}
	for _, g := range ix.p.Givens {
		if g.Ask != nil {
			n = plus(n, keyCount(w, g.Each, w.env()))
		}
	}
	for _, in := range ix.p.Instruments {
		if in != nil {
			n++ // which one is in the hand
		}
	}
	for _, s := range ix.p.Steps {
		n = plus(n, ix.working(w, s))
	}
	for _, c := range ix.p.Corrections {
		round := plus(2, len(c.Cautions))
		if c.Spindle != procedures.AnySpindle {
			round++
		}
		for _, s := range ix.reworked(c) {
			round = plus(round, ix.working(w, s))
		}
		n = plus(n, times(c.Attempts, round))
	}
	return n
}

// reworked returns the steps that are worked again after a correction
// (semantics rule 28).
func (ix *index) reworked(c *procedures.Correction) []*procedures.Step {
	again := map[*procedures.Step]bool{}
	var add func(s *procedures.Step)
	add = func(s *procedures.Step) {
		if s == nil || s.Lasting || again[s] {
			return
		}
		again[s] = true
		for _, n := range s.Needs {
			add(n)
		}
	}
	for _, g := range ix.gates {
		if !concerns(c, g) {
			continue
		}
		for _, r := range ix.feeding(g) {
			add(r.Step)
		}
	}
	var out []*procedures.Step
	for _, s := range ix.p.Steps {
		if again[s] {
			out = append(out, s)
		}
	}
	return out
}

// concerns tells whether a correction is named by a gate or disturbs it.
func concerns(c *procedures.Correction, g *procedures.Gate) bool {
	for _, w := range g.IfFailed {
		if w.Correction == c {
			return true
		}
	}
	for _, t := range c.Disturbs {
		if t.Gate == g {
			return true
		}
	}
	return false
}

// working counts the prompts of one working of a step, all rounds.
func (ix *index) working(w *world, s *procedures.Step) int {
	once := len(s.Cautions)
	if s.HoldPoint != nil {
		once++
	}
	if s.Spindle != procedures.AnySpindle {
		once++
	}
	e := firstKeys(w, s)
	round := 0
	if len(s.Do) > 0 {
		round++
	}
	for _, item := range s.Items {
		round = plus(round, ix.prompts(w, item, e))
	}
	return plus(once, times(round, keyCount(w, s.Each, w.env())))
}

func (ix *index) prompts(w *world, item procedures.Item, e env) int {
	switch x := item.(type) {
	case *procedures.Confirm:
		return 1
	case *procedures.Wait:
		n := 1
		if x.Until != nil {
			n += 1 + x.Until.Takes
		}
		return n
	case *procedures.Reading:
		return ix.valuesOf(w, x, e)
	case *procedures.Gate:
		again := 1
		for _, r := range ix.feeding(x) {
			rounds := 1
			if r.Step != nil {
				rounds = keyCount(w, r.Step.Each, w.env())
			}
			again = plus(again, times(rounds, ix.valuesOf(w, r, firstKeys(w, r.Step))))
		}
		return plus(1, times(2, again))
	}
	return 0
}

// valuesOf counts the values of a reading in one round.
func (ix *index) valuesOf(w *world, x *procedures.Reading, e env) int {
	n := times(keyCount(w, x.Each, e), times(placeCount(x, w, e), max(1, x.Repeat)))
	if x.BothWays {
		n = times(2, n)
	}
	if x.Closure != nil {
		n = plus(n, max(1, x.Repeat))
	}
	if x.Nudge != nil {
		n++
	}
	if x.Closure != nil {
		n = times(4, n) // voided three times
		n++             // and gone on with a reason
	}
	return n
}
