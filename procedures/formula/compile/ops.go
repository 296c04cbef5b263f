package compile

import (
	"fmt"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/formula"
)

var arithmetic = map[*hclsyntax.Operation]formula.Op{
	hclsyntax.OpAdd: formula.Add, hclsyntax.OpSubtract: formula.Sub, hclsyntax.OpMultiply: formula.Mul,
	hclsyntax.OpDivide: formula.Div, hclsyntax.OpModulo: formula.Mod,
}

var comparison = map[*hclsyntax.Operation]formula.Op{
	hclsyntax.OpEqual: formula.Eq, hclsyntax.OpNotEqual: formula.Ne,
	hclsyntax.OpLessThan: formula.Lt, hclsyntax.OpLessThanOrEqual: formula.Le,
	hclsyntax.OpGreaterThan: formula.Gt, hclsyntax.OpGreaterThanOrEqual: formula.Ge,
}

func (c *checker) unary(e *hclsyntax.UnaryOpExpr) term {
	a := c.expr(e.Val)
	switch {
	case a.bad:
		return a
	case e.Op == hclsyntax.OpLogicalNot:
		if a = c.truth(a, "!", e.SrcRange); a.bad {
			return a
		}
		return term{node: formula.Not(a.node), t: value.TruthType()}
	case a.open != nil:
		return c.unknownType(a)
	}
	a = a.withoutTakes()
	t, p := negated(a.t)
	if p != nil {
		return c.operand(p, "the sign -", a, a, e.SrcRange)
	}
	return term{node: formula.Neg(a.node, t), t: t}
}

// negated returns the type of −x.
func negated(t value.Type) (value.Type, *problem) {
	switch {
	case t.Kind == value.Number:
		return t, nil
	case t.Kind == value.Point:
		return t, &problem{code: PointSum}
	case spreads(t):
		e, p := negated(*t.Elem)
		t.Elem = &e
		return t, p
	}
	return t, &problem{code: WrongOperand}
}

// spreads tells whether operators work on t element by element (semantics
// rule 10).
func spreads(t value.Type) bool {
	return (t.Kind == value.Profile || t.Kind == value.Turn || t.Kind == value.Keyed) && t.Elem != nil
}

func (c *checker) binary(e *hclsyntax.BinaryOpExpr) term {
	a, b := c.expr(e.LHS), c.expr(e.RHS)
	if op, ok := arithmetic[e.Op]; ok {
		return c.arith(op, a, b, e.SrcRange)
	}
	if op, ok := comparison[e.Op]; ok {
		return c.compare(op, a, b, e.SrcRange)
	}
	word, join := "&&", formula.And
	if e.Op == hclsyntax.OpLogicalOr {
		word, join = "||", formula.Or
	}
	a, b = c.truth(a, word, e.SrcRange), c.truth(b, word, e.SrcRange)
	if a.bad || b.bad {
		return term{bad: true}
	}
	return term{node: join(a.node, b.node), t: value.TruthType()}
}

// truth holds an operand of ! && || against what it must be.
func (c *checker) truth(t term, op string, context hcl.Range) term {
	t = t.settle(value.TruthType())
	if t.bad || t.t.Kind == value.Truth {
		return t
	}
	return c.say(WrongOperand, t.rng, context,
		"%s is %s, but %s joins what is true or false. Compare it with something, such as %s > %s.",
		c.quote(t.rng), t.t, op, c.quote(t.rng), example(t.t))
}

// problem is why two types do not go together; a and b are the types of the
// elements that do not, where they are not the operands'.
type problem struct {
	code Code
	a, b value.Type
	why  string
}

func (c *checker) arith(op formula.Op, a, b term, context hcl.Range) term {
	if a.bad || b.bad {
		return term{bad: true}
	}
	if op == formula.Add || op == formula.Sub || op == formula.Mod {
		a, b = a.settleLike(b), b.settleLike(a)
	}
	for _, t := range []term{a, b} {
		if t.open != nil {
			return c.unknownType(t)
		}
	}
	a, b = a.withoutTakes(), b.withoutTakes()
	t, p := combined(op, a.t, b.t)
	if p != nil {
		return c.operand(p, op.String(), a, b, context)
	}
	return term{node: formula.Arith(op, a.node, b.node, t), t: t}
}

// settleLike gives an open term the type of the other operand.
func (t term) settleLike(other term) term {
	if t.open == nil || other.open != nil || other.bad {
		return t
	}
	like := other.t.Mean()
	if like.Kind == value.Number {
		like.Count = false
	}
	like.Words = nil
	return t.settle(like)
}

