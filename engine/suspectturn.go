package engine

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waywright/checks"
	"waywright/procedures"
)

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
// nothing to say; and where it is their difference, the bar is what is looked for.
func (s *State) suspectTurns(r *procedures.Reading, round []string, j *Judgement) []Suspicion {
	return append(s.turnsApart(r, round, j, s.judged[j.Name].from), s.suspectClock(r, round, j)...)
}

func (s *State) turnsApart(r *procedures.Reading, round []string, j *Judgement, from weighed) []Suspicion {
	if r.Unit.Dim != j.Unit.Dim || j.Holds || j.Verdict == checks.NotApplied || j.Verdict == checks.NotMeasured || j.Verdict == checks.Open {
		return nil
	}
	width := j.Hi - j.Lo
	if math.IsInf(width, 0) {
		width = 2 * math.Min(math.Abs(j.Lo), math.Abs(j.Hi))
	}
	sd, _, _ := s.scatterOf(r)
	pairs, where := s.halves(r, round)
	if len(pairs) == 0 || from.freeOfBar(pairs) {
		return nil
	}
	worst, at := 0.0, ""
	for i, p := range pairs {
		d := math.Abs(meanOf(p[0].takes) - meanOf(p[1].takes))
		if d > worst {
			worst, at = d, where[i]
		}
		if d < leastRunOut || d > mostRunOut || !strings.Contains(where[i], "near") {
			continue
		}
		return []Suspicion{{Kind: BadSeat, Name: r.Name, ByNoise: "common practice",
			Said: fmt.Sprintf("Half a turn changes the reading by %s at the near place already: a bar in a chuck does that, or dirt in the taper.", s.shownIn(r, d)),
			Mend: "Wipe the bore and seat the bar in it. Only the mean of both turns tells of the machine.", First: true}}
	}
	if worst <= 2*width || worst < 6*sd || math.IsInf(width, 0) {
		return nil
	}
	return []Suspicion{{Kind: BarBent, First: true, Name: r.Name, ByNoise: "more than twice what the gate lets in",
		Said: fmt.Sprintf("Half a turn changes the reading by %s (%s): that is the bar and its seat, not the machine.", s.shownIn(r, worst), at),
		Mend: "Only the mean of both turns tells of the machine; or find what the bar runs out by, seated half a turn round."}}
}

// distrustTurns does not let a gate pass by readings at one turn of the spindle
// in which the bar is seen more than the machine: nothing is known of the machine
// then. A gate that fails stands as it is, with what is said of it.
func (s *State) distrustTurns(j *Judgement, from weighed) {
	if j.Verdict != checks.Pass {
		return
	}
	for _, r := range s.plan.feeds[j.Gate.Name] {
		if r.With == nil || r.Unit == nil || r.Count || len(r.Each) == 0 && len(r.Step.Each) == 0 {
			continue
		}
		for _, round := range s.feedRounds(r, j.Gate, j.Keys) {
			if sus := s.turnsApart(r, round, j, from); len(sus) > 0 {
				j.Verdict, j.Why = checks.Undecided, "what was read is the bar and its seat, and not the machine: it was read at one turn of the spindle only"
				return
			}
		}
	}
}

// freeOfBar reports whether a value leans alike on both of each pair, so that the
// bar drops out of it, or against each other, so that it is the bar itself.
func (from weighed) freeOfBar(pairs [][2]readAt) bool {
	est, ok := from.alone()
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
	alike, against := true, true
	for _, p := range pairs {
		a, b := slope(p[0].id), slope(p[1].id)
		near := 1e-3 * (math.Abs(a) + math.Abs(b))
		alike, against = alike && math.Abs(a-b) <= near, against && math.Abs(a+b) <= near
	}
	return alike || against
}
