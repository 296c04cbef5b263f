package editor

import (
	"encoding/json"
	"fmt"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/cmd/waywright/internal/editor/lsp"
	"waywright/cmd/waywright/internal/editor/sketch"
	"waywright/procedures/hclfile/schema"
)

// completion lists what can be written at a place.
func (s *server) completion(params json.RawMessage) (any, error) {
	in, err := read[lsp.PositionParams](params)
	if err != nil {
		return nil, err
	}
	v, p, err := s.look(in.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	c := &completer{v: v, p: p, f: p.tree, at: p.text.Offset(in.Position)}
	c.from = c.at
	if !c.inComment() {
		c.find()
	}
	out := lsp.CompletionList{Items: []lsp.CompletionItem{}}
	r := p.text.Range(c.from, c.at)
	for i, o := range c.offers {
		out.Items = append(out.Items, c.item(o, r, i))
	}
	return out, nil
}

// offer is something that can be written.
type offer struct {
	label, detail, doc string
	kind               int
	text               string // what is written; the label where empty
	snippet            string // the same with places to fill in, for editors that can
	rank               byte   // what fits best comes first
}

// completer finds what can be written at one place.
type completer struct {
	v      *view
	p      *page
	f      *sketch.File
	at     int
	from   int // where the word at the place begins
	offers []offer
}

func (c *completer) item(o offer, r lsp.Range, n int) lsp.CompletionItem {
	out := lsp.CompletionItem{Label: o.label, Kind: o.kind, Detail: o.detail, SortText: fmt.Sprintf("%c%04d", '0'+o.rank, n),
		TextEdit: &lsp.TextEdit{Range: r, NewText: o.text}}
	if o.text == "" {
		out.TextEdit.NewText = o.label
	}
	if o.snippet != "" && c.v.s.client.snippets {
		out.TextEdit.NewText, out.InsertTextFormat = o.snippet, 2
	}
	if o.doc != "" {
		m := c.v.s.markup(o.doc)
		out.Documentation = &m
	}
	return out
}

func (c *completer) add(o offer) { c.offers = append(c.offers, o) }

// lineStart is where the line of the place begins.
func (c *completer) lineStart() int {
	return strings.LastIndexByte(string(c.f.Text[:c.at]), '\n') + 1
}

// inComment tells whether the place is in a comment.
func (c *completer) inComment() bool {
	line := c.f.Text[c.lineStart():c.at]
	tokens, _ := hclsyntax.LexConfig(line, "", hcl.InitialPos)
	for _, t := range tokens {
		if t.Type == hclsyntax.TokenComment && t.Range.End.Byte >= len(line) && !strings.HasSuffix(string(t.Bytes), "*/") {
			return true
		}
	}
	return false
}

// before returns the tokens of the line that begin before the word at the
// place. Where the place is in quotes, they end with the opening one.
func (c *completer) before() (tokens []sketch.Token, quoted bool) {
	start := c.lineStart()
	var open []hclsyntax.TokenType
	for _, t := range c.f.Tokens {
		if t.From < start || t.From >= c.at {
			continue
		}
		switch t.Type {
		case hclsyntax.TokenOQuote, hclsyntax.TokenTemplateInterp, hclsyntax.TokenTemplateControl:
			open = append(open, t.Type)
		case hclsyntax.TokenCQuote, hclsyntax.TokenTemplateSeqEnd:
			if t.To <= c.at && len(open) > 0 {
				open = open[:len(open)-1]
			}
		}
		tokens = append(tokens, t)
	}
	quoted = len(open) > 0 && open[len(open)-1] == hclsyntax.TokenOQuote
	if quoted {
		for n := len(tokens) - 1; n >= 0; n-- {
			if tokens[n].Type == hclsyntax.TokenOQuote {
				c.from = tokens[n].To
				return tokens[:n+1], true
			}
		}
	}
	if n := len(tokens) - 1; n >= 0 && tokens[n].Type == hclsyntax.TokenIdent && tokens[n].To >= c.at {
		c.from = tokens[n].From
		tokens = tokens[:n]
	}
	return tokens, false
}

// find finds the offers.
func (c *completer) find() {
	before, quoted := c.before()
	a := c.f.AttrAt(c.at)
	b := c.f.BlockAt(c.at)
	switch {
	case quoted && a == nil:
		c.label(b, before)
	case quoted:
		c.inQuotes(a, before)
	case a != nil && len(before) > 0 && before[len(before)-1].Type == hclsyntax.TokenDot:
		c.afterDot(a, before)
	case a != nil:
		c.value(a, before)
	case c.begins(before):
		c.statement(b)
	}
}

// begins tells whether an attribute or block can begin at the place.
func (c *completer) begins(before []sketch.Token) bool {
	if len(before) == 0 {
		return true
	}
	last := before[len(before)-1].Type
	return last == hclsyntax.TokenOBrace || last == hclsyntax.TokenCBrace && c.from > before[len(before)-1].To
}

// statement offers the attributes that are not there yet, and blocks.
func (c *completer) statement(b *sketch.Block) {
	if b.Kind == nil {
		return
	}
	if b.Kind.Free {
		c.freeNames(b)
	}
	for i := range b.Kind.Attrs {
		a := &b.Kind.Attrs[i]
		if b.Attr(a.Name) != nil {
			continue
		}
		o := offer{label: a.Name, kind: lsp.KindProperty, detail: a.Form.String(), doc: attrText(b.Kind, a), rank: 1,
			text: a.Name + " = ", snippet: a.Name + " = " + attrSnippet(a, a.Example, 1)}
		if a.Required {
			o.rank, o.detail = 0, o.detail+", always written"
		}
		c.add(o)
	}
	for _, u := range b.Kind.Blocks {
		if u.Once && len(b.All(u.Type)) > 0 {
			continue
		}
		o := offer{label: u.Type, kind: lsp.KindStruct, detail: "block", doc: blockText(u.Block), rank: 2, text: u.Type, snippet: blockSnippet(u.Block)}
		if u.Required {
			o.rank = 0
		}
		c.add(o)
	}
}

// attrSnippet is the value of an attribute to fill in, as in an example. n
// numbers the place.
func attrSnippet(a *schema.Attr, example string, n int) string {
	hole := func(text string) string { return fmt.Sprintf("${%d:%s}", n, snippetText(text)) }
	inner := example
	if len(example) > 1 {
		inner = example[1 : len(example)-1]
	}
	switch a.Form {
	case schema.OneOf:
		return fmt.Sprintf(`"${%d|%s|}"`, n, strings.Join(a.Words, ","))
	case schema.Truth:
		return example
	case schema.Word, schema.Sentence:
		return `"` + hole(inner) + `"`
	case schema.References, schema.Words, schema.Interval, schema.Span, schema.Sentences:
		return "[" + hole(inner) + "]"
	case schema.Object:
		return "{" + hole(inner) + "}"
	}
	return hole(example)
}

// snippetText keeps a text from being taken for the places of a snippet.
func snippetText(s string) string {
	return strings.NewReplacer(`\`, `\\`, `$`, `\$`, `}`, `\}`).Replace(s)
}

// blockSnippet is a block to fill in: its example, without the blocks in it that
// need not be there.
func blockSnippet(b *schema.Block) string {
	f := sketch.Read("example.hcl", []byte(b.Example()))
	if len(f.Root.Blocks) == 0 {
		return b.Type + " {\n  $1\n}"
	}
	var out strings.Builder
	n := 1
	fill(&out, f, f.Root.Blocks[0], b, "", &n)
	return out.String()
}

func fill(out *strings.Builder, f *sketch.File, example *sketch.Block, b *schema.Block, indent string, n *int) {
	hole := func(form string) string { *n++; return fmt.Sprintf(form, *n-1) }
	out.WriteString(indent + b.Type)
	if b.Label != schema.NoLabel {
		out.WriteString(hole(` "${%d:name}"`))
	}
	out.WriteString(" {\n")
	widest, empty := 0, true
	for _, a := range example.Attrs {
		widest = max(widest, len(a.Name))
	}
	for _, a := range example.Attrs {
		if k := b.Attr(a.Name); k != nil {
			fmt.Fprintf(out, "%s  %-*s = %s\n", indent, widest, a.Name, attrSnippet(k, f.String(a.Value), *n))
			*n, empty = *n+1, false
		}
	}
	for _, k := range example.Blocks {
		if use := b.Block(k.Type); use != nil && use.Required {
			fill(out, f, k, use.Block, indent+"  ", n)
			out.WriteString("\n")
			empty = false
		}
	}
	if empty {
		out.WriteString(indent + hole("  $%d\n"))
	}
	out.WriteString(indent + "}")
}

// freeNames offers the names that may be given a value in a rehearsal.
func (c *completer) freeNames(b *sketch.Block) {
	put := func(places []place, doc string) {
		for _, at := range places {
			if b.Attr(at.ref.Name) == nil {
				c.add(offer{label: at.ref.Name, kind: lsp.KindVariable, detail: written(at.ref), doc: doc, text: at.ref.Name + " = "})
			}
		}
	}
	switch b.Type {
	case "noise":
		put(c.v.names(c.p, "reading"), "")
	case "answer":
		for _, k := range []sketch.Kind{"given", "reading", "confirm", "wait"} {
			put(c.v.names(c.p, k), "")
		}
	case "reacts":
		if b.Kind == schema.Reacts && b.Attr("moved") == nil {
			c.add(offer{label: "moved", kind: lsp.KindKeyword, detail: "what truly moved", text: "moved = "})
		}
		put(c.v.names(c.p, sketch.Hidden), "")
	case "spread":
		put(c.v.names(c.p, sketch.Hidden), "")
	case "hidden":
		if b.Is(schema.PlanBound) {
			if q := c.v.peer(c.p, ofPart(b)); q != nil {
				put(c.v.names(q, sketch.Hidden), "")
			}
		}
	}
}

func ofPart(b *sketch.Block) string {
	if part := b.Within(schema.PlanPart); part != nil {
		return part.Label
	}
	return ""
}

// label offers names in the head of a block that name something elsewhere.
func (c *completer) label(b *sketch.Block, before []sketch.Token) {
	if len(before) < 2 || b.Kind == nil {
		return
	}
	use := b.Kind.Block(c.f.String(before[0].Span))
	switch {
	case use == nil:
	case use.Block == schema.PlanReacts:
		if q := c.v.peer(c.p, ofPart(b)); q != nil {
			c.quoted(c.v.names(q, "correction"))
		}
	case use.Block == schema.PlanPart:
		for _, t := range c.f.Root.All("task") {
			if a := t.Attr("procedure"); a != nil {
				c.quote(offer{label: strings.Trim(c.f.String(a.Value), `"`), kind: lsp.KindReference, detail: "task " + t.Label})
			}
		}
	case use.Label == schema.Existing:
		c.quoted(c.v.names(c.p, "correction"))
	}
}

// dimFirst puts the names of the dimension that is wanted before the others.
func (c *completer) dimFirst(a *sketch.Attr, at place, o offer) offer {
	f, ok := c.v.factOf(c.p, at)
	if !ok {
		return o
	}
	want, known := c.wanted(a)
	if have, numeric := dimOf(f.typ); known && (!numeric || have != want) {
		o.rank = 1
	}
	return o
}

// quoted offers names for a place in quotes.
func (c *completer) quoted(places []place) {
	for _, at := range places {
		c.quote(c.nameOffer(at))
	}
}

// quote offers a word for a place in quotes, with the closing one where it is
// missing.
func (c *completer) quote(o offer) {
	for _, have := range c.offers {
		if have.label == o.label {
			return
		}
	}
	o.text = o.label
	if !c.closed() {
		o.text += `"`
	}
	c.add(o)
}

// closed tells whether the quote around the place is closed in its line.
func (c *completer) closed() bool {
	for _, t := range c.f.Tokens {
		if t.From >= c.at && t.Type == hclsyntax.TokenCQuote {
			return !strings.Contains(string(c.f.Text[c.at:t.From]), "\n")
		}
	}
	return false
}
