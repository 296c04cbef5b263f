package engine

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"waywright/checks/value"
	"waywright/procedures"
)

// isSet reports whether the readings must be taken in one go.
func isSet(r *procedures.Reading) bool { return r.Closure != nil || r.Nudge != nil }

func (s *State) breakSets(why string, hit func(*procedures.Reading) bool) {
	for _, st := range s.plan.proc.Steps {
		for _, it := range st.Items {
			r, ok := it.(*procedures.Reading)
			if !ok || !isSet(r) || !hit(r) {
				continue
			}
			for _, round := range s.rounds(st) {
				if open, ok := s.open(r, round); ok && len(open) > 0 {
					s.voidSet(r, round, open[0].pass, why)
				}
			}
		}
	}
}

// voidSet marks the takes of one pass of a set as not used.
func (s *State) voidSet(r *procedures.Reading, round []string, pass int, why string) {
	places, _ := s.places(r, round)
	for _, p := range places {
		id := p.element(r)
		if s.facts[id] == nil {
			continue
		}
		f := s.edit(id)
		for i, t := range f.takes {
			if t.void == "" && t.pass == pass && t.work == s.work[r.Step.Name] {
				f.takes[i].void, f.takes[i].voidN = why, s.Len()
			}
		}
	}
}

// open returns the places of a reading that still want a take, one entry for
// each take wanted, in the order of asking; ok is false while its keys or
// stations are not known. They are not to be changed.
func (s *State) open(r *procedures.Reading, round []string) (out []place, ok bool) {
	key := address(r.Name, round...)
	if o, ok := s.cache.open[key]; ok {
		return o.places, o.ok
	}
	out, ok = s.listOpen(r, round)
	put(&s.cache.open, key, placesOf{slices.Clip(out), ok})
	return out, ok
}

func (s *State) listOpen(r *procedures.Reading, round []string) (out []place, ok bool) {
	places, ok := s.places(r, round)
	if !ok {
		return nil, false
	}
	n := 0
	for i := range places {
		n += s.lacks(r, &places[i])
	}
	if n == 0 {
		return nil, true
	}
	out = make([]place, 0, n)
	for i := range places {
		for range s.lacks(r, &places[i]) {
			out = append(out, places[i])
		}
	}
	return out, true
}

// lacks is how many takes a place of a reading still wants.
func (s *State) lacks(r *procedures.Reading, p *place) int {
	id := p.element(r)
	f := s.facts[id]
	if f == nil {
		return max(0, p.takes)
	}
	work := s.work[r.Step.Name]
	if f.unable != nil && f.unable.work == work && f.unable.reason != "" {
		return 0
	}
	have := 0
	for i := range f.takes {
		if t := &f.takes[i]; t.void == "" && t.part == p.part && t.pass == p.pass && t.work == work {
			have++
		}
	}
	return max(0, p.takes-have)
}

// whole tells whether nothing of a reading's round is open.
func (s *State) whole(r *procedures.Reading, round []string) bool {
	open, ok := s.open(r, round)
	return ok && len(open) == 0
}

// mostVoids is how many sets are void before a person may go on with a reason.
const mostVoids = 3

// close judges the drift of a pass that has become whole. Beyond the
// closure's limit the pass is void, unless a reason was given.
func (s *State) close(r *procedures.Reading, round []string, pass int, kept bool) {
	if r.Closure == nil || kept {
		return
	}
	open, ok := s.open(r, round)
	if !ok || len(open) > 0 && open[0].pass == pass {
		return
	}
	moved, allowed, ok := s.drift(r, round, pass)
	if ok && math.Abs(moved) > allowed {
		s.voidSet(r, round, pass, "closure")
		s.voids[address(r.Name, round...)]++
	}
}

// drift returns by how much the first place of a pass had moved when it was
// read again, and how much is allowed.
func (s *State) drift(r *procedures.Reading, round []string, pass int) (moved, allowed float64, ok bool) {
	places, ok := s.places(r, round)
	if !ok || len(places) == 0 || r.Closure == nil {
		return 0, 0, false
	}
	f := s.facts[places[0].element(r)]
	if f == nil {
		return 0, 0, false
	}
	var first, last []take
	for _, t := range f.takes {
		if t.void != "" || t.pass != pass || t.work != s.work[r.Step.Name] {
			continue
		}
		if t.part == going {
			first = append(first, t)
		} else {
			last = append(last, t)
		}
	}
	lim := r.Closure.Eval(s.env().in(r.Step, round))
	if len(first) == 0 || len(last) == 0 || lim.State != value.Present {
		return 0, 0, false
	}
	return meanOf(last) - meanOf(first), lim.Num, true
}

