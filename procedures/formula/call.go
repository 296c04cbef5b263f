package formula

import (
	"slices"

	"waywright/checks/catalogue"
	"waywright/checks/value"
)

// Call returns a call of a function, whose arguments have been checked and
// whose result is of type t.
func Call(f *catalogue.Func, args []Node, t value.Type) Node { return &call{f, args, t} }

type call struct {
	f    *catalogue.Func
	args []Node
	t    value.Type
}

func (n *call) Type() value.Type { return n.t }
func (n *call) kids() []Node     { return n.args }

func (n *call) eval(e Env, l *locals) value.Value {
	args := make([]value.Value, len(n.args))
	var g *gap
	for i, a := range n.args {
		args[i] = a.eval(e, l)
		g = worse(g, gapOf(&args[i])) // of elements the function itself takes care
	}
	if g != nil {
		return g.value(n.t.Kind)
	}
	v := n.f.Eval(args)
	if v.State != value.Present {
		return value.Value{Kind: n.t.Kind, State: v.State, Why: v.Why}
	}
	if !wellFormed(&v) {
		return tooLarge.value(n.t.Kind)
	}
	return v
}

// wellFormed tells whether all present numbers in v are finite. A zone may be
// open to one side.
func wellFormed(v *value.Value) bool {
	if v.State != value.Present {
		return true
	}
	if v.Num-v.Num != 0 || v.Lo != v.Lo || v.Hi != v.Hi {
		return false
	}
	for _, x := range v.Takes {
		if x-x != 0 {
			return false
		}
	}
	for _, x := range v.Z {
		if x-x != 0 {
			return false
		}
	}
	for i := range v.Elems {
		if !wellFormed(&v.Elems[i]) {
			return false
		}
	}
	return true
}

// Fold works out a node that uses no names, once all parts of it have been.
// Where it has no value, why says so.
func Fold(n Node) (folded Node, why string) {
	if _, done := n.(*lit); done {
		return n, ""
	}
	for _, k := range n.kids() {
		if b, ok := k.(boxed); ok {
			k = b.Node
		}
		if _, ok := k.(*lit); !ok {
			return n, ""
		}
	}
	if !free(n) {
		return n, ""
	}
	v := n.eval(nil, nil)
	if s, why := v.Worst(); s != value.Present {
		return n, why
	}
	return &lit{v, n.Type()}, ""
}

// Written returns the value of a node that is written in figures or words;
// that of any other is missing.
func Written(n Node) value.Value {
	if b, ok := n.(boxed); ok {
		n = b.Node
	}
	if l, ok := n.(*lit); ok {
		return l.v
	}
	return value.NotYet()
}

// Open tells whether a node uses a name or a variable.
func Open(n Node) bool {
	return !free(n) || slices.ContainsFunc(n.kids(), Open)
}

// free tells whether a node itself is no name and binds none.
func free(n Node) bool {
	switch n.(type) {
	case *name, *local, *loop, *concat:
		return false
	}
	return true
}
