package engine

import (
	"fmt"
	"math"
	"strings"

	"waywright/checks/quantity"
	"waywright/procedures"
)

// stepNamed finds what a name of the form STEP.KEYS.WORD belongs to.
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
		t := s.newTake(ev, d)
		if len(d.Takes) > 0 {
			if err := t.number(d.Takes[0]); err != nil {
				return err
			}
		}
		f := s.edit(d.Name)
		f.takes = []take{t}
		return nil
	}
	if st := s.plan.steps[first]; st != nil {
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
		s.keepWord(ev, d, st)
		if d.Word == "no" {
			s.spoil([]*procedures.Step{st}, "answered no: "+words(it.Ask, s.env()))
		}
		return nil
	case *procedures.Wait:
		t := s.newTake(ev, d)
		t.work = s.work[st.Name]
		if len(d.Takes) == 0 || it.Until == nil {
			return fmt.Errorf("it answers %q without a value", d.Name)
		}
		if err := t.number(d.Takes[0]); err != nil {
			return err
		}
		f := s.edit(d.Name + ".until")
		f.takes = append(f.takes, t)
		return nil
	case *procedures.Reading:
		if n := len(rest); n > 0 && rest[n-1] == "nudge" {
			s.keepWord(ev, d, st)
			return nil
		}
		return s.keepReading(ev, d, it)
	}
	return fmt.Errorf("it answers %q, which is not asked but worked out", d.Name)
}

func (s *State) newTake(ev Event, d Answered) take {
	return take{n: ev.N, at: ev.Time, by: ev.By, word: d.Word, odd: d.Odd, reason: d.Reason, from: d.From, file: d.File, sitting: len(s.sittings)}
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
	if math.IsNaN(t.raw) || math.IsInf(t.raw, 0) {
		return fmt.Errorf("%v %s is not a number that can be kept", k.Value, k.Unit)
	}
	return nil
}

func (s *State) keepWord(ev Event, d Answered, st *procedures.Step) {
	t := s.newTake(ev, d)
	t.work = s.work[st.Name]
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
	sign := 1.0
	if s.nudged(r, round) == "minus" {
		sign = -1
	}
	values := max(len(d.Takes), 1)
	for i := range values {
		if i >= len(open) {
			return fmt.Errorf("it gives %d values for %q, where %d were wanted", values, d.Name, len(open))
		}
		p := open[i]
		t := s.newTake(ev, d)
		t.work, t.part, t.pass = s.work[r.Step.Name], p.part, p.pass
		if len(d.Takes) > 0 {
			if err := t.number(d.Takes[i]); err != nil {
				return err
			}
			t.value = sign * t.raw
		}
		t.setting = s.setting(r)
		f := s.edit(p.element(r))
		f.takes = append(f.takes, t)
		f.unable = nil
	}
	s.forget()
	s.close(r, round, open[0].pass, d.Reason != "")
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
func answered(before, after *State) []Notice {
	var out []Notice
	for i := range after.attempts {
		a := &after.attempts[i]
		if !a.told || i < len(before.attempts) && before.attempts[i].told && before.attempts[i].finding.Word == a.finding.Word {
			continue
		}
		out = append(out, Notice{Kind: Answers, Name: a.corr.Name, Response: after.response(a)})
	}
	return out
}
