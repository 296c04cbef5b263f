package engine

import (
	"fmt"
	"math"

	"waywright/checks/pattern"
	"waywright/checks/quantity"
	"waywright/procedures"
)

// leastCopied and seldom say when takes that are all the same are asked about:
// from five on (common practice), where a hand with the stated scatter reads so
// at most so often. Of places together it is looked for in every step besides, so
// that there it has to be rarer.
const (
	leastCopied = 5
	seldom      = 0.02
)

// copied notices takes of one place that are all the same, where the instrument
// scatters by more than its step; and at the last take of a step places where that
// is so at each of them.
func (s *State) copied(q Question, t quantity.Typed, before []float64, read func() string) *Refusal {
	r, id := s.readingOf(q.Name)
	if r == nil || r.With == nil {
		return nil
	}
	here := append([]float64{t.Value}, before...)
	for _, e := range s.liveParts(id, r) {
		here = append(here, e.raw)
	}
	sd, _, step := s.scatterOf(r)
	sd = math.Sqrt(math.Max(0, sd*sd-step*step/12))
	if sd == 0 || !same(here) {
		return nil
	}
	if len(here) >= leastCopied && len(here) == q.Takes { // else the last one is not there yet, or there are further ones
		if pattern.Same(len(here), sd, step) > seldom {
			return nil
		}
		return &Refusal{Code: "copied", Keep: true, Understood: read(),
			Wrong: fmt.Sprintf("%d takes, all exactly %s. Rare by hand.", len(here), quantity.Format(t.Value, *q.Unit, q.Decimals)),
			Mend:  "Measure again, or keep it if each was measured afresh, and say so."}
	}
	sets, ok := s.sameSets(r, q.Name, here)
	n := 0
	for _, k := range sets {
		n += k
	}
	if p := pattern.SameSets(sets, sd, step); !ok || n < leastCopied || p > rare {
		return nil
	}
	return &Refusal{Code: "copied", Keep: true, Understood: read(),
		Wrong: fmt.Sprintf("%d takes at %d places, and at each place all exactly the same. Rare by hand.", n, len(sets)),
		Mend:  "Measure again, or keep it if each was measured afresh, and say so."}
}

func same(y []float64) bool {
	for _, v := range y {
		if math.Abs(v-y[0]) > 1e-9*math.Max(1, math.Abs(v)) {
			return false
		}
	}
	return true
}

// sameSets counts the takes of each place that an instrument read in one round of
// a step, when the last of them is being answered: here are those of its place. A
// place that is read once more at the end counts once. ok is false before that, where
// a place differs in itself, and where that was said already of one of them.
func (s *State) sameSets(last *procedures.Reading, name string, here []float64) (sets []int, ok bool) {
	round, open, ok := s.findOpen(last, name)
	if !ok || len(open) > 1 || open[0].pass != 0 {
		return nil, false
	}
	for _, it := range last.Step.Items {
		r, is := it.(*procedures.Reading)
		if !is || r.With != last.With || r.Unit == nil || r.Count {
			continue
		}
		more, ok := s.sameSetsOf(r, round, last, open[0].element(last), here)
		if !ok {
			return nil, false
		}
		sets = append(sets, more...)
	}
	return sets, len(sets) > 1
}

// sameSetsOf counts the takes of each place of one reading, as sameSets does.
func (s *State) sameSetsOf(r *procedures.Reading, round []string, last *procedures.Reading, id string, here []float64) (sets []int, ok bool) {
	places, known := s.places(r, round)
	if !known || r.BothWays {
		return nil, false
	}
	want := map[string]int{}
	var order []string
	for _, p := range places {
		if p.pass != 0 {
			continue
		}
		at := p.element(r)
		if want[at] == 0 {
			order = append(order, at)
		}
		want[at] += p.takes
	}
	for _, at := range order {
		var y []float64
		for _, t := range s.live(at, r.Step) {
			if t.odd != "" {
				return nil, false
			}
			y = append(y, t.raw)
		}
		if r == last && at == id {
			y = here
		}
		if len(y) < want[at] || !same(y) {
			return nil, false
		}
		if len(y) > 1 {
			sets = append(sets, len(y))
		}
	}
	return sets, true
}

// suspectCopy compares a set with the one of the working before: values of a
// scattering instrument do not come twice.
func (s *State) suspectCopy(r *procedures.Reading, round []string, read []readAt, sd, step float64) (Suspicion, bool) {
	work := s.work[r.Step.Name]
	n := 0
	for _, p := range read {
		var was []take
		for _, t := range s.facts[p.id].takes {
			if t.work == work-1 && t.part == p.part && t.pass == 0 && t.void == "" {
				was = append(was, t)
			}
		}
		if len(was) != len(p.takes) {
			return Suspicion{}, false
		}
		for i, t := range p.takes {
			if t.raw != was[i].raw {
				return Suspicion{}, false
			}
			n++
		}
	}
	p := math.Pow(pattern.Same(2, math.Sqrt(math.Max(0, sd*sd-step*step/12)), step), float64(n))
	if n < 4 || p > rare {
		return Suspicion{}, false
	}
	return Suspicion{Kind: Copied, Name: r.Name, First: true, ByNoise: byNoise(p),
		Said: fmt.Sprintf("All %d values are those of the time before, figure for figure. By hand that does not happen.", n),
		Mend: "Were they read afresh? Read them again."}, true
}
