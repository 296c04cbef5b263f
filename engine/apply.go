package engine

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"waywright/procedures"
)

// apply adds one event. The receiver is a fresh clone.
func (s *State) apply(ev Event) error {
	if b, ok := ev.Data.(Begun); ok != !s.started {
		if ok {
			return fmt.Errorf("engine: event %d begins a run that has begun", ev.N)
		}
		return fmt.Errorf("engine: event %d comes before the run has begun", ev.N)
	} else if ok && b.Procedure != s.plan.proc.Name {
		return fmt.Errorf("engine: the run is of %q, but the files are of %q", b.Procedure, s.plan.proc.Name)
	}
	if err := s.closed(ev); err != nil {
		return fmt.Errorf("engine: event %d: %w", ev.N, err)
	}
	s.events = append(s.events, ev)
	ev = s.byName(ev)
	was, workings, extra, last := s.cache, len(s.spoils), len(s.extra), s.last
	if err := s.take(ev); err != nil {
		return fmt.Errorf("engine: event %d: %w", ev.N, err)
	}
	if !s.last.Equal(last) && !s.clearedOnce(ev) {
		s.since = s.last
	}
	s.forget()
	s.recall(was, ev, workings, extra)
	s.begunLast(ev.Time)
	s.lapse(ev)
	s.effects(ev)
	return nil
}

func (s *State) take(ev Event) error {
	switch d := ev.Data.(type) {
	case Begun:
		s.begun, s.started = d, true
	case Sat:
		s.sit(ev, d)
	case Answered:
		return s.answered(ev, d)
	case Cleared:
		s.last = ev.Time
		s.clear(ev, d)
	case Bound:
		return s.bind(ev, d)
	case Waited:
		s.last = ev.Time
		return s.waited(ev, d)
	case Chosen:
		s.last = ev.Time
		return s.choose(ev, d)
	case Reported:
		s.last = ev.Time
		return s.reported(ev, d)
	case MoveJudged:
		s.last = ev.Time
		return s.moveJudged(ev, d)
	case Unable:
		s.last = ev.Time
		return s.unable(ev, d)
	case Amended:
		s.amendments++
		return s.amended(ev, d)
	case Disturbed:
		return s.disturbed(ev, d)
	case Found:
		s.found(d)
	case Noted:
		s.notes = append(s.notes, Remark{d.Name, d.Text, ev.By, d.File, ev.Time})
	case Paused:
		s.seated = false
	case Decided:
		return s.decided(ev, d)
	case Signed:
		return s.sign(ev, d)
	case Sealed:
		return s.sealIt(ev, d)
	case Deciding:
		return s.decides(d)
	case Issued:
		s.issued = append(slices.Clip(s.issued), d.Files...)
	case Superseding:
		return s.supersede(ev, d)
	case Abandoned:
		return s.abandon(ev, d)
	case LeftOut:
		return s.leaveOut(ev, d)
	case Assumed:
		return s.assume(ev, d)
	case FromSheet:
		return s.takeSheet(ev, d)
	default:
		return fmt.Errorf("an event of type %T is not known", d)
	}
	return nil
}

// sit opens a sitting: cautions and the state of the spindle are asked
// afresh, and sets that are not whole are broken (semantics rule 22).
func (s *State) sit(ev Event, d Sat) {
	s.seated = true
	if len(s.sittings) == 0 && s.last.IsZero() {
		s.last = ev.Time // a wait that comes before any answer counts from here
	}
	s.decidersBefore = len(s.deciders)
	s.sittings = append(s.sittings, Sitting{N: len(s.sittings) + 1, Operator: d.Operator, From: ev.Time, To: ev.Time})
	if !s.onSheet() { // what is typed in was read in one go, over however many sittings
		s.afresh("a new sitting began before the set was whole")
	}
}

// edit returns the fact at an address, copied so that it may be changed.
func (s *State) edit(id string) *fact {
	f := &fact{}
	if old := s.facts[id]; old != nil {
		f.takes = slices.Clone(old.takes)
		f.unable = old.unable
	}
	s.facts[id] = f
	first := nameIn(id)
	s.forgetTakes(first)
	return f
}

func (s *State) clear(ev Event, d Cleared) {
	for _, c := range d.Cautions {
		s.cleared[c] = true
	}
	switch d.Spindle {
	case procedures.Stopped.String():
		s.spindle = procedures.Stopped
	case procedures.Turning.String():
		s.spindle = procedures.Turning
	}
	if d.Skipped {
		s.skipped = append(s.skipped, Skipped{d.Name, ev.Time, ev.N})
	}
}

func (s *State) bind(ev Event, d Bound) error {
	p, ok := s.plan.instruments[d.Name]
	if !ok {
		return fmt.Errorf("the procedure has no instrument %q", d.Name)
	}
	old, was := s.bound[d.Name]
	s.bound[d.Name] = d
	s.bindings = append(s.bindings, Binding{d, ev.Time, ev.By})
	if was && old.ID != d.ID {
		s.forgetSigns(p)
		s.breakCycles(p)
	}
	return nil
}

// spoil begins new workings of steps: what was read there is stale.
func (s *State) spoil(steps []*procedures.Step, why string) {
	for _, st := range steps {
		s.spoils = append(s.spoils, spoilt{st, s.work[st.Name], s.Len(), why})
		s.work[st.Name]++
		for _, it := range st.Items {
			if r, ok := it.(*procedures.Reading); ok {
				delete(s.extra, extraKey(r))
				for _, g := range s.plan.gates() {
					if slices.Contains(s.plan.feeds[g.Name], r) {
						delete(s.extra, askedAgain(g))
					}
				}
				maps.DeleteFunc(s.voids, func(k string, _ int) bool {
					return k == r.Name || strings.HasPrefix(k, r.Name+".")
				})
			}
		}
	}
	s.forget()
}

func (s *State) unable(ev Event, d Unable) error {
	first := nameIn(d.Name)
	r, ok := s.plan.items[first].(*procedures.Reading)
	if !ok {
		return fmt.Errorf("it says that %q cannot be taken, which is not a reading", d.Name)
	}
	round, open, ok := s.findOpen(r, d.Name)
	if !ok {
		return fmt.Errorf("it says that %q cannot be taken, which was not open", d.Name)
	}
	f := s.edit(open[0].element(r))
	f.unable = &unable{n: ev.N, at: ev.Time, by: ev.By, work: s.work[r.Step.Name], reason: d.Reason}
	s.forgetTakes(r.Name)
	s.close(r, round, open[0].pass, false)
	return nil
}