func (c *checker) unknownType(t term) term {
	return c.say(UnknownType, t.rng, t.rng,
		"Nothing here says of what dimension %s is. Put it into a given of its own, with a unit, and use that.", c.quote(t.rng))
}

// combined returns the type of a op b.
func combined(op formula.Op, a, b value.Type) (value.Type, *problem) {
	switch {
	case spreads(a) && spreads(b):
		if p := match(a, b); p != nil {
			return value.Type{}, p
		}
		e, p := combined(op, *a.Elem, *b.Elem)
		a.Elem = &e
		return a, p
	case spreads(a):
		e, p := combined(op, *a.Elem, b)
		a.Elem = &e
		return a, p
	case spreads(b):
		e, p := combined(op, a, *b.Elem)
		b.Elem = &e
		return b, p
	}
	return scalar(op, a, b)
}

// match tells why two collections cannot be combined element by element.
func match(a, b value.Type) *problem {
	switch {
	case a.Kind != b.Kind:
		return &problem{code: WrongOperand, a: a, b: b, why: "only equal kinds combine element by element"}
	case a.Kind == value.Keyed && a.Key.Count != b.Key.Count,
		a.Kind == value.Keyed && a.Key.Words != nil && b.Key.Words != nil && !sameWords(a.Key.Words, b.Key.Words):
		return &problem{code: WrongKey, a: a, b: b, why: "their keys differ"}
	}
	return nil
}

func sameWords(a, b []string) bool {
	return slices.Equal(slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b)))
}

// scalar returns the type of a op b for single values. Temperatures are
// points: two of them are not added, their difference is a difference.
func scalar(op formula.Op, a, b value.Type) (value.Type, *problem) {
	isNum := func(t value.Type) bool { return t.Kind == value.Number }
	isPoint := func(t value.Type) bool { return t.Kind == value.Point }
	diff := func(t value.Type) bool { return isNum(t) && t.Dim == quantity.TempDiff }
	switch {
	case isNum(a) && isNum(b):
		return numbers(op, a, b)
	case !isNum(a) && !isPoint(a) || !isNum(b) && !isPoint(b):
		return value.Type{}, &problem{code: WrongOperand, a: a, b: b}
	case op == formula.Sub && isPoint(a) && isPoint(b):
		return value.NumberType(quantity.TempDiff), nil
	case op == formula.Add && (isPoint(a) && diff(b) || diff(a) && isPoint(b)),
		op == formula.Sub && isPoint(a) && diff(b):
		return value.PointType(), nil
	case (op == formula.Add || op == formula.Sub) && !(isPoint(a) && isPoint(b)) && !(diff(a) || diff(b)):
		return value.Type{}, &problem{code: DimMismatch, a: a, b: b}
	}
	return value.Type{}, &problem{code: PointSum, a: a, b: b}
}

func numbers(op formula.Op, a, b value.Type) (value.Type, *problem) {
	t := value.NumberType(a.Dim)
	switch op {
	case formula.Mul:
		t.Dim = a.Dim.Mul(b.Dim)
	case formula.Div:
		t.Dim = a.Dim.Div(b.Dim)
		return t, nil
	default:
		if a.Dim != b.Dim {
			return t, &problem{code: DimMismatch, a: a, b: b}
		}
	}
	t.Count = a.Count && b.Count
	return t, nil
}

// operand says why an operator does not work on its operands.
func (c *checker) operand(p *problem, op string, a, b term, context hcl.Range) term {
	if p.a.Kind == 0 {
		p.a, p.b = a.t, b.t
	}
	qa, qb := c.quote(a.rng), c.quote(b.rng)
	switch p.code {
	case PointSum:
		return c.say(PointSum, context, context, pointWords(op, qa, qb))
	case DimMismatch:
		return c.mismatch(p, verbs[op], a, b, context)
	case WrongKey:
		return c.say(WrongKey, b.rng, context,
			"%s has the keys %s, but %s has %s. Combine values with the same keys.", qa, keyWords(p.a.Key), qb, keyWords(p.b.Key))
	}
	wrong, t := a, p.a
	if works(t) {
		wrong, t = b, p.b
	}
	detail := fmt.Sprintf("%s is %s; %s works on numbers, and on profiles, turns and keyed values element by element.", c.quote(wrong.rng), t, op)
	if p.why != "" {
		detail = fmt.Sprintf("%s is %s, but %s is %s; %s.", qa, p.a, qb, p.b, p.why)
	}
	return c.say(WrongOperand, wrong.rng, context, detail+" "+instead(t, c.quote(wrong.rng)))
}

var verbs = map[string]string{"+": "added to", "-": "taken off", "%": "divided into"}

func works(t value.Type) bool { return t.Kind == value.Number || t.Kind == value.Point || spreads(t) }

