package engine

import (
	"fmt"
	"math"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/response"
	"waywright/procedures"
)

// cut parts a question's name at its points.
func cut(name string) (first string, rest []string) {
	parts := strings.Split(name, ".")
	return parts[0], parts[1:]
}

// answered keeps an answer at its address.
func (s *State) answered(ev Event, d Answered) error {
	first, rest := cut(d.Name)
	if _, ok := s.plan.items[first].(*procedures.Wait); !ok {
		s.last = ev.Time // a wait counts from the answer before it, not from its own readings
	}
	if first == "grade" || s.plan.givens[first] != nil {
		return s.keepGiven(ev, d, s.plan.givens[first])
	}
	if st := s.plan.steps[first]; st != nil {
		if d.Word == "" {
			return fmt.Errorf("it answers %q without a word", d.Name)
		}
		s.expire(ev, st)
		s.keepWord(ev, d, st)
		return nil
	}
	it := s.plan.items[first]
	st := s.plan.stepOf[first]
	if it == nil {
		return fmt.Errorf("it answers %q, which the procedure does not ask", d.Name)
	}
	s.expire(ev, st)
	switch it := it.(type) {
	case *procedures.Confirm:
		return s.confirmed(ev, d, it, st)
	case *procedures.Wait:
		return s.keepWaitReading(ev, d, it, st)
	case *procedures.Reading:
		if n := len(rest); n > 0 && rest[n-1] == "nudge" && it.Nudge != nil {
			s.keepWord(ev, d, st)
			return nil
		}
		return s.keepReading(ev, d, it)
	}
	return fmt.Errorf("it answers %q, which is not asked but worked out", d.Name)
}

// suits tells why an event does not hold what the question asks for; such a
// journal belongs to other files.
func suits(name string, a *procedures.Answer, takes []Taken, word string) error {
	switch {
	case a.File || a.Text || len(a.Choose) > 0:
		if word == "" {
			return fmt.Errorf("it answers %q without a word", name)
		}
		return nil
	case len(takes) == 0:
		return fmt.Errorf("it answers %q without a value", name)
	}
	for _, k := range takes {
		u, err := quantity.Lookup(k.Unit)
		if err != nil {
			return fmt.Errorf("it answers %q: %w", name, err)
		}
		want := quantity.Unit{}
		if a.Unit != nil {
			want = *a.Unit
		}
		if u.Dim != want.Dim || u.Point != want.Point {
			return fmt.Errorf("it answers %q in %s, which is no unit for it", name, k.Unit)
		}
	}
	return nil
}

// grades is what may be answered to the question for the grade.
func (s *State) grades() *procedures.Answer { return &procedures.Answer{Choose: s.plan.proc.Grades} }

// keepGiven keeps a fact that is asked once, g, or the grade where g is nil.
func (s *State) keepGiven(ev Event, d Answered, g *procedures.Given) error {
	form, with := s.grades(), (*procedures.Instrument)(nil)
	if g != nil {
		form, with = &g.Answer, g.With
	}
	if err := suits(d.Name, form, d.Takes, d.Word); err != nil {
		return err
	}
	t := s.newTake(ev, d)
	if len(d.Takes) > 0 {
		if err := t.number(d.Takes[0]); err != nil {
			return err
		}
		if u, err := quantity.Lookup(d.Takes[0].Unit); err == nil {
			t.u = d.U * u.Factor
		}
	}
	if with != nil {
		t.bound = s.bindingOf(with)
		t.setting = s.sittingOf(with)
	}
	s.edit(d.Name).takes = []take{t}
	return nil
}

// confirmed keeps the answer to a confirmation. A no settles nothing: the step
// is worked again from its start (semantics rule 21).
func (s *State) confirmed(ev Event, d Answered, c *procedures.Confirm, st *procedures.Step) error {
	if d.Word == "" {
		return fmt.Errorf("it answers %q without a word", d.Name)
	}
	s.keepWord(ev, d, st)
	if d.Word == "no" {
		s.spoil([]*procedures.Step{st}, "answered no: "+words(c.Ask, s.env()))
		s.spindle = procedures.AnySpindle // hands may go in to see why
	}
	return nil
}

