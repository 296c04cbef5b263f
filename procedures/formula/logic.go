package formula

import "waywright/checks/value"

var truthType = value.Type{Kind: value.Truth}

// Compare returns a op b between two numbers or two points.
func Compare(op Op, a, b Node) Node { return &compare{op, asScalar(a), asScalar(b)} }

type compare struct {
	op   Op
	a, b scalar
}

func (n *compare) Type() value.Type { return truthType }
func (n *compare) kids() []Node     { return []Node{n.a, n.b} }

func (n *compare) truth(e Env, l *locals) (bool, *gap) {
	a, ga := n.a.num(e, l)
	b, gb := n.b.num(e, l)
	if ga != nil || gb != nil {
		return false, worse(ga, gb)
	}
	switch n.op {
	case Eq:
		return a == b, nil
	case Ne:
		return a != b, nil
	case Lt:
		return a < b, nil
	case Le:
		return a <= b, nil
	case Gt:
		return a > b, nil
	}
	return a >= b, nil
}

func (n *compare) eval(e Env, l *locals) value.Value { return truth(n.truth(e, l)) }

// Same tells whether two texts or two truths are equal, or with not, whether
// they differ.
func Same(a, b Node, not bool) Node { return &same{a, b, not} }

type same struct {
	a, b Node
	not  bool
}

func (n *same) Type() value.Type { return truthType }
func (n *same) kids() []Node     { return []Node{n.a, n.b} }

func (n *same) truth(e Env, l *locals) (bool, *gap) {
	var ba, bb value.Value
	a, b := look(n.a, e, l, &ba), look(n.b, e, l, &bb)
	if g := worse(gapOf(a), gapOf(b)); g != nil {
		return false, g
	}
	return (a.Text == b.Text && a.Truth == b.Truth) != n.not, nil
}

func (n *same) eval(e Env, l *locals) value.Value { return truth(n.truth(e, l)) }

// Not returns the opposite of a truth.
func Not(a Node) Node { return &not{asTruther(a)} }

type not struct{ a truther }

func (n *not) Type() value.Type { return truthType }
func (n *not) kids() []Node     { return []Node{n.a} }
func (n *not) truth(e Env, l *locals) (bool, *gap) {
	b, g := n.a.truth(e, l)
	return !b, g
}
func (n *not) eval(e Env, l *locals) value.Value { return truth(n.truth(e, l)) }

// And returns a && b; b counts only where a is true.
func And(a, b Node) Node { return &junction{asTruther(a), asTruther(b), true} }

// Or returns a || b; b counts only where a is false.
func Or(a, b Node) Node { return &junction{asTruther(a), asTruther(b), false} }

type junction struct {
	a, b truther
	and  bool
}

func (n *junction) Type() value.Type { return truthType }
func (n *junction) kids() []Node     { return []Node{n.a, n.b} }

func (n *junction) truth(e Env, l *locals) (bool, *gap) {
	a, g := n.a.truth(e, l)
	if g != nil {
		return false, g
	}
	if a != n.and {
		return a, nil
	}
	return n.b.truth(e, l)
}

func (n *junction) eval(e Env, l *locals) value.Value { return truth(n.truth(e, l)) }

// If returns c ? a : b, of type t.
func If(c, a, b Node, t value.Type) Node {
	choose := choice{asTruther(c), a, b, t}
	switch t.Kind {
	case value.Number, value.Point:
		return &ifNumber{choose, asScalar(a), asScalar(b)}
	case value.Truth:
		return &ifTruth{choose, asTruther(a), asTruther(b)}
	}
	return &choose
}

type choice struct {
	c    truther
	a, b Node
	t    value.Type
}

func (n *choice) Type() value.Type { return n.t }
func (n *choice) kids() []Node     { return []Node{n.c, n.a, n.b} }

// taken returns the condition's branch, or the gap of the condition.
func (n *choice) taken(e Env, l *locals) (Node, *gap) {
	c, g := n.c.truth(e, l)
	switch {
	case g != nil:
		return nil, g
	case c:
		return n.a, nil
	}
	return n.b, nil
}

func (n *choice) eval(e Env, l *locals) value.Value {
	branch, g := n.taken(e, l)
	if g != nil {
		return g.value(n.t.Kind)
	}
	return branch.eval(e, l)
}

func (n *choice) view(e Env, l *locals) *value.Value {
	branch, g := n.taken(e, l)
	if g != nil {
		return nil
	}
	if w, ok := branch.(viewer); ok {
		return w.view(e, l)
	}
	return nil
}

type ifNumber struct {
	choice
	an, bn scalar
}

func (n *ifNumber) num(e Env, l *locals) (float64, *gap) {
	c, g := n.c.truth(e, l)
	switch {
	case g != nil:
		return 0, g
	case c:
		return n.an.num(e, l)
	}
	return n.bn.num(e, l)
}

type ifTruth struct {
	choice
	at, bt truther
}

func (n *ifTruth) truth(e Env, l *locals) (bool, *gap) {
	c, g := n.c.truth(e, l)
	switch {
	case g != nil:
		return false, g
	case c:
		return n.at.truth(e, l)
	}
	return n.bt.truth(e, l)
}
