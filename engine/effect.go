package engine

import (
	"slices"

	"waywright/checks/response"
	"waywright/checks/value"
	"waywright/procedures"
)

// effects tells, after each event, what the corrections did whose results are
// known again. An amendment of what a correction was told from tells it anew.
func (s *State) effects(ev Event) {
	_, amended := ev.Data.(Amended)
	for i := range s.attempts {
		a := &s.attempts[i]
		if a.reported == 0 || a.corr.Should == nil || !a.hasWas || a.told && !amended {
			continue
		}
		if !a.told && s.lacking(a.corr.Should.Result) {
			continue
		}
		on := s.takesOf(a.corr.Should.Result)
		if a.told && !slices.Equal(on, a.onTakes) || !a.told && !s.takenSince(a, on) {
			continue
		}
		est, ok := s.estimateOf(a.corr.Should.Result)
		if !ok {
			continue
		}
		if !a.told {
			a.cannot = s.between(i, ev.N)
		}
		a.after, a.onTakes, a.told = est, on, true
		s.tell(i)
	}
}

// tell works out what attempt i did, and whether the needle's sign has to be
// tested before another amount is worth offering.
func (s *State) tell(i int) {
	a := &s.attempts[i]
	s.remember(a)
	s.find(a)
	w := a.finding.Word
	doubt := w == response.WrongSign || w == response.Reversed || a.finding.CheckSign || s.twiceWrong(i)
	switch {
	case a.cannot == "" && a.hasMoved && !a.nudged && doubt:
		s.nudgeOpen = i
	case s.nudgeOpen >= 0 && s.nudgeOpen <= i && s.attempts[s.nudgeOpen].corr == a.corr:
		s.nudgeOpen = -1
	}
}

// remember works out what was known before a correction, from the inputs that
// were there when it was chosen, as they read now (semantics rule 37).
func (s *State) remember(a *attempt) {
	if a.corr.Should == nil || !a.hasWas || a.amended == s.amendments {
		return
	}
	a.amended = s.amendments
	then := *s
	then.work, then.extra = a.work, a.extra
	then.forget()
	if est, ok := then.estimateOf(a.corr.Should.Result); ok {
		a.before = est
	}
}

// takesOf lists the events of the takes that a result stands on.
func (s *State) takesOf(res *procedures.Result) []int {
	var out []int
	for _, r := range s.plan.feeds[res.Name] {
		for _, round := range s.rounds(r.Step) {
			for _, id := range s.elements(r, round) {
				for _, t := range s.live(id, r.Step) {
					out = append(out, t.n)
				}
			}
		}
	}
	return out
}

// takenSince reports whether takes are those after a correction: each of a
// step that it spoilt is, but one at least must be.
func (s *State) takenSince(a *attempt, takes []int) bool {
	return slices.ContainsFunc(takes, func(n int) bool { return n > a.reported })
}

// twiceWrong reports whether this attempt and the one before it both went the
// wrong way.
func (s *State) twiceWrong(i int) bool {
	n := 0
	for k := i; k >= 0 && n < 2; k-- {
		a := &s.attempts[k]
		if a.corr != s.attempts[i].corr || !a.told {
			continue
		}
		if a.finding.Word != response.WrongWay || a.nudged {
			return false
		}
		n++
	}
	return n == 2
}

// between tells what else happened between the choice of attempt i and event
// n, so that its effect cannot be told; "" when nothing did.
func (s *State) between(i, n int) string {
	a := &s.attempts[i]
	for k := range s.attempts {
		if b := &s.attempts[k]; k != i && b.reported > a.chosen && b.reported <= n && s.touches(b.corr, a.corr) {
			return "in between: " + b.title
		}
	}
	for _, d := range s.disturbs {
		if d.N > a.chosen && d.N <= n {
			return "in between: " + d.Reason
		}
	}
	return ""
}

// touches reports whether b can have changed the result that a should change:
// whether it spoils a reading that feeds it.
func (s *State) touches(b, a *procedures.Correction) bool {
	spoilt := s.plan.SpoiltBy(b)
	for _, r := range s.plan.feeds[a.Should.Result.Name] {
		if slices.Contains(spoilt, r.Step) {
			return true
		}
	}
	return false
}

// find works out what an attempt did.
func (s *State) find(a *attempt) {
	a.change, _ = compare(weighed{estimate: a.before}, weighed{estimate: a.after})
	planned := 0.
	if done := a.done(); len(done) == 1 {
		planned = done[0]
	}
	in := response.Input{
		Planned: planned, ExpectedPlanned: a.expected,
		Change: a.after.of[0].y - a.before.of[0].y, UChange: a.change.Std,
	}
	if a.hasMoved {
		in.HasMoved, in.Moved, in.UMoved = true, a.moved(), s.uMovement(a)
		in.ExpectedMoved = s.expectedOf(a, in.Moved)
	}
	a.finding = response.Analyse(in)
	a.mistaken = false
	if a.hasMoved {
		_, a.mistaken = s.suspectSwap(a)
	}
	if w := a.finding.Word; !a.change.Shown && (w == response.Better || w == response.Worse) {
		a.finding.Word = response.NoDifference // the doubt of little known scatter is wider than twice its u
	}
}

// expectedOf is the change that a movement should have made. Where what
// should_change is worked out from is stale, it goes by proportion.
func (s *State) expectedOf(a *attempt, moved float64) float64 {
	if g, round, ok := s.gateAt(a.gate); ok {
		if x, ok := s.expectedChange(a.corr, value.Num(moved), g, round); ok {
			return x
		}
	}
	if p := a.amount(); p != 0 {
		return a.expected * moved / p
	}
	return 0
}