func (s *State) keepWaitReading(ev Event, d Answered, w *procedures.Wait, st *procedures.Step) error {
	if w.Until == nil {
		return fmt.Errorf("it answers %q, where there is only to wait", d.Name)
	}
	if err := suits(d.Name, &procedures.Answer{Unit: &w.Until.Unit}, d.Takes, ""); err != nil {
		return err
	}
	t := s.newTake(ev, d)
	t.work, t.bound = s.work[st.Name], s.bindingOf(w.Until.With)
	if err := t.number(d.Takes[0]); err != nil {
		return err
	}
	f := s.edit(d.Name + ".until")
	f.takes = append(f.takes, t)
	return nil
}

func (s *State) newTake(ev Event, d Answered) take {
	return take{n: ev.N, at: ev.Time, by: ev.By, word: d.Word, odd: d.Odd, reason: d.Reason, from: d.From, file: d.File, sitting: len(s.sittings), spell: s.spell, dof: d.DoF}
}

// number sets what a take measured.
func (t *take) number(k Taken) error {
	u, err := quantity.Lookup(k.Unit)
	if err != nil {
		return err
	}
	t.typed = k
	t.raw = u.Base(k.Value)
	t.value = t.raw
	if t.turned {
		t.value = -t.raw
	}
	if math.IsNaN(t.raw) || math.IsInf(t.raw, 0) {
		return fmt.Errorf("%v %s is not a number that can be kept", k.Value, k.Unit)
	}
	return nil
}

func (s *State) keepWord(ev Event, d Answered, st *procedures.Step) {
	t := s.newTake(ev, d)
	t.work = s.work[st.Name]
	if first := nameIn(d.Name); s.plan.items[first] != nil {
		if r, ok := s.plan.items[first].(*procedures.Reading); ok {
			t.bound = s.bindingOf(r.With) // a test of the needle holds for this instrument
		}
	}
	f := s.edit(d.Name)
	f.takes = append(f.takes, t)
}

// keepReading spreads the takes of an answer over the places that are open,
// from the one that was asked on.
func (s *State) keepReading(ev Event, d Answered, r *procedures.Reading) error {
	round, open, ok := s.findOpen(r, d.Name)
	if !ok {
		return fmt.Errorf("it answers %q, which was not open", d.Name)
	}
	if err := suits(d.Name, &r.Answer, d.Takes, d.Word); err != nil {
		return err
	}
	reversed := s.nudged(r, round) == "minus"
	values := max(len(d.Takes), 1)
	for i := range values {
		if i >= len(open) {
			return fmt.Errorf("it gives %d values for %q, where %d were wanted", values, d.Name, len(open))
		}
		p := open[i]
		t := s.newTake(ev, d)
		t.nth, t.work, t.part, t.pass = i, s.work[r.Step.Name], p.part, p.pass
		if len(d.Takes) > 0 {
			t.turned = reversed
			if err := t.number(d.Takes[i]); err != nil {
				return err
			}
		}
		t.setting, t.bound = s.setting(r), s.bindingOf(r.With)
		f := s.edit(p.element(r))
		f.takes = append(f.takes, t)
		f.unable = nil
	}
	s.forgetTakes(r.Name)
	s.close(r, round, open[0].pass, d.Reason != "" && s.voids[address(r.Name, round...)] >= mostVoids)
	return nil
}

// findOpen returns the open places of the reading's round to which a
// question's name belongs, from that place on.
func (s *State) findOpen(r *procedures.Reading, name string) (round []string, open []place, ok bool) {
	for _, round := range s.rounds(r.Step) {
		open, _ := s.open(r, round)
		for i, p := range open {
			if p.name(r) == name {
				return round, open[i:], true
			}
		}
	}
	return nil, nil, false
}

// answered tells what corrections did whose results became known.
func answered(before, after *State) []Notice { return toldSince(before.toldSoFar(), after) }

// toldSoFar lists what is told of each attempt; "" where nothing is yet.
func (s *State) toldSoFar() []response.Word {
	var out []response.Word
	for i := range s.attempts {
		w := response.Word("")
		if s.attempts[i].told {
			w = s.attempts[i].finding.Word
		}
		out = append(out, w)
	}
	return out
}

func toldSince(before []response.Word, after *State) []Notice {
	var out []Notice
	for i := range after.attempts {
		a := &after.attempts[i]
		if !a.told || i < len(before) && before[i] == a.finding.Word {
			continue
		}
		out = append(out, Notice{Kind: Answers, Name: a.corr.Name, Response: after.response(a)})
	}
	return out
}
