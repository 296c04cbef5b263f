// Package engine moves a run. The state of a run is a fold of its events, and
// what is to be done next is a question asked of the state: the first fact, in
// the order of the procedure, that is missing or no longer true.
//
// Everything here is values in, values out. The clock and the authors come in
// with the events; files and terminals are elsewhere. Numbers are in base
// units (mm, rad, s, °C for points); see quantity.
package engine

import (
	"fmt"
	"maps"
	"slices"
	"time"

	"waywright/checks/quantity"
	"waywright/procedures"
)

// State is what a run has established. It is not changed once made: [State.With]
// gives the state after further events. It keeps what it has worked out, so
// one State is not for use by several goroutines.
type State struct {
	plan   *Plan
	events []Event
	gone   map[int]int    // events withdrawn, by number: the event that withdrew
	named  map[int]string // who did an event, where the name was mistaken at first

	begun    Begun
	started  bool
	sittings []Sitting
	seated   bool      // somebody is at the machine
	last     time.Time // of the last answer
	since    time.Time // from when a wait counts that comes next
	spindle  procedures.Spindle
	cleared  map[string]bool // cautions acknowledged in this sitting
	skipped  []Skipped
	bound    map[string]Bound
	bindings []Binding

	work  map[string]int // workings of each step that were spoilt
	facts map[string]*fact
	extra map[string]int // further takes asked for, by reading
	voids map[string]int // sets void in this working, by reading and round

	amendments int // how many there were
	attempts   []attempt
	chosen     map[string]*choice // by gate address
	conceded   map[string]*asked  // concessions asked for, by gate address
	signs      map[string]float64 // −1 where the movement's indicator reads reversed
	moveOpen   int                // attempt whose movement was not as asked, not yet answered; −1
	nudgeOpen  int                // attempt after which the indicator is to be tested; −1
	deciders   []decider
	signed     []Signature
	seal       *Seal  // nil while the record may still change
	issued     []File // forms made of the sealed record
	supersedes *SupersedesRecord
	leftOut    []Exclusion
	assumed    map[string]Assumption // values that were agreed on, by given
	idle       idle                  // because of them
	sheets     []sheet
	passing    bool // the walk goes on behind gates that can only be conceded or rejected
	spell      int  // at the machine: a sitting, or a work sheet that was filled in there
	rejected   *Rejection
	abandoned  *Abandonment
	notes      []Remark
	spoils     []spoilt

	decidersBefore int // of deciders: those of earlier sittings

	disturbs []DisturbRecord

	chronicle *chronicle // as far as it was asked for; see histories
	cache
}

// spoilt says when and why a working of a step ended.
type spoilt struct {
	step *procedures.Step
	work int // the working that ended
	n    int // event
	why  string
}

// asked is a concession with the takes that it was asked for.
type asked struct {
	Concession
	feeding []int
	n       int
}

// Sitting is one stretch of work by one person.
type Sitting struct {
	N        int
	Operator string
	From, To time.Time
}

// Skipped is a caution or a change of power that was not acknowledged.
type Skipped struct {
	Name string
	At   time.Time
	N    int
}

// Binding says from when a real instrument stood for one of the procedure.
type Binding struct {
	Bound
	At time.Time
	By string
}

// Signature is a signature that was given.
type Signature struct {
	Signed
	Role *procedures.Signoff
	At   time.Time
	N    int
}

// Rejection is the end of a run that was given up.
type Rejection struct {
	Gate, Reason, By string
	At               time.Time
	N                int
}

// Remark is a note or a file kept beside a question.
type Remark struct {
	Name, Text, By string
	File           *File
	At             time.Time
}

// DisturbRecord is a disturbance that somebody reported.
type DisturbRecord struct {
	Disturbed
	By string
	At time.Time
	N  int
}

// LedgerLine is metal removed or added, or a part moved.
type LedgerLine struct {
	Place      string
	Correction *procedures.Correction
	Attempt    int
	Amount     float64 // base units, not negative
	Total      float64 // at this place, this way, so far
	Unit       quantity.Unit
	Way        string // direction words
	Planned    bool   // neither a movement was read nor was it told how much was done
	At         time.Time
	N          int
	By         string
}

// choice is a way chosen at a gate.
type choice struct {
	Chosen
	n       int
	at      time.Time
	by      string
	attempt int   // index, for a correction; else −1
	feeding []int // the takes it was chosen on
}

// New returns the state of a run of which nothing is known yet.
func New(p *Plan) *State {
	s := &State{
		plan: p, gone: map[int]int{}, cleared: map[string]bool{},
		bound: map[string]Bound{}, work: map[string]int{}, facts: map[string]*fact{},
		extra: map[string]int{}, voids: map[string]int{},
		chosen:   map[string]*choice{},
		conceded: map[string]*asked{}, signs: map[string]float64{}, moveOpen: -1, nudgeOpen: -1,
	}
	s.forget()
	return s
}

// Fold returns the state that the events lead to. The error names the first
// event that does not fit the procedure: such a journal is damaged or belongs
// to other files.
func Fold(p *Plan, events []Event) (*State, error) {
	return New(p).With(events...)
}

