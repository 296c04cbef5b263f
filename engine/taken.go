package engine

import (
	"cmp"
	"slices"

	"waywright/procedures/formula"
)

// Taken returns the values of accepted runs of other procedures that stand in
// answers of this one, as they were when they were taken over (semantics rule
// 45).
func (s *State) Taken() []AcceptedValue {
	var known []taken // oldest first
	s.lasting(func(ev Event) {
		var found []AcceptedValue
		switch d := ev.Data.(type) {
		case Begun:
			found = d.Accepted
		case Found:
			found = d.Accepted
		}
		for _, a := range found {
			known = append(known, taken{a, ev.N})
		}
	})
	var out []AcceptedValue
	for _, g := range s.plan.proc.Givens {
		if g.From == nil {
			continue
		}
		combos, _ := s.combos(g.Each, s.env())
		for _, keys := range combos {
			if f := s.facts[address(g.Name, keys...)]; f != nil {
				out = append(out, takenBy(f.takes[len(f.takes)-1], g.From.Refs(), known)...)
			}
		}
	}
	slices.SortFunc(out, func(a, b AcceptedValue) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.Run, b.Run)) })
	return slices.Compact(out)
}

// taken is a value with the event from which on it was known.
type taken struct {
	AcceptedValue
	n int
}

// takenBy returns what an answer took over; nothing, where it was typed or
// comes from elsewhere.
func takenBy(t take, refs []formula.Ref, known []taken) (out []AcceptedValue) {
	said := false
	for _, r := range refs {
		i := -1
		for k, a := range known {
			if r.Space == formula.Accepted && a.Name == r.Name && a.n < t.n {
				i = k
			}
		}
		if i >= 0 {
			out = append(out, known[i].AcceptedValue)
			said = said || known[i].origin() == t.from
		}
	}
	if !said {
		return nil
	}
	return out
}

// origin says where the value comes from, as an answer has it.
func (a AcceptedValue) origin() string { return "run " + a.Run + ", accepted " + a.Day }
