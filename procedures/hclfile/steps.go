package hclfile

import (
	"slices"
	"strings"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
	"waywright/procedures/hclfile/schema"
)

func (r *reader) step(n *node) *procedures.Step {
	s := n.decl.obj.(*procedures.Step)
	sc := &scope{below: n}
	s.When = r.condition(n, "when", sc)
	var keys []value.Key
	s.Each, keys = r.each(n, sc)
	s.Title = r.sentence(n, "title", sc)
	s.Needs = r.needs(n)
	s.Lasting = r.truth(n, "lasting")
	s.HoldPoint = r.signoff(n, "hold_point")
	s.Spindle = r.spindle(n)
	s.Cautions = r.cautions(n, "caution")
	s.Tools = r.sentences(n, "tools", sc)
	s.Do = r.sentences(n, "do", sc)
	s.GoodFor = r.time(n, "good_for", &scope{none: true})
	for _, k := range n.kids {
		if item := r.item(k, sc.inside(k, n), keys); item != nil {
			s.Items = append(s.Items, item)
		}
	}
	return s
}

func (r *reader) spindle(n *node) procedures.Spindle {
	switch r.oneOf(n, "spindle") {
	case "turning":
		return procedures.Turning
	case "stopped":
		return procedures.Stopped
	}
	return procedures.AnySpindle
}

func (r *reader) item(n *node, sc *scope, keys []value.Key) procedures.Item {
	switch n.kind {
	case schema.Confirm:
		c := n.decl.obj.(*procedures.Confirm)
		c.Ask = r.sentence(n, "ask", sc)
		return c
	case schema.Wait:
		return r.wait(n, sc)
	case schema.Reading:
		return r.reading(n, sc, keys)
	case schema.Result:
		return r.result(n, sc, keys)
	case schema.Gate:
		return r.gate(n, sc)
	}
	return nil // each
}

func (r *reader) wait(n *node, sc *scope) *procedures.Wait {
	w := n.decl.obj.(*procedures.Wait)
	w.Why = r.sentence(n, "why", sc)
	w.AtLeast = r.time(n, "at_least", sc)
	if u := n.child("until"); u != nil {
		w.Until = r.until(u, sc)
	} else if !n.has("at_least") && !r.misspelt(n, "at_least") && !r.misspelt(n, "until") {
		r.say(n, "E103", n.at, "A wait needs at_least, or an until block. Write, for example, at_least = minutes(10)")
	}
	return w
}

func (r *reader) until(n *node, sc *scope) *procedures.Until {
	u := &procedures.Until{At: n.at}
	ask := sc.with()
	ask.each = sc.eachPlus("take", sym{typ: value.CountType(), ready: true})
	u.Ask = r.sentence(n, "ask", ask)
	u.With = r.instrument(n, "with")
	u.Every = r.time(n, "every", sc)
	u.Takes = r.whole(n, "takes", 2, 1000, 2)
	unit := r.unit(n, "unit")
	if unit == nil {
		r.formula(n, "agree", sc, want{any: true})
		return u
	}
	u.Unit = *unit
	scalar := unitType(*unit)
	agree := value.NumberType(unit.Dim)
	u.Agree = r.formula(n, "agree", sc, want{typ: &agree, what: "agree"})
	r.sameDimension(n, u.With, scalar, true)
	return u
}

// unitType is the type of a value in that unit.
func unitType(u quantity.Unit) value.Type {
	if u.Point {
		return value.PointType()
	}
	return value.NumberType(u.Dim)
}

