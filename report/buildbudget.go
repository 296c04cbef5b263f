package report

import (
	"math"
	"strconv"

	"waywright/checks/propagate"
	"waywright/checks/quantity"
)

// budget fills in where the doubt of a test comes from, how it was worked out
// and what the risk of its verdict is. What gives less than a thousandth of the
// variance is left out.
func (b *builder) budget(t *Test) {
	bud, ok := b.s.Budget(t.Name, "")
	if !ok || len(bud.Parts) == 0 {
		return
	}
	u := b.unit(bud.Unit).Difference()
	for _, p := range bud.Parts {
		gives, own := number(p.Gives, u, placesFor(p.Gives, u)), number(p.U, p.Unit, placesFor(p.U, p.Unit))
		if gives == nil || own == nil || p.Share < 0.001 {
			continue
		}
		d := Doubt{Source: capital(p.Source), U: *gives, Share: steady(p.Share), Own: own, Sensitivity: steady(sensitivity(p, u))}
		if p.Unit.Dim != u.Dim {
			d.SensitivityCode = "(" + u.UCUM + ")/(" + p.Unit.UCUM + ")"
		}
		if !math.IsInf(p.DoF, 0) && !math.IsNaN(p.DoF) {
			d.DoF = steady(p.DoF)
		}
		t.Doubt = append(t.Doubt, d)
	}
	t.Method = method(bud.Drawn, b.unit(bud.Unit), bud.U)
	if said := RiskSaid(bud.Risk); said != "" {
		t.Risk = &Risk{AtMost: steady(bud.Risk), Said: said}
	}
}

// whyNames are the reasons for drawing errors, as the JSON has them.
var whyNames = map[propagate.Why]string{propagate.Kink: "kink", propagate.Curved: "curved", propagate.Divisor: "divisor"}

func method(d *propagate.Drawn, u quantity.Unit, bigU float64) *Method {
	m := &Method{Name: "sensitivities", Said: MethodSaid(d)}
	if d == nil {
		return m
	}
	places := placesFor(bigU, u)
	m.Name, m.Why, m.Trials, m.Seed = "drawn", whyNames[d.Why], d.Trials, strconv.FormatUint(d.Seed, 16)
	m.Bias = number(d.Bias, u.Difference(), places)
	m.From, m.To = number(d.Symmetric.Low, u, places), number(d.Symmetric.High, u, places)
	return m
}

// runRisk is the risk that any test that passed should not have.
func (b *builder) runRisk() *Risk {
	risk, n := b.s.RunRisk()
	if n == 0 {
		return nil
	}
	return &Risk{AtMost: steady(risk), Said: RunRiskSaid(risk, n), Tests: n}
}
