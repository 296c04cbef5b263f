package hclfile

import (
	"maps"
	"slices"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/formula"
	"waywright/procedures/hclfile/schema"
)

func (r *reader) rehearsals(own *node) {
	seen := map[string]*node{}
	for _, n := range own.all("rehearsal") {
		first := seen[n.label]
		if first != nil && n.label != "" {
			r.say(n, "E203", n.name, "There is another rehearsal %q in line %d. Give one of them other words.", n.label, first.at.Start.Line)
		}
		base := r.base(n, seen)
		n = n.like(base)
		if first == nil {
			seen[n.label] = n
		}
		told := len(r.diags)
		r.p.Rehearsals = append(r.p.Rehearsals, r.rehearsal(n))
		if base != nil {
			r.diags = append(r.diags[:told], unlike(r.diags[:told], r.diags[told:])...)
		}
	}
}

// base returns the rehearsal that another one is like, or nil.
func (r *reader) base(n *node, above map[string]*node) *node {
	name := r.word(n, "like")
	if name == "" {
		return nil
	}
	if above[name] != nil {
		return above[name]
	}
	names := slices.Collect(maps.Keys(above))
	for _, h := range r.shared[1:] {
		if base := h.defs["rehearsal"][name]; base != nil {
			r.used[h.file] = true
			return r.machineOf(base)
		}
		names = slices.AppendSeq(names, maps.Keys(h.defs["rehearsal"]))
	}
	slices.Sort(names)
	r.say(n, "E201", rng(n.attr("like").Range()), "There is no rehearsal %q above this one, nor in a shared.hcl.%s Write the name of one that stands higher up.",
		name, didYouMean(name, slices.Compact(names)))
	return nil
}

// machineOf returns a rehearsal of a shared file as far as this procedure asks
// for it: a machine is described there for several procedures, each of which
// reads some of it.
func (r *reader) machineOf(shared *node) *node {
	out := *shared
	out.kids = nil
	for _, k := range shared.kids {
		switch k.kind.Type {
		case "answer", "noise":
			part := *k
			part.order = slices.DeleteFunc(slices.Clone(k.order), func(a *hclsyntax.Attribute) bool { return r.names[a.Name] == nil })
			part.attrs = maps.Clone(k.attrs)
			maps.DeleteFunc(part.attrs, func(name string, _ *hclsyntax.Attribute) bool { return r.names[name] == nil })
			out.kids = append(out.kids, &part)
		case "reacts":
			if d := r.names[k.label]; d == nil || d.word != "correction" {
				continue
			}
			out.kids = append(out.kids, k)
		default:
			out.kids = append(out.kids, k)
		}
	}
	return &out
}

// like returns a rehearsal with what another one has besides: its grade, what
// it hides, scatters and answers under other names, and its reacts blocks for
// other corrections. How machines differ (spread) is said of each by itself.
func (n *node) like(base *node) *node {
	if base == nil {
		return n
	}
	out := *n
	out.attrs = maps.Clone(n.attrs)
	if !n.has("grade") && base.has("grade") {
		out.attrs["grade"] = base.attrs["grade"]
	}
	out.kids = nil
	for _, k := range base.kids {
		switch k.kind.Type {
		case "hidden", "noise", "answer":
			out.kids = append(out.kids, k.over(n.child(k.kind.Type)))
		case "reacts":
			if !slices.ContainsFunc(n.all("reacts"), func(o *node) bool { return o.label == k.label }) {
				out.kids = append(out.kids, k)
			}
		}
	}
	for _, k := range n.kids {
		if k.kind.Type == "reacts" || k.kind.Type == "mistake" || out.child(k.kind.Type) == nil {
			out.kids = append(out.kids, k)
		}
	}
	return &out
}

