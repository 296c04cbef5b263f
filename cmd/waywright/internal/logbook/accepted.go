package logbook

import (
	"fmt"
	"math"
	"strings"
	"time"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/engine/overhaul"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// Accepted finds what the givens of a procedure take from accepted runs of
// others on the same machine: of each the newest. A name is left out, and
// notes says why in a sentence, where there is no such run, where it is older
// than the given allows, or where something was done since that spoilt it.
//
// Of a run that is about to be begun for a task, what it begins anew counts
// already.
//
// Semantics rule 45.
func (b Book) Accepted(p *procedures.Procedure, machine string, now time.Time, of Task) (found []engine.AcceptedValue, notes []string, err error) {
	var h *overhaul.History
	for _, g := range p.Givens {
		if g.From == nil {
			continue
		}
		for _, r := range g.From.Refs() {
			other, result, ok := strings.Cut(r.Name, ".")
			if r.Space != formula.Accepted || !ok {
				continue
			}
			if h == nil {
				if h, err = b.seen(machine, of); err != nil {
					return nil, nil, err
				}
				for _, name := range b.BrokenPlans() {
					notes = append(notes, fmt.Sprintf("The plan %s has mistakes, so what it says of the order does not count. See: waywright proofread %s", name, name))
				}
			}
			v, note := newestAccepted(h, g, machine, other, result, now)
			if note != "" {
				notes = append(notes, note)
				continue
			}
			v.Name = r.Name
			found = append(found, v)
		}
	}
	return found, notes, nil
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

func newestAccepted(h *overhaul.History, g *procedures.Given, machine, procedure, result string, now time.Time) (v engine.AcceptedValue, note string) {
	run, at, spoilt, ok := h.Newest(procedure)
	if !ok {
		return v, fmt.Sprintf("%s has no accepted run of %s yet, from which %q would be taken.", machine, procedure, g.Name)
	}
	if len(spoilt) > 0 {
		return v, fmt.Sprintf("The last accepted run of %s on %s, %s, does not count any more: %s. Nothing is taken from it for %q. Measure again.",
			procedure, machine, run.Name, spoilt[0].Said(), g.Name)
	}
	if g.Fresh != nil {
		if limit := g.Fresh.Eval(nil); limit.State == value.Present && now.Sub(at).Seconds() > limit.Num {
			return v, fmt.Sprintf("The last accepted run of %s on %s, %s, is of %s: older than the %s that %q allows. Measure again.",
				procedure, machine, run.Name, at.Format(time.DateOnly), engine.Period(time.Duration(limit.Num*float64(time.Second))), g.Name)
		}
	}
	for _, r := range run.State.Results() {
		if r.Name != result || r.Value.State != value.Present || r.Value.Kind != value.Number && r.Value.Kind != value.Takes {
			continue
		}
		u := quantity.Ratio.Default()
		if r.Result.Unit != nil {
			u = *r.Result.Unit
		}
		v = engine.AcceptedValue{Value: u.Of(r.Value.Mean().Num), Unit: u.Name, Run: run.Name, Day: at.Format(time.DateOnly)}
		if r.HasU && r.K > 0 {
			v.U = r.U / r.K / u.Factor
			if !math.IsInf(r.Dof, 1) {
				v.DoF = r.Dof
			}
		}
		return v, ""
	}
	return v, fmt.Sprintf("Run %s of %s has no %s, from which %q would be taken.", run.Name, procedure, result, g.Name)
}
