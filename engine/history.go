package engine

import (
	"fmt"
	"slices"

	"waywright/checks"
	"waywright/procedures"
)

// feedTakes lists the events of the readings that a gate stands on.
func (s *State) feedTakes(g *procedures.Gate) []int {
	var out []int
	for _, r := range s.plan.feeds[g.Name] {
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

func feedKey(ns []int) string { return fmt.Sprint(ns) }

// setIDs lists the reading sets a gate stands on.
func (s *State) setIDs(g *procedures.Gate) []string {
	var out []string
	for _, r := range s.plan.feeds[g.Name] {
		for _, set := range s.setsOf(r) {
			if set.State == "used" {
				out = append(out, set.ID)
			}
		}
	}
	return out
}

// History returns the judgements of a gate, oldest first: one for each time
// that its inputs were whole.
func (s *State) History(gate string) []Attempt {
	var out []Attempt
	t := New(s.plan)
	t.gone = s.gone
	prev := ""
	for _, ev := range s.events {
		if _, ok := ev.Data.(Withdrawn); ok || s.gone[ev.N] != 0 {
			t.events = append(t.events, ev)
			continue
		}
		u := t.clone()
		if err := u.apply(ev); err != nil {
			return out
		}
		t = u
		g, round, ok := t.gateAt(gate)
		if !ok {
			continue
		}
		j := t.judge(g, round)
		key := feedKey(t.feedTakes(g))
		switch {
		case j.Verdict == checks.Open:
			if n := len(out); n > 0 && out[n-1].Ended == "" && key != prev {
				out[n-1].Stands, out[n-1].Ended = false, t.lastSpoil()
			}
		case key != prev:
			if n := len(out); n > 0 && out[n-1].Stands {
				out[n-1].Stands, out[n-1].Ended = false, "further takes"
			}
			out = append(out, Attempt{Judgement: j, At: stamp(ev, ""), Working: t.setIDs(g), Stands: true})
			prev = key
		default:
			out[len(out)-1].Judgement = j // an amendment or a concession
		}
		if c, ok := ev.Data.(Chosen); ok && c.Gate == gate && len(out) > 0 {
			out[len(out)-1].Chosen, out[len(out)-1].ChosenAt = &c, stamp(ev, c.Reason)
		}
	}
	s.addCorrections(gate, out)
	return out
}

func (s *State) lastSpoil() string {
	if n := len(s.spoils); n > 0 {
		return s.spoils[n-1].why
	}
	return "read again"
}

// addCorrections joins what was chosen at each attempt with what became of it.
func (s *State) addCorrections(gate string, out []Attempt) {
	for i := range s.attempts {
		a := &s.attempts[i]
		for k := range out {
			if a.gate == gate && out[k].ChosenAt.N == a.chosen && a.reported != 0 {
				out[k].Correction = s.attempted(a)
			}
		}
	}
}

func (s *State) attempted(a *attempt) *Attempted {
	ad := s.adviceOf(a)
	t := &Attempted{
		Correction: a.corr, Title: ad.Title, Do: ad.Do, N: a.number, HasAmount: ad.HasAmount, Planned: a.amount(),
		PlannedWay: ad.Direction, At: a.stations, Amounts: a.planned, Gain: a.gain, Response: s.response(a),
		Disturbed: append(slices.Clip(ad.Spoils), ad.Disturbs...), Report: Stamp{N: a.reported, Time: a.reportedAt, By: a.by},
	}
	for _, m := range a.moves {
		t.Moved = append(t.Moved, Movement{Stamp{N: m.n, Time: m.at, By: m.by}, m.typed.Typed, m.value, a.way(m.value)})
	}
	if a.hasMoved {
		sum := a.moved()
		t.MovedSum, t.MovedWay = &sum, a.way(sum)
	}
	for _, j := range a.judgements {
		t.Judged = append(t.Judged, Judged{Stamp{N: j.n, Time: j.at, By: j.by}, j.MoveJudged})
	}
	return t
}

// Corrections returns every correction that was reported, in order.
func (s *State) Corrections() []Attempted {
	var out []Attempted
	for i := range s.attempts {
		if a := &s.attempts[i]; a.reported != 0 {
			out = append(out, *s.attempted(a))
		}
	}
	return out
}