// over returns a free block with another one laid over it: what that says
// stands in the place of what this says of the same name, the rest behind.
func (n *node) over(upper *node) *node {
	if upper == nil {
		return n
	}
	out := *upper
	out.attrs = maps.Clone(n.attrs)
	maps.Copy(out.attrs, upper.attrs)
	out.order = nil
	for _, a := range n.order {
		out.order = append(out.order, out.attrs[a.Name])
	}
	for _, a := range upper.order {
		if !n.has(a.Name) {
			out.order = append(out.order, a)
		}
	}
	return &out
}

// unlike leaves out what has been told of the same place before.
func unlike(before, now []diagnose.Diagnostic) []diagnose.Diagnostic {
	return slices.DeleteFunc(slices.Clone(now), func(d diagnose.Diagnostic) bool {
		return slices.ContainsFunc(before, func(b diagnose.Diagnostic) bool { return b.Code == d.Code && b.Subject == d.Subject })
	})
}

func (r *reader) rehearsal(n *node) *procedures.Rehearsal {
	x := &procedures.Rehearsal{Name: n.label, At: n.at}
	x.Seeds = r.whole(n, "seeds", 1, 100000, 1)
	x.Grade = r.word(n, "grade")
	r.gradeKnown(n, x.Grade)
	sc := &scope{hidden: map[string]sym{}}
	if k := n.child("hidden"); k != nil {
		x.Hidden = r.hidden(k, sc)
	}
	if k := n.child("spread"); k != nil {
		for _, a := range k.order {
			if p := r.spread(k, a, sc); p != nil {
				x.Spread = append(x.Spread, procedures.Assign{Name: a.Name, Value: p, At: rng(a.SrcRange)})
			}
		}
	}
	if k := n.child("noise"); k != nil {
		for _, a := range k.order {
			x.Noise = append(x.Noise, r.noise(k, a, sc))
		}
	}
	if k := n.child("answer"); k != nil {
		for _, a := range k.order {
			x.Answer = append(x.Answer, r.answerTo(k, a, sc))
		}
		r.allAnswered(n, k)
	} else if !n.has("like") {
		r.say(n, "E104", n.at, "A rehearsal needs an answer block: what is answered, evaluated when asked. Write answer { … }, or like = \"…\" with a rehearsal above that has one.")
	}
	for _, k := range n.all("reacts") {
		x.Reacts = append(x.Reacts, r.reacts(k, sc, x.Reacts))
	}
	for _, k := range n.all("mistake") {
		if m, ok := r.mistake(k, x); ok {
			x.Mistakes = append(x.Mistakes, m)
		}
	}
	if k := n.child("ends"); k != nil {
		r.ends(k, x)
	}
	return x
}

func (r *reader) gradeKnown(n *node, grade string) {
	var grades []string
	for i, t := range r.p.Tables {
		if i == 0 {
			grades = t.Grades
		}
	}
	if grade == "" || slices.Contains(grades, grade) {
		return
	}
	at := rng(n.attr("grade").Range())
	if len(grades) == 0 {
		r.say(n, "E201", at, "This procedure uses no table, so there are no grades. Leave grade out.")
		return
	}
	r.say(n, "E201", at, "There is no grade %q, only %s.%s", grade, quoted(grades, "and"), didYouMean(grade, grades))
}

// hidden reads the state at the start. A state may use those above it.
func (r *reader) hidden(n *node, sc *scope) []procedures.Assign {
	var out []procedures.Assign
	for _, a := range n.order {
		if !nameForm.MatchString(a.Name) || a.Name == "moved" {
			r.say(n, "E108", rng(a.NameRange), "A hidden state is named with lower-case letters, figures and underscores, and not moved. Write %q.", r.mendName(a.Name, schema.Name))
		}
		p := r.expr(n, a.Expr, sc, want{any: true, what: "hidden." + a.Name})
		s := sym{ready: p != nil}
		if p != nil {
			s.typ, s.unit = p.Type(), hiddenUnit(a.Expr, p)
		}
		sc.hidden[a.Name] = s
		sc.made = nil
		out = append(out, procedures.Assign{Name: a.Name, Value: p, At: rng(a.SrcRange)})
	}
	return out
}

