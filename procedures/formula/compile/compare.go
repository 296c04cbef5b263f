package compile

import (
	"slices"
	"strconv"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/value"
	"waywright/procedures/formula"
)

// compare compiles == != < <= > >=.
func (c *checker) compare(op formula.Op, a, b term, context hcl.Range) term {
	if a.bad || b.bad {
		return term{bad: true}
	}
	a, b = a.settleLike(b).withoutTakes(), b.settleLike(a).withoutTakes()
	for _, t := range []term{a, b} {
		switch {
		case t.open != nil:
			return c.unknownType(t)
		case t.t.Kind > value.Text:
			return c.say(WrongOperand, t.rng, context,
				"%s is %s; %s compares one value with one other. Write greatest(%[1]s), least(%[1]s) or all of it in a gate, which must hold for every element.",
				c.quote(t.rng), t.t, op)
		}
	}
	if a.t.Kind != b.t.Kind {
		return c.kinds(op, a, b, context)
	}
	equal := op == formula.Eq || op == formula.Ne
	switch a.t.Kind {
	case value.Number, value.Point:
		if a.t.Dim != b.t.Dim {
			return c.mismatch(&problem{a: a.t, b: b.t}, "compared with", a, b, context)
		}
		return term{node: formula.Compare(op, a.node, b.node), t: value.TruthType()}
	case value.Text:
		if bad := c.choice(a, b, context); bad.bad {
			return bad
		}
	}
	if !equal {
		return c.say(WrongOperand, context, context,
			"%s and %s are %s; they can be equal or not, but neither is greater. Write == or !=.", c.quote(a.rng), c.quote(b.rng), plural(a.t))
	}
	return term{node: formula.Same(a.node, b.node, op == formula.Ne), t: value.TruthType()}
}

func plural(t value.Type) string {
	if t.Kind == value.Text {
		return "texts"
	}
	return "true or false"
}

// kinds says that two values of different kinds are compared.
func (c *checker) kinds(op formula.Op, a, b term, context hcl.Range) term {
	if a.t.Kind == value.Point || b.t.Kind == value.Point {
		if isZero(a) || isZero(b) || a.t.Kind == value.Number || b.t.Kind == value.Number {
			return c.mismatch(&problem{a: a.t, b: b.t}, "compared with", a, b, context)
		}
	}
	hint := "Compare values of one kind."
	for _, t := range []struct{ num, text term }{{a, b}, {b, a}} {
		if t.num.t.Kind != value.Number || t.text.t.Kind != value.Text {
			continue
		}
		if v, ok := formula.IsLit(t.num.node); ok {
			hint = "Write " + strconv.Quote(strconv.FormatFloat(v.Num, 'g', -1, 64)) + " if the word is meant."
		} else if v, ok := formula.IsLit(t.text.node); ok {
			if _, err := strconv.ParseFloat(v.Text, 64); err == nil {
				hint = "Write " + v.Text + " without quotation marks if the number is meant."
			}
		}
	}
	return c.say(WrongOperand, b.rng, context, "%s is %s, compared with %s, which is %s. %s",
		c.quote(a.rng), a.t, c.quote(b.rng), b.t, hint)
}

// choice refuses the comparison of two texts that can never be equal
// (semantics rule 12).
func (c *checker) choice(a, b term, context hcl.Range) term {
	if a.t.Words == nil || b.t.Words == nil {
		return term{}
	}
	_, aLit := formula.IsLit(a.node)
	_, bLit := formula.IsLit(b.node)
	if aLit && !bLit {
		a, b = b, a
	}
	for _, w := range b.t.Words {
		if slices.Contains(a.t.Words, w) {
			return term{}
		}
	}
	detail := c.quote(a.rng) + " is " + choices(a.t.Words) + ", so it is never " + choices(b.t.Words) + "."
	if guess := nearest(b.t.Words[0], a.t.Words); guess != "" && len(b.t.Words) == 1 {
		detail += " Write " + strconv.Quote(guess) + " if that is meant."
	}
	return c.say(NotAChoice, b.rng, context, detail)
}

// choices lists words: `"large", "small" or "all"`.
func choices(words []string) string {
	q := make([]string, len(words))
	for i, w := range words {
		q[i] = strconv.Quote(w)
	}
	return list(q, "or")
}

func (c *checker) conditional(e *hclsyntax.ConditionalExpr) term {
	cond := c.truth(c.expr(e.Condition), "?", e.SrcRange)
	a, b := c.expr(e.TrueResult), c.expr(e.FalseResult)
	if cond.bad || a.bad || b.bad {
		return term{bad: true}
	}
	a, b = a.settleLike(b), b.settleLike(a)
	if a.open != nil {
		// Both are open: the place gives them their type.
		return term{open: func(t value.Type) formula.Node {
			return formula.If(cond.node, a.open(t), b.open(t), t)
		}}
	}
	if _, same := a.t.Join(b.t); !same {
		a, b = a.withoutTakes(), b.withoutTakes()
	}
	t, ok := a.t.Join(b.t)
	if !ok {
		return c.disagree(MixedBranches, "One branch, ", "the other, ", a, b, e.SrcRange)
	}
	out := term{node: formula.If(cond.node, a.node, b.node, t), t: t}
	if a.unit != nil && b.unit != nil && *a.unit == *b.unit {
		out.unit = a.unit
	}
	return out
}

// disagree says that two parts that should be alike are not.
func (c *checker) disagree(code Code, one, other string, a, b term, context hcl.Range) term {
	for _, z := range []struct{ zero, like term }{{b, a}, {a, b}} {
		if isZero(z.zero) && leaf(z.like.t).Kind == value.Number {
			return c.say(ZeroUnit, z.zero.rng, context,
				"%s is %s, but 0 alone is a ratio. Write %s.", c.quote(z.like.rng), z.like.t, zeroOf(z.like))
		}
	}
	return c.say(code, b.rng, context, "%s%s, is %s; %s%s, is %s. Write both of one kind and dimension.",
		one, c.quote(a.rng), a.t, other, c.quote(b.rng), b.t)
}
