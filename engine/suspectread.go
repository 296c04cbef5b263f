package engine

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waywright/checks"
	"waywright/checks/pattern"
	"waywright/checks/quantity"
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
		Said: fmt.Sprintf("Every take is smaller than the one before, by %s on the mean.", s.shownIn(r, f.PerTake)),
		Mend: "Wait until two readings five minutes apart agree, use the ratchet, and read again."}
	switch cause {
	case pattern.Cooling:
		sus.Kind = Cooling
		sus.Said += " So was the first place when it was read once more: the part is still cooling."
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

// leastCopied and seldom say when takes that are all the same are asked about:
// from five on (common practice), where a hand with the stated scatter reads so
// at most so often.
const (
	leastCopied = 5
	seldom      = 0.02
)

// copied notices takes of one place that are all the same, where the instrument
// scatters by more than its step.
func (s *State) copied(q Question, t quantity.Typed, before []float64, read string) *Refusal {
	r, id := s.readingOf(q.Name)
	if r == nil || r.With == nil || q.Takes < leastCopied {
		return nil
	}
	all := append([]float64{t.Value}, before...)
	for _, e := range s.liveParts(id, r) {
		all = append(all, e.raw)
	}
	if len(all) != q.Takes {
		return nil // the last one is not there yet, or there are further ones
	}
	for _, y := range all {
		if math.Abs(y-t.Value) > 1e-9*math.Max(1, math.Abs(y)) {
			return nil
		}
	}
	sd, _, step := s.scatterOf(r)
	if sd == 0 || pattern.Same(len(all), math.Sqrt(math.Max(0, sd*sd-step*step/12)), step) > seldom {
		return nil
	}
	return &Refusal{Code: "copied", Keep: true, Understood: read,
		Wrong: fmt.Sprintf("%d takes, all exactly %s. Rare by hand.", len(all), quantity.Format(t.Value, *q.Unit, q.Decimals)),
		Mend:  "Measure again, or keep it if each was measured afresh, and say so."}
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

// halves returns pairs of readings half a turn apart, with the place of each
// pair.
func (s *State) halves(r *procedures.Reading, round []string) (pairs [][2]readAt, where []string) {
	read := s.readPlaces(r, round, 0)
	for _, p := range read {
		i := slices.Index(p.place.keys, "0")
		if p.part != going || i < len(round) {
			continue
		}
		half := slices.Clone(p.place.keys)
		half[i] = "180"
		k := slices.IndexFunc(read, func(q readAt) bool {
			return q.part == going && q.place.key == p.place.key && slices.Equal(q.place.keys, half)
		})
		if k < 0 {
			continue
		}
		rest := slices.Delete(slices.Clone(p.place.keys), i, i+1)[len(round):]
		if p.place.key != "" {
			rest = append(rest, p.place.key)
		}
		pairs, where = append(pairs, [2]readAt{p, read[k]}), append(where, strings.Join(rest, ", "))
	}
	return pairs, where
}

// leastRunOut and mostRunOut are what a bar in a chuck, or in a dirty taper, runs
// out by right in front of it: common practice, 0.02 to 0.10 mm and somewhat over.
const leastRunOut, mostRunOut = 0.02, 0.2 // mm

// suspectTurns compares readings half a turn apart with what the gate looks for.
// Where the gate's value is the mean of both, the bar drops out of it, and there is
// nothing to say.
func (s *State) suspectTurns(r *procedures.Reading, round []string, j *Judgement) []Suspicion {
	if r.Unit.Dim != j.Unit.Dim || j.Holds || j.Verdict == checks.NotApplied || j.Verdict == checks.NotMeasured || j.Verdict == checks.Open {
		return nil
	}
	width := j.Hi - j.Lo
	if math.IsInf(width, 0) {
		width = 2 * math.Min(math.Abs(j.Lo), math.Abs(j.Hi))
	}
	sd, _, _ := s.scatterOf(r)
	pairs, where := s.halves(r, round)
	if s.averages(j, pairs) {
		return nil
	}
	var out []Suspicion
	worst, at := 0.0, ""
	for i, p := range pairs {
		d := math.Abs(meanOf(p[0].takes) - meanOf(p[1].takes))
		if d > worst {
			worst, at = d, where[i]
		}
		if d < leastRunOut || d > mostRunOut || !strings.Contains(where[i], "near") {
			continue
		}
		out = append(out, Suspicion{Kind: BadSeat, Name: r.Name, ByNoise: "common practice",
			Said: fmt.Sprintf("Half a turn changes the reading by %s at the near place already: a bar in a chuck does that, or dirt in the taper.", s.shownIn(r, d)),
			Mend: "Wipe the bore and seat the bar in it. Only the mean of both turns tells of the machine.", First: true})
		return out
	}
	if worst <= 2*width || worst < 6*sd || math.IsInf(width, 0) {
		return out
	}
	return append(out, Suspicion{Kind: BarBent, First: true, Name: r.Name, ByNoise: "more than twice what the gate lets in",
		Said: fmt.Sprintf("Half a turn changes the reading by %s (%s): that is the bar and its seat, not the machine.", s.shownIn(r, worst), at),
		Mend: "Only the mean of both turns tells of the machine; or find what the bar runs out by, seated half a turn round."})
}

// averages reports whether a gate's value leans alike on both of each pair.
func (s *State) averages(j *Judgement, pairs [][2]readAt) bool {
	est, ok := s.judged[j.Name].from.alone()
	if !ok {
		return false
	}
	slope := func(id string) float64 {
		sum := 0.0
		for i, o := range est.obs {
			if i < len(est.e[0].Slopes) && strings.TrimSpace(whereRead(o.ID)) == id {
				sum += est.e[0].Slopes[i]
			}
		}
		return sum
	}
	for _, p := range pairs {
		if a, b := slope(p[0].id), slope(p[1].id); math.Abs(a-b) > 1e-3*(math.Abs(a)+math.Abs(b)) {
			return false
		}
	}
	return true
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
