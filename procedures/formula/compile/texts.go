package compile

import (
	"bytes"
	"iter"
	"maps"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/value"
	"waywright/procedures/formula"
)

func mapKeys[M ~map[string]V, V any](m M) iter.Seq[string] { return maps.Keys(m) }

// template compiles a text with values in it.
func (c *checker) template(e *hclsyntax.TemplateExpr) term {
	if c.heredoc(e.SrcRange) {
		return c.notUsed(e.SrcRange, e.SrcRange, "A text that begins with <<", "Write one line between quotation marks; several sentences stand in a list.")
	}
	if len(e.Parts) == 0 {
		return constant(value.Str(""), value.TextType(""))
	}
	if len(e.Parts) == 1 {
		if lit, ok := e.Parts[0].(*hclsyntax.LiteralValueExpr); ok {
			return c.literal(lit)
		}
	}
	parts := make([]formula.Part, 0, len(e.Parts))
	bad := false
	for _, p := range e.Parts {
		t := c.expr(p)
		if bad = bad || t.bad; bad {
			continue
		}
		part, ok := c.part(t)
		bad = bad || !ok
		parts = append(parts, part)
	}
	if bad {
		return term{bad: true}
	}
	return term{node: formula.Join(parts...), t: value.TextType()}
}

func (c *checker) heredoc(r hcl.Range) bool { return bytes.HasPrefix(c.source(r), []byte("<<")) }

// part returns a piece of a text. A named value shows in its unit, any other
// in the first of its dimension (semantics rule 14).
func (c *checker) part(t term) (formula.Part, bool) {
	if t.open != nil {
		c.unknownType(t)
		return formula.Part{}, false
	}
	if v, ok := formula.IsLit(t.node); ok && v.Kind == value.Text {
		return formula.Part{Text: v.Text}, true
	}
	return formula.Part{Node: t.node, Unit: t.unit}, true
}

// wrapped compiles a text that is one value and nothing else: "${x}".
func (c *checker) wrapped(e *hclsyntax.TemplateWrapExpr) term {
	t := c.expr(e.Wrapped)
	if t.bad || t.open == nil && t.t.Kind == value.Text {
		return t
	}
	p, ok := c.part(t)
	if !ok {
		return term{bad: true}
	}
	return term{node: formula.Join(p), t: value.TextType()}
}

// joined compiles %{for …} in a text.
func (c *checker) joined(e *hclsyntax.TemplateJoinExpr) term {
	t := c.expr(e.Tuple)
	if t.bad {
		return t
	}
	if t.t.Kind != value.List || t.t.Elem == nil || t.t.Elem.Kind != value.Text {
		return c.notUsed(t.rng, t.rng, "This %{for}", "Write words between %{for …} and %{endfor}.")
	}
	return term{node: formula.Concat(t.node), t: value.TextType()}
}
