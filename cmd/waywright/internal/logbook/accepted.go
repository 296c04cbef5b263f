package logbook

import (
	"fmt"
	"time"

	"waywright/engine"
	"waywright/engine/overhaul"
	"waywright/procedures"
)

// Accepted finds what the givens of a procedure take from accepted runs of
// others on the same machine, with a sentence for each that cannot be had (see
// [overhaul.History.Accepted]).
//
// Of a run that is about to be begun for a task, what it begins anew counts
// already.
func (b Book) Accepted(p *procedures.Procedure, machine string, now time.Time, of Task) (found []engine.AcceptedValue, notes []string, err error) {
	if !overhaul.Takes(p) {
		return nil, nil, nil
	}
	h, err := b.seen(machine, of)
	if err != nil {
		return nil, nil, err
	}
	for _, name := range b.BrokenPlans() {
		notes = append(notes, fmt.Sprintf("The plan %s has mistakes, so what it says of the order does not count. See: waywright proofread %s", name, name))
	}
	found, more := h.Accepted(p, now)
	return found, append(notes, more...), nil
}

// seen is the history of a machine as a run sees it that is begun for a task.
func (b Book) seen(machine string, of Task) (*overhaul.History, error) {
	if of.Anew == nil {
		return b.History(engine.Machine{ID: machine})
	}
	h, err := b.History(engine.Machine{ID: machine}, of.Plan)
	if err == nil {
		h.Anew(of.Plan, of.Anew.Since, of.Anew.Because)
	}
	return h, err
}
