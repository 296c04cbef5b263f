package vet

import (
	"slices"

	"waywright/procedures"
	"waywright/procedures/formula"
)

// index finds the parts of a procedure by name, and what uses what.
type index struct {
	p        *procedures.Procedure
	givens   map[string]*procedures.Given
	readings map[string]*procedures.Reading
	results  map[string]*procedures.Result
	gates    []*procedures.Gate // as written
	used     map[formula.Ref]bool
	budget   int // evaluations of gates that are left
	known    Circumstances

	machineBudget int // readings of perfect machines that are left; none where they are not asked for
}

// gateBudget bounds how often the gates of a procedure are evaluated for
// their pass zones. The largest procedure that ships takes some three
// thousand.
const gateBudget = 30000

// machineBudget bounds how many readings of perfect machines are made up. It is
// about a second's worth.
const machineBudget = 500_000

func newIndex(p *procedures.Procedure) *index {
	ix := &index{
		p: p, givens: map[string]*procedures.Given{}, readings: map[string]*procedures.Reading{},
		results: map[string]*procedures.Result{}, used: map[formula.Ref]bool{}, budget: gateBudget,
	}
	for _, g := range p.Givens {
		ix.givens[g.Name] = g
	}
	for _, s := range p.Steps {
		for _, item := range s.Items {
			switch x := item.(type) {
			case *procedures.Reading:
				ix.readings[x.Name] = x
			case *procedures.Result:
				ix.results[x.Name] = x
			case *procedures.Gate:
				ix.gates = append(ix.gates, x)
			}
		}
	}
	for _, prog := range programs(p) {
		for _, r := range prog.Refs() {
			ix.used[formula.Ref{Space: r.Space, Name: r.Name}] = true
		}
	}
	return ix
}

// limits are the programs that say what a gate allows.
func limits(g *procedures.Gate) []*formula.Program {
	return compact(g.Within, g.AtMost, g.AtLeast)
}

// judged are the programs that a gate is decided from.
func judged(g *procedures.Gate) []*formula.Program {
	return append(compact(g.Of, g.Holds), limits(g)...)
}

func compact(ps ...*formula.Program) []*formula.Program {
	return slices.DeleteFunc(slices.Clone(ps), func(p *formula.Program) bool { return p == nil })
}

// programs are all formulas, conditions and texts of a procedure, its
// rehearsals apart.
func programs(p *procedures.Procedure) []*formula.Program {
	var out []*formula.Program
	add := func(ps ...*formula.Program) { out = append(out, compact(ps...)...) }
	each := func(es []*procedures.Each) {
		for _, e := range es {
			add(e.Of)
		}
	}
	for _, g := range p.Givens {
		each(g.Each)
		add(g.Title, g.Ask, g.When, g.From, g.Range[0], g.Range[1])
	}
	for _, s := range p.Steps {
		each(s.Each)
		add(s.Title, s.When)
		add(s.Tools...)
		add(s.Do...)
		for _, item := range s.Items {
			add(itemPrograms(item)...)
			if r, ok := item.(*procedures.Reading); ok {
				each(r.Each)
			}
		}
	}
	for _, c := range p.Corrections {
		add(c.Title, c.When, c.Amount, c.Positive, c.Negative, c.Ledger)
		add(c.Do...)
		if c.Moved != nil {
			add(c.Moved.Ask)
		}
		if c.Should != nil {
			add(c.Should.By)
		}
	}
	return out
}

func itemPrograms(item procedures.Item) []*formula.Program {
	switch x := item.(type) {
	case *procedures.Confirm:
		return compact(x.Ask)
	case *procedures.Wait:
		out := compact(x.Why, x.AtLeast)
		if x.Until != nil {
			out = append(out, compact(x.Until.Ask, x.Until.Every, x.Until.Agree)...)
		}
		return out
	case *procedures.Reading:
		return compact(x.Ask, x.When, x.Along, x.Around, x.Closure, x.Nudge, x.Positive, x.Range[0], x.Range[1])
	case *procedures.Result:
		return compact(x.Title, x.Value, x.Positive)
	case *procedures.Gate:
		return append(compact(x.Title), judged(x)...)
	}
	return nil
}

// reach returns all names that programs use, through results, ranges and
// conditions too.
func (ix *index) reach(ps ...*formula.Program) map[formula.Ref]bool {
	seen := map[formula.Ref]bool{}
	var walk func(p *formula.Program)
	walk = func(p *formula.Program) {
		if p == nil {
			return
		}
		for _, r := range p.Refs() {
			r.Round = false
			if seen[r] {
				continue
			}
			seen[r] = true
			switch r.Space {
			case formula.Result:
				if x := ix.results[r.Name]; x != nil {
					walk(x.Value)
				}
			case formula.Reading:
				if x := ix.readings[r.Name]; x != nil {
					for _, q := range []*formula.Program{x.When, x.Along, x.Around, x.Range[0], x.Range[1]} {
						walk(q)
					}
				}
			case formula.Given:
				if x := ix.givens[r.Name]; x != nil {
					walk(x.Range[0])
					walk(x.Range[1])
				}
			}
		}
	}
	for _, p := range ps {
		walk(p)
	}
	return seen
}

