package engine

import (
	"slices"

	"waywright/checks/value"
	"waywright/procedures"
)

// Givens returns the facts of the run that were asked once.
func (s *State) Givens() []Fact {
	var out []Fact
	for _, g := range s.plan.proc.Givens {
		combos, _ := s.combos(g.Each, s.env())
		for _, keys := range combos {
			id := address(g.Name, keys...)
			f := s.facts[id]
			if f == nil {
				continue
			}
			t := f.takes[len(f.takes)-1]
			e := s.env().bindAll(g.Each, keys)
			title := words(g.Ask, e)
			if title == "" {
				title = words(g.Title, e)
			}
			fact := Fact{Stamp: Stamp{t.n, t.at, t.by, t.reason}, Name: id, Title: title, Keys: keys, Unit: g.Unit,
				Value: s.env().element(id, base(g.Type), f.takes[len(f.takes)-1:], leaf{given: g}), From: t.from, Exact: g.With == nil && t.u == 0, U: coverage(t.dof) * t.u, Instrument: s.inHandAt(g.With, t.n)}
			for i, tk := range f.takes {
				fact.Takes = append(fact.Takes, s.takeRecord(tk, i+1))
			}
			out = append(out, fact)
		}
	}
	return out
}

// Confirms returns the confirmations and the work reported done, stale ones
// too.
func (s *State) Confirms() []Fact {
	var out []Fact
	for i, st := range s.plan.proc.Steps {
		for _, round := range s.rounds(st) {
			e := s.env().in(st, round)
			place := Place{N: i + 1, Of: len(s.plan.proc.Steps), Name: st.Name, Title: words(st.Title, e), Keys: round}
			for _, it := range st.Items {
				if c, ok := it.(*procedures.Confirm); ok {
					out = append(out, s.wordFacts(address(c.Name, round...), words(c.Ask, e), place, st)...)
				}
			}
			out = append(out, s.wordFacts(address(st.Name, round...), words(st.Title, e)+": done", place, st)...)
		}
	}
	slices.SortStableFunc(out, func(a, b Fact) int { return a.N - b.N })
	return out
}

func (s *State) wordFacts(id, title string, p Place, st *procedures.Step) []Fact {
	f := s.facts[id]
	if f == nil {
		return nil
	}
	var out []Fact
	for _, t := range f.takes {
		fact := Fact{Stamp: Stamp{t.n, t.at, t.by, t.reason}, Name: id, Title: title, Step: p, Keys: p.Keys, Value: value.Str(t.word),
			Takes: []TakeRecord{s.takeRecord(t, 1)}, Exact: true, Stale: t.work != s.work[st.Name]}
		for _, sp := range s.spoils {
			if fact.Stale && sp.step == st && sp.work == t.work {
				fact.Why = sp.why
			}
		}
		out = append(out, fact)
	}
	return out
}