func (r *reader) reading(n *node, sc *scope, stepKeys []value.Key) *procedures.Reading {
	d := n.decl
	x := d.obj.(*procedures.Reading)
	own := sc.with()
	var keys []value.Key
	x.Each, keys = r.each(n, own)
	x.When = r.condition(n, "when", own)
	scalar, ok := r.answer(n, &x.Answer, own)
	x.Along, x.Around = r.places(n, own)
	if x.Repeat = r.whole(n, "repeat", 1, 100, 1); len(x.Choose) > 0 || x.Text || x.File {
		x.Repeat = 1
	}
	r.readingAsk(n, x, own)
	x.Turning = r.turning(n, own)
	x.BothWays, x.Turned = r.truth(n, "both_ways"), r.truth(n, "turned")
	x.Nudge = r.sentence(n, "nudge", own)
	if x.Push = r.sentence(n, "push", own); x.Push != nil && x.Nudge == nil && !n.has("nudge") {
		r.say(n, "E110", rng(n.attrs["push"].NameRange), "push says how the needle is made to go a way, but no way is written. Write, for example, nudge = \"down\", or leave push out.")
	}
	x.Positive = r.sentence(n, "positive", own)
	x.With = r.instrument(n, "with")
	x.Tested = r.tested(n, x)
	if diff, can := scalar.Difference(); can && ok {
		x.Closure = r.formula(n, "closure", own, want{typ: &diff, what: "closure"})
		r.sameDimension(n, x.With, scalar, ok)
	}
	r.readingWhole(n, x)
	t := placesType(n, scalar, x.Repeat)
	x.Inner = keyed(keys, t)
	x.Outer = keyed(stepKeys, x.Inner)
	d.inner, d.outer, d.unit, d.ready, d.tried = x.Inner, x.Outer, x.Unit, ok, true
	return x
}

// turning reads how the angles of a turn run.
func (r *reader) turning(n *node, sc *scope) procedures.Text {
	t := r.sentence(n, "turning", sc)
	if t == nil {
		return nil
	}
	at := n.attrs["turning"]
	if !n.has("around") {
		r.say(n, "E110", rng(at.NameRange), "turning says how the angles of around run, but there is no around. Write around, or leave turning out.")
		return nil
	}
	if s, ok := literal(at.Expr); ok && !strings.Contains(s, "clockwise") {
		r.say(n, "E112", rng(at.Expr.Range()), "turning says clockwise or anticlockwise, and seen from where. Write, for example, turning = \"clockwise, seen from the tailstock\"")
		return nil
	}
	return t
}

// tested reads at which reading the needle was tested.
func (r *reader) tested(n *node, x *procedures.Reading) *procedures.Reading {
	ref, ok := r.reference(n, "tested")
	if !ok {
		return nil
	}
	if ref.name == n.label {
		if x.Nudge == nil && !n.has("nudge") || n.up.child("each") == nil {
			r.say(n, "E110", ref.at, "The needle of this reading is tested in the first round of its step for all: that needs nudge, and a step with each. Write both, or name another reading.")
			return nil
		}
		return x
	}
	d := r.above(n, ref, &scope{below: n})
	if d == nil {
		return nil
	}
	other := d.obj.(*procedures.Reading)
	switch {
	case x.Nudge == nil && !n.has("nudge"):
		r.say(n, "E110", ref.at, "tested says where the needle was tested; nudge says which way the part is pushed when that does not hold any more. Write, for example, nudge = \"up\"")
	case !d.node.has("nudge"):
		r.say(n, "E204", ref.at, "%s tests no needle: it has no nudge. Name a reading that has.", ref.written())
	case other.With != x.With:
		r.say(n, "E204", ref.at, "%s is read with another instrument, so its test says nothing of this needle. Name a reading with the same instrument.", ref.written())
	default:
		return other
	}
	return nil
}

// places reads along and around.
func (r *reader) places(n *node, sc *scope) (along, around *formula.Program) {
	if n.has("along") && n.has("around") {
		r.say(n, "E109", rng(n.attrs["around"].NameRange), "along and around cannot both be written. Keep one; each makes the other a table.")
	}
	length := value.ListType(value.NumberType(quantity.Length))
	along = r.formula(n, "along", sc, want{typ: &length, what: "the stations"})
	if n.has("around") {
		if i, ok := wholeNumber(n.attr("around")); ok && (i < 2 || i > 1000) {
			r.say(n, "E113", rng(n.attr("around").Range()), "around is from 2 to 1000 even steps.")
			return along, nil
		}
		around = r.formula(n, "around", sc, want{around: true, what: "the angles"})
	}
	return along, around
}

// readingAsk compiles the question, which may name the place it asks for
// (semantics rule 19).
func (r *reader) readingAsk(n *node, x *procedures.Reading, sc *scope) {
	x.Ask = r.sentence(n, "ask", placesScope(n, sc))
}

func placesScope(n *node, sc *scope) *scope {
	ask := sc.with()
	if n.has("along") {
		ask.each = ask.eachPlus("station", sym{typ: value.NumberType(quantity.Length), ready: true})
	}
	if n.has("around") {
		ask.each = ask.eachPlus("angle", sym{typ: value.NumberType(quantity.Angle), unit: unitNamed("deg"), ready: true})
	}
	if n.has("repeat") {
		ask.each = ask.eachPlus("take", sym{typ: value.CountType(), ready: true})
	}
	return ask
}