// inputs returns what programs are worked out from: results are gone
// through, ranges are not, since a plausible range is no input.
func (ix *index) inputs(ps ...*formula.Program) map[formula.Ref]bool {
	seen := map[formula.Ref]bool{}
	var walk func(p *formula.Program)
	walk = func(p *formula.Program) {
		if p == nil {
			return
		}
		for _, r := range p.Refs() {
			r.Round = false
			if seen[r] {
				continue
			}
			seen[r] = true
			if x := ix.results[r.Name]; r.Space == formula.Result && x != nil {
				walk(x.Value)
			}
			if x := ix.readings[r.Name]; r.Space == formula.Reading && x != nil {
				walk(x.When)
			}
		}
	}
	for _, p := range ps {
		walk(p)
	}
	return seen
}

// feeding returns the readings from which a gate is decided, as written.
func (ix *index) feeding(g *procedures.Gate) []*procedures.Reading {
	in := ix.inputs(judged(g)...)
	var out []*procedures.Reading
	for _, s := range ix.p.Steps {
		for _, item := range s.Items {
			if r, ok := item.(*procedures.Reading); ok && in[formula.Ref{Space: formula.Reading, Name: r.Name}] {
				out = append(out, r)
			}
		}
	}
	return out
}

// givensOf returns the givens that have a range or a choice and that some
// programs depend on, as written.
func (ix *index) givensOf(ps ...*formula.Program) []string {
	in := ix.reach(ps...)
	var out []string
	for _, g := range ix.p.Givens {
		if in[formula.Ref{Space: formula.Given, Name: g.Name}] && (g.Range[0] != nil || len(g.Choose) > 0) {
			out = append(out, g.Name)
		}
	}
	return out
}

// bounded tells whether everything that programs depend on has a range, so
// that what they give in a made-up world says something.
func (ix *index) bounded(ps ...*formula.Program) bool {
	for r := range ix.reach(ps...) {
		switch r.Space {
		case formula.Given:
			if g := ix.givens[r.Name]; g == nil || g.Unit != nil && g.Range[0] == nil || g.Count && g.Range[0] == nil {
				return false
			}
		case formula.Reading:
			if x := ix.readings[r.Name]; x == nil || x.Unit != nil && x.Range[0] == nil {
				return false
			}
		case formula.Machine, formula.Accepted:
			return false
		}
	}
	return true
}

// cells counts the values of a reading, all keys, stations and takes of one
// working of its step included, at the upper ends of the ranges.
func (ix *index) cells(w *world, x *procedures.Reading) int {
	n := 1
	if x.Step != nil {
		n = times(n, keyCount(w, x.Step.Each, w.env()))
	}
	e := firstKeys(w, x.Step)
	n = times(n, keyCount(w, x.Each, e))
	return times(n, placeCount(x, w, e))
}

// keyCount multiplies the numbers of keys. What cannot be worked out counts
// as one.
func keyCount(w *world, each []*procedures.Each, e env) int {
	n := 1
	for _, x := range each {
		ks, ok := keys(x, e)
		if !ok || len(ks) == 0 {
			continue
		}
		n = times(n, len(ks))
		e = e.with(x, ks[0])
	}
	return n
}

// firstKeys is the environment of the first round of a step.
func firstKeys(w *world, s *procedures.Step) env {
	e := w.env()
	if s == nil {
		return e
	}
	for _, x := range s.Each {
		if ks, ok := keys(x, e); ok && len(ks) > 0 {
			e = e.with(x, ks[0])
			e.round = append(e.round, keyText(ks[0]))
		}
	}
	return e
}

// placeCount is the largest number of stations or angles over the keys of a
// reading.
func placeCount(x *procedures.Reading, w *world, e env) int {
	most := 1
	var walk func(each []*procedures.Each, e env)
	left := 500
	walk = func(each []*procedures.Each, e env) {
		if left--; left < 0 {
			return
		}
		if len(each) == 0 {
			at, _, _ := places(x, e)
			most = max(most, len(at))
			return
		}
		ks, _ := keys(each[0], e)
		for _, k := range ks {
			walk(each[1:], e.with(each[0], k))
		}
	}
	walk(x.Each, e)
	return most
}

const manyPrompts = 1 << 40 // what is larger is not counted further

func times(a, b int) int {
	if a != 0 && b > manyPrompts/a {
		return manyPrompts
	}
	return a * b
}

func plus(a ...int) int {
	n := 0
	for _, x := range a {
		n = min(manyPrompts, n+x)
	}
	return n
}
