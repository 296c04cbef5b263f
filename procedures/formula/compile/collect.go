package compile

import (
	"math"
	"regexp"
	"slices"
	"strconv"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/formula"
)

func (c *checker) tuple(e *hclsyntax.TupleConsExpr) term {
	if len(e.Exprs) == 0 {
		return c.say(MixedElements, e.SrcRange, e.SrcRange, "An empty list is of no kind. Write at least one element.")
	}
	elems := make([]term, len(e.Exprs))
	for i, x := range e.Exprs {
		elems[i] = c.expr(x)
	}
	nodes, t, ok := c.alike(elems, e.SrcRange)
	if !ok {
		return term{bad: true}
	}
	t = value.ListType(t)
	return term{node: formula.ListOf(nodes, t), t: t}
}

// alike returns the one type of several elements (semantics rule 6).
func (c *checker) alike(elems []term, context hcl.Range) ([]formula.Node, value.Type, bool) {
	var first *term
	ok := true
	for i := range elems {
		if ok = ok && !elems[i].bad; first == nil && !elems[i].bad && elems[i].open == nil && !isZero(elems[i]) {
			first = &elems[i]
		}
	}
	if !ok {
		return nil, value.Type{}, false
	}
	if first == nil {
		first = &elems[0]
	}
	if first.open != nil {
		c.unknownType(*first)
		return nil, value.Type{}, false
	}
	*first = first.withoutTakes()
	t := first.t
	nodes := make([]formula.Node, len(elems))
	for i := range elems {
		el := elems[i].settleLike(*first).withoutTakes()
		joined, same := t.Join(el.t)
		if !same {
			c.disagree(MixedElements, "One element, ", "another, ", *first, el, context)
			ok = false
			continue
		}
		t, nodes[i] = joined, el.node
	}
	return nodes, t, ok
}

// object compiles {1 = …, 2 = …}: values by key. Keys are written; numbers
// are counts.
func (c *checker) object(e *hclsyntax.ObjectConsExpr) term {
	if len(e.Items) == 0 {
		return c.say(MixedElements, e.SrcRange, e.SrcRange, "An empty object is of no kind. Write at least one key and value.")
	}
	keys := make([]string, len(e.Items))
	elems := make([]term, len(e.Items))
	ok, counts := true, 0
	for i, it := range e.Items {
		key, count, good := c.objectKey(it.KeyExpr)
		if good && slices.Contains(keys[:i], key) {
			c.say(DoubleKey, it.KeyExpr.Range(), e.SrcRange, "The key %s stands twice. Leave one out.", key)
			good = false
		}
		keys[i], ok = key, ok && good
		if count {
			counts++
		}
		elems[i] = c.expr(it.ValueExpr)
	}
	nodes, t, same := c.alike(elems, e.SrcRange)
	if !ok || !same {
		return term{bad: true}
	}
	if counts != 0 && counts != len(keys) {
		return c.say(WrongKey, e.SrcRange, e.SrcRange, "Some keys of this object are whole numbers and some are words. Write all of one sort; a word made of figures is written \"1\".")
	}
	t = value.KeyedType(value.Key{Count: counts > 0, Words: keys}, t)
	return term{node: formula.Object(keys, nodes, t), t: t}
}

// objectKey returns a written key; count is true for a whole number.
func (c *checker) objectKey(e hclsyntax.Expression) (key string, count, ok bool) {
	inner := e
	if k, is := e.(*hclsyntax.ObjectConsKeyExpr); is {
		inner = k.Wrapped
		if w := hcl.ExprAsKeyword(k); w != "" && !k.ForceNonLiteral {
			return w, false, true
		}
	}
	switch k := inner.(type) {
	case *hclsyntax.LiteralValueExpr:
		if k.Val.Type() == cty.Number && k.Val.IsKnown() && !k.Val.IsNull() {
			x, _ := k.Val.AsBigFloat().Float64()
			if x == math.Trunc(x) && x >= 1 && x <= 1<<53 {
				return strconv.FormatFloat(x, 'f', 0, 64), true, true
			}
		}
	case *hclsyntax.TemplateExpr:
		if k.IsStringLiteral() {
			v, _ := k.Value(nil)
			if s := v.AsString(); s != "" {
				return s, false, true
			}
		}
	}
	c.say(WrongKey, e.Range(), e.Range(), "A key of an object is a word, or a whole number from 1 on, as it stands: {near = …}, {\"180\" = …} or {1 = …}.")
	return "", false, false
}

// variable is a pair of variables of a for.
type variable struct {
	key, val   string // names; "" for one that is not written
	keyT, valT value.Type
	unit       *quantity.Unit
}

// use returns the variable of that name; hops counts the for between.
func (v variable) use(name string, hops int) (term, bool) {
	switch {
	case name == "":
		return term{}, false
	case name == v.val && v.valT.Kind == 0:
		return term{bad: true}, true
	case name == v.val:
		return term{node: formula.Local(hops, false, v.valT), t: v.valT, unit: v.unit}, true
	case name == v.key && v.keyT.Kind == 0:
		return term{bad: true}, true
	case name == v.key:
		return term{node: formula.Local(hops, true, v.keyT), t: v.keyT}, true
	}
	return term{}, false
}

