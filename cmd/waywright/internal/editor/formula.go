package editor

import (
	"slices"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/quantity"
	"waywright/cmd/waywright/internal/editor/lsp"
	"waywright/cmd/waywright/internal/editor/sketch"
	"waywright/procedures/hclfile/schema"
)

// value offers what can stand in the value of an attribute.
func (c *completer) value(a *sketch.Attr, before []sketch.Token) {
	known := attrOf(a)
	inText := interpolated(before)
	switch {
	case known == nil && (a.In.Kind == nil || !a.In.Kind.Free):
		return
	case known == nil || inText:
		c.formula(a)
		return
	}
	first := len(a.Tokens) == 0 || c.from <= a.Value.From
	switch known.Form {
	case schema.OneOf:
		if first {
			for _, w := range known.Words {
				c.add(offer{label: `"` + w + `"`, kind: lsp.KindValue, detail: known.Meaning(w)})
			}
		}
	case schema.Truth:
		c.add(offer{label: "true", kind: lsp.KindValue})
		c.add(offer{label: "false", kind: lsp.KindValue})
	case schema.Reference, schema.References:
		c.pointed(a, known)
	case schema.Object:
		c.object(a)
	case schema.Quantity, schema.Span:
		c.literals(a)
	case schema.Formula, schema.Interval:
		c.formula(a)
	case schema.Word:
		if a.Name == "unit" && first {
			c.units(a)
			for i := range c.offers {
				c.offers[i].text = `"` + c.offers[i].label + `"`
			}
		}
	}
}

// interpolated tells whether the place is in a value within a text.
func interpolated(before []sketch.Token) bool {
	open := 0
	for _, t := range before {
		switch t.Type {
		case hclsyntax.TokenTemplateInterp:
			open++
		case hclsyntax.TokenTemplateSeqEnd:
			open--
		}
	}
	return open > 0
}

// pointed offers the names that an attribute may point at.
func (c *completer) pointed(a *sketch.Attr, known *schema.Attr) {
	for _, word := range known.To {
		switch word {
		case "accepted":
			c.add(offer{label: "accepted", kind: lsp.KindKeyword, detail: `accepted["procedure"]`, text: `accepted["`, snippet: `accepted["$1"]`, rank: 1})
		case "reject", "concession", "noted":
			for _, w := range schema.WaysOut() {
				if w.Name == word {
					c.add(offer{label: word, kind: lsp.KindKeyword, doc: escape(w.Doc), rank: 1})
				}
			}
		default:
			c.named(a, word)
		}
	}
}

// named offers names with the word before them.
func (c *completer) named(a *sketch.Attr, word string) {
	for _, at := range c.usable(a, c.v.names(c.p, sketch.Kind(word))) {
		if at.ref.In == a.In {
			continue
		}
		o := c.dimFirst(a, at, c.nameOffer(at))
		o.label = word + "." + o.label
		c.add(o)
	}
	if a.Name == "like" {
		n := len(c.offers)
		c.patterns(word)
		for i := n; i < len(c.offers); i++ {
			c.offers[i].label = word + "." + c.offers[i].label
		}
	}
}

// object offers the words of an object.
func (c *completer) object(a *sketch.Attr) {
	put := func(places []place) {
		for _, at := range places {
			o := c.nameOffer(at)
			o.text = o.label + " = "
			c.add(o)
		}
	}
	switch {
	case a.In.Is(schema.Ends) && a.Name == "rounds":
		put(c.v.names(c.p, "correction"))
	case a.In.Is(schema.Ends) && a.Name == "said":
		put(c.v.names(c.p, "correction"))
		put(c.v.names(c.p, "reading"))
	case a.In.Is(schema.PlanEnds):
		put(c.v.names(c.p, "task"))
	default:
		c.literals(a)
		return
	}
	for _, w := range []string{"at_most", "at_least"} {
		c.add(offer{label: w, kind: lsp.KindFunction, detail: w + "(number)", snippet: w + "(${1})", rank: 2})
	}
}

