// Package overhaul works out where the overhaul of a machine stands: what of a
// plan is accepted, what was spoilt since and by what, what can be done next
// and what waits for what.
//
// A plan has no state of its own. Everything comes from the runs of one
// machine, as their journals have them: the same runs, plan and hour give the
// same [View]. Nothing here is kept, and nothing is read or written.
//
// Semantics rules 45 to 47.
package overhaul

import (
	"slices"
	"time"

	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
)

// State is what has become of a task.
type State string

// The states of a task.
const (
	NotBegun State = "not_begun"
	UnderWay State = "under_way"
	Accepted State = "accepted"
	Again    State = "again"    // it was accepted, and that does not hold any more
	Rejected State = "rejected" // the newest run that was decided
	Settled  State = "settled"  // its condition is false: it need not be done
)

// Task is a task of a plan and how it stands.
type Task struct {
	*procedures.Task
	State    State
	Run      string     // that the state is of; empty where there is none
	Accepted string     // the newest accepted run, whether it still holds or not
	At       time.Time  // when that was accepted
	Conceded bool       // with concessions
	Spoilt   []Cause    // what spoilt Run
	Stands   []Standing // what Run took over and was measured again since, without spoiling it
	Due      time.Time  // when it falls due again; zero: never
	Before   []Past     // what it came to in rounds before, oldest first
	Because  string     // of a run under way that was begun out of order, why

	// What holds it back. A task that is accepted waits for nothing.
	Waits   []*procedures.Task // tasks before it that are not settled
	From    time.Time          // by its delay, not before; zero: at any time
	Unknown []string           // what its condition does not know, in words
	Facts   []string           // what its condition knows, in words
}

// Held reports whether something stands in the way of beginning it.
func (t Task) Held() bool { return len(t.Waits) > 0 || !t.From.IsZero() || len(t.Unknown) > 0 }

// Ready reports whether it can be worked on next.
func (t Task) Ready() bool { return !t.Held() && t.State != Accepted && t.State != Settled }

// View is a plan and how it stands on one machine.
type View struct {
	Plan    *procedures.Overhaul
	Machine string
	Now     time.Time
	Round   Round
	Tasks   []Task // in an order in which they can be done
}

// Task returns a task by its name.
func (v View) Task(name string) (Task, bool) {
	for _, t := range v.Tasks {
		if t.Name == name {
			return t, true
		}
	}
	return Task{}, false
}

// Count returns how many tasks are in one of some states.
func (v View) Count(states ...State) int {
	n := 0
	for _, t := range v.Tasks {
		if slices.Contains(states, t.State) {
			n++
		}
	}
	return n
}

// Done reports whether nothing is left to do.
func (v View) Done() bool { return v.Count(Accepted, Settled) == len(v.Tasks) }

// Look works out how a plan stands. It must be one of those that the history
// was made with.
func (h *History) Look(plan *procedures.Overhaul, now time.Time) View {
	v := View{Plan: plan, Machine: h.machine.ID, Now: now, Round: h.Round(plan)}
	of := map[*procedures.Task]Task{}
	for _, t := range inOrder(plan) {
		of[t] = h.task(plan, t, of, now)
		v.Tasks = append(v.Tasks, of[t])
	}
	return v
}

// inOrder returns the tasks so that each stands behind those that it comes
// after, and otherwise as they were written.
func inOrder(plan *procedures.Overhaul) []*procedures.Task {
	var out []*procedures.Task
	seen := map[*procedures.Task]bool{}
	var visit func(t *procedures.Task)
	visit = func(t *procedures.Task) {
		if seen[t] {
			return
		}
		seen[t] = true
		for _, a := range t.After {
			visit(a)
		}
		out = append(out, t)
	}
	for _, t := range plan.Tasks {
		visit(t)
	}
	return out
}

// task works out one task, when those before it are known (semantics rule 47).
func (h *History) task(plan *procedures.Overhaul, t *procedures.Task, before map[*procedures.Task]Task, now time.Time) Task {
	out := h.byRuns(plan, t, now)
	applies := h.applies(t, &out)
	switch {
	case applies.State == value.Present && !applies.Truth:
		out.State, out.Spoilt, out.Unknown = Settled, nil, nil
		return out
	case out.State == Accepted:
		out.Unknown = nil
		return out
	}
	var last time.Time
	for _, a := range t.After {
		b := before[a]
		if b.State != Accepted && b.State != Settled {
			out.Waits = append(out.Waits, a)
		}
		if b.At.After(last) {
			last = b.At
		}
	}
	if d, ok := span(t.Delay); ok && len(out.Waits) == 0 && !last.IsZero() && out.State != UnderWay {
		if from := last.Add(d); now.Before(from) {
			out.From = from
		}
	}
	return out
}

// byRuns works out a task from its runs alone.
func (h *History) byRuns(plan *procedures.Overhaul, t *procedures.Task, now time.Time) Task {
	out := Task{Task: t, State: NotBegun, Before: h.pasts(plan, t)}
	var open, decided, accepted *past
	for _, r := range h.runs {
		switch {
		case h.tasks[plan][r] != t || h.left(plan, r) != nil:
		case r.accepted():
			accepted, decided, open = newer(accepted, r), newer(decided, r), nil
		case r.rejected():
			decided, open = newer(decided, r), nil
		case r.outcome == engine.Discontinued: // what was corrected in it counts, and nothing is under way
		default:
			open = r
		}
	}
	if accepted != nil {
		out.Accepted, out.At, out.Conceded = accepted.Name, accepted.ended, accepted.conceded()
		if d, ok := span(t.Renew); ok {
			out.Due = accepted.ended.Add(d)
		}
	}
	switch {
	case open != nil:
		out.State, out.Run, out.Because = UnderWay, open.Name, open.State.Begun().Because
		out.Spoilt = h.Spoilt(open.Name)
	case decided == nil:
	case decided.rejected():
		out.State, out.Run = Rejected, decided.Name
	default:
		out.State, out.Run, out.Spoilt, out.Stands = Accepted, accepted.Name, h.Spoilt(accepted.Name), h.Standing(accepted.Name)
		if len(out.Spoilt) > 0 || out.Overdue(now) {
			out.State = Again
		}
	}
	return out
}

// Overdue reports whether it was accepted longer ago than it is good for.
func (t Task) Overdue(now time.Time) bool { return !t.Due.IsZero() && now.After(t.Due) }

// newer returns the run of the two that was decided later.
func newer(a, b *past) *past {
	if a == nil || b.ended.After(a.ended) {
		return b
	}
	return a
}
