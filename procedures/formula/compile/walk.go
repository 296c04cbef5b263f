package compile

import (
	"fmt"
	"math"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"waywright/checks/value"
	"waywright/procedures/formula"
)

// maxDepth bounds how deeply an expression may be nested. A sum of n terms is
// n deep. Deeper ones cannot be read, and a bound keeps every walk over
// programs off the end of the stack.
const maxDepth = 250

// expr compiles e.
func (c *checker) expr(e hclsyntax.Expression) term {
	if e == nil {
		return badAt(hcl.Range{})
	}
	if c.depth++; c.depth > maxDepth {
		c.depth--
		if c.deep {
			return term{bad: true}
		}
		c.deep = true
		return c.say(TooDeep, e.Range(), e.Range(),
			"This expression is more than %d deep. Split it into several results.", maxDepth)
	}
	defer func() { c.depth-- }()
	t := c.node(e)
	t.rng = e.Range()
	return c.fold(t)
}

func (c *checker) node(e hclsyntax.Expression) term {
	switch e := e.(type) {
	case *hclsyntax.LiteralValueExpr:
		return c.literal(e)
	case *hclsyntax.ParenthesesExpr:
		return c.expr(e.Expression)
	case *hclsyntax.ScopeTraversalExpr:
		return c.traversal(e)
	case *hclsyntax.RelativeTraversalExpr:
		return c.steps(c.expr(e.Source), e.Traversal)
	case *hclsyntax.IndexExpr:
		return c.index(e)
	case *hclsyntax.FunctionCallExpr:
		return c.call(e)
	case *hclsyntax.UnaryOpExpr:
		return c.unary(e)
	case *hclsyntax.BinaryOpExpr:
		return c.binary(e)
	case *hclsyntax.ConditionalExpr:
		return c.conditional(e)
	case *hclsyntax.TupleConsExpr:
		return c.tuple(e)
	case *hclsyntax.ObjectConsExpr:
		return c.object(e)
	case *hclsyntax.ForExpr:
		return c.loop(e)
	case *hclsyntax.TemplateExpr:
		return c.template(e)
	case *hclsyntax.TemplateWrapExpr:
		return c.wrapped(e)
	case *hclsyntax.TemplateJoinExpr:
		return c.joined(e)
	case *hclsyntax.SplatExpr:
		return c.notUsed(e.MarkerRange, e.Range(), "A splat",
			"Write [for v in … : v] for a list, or name a function that goes over all elements, such as mean(…).")
	case *hclsyntax.ExprSyntaxError:
		return term{bad: true} // the parser has said so
	}
	return c.notUsed(e.Range(), e.Range(), "This form", "Write it as an operator, a function or a name.")
}

func (c *checker) notUsed(subject, context hcl.Range, what, mend string) term {
	return c.say(NotUsed, subject, context,
		"%s has no meaning in a procedure. %s", what, mend)
}

// literal compiles a number, true or false, or a piece of a text.
func (c *checker) literal(e *hclsyntax.LiteralValueExpr) term {
	v := e.Val
	switch {
	case v.IsNull():
		return c.notUsed(e.SrcRange, e.SrcRange, "null",
			"A value that does not apply is one whose `when` is false; leave the attribute out to say nothing.")
	case !v.IsKnown():
		return term{bad: true}
	case v.Type() == cty.Bool:
		return constant(value.Bool(v.True()), value.TruthType())
	case v.Type() == cty.String:
		return c.words(v.AsString(), e.SrcRange)
	case v.Type() == cty.Number:
		x, _ := v.AsBigFloat().Float64()
		if math.IsInf(x, 0) {
			return c.say(BadNumber, e.SrcRange, e.SrcRange,
				c.quote(e.SrcRange)+" is larger than any number that can be computed with.")
		}
		t := value.Type{Kind: value.Number, Count: x == math.Trunc(x)}
		return constant(value.Num(x), t)
	}
	return term{bad: true}
}

func constant(v value.Value, t value.Type) term {
	return term{node: formula.Lit(v, t), t: t}
}

// words compiles a text as it stands. It is a choice of one word, so that it
// can be held against the choices it is compared with.
func (c *checker) words(s string, r hcl.Range) term {
	if bad, ok := control(s); ok {
		return c.say(PlainText, r, r,
			"This text holds %s. Write one line of plain text between quotation marks.", bad)
	}
	return constant(value.Str(s), value.TextType(s))
}

// control names the first control character of a text.
func control(s string) (name string, found bool) {
	for _, r := range s {
		switch {
		case r == '\n' || r == '\r':
			return "a line break", true
		case r == '\t':
			return "a tab", true
		case r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0,
			r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069: // turn the direction of writing
			return fmt.Sprintf("the control character U+%04X", r), true
		}
	}
	return "", false
}

// fold works out what does not depend on any name.
func (c *checker) fold(t term) term {
	if t.bad || t.open != nil {
		return t
	}
	n, why := formula.Fold(t.node)
	if why != "" {
		return c.say(NoValue, t.rng, t.rng,
			"%s cannot be worked out: %s. Change the numbers in it.", c.quote(t.rng), why)
	}
	t.node = n
	return t
}

// source returns the text at a range, or nothing where there is none.
func (c *checker) source(r hcl.Range) []byte {
	if !r.CanSliceBytes(c.src) {
		return nil
	}
	return r.SliceBytes(c.src)
}

// quote returns the source at a range on one line for use in a sentence, and
// "this" where it is long.
func (c *checker) quote(r hcl.Range) string {
	s := strings.Join(strings.Fields(string(c.source(r))), " ")
	if s == "" || len(s) > 48 {
		return "this"
	}
	return s
}
