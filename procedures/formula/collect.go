package formula

import (
	"strconv"

	"waywright/checks/value"
)

// Pick returns the element of a keyed value at a key that is written, or the
// part of an object with that name.
func Pick(coll Node, key string) Node { return &pick{coll, key} }

type pick struct {
	coll Node
	key  string
}

func (n *pick) Type() value.Type {
	t := n.coll.Type()
	if p, ok := t.Part(n.key); ok {
		return p
	}
	return *t.Elem
}
func (n *pick) kids() []Node { return []Node{n.coll} }

// at returns the element, or why there is none.
func (n *pick) at(e Env, l *locals, buf *value.Value) (*value.Value, *gap) {
	return element(look(n.coll, e, l, buf), n.key)
}

func element(c *value.Value, key string) (*value.Value, *gap) {
	if g := gapOf(c); g != nil {
		return nil, g
	}
	i := find(c, key)
	if i < 0 {
		return nil, noKey(key)
	}
	return &c.Elems[i], nil
}

func (n *pick) eval(e Env, l *locals) value.Value {
	var buf value.Value
	v, g := n.at(e, l, &buf)
	if g != nil {
		return g.value(n.Type().Kind)
	}
	return *v
}

func (n *pick) view(e Env, l *locals) *value.Value {
	w, ok := n.coll.(viewer)
	if !ok {
		return nil
	}
	c := w.view(e, l)
	if c == nil {
		return nil
	}
	v, _ := element(c, n.key)
	return v
}

func (n *pick) num(e Env, l *locals) (float64, *gap) {
	var buf value.Value
	v, g := n.at(e, l, &buf)
	if g != nil {
		return 0, g
	}
	return numberOf(v)
}

func (n *pick) truth(e Env, l *locals) (bool, *gap) {
	var buf value.Value
	v, g := n.at(e, l, &buf)
	if g != nil {
		return false, g
	}
	return v.Truth, gapOf(v)
}

// PickBy returns the element of a keyed value at a key that is worked out: a
// text, or a count.
func PickBy(coll, key Node) Node { return &pickBy{coll, key} }

type pickBy struct{ coll, key Node }

func (n *pickBy) Type() value.Type { return *n.coll.Type().Elem }
func (n *pickBy) kids() []Node     { return []Node{n.coll, n.key} }

func (n *pickBy) at(e Env, l *locals, buf *value.Value) (*value.Value, *gap) {
	c := look(n.coll, e, l, buf)
	var kb value.Value
	key, gk := keyOf(look(n.key, e, l, &kb))
	if g := worse(gapOf(c), gk); g != nil {
		return nil, g
	}
	return element(c, key)
}

func (n *pickBy) eval(e Env, l *locals) value.Value {
	var buf value.Value
	v, g := n.at(e, l, &buf)
	if g != nil {
		return g.value(n.Type().Kind)
	}
	return *v
}

func (n *pickBy) num(e Env, l *locals) (float64, *gap) {
	var buf value.Value
	v, g := n.at(e, l, &buf)
	if g != nil {
		return 0, g
	}
	return numberOf(v)
}

func (n *pickBy) truth(e Env, l *locals) (bool, *gap) {
	var buf value.Value
	v, g := n.at(e, l, &buf)
	if g != nil {
		return false, g
	}
	return v.Truth, gapOf(v)
}

// ListOf returns a list of values in order.
func ListOf(elems []Node, t value.Type) Node { return &gather{nil, elems, t} }

// Object returns a keyed value with written keys.
func Object(keys []string, elems []Node, t value.Type) Node { return &gather{keys, elems, t} }

type gather struct {
	keys  []string
	elems []Node
	t     value.Type
}

func (n *gather) Type() value.Type { return n.t }
func (n *gather) kids() []Node     { return n.elems }
func (n *gather) eval(e Env, l *locals) value.Value {
	out := value.Value{Kind: n.t.Kind, Keys: n.keys, Elems: make([]value.Value, len(n.elems))}
	for i, el := range n.elems {
		out.Elems[i] = el.eval(e, l)
	}
	return out
}

// Loop is a for over the elements of a value.
type Loop struct {
	Over Node // keyed, profile, turn or list
	If   Node // leaves out what it is false for; nil: nothing
	Body Node
	// Type is that of the result: a List, or of the kind of Over with the
	// same keys or places.
	Type value.Type
}

// For returns a loop. In Body and If the variables are Local with no hops.
func For(l Loop) Node {
	n := &loop{over: l.Over, body: l.Body, t: l.Type}
	if l.If != nil {
		n.cond = asTruther(l.If)
	}
	return n
}

type loop struct {
	over, body Node
	cond       truther
	t          value.Type
}

func (n *loop) Type() value.Type { return n.t }
func (n *loop) kids() []Node {
	if n.cond == nil {
		return []Node{n.over, n.body}
	}
	return []Node{n.over, n.cond, n.body}
}

func (n *loop) eval(e Env, l *locals) value.Value {
	out := value.Value{Kind: n.t.Kind, Elems: []value.Value{}}
	g := n.each(e, l, func(c *value.Value, i int, in *locals) {
		switch n.t.Kind {
		case value.Keyed:
			out.Keys = append(out.Keys, c.Keys[i])
		case value.Profile, value.Turn:
			out.At = append(out.At, c.At[i])
		}
		out.Elems = append(out.Elems, n.body.eval(e, in))
	})
	if g != nil {
		return g.value(n.t.Kind)
	}
	return out
}

// each calls f for the elements that the condition leaves in.
func (n *loop) each(e Env, l *locals, f func(c *value.Value, i int, in *locals)) *gap {
	var buf value.Value
	c := look(n.over, e, l, &buf)
	if g := gapOf(c); g != nil {
		return g
	}
	in := &locals{up: l}
	for i := range c.Elems {
		in.key, in.val = keyAt(c, i, n.over.Type()), c.Elems[i]
		if n.cond != nil {
			take, g := n.cond.truth(e, in)
			if g != nil {
				return g
			}
			if !take {
				continue
			}
		}
		f(c, i, in)
	}
	return nil
}

// keyAt returns the key of an element, as the variable of a for has it.
func keyAt(c *value.Value, i int, t value.Type) value.Value {
	switch {
	case c.Kind == value.Keyed && t.Key.Count:
		x, err := strconv.ParseFloat(c.Keys[i], 64)
		if err != nil {
			return noKey(c.Keys[i]).value(value.Number)
		}
		return value.Value{Kind: value.Number, Num: x}
	case c.Kind == value.Keyed:
		return value.Value{Kind: value.Text, Text: c.Keys[i]}
	case i < len(c.At):
		return value.Value{Kind: value.Number, Num: c.At[i]}
	}
	return value.Value{}
}
