package formula

import (
	"math"
	"strconv"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
)

// notThere stands in a text for a value that is not there.
const notThere = "…"

// Part is a piece of a text: words as they stand, or a value.
type Part struct {
	Text string
	Node Node           // nil: Text
	Unit *quantity.Unit // in which the value is shown; nil: the first of its dimension
}

// Join returns a text made of parts.
func Join(parts ...Part) Node { return &join{parts} }

type join struct{ parts []Part }

func (n *join) Type() value.Type { return value.TextType() }
func (n *join) kids() []Node {
	var out []Node
	for _, p := range n.parts {
		if p.Node != nil {
			out = append(out, p.Node)
		}
	}
	return out
}

func (n *join) eval(e Env, l *locals) value.Value {
	var b strings.Builder
	var g *gap
	for _, p := range n.parts {
		if p.Node == nil {
			b.WriteString(p.Text)
			continue
		}
		v := p.Node.eval(e, l)
		if gv := deepGap(&v); gv != nil {
			g = worse(g, gv)
			continue
		}
		b.WriteString(show(e, v, p.Node.Type(), p.Unit))
	}
	if g != nil {
		return g.value(value.Text)
	}
	return value.Str(b.String())
}

// Concat returns the texts of a list, one after the other.
func Concat(list Node) Node { return &concat{list} }

type concat struct{ list Node }

func (n *concat) Type() value.Type { return value.TextType() }
func (n *concat) kids() []Node     { return []Node{n.list} }
func (n *concat) eval(e Env, l *locals) value.Value {
	v := n.list.eval(e, l)
	if g := deepGap(&v); g != nil {
		return g.value(value.Text)
	}
	var b strings.Builder
	for _, el := range v.Elems {
		b.WriteString(el.Text)
	}
	return value.Str(b.String())
}

// words returns what a person reads for the value of n.
func words(n Node, u *quantity.Unit, e Env, l *locals) string {
	switch n := n.(type) {
	case *join:
		var b strings.Builder
		for _, p := range n.parts {
			if p.Node == nil {
				b.WriteString(p.Text)
			} else {
				b.WriteString(words(p.Node, p.Unit, e, l))
			}
		}
		return b.String()
	case *choice:
		branch, g := n.taken(e, l)
		if g == nil {
			return words(branch, u, e, l)
		}
		if _, ok := e.(Namer); !ok {
			return notThere
		}
		a, b := words(n.a, u, e, l), words(n.b, u, e, l)
		if a == b {
			return a
		}
		return a + " or " + b
	case *concat:
		lp, ok := n.list.(*loop)
		if !ok {
			break
		}
		var b strings.Builder
		g := lp.each(e, l, func(_ *value.Value, _ int, in *locals) {
			b.WriteString(words(lp.body, nil, e, in))
		})
		if g != nil {
			return notThere
		}
		return b.String()
	}
	v := n.eval(e, l)
	if r, ok := n.(*name); ok && v.State != value.Present {
		if e, ok := e.(Namer); ok {
			return e.Named(r.ref)
		}
	}
	return show(e, v, n.Type(), u)
}

// Namer is an Env for texts that are read without a run: what has no value is
// named there, and of a conditional that has no answer both branches are said.
type Namer interface {
	Env
	Named(Ref) string
}

// Shower is an Env that says in which units a run shows what a procedure
// states in others: inches for millimetres.
type Shower interface {
	Env
	Shown(quantity.Unit) quantity.Unit
}

func show(e Env, v value.Value, t value.Type, u *quantity.Unit) string {
	s, ok := e.(Shower)
	if !ok {
		return Show(v, t, u)
	}
	shown := unitOf(t, u)
	shown = s.Shown(shown)
	return Show(v, t, &shown)
}

