package logbook

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
// others on the same machine: of each the newest. A name is left out, and
// notes says why in a sentence, where there is no such run or it is older than
// the given allows.
//
// Semantics rule 45.
func (b Book) Accepted(p *procedures.Procedure, machine string, now time.Time) (found []engine.AcceptedValue, notes []string, err error) {
	var runs []Summary
	for _, g := range p.Givens {
		if g.From == nil {
			continue
		}
		for _, r := range g.From.Refs() {
			other, result, ok := strings.Cut(r.Name, ".")
			if r.Space != formula.Accepted || !ok {
				continue
			}
			if runs == nil {
				if runs, err = b.Runs(); err != nil {
					return nil, nil, err
				}
			}
			v, note := newestAccepted(runs, g, machine, other, result, now)
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

func newestAccepted(runs []Summary, g *procedures.Given, machine, procedure, result string, now time.Time) (v engine.AcceptedValue, note string) {
	run, at := newest(runs, machine, procedure)
	if run == nil {
		return v, fmt.Sprintf("%s has no accepted run of %s yet, from which %q would be taken.", machine, procedure, g.Name)
	}
	if g.Fresh != nil {
		if limit := g.Fresh.Eval(nil); limit.State == value.Present && now.Sub(at).Seconds() > limit.Num {
			return v, fmt.Sprintf("The last accepted run of %s on %s, %s, is of %s: older than the %s that %q allows. Measure again.",
				procedure, machine, run.Name, at.Format(time.DateOnly), quantity.Plain(limit.Num, quantity.Time.Default()), g.Name)
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

// newest returns the run of a procedure on a machine that was accepted last,
// and when that was.
func newest(runs []Summary, machine, procedure string) (run *Run, at time.Time) {
	for _, s := range runs {
		if s.Run == nil || s.Run.State.Procedure().Name != procedure || s.Run.State.Begun().Machine.ID != machine {
			continue
		}
		if o := s.Run.State.Outcome(); o != engine.Accepted && o != engine.Conceded {
			continue
		}
		if run == nil || s.Last.After(at) {
			run, at = s.Run, s.Last
		}
	}
	return run, at
}
