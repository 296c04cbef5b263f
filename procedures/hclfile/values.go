package hclfile

import (
	"slices"
	"strconv"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"waywright/checks/quantity"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile/schema"
	"waywright/procedures/source"
)

// literal returns the text of an expression in quotes without values in it.
func literal(e hcl.Expression) (string, bool) {
	t, ok := bare(e).(*hclsyntax.TemplateExpr)
	if !ok {
		return "", false
	}
	var b strings.Builder
	for _, p := range t.Parts {
		l, ok := p.(*hclsyntax.LiteralValueExpr)
		if !ok || l.Val.Type() != cty.String || l.Val.IsNull() {
			return "", false
		}
		b.WriteString(l.Val.AsString())
	}
	return b.String(), true
}

// bare returns the expression without the round brackets around it.
func bare(e hcl.Expression) hcl.Expression {
	for {
		p, ok := e.(*hclsyntax.ParenthesesExpr)
		if !ok {
			return e
		}
		e = p.Expression
	}
}

// plain refuses characters that are not seen.
func (r *reader) plain(n *node, s string, at source.Range) {
	for _, c := range s {
		if diagnose.Control(c) {
			r.say(n, "E005", at, "The text holds the character U+%04X, which is not seen on a screen. Text is plain text: take it out.", c)
			return
		}
	}
}

// wrongForm tells that an attribute is not written as it must be.
func (r *reader) wrongForm(n *node, a *schema.Attr, e hcl.Expression) {
	r.say(n, "E112", rng(e.Range()), "%s is %s, known before the run. Write, for example, %s = %s", a.Name, a.Form, a.Name, a.Example)
}

// word returns a plain text.
func (r *reader) word(n *node, name string) string {
	e := n.attr(name)
	if e == nil {
		return ""
	}
	s, ok := literal(e)
	if !ok {
		r.wrongForm(n, n.kind.Attr(name), e)
		return ""
	}
	if strings.TrimSpace(s) == "" {
		r.say(n, "E112", rng(e.Range()), "%s is empty. Write, for example, %s = %s", name, name, n.kind.Attr(name).Example)
	}
	r.plain(n, s, rng(e.Range()))
	return s
}

// oneOf returns one of a few words, or "" where it is none of them.
func (r *reader) oneOf(n *node, name string) string {
	e := n.attr(name)
	s := r.word(n, name)
	if s == "" {
		return ""
	}
	words := n.kind.Attr(name).Words
	if slices.Contains(words, s) {
		return s
	}
	r.say(n, "E111", rng(e.Range()), "%s is %s, not %q.%s", name, quoted(words, "or"), s, didYouMean(s, words))
	return ""
}

func didYouMean(word string, names []string) string {
	if near := diagnose.Nearest(word, names); near != "" {
		return " Did you mean " + near + "?"
	}
	return ""
}

// truth returns true or false.
func (r *reader) truth(n *node, name string) bool {
	e := n.attr(name)
	if e == nil {
		return false
	}
	if l, ok := bare(e).(*hclsyntax.LiteralValueExpr); ok && l.Val.Type() == cty.Bool {
		return l.Val.True()
	}
	r.wrongForm(n, n.kind.Attr(name), e)
	return false
}

// whole returns a whole number between bounds, or def where it is not written
// or wrong.
func (r *reader) whole(n *node, name string, least, most, def int) int {
	e := n.attr(name)
	if e == nil {
		return def
	}
	i, ok := wholeNumber(e)
	if !ok {
		r.wrongForm(n, n.kind.Attr(name), e)
		return def
	}
	if i < least || i > most {
		r.say(n, "E113", rng(e.Range()), "%s is from %d to %d.", name, least, most)
		return def
	}
	return i
}

// wholeNumber returns the whole number that an expression writes.
func wholeNumber(e hcl.Expression) (int, bool) {
	e = bare(e)
	sign := 1
	if u, ok := e.(*hclsyntax.UnaryOpExpr); ok && u.Op == hclsyntax.OpNegate {
		sign, e = -1, bare(u.Val)
	}
	l, ok := e.(*hclsyntax.LiteralValueExpr)
	if !ok || l.Val.Type() != cty.Number || l.Val.IsNull() {
		return 0, false
	}
	f := l.Val.AsBigFloat()
	i, _ := f.Int64()
	if !f.IsInt() || i > 1e9 || i < -1e9 {
		return 0, false
	}
	return sign * int(i), true
}

