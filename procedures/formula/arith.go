package formula

import (
	"math"

	"waywright/checks/value"
)

// Op is an operator between two numbers.
type Op uint8

// The operators.
const (
	Add Op = iota + 1
	Sub
	Mul
	Div
	Mod
	Eq
	Ne
	Lt
	Le
	Gt
	Ge
)

var opWords = [...]string{"", "+", "-", "*", "/", "%", "==", "!=", "<", "<=", ">", ">="}

func (o Op) String() string { return opWords[o] }

// Arith returns a op b, where op is one of + - * / %. The type of the result
// is t: where it has elements, the operands are combined element by element.
func Arith(op Op, a, b Node, t value.Type) Node {
	if t.Kind != value.Number && t.Kind != value.Point {
		return newSpread(op, a, b, t)
	}
	p := pair{asScalar(a), asScalar(b), t}
	switch op {
	case Add:
		return &add{p}
	case Sub:
		return &sub{p}
	case Mul:
		return &mul{p}
	case Div:
		return &div{p}
	case Mod:
		return &mod{p}
	}
	panic("formula: " + op.String() + " is not an operator of arithmetic")
}

// pair is what the scalar operators have in common.
type pair struct {
	a, b scalar
	t    value.Type
}

func (p *pair) Type() value.Type { return p.t }
func (p *pair) kids() []Node     { return []Node{p.a, p.b} }

type (
	add struct{ pair }
	sub struct{ pair }
	mul struct{ pair }
	div struct{ pair }
	mod struct{ pair }
)

func (n *add) num(e Env, l *locals) (float64, *gap) {
	a, ga := n.a.num(e, l)
	b, gb := n.b.num(e, l)
	if ga != nil || gb != nil {
		return 0, worse(ga, gb)
	}
	return finite(a + b)
}

func (n *sub) num(e Env, l *locals) (float64, *gap) {
	a, ga := n.a.num(e, l)
	b, gb := n.b.num(e, l)
	if ga != nil || gb != nil {
		return 0, worse(ga, gb)
	}
	return finite(a - b)
}

func (n *mul) num(e Env, l *locals) (float64, *gap) {
	a, ga := n.a.num(e, l)
	b, gb := n.b.num(e, l)
	if ga != nil || gb != nil {
		return 0, worse(ga, gb)
	}
	return finite(a * b)
}

func (n *div) num(e Env, l *locals) (float64, *gap) {
	a, ga := n.a.num(e, l)
	b, gb := n.b.num(e, l)
	if ga != nil || gb != nil {
		return 0, worse(ga, gb)
	}
	return divide(a, b)
}

func (n *mod) num(e Env, l *locals) (float64, *gap) {
	a, ga := n.a.num(e, l)
	b, gb := n.b.num(e, l)
	if ga != nil || gb != nil {
		return 0, worse(ga, gb)
	}
	return remainder(a, b)
}

func (n *add) eval(e Env, l *locals) value.Value { x, g := n.num(e, l); return number(n.t.Kind, x, g) }
func (n *sub) eval(e Env, l *locals) value.Value { x, g := n.num(e, l); return number(n.t.Kind, x, g) }
func (n *mul) eval(e Env, l *locals) value.Value { x, g := n.num(e, l); return number(n.t.Kind, x, g) }
func (n *div) eval(e Env, l *locals) value.Value { x, g := n.num(e, l); return number(n.t.Kind, x, g) }
func (n *mod) eval(e Env, l *locals) value.Value { x, g := n.num(e, l); return number(n.t.Kind, x, g) }

func divide(a, b float64) (float64, *gap) {
	if b == 0 {
		return 0, divByZero
	}
	return finite(a / b)
}

// remainder has the sign of a, as in most languages and in HCL.
func remainder(a, b float64) (float64, *gap) {
	if b == 0 {
		return 0, divByZero
	}
	return finite(math.Mod(a, b))
}

func compute(op Op, a, b float64) (float64, *gap) {
	switch op {
	case Add:
		return finite(a + b)
	case Sub:
		return finite(a - b)
	case Mul:
		return finite(a * b)
	case Div:
		return divide(a, b)
	}
	return remainder(a, b)
}

// Neg returns −a.
func Neg(a Node, t value.Type) Node {
	if t.Kind != value.Number {
		// 0 − x would turn −0 round; it is the same number.
		zero := Lit(value.Value{Kind: value.Number}, value.Type{Kind: value.Number})
		return newSpread(Sub, zero, a, t)
	}
	return &neg{asScalar(a), t}
}

type neg struct {
	a scalar
	t value.Type
}

func (n *neg) Type() value.Type { return n.t }
func (n *neg) kids() []Node     { return []Node{n.a} }
func (n *neg) num(e Env, l *locals) (float64, *gap) {
	x, g := n.a.num(e, l)
	return -x, g
}
func (n *neg) eval(e Env, l *locals) value.Value { x, g := n.num(e, l); return number(n.t.Kind, x, g) }

// Mean returns a with all takes in it replaced by their means (semantics rule
// 7).
func Mean(a Node) Node {
	t := a.Type().Mean()
	if t.Collection() {
		return &unTake{a, t}
	}
	return &meaned{asScalar(a), t}
}

// meaned is the mean of takes, as one number.
type meaned struct {
	a scalar
	t value.Type
}

func (n *meaned) Type() value.Type                     { return n.t }
func (n *meaned) kids() []Node                         { return []Node{n.a} }
func (n *meaned) num(e Env, l *locals) (float64, *gap) { return n.a.num(e, l) }
func (n *meaned) eval(e Env, l *locals) value.Value {
	x, g := n.a.num(e, l)
	return number(n.t.Kind, x, g)
}

// unTake replaces takes inside values with elements.
type unTake struct {
	a Node
	t value.Type
}

func (n *unTake) Type() value.Type                  { return n.t }
func (n *unTake) kids() []Node                      { return []Node{n.a} }
func (n *unTake) eval(e Env, l *locals) value.Value { return n.a.eval(e, l).Mean() }

// HasTakes tells whether there are takes in values of type t.
func HasTakes(t value.Type) bool {
	return t.Kind == value.Takes || t.Collection() && t.Elem != nil && HasTakes(*t.Elem)
}
