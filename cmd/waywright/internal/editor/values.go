package editor

import (
	"io/fs"
	"path"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/catalogue"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/cmd/waywright/internal/editor/lsp"
	"waywright/cmd/waywright/internal/editor/sketch"
	"waywright/procedures/hclfile/schema"
	"waywright/procedures/library"
	"waywright/procedures/register"
)

// names lists the names of a kind that a page can use: its own, those that its
// steps take over, and what is shared.
func (v *view) names(p *page, kind sketch.Kind) []place {
	var out []place
	seen := map[string]bool{}
	put := func(q *page, r sketch.Ref) {
		if !seen[r.Name] {
			seen[r.Name] = true
			out = append(out, place{q, r})
		}
	}
	for _, r := range p.refs {
		if r.Gives && r.Kind == kind {
			put(p, r)
		}
	}
	for _, step := range p.tree.Root.All("step") {
		if q, base := v.base(p, step); base != nil && q != p {
			for _, item := range base.All(string(kind)) {
				if at, ok := q.giving(item); ok {
					put(q, at.ref)
				}
			}
		}
	}
	switch kind {
	case "instrument", "caution", "table":
		for _, q := range v.shared(p) {
			for _, r := range q.refs {
				if r.Gives && r.Kind == kind {
					put(q, r)
				}
			}
		}
	}
	return out
}

// nameOffer offers a name without the word before it.
func (c *completer) nameOffer(at place) offer {
	o := offer{label: at.ref.Name, kind: lsp.KindVariable, doc: c.v.nameText(c.p, at.ref, at), detail: string(at.ref.Kind)}
	f, ok := c.v.factOf(c.p, at)
	switch {
	case at.ref.Kind == sketch.Hidden:
	case ok && at.ref.Kind != "instrument":
		o.detail = f.typ.String()
		if f.unit != nil {
			o.detail += ", in " + f.unit.Symbol
		}
	case at.ref.In != nil && short(at.page.tree, at.ref.In) != "":
		o.detail = short(at.page.tree, at.ref.In)
	}
	return o
}

// usable keeps the names that stand where an attribute can use them: above it,
// where it belongs to what is done in order.
func (c *completer) usable(a *sketch.Attr, places []place) []place {
	ordered := a.In.Within(schema.Given, schema.Step) != nil && a.Name != "if_failed" && a.Name != "upstream"
	if !ordered {
		return places
	}
	return slices.DeleteFunc(places, func(at place) bool {
		if at.page != c.p {
			return false
		}
		in := at.ref.In
		return in != nil && (in.TypeAt.From >= a.In.TypeAt.From || in.Body.Holds(a.NameAt.From))
	})
}

// chain returns the words before the last point: reading, front in
// reading.front.; the word between the brackets of accepted too.
func (c *completer) chain(before []sketch.Token) []string {
	var out []string
	t := before
	for len(t) > 0 && t[len(t)-1].Type == hclsyntax.TokenDot {
		t = t[:len(t)-1]
		// A key in brackets: ["p"] or [2].
		if n := len(t); n > 0 && t[n-1].Type == hclsyntax.TokenCBrack {
			i := n - 1
			for i > 0 && t[i].Type != hclsyntax.TokenOBrack {
				i--
			}
			for _, x := range t[i:] {
				if x.Type == hclsyntax.TokenQuotedLit || x.Type == hclsyntax.TokenNumberLit {
					out = append([]string{c.f.String(x.Span)}, out...)
				}
			}
			t = t[:i]
		}
		if n := len(t); n > 0 && t[n-1].Type == hclsyntax.TokenIdent {
			out = append([]string{c.f.String(t[n-1].Span)}, out...)
			t = t[:n-1]
		} else {
			break
		}
	}
	return out
}