// decimal returns a number without a unit between bounds, or def where it is
// not written or wrong.
func (r *reader) decimal(n *node, name string, least, most, def float64) float64 {
	e := n.attr(name)
	if e == nil {
		return def
	}
	l, ok := bare(e).(*hclsyntax.LiteralValueExpr)
	if !ok || l.Val.Type() != cty.Number || l.Val.IsNull() {
		r.wrongForm(n, n.kind.Attr(name), e)
		return def
	}
	x, _ := l.Val.AsBigFloat().Float64()
	if x < least || x > most {
		r.say(n, "E113", rng(e.Range()), "%s is from %g to %g.", name, least, most)
		return def
	}
	return x
}

// words returns a list of plain texts.
func (r *reader) words(n *node, name string) []string {
	e := n.attr(name)
	if e == nil {
		return nil
	}
	t, ok := bare(e).(*hclsyntax.TupleConsExpr)
	if !ok {
		r.wrongForm(n, n.kind.Attr(name), e)
		return nil
	}
	var out []string
	for _, x := range t.Exprs {
		s, ok := literal(x)
		if !ok || strings.TrimSpace(s) == "" {
			r.wrongForm(n, n.kind.Attr(name), x)
			continue
		}
		r.plain(n, s, rng(x.Range()))
		out = append(out, s)
	}
	return out
}

// different refuses a word that stands twice in a list.
func (r *reader) different(n *node, name string, words []string) []string {
	var out []string
	for i, w := range words {
		if slices.Contains(out, w) {
			x := bare(n.attr(name)).(*hclsyntax.TupleConsExpr).Exprs[i]
			r.say(n, "E203", rng(x.Range()), "%q stands twice in %s. Keep one.", w, name)
			continue
		}
		out = append(out, w)
	}
	return out
}

// unit returns the unit that an attribute names, or nil.
func (r *reader) unit(n *node, name string) *quantity.Unit {
	e := n.attr(name)
	s := r.word(n, name)
	if s == "" {
		return nil
	}
	u, err := quantity.Lookup(s)
	if err != nil {
		r.say(n, "E114", rng(e.Range()), "%q is no unit that can be written here: %v.%s", s, err, didYouMean(s, unitNames()))
		return nil
	}
	return &u
}

func unitNames() []string {
	var out []string
	for _, u := range quantity.Units() {
		out = append(out, u.Name)
	}
	return out
}

// reference is a name written as step.cut or accepted["p"].
type reference struct {
	word string // step, gate, accepted, concession, reject, noted
	name string
	at   source.Range
}

// reference returns the name that an attribute gives; ok is false where there
// is none, or a wrong one.
func (r *reader) reference(n *node, name string) (ref reference, ok bool) {
	e := n.attr(name)
	if e == nil {
		return ref, false
	}
	return r.oneReference(n, n.kind.Attr(name), e)
}

// references returns the names that an attribute lists.
func (r *reader) references(n *node, name string) []reference {
	e := n.attr(name)
	if e == nil {
		return nil
	}
	a := n.kind.Attr(name)
	t, ok := bare(e).(*hclsyntax.TupleConsExpr)
	if !ok {
		if ref, ok := plainReference(e); ok && slices.Contains(a.To, ref.word) {
			r.say(n, "E112", rng(e.Range()), "%s is a list, of one name too. Write %s = [%s]", name, name, ref.written())
			return nil
		}
		r.wrongForm(n, a, e)
		return nil
	}
	var out []reference
	for _, x := range t.Exprs {
		ref, ok := r.oneReference(n, a, x)
		if !ok {
			continue
		}
		if slices.ContainsFunc(out, func(o reference) bool { return o.word == ref.word && o.name == ref.name }) {
			r.say(n, "E203", ref.at, "%s stands twice in %s. Keep one.", ref.written(), name)
			continue
		}
		out = append(out, ref)
	}
	return out
}