func (r *reader) noise(n *node, a *hclsyntax.Attribute, sc *scope) procedures.Assign {
	out := procedures.Assign{Name: a.Name, At: rng(a.SrcRange)}
	d := r.answered(n, a, []string{"reading", "wait", "given"})
	w := want{any: true, what: "the noise of " + a.Name}
	inner := sc
	if d != nil {
		t, ok := oneAnswer(d)
		diff, numeric := t.Difference()
		if ok && (!numeric || t.Count) {
			r.say(n, "E109", rng(a.NameRange), "%s is %s, which has no noise. Leave it out.", a.Name, t)
			ok = false
		}
		if ok {
			w.any, w.typ = false, &diff
		}
		inner = r.answerScope(d, sc)
	}
	out.Value = r.expr(n, a.Expr, inner, w)
	return out
}

// answered returns what a rehearsal gives an answer to.
func (r *reader) answered(n *node, a *hclsyntax.Attribute, words []string) *decl {
	var names []string
	for name, d := range r.names {
		if !slices.Contains(words, d.word) {
			continue
		}
		if name == a.Name {
			return d
		}
		names = append(names, name)
	}
	slices.Sort(names)
	if d := r.names[a.Name]; d != nil {
		r.say(n, "E201", rng(a.NameRange), "%s is a %s, of which nothing is asked. Name %s.", a.Name, d.word, listed(words))
		return nil
	}
	r.say(n, "E201", rng(a.NameRange), "Nothing is asked under the name %q.%s Name %s of this procedure.", a.Name, didYouMean(a.Name, names), listed(words))
	return nil
}

func listed(words []string) string {
	out := ""
	for i, w := range words {
		switch {
		case i == 0:
			out = "a " + w
		case i == len(words)-1:
			out += " or " + w
		default:
			out += ", " + w
		}
	}
	return out
}

// oneAnswer is the type of one answer to a question.
func oneAnswer(d *decl) (value.Type, bool) {
	switch x := d.obj.(type) {
	case *procedures.Confirm:
		return value.TruthType(), true
	case *procedures.Wait:
		if x.Until == nil || x.Until.Unit.Name == "" {
			return value.Type{}, false
		}
		return unitType(x.Until.Unit), true
	}
	return scalarOf(d.outer), d.ready
}

// answerScope adds the keys of the question to the scope (semantics rule 19).
func (r *reader) answerScope(d *decl, sc *scope) *scope {
	out := sc.with()
	add := func(e *procedures.Each) {
		out.each = out.eachPlus(e.Name, sym{typ: keyType(e.Key), ready: e.Of != nil})
	}
	if d.step != nil {
		for _, e := range d.step.decl.obj.(*procedures.Step).Each {
			add(e)
		}
	}
	switch x := d.obj.(type) {
	case *procedures.Given:
		for _, e := range x.Each {
			add(e)
		}
	case *procedures.Reading:
		for _, e := range x.Each {
			add(e)
		}
		return placesScope(d.node, out)
	case *procedures.Wait:
		if x.Until != nil {
			out.each = out.eachPlus("take", sym{typ: value.CountType(), ready: true})
		}
	}
	return out
}

func (r *reader) answerTo(n *node, a *hclsyntax.Attribute, sc *scope) procedures.Assign {
	out := procedures.Assign{Name: a.Name, At: rng(a.SrcRange)}
	d := r.answered(n, a, []string{"given", "reading", "confirm", "wait"})
	if d == nil {
		r.expr(n, a.Expr, sc, want{any: true})
		return out
	}
	w := want{any: true, what: "the answer to " + a.Name}
	if t, ok := oneAnswer(d); ok {
		w.any, w.typ = false, &t
	} else if d.word == "wait" && d.tried || d.word == "wait" && d.obj.(*procedures.Wait).Until == nil {
		r.say(n, "E109", rng(a.NameRange), "This wait reads nothing; in a rehearsal it is over at once. Leave it out.")
		return out
	}
	if _, isText := literal(a.Expr); isText && d.word == "confirm" {
		r.say(n, "E112", rng(a.Expr.Range()), "A confirm is answered true, which is yes, or false. Write %s = true", a.Name)
		return out
	}
	out.Value = r.expr(n, a.Expr, r.answerScope(d, sc), w)
	r.isChoice(n, a, d, out.Value)
	return out
}