func placesType(n *node, scalar value.Type, repeat int) value.Type {
	t := scalar
	numeric := t.Kind == value.Number || t.Kind == value.Point
	if repeat > 1 && numeric {
		t = value.TakesType(scalar)
	}
	switch {
	case n.has("along") && numeric:
		return value.ProfileType(t)
	case n.has("around") && numeric:
		return value.TurnType(t)
	}
	return t
}

// readingWhole tells of attributes that make no sense for one value.
func (r *reader) readingWhole(n *node, x *procedures.Reading) {
	many := len(x.Each) > 0 || n.has("along") || n.has("around") || len(n.up.all("each")) > 0
	if n.has("closure") && len(x.Each) == 0 && !n.has("along") && !n.has("around") {
		r.say(n, "E110", rng(n.attrs["closure"].NameRange), "closure reads the first station or key again, but this reading has only one value. Write along, around or each, or leave closure out.")
	}
	if n.has("both_ways") && !many {
		r.say(n, "E110", rng(n.attrs["both_ways"].NameRange), "both_ways goes along and returns, but this reading has only one value. Write along, around or each, or leave both_ways out.")
	}
}

func (r *reader) result(n *node, sc *scope, stepKeys []value.Key) *procedures.Result {
	d := n.decl
	x := d.obj.(*procedures.Result)
	x.Title = r.sentence(n, "title", sc)
	x.Positive = r.sentence(n, "positive", sc)
	x.Kept = r.truth(n, "kept")
	x.Unit = r.unit(n, "unit")
	x.Value = r.formula(n, "value", sc, want{any: true, result: true})
	d.tried = true
	if x.Value == nil {
		return x
	}
	x.Inner = x.Value.Type()
	x.Outer = keyed(stepKeys, x.Inner)
	d.inner, d.outer, d.unit, d.ready = x.Inner, x.Outer, x.Unit, true
	r.resultUnit(n, x)
	return x
}

// resultUnit holds the unit against the dimension of the formula.
func (r *reader) resultUnit(n *node, x *procedures.Result) {
	t := scalarOf(x.Inner)
	numeric := (t.Kind == value.Number || t.Kind == value.Point || t.Kind == value.Net) && !t.Count
	switch {
	case x.Unit == nil && numeric && !n.has("unit") && !r.misspelt(n, "unit"):
		r.say(n, "E103", n.at, "A result that is %s needs a unit, in which it is shown. Write, for example, unit = %q", t, fitting(t).Name)
	case x.Unit == nil:
	case !numeric:
		r.say(n, "E301", rng(n.attr("unit").Range()), "The value is %s, which has no unit. Leave unit out.", t)
	case unitType(*x.Unit).Kind != kindOrNumber(t) || x.Unit.Dim != dimOf(t):
		r.say(n, "E301", rng(n.attr("unit").Range()), "The value is %s, but %s is a unit of %s. Write, for example, unit = %q, or mend the formula.", t, x.Unit.Name, unitType(*x.Unit), fitting(t).Name)
	}
}

func (r *reader) gate(n *node, sc *scope) *procedures.Gate {
	g := n.decl.obj.(*procedures.Gate)
	g.Title = r.sentence(n, "title", sc)
	g.Source = r.word(n, "source")
	g.Test = r.word(n, "test")
	if rule, ok := checks.ParseRule(r.oneOf(n, "decision")); ok {
		g.Decision = rule
	}
	if g.IfFailed = r.ways(n); !n.has("if_failed") && !r.misspelt(n, "if_failed") {
		g.IfFailed = r.p.IfFailed
		if len(g.IfFailed) == 0 {
			r.say(n, "E103", n.at, "A gate needs if_failed, the ways on, or the procedure has one for all its gates. Write, for example, if_failed = [correction.set_over, concession]")
		}
	}
	g.Upstream = r.targets(n, "upstream")
	r.limit(n, g, sc)
	if g.Source == "" && !n.has("source") {
		g.Source = r.tableSources(g)
	}
	return g
}

// limitKinds are the attributes that say what a gate allows.
var limitKinds = []string{"within", "at_most", "at_least", "holds"}

