package overhaul

import (
	"slices"
	"time"

	"waywright/engine"
	"waywright/procedures"
)

// Round is one pass through a plan on one machine. The first begins by itself.
// A further one is begun on purpose, with a run that says so: the machine came
// back after years, and nothing that was accepted then is true of it now. Runs
// that were begun before a round are history: they count for no task of it, and
// no value is taken from them.
type Round struct {
	N       int // 1 for the first
	Since   time.Time
	Because string
	Run     string // that it was begun with; empty for the first, and for one that is about to begin
}

// Round returns the round that a plan is in.
func (h *History) Round(plan *procedures.Overhaul) Round {
	if rs := h.rounds[plan]; len(rs) > 0 {
		return rs[len(rs)-1]
	}
	return Round{N: 1}
}

// Anew shows things as they stand when a plan is begun anew, before any run
// was. It returns how many runs that leaves behind.
func (h *History) Anew(plan *procedures.Overhaul, since time.Time, because string) int {
	n := 0
	for r, t := range h.tasks[plan] {
		if t != nil && h.left(plan, r) == nil && r.began().Before(since) {
			n++
		}
	}
	rs := h.rounds[plan]
	h.rounds[plan] = append(rs, Round{N: len(rs) + 2, Since: since, Because: because})
	h.spoils = map[*past][]Cause{}
	return n
}

// readRounds finds the rounds of the plans in the runs that began them.
func (h *History) readRounds() {
	h.rounds = map[*procedures.Overhaul][]Round{}
	for _, plan := range h.plans {
		var rs []Round
		for _, r := range h.runs {
			if b := r.State.Begun(); b.Anew != nil && b.Overhaul == plan.Name {
				rs = append(rs, Round{Since: b.Anew.Since, Because: b.Anew.Because, Run: r.Name})
			}
		}
		slices.SortStableFunc(rs, func(a, b Round) int { return a.Since.Compare(b.Since) })
		for i := range rs {
			rs[i].N = i + 2
		}
		h.rounds[plan] = rs
	}
}

// left returns the first round of a plan that left a run behind, or nil.
func (h *History) left(plan *procedures.Overhaul, r *past) *Round {
	for i, x := range h.rounds[plan] {
		if r.began().Before(x.Since) {
			return &h.rounds[plan][i]
		}
	}
	return nil
}

// History reports whether a run is of a round that is over, in any of the
// plans: it says how the machine was then, and nothing of how it is.
func (h *History) History(name string) bool {
	p := h.find(name)
	return p != nil && h.bygone(p)
}

func (h *History) bygone(p *past) bool {
	return slices.ContainsFunc(h.plans, func(plan *procedures.Overhaul) bool {
		return h.tasks[plan][p] != nil && h.left(plan, p) != nil
	})
}

// leftBehind lists the rounds that left a run behind, as what it does not hold
// any more by: of each plan the first.
func (h *History) leftBehind(p *past) []Cause {
	var out []Cause
	for _, plan := range h.plans {
		if x := h.left(plan, p); x != nil && h.tasks[plan][p] != nil {
			out = append(out, Cause{Kind: NewRound, At: x.Since, Run: x.Run, Plan: plan.Name, Why: x.Because})
		}
	}
	return out
}

func (p *past) began() time.Time { return p.State.BeganAt().Time }

// Past is what a task came to in the rounds before.
type Past struct {
	Run     string
	Outcome engine.Outcome
	At      time.Time // when it was decided; of a run that never was, when it was begun
}

// pasts returns the runs of a task that are of rounds before, oldest first.
func (h *History) pasts(plan *procedures.Overhaul, t *procedures.Task) []Past {
	var out []Past
	for _, r := range h.runs {
		if h.tasks[plan][r] != t || h.left(plan, r) == nil {
			continue
		}
		x := Past{r.Name, r.outcome, r.ended}
		if x.Outcome == engine.NotDecided {
			x.At = r.began()
		}
		out = append(out, x)
	}
	return out
}
