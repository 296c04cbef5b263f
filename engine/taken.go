package engine

import (
	"cmp"
	"slices"
	"time"

	"waywright/procedures/formula"
)

// TakenValue is a value of an accepted run with the time at which it was taken
// over.
type TakenValue struct {
	AcceptedValue
	At time.Time
}

// Taken returns the values of accepted runs of other procedures that stand in
// answers of this one, as they were when they were taken over (semantics rule
// 45).
func (s *State) Taken() []TakenValue {
	var known []offering // oldest first
	s.lasting(func(ev Event) {
		var found []AcceptedValue
		switch d := ev.Data.(type) {
		case Begun:
			found = d.Accepted
		case Found:
			found = d.Accepted
		}
		for _, a := range found {
			known = append(known, offering{a, ev.N})
		}
	})
	var out []TakenValue
	for _, g := range s.plan.proc.Givens {
		if g.From == nil {
			continue
		}
		combos, _ := s.combos(g.Each, s.env())
		for _, keys := range combos {
			if f := s.facts[address(g.Name, keys...)]; f != nil {
				t := f.takes[len(f.takes)-1]
				if n := len(t.amends); n > 0 { // taken over anew
					t.n, t.at = t.amends[n-1].n, t.amends[n-1].at
				}
				out = append(out, takenBy(t, g.From.Refs(), known)...)
			}
		}
	}
	slices.SortFunc(out, func(a, b TakenValue) int {
		return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.Run, b.Run), a.At.Compare(b.At))
	})
	return slices.Compact(out)
}

// offering is a value with the event from which on it was offered.
type offering struct {
	AcceptedValue
	n int
}

// takenBy returns what an answer took over; nothing, where it was typed or
// comes from elsewhere.
func takenBy(t take, refs []formula.Ref, known []offering) (out []TakenValue) {
	said := false
	for _, r := range refs {
		i := -1
		for k, a := range known {
			if r.Space == formula.Accepted && a.Name == r.Name && a.n < t.n {
				i = k
			}
		}
		if i >= 0 {
			out = append(out, TakenValue{known[i].AcceptedValue, t.at})
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