// limit reads what is judged and against what.
func (r *reader) limit(n *node, g *procedures.Gate, sc *scope) {
	var kinds []string
	for _, a := range n.order {
		if slices.Contains(limitKinds, a.Name) {
			kinds = append(kinds, a.Name)
		}
	}
	if len(kinds) == 0 && !slices.ContainsFunc(limitKinds, func(k string) bool { return r.misspelt(n, k) }) {
		r.say(n, "E103", n.at, "A gate needs a limit: within, at_most, at_least or holds. Write, for example, at_most = um(20)")
	}
	if len(kinds) > 1 {
		r.say(n, "E109", rng(n.attrs[kinds[1]].NameRange), "%s and %s cannot both be written. For a zone with two limits write within = between(…, …).", kinds[0], kinds[1])
	}
	if n.has("holds") {
		g.Holds = r.condition(n, "holds", sc)
		if n.has("of") {
			r.say(n, "E109", rng(n.attrs["of"].NameRange), "holds is a condition of its own: leave of out.")
		}
		return
	}
	if !n.has("of") && !r.misspelt(n, "of") {
		r.say(n, "E103", n.at, "A gate needs of, what is judged. Write, for example, of = result.taper")
	}
	g.Of = r.formula(n, "of", sc, want{judged: true, what: "what is judged"})
	r.gateUnit(g)
	if len(kinds) > 0 {
		r.limits(n, g, kinds[0], sc)
	}
}

// gateUnit takes the unit and the positive sense from the result judged.
func (r *reader) gateUnit(g *procedures.Gate) {
	if g.Of == nil {
		return
	}
	t := scalarOf(g.Of.Type())
	g.Unit = fitting(t)
	refs := g.Of.Refs()
	if len(refs) != 1 {
		return
	}
	d := r.decls[refs[0].Space.String()][refs[0].Name]
	if d == nil || d.unit == nil || d.unit.Dim != dimOf(t) || d.unit.Point != (t.Kind == value.Point) {
		return
	}
	g.Unit = *d.unit
	switch x := d.obj.(type) {
	case *procedures.Result:
		g.Positive = x.Positive
	case *procedures.Reading:
		g.Positive = x.Positive
	}
}

func (r *reader) limits(n *node, g *procedures.Gate, kind string, sc *scope) {
	w := want{any: true}
	if g.Of != nil {
		t := scalarOf(g.Of.Type())
		w = want{typ: &t, what: "the limit", limitOf: r.judged(n)}
		if kind == "within" {
			z := value.ZoneType(t)
			w.typ = &z
		}
	}
	p := r.formula(n, kind, sc, w)
	switch kind {
	case "within":
		g.Within = p
	case "at_most":
		g.AtMost = p
	case "at_least":
		g.AtLeast = p
	}
}

// judged is what a message calls the thing that a gate judges.
func (r *reader) judged(n *node) string {
	e := n.attr("of")
	if e == nil {
		return "the value"
	}
	return r.text(e)
}

// ways reads if_failed.
func (r *reader) ways(n *node) []procedures.Way {
	var out []procedures.Way
	for _, ref := range r.references(n, "if_failed") {
		w := procedures.Way{At: ref.at}
		switch ref.word {
		case "reject":
			w.Kind = procedures.Reject
		case "concession":
			w.Kind = procedures.Concede
		case "noted":
			w.Kind = procedures.Note
		default:
			d := r.resolve(n, ref)
			if d == nil {
				continue
			}
			w.Kind, w.Correction = procedures.Correct, d.obj.(*procedures.Correction)
		}
		out = append(out, w)
	}
	return out
}

// tableSources are the sources of the rows from which a limit is made
// (semantics rule 48), and of what its functions look up in standard tables.
func (r *reader) tableSources(g *procedures.Gate) string {
	var out []string
	for _, p := range []*formula.Program{g.Within, g.AtMost, g.AtLeast, g.Holds} {
		if p == nil {
			continue
		}
		for _, ref := range p.Refs() {
			if ref.Space != formula.Table {
				continue
			}
			if row := r.row(ref.Name); row != nil && row.Source != "" && !slices.Contains(out, row.Source) {
				out = append(out, row.Source)
			}
		}
		for _, source := range p.Cites() {
			if !slices.Contains(out, source) {
				out = append(out, source)
			}
		}
	}
	return join(out, "; ")
}
