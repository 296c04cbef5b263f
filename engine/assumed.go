package engine

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// Assumed is a value that was agreed on where no accepted run has it: a given that
// cannot be typed is then offered it, with the doubt that was agreed with it
// (semantics rule 45).
type Assumed struct {
	Name    string  `json:"name"`  // of the given, with keys
	Value   float64 `json:"value"` // in Unit
	Unit    string  `json:"unit"`
	U       float64 `json:"u"` // standard uncertainty, in Unit
	Because string  `json:"because"`
	Agreed  string  `json:"agreed"` // who agreed to it, by name
}

// Kind implements [Data].
func (Assumed) Kind() string { return "assumed" }

// Assumption is a value that was agreed on: what, by whom, why and when.
type Assumption struct {
	Assumed
	Stamp
}

// origin says where the value comes from, as an answer has it.
func (a Assumed) origin() string { return "an assumption agreed with " + a.Agreed }

// Assumptions returns the values that were agreed on and that answers rest on.
func (s *State) Assumptions() []Assumption {
	var out []Assumption
	for _, f := range s.Givens() {
		if a, ok := s.assumed[f.Name]; ok && f.From == a.origin() {
			out = append(out, a)
		}
	}
	return out
}

// MayAssume tells why a value of a given cannot be agreed on in a run of p; nil
// where it can.
func MayAssume(p *procedures.Procedure, name string) error {
	first, _ := cut(name)
	for _, g := range p.Givens {
		switch {
		case g.Name != first:
		case g.Ask != nil:
			return fmt.Errorf("%s is asked: type it there", name)
		case g.Unit == nil:
			return fmt.Errorf("%s is no number", name)
		case !takesAccepted(g):
			return fmt.Errorf("%s comes from the machine's entry: write it there", name)
		default:
			return nil
		}
	}
	return fmt.Errorf("the procedure takes no %q from an accepted run", name)
}

func takesAccepted(g *procedures.Given) bool {
	if g.From == nil {
		return false
	}
	for _, r := range g.From.Refs() {
		if r.Space == formula.Accepted {
			return true
		}
	}
	return false
}

func (s *State) assume(ev Event, d Assumed) error {
	if err := MayAssume(s.plan.proc, d.Name); err != nil {
		return err
	}
	first, _ := cut(d.Name)
	u, err := quantity.Lookup(d.Unit)
	switch {
	case err != nil:
		return err
	case u.Dim != s.plan.givens[first].Unit.Dim:
		return fmt.Errorf("%s is assumed in %s, which does not fit", d.Name, d.Unit)
	case math.IsNaN(d.Value) || math.IsInf(d.Value, 0) || !(d.U >= 0) || math.IsInf(d.U, 0):
		return fmt.Errorf("%v ± %v cannot be assumed", d.Value, d.U)
	case d.Because == "" || d.Agreed == "":
		return errors.New("a value is assumed without who agreed to it and why")
	}
	m := maps.Clone(s.assumed)
	if m == nil {
		m = map[string]Assumption{}
	}
	m[d.Name] = Assumption{d, stamp(ev, d.Because)}
	s.assumed = m
	return nil
}

// assumption is what was agreed on for a given, as it is offered; nil where
// nothing was.
func (s *State) assumption(id string, unit *quantity.Unit) *Offer {
	a, ok := s.assumed[id]
	if !ok || unit == nil {
		return nil
	}
	u, err := quantity.Lookup(a.Unit)
	if err != nil {
		return nil
	}
	v := u.Base(a.Value)
	return &Offer{Value: v, Text: quantity.Short(v, *unit), exact: quantity.Plain(v, *unit), From: a.origin(), Assumed: true, U: a.U * u.Factor}
}

// assumedText reads back what was agreed on.
func (s *State) assumedText(d Assumed) string {
	u, err := quantity.Lookup(d.Unit)
	if err != nil {
		return ""
	}
	y, doubt := quantity.Rounded(u.Base(d.Value), coverage(0)*d.U*u.Factor, u)
	return fmt.Sprintf("Assumed by agreement with %s: %s %s, give or take %s. %s", d.Agreed, d.Name, quantity.WithSymbol(y, u), quantity.WithSymbol(doubt, u), strings.TrimRight(d.Because, ".")+".")
}

// coverage is the factor of an expanded uncertainty for a doubt that is known as
// well as dof says; 0 is very well.
func coverage(dof float64) float64 {
	if dof == 0 {
		dof = math.Inf(1)
	}
	return uncert.Coverage(dof)
}
