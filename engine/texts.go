package engine

import (
	"waywright/procedures"
)

// Words returns a text of the procedure as it reads now: with the keys of that
// round of the step, or without keys where st is nil. It is empty where the
// text was not written.
func (s *State) Words(t procedures.Text, st *procedures.Step, round []string) string {
	e := s.env()
	if st != nil && len(st.Each) == len(round) {
		e = e.in(st, round)
	}
	return words(t, e)
}
