package engine

import (
	"waywright/procedures"
	"waywright/procedures/formula"
)

// straightResults finds the results that are not there as long as one of the
// readings that feed them is not whole, whatever was read.
func (pl *Plan) straightResults() {
	for name, it := range pl.items {
		if res, ok := it.(*procedures.Result); ok && pl.straight(res, map[string]bool{}) {
			pl.straights[name] = true
		}
	}
}

func (pl *Plan) straight(res *procedures.Result, seen map[string]bool) bool {
	if seen[res.Name] {
		return true
	}
	seen[res.Name] = true
	whole := func(r formula.Ref) bool {
		rd, ok := pl.items[r.Name].(*procedures.Reading)
		return r.Space == formula.Given || ok && r.Space == formula.Reading && (r.Round || len(rd.Step.Each) == 0)
	}
	if res.Step.When != nil || !res.Value.Straight(whole) {
		return false
	}
	for _, r := range res.Value.Refs() {
		switch it := pl.items[r.Name].(type) {
		case *procedures.Reading:
			if r.Space == formula.Reading && (it.When != nil || it.Step.When != nil) {
				return false
			}
		case *procedures.Result:
			if r.Space == formula.Result && !pl.straight(it, seen) {
				return false
			}
		}
	}
	return true
}

// lacking tells of a result for sure that it cannot be worked out yet, without
// trying. Nobody who reads a run waits for that, so it is only asked where
// nobody does.
func (s *State) lacking(res *procedures.Result) bool {
	if !s.plan.unread || !s.plan.straights[res.Name] {
		return false
	}
	for _, r := range s.plan.feeds[res.Name] {
		for _, round := range s.rounds(r.Step) {
			if !s.whole(r, round) {
				return true
			}
		}
	}
	return false
}
