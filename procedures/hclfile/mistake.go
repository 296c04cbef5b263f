package hclfile

import (
	"slices"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// spread reads the standard deviation of a hidden state among machines.
func (r *reader) spread(n *node, a *hclsyntax.Attribute, sc *scope) *formula.Program {
	s, ok := sc.hidden[a.Name]
	if !ok {
		r.say(n, "E201", rng(a.NameRange), "There is no hidden state %q.%s", a.Name, didYouMean(a.Name, hiddenNames(sc)))
		r.expr(n, a.Expr, sc, want{any: true})
		return nil
	}
	w := want{any: true, what: "the spread of " + a.Name}
	if s.ready {
		t := s.typ
		for t.Elem != nil && t.Collection() {
			t = *t.Elem
		}
		diff, numeric := t.Difference()
		switch {
		case t.Count:
			diff = value.NumberType(quantity.Ratio) // hidden.gain = 1
		case !numeric || t.Collection():
			r.say(n, "E109", rng(a.NameRange), "hidden.%s is %s, which does not spread. Leave it out.", a.Name, s.typ)
			return nil
		}
		w.any, w.typ = false, &diff
	}
	return r.expr(n, a.Expr, sc, w)
}

// atCorrection and atReading are the mistakes that can be made there.
var (
	atCorrection = []string{string(procedures.WrongWay), string(procedures.Half), string(procedures.Undone), string(procedures.Reversed)}
	atReading    = []string{string(procedures.Swapped), string(procedures.SlipTurn), string(procedures.Reversed)}
)

// mistake reads a mistake made on purpose; one that could not be made, or
// would change nothing, is told.
func (r *reader) mistake(n *node, x *procedures.Rehearsal) (m procedures.Mistake, ok bool) {
	m = procedures.Mistake{Kind: procedures.MistakeKind(n.label), Nth: r.whole(n, "nth", 1, 1000, 1), At: n.at}
	ref, ok := r.reference(n, "of")
	if !ok {
		return m, false
	}
	d := r.resolve(n, ref)
	if d == nil {
		return m, false
	}
	words := atReading
	switch of := d.obj.(type) {
	case *procedures.Correction:
		m.Correction, words = of, atCorrection
	case *procedures.Reading:
		m.Reading = of
	}
	if !slices.Contains(words, n.label) {
		r.say(n, "E111", n.name, "The mistakes at a %s are %s.%s", d.word, quoted(words, "and"), didYouMean(n.label, words))
		return m, false
	}
	if why := r.idle(m, d, x); why != "" {
		r.say(n, "E110", ref.at, "%s", why)
		return m, false
	}
	return m, true
}

// idle tells why a mistake would change nothing.
func (r *reader) idle(m procedures.Mistake, d *decl, x *procedures.Rehearsal) string {
	if c := m.Correction; c != nil {
		i := slices.IndexFunc(x.Reacts, func(re procedures.Reacts) bool { return re.Correction == c })
		switch {
		case !d.node.has("amount"):
			return d.name + " has no amount, so there is no way to move wrongly. Leave the mistake out."
		case m.Kind == procedures.Reversed && d.node.child("moved") == nil:
			return d.name + " asks for no movement, so no indicator shows it. Leave the mistake out."
		case i < 0 || !usesMoved(x.Reacts[i]):
			return "Nothing here hangs on how far " + d.name + " moved. Write the state after it with moved: reacts \"" + d.name + "\" { offset = hidden.offset + moved }"
		}
		return ""
	}
	switch reading := m.Reading; {
	case m.Kind == procedures.Swapped && d.node.child("each") == nil && !d.node.has("along"):
		return d.name + " is read at one place, so there is nothing to take for it. Name a reading with each or along."
	case m.Kind != procedures.Swapped && (reading.Unit == nil || reading.Count):
		return d.name + " is not read with an instrument. Leave the mistake out."
	case m.Kind == procedures.SlipTurn && (reading.With == nil || reading.With.Turn <= 0):
		return d.name + " is read with nothing that has a turn. State the turn of its instrument."
	}
	return ""
}

// usesMoved tells whether a state hangs on what moved.
func usesMoved(re procedures.Reacts) bool {
	return slices.ContainsFunc(re.Hidden, func(a procedures.Assign) bool {
		return a.Value == nil || slices.ContainsFunc(a.Value.Refs(), func(f formula.Ref) bool { return f.Space == formula.Own && f.Name == "moved" })
	})
}
