package engine

import (
	"waywright/checks"
	"waywright/procedures"
)

// RuleFrom says whose a decision rule is.
type RuleFrom string

// Those who can state one.
const (
	RuleOfProcedure RuleFrom = "procedure"
	RuleOfGate      RuleFrom = "gate"
	RuleOfShop      RuleFrom = "shop"
)

// RuleFor returns the decision rule for a gate of a procedure, or with no gate
// for all that have none of their own, and whose it is. A shop may only make
// the procedure's stricter (measure rule 12); a gate's own stands first, since
// it says that the gate checks something else than the machine (semantics rule
// 27).
func RuleFor(p *procedures.Procedure, g *procedures.Gate, shop checks.Rule) (checks.Rule, RuleFrom) {
	if g != nil && g.Decision != checks.NoRule {
		return g.Decision, RuleOfGate
	}
	r := p.Decision
	if r == checks.NoRule {
		r = checks.Guarded
	}
	if shop > r {
		return shop, RuleOfShop
	}
	return r, RuleOfProcedure
}

// RuleFor is [RuleFor] in this run, with the shop's rule of the day on which it
// was begun.
func (s *State) RuleFor(g *procedures.Gate) (checks.Rule, RuleFrom) {
	shop, _ := checks.ParseRule(s.begun.Rule)
	return RuleFor(s.plan.proc, g, shop)
}

// rule is the decision rule for a gate.
func (s *State) rule(g *procedures.Gate) checks.Rule {
	r, _ := s.RuleFor(g)
	return r
}