// loop compiles {for k, v in x : k => …} and [for v in x : …] (semantics
// rules 5 and 9).
func (c *checker) loop(e *hclsyntax.ForExpr) term {
	over := c.expr(e.CollExpr)
	v, ok := c.variables(e, over)
	c.vars = append(c.vars, v)
	defer func() { c.vars = c.vars[:len(c.vars)-1] }()
	l := formula.Loop{Over: over.node}
	if e.CondExpr != nil {
		cond := c.truth(c.expr(e.CondExpr), "if", e.SrcRange)
		l.If, ok = cond.node, ok && !cond.bad
	}
	body := c.expr(e.ValExpr)
	if e.KeyExpr != nil {
		ok = c.sameKey(e, over) && ok
	}
	if e.Group {
		return c.notUsed(e.ValExpr.Range(), e.SrcRange, "A value that ends in ...", "Each key has one value.")
	}
	if !ok || over.bad || body.bad {
		return term{bad: true}
	}
	if body.open != nil {
		return c.unknownType(body)
	}
	l.Body, l.Type = body.node, value.ListType(body.t)
	if e.KeyExpr != nil {
		l.Type = over.t
		l.Type.Elem = &body.t
	}
	return term{node: formula.For(l), t: l.Type}
}

// variables returns the variables of a for over a value.
func (c *checker) variables(e *hclsyntax.ForExpr, over term) (variable, bool) {
	v := variable{key: e.KeyVar, val: e.ValVar, unit: over.unit}
	ok := c.freeName(e.KeyVar, e) && c.freeName(e.ValVar, e)
	if over.bad {
		return v, false
	}
	if over.open != nil {
		c.unknownType(over)
		return v, false
	}
	if over.t.Elem != nil {
		v.valT = *over.t.Elem
	}
	switch over.t.Kind {
	case value.Keyed:
		v.keyT = value.TextType(over.t.Key.Words...)
		if over.t.Key.Count {
			v.keyT = value.CountType()
		}
	case value.Profile:
		v.keyT = value.NumberType(quantity.Length)
	case value.Turn:
		v.keyT = value.NumberType(quantity.Angle)
	case value.List:
		if e.KeyVar != "" {
			c.say(NoPositions, e.OpenRange, e.SrcRange, "%s is a list, which has no keys. Write for %s in %s.",
				c.quote(over.rng), e.ValVar, c.quote(over.rng))
			ok = false
		}
	default:
		c.say(NoElements, over.rng, e.SrcRange, "%s is %s. A for goes over keyed values, a profile, a turn or a list.", c.quote(over.rng), over.t)
		v.valT, ok = value.Type{}, false
	}
	return v, ok
}

// freeName refuses a variable that is called like something else.
func (c *checker) freeName(name string, e *hclsyntax.ForExpr) bool {
	if name == "" {
		return true
	}
	taken := ""
	if _, ok := spaces[name]; ok {
		taken = "the word for a kind of value"
	} else if noun, ok := references[name]; ok {
		taken = "the word for " + noun
	} else if _, ok := ownWords[name]; ok {
		taken = "a word of corrections"
	}
	for space, names := range c.sc.Names {
		if _, ok := names[name]; ok && space != formula.Own {
			taken = "the label of " + space.String() + "." + name
			break
		}
	}
	for _, noun := range slices.Sorted(mapKeys(c.sc.References)) {
		if slices.Contains(c.sc.References[noun], name) {
			taken = "the label of " + noun + "." + name
		}
	}
	for _, v := range c.vars {
		if name == v.key || name == v.val {
			taken = "the variable of the for around it"
		}
	}
	if e.KeyVar == e.ValVar {
		taken = "the other variable of this for"
	}
	if taken == "" {
		return true
	}
	c.say(ForVariable, c.variableRange(name, e), e.SrcRange, "%s is %s already. Choose another name for the variable, such as v.", name, taken)
	return false
}

// variableRange finds the place of a variable, which the syntax tree does not
// keep: it is a word between the opening bracket and the value gone over.
func (c *checker) variableRange(name string, e *hclsyntax.ForExpr) hcl.Range {
	head := hcl.Range{Filename: e.OpenRange.Filename, Start: e.OpenRange.End, End: e.CollExpr.Range().Start}
	src := c.source(head)
	at := regexp.MustCompile(`(?:\bfor\s+|,\s*)` + regexp.QuoteMeta(name) + `\b`).FindIndex(src)
	if at == nil {
		return e.OpenRange
	}
	r := hcl.Range{Filename: head.Filename, Start: forward(head.Start, src[:at[1]-len(name)])}
	r.End = forward(r.Start, []byte(name))
	return r
}

// forward returns the place after some text, which has no wide letters.
func forward(p hcl.Pos, text []byte) hcl.Pos {
	for _, b := range text {
		p.Byte++
		p.Column++
		if b == '\n' {
			p.Line, p.Column = p.Line+1, 1
		}
	}
	return p
}

// sameKey holds the key of a for that makes keyed values against its own key
// variable.
func (c *checker) sameKey(e *hclsyntax.ForExpr, over term) bool {
	if !over.bad && over.t.Kind == value.List {
		c.say(ForKey, e.KeyExpr.Range(), e.SrcRange, "%s is a list, which has no keys to keep. Write [for %s in %s : …].", c.quote(over.rng), e.ValVar, c.quote(over.rng))
		return false
	}
	key := e.KeyExpr
	if p, ok := key.(*hclsyntax.ParenthesesExpr); ok {
		key = p.Expression
	}
	if t, ok := key.(*hclsyntax.ScopeTraversalExpr); ok && len(t.Traversal) == 1 && t.Traversal.RootName() == e.KeyVar && e.KeyVar != "" {
		return true
	}
	write := e.KeyVar
	if write == "" {
		write = "k"
	}
	c.say(ForKey, e.KeyExpr.Range(), e.SrcRange, "A for keeps the keys it goes over. Write {for %s, %s in %s : %s => …}.",
		write, e.ValVar, c.quote(over.rng), write)
	return false
}
