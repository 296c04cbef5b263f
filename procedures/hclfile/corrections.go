package hclfile

import (
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/hclfile/schema"
)

// firstGates finds the first gate that names each correction: what stands
// above it is what the correction may use (semantics rule 3).
func (r *reader) firstGates(own *node) {
	r.firstGate = map[string]*node{}
	for _, step := range own.all("step") {
		for _, g := range step.all("gate") {
			for _, name := range correctionsOf(g) {
				if _, have := r.firstGate[name]; !have {
					r.firstGate[name] = g
				}
			}
		}
	}
}

func correctionsOf(g *node) []string {
	var out []string
	for _, e := range listOf(g.attr("if_failed")) {
		if ref, ok := plainReference(e); ok && ref.word == schema.Correction.Type {
			out = append(out, ref.name)
		}
	}
	return out
}

func (r *reader) correction(n *node) *procedures.Correction {
	c := n.decl.obj.(*procedures.Correction)
	sc := &scope{below: r.firstGate[n.label], gate: r.firstGate[n.label] != nil}
	c.Title = r.sentence(n, "title", sc)
	c.When = r.condition(n, "when", sc)
	c.Do = r.sentences(n, "do", sc)
	c.Cautions = r.cautions(n, "caution")
	c.Spindle = r.spindle(n)
	c.Attempts = r.whole(n, "attempts", 1, 100, 6)
	c.Disturbs = r.targets(n, "disturbs")
	c.Ledger = r.sentence(n, "ledger", sc)
	c.Positive = r.sentence(n, "positive", sc)
	c.Negative = r.sentence(n, "negative", sc)
	c.Unit = r.unit(n, "unit")
	if !r.amount(n, c, sc) {
		return c
	}
	if m := n.child("moved"); m != nil {
		c.Moved = r.moved(m, c, sc)
	}
	if s := n.child("should_change"); s != nil {
		c.Should = r.shouldChange(s, c, sc)
	}
	return c
}

// amount reads how far to go. Where there is none it sees to it that nothing
// else needs one (semantics rule 35), and returns false.
func (r *reader) amount(n *node, c *procedures.Correction, sc *scope) bool {
	if !n.has("amount") {
		if r.misspelt(n, "amount") {
			return true
		}
		for _, a := range []string{"unit", "positive", "negative", "ledger"} {
			if n.has(a) {
				r.say(n, "E110", rng(n.attrs[a].NameRange), "%s says something about the amount, but this correction has none. Write amount = …, or leave %s out.", a, a)
			}
		}
		for _, b := range []string{"moved", "should_change"} {
			if k := n.child(b); k != nil {
				r.say(n, "E110", k.at, "%s is about the amount, but this correction has none. Write amount = …, or leave %s out.", b, b)
			}
		}
		return false
	}
	if !n.has("positive") && !r.misspelt(n, "positive") {
		r.say(n, "E103", n.at, "A correction with an amount says in words which way plus is. Write, for example, positive = \"towards the operator\"")
	}
	if !n.has("unit") && !r.misspelt(n, "unit") {
		r.say(n, "E103", n.at, "A correction with an amount needs the unit in which it is shown. Write, for example, unit = \"mm\"")
	}
	c.Amount = r.formula(n, "amount", sc, want{amount: true, what: "the amount"})
	if c.Amount == nil || c.Unit == nil {
		return true
	}
	t := scalarOf(c.Amount.Type())
	if t.Kind != value.Number || t.Dim != c.Unit.Dim || c.Unit.Point {
		r.say(n, "E301", rng(n.attr("unit").Range()), "The amount is %s, but %s is a unit of %s. Write, for example, unit = %q, or mend the amount.", t, c.Unit.Name, unitType(*c.Unit), fitting(t).Name)
	}
	return true
}

func (r *reader) moved(n *node, c *procedures.Correction, sc *scope) *procedures.Moved {
	m := &procedures.Moved{At: n.at}
	m.Ask = r.sentence(n, "ask", sc)
	m.With = r.instrument(n, "with")
	if u := r.unit(n, "unit"); u != nil {
		m.Unit = *u
	} else if c.Unit != nil {
		m.Unit = *c.Unit
	} else {
		return m
	}
	if c.Unit != nil && c.Unit.Dim != m.Unit.Dim {
		r.say(n, "E301", rng(n.attr("unit").Range()), "What was moved is %s, but the amount is %s. Give both a unit of one dimension.", unitType(m.Unit), unitType(*c.Unit))
		return m
	}
	r.sameDimension(n, m.With, unitType(m.Unit), true)
	return m
}

func (r *reader) shouldChange(n *node, c *procedures.Correction, sc *scope) *procedures.ShouldChange {
	s := &procedures.ShouldChange{At: n.at}
	by := sc.with()
	by.own = map[string]sym{"amount": amountSym(c)}
	w := want{any: true}
	if ref, ok := r.reference(n, "result"); ok {
		if d := r.above(n, ref, sc); d != nil {
			s.Result = d.obj.(*procedures.Result)
			if d.ready {
				if diff, ok := scalarOf(d.outer).Difference(); ok && !d.outer.Collection() {
					w = want{typ: &diff, what: "the change of result." + ref.name}
				} else if !ok {
					r.say(n, "E301", ref.at, "result.%s is %s, so it cannot change by an amount. Name a result that is a number.", ref.name, d.outer)
				}
			}
		}
	}
	s.By = r.formula(n, "by", by, w)
	return s
}

// amountSym is amount, and moved, as should_change and reacts see it.
func amountSym(c *procedures.Correction) sym {
	if c.Amount == nil {
		return sym{}
	}
	return sym{typ: c.Amount.Type().Mean(), unit: c.Unit, ready: true}
}
