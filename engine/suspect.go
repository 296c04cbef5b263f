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

// Suspicion is the sign of a common mistake in readings. It is told, never acted
// on: what is read is what is judged.
type Suspicion struct {
	Kind    SuspicionKind
	Name    string // of the reading, or of the gate
	Said    string // what is seen, in finished sentences
	Mend    string // what to do about it
	ByNoise string // how often noise alone would look like it, or the doubt it was held against
	First   bool   // to be seen to before anything is moved
}

// SuspicionKind is a kind of common mistake.
type SuspicionKind string

// The kinds. Drift, a movement the wrong way and one that was undone are not
// among them: they void a set or are words of a response.
const (
	Cooling  SuspicionKind = "cooling"  // the part was still warm
	Pressing SuspicionKind = "pressing" // the hand pressed harder with every take
	Falling  SuspicionKind = "falling"  // one of the two
	Copied   SuspicionKind = "copied"   // the readings are those of the time before
	Pulling  SuspicionKind = "pulling"  // one of several screws makes the shift
	BarBent  SuspicionKind = "bar"      // half a turn changes the reading more than what is looked for
	BadSeat  SuspicionKind = "seat"     // it runs out at the near place already
	Backlash SuspicionKind = "backlash" // the way back reads otherwise than the way out
	Askew    SuspicionKind = "lever"    // the lever of an indicator stands at too steep an angle
	Swapped  SuspicionKind = "swapped"  // two places were taken for one another
	Mirrored SuspicionKind = "signs"    // several results are out, and would be in with the other sign
)

// Suspicions returns what the readings of a gate, and what its last correction
// did, look like besides what they say.
func (s *State) Suspicions(j *Judgement) []Suspicion {
	var out []Suspicion
	for _, r := range s.plan.feeds[j.Gate.Name] {
		if r.With == nil || r.Unit == nil || r.Count {
			continue
		}
		for _, round := range s.feedRounds(r, j.Gate, j.Keys) {
			out = append(out, s.suspectReading(r, round, 0)...)
			out = append(out, s.suspectTurns(r, round, j)...)
			if j.Verdict == checks.Fail || j.Verdict == checks.Undecided {
				out = append(out, s.suspectScrews(r, round)...)
			}
		}
	}
	if j.Verdict == checks.Fail || j.Verdict == checks.Undecided {
		out = append(out, s.suspectResponse(j)...)
		out = append(out, s.suspectSigns(j)...)
	}
	return out
}

// looks are the suspicions of a gate, where anybody reads them.
func (s *State) looks(j *Judgement) []Suspicion {
	if s.plan.unread {
		return nil
	}
	return s.Suspicions(j)
}

// suspectVoid looks at the set of a reading that was voided last: why it shifted
// may be seen in it.
func (s *State) suspectVoid(r *procedures.Reading, round []string) []Notice {
	places, ok := s.places(r, round)
	if !ok || len(places) == 0 || r.With == nil {
		return nil
	}
	n := 0
	if f := s.facts[places[0].element(r)]; f != nil {
		for _, t := range f.takes {
			n = max(n, t.voidN)
		}
	}
	var out []Notice
	if n > 0 {
		for _, x := range s.suspectReading(r, round, n) {
			out = append(out, Notice{Kind: Suspect, Name: x.Name, Suspicion: &x})
		}
	}
	return out
}

// suspectResponse looks at what the last correction did whose result the gate
// judges.
func (s *State) suspectResponse(j *Judgement) []Suspicion {
	for i := len(s.attempts) - 1; i >= 0; i-- {
		a := &s.attempts[i]
		if a.gate != j.Name || !a.told {
			continue
		}
		if s.rereadSince(a) {
			return nil // what it was told from stands no more
		}
		return s.explains(a)
	}
	return nil
}

// explains tells what a correction's effect looks like that its readings alone
// make: two places taken for one another, else a lever at a steep angle.
func (s *State) explains(a *attempt) []Suspicion {
	if !a.told || a.cannot != "" || !a.hasMoved {
		return nil
	}
	if sus, ok := s.suspectSwap(a); ok {
		return []Suspicion{sus}
	}
	if sus, ok := s.suspectLever(a); ok {
		return []Suspicion{sus}
	}
	return nil
}

// rereadSince reports whether the result that a correction should change was read
// again since it was told what it did.
func (s *State) rereadSince(a *attempt) bool {
	return a.told && !slices.Equal(a.onTakes, s.takesOf(a.corr.Should.Result))
}

// suspectLever tells where a gain is that of a lever at a steep angle: a lever
// shows 1/cos θ times too much.
func (s *State) suspectLever(a *attempt) (Suspicion, bool) {
	f := &a.finding
	if !f.GainKnown || f.Gain <= 0 || a.corr.Moved.With == nil {
		return Suspicion{}, false
	}
	lever := func(p *procedures.Instrument) bool {
		return strings.Contains(strings.ToLower(s.instrument(p).Kind), "lever")
	}
	reads := false
	for _, r := range s.plan.feeds[a.corr.Should.Result.Name] {
		reads = reads || r.With != nil && lever(r.With)
	}
	gain, u := f.Gain, f.UGain
	which := "reads the result"
	switch shows := lever(a.corr.Moved.With); {
	case shows == reads:
		return Suspicion{}, false // alike for both, or for neither
	case shows:
		gain, u, which = 1/gain, u/(gain*gain), "shows the movement"
	}
	theta, ok := pattern.Lever(gain, u)
	if !ok {
		return Suspicion{}, false
	}
	return Suspicion{
		Kind: Askew, Name: a.corr.Name,
		Said: fmt.Sprintf("The indicator that %s shows %.2f times what moved. A lever that stands at %.0f° to the surface does.", which, gain, theta*180/math.Pi),
		Mend: "Look how it stands: along the surface, within 15°. If it did not, set it and read again.", ByNoise: fmt.Sprintf("give or take %.2f", 2*u),
	}, true
}

