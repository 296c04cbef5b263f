package formula

import (
	"math"
	"strconv"

	"waywright/checks/value"
)

// Node is a part of a program under construction. Nodes are made by the
// functions of this package, which take for granted that their operands have
// been checked: package compile does that, and says what is wrong to the
// author.
type Node interface {
	// Type returns the type of the node's value.
	Type() value.Type

	eval(Env, *locals) value.Value
	kids() []Node
}

// scalar is a node whose value is one number. It is computed without making a
// value.Value, which is what keeps formulas fast.
type scalar interface {
	Node
	num(Env, *locals) (float64, *gap)
}

// truther is a node whose value is a truth.
type truther interface {
	Node
	truth(Env, *locals) (bool, *gap)
}

// viewer is a node that can show its value where it lies, without a copy. It
// returns nil where it cannot.
type viewer interface {
	view(Env, *locals) *value.Value
}

// locals holds the variables of one turn of a for; up are those outside it.
type locals struct {
	up       *locals
	key, val value.Value
}

// gap says why there is no value. A nil gap means that there is one.
type gap struct {
	state value.State
	why   string
}

var (
	divByZero = &gap{value.Absent, "division by zero"}
	tooLarge  = &gap{value.Absent, "the number is too large to compute with"}
	notNumber = &gap{value.Absent, "not a number"}
	missing   = &gap{state: value.Missing}
)

// worse returns the gap with the greater state, the first of equals.
func worse(a, b *gap) *gap {
	switch {
	case a == nil:
		return b
	case b == nil || a.state >= b.state:
		return a
	}
	return b
}

func (g *gap) value(k value.Kind) value.Value {
	return value.Value{Kind: k, State: g.state, Why: g.why}
}

// gapOf returns the gap of a value itself, whatever its elements are.
func gapOf(v *value.Value) *gap {
	switch {
	case v.State == value.Present:
		return nil
	case v.State == value.Missing && v.Why == "":
		return missing
	}
	return &gap{v.State, v.Why}
}

// deepGap returns the worst gap of a value and of all its elements.
func deepGap(v *value.Value) *gap {
	if len(v.Elems) == 0 {
		return gapOf(v)
	}
	if s, why := v.Worst(); s != value.Present {
		return &gap{s, why}
	}
	return nil
}

// finite returns x, or the gap of a number that is none.
func finite(x float64) (float64, *gap) {
	if x-x != 0 {
		return 0, tooLarge
	}
	return x, nil
}

// numberOf returns a value as one number: takes stand for their mean.
func numberOf(v *value.Value) (float64, *gap) {
	if v.State != value.Present {
		return 0, gapOf(v)
	}
	switch v.Kind {
	case value.Number, value.Point:
		return finite(v.Num)
	case value.Takes:
		m := v.Mean()
		if m.State != value.Present {
			return 0, gapOf(&m)
		}
		return finite(m.Num)
	}
	return 0, notNumber
}

func number(k value.Kind, x float64, g *gap) value.Value {
	if g != nil {
		return g.value(k)
	}
	return value.Value{Kind: k, Num: x}
}

func truth(b bool, g *gap) value.Value {
	if g != nil {
		return g.value(value.Truth)
	}
	return value.Value{Kind: value.Truth, Truth: b}
}

// look returns the value of a node, in place where that is possible and in
// buf where it is not.
func look(n Node, e Env, l *locals, buf *value.Value) *value.Value {
	if w, ok := n.(viewer); ok {
		if v := w.view(e, l); v != nil {
			return v
		}
	}
	*buf = n.eval(e, l)
	return buf
}

// asScalar returns n as a scalar, boxed where it is not one.
func asScalar(n Node) scalar {
	if s, ok := n.(scalar); ok {
		return s
	}
	return boxed{n}
}

func asTruther(n Node) truther {
	if t, ok := n.(truther); ok {
		return t
	}
	return boxed{n}
}

// boxed gives a number or a truth by way of a value.
type boxed struct{ Node }

func (b boxed) num(e Env, l *locals) (float64, *gap) {
	var buf value.Value
	return numberOf(look(b.Node, e, l, &buf))
}

func (b boxed) truth(e Env, l *locals) (bool, *gap) {
	var buf value.Value
	v := look(b.Node, e, l, &buf)
	return v.Truth, gapOf(v)
}

func (b boxed) kids() []Node { return []Node{b.Node} }

// keyOf returns a key as it stands in Keys: words as they are, counts in
// decimal.
func keyOf(v *value.Value) (string, *gap) {
	if v.State != value.Present {
		return "", gapOf(v)
	}
	if v.Kind == value.Text {
		return v.Text, nil
	}
	x, g := numberOf(v)
	if g != nil {
		return "", g
	}
	if x != math.Trunc(x) || math.Abs(x) > 1<<53 {
		return "", &gap{value.Absent, "a key is a whole number, not " + strconv.FormatFloat(x, 'g', -1, 64)}
	}
	return strconv.FormatInt(int64(x), 10), nil
}

// NothingAt begins the reason of a value that is absent because its key is not
// there.
const NothingAt = "there is nothing at key "

func noKey(key string) *gap {
	return &gap{value.Absent, NothingAt + key}
}

// find returns the position of a key, or −1.
func find(v *value.Value, key string) int {
	for i, k := range v.Keys {
		if k == key && i < len(v.Elems) {
			return i
		}
	}
	return -1
}
