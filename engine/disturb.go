package engine

import (
	"fmt"
	"slices"
	"strings"

	"waywright/procedures"
)

// disturbed works again what rests on a step, an instrument or the machine,
// lasting steps too (semantics rule 32).
func (s *State) disturbed(ev Event, d Disturbed) error {
	hit, ok := s.plan.restingOn(d)
	if !ok {
		return fmt.Errorf("it disturbs %s %q, which the procedure does not have", d.What, d.Name)
	}
	s.disturbs = append(s.disturbs, DisturbRecord{d, ev.By, ev.Time, ev.N})
	s.cleared, s.spindle = map[string]bool{}, procedures.AnySpindle // what was said before does not hold for another try
	if in := s.plan.instruments[d.Name]; d.What == "instrument" && in != nil {
		delete(s.bound, in.Name) // which one is in the hand now is asked again
		s.forgetSigns(in)
	}
	s.spoil(hit, "disturbed: "+d.Reason)
	return nil
}

// restingOn lists the steps that a disturbance reaches; ok is false where the
// procedure does not have what it names.
func (pl *Plan) restingOn(d Disturbed) (hit []*procedures.Step, ok bool) {
	var directly func(st *procedures.Step) bool
	switch in, step := pl.instruments[d.Name], pl.steps[d.Name]; {
	case d.What == "machine":
		return slices.Clone(pl.proc.Steps), true
	case d.What == "step" && step != nil:
		directly = func(st *procedures.Step) bool { return st == step }
	case d.What == "instrument" && in != nil:
		directly = func(st *procedures.Step) bool { return uses(st, in) }
	default:
		return nil, false
	}
	for _, st := range pl.proc.Steps {
		if directly(st) || slices.ContainsFunc(pl.proc.Steps, func(o *procedures.Step) bool { return directly(o) && needs(st, o) }) {
			hit = append(hit, st)
		}
	}
	return hit, true
}

// forgetSigns lets go what was found of the needle's sign, which belongs to
// how the indicator stood.
func (s *State) forgetSigns(in *procedures.Instrument) {
	for _, c := range s.plan.proc.Corrections {
		if c.Moved != nil && c.Moved.With == in {
			delete(s.signs, c.Name)
		}
	}
}

// disturb takes what a person says was disturbed.
func (s *State) disturb(in Input) ([]Data, *Refusal) {
	what := "step"
	switch {
	case in.Name == "machine":
		return s.disturbData("machine", "", in.Reason)
	case s.plan.instruments[strings.TrimPrefix(in.Name, "instrument.")] != nil:
		what = "instrument"
	case s.plan.steps[in.Name] == nil:
		return nil, refuse("name", fmt.Sprintf("I read %s.", in.Name), "That is no step and no instrument of this procedure.",
			"Name a step, an instrument, or machine.")
	}
	return s.disturbData(what, strings.TrimPrefix(in.Name, "instrument."), in.Reason)
}

func (s *State) disturbData(what, name, reason string) ([]Data, *Refusal) {
	if strings.TrimSpace(reason) == "" {
		return nil, reasonWanted("Saying that something was disturbed")
	}
	return []Data{Disturbed{What: what, Name: name, Reason: reason}}, nil
}
