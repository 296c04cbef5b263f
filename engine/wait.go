package engine

import (
	"fmt"
	"math"
	"strings"
	"time"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
)

func (s *State) waited(ev Event, d Waited) error {
	first := nameIn(d.Name)
	if _, ok := s.plan.items[first].(*procedures.Wait); !ok {
		return fmt.Errorf("it ends the wait %q, which the procedure does not have", d.Name)
	}
	st := s.plan.stepOf[first]
	s.expire(ev, st)
	s.keepWord(ev, Answered{Name: d.Name, Word: d.How, Reason: d.Reason}, st)
	return nil
}

// clearedOnce reports whether an event acknowledges what was acknowledged in this
// working of a step before: somebody is back at the machine. The time that runs
// there goes on, a bar has not stopped cooling; but a spindle that has to turn
// had stopped.
func (s *State) clearedOnce(ev Event) bool {
	d, ok := ev.Data.(Cleared)
	first := nameIn(d.Name)
	st := s.plan.steps[first]
	if !ok || st == nil || d.Spindle == procedures.Turning.String() {
		return false
	}
	begun := 0
	for _, sp := range s.spoils {
		if sp.step == st {
			begun = sp.n
		}
	}
	before := false
	s.lasting(func(e Event) {
		c, ok := e.Data.(Cleared)
		before = before || ok && c.Name == d.Name && e.N > begun && e.N < ev.N
	})
	return before
}

func (s *State) waitQuestion(w *procedures.Wait, st *procedures.Step, round []string, e *env, now time.Time) (Question, bool) {
	id := address(w.Name, round...)
	if _, ok := s.word(id, st, now); ok {
		return Question{}, false
	}
	wt := &Waiting{Since: s.since, From: s.since}
	q := Question{Kind: AskWait, Name: id, Optional: true, Why: words(w.Why, e), Wait: wt, Ask: "Wait."}
	if w.AtLeast != nil {
		if v := w.AtLeast.Eval(e); v.State == value.Present {
			wt.Over = wt.Since.Add(seconds(v.Num))
		}
	}
	if w.Until == nil {
		return q, true
	}
	u := w.Until
	if iq, ok := s.instrumentQuestion(u.With); ok {
		return iq, true
	}
	unit := quantity.InRun(u.Unit, s.begun.Inch)
	q.Unit, q.Instrument = &unit, s.inHand(u.With)
	s.decimals(&q)
	wt.Takes = u.Takes
	wt.Agree = u.Agree.Eval(e).Num
	wt.Every = seconds(u.Every.Eval(e).Num)
	if f := s.facts[id+".until"]; f != nil {
		for _, t := range f.takes {
			if t.work == s.work[st.Name] && t.void == "" && s.sameInstrument(t, u.With) {
				wt.Last = append(wt.Last, t.value)
				if o := t.at.Add(wt.Every); o.After(wt.Over) {
					wt.From, wt.Over = t.at, o
				}
			}
		}
	}
	q.Ask = words(u.Ask, e.bind("take", value.Num(float64(len(wt.Last)+1))))
	wt.Reading = (!now.Before(wt.Over) || s.onSheet()) && len(wt.Last) < wt.Takes
	return q, true
}

func (s *State) answerWait(now time.Time, q Question, in Input) ([]Data, *Refusal) {
	w := q.Wait
	if q.Sheet {
		if d, ref, ok := s.answerWaited(q, in); ok {
			return d, ref
		}
	}
	switch strings.ToLower(in.Text) {
	case "over":
		if w.Takes > 0 && len(w.Last) >= w.Takes {
			return nil, disagree()
		}
		if w.Reading || w.Takes > 0 {
			return nil, refuse("wait", "", "This wait ends when two readings agree.", "Type the reading, or cut it short with a reason.")
		}
		if now.Before(w.Over) {
			return nil, refuse("wait", "", fmt.Sprintf("There are %s to go.", left(w.Over.Sub(now))),
				"Wait, or cut it short and say why.")
		}
		return []Data{Waited{Name: q.Name, How: "over"}}, nil
	case "stated", "waited":
		if w.Takes > 0 && in.Reason == "" {
			return nil, reasonWanted("Going on without two readings that agree")
		}
		return []Data{Waited{Name: q.Name, How: "stated", Reason: in.Reason}}, nil
	case "short", "cut short":
		if in.Reason == "" {
			return nil, reasonWanted("Cutting a wait short")
		}
		return []Data{Waited{Name: q.Name, How: "short", Reason: in.Reason}}, nil
	}
	if w.Takes == 0 {
		return nil, refuse("wait", fmt.Sprintf("I read %q.", in.Text), "Now there is nothing to read, only to wait.", s.wanted(q))
	}
	if !w.Reading {
		if len(w.Last) >= w.Takes {
			return nil, disagree()
		}
		return nil, refuse("wait", "", fmt.Sprintf("The next reading is due in %s.", left(w.Over.Sub(now))), "Wait, or cut it short and say why.")
	}
	takes, _, ref := s.numbersFrom(q, in, 1)
	if ref != nil {
		return nil, ref
	}
	out := []Data{Answered{Name: q.Name, Takes: takes}}
	v := takes[0].base()
	if n := len(w.Last); n > 0 && math.Abs(v-w.Last[n-1]) <= w.Agree*(1+1e-9) {
		out = append(out, Waited{Name: q.Name, How: "over"})
	}
	return out, nil
}

func disagree() *Refusal {
	return refuse("wait", "", "The readings still do not agree.", "Go on with a reason: short, and say why. Or pause.")
}

func left(d time.Duration) string {
	d = d.Round(time.Second)
	if m := int(d.Minutes()); m > 0 {
		if sec := int(d.Seconds()) % 60; sec > 0 {
			return fmt.Sprintf("%d min %d s", m, sec)
		}
		return fmt.Sprintf("%d min", m)
	}
	return fmt.Sprintf("%d s", int(d.Seconds()))
}