// unitOf returns the unit in which the numbers of a type are shown.
func unitOf(t value.Type, u *quantity.Unit) quantity.Unit {
	for t.Elem != nil {
		t = *t.Elem
	}
	switch {
	case u != nil && u.Dim == t.Dim && t.Kind != value.Point:
		return u.Difference()
	case u != nil && u.Point && t.Kind == value.Point:
		return *u
	case t.Kind == value.Point:
		return celsius
	}
	return t.Dim.Default()
}

var celsius = mustUnit("celsius")

func mustUnit(name string) quantity.Unit {
	u, err := quantity.Lookup(name)
	if err != nil {
		panic("formula: " + err.Error())
	}
	return u
}

// Show returns a value as a text has it: in unit u, or where u is nil, in the
// first unit of its dimension. What is not there shows as "…".
func Show(v value.Value, t value.Type, u *quantity.Unit) string {
	if v.State != value.Present {
		return notThere
	}
	switch v.Kind {
	case value.Text:
		return v.Text
	case value.Truth:
		if v.Truth {
			return "yes"
		}
		return "no"
	case value.Number, value.Point:
		return showNumber(v.Num, t, u)
	case value.Takes:
		m := v.Mean()
		m.Kind = t.Scalar().Kind
		return Show(m, t.Scalar(), u)
	case value.Zone:
		return showZone(v.Lo, v.Hi, t.Scalar(), u)
	case value.Net:
		return "heights of " + showNumber(float64(len(v.Z)), value.CountType(), nil) + " points"
	}
	if t.Kind == value.Object {
		return showParts(v, t)
	}
	if t.Elem == nil {
		return notThere
	}
	parts := make([]string, len(v.Elems))
	for i, el := range v.Elems {
		parts[i] = Show(el, *t.Elem, u)
		if i < len(v.Keys) {
			parts[i] = v.Keys[i] + " " + parts[i]
		}
	}
	return strings.Join(parts, ", ")
}

// showParts shows an object, each part in the unit that is usual for it.
func showParts(v value.Value, t value.Type) string {
	parts := make([]string, len(v.Elems))
	for i, el := range v.Elems {
		if i < len(t.Parts) && i < len(v.Keys) {
			parts[i] = strings.ReplaceAll(v.Keys[i], "_", " ") + " " + Show(el, t.Parts[i], wide(el, t.Parts[i]))
		}
	}
	return strings.Join(parts, ", ")
}

// wide is the unit for an angle of a degree and more; nil for all else.
func wide(v value.Value, t value.Type) *quantity.Unit {
	if deg, err := quantity.Lookup("deg"); err == nil && t.Kind == value.Number && t.Dim == quantity.Angle && math.Abs(deg.Of(v.Num)) >= 1 {
		return &deg
	}
	return nil
}

// showNumber prints a number with the decimals that are usual in its unit,
// more for one that would show as nothing, and no noughts at the end.
func showNumber(x float64, t value.Type, u *quantity.Unit) string {
	if t.Count && x == math.Trunc(x) {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	unit := unitOf(t, u)
	decimals := quantity.Usual(unit)
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return quantity.Number(x, unit, decimals) // words, which need no unit
	}
	if y := math.Abs(unit.Of(x)); !unit.Point && y > 0 && !math.IsInf(y, 0) {
		const figures, most = 3, 12
		decimals = max(decimals, min(most, figures-1-int(math.Floor(math.Log10(y)))))
	}
	return quantity.WithSymbol(quantity.TrimNoughts(quantity.Number(x, unit, decimals)), unit)
}

// showZone shows a zone, one without a limit in words.
func showZone(lo, hi float64, t value.Type, u *quantity.Unit) string {
	none := math.IsInf(lo, -1)
	switch {
	case none && math.IsInf(hi, 1):
		return "no limit below or above"
	case none:
		return showNumber(hi, t, u) + " or less"
	case math.IsInf(hi, 1):
		return showNumber(lo, t, u) + " or more"
	}
	return showNumber(lo, t, u) + " to " + showNumber(hi, t, u)
}