func (f reference) written() string {
	switch {
	case f.name == "":
		return f.word
	case f.word == "accepted":
		return `accepted["` + f.name + `"]`
	}
	return f.word + "." + f.name
}

func (r *reader) oneReference(n *node, a *schema.Attr, e hcl.Expression) (reference, bool) {
	ref, ok := plainReference(e)
	if !ok {
		if s, isText := literal(e); isText && slices.Contains(a.To, s) {
			r.say(n, "E112", rng(e.Range()), "%s is written without quotes: write %s.", s, s)
			return ref, false
		} else if isText && len(a.To) > 0 {
			r.say(n, "E112", rng(e.Range()), "%s takes names, which are written without quotes: %s.%s", a.Name, a.To[0], r.mendName(s, schema.Name))
			return ref, false
		}
		r.say(n, "E112", rng(e.Range()), "%s takes %s. Write, for example, %s = %s", a.Name, kindsOf(a.To), a.Name, a.Example)
		return ref, false
	}
	if !slices.Contains(a.To, ref.word) {
		r.say(n, "E204", ref.at, "%s takes %s, but %s names a %s.", a.Name, kindsOf(a.To), ref.written(), ref.word)
		return ref, false
	}
	return ref, true
}

// plainReference reads reject, noted, step.cut or accepted["p"].
func plainReference(e hcl.Expression) (reference, bool) {
	t, ok := bare(e).(*hclsyntax.ScopeTraversalExpr)
	if !ok {
		return reference{}, false
	}
	ref := reference{word: t.Traversal.RootName(), at: rng(t.SrcRange)}
	alone := slices.Contains([]string{"reject", "concession", "noted"}, ref.word)
	switch {
	case len(t.Traversal) == 1 && alone:
		return ref, true
	case len(t.Traversal) != 2 || alone:
		return ref, false
	}
	switch step := t.Traversal[1].(type) {
	case hcl.TraverseAttr:
		ref.name = step.Name
		return ref, ref.word != "accepted"
	case hcl.TraverseIndex:
		if step.Key.Type() == cty.String && ref.word == "accepted" {
			ref.name = step.Key.AsString()
			return ref, true
		}
	}
	return ref, false
}

func kindsOf(words []string) string {
	var parts []string
	for _, w := range words {
		switch w {
		case "reject", "concession", "noted":
			parts = append(parts, w)
		case "accepted":
			parts = append(parts, `accepted["procedure"]`)
		default:
			parts = append(parts, w+".name")
		}
	}
	if len(parts) < 2 {
		return strings.Join(parts, "")
	}
	return strings.Join(parts[:len(parts)-1], ", ") + " or " + parts[len(parts)-1]
}

// pair is a word with its value in an object.
type pair struct {
	key   string
	at    source.Range
	value hclsyntax.Expression
}

// object returns the words and values of an object.
func (r *reader) object(n *node, name string) []pair {
	e := n.attr(name)
	if e == nil {
		return nil
	}
	o, ok := bare(e).(*hclsyntax.ObjectConsExpr)
	if !ok {
		r.wrongForm(n, n.kind.Attr(name), e)
		return nil
	}
	var out []pair
	for _, item := range o.Items {
		key, ok := keyOf(item.KeyExpr)
		if !ok {
			r.say(n, "E112", rng(item.KeyExpr.Range()), "Write the name as it is, or in quotes.")
			continue
		}
		if slices.ContainsFunc(out, func(p pair) bool { return p.key == key }) {
			r.say(n, "E203", rng(item.KeyExpr.Range()), "%s stands twice in %s. Keep one.", key, name)
			continue
		}
		out = append(out, pair{key: key, at: rng(item.KeyExpr.Range()), value: item.ValueExpr})
	}
	return out
}

func keyOf(e hcl.Expression) (string, bool) {
	if k, ok := e.(*hclsyntax.ObjectConsKeyExpr); ok {
		if word := hcl.ExprAsKeyword(k.Wrapped); word != "" && !k.ForceNonLiteral {
			return word, true
		}
		e = k.Wrapped
	}
	if s, ok := literal(e); ok {
		return s, true
	}
	if i, ok := wholeNumber(e); ok {
		return strconv.Itoa(i), true
	}
	return "", false
}