// isChoice sees to it that the words answered are among the choices.
func (r *reader) isChoice(n *node, a *hclsyntax.Attribute, d *decl, p *formula.Program) {
	if p == nil || p.Type().Kind != value.Text || !d.ready {
		return
	}
	choices := scalarOf(d.outer).Words
	if choices == nil {
		return
	}
	for _, w := range p.Type().Words {
		if !slices.Contains(choices, w) {
			r.say(n, "E111", rng(a.Expr.Range()), "%s is answered %s, not %q.%s", a.Name, quoted(choices, "or"), w, didYouMean(w, choices))
			return
		}
	}
}

// allAnswered sees to it that every question has an answer. Confirms are yes
// and waits are over where nothing is said (semantics rule 49).
func (r *reader) allAnswered(n, answers *node) {
	var missing []string
	for name, d := range r.names {
		if (d.word == "given" || d.word == "reading") && !answers.has(name) && !r.near(answers, name) && !conditional(d) {
			missing = append(missing, name)
		}
	}
	slices.SortFunc(missing, func(a, b string) int {
		return r.names[a].node.seq - r.names[b].node.seq
	})
	if len(missing) > 0 {
		r.say(n, "E116", answers.at, "The rehearsal is not told what to answer to %s. Write a line for each.", join(missing, ", "))
	}
}

// near tells whether an answer is there whose name is a slip for this one.
func (r *reader) near(answers *node, name string) bool {
	for a := range answers.attrs {
		if r.names[a] == nil && didYouMean(a, []string{name}) != "" {
			return true
		}
	}
	return false
}

// conditional tells whether a question may never be asked.
func conditional(d *decl) bool {
	return d.node.has("when") || d.step != nil && d.step.has("when")
}

func (r *reader) reacts(n *node, sc *scope, before []procedures.Reacts) procedures.Reacts {
	out := procedures.Reacts{At: n.at}
	inner := sc.with()
	inner.own = map[string]sym{"amount": {}, "moved": {}, "attempt": {typ: value.CountType(), ready: true}}
	if d := r.resolve(n, reference{word: "correction", name: n.label, at: n.name}); d != nil {
		out.Correction = d.obj.(*procedures.Correction)
		a := amountSym(out.Correction)
		if out.Correction.Amount == nil && !d.node.has("amount") {
			delete(inner.own, "amount")
			delete(inner.own, "moved")
		} else {
			inner.own["amount"], inner.own["moved"] = a, a
		}
		if slices.ContainsFunc(before, func(o procedures.Reacts) bool { return o.Correction == out.Correction }) {
			r.say(n, "E203", n.name, "What happens on %q is said already. One block a correction.", n.label)
		}
	}
	for _, a := range n.order {
		if a.Name == "moved" {
			out.Moved = r.truly(n, a, inner)
			continue
		}
		w := want{any: true, what: "hidden." + a.Name}
		if s, ok := sc.hidden[a.Name]; !ok {
			r.say(n, "E201", rng(a.NameRange), "There is no hidden state %q.%s", a.Name, didYouMean(a.Name, hiddenNames(sc)))
		} else if s.ready {
			w = want{typ: &s.typ, what: "hidden." + a.Name}
		}
		out.Hidden = append(out.Hidden, procedures.Assign{Name: a.Name, Value: r.expr(n, a.Expr, inner, w), At: rng(a.SrcRange)})
	}
	return out
}

