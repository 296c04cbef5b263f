package overhaul

import (
	"fmt"
	"math"
	"strings"
	"time"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// Accepted finds what the givens of a procedure take from accepted runs of
// others on the machine: of each the newest. A name is left out, and notes says
// why in a sentence, where there is no such run, where it is older than the
// given allows, or where something was done since that spoilt it.
//
// Semantics rule 45.
func (h *History) Accepted(p *procedures.Procedure, now time.Time) (found []engine.AcceptedValue, notes []string) {
	for _, g := range p.Givens {
		if g.From == nil {
			continue
		}
		for _, r := range g.From.Refs() {
			other, result, ok := strings.Cut(r.Name, ".")
			if r.Space != formula.Accepted || !ok {
				continue
			}
			v, note := h.value(g, other, result, now)
			if note != "" {
				notes = append(notes, note)
				continue
			}
			v.Name = r.Name
			found = append(found, v)
		}
	}
	return found, notes
}

// Takes reports whether a procedure takes anything from accepted runs.
func Takes(p *procedures.Procedure) bool {
	for _, g := range p.Givens {
		if g.From == nil {
			continue
		}
		for _, r := range g.From.Refs() {
			if r.Space == formula.Accepted {
				return true
			}
		}
	}
	return false
}

func (h *History) value(g *procedures.Given, procedure, result string, now time.Time) (v engine.AcceptedValue, note string) {
	machine := h.machine.ID
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
	if v, ok := resultOf(run.State, result); ok {
		v.Run, v.Day = run.Name, at.Format(time.DateOnly)
		return v, ""
	}
	return v, fmt.Sprintf("Run %s of %s has no %s, from which %q would be taken.", run.Name, procedure, result, g.Name)
}

// resultOf is a number that a run came to, as others take it.
func resultOf(s *engine.State, result string) (v engine.AcceptedValue, ok bool) {
	for _, r := range s.Results() {
		if r.Name != result || r.Value.State != value.Present || r.Value.Kind != value.Number && r.Value.Kind != value.Takes {
			continue
		}
		u := quantity.Ratio.Default()
		if r.Result.Unit != nil {
			u = *r.Result.Unit
		}
		v = engine.AcceptedValue{Value: u.Of(r.Value.Mean().Num), Unit: u.Name}
		if r.HasU && r.K > 0 {
			v.U = r.U / r.K / u.Factor
			if !math.IsInf(r.Dof, 1) {
				v.DoF = r.Dof
			}
		}
		return v, true
	}
	return v, false
}