// afterDot offers what can follow a point.
func (c *completer) afterDot(a *sketch.Attr, before []sketch.Token) {
	chain := c.chain(before)
	if len(chain) == 0 {
		return
	}
	switch word := chain[0]; {
	case word == "machine":
		c.sizes(strings.Join(chain[1:], "."))
	case word == "accepted":
		c.outside(chain)
	case word == "table" && len(chain) == 2:
		c.rows(chain[1])
	case word == "each":
		c.keys(a)
	case len(chain) > 1:
		c.parts(word, chain[1:])
	case word == "hidden":
		for _, at := range c.v.names(c.p, sketch.Hidden) {
			c.add(c.nameOffer(at))
		}
	case slices.Contains(sketch.Spaces(), word):
		for _, at := range c.usable(a, c.v.names(c.p, sketch.Kind(word))) {
			if a.Name == "like" && at.ref.In == a.In {
				continue
			}
			c.add(c.nameOffer(at))
		}
		if a.Name == "like" {
			c.patterns(word)
		}
	}
}

// patterns offers what stands in shared files to be taken over.
func (c *completer) patterns(word string) {
	for _, q := range c.v.shared(c.p) {
		for _, b := range q.tree.Root.All(word) {
			if at, ok := q.giving(b); ok {
				c.add(c.nameOffer(at))
			}
		}
	}
}

func (c *completer) sizes(prefix string) {
	if prefix != "" {
		prefix += "."
	}
	seen := map[string]bool{}
	for _, k := range register.Sizes() {
		rest, ok := strings.CutPrefix(k.Path, prefix)
		if !ok {
			continue
		}
		word, more, deeper := strings.Cut(rest, ".")
		if seen[word] {
			continue
		}
		seen[word] = true
		o := offer{label: word, kind: lsp.KindProperty, detail: k.Type.String(), doc: escape(k.Doc)}
		if deeper {
			o.detail, o.doc = "with "+more+" and others", ""
		}
		c.add(o)
	}
}

// outside offers what follows accepted["p"].
func (c *completer) outside(chain []string) {
	switch {
	case len(chain) == 2:
		c.add(offer{label: "result", kind: lsp.KindKeyword, detail: "a value of the run"})
	case len(chain) == 3 && chain[2] == "result":
		if q := c.v.peer(c.p, chain[1]); q != nil {
			for _, at := range c.v.names(q, "result") {
				c.add(c.nameOffer(at))
			}
		}
	}
}

func (c *completer) rows(table string) {
	at, ok := c.v.nearest(c.p, "table", table)
	if !ok {
		return
	}
	for _, row := range at.ref.In.All("row") {
		if r, ok := at.page.giving(row); ok {
			o := c.nameOffer(r)
			if a := row.Attr("values"); a != nil {
				o.detail = strings.Join(strings.Fields(at.page.tree.String(a.Value)), " ")
			}
			c.add(o)
		}
	}
}

// keys offers the keys that are asked for where an attribute stands.
func (c *completer) keys(a *sketch.Attr) {
	for b := a.In; b != nil; b = b.Up {
		for q, in := c.p, b; in != nil; q, in = c.v.base(q, in) {
			for _, e := range in.All("each") {
				of := ""
				if x := e.Attr("of"); x != nil {
					of = strings.Join(strings.Fields(q.tree.String(x.Value)), " ")
				}
				c.add(offer{label: e.Label, kind: lsp.KindVariable, detail: of})
			}
			for _, implied := range [][2]string{{"along", "station"}, {"around", "angle"}, {"repeat", "take"}} {
				if in.Attr(implied[0]) != nil {
					c.add(offer{label: implied[1], kind: lsp.KindVariable, detail: "from " + implied[0]})
				}
			}
			if in.Is(schema.Until) {
				c.add(offer{label: "take", kind: lsp.KindVariable, detail: "from until"})
			}
		}
	}
}

// typeAt returns the type of a value behind some of its keys.
func (c *completer) typeAt(word string, chain []string) (value.Type, bool) {
	at, ok := c.v.named(c.p, sketch.Kind(word), chain[0])
	if !ok {
		return value.Type{}, false
	}
	f, ok := c.v.factOf(c.p, at)
	t := f.typ
	for range chain[1:] {
		if t.Elem == nil {
			return value.Type{}, false
		}
		t = *t.Elem
	}
	return t, ok
}

