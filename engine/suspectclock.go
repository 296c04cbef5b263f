package engine

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waywright/checks"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// Sagging is the sign of an indicator on an arm that hangs: carried round, it
// reads less at the bottom.
const Sagging SuspicionKind = "sag"

// suspectClock looks at an indicator that is carried round a mandrel or a quill.
// Its arm hangs away from the surface above and towards it below, so that at 6
// o'clock it reads less than at 12 by twice its sag, which looks as if the axis stood high;
// from 3 to 9 nothing changes. Whether the axis stands high the readings
// cannot tell. So where nothing of what the gate is worked out from is a sag, that is
// asked for.
func (s *State) suspectClock(r *procedures.Reading, round []string, j *Judgement) []Suspicion {
	if j.Verdict == checks.NotApplied || j.Verdict == checks.NotMeasured || j.Verdict == checks.Open {
		return nil
	}
	sd, _, _ := s.scatterOf(r)
	at := map[string]float64{}
	for _, p := range s.readPlaces(r, round, 0) {
		for _, k := range []string{"3", "6", "9", "12"} {
			if p.part == going && (p.place.key == k || slices.Contains(p.place.keys[len(round):], k)) {
				if _, twice := at[k]; twice {
					return nil // round more than one place: whose, is not said
				}
				at[k] = meanOf(p.takes)
			}
		}
	}
	if len(at) < 4 || sd == 0 {
		return nil
	}
	down, across := at["6"]-at["12"], at["9"]-at["3"]
	if down > -6*sd || math.Abs(down) < 3*math.Abs(across) || s.knowsSag(j.Gate) {
		return nil
	}
	return []Suspicion{{Kind: Sagging, Name: r.Name, First: true, ByNoise: "more than six times the scatter",
		Said: fmt.Sprintf("At 6 o'clock it reads %s less than at 12; from 3 to 9 hardly anything changes. An indicator whose arm hangs by %s reads so, and an axis that stands high.", s.shownIn(r, down), s.shownIn(r, down/2)),
		Mend: "Find what the arm hangs by: clamp it on a stiff mandrel, zero at the top, turn to the bottom; half of what it reads there. Take that off, or stiffen the arm."}}
}

// knowsSag reports whether a sag is part of what a gate is worked out from.
func (s *State) knowsSag(g *procedures.Gate) bool {
	seen := map[*procedures.Result]bool{}
	var in func(p *formula.Program) bool
	in = func(p *formula.Program) bool {
		if p == nil {
			return false
		}
		return slices.ContainsFunc(p.Refs(), func(r formula.Ref) bool {
			if slices.Contains(strings.FieldsFunc(r.Name, func(c rune) bool { return c == '_' || c == '.' }), "sag") {
				return true
			}
			res, ok := s.plan.items[r.Name].(*procedures.Result)
			if !ok || r.Space != formula.Result || seen[res] {
				return false
			}
			seen[res] = true
			return in(res.Value)
		})
	}
	return in(g.Of) || in(g.Holds)
}
