package overhaul

import (
	"slices"
	"time"

	"waywright/engine"
	"waywright/procedures"
)

// Run is a run with its name in the logbook.
type Run struct {
	Name  string
	State *engine.State
}

// History is what the runs of one machine did to one another.
type History struct {
	machine engine.Machine
	runs    []*past // in the order in which they were begun
	plans   []*procedures.Overhaul
	tasks   map[*procedures.Overhaul]map[*past]*procedures.Task
	rounds  map[*procedures.Overhaul][]Round // begun on purpose, oldest first
	spoils  map[*past][]Cause
	news    map[*past]*renewal
}

// past is a run and what counts of it for others.
type past struct {
	Run
	outcome engine.Outcome
	ended   time.Time // when it was decided
	oldest  time.Time // its oldest present reading; zero: nothing was read yet
	reports []report
	taken   []engine.TakenValue
}

// report is a correction that was reported.
type report struct {
	corr *procedures.Correction
	at   time.Time
	n    int
}

// idle tells whether a run was abandoned before anything was done to the machine:
// it counts for nothing.
func idle(r Run) bool {
	return r.State.Abandoned() != nil && len(r.State.Corrections()) == 0
}

func (p *past) accepted() bool {
	return p.outcome.Stands()
}
func (p *past) conceded() bool    { return p.outcome == engine.Conceded }
func (p *past) rejected() bool    { return p.outcome == engine.Rejected }
func (p *past) procedure() string { return p.State.Procedure().Name }

// Read takes from the runs what they did to one another. Runs of other
// machines are left out. The plans say what comes after what; there may be
// none.
func Read(machine engine.Machine, runs []Run, plans ...*procedures.Overhaul) *History {
	h := &History{machine: machine, plans: plans, tasks: map[*procedures.Overhaul]map[*past]*procedures.Task{}, spoils: map[*past][]Cause{}, news: map[*past]*renewal{}}
	for _, r := range runs {
		if r.State.Begun().Machine.ID == machine.ID && !idle(r) {
			h.runs = append(h.runs, read(r))
		}
	}
	slices.SortStableFunc(h.runs, func(a, b *past) int { return a.State.BeganAt().Time.Compare(b.State.BeganAt().Time) })
	for _, plan := range plans {
		h.tasks[plan] = map[*past]*procedures.Task{}
		for _, r := range h.runs {
			if t := taskOf(plan, r); t != nil {
				h.tasks[plan][r] = t
			}
		}
	}
	h.readRounds()
	return h
}

// Add puts one more run into a history, so that those before are not read
// again.
func (h *History) Add(r Run) {
	if r.State.Begun().Machine.ID != h.machine.ID {
		return
	}
	p := read(r)
	h.runs = append(h.runs, p)
	slices.SortStableFunc(h.runs, func(a, b *past) int { return a.State.BeganAt().Time.Compare(b.State.BeganAt().Time) })
	for _, plan := range h.plans {
		if t := taskOf(plan, p); t != nil {
			h.tasks[plan][p] = t
		}
	}
	h.readRounds()
	h.spoils, h.news = map[*past][]Cause{}, map[*past]*renewal{}
}

// taskOf returns the task that a run was begun for. One that was begun for no
// task of this plan counts for the only task of its procedure, where there is
// only one.
func taskOf(plan *procedures.Overhaul, r *past) *procedures.Task {
	begun := r.State.Begun()
	var only *procedures.Task
	n := 0
	for _, t := range plan.Tasks {
		if t.Procedure != r.procedure() {
			continue
		}
		if t.Name == begun.Task && (begun.Overhaul == plan.Name || begun.Overhaul == "") {
			return t
		}
		only = t
		n++
	}
	if n != 1 {
		return nil
	}
	return only
}

func read(r Run) *past {
	p := &past{Run: r, outcome: r.State.Outcome(), taken: r.State.Taken()}
	gone := map[int]bool{}
	for _, ev := range r.State.Events() {
		if w, ok := ev.Data.(engine.Withdrawn); ok {
			gone[w.Of] = true
		}
	}
	for _, ev := range r.State.Events() {
		if gone[ev.N] {
			continue
		}
		switch d := ev.Data.(type) {
		case engine.Reported:
			for _, c := range r.State.Procedure().Corrections {
				if c.Name == d.Correction {
					p.reports = append(p.reports, report{c, ev.Time, ev.N})
				}
			}
		case engine.Sat, engine.Found, engine.Noted, engine.Paused:
			continue // it was decided before
		}
		p.ended = ev.Time
	}
	p.oldest = oldest(p)
	return p
}

// oldest returns when the oldest reading that stands was taken: of a run
// without readings the oldest answer that does, or the end. Of a run that is
// under way and in which nothing stands it is zero: there is nothing to spoil.
func oldest(p *past) time.Time {
	var out time.Time
	note := func(at time.Time) {
		if out.IsZero() || at.Before(out) {
			out = at
		}
	}
	for _, set := range p.State.Readings() {
		if set.State != "used" {
			continue
		}
		for _, t := range set.Takes {
			note(t.Time)
		}
	}
	if !out.IsZero() {
		return out
	}
	for _, f := range p.State.Confirms() {
		if !f.Stale {
			note(f.Time)
		}
	}
	if out.IsZero() && p.outcome != engine.NotDecided {
		return p.ended
	}
	return out
}

// find returns a run by its name, or nil.
func (h *History) find(name string) *past {
	for _, r := range h.runs {
		if r.Name == name {
			return r
		}
	}
	return nil
}

// newest returns the run of a procedure that was accepted last, or nil: one that
// is history only where there is no other.
func (h *History) newest(procedure string) *past {
	var out, gone *past
	for _, r := range h.runs {
		switch {
		case !r.accepted() || r.procedure() != procedure:
		case h.bygone(r):
			gone = newer(gone, r)
		default:
			out = newer(out, r)
		}
	}
	if out == nil {
		return gone
	}
	return out
}

// Newest returns the run of a procedure that was accepted last and when that
// was, with what has spoilt it since; ok is false where none was accepted. A
// value may be taken from it only where nothing has (semantics rule 45).
func (h *History) Newest(procedure string) (r Run, at time.Time, spoilt []Cause, ok bool) {
	p := h.newest(procedure)
	if p == nil {
		return r, at, nil, false
	}
	return p.Run, p.ended, h.Spoilt(p.Name), true
}

// Replaced returns the accepted run that took the place of another one of its
// procedure, or "".
func (h *History) Replaced(name string) string {
	p := h.find(name)
	if p == nil || !p.accepted() {
		return ""
	}
	if q := h.newest(p.procedure()); q != p && q.ended.After(p.ended) && h.sameTask(p, q) {
		return q.Name
	}
	return ""
}

// sameTask reports whether two runs of one procedure are of one task in every
// plan.
func (h *History) sameTask(a, b *past) bool {
	for _, plan := range h.plans {
		if h.tasks[plan][a] != h.tasks[plan][b] {
			return false
		}
	}
	return true
}