// parts offers the keys of a value that can be written behind a point.
func (c *completer) parts(word string, chain []string) {
	t, ok := c.typeAt(word, chain)
	if !ok {
		return
	}
	for _, w := range keyWords(t) {
		if w[0] >= 'a' && w[0] <= 'z' {
			c.add(offer{label: w, kind: lsp.KindValue, detail: "key " + t.Key.Name})
		}
	}
}

func keyWords(t value.Type) []string {
	if t.Kind == value.Keyed || t.Kind == value.Object {
		return slices.DeleteFunc(slices.Clone(t.Key.Words), func(w string) bool { return w == "" })
	}
	return nil
}

// inQuotes offers words for a place in quotes.
func (c *completer) inQuotes(a *sketch.Attr, before []sketch.Token) {
	known := attrOf(a)
	n := len(before) - 1 // the quote
	prev := func(i int) string {
		if n-i < 0 {
			return ""
		}
		return c.f.String(before[n-i].Span)
	}
	switch {
	case prev(1) == "[" && prev(2) == "accepted":
		open := !c.closed()
		c.procedures()
		for i := range c.offers {
			if open {
				c.offers[i].text += "]"
			}
		}
	case a.In.Is(schema.Task) && a.Name == "procedure":
		c.procedures()
	case prev(1) == "[" && n >= 4 && before[n-2].Type == hclsyntax.TokenIdent:
		c.index(before[:n-1])
	case prev(1) == "==" || prev(1) == "!=":
		c.compared(a, before[:n-1])
	case known == nil:
	case known.Form == schema.OneOf:
		for _, w := range known.Words {
			c.quote(offer{label: w, kind: lsp.KindValue, detail: known.Meaning(w)})
		}
	case a.Name == "unit":
		c.units(a)
	case a.Name == "like" && a.In.Is(schema.PlanPart):
		if q := c.v.peer(c.p, a.In.Label); q != nil {
			c.quoted(c.v.names(q, sketch.Rehearsal))
		}
	case a.Name == "like":
		c.rehearsals(a)
	case a.Name == "grade":
		c.grades()
	case a.Name == "machine":
		c.classes()
	case a.Name == "said":
		for _, w := range slices.Concat(schema.Responses, schema.Objections) {
			c.quote(offer{label: w, kind: lsp.KindValue})
		}
	}
}

func attrOf(a *sketch.Attr) *schema.Attr {
	if a.In.Kind == nil {
		return nil
	}
	return a.In.Kind.Attr(a.Name)
}

// index offers the keys of the value before a bracket.
func (c *completer) index(before []sketch.Token) {
	chain := c.chain(append(slices.Clone(before), sketch.Token{Type: hclsyntax.TokenDot}))
	if len(chain) < 2 {
		return
	}
	if t, ok := c.typeAt(chain[0], chain[1:]); ok {
		for _, w := range keyWords(t) {
			c.quote(offer{label: w, kind: lsp.KindValue, detail: "key " + t.Key.Name})
		}
	}
}

// compared offers the words that what is compared may be.
func (c *completer) compared(a *sketch.Attr, before []sketch.Token) {
	chain := c.chain(append(slices.Clone(before), sketch.Token{Type: hclsyntax.TokenDot}))
	if len(chain) < 2 {
		return
	}
	if chain[0] == "each" {
		if at, ok := c.v.each(c.p, sketch.Ref{Kind: sketch.Each, Name: chain[1], In: a.In, Attr: a.Name}); ok {
			c.listed(at)
		}
		return
	}
	if t, ok := c.typeAt(chain[0], chain[1:]); ok {
		for t.Elem != nil {
			t = *t.Elem
		}
		for _, w := range t.Words {
			c.quote(offer{label: w, kind: lsp.KindValue, detail: "one of its words"})
		}
	}
}

// listed offers the keys that an each block lists.
func (c *completer) listed(at place) {
	of := at.ref.In.Attr("of")
	if of == nil {
		return
	}
	for _, t := range of.Tokens {
		if t.Type == hclsyntax.TokenQuotedLit {
			c.quote(offer{label: at.page.tree.String(t.Span), kind: lsp.KindValue, detail: "key " + at.ref.Name})
		}
	}
}