// nudged returns which way the needle went, while that still holds: in the
// same working, sitting and with the same instrument. What the test of another
// reading showed holds here where the procedure says so.
func (s *State) nudged(r *procedures.Reading, round []string) string {
	if r.Nudge == nil {
		return ""
	}
	word, n := "", 0
	for _, at := range s.testedAt(r, round) {
		f := s.facts[at.id]
		if f == nil {
			continue
		}
		t := f.takes[len(f.takes)-1]
		if t.n > n && t.work == s.work[at.step.Name] && t.spell == s.spell && t.bound == s.bindingOf(r.With) {
			word, n = t.word, t.n
		}
	}
	return word
}

// nudgeOf is the address of the test of a needle.
func nudgeOf(r *procedures.Reading, round []string) string {
	return address(r.Name, append(slices.Clone(round), "nudge")...)
}

// tested is a place at which a needle is tested.
type tested struct {
	id   string
	step *procedures.Step
}

// testedAt lists where the test of a reading's needle may have been made: in its
// own round, and in all rounds of the reading that it names, and of what that names.
func (s *State) testedAt(r *procedures.Reading, round []string) []tested {
	out := []tested{{nudgeOf(r, round), r.Step}}
	for at, last := r.Tested, (*procedures.Reading)(nil); at != nil && at != last; at, last = at.Tested, at {
		for _, one := range s.rounds(at.Step) {
			if id := nudgeOf(at, one); id != out[0].id {
				out = append(out, tested{id, at.Step})
			}
		}
	}
	return out
}

// firstTest tells whether the needle is tested in a round, where all goes on in
// one go: not where it was at another reading, or in a round before.
func (s *State) firstTest(r *procedures.Reading, round []string) bool {
	if r.Tested == r {
		rounds := s.rounds(r.Step)
		return len(rounds) == 0 || slices.Equal(rounds[0], round)
	}
	return r.Nudge != nil && r.Tested == nil
}

// setting names what readings with one instrument have in common: one zero.
// A thermometer's lasts for ever, a micrometer's the sitting, another's one working of the steps that
// belong together (semantics rule 22).
func (s *State) setting(r *procedures.Reading) string {
	if r.With == nil {
		return ""
	}
	id := s.sittingOf(r.With)
	switch kind := strings.ToLower(r.With.Kind); {
	case strings.Contains(kind, "thermometer"):
		// Nobody sets it: its error is one for all that it reads (measure rule 7).
		return r.With.Name + " " + s.bound[r.With.Name].ID
	case strings.Contains(kind, "micrometer"):
		return id
	}
	root := r.Step
	for _, st := range s.plan.proc.Steps {
		if (st == r.Step || needs(r.Step, st)) && uses(st, r.With) {
			root = st
			break
		}
	}
	return id + ", " + root.Name + " " + strconv.Itoa(s.work[root.Name])
}

// sittingOf names what all readings of a sitting with one instrument have in
// common, as long as it stays in the hand.
func (s *State) sittingOf(p *procedures.Instrument) string {
	id := p.Name + " " + s.bound[p.Name].ID + ", sitting " + strconv.Itoa(s.spell)
	if n := s.takenUp(p); n > 1 {
		id += fmt.Sprintf(", taken up %d times", n)
	}
	return id
}

// takenUp counts how often an instrument was named or disturbed: each time its
// zero is another.
func (s *State) takenUp(p *procedures.Instrument) int {
	n := 0
	for _, b := range s.bindings {
		if b.Name == p.Name {
			n++
		}
	}
	for _, d := range s.disturbs {
		if d.What == "instrument" && d.Name == p.Name {
			n++
		}
	}
	return n
}

// bindingOf is the number of the binding of an instrument that holds now, from
// 1; 0 where it has none.
func (s *State) bindingOf(p *procedures.Instrument) int {
	if p == nil {
		return 0
	}
	for i := len(s.bindings); i > 0; i-- {
		if s.bindings[i-1].Name == p.Name {
			return i
		}
	}
	return 0
}

// boundAs is the real instrument of a binding, by its number.
func (s *State) boundAs(n int) Bound {
	if n < 1 || n > len(s.bindings) {
		return Bound{}
	}
	return s.bindings[n-1].Bound
}

func uses(st *procedures.Step, in *procedures.Instrument) bool {
	for _, it := range st.Items {
		switch it := it.(type) {
		case *procedures.Reading:
			if it.With == in {
				return true
			}
		case *procedures.Wait:
			if it.Until != nil && it.Until.With == in {
				return true
			}
		}
	}
	return false
}