// suspectSwap tells where two places were taken for one another before or after
// a correction. It is believed once: what looks like it again is a machine that
// answers three times as much as expected, which looks alike.
func (s *State) suspectSwap(a *attempt) (Suspicion, bool) {
	for i := range s.attempts {
		if b := &s.attempts[i]; b.corr == a.corr && b.chosen < a.chosen && b.mistaken {
			return Suspicion{}, false
		}
	}
	if len(a.before.of) != 1 || len(a.after.of) != 1 {
		return Suspicion{}, false
	}
	before, after := a.before.of[0].y, a.after.of[0].y
	which := pattern.Swapped(before, after, a.expected, a.change.Std)
	if which == pattern.Neither {
		return Suspicion{}, false
	}
	one, other, ok := s.opposed(a)
	if !ok {
		return Suspicion{}, false
	}
	sus := Suspicion{Kind: Swapped, Name: a.corr.Should.Result.Name, ByNoise: "held against the doubt of the change"}
	when := "before the move"
	sus.Mend = "What stands now was read rightly, then. Look once more whether it was."
	if which == pattern.After {
		when, sus.First = "after the move", true
		sus.Mend = "Read both again by the names of their places."
	}
	sus.Said = fmt.Sprintf("It fits what was moved if %s and %s were taken for one another %s.", one, other, when)
	return sus, true
}

// opposed returns the two places that a result is the difference of, by name.
func (s *State) opposed(a *attempt) (one, other string, ok bool) {
	feeds := s.plan.feeds[a.corr.Should.Result.Name]
	slopes := map[string]float64{}
	var order []string
	for i := range a.after.obs {
		if i >= len(a.after.e[0].Slopes) || a.after.e[0].Slopes[i] == 0 {
			continue
		}
		id := whereRead(a.after.obs[i].ID)
		id = strings.TrimSpace(id)
		if _, had := slopes[id]; !had {
			order = append(order, id)
		}
		slopes[id] += a.after.e[0].Slopes[i]
	}
	if len(order) != 2 || len(feeds) == 0 {
		return "", "", false
	}
	p, q := slopes[order[0]], slopes[order[1]]
	if math.Abs(p+q) > 1e-3*math.Abs(p) {
		return "", "", false
	}
	return spokenID(order[0]), spokenID(order[1]), true
}

// spokenID is the address of an element as a person would say it: "headstock end".
func spokenID(id string) string {
	first, rest := cut(id)
	if len(rest) == 0 {
		rest = []string{first}
	}
	return strings.ReplaceAll(strings.Join(rest, ", "), "_", " ")
}

// suspectSigns tells where several results that were read with one instrument are
// out of limits that let one way in only, and would be in with the other sign.
func (s *State) suspectSigns(j *Judgement) []Suspicion {
	if !oneSided(j) {
		return nil
	}
	with := s.readWith(j.Gate)
	var titles []string
	var y, lo, hi, u []float64
	first := ""
	for _, o := range s.Judgements() {
		if !oneSided(&o) || o.Verdict != checks.Fail || !slices.ContainsFunc(s.readWith(o.Gate), func(p *procedures.Instrument) bool { return slices.Contains(with, p) }) {
			continue
		}
		if first == "" {
			first = o.Name
		}
		titles = append(titles, o.Title)
		y, lo, hi, u = append(y, o.Value), append(lo, o.Lo), append(hi, o.Hi), append(u, o.U)
	}
	if first != j.Name || !pattern.Mirrored(y, lo, hi, u) {
		return nil
	}
	return []Suspicion{{
		Kind: Mirrored, Name: j.Name, First: true, ByNoise: "each by more than its doubt",
		Said: fmt.Sprintf("All of these are out the one way, and would be in the other way: %s.", strings.Join(titles, "; ")),
		Mend: "Push the part by hand and see which way the needle goes. Then read again.",
	}}
}

// oneSided reports whether a gate lets one way in only.
func oneSided(j *Judgement) bool {
	return !j.Holds && (j.Lo == 0) != (j.Hi == 0)
}

func (s *State) readWith(g *procedures.Gate) []*procedures.Instrument {
	var out []*procedures.Instrument
	for _, r := range s.plan.feeds[g.Name] {
		if r.With != nil && r.Positive != nil && !slices.Contains(out, r.With) {
			out = append(out, r.With)
		}
	}
	return out
}

func (s *State) shownIn(r *procedures.Reading, v float64) string {
	u := quantity.InRun(*r.Unit, s.begun.Inch).Difference()
	return quantity.Format(math.Abs(v), u, quantity.Decimals(u, s.instrument(r.With).Resolution/10))
}

// scatterOf is what one take of a reading scatters, its step counted in, and how
// well that is known; 0 where nothing is stated.
func (s *State) scatterOf(r *procedures.Reading) (sd, dof, step float64) {
	in := s.instrument(r.With)
	if in.Repeatability <= 0 {
		return 0, 0, in.Resolution
	}
	dof = in.RepeatabilityDoF
	if dof == 0 {
		dof = 8 // known to a quarter, as everywhere where nothing is said
	}
	return math.Hypot(in.Repeatability, in.Resolution/math.Sqrt(12)), dof, in.Resolution
}
