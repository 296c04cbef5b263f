package formula

import "waywright/checks/value"

// lit is a value that does not change.
type lit struct {
	v value.Value
	t value.Type
}

// Lit returns a node that always gives v.
func Lit(v value.Value, t value.Type) Node { return &lit{v, t} }

func (n *lit) Type() value.Type                        { return n.t }
func (n *lit) kids() []Node                            { return nil }
func (n *lit) eval(Env, *locals) value.Value           { return n.v }
func (n *lit) view(Env, *locals) *value.Value          { return &n.v }
func (n *lit) num(_ Env, _ *locals) (float64, *gap)    { return numberOf(&n.v) }
func (n *lit) truth(_ Env, _ *locals) (t bool, g *gap) { return n.v.Truth, gapOf(&n.v) }

// name is a use of a name outside the program.
type name struct {
	ref Ref
	idx int // in the program's refs
	t   value.Type
}

func (n *name) Type() value.Type { return n.t }
func (n *name) kids() []Node     { return nil }

func (n *name) eval(e Env, l *locals) value.Value {
	if s, ok := e.(*slots); ok {
		return s.vals[n.idx]
	}
	return n.fit(e.Value(n.ref))
}

func (n *name) view(e Env, _ *locals) *value.Value {
	if s, ok := e.(*slots); ok {
		return &s.vals[n.idx]
	}
	return nil
}

func (n *name) num(e Env, l *locals) (float64, *gap) {
	if s, ok := e.(*slots); ok {
		return s.nums[n.idx], s.gaps[n.idx]
	}
	v := n.fit(e.Value(n.ref))
	return numberOf(&v)
}

func (n *name) truth(e Env, l *locals) (bool, *gap) {
	v := n.eval(e, l)
	return v.Truth, gapOf(&v)
}

// fit holds a value from outside against the type the program was compiled
// for. A wrong kind can come from a machine's entry, which is written by hand.
func (n *name) fit(v value.Value) value.Value {
	if n.ref.Space == Expansion && v.State != value.Present {
		return value.Num(0)
	}
	if v.State == value.Present && n.t.Kind != 0 && v.Kind != n.t.Kind {
		if v.Kind == value.Takes && (n.t.Kind == value.Number || n.t.Kind == value.Point) {
			x, g := numberOf(&v)
			return number(n.t.Kind, x, g)
		}
		return value.Value{Kind: n.t.Kind, State: value.Absent, Why: n.ref.String() + " is not of the kind that is wanted here"}
	}
	if v.State == value.Present && (v.Kind == value.Number || v.Kind == value.Point) && v.Num-v.Num != 0 {
		return value.Value{Kind: v.Kind, State: value.Absent, Why: n.ref.String() + " is not a finite number"}
	}
	if v.State != value.Present && v.Kind == 0 {
		v.Kind = n.t.Kind
	}
	return v
}

// local is a variable of a for: its key or its value, so many for outwards.
type local struct {
	hops  int
	isKey bool
	t     value.Type
}

// Local returns a use of a variable of a for; hops counts the for between it
// and the use.
func Local(hops int, key bool, t value.Type) Node { return &local{hops, key, t} }

func (n *local) Type() value.Type { return n.t }
func (n *local) kids() []Node     { return nil }

func (n *local) view(_ Env, l *locals) *value.Value {
	for range n.hops {
		l = l.up
	}
	if n.isKey {
		return &l.key
	}
	return &l.val
}

func (n *local) eval(e Env, l *locals) value.Value    { return *n.view(e, l) }
func (n *local) num(e Env, l *locals) (float64, *gap) { return numberOf(n.view(e, l)) }
func (n *local) truth(e Env, l *locals) (b bool, g *gap) {
	v := n.view(e, l)
	return v.Truth, gapOf(v)
}

// IsLit returns the value of a node that always gives the same.
func IsLit(n Node) (v value.Value, ok bool) {
	if l, is := n.(*lit); is {
		return l.v, true
	}
	return value.Value{}, false
}
