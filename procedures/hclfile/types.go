package hclfile

import (
	"regexp"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/diagnose"
	"waywright/procedures/formula"
	"waywright/procedures/source"
)

type (
	dim     = quantity.Dim
	rangeOf = source.Range
)

// keyForm is the form of a key; figures may begin one: "0", "180".
var keyForm = regexp.MustCompile(`^[a-z0-9][a-z0-9_]*$`)

// scalarOf is the type of one number in a value.
func scalarOf(t value.Type) value.Type {
	for t.Collection() && t.Elem != nil {
		t = *t.Elem
	}
	return t.Scalar()
}

// dimOf is the dimension of the numbers in a value; of temperatures that of
// their differences.
func dimOf(t value.Type) dim {
	t = scalarOf(t)
	if t.Kind == value.Point {
		return quantity.TempDiff
	}
	return t.Dim
}

// dimension is the dimension of the numbers in a value; ok is false where
// there is none.
func dimension(t value.Type) (d dim, ok bool) {
	t = scalarOf(t)
	return t.Dim, t.Kind == value.Number || t.Kind == value.Net
}

func kindOrNumber(t value.Type) value.Kind {
	if t.Kind == value.Point {
		return value.Point
	}
	return value.Number
}

// fitting is a unit for values of that type.
func fitting(t value.Type) quantity.Unit {
	if t.Kind == value.Point {
		return *unitNamed("celsius")
	}
	return dimOf(t).Default()
}

func unitNamed(name string) *quantity.Unit {
	u, err := quantity.Lookup(name)
	if err != nil {
		panic("hclfile: " + err.Error())
	}
	return &u
}

// writtenUnit is the unit that a number is written in, as far as it can be
// seen: um(20) is in µm, um(5) / m(1) in µm/m.
func writtenUnit(e hcl.Expression, d dim) quantity.Unit {
	if name := unitText(bare(e)); name != "" {
		if u, err := quantity.Lookup(name); err == nil && u.Dim == d && !u.Point {
			return u
		}
	}
	return d.Default()
}

func unitText(e hcl.Expression) string {
	switch e := bare(e).(type) {
	case *hclsyntax.FunctionCallExpr:
		if u, ok := quantity.LiteralUnit(e.Name); ok {
			return u.Name
		}
	case *hclsyntax.UnaryOpExpr:
		return unitText(e.Val)
	case *hclsyntax.BinaryOpExpr:
		l, r := unitText(e.LHS), unitText(e.RHS)
		if e.Op == hclsyntax.OpDivide && l != "" && r != "" {
			return l + "/" + r
		}
	}
	return ""
}

func blank(s string) bool { return strings.TrimSpace(s) == "" }

func join(parts []string, sep string) string { return strings.Join(parts, sep) }

// troubled tells whether something was already found wrong inside an
// attribute, so that one mistake gives one diagnostic.
func (r *reader) troubled(n *node, name string) bool {
	a := n.attrs[name]
	if a == nil {
		return false
	}
	at := rng(a.SrcRange)
	for _, d := range r.diags {
		if d.Severity == diagnose.Error && d.Subject.File == at.File &&
			d.Subject.Start.Byte >= at.Start.Byte && d.Subject.End.Byte <= at.End.Byte {
			return true
		}
	}
	return false
}

// numberedBounded sees to it that numbered(n) has an upper end (semantics rule
// 17): n is a number, or a given that is a count with a range.
func (r *reader) numberedBounded(k *node, e hclsyntax.Expression) {
	hclsyntax.VisitAll(e, func(x hclsyntax.Node) hcl.Diagnostics {
		call, ok := x.(*hclsyntax.FunctionCallExpr)
		if !ok || call.Name != "numbered" || len(call.Args) != 1 || r.bounded(call.Args[0]) {
			return nil
		}
		r.say(k, "E115", rng(call.Args[0].Range()),
			"numbered takes a given that is a count with a range, so that the longest path is known. Write, for example, numbered(given.screws), and give it range = [3, 8].")
		return nil
	})
}

func (r *reader) bounded(e hcl.Expression) bool {
	if _, ok := wholeNumber(e); ok {
		return true
	}
	t, ok := bare(e).(*hclsyntax.ScopeTraversalExpr)
	if !ok || len(t.Traversal) != 2 || t.Traversal.RootName() != formula.Given.String() {
		return false
	}
	a, ok := t.Traversal[1].(hcl.TraverseAttr)
	if !ok {
		return false
	}
	d := r.decls["given"][a.Name]
	return d == nil || !d.ready || d.node.has("range") && d.inner.Count
}

// listOf returns what stands in square brackets, or nothing.
func listOf(e hclsyntax.Expression) []hclsyntax.Expression {
	if e == nil {
		return nil
	}
	if t, ok := bare(e).(*hclsyntax.TupleConsExpr); ok {
		return t.Exprs
	}
	return nil
}
