package engine

import (
	"math"
	"slices"

	"waywright/checks"
	"waywright/checks/value"
	"waywright/procedures"
)

// lapse lets go what no longer holds after an event: facts of steps that do
// not apply any more, choices whose ground has moved, and signatures under
// what was changed.
func (s *State) lapse(ev Event) {
	s.lapseSteps()
	for _, g := range s.plan.gates() {
		for _, round := range s.rounds(g.Step) {
			name := address(g.Name, round...)
			if ch := s.chosen[name]; ch != nil && !s.choiceHolds(ch, g, round) {
				delete(s.chosen, name)
			}
		}
	}
	switch ev.Data.(type) {
	case Amended, Disturbed:
		s.signed = nil
	}
}

// lapseSteps makes stale what was kept in a step whose condition has turned
// false: it is asked again if it turns true (semantics rule 24). A condition
// knows no keys: it holds for all rounds or for none.
func (s *State) lapseSteps() {
	for _, st := range s.plan.proc.Steps {
		if st.When == nil || !s.begunOn(st) {
			continue
		}
		if w := st.When.Eval(s.env().in(st, nil)); w.State == value.Present && !w.Truth {
			s.spoil([]*procedures.Step{st}, "the step no longer applied")
		}
	}
}

// choiceHolds reports whether a correction that was chosen and not yet
// reported is still the thing to do: its gate does not pass, and its amount
// has not moved by more than its U (semantics rule 43).
func (s *State) choiceHolds(ch *choice, g *procedures.Gate, round []string) bool {
	if slices.Equal(ch.feeding, s.feeding(g, round)) {
		return true
	}
	switch j := s.judge(g, round); j.Verdict {
	case checks.Open:
		return true // it is being read again; then it is judged
	case checks.Pass, checks.NotApplied, checks.NotMeasured:
		return false
	}
	a := &s.attempts[ch.attempt]
	if a.corr.Amount == nil {
		return true
	}
	est, ok := s.estimate(subject{name: "amount." + a.corr.Name, of: a.corr.Amount, step: g.Step, round: round})
	if !ok || len(est.of) != len(a.own) {
		return false
	}
	for i, e := range est.e {
		if e.Undefined() || math.Abs(e.Value-a.own[i]) > e.U {
			return false
		}
	}
	return true
}

// lapsed tells what no longer holds: choices, concessions and signatures.
func lapsed(before, after *State) []Notice {
	var out []Notice
	for _, g := range after.plan.gates() {
		for _, round := range after.rounds(g.Step) {
			name := address(g.Name, round...)
			// One that was taken back is not there any more.
			if ch := before.chosen[name]; ch != nil && after.chosen[name] == nil && ch.attempt < len(after.attempts) && after.attempts[ch.attempt].reported == 0 {
				out = append(out, Notice{Kind: Lapsed, Name: name, Text: "What was chosen no longer holds: " + before.attempts[ch.attempt].title + "."})
			}
			if before.concession(name) != nil && after.concession(name) == nil {
				out = append(out, Notice{Kind: Lapsed, Name: name, Text: "The concession no longer holds: what it was asked for has changed."})
			}
		}
	}
	if n := len(before.signed); n > 0 && len(after.signed) == 0 {
		out = append(out, Notice{Kind: Lapsed, Text: "What was signed has changed. It is signed again at the end."})
	}
	return out
}