// truly reads what truly moved, which cannot depend on itself.
func (r *reader) truly(n *node, a *hclsyntax.Attribute, sc *scope) *formula.Program {
	inner := sc.with()
	inner.own = maps.Clone(sc.own)
	inner.own["moved"] = sym{no: "is what this line says; work it out from amount"}
	w := want{any: true, what: "what truly moved"}
	if s, ok := sc.own["amount"]; !ok {
		r.say(n, "E110", rng(a.NameRange), "The correction has no amount, so nothing moves. Leave moved out.")
	} else if s.ready {
		w = want{typ: &s.typ, what: w.what}
	}
	return r.expr(n, a.Expr, inner, w)
}

func (r *reader) ends(n *node, x *procedures.Rehearsal) {
	x.Outcome, x.EndsAt = r.oneOf(n, "outcome"), n.at
	if a := n.attrs["outcome"]; a != nil {
		x.EndsAt = rng(a.SrcRange)
	}
	for _, p := range r.object(n, "rounds") {
		d := r.resolve(n, reference{word: "correction", name: p.key, at: p.at})
		least, most, ok := rounds(p.value)
		if !ok {
			r.say(n, "E112", rng(p.value.Range()), "The rounds of a correction are a whole number, at_most(n) or at_least(n). Write, for example, %s = at_most(2)", p.key)
			continue
		}
		if d != nil {
			x.Rounds = append(x.Rounds, procedures.Rounds{Correction: d.obj.(*procedures.Correction), Least: least, Most: most, At: p.at})
		}
	}
	if a := n.attrs["out"]; a != nil {
		at := rng(a.SrcRange)
		x.OutAt = &at
	}
	for _, ref := range r.references(n, "out") {
		if d := r.resolve(n, ref); d != nil {
			x.Out = append(x.Out, d.obj.(*procedures.Gate))
		}
	}
	for _, p := range r.object(n, "said") {
		said := procedures.Said{At: p.at}
		known := schema.Responses
		if d := r.decls["reading"][p.key]; d != nil {
			said.Reading, known = d.obj.(*procedures.Reading), schema.Objections
		} else if d := r.resolve(n, reference{word: "correction", name: p.key, at: p.at}); d != nil {
			said.Correction = d.obj.(*procedures.Correction)
		}
		said.Words = r.saidWords(n, p, known)
		if (said.Reading != nil || said.Correction != nil) && said.Words != nil {
			x.Said = append(x.Said, said)
		}
	}
}

func (r *reader) saidWords(n *node, p pair, known []string) []string {
	t, ok := bare(p.value).(*hclsyntax.TupleConsExpr)
	if !ok {
		r.say(n, "E112", rng(p.value.Range()), "What was said is a list of words. Write, for example, %s = [%q]", p.key, known[1])
		return nil
	}
	var out []string
	for _, e := range t.Exprs {
		s, ok := literal(e)
		if !ok || !slices.Contains(known, s) {
			r.say(n, "E111", rng(e.Range()), "The words are %s.%s", join(known, ", "), didYouMean(s, known))
			continue
		}
		out = append(out, s)
	}
	return out
}

// rounds reads n, at_most(n) or at_least(n); most is −1 where there is no
// bound.
func rounds(e hclsyntax.Expression) (least, most int, ok bool) {
	if i, ok := wholeNumber(e); ok && i >= 0 {
		return i, i, true
	}
	call, isCall := bare(e).(*hclsyntax.FunctionCallExpr)
	if !isCall || len(call.Args) != 1 {
		return 0, 0, false
	}
	i, ok := wholeNumber(call.Args[0])
	switch {
	case !ok || i < 0:
		return 0, 0, false
	case call.Name == "at_most":
		return 0, i, true
	case call.Name == "at_least":
		return i, -1, true
	}
	return 0, 0, false
}

// hiddenUnit is the unit that a hidden state is shown in.
func hiddenUnit(e hclsyntax.Expression, p *formula.Program) *quantity.Unit {
	if p.Type().Kind != value.Number || p.Type().Count {
		return nil
	}
	u := writtenUnit(e, p.Type().Dim)
	return &u
}

func hiddenNames(sc *scope) []string { return slices.Sorted(maps.Keys(sc.hidden)) }