// formula offers what can stand in a formula: names, what the place itself
// knows, numbers with units, functions.
func (c *completer) formula(a *sketch.Attr) {
	rehearsed := a.In.Within(schema.Rehearsal, schema.SharedRehearsal, schema.PlanRehearsal) != nil
	words := []string{"given"}
	if a.In.Within(schema.Given) == nil {
		words = append(words, "reading", "result")
	}
	if rehearsed {
		words = append(words, "hidden")
	}
	for _, w := range words {
		c.named(a, w)
	}
	n := len(c.offers)
	c.keys(a)
	for i := n; i < len(c.offers); i++ {
		c.offers[i].label = "each." + c.offers[i].label
	}
	if a.In.Within(schema.Procedure, schema.Instrument, schema.Rehearsal, schema.SharedRehearsal) == nil {
		for _, at := range c.v.names(c.p, "table") {
			c.add(offer{label: "table." + at.ref.Name, kind: lsp.KindVariable, detail: "its rows, under the run's grade", doc: c.v.nameText(c.p, at.ref, at), rank: 1})
		}
	}
	c.roots(a)
	c.literals(a)
	c.functions()
}

// roots offers the words that stand for something at this place alone.
func (c *completer) roots(a *sketch.Attr) {
	var here []string
	switch {
	case a.In.Is(schema.ShouldChange):
		here = []string{"amount"}
	case a.In.Is(schema.Reacts):
		here = []string{"amount", "moved", "attempt"}
	case a.In.Is(schema.Given) && a.Name == "from", a.In.Is(schema.Task) && a.Name == "when":
		here = []string{"machine", "accepted"}
	}
	for _, r := range schema.Roots() {
		if !slices.Contains(here, r.Name) {
			continue
		}
		o := offer{label: r.Name, kind: lsp.KindKeyword, detail: r.Example, doc: escape(r.Doc), rank: 1}
		if r.Name == "accepted" {
			o.text, o.snippet = `accepted["`, `accepted["$1"]`
		}
		c.add(o)
	}
}

// times are the attributes that are a time, whatever stands around them.
var times = []string{"at_least", "every", "good_for", "fresh", "duration", "delay", "renew"}

// wanted returns the dimension that an attribute has, where it can be told.
func (c *completer) wanted(a *sketch.Attr) (d quantity.Dim, ok bool) {
	b := a.In
	switch {
	case b.Is(schema.Gate):
		return c.judged(b)
	case slices.Contains(times, a.Name):
		return quantity.Time, true
	case b.Is(schema.Noise), b.Is(schema.Answer):
		for _, k := range []sketch.Kind{"reading", "given"} {
			if at, found := c.v.named(c.p, k, a.Name); found {
				if f, ok := c.v.factOf(c.p, at); ok {
					return dimOf(f.typ)
				}
			}
		}
		return d, false
	case a.Name == "unit":
		if b.Is(schema.Result) || b.Is(schema.Reading) {
			f, _ := c.v.known(c.p, b.Type, b.Label)
			if f.typ.Kind != 0 {
				return dimOf(f.typ)
			}
		}
		return c.literalIn(b, "value", "amount", "range", "closure")
	case a.Name == "resolution":
		return c.literalIn(b, "error", "repeatability", "turn", "zero")
	case b.Attr("resolution") != nil:
		return c.literalIn(b, "resolution")
	}
	if u := b.Attr("unit"); u != nil && len(u.Tokens) == 3 {
		if unit, err := quantity.Lookup(c.f.String(u.Tokens[1].Span)); err == nil {
			return unit.Dim, !unit.Point
		}
	}
	return d, false
}

// judged is the dimension of what a gate judges.
func (c *completer) judged(b *sketch.Block) (d quantity.Dim, ok bool) {
	of := b.Attr("of")
	if of == nil {
		return d, false
	}
	for _, r := range c.p.refs {
		if r.In != b || !(sketch.Span{From: of.Value.From, To: of.Value.To}).Holds(r.At.From) {
			continue
		}
		if at, found := c.v.resolve(c.p, r); found {
			if f, ok := c.v.factOf(c.p, at); ok {
				return dimOf(f.typ)
			}
		}
	}
	return d, false
}

// literalIn is the dimension of the first number with a unit in one of the
// attributes.
func (c *completer) literalIn(b *sketch.Block, names ...string) (d quantity.Dim, ok bool) {
	for _, name := range names {
		a := b.Attr(name)
		if a == nil {
			continue
		}
		for _, t := range a.Tokens {
			if t.Type != hclsyntax.TokenIdent {
				continue
			}
			if u, ok := quantity.LiteralUnit(c.f.String(t.Span)); ok {
				return u.Dim, !u.Point
			}
		}
	}
	return d, false
}
