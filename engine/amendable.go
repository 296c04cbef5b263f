package engine

import (
	"slices"

	"waywright/procedures"
)

// Kept is an answer that may be amended.
type KeptAnswer struct {
	Name  string // as amend takes it
	Take  int    // from 1; 0 where there is one only
	Ask   string
	Value string // as it reads now
	N     int    // event
}

// Amendable returns the last answers that count and may be amended, the
// latest first, most of them at the most.
func (s *State) Amendable(most int) []KeptAnswer {
	var out []KeptAnswer
	for id, f := range s.facts {
		first, _ := cut(id)
		q, ok := s.asked(id)
		if !ok {
			continue
		}
		var st *procedures.Step
		if st = s.plan.stepOf[first]; st == nil && s.plan.givens[first] == nil {
			continue
		}
		number := map[part]int{}
		for _, t := range f.takes {
			if t.void != "" || st != nil && t.work != s.work[st.Name] {
				continue
			}
			number[t.part]++
			name := id
			if t.part != going {
				name += "." + string(t.part)
			}
			k := KeptAnswer{Name: name, Take: number[t.part], Ask: q.Ask, N: t.n, Value: t.word}
			if t.typed.Unit != "" {
				k.Value = s.inUnit(id, t.typed)
			}
			out = append(out, k)
		}
	}
	slices.SortFunc(out, func(a, b KeptAnswer) int {
		if a.N != b.N {
			return b.N - a.N
		}
		return b.Take - a.Take
	})
	return out[:min(most, len(out))]
}