// instead says what to write for a value that an operator does not take.
func instead(t value.Type, q string) string {
	switch t.Kind {
	case value.List:
		return fmt.Sprintf("Write [for v in %s : …] to compute with each of a list.", q)
	case value.Text:
		return `Put words together in a text: "${…} …".`
	case value.Truth:
		return fmt.Sprintf("Write %s ? … : … to turn it into a number.", q)
	}
	return "Use one of its numbers."
}

func pointWords(op, a, b string) string {
	switch op {
	case "+":
		return fmt.Sprintf("%s and %s are both temperatures, and the sum of two temperatures means nothing. Add a difference, such as kelvin(2), or take one from the other.", a, b)
	case "-":
		return fmt.Sprintf("A temperature can be taken from a temperature, and kelvin(…) can be taken from or added to one: %s - %s is neither.", a, b)
	}
	return fmt.Sprintf("A temperature is a point on a scale, and %s means nothing to it. Work with a difference, such as reading.x - celsius(20).", op)
}

// mismatch says that two values are of different dimensions, or that a zero
// has no unit.
func (c *checker) mismatch(p *problem, verb string, a, b term, context hcl.Range) term {
	for _, z := range []struct{ zero, other term }{{b, a}, {a, b}} {
		if isZero(z.zero) && z.other.t.Kind != 0 {
			return c.say(ZeroUnit, z.zero.rng, context,
				"%s is %s, but 0 alone is a ratio. Write %s.", c.quote(z.other.rng), leaf(z.other.t), zeroOf(z.other))
		}
	}
	return c.say(DimMismatch, b.rng, context, "%s is %s%s, %s %s, which is %s%s. %s",
		c.quote(a.rng), p.a, inUnit(a), verb, c.quote(b.rng), p.b, inUnit(b), mend(p.a, p.b))
}

// inUnit adds the unit of a named value: " (mm)".
func inUnit(t term) string {
	if t.unit == nil || t.unit.Symbol == "" {
		return ""
	}
	return " (" + t.unit.Symbol + ")"
}

// mend says how two dimensions are brought together, where that is known.
func mend(a, b value.Type) string {
	has := func(x, y quantity.Dim) bool { return a.Dim == x && b.Dim == y || a.Dim == y && b.Dim == x }
	switch {
	case has(quantity.Ratio, quantity.Angle):
		return "An angle becomes a slope with tan(…), a slope an angle with atan(…)."
	case a.Kind == value.Point || b.Kind == value.Point:
		return "A temperature is written celsius(…), a difference of temperatures kelvin(…)."
	case has(quantity.Ratio, quantity.Length):
		return "Give the plain number a unit, such as um(…), or divide the length by a length."
	}
	return fmt.Sprintf("Write both as %s, such as %s, or both as %s, such as %s.",
		a.Dim, a.Dim.Example(), b.Dim, b.Dim.Example())
}

// isZero tells whether a term is a 0 without a unit.
func isZero(t term) bool {
	if t.bad || t.open != nil || t.t.Kind != value.Number || t.t.Dim != quantity.Ratio {
		return false
	}
	x, ok := formula.IsLit(t.node)
	return ok && x.Kind == value.Number && x.Num == 0
}

// leaf returns the type of the elements at the lowest level.
func leaf(t value.Type) value.Type {
	for t.Collection() && t.Elem != nil {
		t = *t.Elem
	}
	return t
}

// zeroOf returns how nothing is written in the dimension of a term.
func zeroOf(t term) string { return withNumber(leaf(t.t), t.unit, "0") }

// example returns how a value of a type is written.
func example(t value.Type) string { return withNumber(leaf(t), nil, "…") }

// withNumber writes a number as a procedure does, in unit u where it is one
// that has a function.
func withNumber(t value.Type, u *quantity.Unit, n string) string {
	switch {
	case t.Kind == value.Point:
		return "celsius(" + n + ")"
	case t.Kind != value.Number && t.Kind != value.Takes && t.Kind != value.Zone:
		return "…"
	}
	if u != nil {
		for _, l := range quantity.Literals() {
			if l.Unit.Name == u.Name {
				return l.Name + "(" + n + ")"
			}
		}
	}
	if t.Count {
		return strings.ReplaceAll(n, "…", "1")
	}
	ex := t.Dim.Example()
	open, end := strings.Index(ex, "("), strings.Index(ex, ")")
	if open < 0 || end < open {
		return ex
	}
	return ex[:open+1] + n + ex[end:]
}

func keyWords(k value.Key) string {
	switch {
	case k.Words != nil:
		return list(k.Words, "and")
	case k.Count:
		return "1, 2, 3 …"
	}
	return "of " + k.Name
}
