package engine

import (
	"maps"
	"slices"
	"time"

	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// cache is what a State has worked out of itself. It is dropped whenever
// something that it rests on changes, and is never part of what a run has
// established.
type cache struct {
	memo    map[string]value.Value // results
	values  map[string]value.Value // readings and givens
	traces  map[string]*traced     // results and readings with what they used
	paths   map[string]map[string][]int
	rounds  map[*procedures.Step][][]string
	places  map[string]placesOf
	combos  map[string]combosOf // keys of readings
	open    map[string]placesOf // of readings, those that want a take
	drifts  map[string]drift
	judged  map[string]judged
	results map[string]estimated
	history map[string][]Attempt
	hands   map[*procedures.Instrument]InHand
	settled int     // how many steps from the first on have nothing to ask, and one for the givens; 0 where that is not known
	passed  int     // the same, where the walk goes on behind gates that can only be conceded or rejected
	asked   *asking // what was asked last; of the answer to it, it is asked again
}

// asking is a question with the time at which it was asked.
type asking struct {
	Question
	at time.Time
}

type placesOf struct {
	places []place
	ok     bool
}

type combosOf struct {
	keys [][]string
	ok   bool
}

// judged is a gate's judgement, with the number of the event on which it was
// made, and what it was made from.
type judged struct {
	Judgement
	n    int
	from weighed
}

// estimated is a result with its sensitivities, if it can be worked out.
type estimated struct {
	estimate
	ok bool
}

// forget drops all that was worked out.
func (s *State) forget() { s.cache = cache{memo: map[string]value.Value{}} }

// put keeps something in a map that is only made when there is something to
// keep.
func put[K comparable, V any](m *map[K]V, k K, v V) {
	if *m == nil {
		*m = map[K]V{}
	}
	(*m)[k] = v
}

// forgetTakes drops what hangs on the takes of a reading; which places there
// are to read seldom does.
func (s *State) forgetTakes(reading string) {
	was := s.cache
	s.forget()
	if s.plan.items[reading] != nil && !s.plan.shaping[reading] {
		s.cache.rounds, s.cache.places, s.cache.combos, s.cache.paths = was.rounds, was.places, was.combos, was.paths
	}
}

// clone copies what was worked out, for a state that is about to change.
func (c cache) clone() cache {
	return cache{
		memo: maps.Clone(c.memo), values: maps.Clone(c.values), traces: maps.Clone(c.traces), paths: maps.Clone(c.paths), rounds: maps.Clone(c.rounds),
		places: maps.Clone(c.places), combos: maps.Clone(c.combos), open: maps.Clone(c.open), drifts: maps.Clone(c.drifts), judged: maps.Clone(c.judged), results: maps.Clone(c.results),
	}
}

// recall takes over, after an event, what was worked out before it and cannot
// have changed by it; workings and extra are how many spoilt workings and
// further takes there were before.
func (s *State) recall(was cache, ev Event, workings, extra int) {
	changed, ok := s.changedBy(ev)
	if !ok || len(s.extra) != extra {
		return
	}
	if _, reported := ev.Data.(Reported); len(s.spoils) != workings && !reported {
		return // what is over by its age breaks sets of other steps too
	}
	hit := s.alsoSpoilt(changed, workings)
	for _, name := range hit {
		if s.plan.shaping[name] {
			return
		}
	}
	was.asked, was.history = nil, nil
	if _, bound := ev.Data.(Bound); bound {
		was.hands = nil
	}
	s.cache = was
	before := s.settledBefore(ev, workings)
	s.cache.settled, s.cache.passed = min(was.settled, before), min(was.passed, before)
	if len(hit) == 0 {
		return
	}
	maps.DeleteFunc(s.judged, func(_ string, j judged) bool { return stands(s.plan.standsOn[j.Gate.Name], hit) })
	maps.DeleteFunc(s.results, func(name string, _ estimated) bool { return stands(s.plan.resultOn[name], hit) })
	maps.DeleteFunc(s.memo, func(key string, _ value.Value) bool { return stands(s.plan.resultOn[nameIn(key)], hit) })
	maps.DeleteFunc(s.traces, func(key string, _ *traced) bool {
		name := nameIn(key)
		return slices.Contains(hit, name) || stands(s.plan.resultOn[name], hit)
	})
	maps.DeleteFunc(s.values, func(key string, _ value.Value) bool { return slices.Contains(hit, nameIn(key)) })
	maps.DeleteFunc(s.cache.open, func(key string, _ placesOf) bool { return slices.Contains(hit, nameIn(key)) })
	maps.DeleteFunc(s.drifts, func(key string, _ drift) bool { return slices.Contains(hit, nameIn(key)) })
}

// stands tells whether any of the names is among what something stands on.
func stands(on map[string]bool, names []string) bool {
	for _, n := range names {
		if on[n] {
			return true
		}
	}
	return false
}

// alsoSpoilt lists the reading that was changed, if any, and those of the steps
// whose working ended since there were so many.
func (s *State) alsoSpoilt(changed string, workings int) []string {
	var out []string
	if changed != "" {
		out = append(out, changed)
	}
	for _, sp := range s.spoils[min(workings, len(s.spoils)):] {
		for _, it := range sp.step.Items {
			if r, ok := it.(*procedures.Reading); ok {
				out = append(out, r.Name)
			}
		}
	}
	return out
}

// settledBefore is how much an event leaves settled that was, counted as in the
// cache: what stands before the step that it answers in, which uses nothing of
// that step (semantics rule 3). What spoils steps may reach any.
func (s *State) settledBefore(ev Event, workings int) int {
	name := ""
	switch d := ev.Data.(type) {
	case Answered:
		name = d.Name
	case Waited:
		name = d.Name
	case Cleared, Noted:
		return len(s.plan.proc.Steps) + 1
	}
	first := nameIn(name)
	st := s.plan.stepOf[first]
	if st == nil {
		st = s.plan.steps[first]
	}
	if st == nil || len(s.spoils) != workings {
		return 0
	}
	return 1 + slices.Index(s.plan.proc.Steps, st)
}

// changedBy returns the reading that an event changed, "" for none; ok is
// false where much may hang on the event.
func (s *State) changedBy(ev Event) (reading string, ok bool) {
	name := ""
	switch d := ev.Data.(type) {
	case Answered:
		name = d.Name
	case Unable:
		name = d.Name
	case Amended:
		name = d.Name
	case Cleared, Waited, Noted, Paused, MoveJudged, Signed, Sealed, Deciding, Issued, Withdrawn, Reported:
		return "", true
	case Bound: // the first one, before anything is read with it
		return "", s.takenUp(s.plan.instruments[d.Name]) == 1
	case Chosen: // a correction moves nothing yet
		return "", s.plan.corrections[d.Way] != nil
	default:
		return "", false
	}
	first := nameIn(name)
	switch s.plan.items[first].(type) {
	case *procedures.Reading:
		return first, true
	case *procedures.Confirm, *procedures.Wait:
		return "", true
	}
	_, done := s.plan.steps[first]
	return "", done // else a given, the grade or a movement
}

// standOn lists, for each gate and result, everything that can change it: what
// its formulas and texts use at any depth, and what the conditions, keys and
// stations of those use.
func (pl *Plan) standOn() {
	for _, st := range pl.proc.Steps {
		for _, it := range st.Items {
			seen := map[string]bool{}
			switch it := it.(type) {
			case *procedures.Gate:
				pl.reach(seen, append(gatePrograms(it), it.Title, it.Positive)...)
				pl.standsOn[it.Name] = seen
			case *procedures.Result:
				pl.reach(seen, it.Value)
				pl.resultOn[it.Name] = seen
			}
			pl.reachStep(seen, st)
			if r, ok := it.(*procedures.Reading); ok {
				pl.reach(pl.shaping, r.When, r.Along, r.Around, r.Closure)
				pl.reachEach(pl.shaping, r.Each)
			}
		}
		pl.reachStep(pl.shaping, st)
	}
}

func (pl *Plan) reach(seen map[string]bool, programs ...*formula.Program) {
	for _, p := range programs {
		if p == nil {
			continue
		}
		for _, r := range p.Inputs() {
			if r.Space == formula.Expansion {
				seen[expansionOf(r)] = true
				continue
			}
			if seen[r.Name] {
				continue
			}
			if g := pl.givens[r.Name]; g != nil && r.Space == formula.Given {
				seen[r.Name] = true
				pl.reach(seen, g.When)
				pl.reachEach(seen, g.Each)
			}
			if r.Space != formula.Reading && r.Space != formula.Result {
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