// procedures offers the names of procedures at hand.
func (c *completer) procedures() {
	for _, q := range c.v.all() {
		for _, b := range q.tree.Root.All("procedure") {
			if b.Label != "" && q != c.p && path.Base(q.name) == b.Label+".hcl" {
				c.quote(offer{label: b.Label, kind: lsp.KindReference, detail: title(q.tree, b)})
			}
		}
	}
	for _, name := range library.Procedures() {
		if q := c.v.page(builtIn + name + ".hcl"); q != nil {
			for _, b := range q.tree.Root.All("procedure") {
				c.quote(offer{label: b.Label, kind: lsp.KindReference, detail: title(q.tree, b), rank: 1})
			}
		}
	}
}

func title(f *sketch.File, b *sketch.Block) string {
	a := b.Attr("title")
	if a == nil {
		return ""
	}
	return strings.Trim(f.String(a.Value), `"`)
}

// classes offers the classes of machine that procedures are for.
func (c *completer) classes() {
	c.quote(offer{label: "any", kind: lsp.KindValue})
	try := func(q *page) {
		for _, b := range q.tree.Root.Blocks {
			if a := b.Attr("machine"); a != nil && q != c.p && !strings.Contains(c.f.String(a.Value), "$") {
				if w := strings.Trim(q.tree.String(a.Value), `"`); w != "" {
					c.quote(offer{label: w, kind: lsp.KindValue})
				}
			}
		}
	}
	for _, q := range c.v.all() {
		try(q)
	}
	_ = fs.WalkDir(library.FS(), ".", func(name string, d fs.DirEntry, err error) error { // embedded: nothing fails
		if err == nil && !d.IsDir() {
			if q := c.v.page(builtIn + name); q != nil {
				try(q)
			}
		}
		return nil
	})
}

// rehearsals offers those that another may be like.
func (c *completer) rehearsals(a *sketch.Attr) {
	for _, at := range c.v.names(c.p, sketch.Rehearsal) {
		if at.ref.In.TypeAt.From < a.In.TypeAt.From {
			c.quote(c.nameOffer(at))
		}
	}
	for _, q := range c.v.shared(c.p) {
		c.quoted(c.v.names(q, sketch.Rehearsal))
	}
}

func (c *completer) grades() {
	for _, at := range c.v.names(c.p, "table") {
		a := at.ref.In.Attr("grades")
		if a == nil {
			continue
		}
		for _, t := range a.Tokens {
			if t.Type == hclsyntax.TokenQuotedLit {
				c.quote(offer{label: at.page.tree.String(t.Span), kind: lsp.KindValue, detail: "of table " + at.ref.Name})
			}
		}
	}
}

// units offers units, those of the dimension that fits first.
func (c *completer) units(a *sketch.Attr) {
	dim, known := c.wanted(a)
	units := quantity.Units()
	for _, name := range []string{"um/m", "mm/m", "arcsec/m", "thou/foot"} { // the usual ones of those that are put together
		if u, err := quantity.Lookup(name); err == nil {
			units = append(units, u)
		}
	}
	for _, u := range units {
		o := offer{label: u.Name, kind: lsp.KindUnit, detail: u.Dim.Name() + ", shown as " + u.Symbol, rank: 1}
		if known && u.Dim == dim {
			o.rank = 0
		}
		c.quote(o)
	}
}

// functions offers the functions of the language.
func (c *completer) functions() {
	for _, f := range catalogue.All() {
		if _, ok := quantity.LiteralUnit(f.Name); ok {
			continue
		}
		c.add(offer{label: f.Name, kind: lsp.KindFunction, detail: f.Signature() + " → " + f.Gives(), doc: funcText(f), rank: 3,
			text: f.Name, snippet: f.Name + "($0)"})
	}
}

// literals offers the functions that write numbers with units.
func (c *completer) literals(a *sketch.Attr) {
	dim, known := c.wanted(a)
	for _, l := range quantity.Literals() {
		o := offer{label: l.Name, kind: lsp.KindUnit, detail: l.Unit.Dim.String() + ": " + l.Doc, rank: 2, text: l.Name, snippet: l.Name + "(${1})"}
		if known && l.Unit.Dim == dim {
			o.rank = 1
		}
		c.add(o)
	}
}
