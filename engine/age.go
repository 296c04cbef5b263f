package engine

import (
	"fmt"
	"time"

	"waywright/checks/value"
	"waywright/procedures"
)

// expire begins a new working of a step whose facts no longer hold by age,
// when it is answered again.
func (s *State) expire(ev Event, st *procedures.Step) {
	if s.expired(st, ev.Time) {
		s.breakSets("a step that it needs had to be worked again", func(r *procedures.Reading) bool { return needs(r.Step, st) })
		s.spoil([]*procedures.Step{st}, "it is good for "+s.goodFor(st)+", and that was over")
	}
}

// expired reports whether what a step established no longer holds at a time.
func (s *State) expired(st *procedures.Step, at time.Time) bool {
	end, ok := s.holdsUntil(st)
	return ok && !at.IsZero() && at.After(end)
}

// holdsUntil returns when what a step established ends to hold; ok is false
// where it does not end, or nothing is established yet.
func (s *State) holdsUntil(st *procedures.Step) (end time.Time, ok bool) {
	if st.GoodFor == nil {
		return end, false
	}
	if s.onSheet() {
		return end, false // it is asked about, see inTime
	}
	d := st.GoodFor.Eval(s.env().in(st, nil))
	last, ok := s.established(st)
	if ok && s.typedIn(last) {
		return last, true
	}
	return last.Add(seconds(d.Num)), ok && d.State == value.Present
}

// goodFor says how long what a step established holds.
func (s *State) goodFor(st *procedures.Step) string {
	return Period(seconds(st.GoodFor.Eval(s.env().in(st, nil)).Num))
}

func seconds(x float64) time.Duration { return time.Duration(x * float64(time.Second)) }

// established returns when the last fact of a step's present working was
// kept; ok is false while the step is not settled.
func (s *State) established(st *procedures.Step) (last time.Time, ok bool) {
	note := func(t take) {
		if t.at.After(last) {
			last = t.at
		}
	}
	for _, round := range s.rounds(st) {
		for _, it := range st.Items {
			switch it := it.(type) {
			case *procedures.Confirm, *procedures.Wait:
				id := address(it.ItemName(), round...)
				if _, ok := s.word(id, st, time.Time{}); !ok {
					return last, false
				}
				f := s.facts[id]
				note(f.takes[len(f.takes)-1])
			case *procedures.Reading:
				if !s.whole(it, round) {
					return last, false
				}
				places, _ := s.places(it, round)
				for _, p := range places {
					for _, t := range s.live(p.element(it), st) {
						note(t)
					}
				}
			}
		}
		if asksNothing(st) && len(st.Do) > 0 {
			id := address(st.Name, round...)
			if _, ok := s.word(id, st, time.Time{}); !ok {
				return last, false
			}
			f := s.facts[id]
			note(f.takes[len(f.takes)-1])
		}
	}
	return last, !last.IsZero()
}

// aged returns the first question of a step that st needs and that no longer
// holds by its age, now that st is worked on.
func (s *State) aged(st *procedures.Step, now time.Time) (Question, bool) {
	for i, n := range s.plan.proc.Steps {
		if n == st || !needs(st, n) || !s.expired(n, now) {
			continue
		}
		t := s.clone()
		t.spoil([]*procedures.Step{n}, "")
		if q, ok := t.nextInStep(i, n, now); ok {
			end, _ := s.holdsUntil(n)
			if q.Kind == AskWait {
				q.Wait.from(end, now)
			}
			q.Expired = fmt.Sprintf("%s: it is good for %s, and that was over %s ago", s.stepTitle(n), s.goodFor(n), ago(now.Sub(end)))
			return q, true
		}
	}
	return Question{}, false
}

// Period says a length of time in whole days, hours, minutes or seconds: in the
// greatest of them that leaves nothing over.
func Period(d time.Duration) string {
	d = d.Round(time.Second)
	for _, u := range periods {
		if d >= u.each && d%u.each == 0 {
			return counted(int(d/u.each), u.name)
		}
	}
	return d.String()
}

// ago says how long something is over, as exactly as anybody wants to know.
func ago(d time.Duration) string {
	for _, u := range periods {
		if d >= u.each {
			return counted(int(d/u.each), u.name)
		}
	}
	return "a moment"
}

var periods = []struct {
	each time.Duration
	name string
}{{24 * time.Hour, "day"}, {time.Hour, "hour"}, {time.Minute, "minute"}, {time.Second, "second"}}

func counted(n int, name string) string {
	if n == 1 {
		return "1 " + name
	}
	return fmt.Sprintf("%d %ss", n, name)
}

// from lets a wait begin no earlier than at a time: what has ended to hold is
// not waited for in the hours before it did.
func (w *Waiting) from(at, now time.Time) {
	if late := at.Sub(w.Since); late > 0 {
		w.Since = at
		if !w.Over.IsZero() {
			w.Over = w.Over.Add(late)
		}
		w.Reading = w.Reading && !now.Before(w.Over)
	}
}
