package engine

import (
	"slices"

	"waywright/checks"
	"waywright/procedures"
)

// settledGates tells of gates that got a verdict, each when the walk has come
// to it: one that is settled early is told at its place.
func settledGates(before, after *State) []Notice {
	was, wasAt := map[string]Judgement{}, before.stop()
	for _, j := range before.Judgements() {
		was[j.Name] = j
	}
	var out []Notice
	at := after.stop()
	for _, j := range after.Judgements() {
		old := was[j.Name]
		switch {
		case j.Verdict == checks.Open || after.ahead(j, at):
			continue
		case j.Verdict != old.Verdict:
		case before.ahead(old, wasAt):
			if n, last := before.lastInput(old); !wasAt.after(last) || before.gonePast(old, n) {
				continue // the walk only went back, to something before it
			}
		case j.Verdict != checks.Pass && j.Verdict != checks.Fail || old.Value == j.Value && old.U == j.U:
			continue
		}
		out = append(out, Notice{Kind: Settled, Name: j.Name, Judgement: &j, Change: after.changed(j)})
		if j.Verdict == checks.Pass || j.Gate.Noted() { // else it is said beside the question what is done about it
			for _, x := range after.looks(&j) {
				out = append(out, Notice{Kind: Suspect, Name: x.Name, Suspicion: &x})
			}
		}
	}
	return out
}

// changed holds a judgement against the one before it; nil where it is the
// first, or one of them has no number.
func (s *State) changed(j Judgement) *Change {
	if len(s.spoils) == 0 && len(s.extra) == 0 {
		return nil // nothing was read twice
	}
	h := s.History(j.Name)
	if n := len(h); n > 0 && h[n-1].Stands {
		return h[n-1].Change
	}
	return nil
}

// spot is a place in the walk: the item of a step, in one of its rounds.
type spot struct {
	step, round, item int
}

// stop is the spot at which the walk stands: of the first thing that is not
// settled, before the first step or after the last.
func (s *State) stop() spot {
	if _, ok := s.nextGiven(); ok {
		return spot{step: -1}
	}
	now := s.timeOfLast()
	s.passing = s.onSheet()
	defer func() { s.passing = false }()
	for i, st := range s.plan.proc.Steps {
		for k, round := range s.rounds(st) {
			e := s.env().in(st, round)
			if _, ok := e.applies(st); !ok {
				continue
			}
			if _, item, ok := s.nextInRound(st, round, e, now); ok {
				return spot{i, k, item}
			}
		}
	}
	return spot{step: len(s.plan.proc.Steps)}
}

func (s *State) spotOf(g *procedures.Gate, round []string) spot {
	return spot{
		step:  slices.Index(s.plan.proc.Steps, g.Step),
		round: slices.IndexFunc(s.rounds(g.Step), func(r []string) bool { return slices.Equal(r, round) }),
		item:  slices.Index(g.Step.Items, procedures.Item(g)),
	}
}

func (a spot) after(b spot) bool {
	return slices.Compare([]int{a.step, a.round, a.item}, []int{b.step, b.round, b.item}) > 0
}

// ahead reports whether the walk has not come to a gate yet: something before
// it is still open.
func (s *State) ahead(j Judgement, at spot) bool { return s.spotOf(j.Gate, j.Keys).after(at) }

// lastInput returns the event of the newest take that a gate stands on, and the
// spot at which it was asked for.
func (s *State) lastInput(j Judgement) (n int, at spot) {
	at.step = -1
	for _, r := range s.plan.feeds[j.Gate.Name] {
		for k, round := range s.rounds(r.Step) {
			for _, id := range s.elements(r, round) {
				for _, t := range s.live(id, r.Step) {
					if t.n > n {
						n = t.n
						at = spot{slices.Index(s.plan.proc.Steps, r.Step), k, slices.Index(r.Step.Items, procedures.Item(r))}
					}
				}
			}
		}
	}
	return n, at
}

// gonePast reports whether something behind a gate was answered after event n:
// the walk has been there.
func (s *State) gonePast(j Judgement, n int) bool {
	g := s.spotOf(j.Gate, j.Keys)
	for i, st := range s.plan.proc.Steps {
		for k, round := range s.rounds(st) {
			for m, it := range st.Items {
				if (spot{i, k, m}).after(g) && s.answeredSince(it, round, n) {
					return true
				}
			}
		}
	}
	return false
}

func (s *State) answeredSince(it procedures.Item, round []string, n int) bool {
	var ids []string
	switch it := it.(type) {
	case *procedures.Confirm, *procedures.Wait:
		ids = []string{address(it.ItemName(), round...)}
	case *procedures.Reading:
		ids = s.elements(it, round)
	}
	return slices.ContainsFunc(ids, func(id string) bool {
		f := s.facts[id]
		return f != nil && slices.ContainsFunc(f.takes, func(t take) bool { return t.n > n })
	})
}
