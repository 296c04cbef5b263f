package formula

import "waywright/checks/value"

// spread2 combines two values element by element, or one with a number
// (semantics rule 10).
type spread2 struct {
	op   Op
	a, b Node
	t    value.Type
	leaf value.Kind // of the elements of the result, at the lowest level
}

func newSpread(op Op, a, b Node, t value.Type) *spread2 {
	leaf := t
	for leaf.Elem != nil {
		leaf = *leaf.Elem
	}
	return &spread2{op, a, b, t, leaf.Kind}
}

func (n *spread2) Type() value.Type { return n.t }
func (n *spread2) kids() []Node     { return []Node{n.a, n.b} }

func (n *spread2) eval(e Env, l *locals) value.Value {
	v, err := value.Zip(n.combine, n.a.eval(e, l), n.b.eval(e, l))
	if err != nil {
		return value.Value{Kind: n.t.Kind, State: value.Absent, Why: err.Error()}
	}
	if v.State != value.Present {
		v.Kind = n.t.Kind
	}
	return v
}

func (n *spread2) combine(v []value.Value) value.Value {
	x, gx := numberOf(&v[0])
	y, gy := numberOf(&v[1])
	if g := worse(gx, gy); g != nil {
		return g.value(n.leaf)
	}
	z, g := compute(n.op, x, y)
	return number(n.leaf, z, g)
}