// Len returns the number of the last event.
func (s *State) Len() int {
	if len(s.events) == 0 {
		return 0
	}
	return s.events[len(s.events)-1].N
}

// Plan returns the plan the run follows.
func (s *State) Plan() *Plan { return s.plan }

// Events returns every event, withdrawn ones too. Where the name of an operator
// was put right, it stands in all that was done under it.
func (s *State) Events() []Event {
	if len(s.named) == 0 {
		return s.events
	}
	out := make([]Event, len(s.events))
	for i, ev := range s.events {
		out[i] = s.byName(ev)
	}
	return out
}

// With returns the state after further events.
func (s *State) With(events ...Event) (*State, error) {
	t := s.clone()
	for _, ev := range events {
		if w, ok := ev.Data.(Withdrawn); ok {
			if err := t.closed(ev); err != nil {
				return nil, fmt.Errorf("engine: event %d: %w", ev.N, err)
			}
			u, err := t.without(ev, w)
			if err != nil {
				return nil, err
			}
			t = u
			continue
		}
		if a, ok := ev.Data.(Amended); ok && a.Name == operatorName {
			u, err := t.renaming(ev, a)
			if err != nil {
				return nil, err
			}
			t = u
			continue
		}
		if err := t.apply(ev); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// without folds the events again, but for those that w takes back.
func (s *State) without(ev Event, w Withdrawn) (*State, error) {
	gone := maps.Clone(s.gone)
	known := false
	for _, e := range s.events {
		known = known || e.N == w.Of
	}
	if !known {
		return nil, fmt.Errorf("engine: event %d withdraws event %d, which is not there", ev.N, w.Of)
	}
	gone[w.Of] = ev.N
	t, err := s.refolded(gone, namesOf(s.events, gone))
	if err != nil {
		return nil, err
	}
	t.events = append(t.events, ev)
	t.begunLast(ev.Time)
	return t, nil
}

// refolded folds the events again, but for those that are gone, with the names
// that were put right.
func (s *State) refolded(gone map[int]int, named map[int]string) (*State, error) {
	t := New(s.plan)
	t.gone, t.named = gone, named
	for _, e := range s.events {
		_, back := e.Data.(Withdrawn)
		if gone[e.N] != 0 || back {
			t.events = append(t.events, e)
			continue
		}
		if err := t.apply(e); err != nil {
			return nil, err
		}
	}
	return t, nil
}

func (s *State) begunLast(at time.Time) {
	if n := len(s.sittings); n > 0 && s.seated {
		s.sittings = slices.Clone(s.sittings)
		s.sittings[n-1].To = at
	}
}

func (s *State) clone() *State {
	t := *s
	t.events = slices.Clip(s.events)
	t.gone = maps.Clone(s.gone)
	t.cleared = maps.Clone(s.cleared)
	t.bound, t.work, t.facts = maps.Clone(s.bound), maps.Clone(s.work), maps.Clone(s.facts)
	t.extra, t.voids = maps.Clone(s.extra), maps.Clone(s.voids)
	t.chosen = maps.Clone(s.chosen)
	t.conceded, t.signs = maps.Clone(s.conceded), maps.Clone(s.signs)
	t.sittings, t.bindings = slices.Clip(s.sittings), slices.Clip(s.bindings)
	t.attempts, t.signed = slices.Clone(s.attempts), slices.Clip(s.signed)
	t.skipped, t.notes = slices.Clip(s.skipped), slices.Clip(s.notes)
	t.disturbs, t.spoils = slices.Clip(s.disturbs), slices.Clip(s.spoils)
	t.cache = s.cache.clone()
	return &t
}

// Author returns the name that stands under an event: the person who signs,
// or who is at the machine.
func (s *State) Author(d Data) string {
	switch d := d.(type) {
	case Sat:
		return d.Operator
	case Signed:
		return d.Name
	case Issued:
		return "" // nobody did it
	case Deciding:
		return d.Name
	case Decided:
		if d.Name != "" {
			return d.Name
		}
	case Superseding:
		if d.Name != "" {
			return d.Name
		}
	case Abandoned:
		if d.Name != "" {
			return d.Name
		}
	}
	return s.Operator()
}

// Operator returns who is at the machine, or was last.
func (s *State) Operator() string {
	if n := len(s.sittings); n > 0 {
		return s.sittings[n-1].Operator
	}
	return ""
}

// Inch reports whether bare numbers are inches.
func (s *State) Inch() bool { return s.begun.Inch }

// Begun returns how the run began.
func (s *State) Begun() Begun { return s.begun }

// Outcome returns what has become of the run.
func (s *State) Outcome() Outcome {
	switch {
	case s.abandoned != nil:
		return Discontinued
	case s.rejected != nil:
		return Rejected
	case len(s.signed) < len(s.plan.proc.Signoffs) || len(s.plan.proc.Signoffs) == 0 && !s.settled():
		return NotDecided
	}
	return s.conceding()
}
