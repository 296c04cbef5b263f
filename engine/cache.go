package engine

import (
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// cache is what a State has worked out of itself. It is dropped whenever
// something that it rests on changes, and is never part of what a run has
// established.
type cache struct {
	memo    map[string]value.Value // results and readings
	rounds  map[*procedures.Step][][]string
	places  map[string]placesOf
	whole   map[string]bool
	judged  map[string]judged
	history map[string][]Attempt
}

type placesOf struct {
	places []place
	ok     bool
}

// judged is a gate's judgement, with the number of the event on which it was
// made.
type judged struct {
	Judgement
	n int
}

// forget drops all that was worked out.
func (s *State) forget() {
	s.cache = cache{
		memo: map[string]value.Value{}, rounds: map[*procedures.Step][][]string{}, places: map[string]placesOf{},
		whole: map[string]bool{}, judged: map[string]judged{},
	}
}

// keepJudgements takes over, after an event, the judgements made before it
// that it cannot have changed.
func (s *State) keepJudgements(was map[string]judged, ev Event, workings int) {
	if len(s.spoils) != workings {
		return
	}
	changed := ""
	switch d := ev.Data.(type) {
	case Answered:
		changed = d.Name
	case Unable:
		changed = d.Name
	case Amended:
		changed = d.Name
	case Cleared, Waited, Noted, Paused, MoveJudged, Signed, Withdrawn:
	default:
		return
	}
	first, _ := cut(changed)
	if _, ok := s.plan.items[first]; changed != "" && !ok && s.plan.steps[first] == nil {
		return // a given or the grade: much may hang on it
	}
	for name, j := range was {
		if !s.plan.standsOn[j.Gate.Name][first] {
			s.judged[name] = j
		}
	}
}

// standsOn lists, for each gate, every reading that can change its judgement:
// what its formulas and texts use at any depth, and what the conditions, keys
// and stations of those use.
func standsOn(pl *Plan) map[string]map[string]bool {
	out := map[string]map[string]bool{}
	for _, g := range pl.gates() {
		seen := map[string]bool{}
		pl.reach(seen, append(gatePrograms(g), g.Title, g.Positive)...)
		pl.reachStep(seen, g.Step)
		out[g.Name] = seen
	}
	return out
}

func (pl *Plan) reach(seen map[string]bool, programs ...*formula.Program) {
	for _, p := range programs {
		if p == nil {
			continue
		}
		for _, r := range p.Refs() {
			if seen[r.Name] || r.Space != formula.Reading && r.Space != formula.Result {
				continue
			}
			switch it := pl.items[r.Name].(type) {
			case *procedures.Reading:
				seen[r.Name] = true
				pl.reach(seen, it.When, it.Along, it.Around, it.Closure)
				pl.reachEach(seen, it.Each)
				pl.reachStep(seen, it.Step)
			case *procedures.Result:
				seen[r.Name] = true
				pl.reach(seen, it.Value)
				pl.reachStep(seen, it.Step)
			}
		}
	}
}

func (pl *Plan) reachStep(seen map[string]bool, st *procedures.Step) {
	pl.reach(seen, st.When)
	pl.reachEach(seen, st.Each)
}

func (pl *Plan) reachEach(seen map[string]bool, each []*procedures.Each) {
	for _, e := range each {
		pl.reach(seen, e.Of)
	}
}
