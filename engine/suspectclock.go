package engine

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waywright/checks"
	"waywright/checks/value"
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
	down, _, ok := s.hangs(r, round)
	if !ok || s.knowsSag(j.Gate) {
		return nil
	}
	return []Suspicion{{Kind: Sagging, Name: r.Name, First: true, ByNoise: "more than six times the scatter",
		Said: fmt.Sprintf("At 6 o'clock it reads %s less than at 12; from 3 to 9 hardly anything changes. An indicator whose arm hangs by %s reads so, and an axis that stands high.", s.shownIn(r, down), s.shownIn(r, down/2)),
		Mend: "Find what the arm hangs by: clamp it on a stiff mandrel, zero at the top, turn to the bottom; half of what it reads there. Take that off, or stiffen the arm."}}
}

// hangs tells whether readings round the clock look as those of an arm that hangs:
// by how much it reads less at 6 o'clock than at 12, and which readings these are.
func (s *State) hangs(r *procedures.Reading, round []string) (down float64, id map[string]string, ok bool) {
	sd, _, _ := s.scatterOf(r)
	at, id := map[string]float64{}, map[string]string{}
	for _, p := range s.readPlaces(r, round, 0) {
		for _, k := range []string{"3", "6", "9", "12"} {
			if p.part == going && (p.place.key == k || slices.Contains(p.place.keys[len(round):], k)) {
				if _, twice := at[k]; twice {
					return 0, nil, false // round more than one place: whose, is not said
				}
				at[k], id[k] = meanOf(p.takes), p.id
			}
		}
	}
	if len(at) < 4 || sd == 0 {
		return 0, nil, false
	}
	down, across := at["6"]-at["12"], at["9"]-at["3"]
	return down, id, down <= -6*sd && math.Abs(down) >= 3*math.Abs(across)
}

// distrustSag does not let a gate pass by what may be the hang of an arm. How much
// that is the readings cannot tell: an axis that lies low reads as one that lies high
// where the arm hangs by more. A gate that fails stands as it is.
func (s *State) distrustSag(j *Judgement) {
	if j.Verdict != checks.Pass || j.Holds || s.knowsSag(j.Gate) {
		return
	}
	for _, r := range s.plan.feeds[j.Gate.Name] {
		if r.With == nil || r.Unit == nil || r.Count || len(r.Each) == 0 {
			continue
		}
		for _, round := range s.feedRounds(r, j.Gate, j.Keys) {
			if down, id, ok := s.hangs(r, round); ok && s.hangsOn(j, id, down/2) {
				j.Verdict, j.Why = checks.Undecided, "what was read may be what the indicator's arm hangs by, and nothing here knows how much that is"
				return
			}
		}
	}
}

// hangsOn tells whether a gate's value is another one where the arm hangs.
func (s *State) hangsOn(j *Judgement, id map[string]string, by float64) bool {
	e := func(by float64) *env {
		return (&env{s: s, shift: map[string]float64{id["12"]: by, id["6"]: -by}, memo: map[string]value.Value{}}).in(j.Gate.Step, j.Keys)
	}
	was, _, _, _, _ := sides(j.Gate, e(0))
	is, _, _, _, _ := sides(j.Gate, e(by))
	for i := range was {
		if i < len(is) && math.Abs(is[i].y-was[i].y) > 1e-3*math.Abs(by) {
			return true
		}
	}
	return false
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
