package engine

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waywright/checks/pattern"
	"waywright/procedures"
)

// rare is the probability of noise below which a pattern in readings is told. It
// is looked for at every gate, in every set, so it is well below that of a
// single test;
// and more must be so besides: each place must fall, or differ the same way.
const rare = 0.005

// readAt are the takes of one place on one passage, in the order of taking.
type readAt struct {
	id    string
	part  part
	place place
	takes []take
}

func (p readAt) values() []float64 {
	out := make([]float64, len(p.takes))
	for i, t := range p.takes {
		out[i] = t.value
	}
	return out
}

// readPlaces returns the takes of the first pass of a reading, place by place in the
// order of taking: those that count, or of the set that was voided by an event.
func (s *State) readPlaces(r *procedures.Reading, round []string, voidN int) []readAt {
	places, _ := s.places(r, round)
	var out []readAt
	for _, p := range places {
		id := p.element(r)
		f := s.facts[id]
		if f == nil || p.pass != 0 {
			continue
		}
		at := readAt{id: id, part: p.part, place: p}
		for _, t := range f.takes {
			if t.part != p.part || t.pass != 0 || t.voidN != voidN {
				continue
			}
			if voidN != 0 || t.void == "" && t.work == s.work[r.Step.Name] {
				at.takes = append(at.takes, t)
			}
		}
		if len(at.takes) > 0 {
			out = append(out, at)
		}
	}
	return out
}

// suspectReading looks at one set of readings.
func (s *State) suspectReading(r *procedures.Reading, round []string, voidN int) []Suspicion {
	read := s.readPlaces(r, round, voidN)
	sd, dof, step := s.scatterOf(r)
	if len(read) == 0 || sd == 0 {
		return nil
	}
	var out []Suspicion
	if sus, ok := s.suspectFall(r, read, sd, dof); ok {
		out = append(out, sus)
	}
	if sus, ok := s.suspectReversal(r, read, sd, dof, step); ok {
		out = append(out, sus)
	}
	if voidN == 0 {
		if sus, ok := s.suspectCopy(r, round, read, sd, step); ok {
			out = append(out, sus)
		}
	}
	return out
}

// suspectFall looks for sizes that fall with every take: a part that cools, or a
// hand that presses.
func (s *State) suspectFall(r *procedures.Reading, read []readAt, sd, dof float64) (Suspicion, bool) {
	if !s.inHand(r.With).absolute || read[0].part != going || len(read) < 2 && len(read[0].takes) < 5 {
		return Suspicion{}, false
	}
	var places []pattern.Place
	order := 0
	for _, p := range read {
		if p.part == again {
			if p.id == read[0].id {
				places[0].Again, places[0].AgainOrder = p.takes[0].value, order
			}
			continue
		}
		at := pattern.Place{Y: p.values(), Again: math.NaN()}
		for range p.takes {
			at.Order = append(at.Order, order)
			order++
		}
		places = append(places, at)
	}
	f, cause := pattern.Falls(places, sd, dof, rare)
	if cause == pattern.NoFall {
		return Suspicion{}, false
	}
	sus := Suspicion{Kind: Falling, Name: r.Name, First: true, ByNoise: byNoise(f.P),
		Said: s.fallSaid(r, places),
		Mend: "Wait until two readings five minutes apart agree, use the ratchet, and read again."}
	switch cause {
	case pattern.Cooling:
		sus.Kind = Cooling
		sus.Said += fmt.Sprintf(" The first place, read once more at the end, reads %s less than at first: the part is still cooling.", s.shownIn(r, fell(places[0], places[0].Again)))
		sus.Mend = "Wait until two readings five minutes apart agree, then read again."
	case pattern.Pressed:
		sus.Kind = Pressing
		sus.Said += " The first place read as at first when it was read once more: the hand pressed harder with every take."
		sus.Mend = "Use the ratchet, and read again."
	default:
		sus.Said += " The part is still cooling, or the hand pressed harder with every take."
	}
	return sus, true
}

// fallSaid says how the takes of each place fall: by so much from one to the next.
func (s *State) fallSaid(r *procedures.Reading, places []pattern.Place) string {
	sum, n := 0.0, 0
	for _, p := range places {
		sum += fell(p, p.Y[len(p.Y)-1])
		n += len(p.Y) - 1
	}
	where := "The takes fall"
	if len(places) > 1 {
		where = "At every place the takes fall"
	}
	return fmt.Sprintf("%s, by %s from one to the next on the mean.", where, s.shownIn(r, sum/float64(n)))
}

// fell is by how much a place reads less than at its first take.
func fell(p pattern.Place, now float64) float64 { return now - p.Y[0] }

// byNoise says a probability as a person would.
func byNoise(p float64) string {
	if p < 1e-4 {
		return "by chance in less than 1 of 10000"
	}
	return fmt.Sprintf("by chance in 1 of %.0f", 1/p)
}

// suspectReversal compares the way back with the way out.
func (s *State) suspectReversal(r *procedures.Reading, read []readAt, sd, dof, step float64) (Suspicion, bool) {
	if !r.BothWays {
		return Suspicion{}, false
	}
	var outward, homeward []float64
	for i, p := range read {
		if p.part != going || i+1 < len(read) && read[i+1].part == back {
			continue // where it turns, both are read at one go
		}
		k := slices.IndexFunc(read, func(q readAt) bool { return q.part == back && q.id == p.id })
		if k < 0 {
			return Suspicion{}, false
		}
		outward, homeward = append(outward, meanOf(p.takes)), append(homeward, meanOf(read[k].takes))
	}
	gap, p := pattern.Reversal(outward, homeward, sd, dof)
	if p > rare || math.Abs(gap) < 1.5*step {
		return Suspicion{}, false
	}
	return Suspicion{Kind: Backlash, Name: r.Name, ByNoise: byNoise(p),
		Said: fmt.Sprintf("On the way back every place reads otherwise, by %s on the mean: something has play, or sticks.", s.shownIn(r, gap)),
		Mend: "Come up to every place from the same side, or find the play."}, true
}

// screws are the keys by which one thing after another is tightened.
var screws = []string{"screw", "bolt", "nut", "stud"}

// suspectScrews looks for the one of several screws that makes the shift.
func (s *State) suspectScrews(r *procedures.Reading, round []string) []Suspicion {
	i := slices.IndexFunc(r.Each, func(e *procedures.Each) bool { return slices.Contains(screws, e.Name) })
	if i < 0 || s.inHand(r.With).absolute {
		return nil
	}
	sd, _, _ := s.scatterOf(r)
	var keys []string
	last := map[string]float64{} // as it reads when a screw is tight
	for _, p := range s.readPlaces(r, round, 0) {
		if p.part != going {
			continue
		}
		key := p.place.keys[len(round)+i]
		if !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
		last[key] = meanOf(p.takes)
	}
	changes := make([]float64, len(keys))
	was := 0.0
	for k, key := range keys {
		changes[k], was = last[key]-was, last[key]
	}
	which, share, ok := pattern.Puller(changes, sd)
	if !ok || sd == 0 {
		return nil
	}
	return []Suspicion{{Kind: Pulling, Name: r.Name, ByNoise: "held against the doubt of the readings",
		Said: fmt.Sprintf("%s %s makes %s of the shift, %.0f %%.", strings.ToUpper(r.Each[i].Name[:1])+r.Each[i].Name[1:], keys[which], s.shownIn(r, changes[which]), 100*math.Min(share, 9.99)),
		Mend: fmt.Sprintf("Look at the pad under %s %s. Tighten in another order and see whether it is the same one.", r.Each[i].Name, keys[which])}}
}
