package formula

import (
	"slices"

	"waywright/checks/value"
)

// Traits is what is known of a value from the form of its program alone,
// whatever the numbers.
type Traits struct {
	Varies      bool // it depends on something measured
	Kinked      bool // it passes through a kink: slopes do not tell how errors spread
	NonNegative bool // it is not below nought
	Turns       bool // it is an angle round a whole turn
}

// Traits returns what is known of the program's value; of tells it of the
// names that the program uses.
func (p *Program) Traits(of func(Ref) Traits) Traits { return traitsOf(p.root, of, nil) }

// traitsOf returns the traits of a node; vars are those of the variables of
// each for around it, the innermost last.
func traitsOf(n Node, of func(Ref) Traits, vars []Traits) Traits {
	switch n := n.(type) {
	case boxed:
		return traitsOf(n.Node, of, vars)
	case *name:
		return of(n.ref)
	case *local:
		return localTraits(n, vars)
	case *lit:
		return Traits{NonNegative: notBelow(&n.v)}
	case *loop:
		return loopTraits(n, of, vars)
	}
	t := Traits{NonNegative: true}
	for _, k := range n.kids() {
		kt := traitsOf(k, of, vars)
		t.Varies = t.Varies || kt.Varies
		t.Kinked = t.Kinked || kt.Kinked
		t.NonNegative = t.NonNegative && kt.NonNegative
	}
	return own(n, t, of, vars)
}

// own adds to the traits of a node's operands what the node does with them.
func own(n Node, t Traits, of func(Ref) Traits, vars []Traits) Traits {
	switch n := n.(type) {
	case *call:
		t.Kinked = t.Kinked || n.f.Kinked && (t.Varies && n.f.KinkedIn == nil || slices.ContainsFunc(n.f.KinkedIn, func(i int) bool {
			return i < len(n.args) && traitsOf(n.args[i], of, vars).Varies
		}))
		t.Turns = n.f.Turns
		t.NonNegative = n.f.NonNegative || n.f.KeepsSign && t.NonNegative
	case *sub, *neg:
		t.NonNegative = false
	case *spread2:
		t.NonNegative = t.NonNegative && n.op != Sub
		t.Kinked = t.Kinked || n.op == Mod && t.Varies
	case *mod, *compare, *same, *not, *junction:
		t.Kinked = t.Kinked || t.Varies
	case *ifNumber:
		return choiceTraits(&n.choice, t, of, vars)
	case *ifTruth:
		return choiceTraits(&n.choice, t, of, vars)
	case *choice:
		return choiceTraits(n, t, of, vars)
	case *pickBy: // another key for another number
		t.Kinked = t.Kinked || traitsOf(n.key, of, vars).Varies
		t.NonNegative = traitsOf(n.coll, of, vars).NonNegative
	}
	return t
}

// choiceTraits: a condition on something measured makes a step or a kink; what
// either branch can be counts.
func choiceTraits(n *choice, t Traits, of func(Ref) Traits, vars []Traits) Traits {
	t.Kinked = t.Kinked || traitsOf(n.c, of, vars).Varies
	t.NonNegative = traitsOf(n.a, of, vars).NonNegative && traitsOf(n.b, of, vars).NonNegative
	return t
}

func loopTraits(n *loop, of func(Ref) Traits, vars []Traits) Traits {
	over := traitsOf(n.over, of, vars)
	inner := append(slices.Clip(vars), over)
	t := traitsOf(n.body, of, inner)
	t.Varies, t.Kinked = t.Varies || over.Varies, t.Kinked || over.Kinked
	if n.cond != nil {
		c := traitsOf(n.cond, of, inner)
		t.Varies, t.Kinked = t.Varies || c.Varies, t.Kinked || c.Varies
	}
	return t
}

// localTraits: a variable is an element of what the for goes through; its key
// does not vary.
func localTraits(n *local, vars []Traits) Traits {
	if i := len(vars) - 1 - n.hops; i >= 0 && !n.isKey {
		return vars[i]
	}
	return Traits{}
}

// notBelow tells whether no number of a value is below nought.
func notBelow(v *value.Value) bool {
	for i := range v.Elems {
		if !notBelow(&v.Elems[i]) {
			return false
		}
	}
	return len(v.Elems) > 0 || v.Kind == value.Number && v.Num >= 0
}

// Apart reports whether the program looks at the repeated takes of r one by
// one, as a spread does, and not only at their mean.
func (p *Program) Apart(r Ref) bool { return apart(p.root, r, false, nil) }

// apart tells it of a node; wanted is true where its takes are looked at.
// overs is what each for around it goes through, the innermost last.
func apart(n Node, r Ref, wanted bool, overs []Node) bool {
	switch n := n.(type) {
	case boxed:
		return apart(n.Node, r, wanted, overs)
	case *name:
		return wanted && n.ref == r
	case *local:
		i := len(overs) - 1 - n.hops
		return wanted && !n.isKey && i >= 0 && apart(overs[i], r, true, overs[:i])
	case *loop:
		inner := append(slices.Clip(overs), n.over)
		return apart(n.over, r, false, overs) || apart(n.body, r, wanted, inner) || n.cond != nil && apart(n.cond, r, false, inner)
	case *meaned, *unTake:
		wanted = false
	case *call:
		for i, a := range n.args {
			// Of takes that are asked for as they are, the mean has no use of each.
			if apart(a, r, takesAt(n, i) && n.f.Name != "mean", overs) {
				return true
			}
		}
		return false
	case *pick, *pickBy, *choice, *ifNumber, *ifTruth:
		// an element or a branch is wanted as the whole is
	default:
		wanted = false
	}
	return slices.ContainsFunc(n.kids(), func(k Node) bool { return apart(k, r, wanted, overs) })
}

func takesAt(n *call, i int) bool {
	return i < len(n.f.Params) && n.f.Params[i].Takes && n.args[i].Type().Kind == value.Takes
}

// Divisors returns what stands below a / in the program and uses a name, as
// programs of the same names. One that changes from one element of a for to the
// next is left out.
func (p *Program) Divisors() []*Program {
	var out []*Program
	var visit func(n Node)
	visit = func(n Node) {
		var d Node
		switch n := n.(type) {
		case *div:
			d = n.b
		case *spread2:
			if n.op == Div {
				d = n.b
			}
		}
		if d != nil && len(namesIn(d)) > 0 && !turning(d) {
			out = append(out, &Program{typ: d.Type(), at: p.at, text: p.text, refs: p.refs, types: p.types, written: p.written, root: d})
		}
		for _, k := range n.kids() {
			visit(k)
		}
	}
	visit(p.root)
	return out
}

// turning tells whether a node uses a variable of a for.
func turning(n Node) bool {
	_, ok := n.(*local)
	return ok || slices.ContainsFunc(n.kids(), turning)
}

func namesIn(n Node) []Ref {
	if n, ok := n.(*name); ok {
		return []Ref{n.ref}
	}
	var out []Ref
	for _, k := range n.kids() {
		out = append(out, namesIn(k)...)
	}
	return out
}
