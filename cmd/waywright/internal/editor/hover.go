package editor

import (
	"encoding/json"
	"fmt"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/catalogue"
	"waywright/checks/quantity"
	"waywright/cmd/waywright/internal/editor/lsp"
	"waywright/cmd/waywright/internal/editor/sketch"
	"waywright/procedures/hclfile/schema"
	"waywright/procedures/register"
)

// hover tells of what stands at a place.
func (s *server) hover(params json.RawMessage) (any, error) {
	p, err := read[lsp.PositionParams](params)
	if err != nil {
		return nil, err
	}
	v, page, err := s.look(p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	text, at := v.tell(page, page.text.Offset(p.Position))
	if text == "" {
		return nil, nil
	}
	r := page.text.Range(at.From, at.To)
	return lsp.Hover{Contents: s.markup(text), Range: &r}, nil
}

// markup is a text as the editor can show it.
func (s *server) markup(text string) lsp.Markup {
	if s.client.markdown {
		return lsp.Markup{Kind: "markdown", Value: text}
	}
	return lsp.Markup{Kind: "plaintext", Value: plain(text)}
}

// plain takes the marks of markdown away.
func plain(text string) string {
	var out []string
	for _, line := range strings.Split(text, "\n") {
		if !strings.HasPrefix(line, "```") {
			out = append(out, line)
		}
	}
	return strings.NewReplacer("**", "", "`", "", `\`, "").Replace(strings.Join(out, "\n"))
}

// escape keeps what a file holds from being taken for marks.
func escape(s string) string {
	return strings.NewReplacer(`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "<", `\<`, "[", `\[`, "#", `\#`).Replace(s)
}

// tell returns what is told of a place, and the piece that it is about.
func (v *view) tell(p *page, at int) (string, sketch.Span) {
	// A block's type, then an attribute's name, then names, then words.
	var text string
	var where sketch.Span
	p.tree.Root.Walk(func(b *sketch.Block) {
		if b.Up != nil && b.TypeAt.Holds(at) && b.Kind != nil {
			text, where = blockText(b.Kind), b.TypeAt
		}
		for _, a := range b.Attrs {
			if a.NameAt.Holds(at) && b.Kind != nil && b.Kind.Attr(a.Name) != nil {
				text, where = attrText(b.Kind, b.Kind.Attr(a.Name)), a.NameAt
			}
		}
	})
	if text != "" {
		return text, where
	}
	if r, ok := p.refAt(at); ok {
		if to, ok := v.resolve(p, r); ok {
			return v.nameText(p, r, to), r.Whole
		}
	}
	return v.wordText(p, at)
}

// blockText tells what a block is for.
func blockText(b *schema.Block) string {
	text := fmt.Sprintf("**%s**\n\n%s", b.Heading(), escape(b.Doc))
	if b.FreeDoc != "" {
		text += "\n\nIts attributes: " + escape(b.FreeDoc) + "."
	}
	return strings.Join(notEmpty([]string{text, code(b.Example())}), "\n\n")
}

// attrText tells what an attribute is for.
func attrText(b *schema.Block, a *schema.Attr) string {
	text := fmt.Sprintf("**%s** of %s: %s", escape(a.Name), b.Type, a.Form)
	switch {
	case len(a.Words) > 0:
		text = fmt.Sprintf("**%s** of %s: %s", escape(a.Name), b.Type, strings.Join(a.Words, ", "))
	case len(a.To) > 0:
		text += " (" + strings.Join(a.To, ", ") + ")"
	}
	if a.Required {
		text += ", always written"
	}
	text += "\n\n" + escape(a.Doc)
	if a.Default != "" {
		text += "\n\nWhere it is not written: " + escape(a.Default) + "."
	}
	return text + fmt.Sprintf("\n\n```hcl\n%s = %s\n```", a.Name, a.Example)
}

// nameText tells of a name: what it is, what was written where it is given,
// and where that is.
func (v *view) nameText(p *page, r sketch.Ref, to place) string {
	b := to.ref.In
	head := fmt.Sprintf("**%s**", escape(written(to.ref)))
	if f, ok := v.factOf(p, to); ok {
		head += " — " + escape(f.typ.String())
		if f.unit != nil {
			head += ", in " + f.unit.Symbol
		}
	}
	out := []string{head}
	if to.ref.Kind == sketch.Hidden {
		out = append(out, "True state of the machine in a rehearsal.", code(v.givenAs(to)))
	} else if b != nil {
		for _, name := range []string{"title", "ask", "text", "kind", "purpose"} {
			if a := b.Attr(name); a != nil && !a.Value.Empty() {
				out = append(out, escape(strings.Trim(to.page.tree.String(a.Value), `"`)))
			}
		}
		out = append(out, code(rest(to.page.tree, b)))
	}
	out = append(out, v.whereText(p, to))
	return strings.Join(notEmpty(out), "\n\n")
}

func notEmpty(in []string) []string {
	var out []string
	for _, s := range in {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

func code(text string) string {
	if text == "" {
		return ""
	}
	return "```hcl\n" + strings.ReplaceAll(text, "```", "'''") + "\n```"
}

// givenAs are the lines in which a state is given.
func (v *view) givenAs(to place) string {
	var out []string
	for _, r := range to.page.gives[string(sketch.Hidden)+" "+to.ref.Name] {
		if a := r.In.Attr(r.Name); a != nil && !a.Value.Empty() {
			out = append(out, a.Name+" = "+to.page.tree.String(a.Value))
		}
		if len(out) == maxLines {
			break
		}
	}
	return strings.Join(out, "\n")
}

// written is a name as it is written elsewhere.
func written(r sketch.Ref) string {
	switch r.Kind {
	case sketch.Row:
		return "table." + r.Of + "." + r.Name
	case sketch.Procedure, sketch.Plan, sketch.Rehearsal, "machine", "person":
		return string(r.Kind) + ` "` + r.Name + `"`
	}
	return string(r.Kind) + "." + r.Name
}

// maxLines bounds what is shown of a block.
const maxLines = 12

// rest are the attributes of a block that are not told in words, one a line as
// far as they are short.
func rest(f *sketch.File, b *sketch.Block) string {
	var names, values []string
	widest := 0
	for _, a := range b.Attrs {
		value := strings.Join(strings.Fields(f.String(a.Value)), " ")
		switch a.Name {
		case "title", "ask", "text", "kind", "purpose", "do", "tools":
			continue
		}
		if len(names) == maxLines || value == "" {
			continue
		}
		names, values = append(names, a.Name), append(values, value)
		widest = max(widest, len(a.Name))
	}
	var out []string
	for i := range names {
		out = append(out, fmt.Sprintf("%-*s = %s", widest, names[i], values[i]))
	}
	return strings.Join(out, "\n")
}

// whereText says where a name is given.
func (v *view) whereText(p *page, to place) string {
	line := to.page.text.Position(to.ref.At.From).Line + 1
	in := ""
	if b := to.ref.In; b != nil && b.Up != nil && b.Up.Label != "" {
		in = fmt.Sprintf(", in %s %s", b.Up.Type, escape(b.Up.Label))
	}
	if to.page == p {
		return fmt.Sprintf("Line %d%s.", line, in)
	}
	return fmt.Sprintf("%s, line %d%s.", escape(to.page.name), line, in)
}

// factOf returns what is known of the values of a name that a page uses. What
// is shared has values only in a procedure.
func (v *view) factOf(p *page, to place) (fact, bool) {
	name := to.ref.Name
	if to.ref.Kind == sketch.Row {
		name = to.ref.Of + "." + name
	}
	f, ok := v.known(to.page, string(to.ref.Kind), name)
	if !ok && p != to.page {
		f, ok = v.known(p, string(to.ref.Kind), name)
	}
	return f, ok
}

// wordText tells of functions, units and the words of formulas.
func (v *view) wordText(p *page, at int) (string, sketch.Span) {
	for i, t := range p.tree.Tokens {
		if !t.Holds(at) || t.Type != hclsyntax.TokenIdent && t.Type != hclsyntax.TokenQuotedLit {
			continue
		}
		word := p.tree.String(t.Span)
		if t.Type == hclsyntax.TokenQuotedLit {
			return quotedText(p, word, t.From), t.Span
		}
		dotted := i > 0 && p.tree.Tokens[i-1].Type == hclsyntax.TokenDot
		if text := machineText(p.tree, i); text != "" {
			return text, t.Span
		}
		if dotted {
			continue
		}
		if text := functionText(word); text != "" {
			return text, t.Span
		}
		if text := rootText(word); text != "" && p.tree.AttrAt(at) != nil {
			return text, t.Span
		}
	}
	return "", sketch.Span{}
}

// rootText tells of the words of formulas that nobody gives.
func rootText(word string) string {
	for _, r := range schema.Roots() {
		if r.Name == word {
			return fmt.Sprintf("**%s**\n\n%s\n\n%s\n\n%s", r.Name, escape(r.Doc), escape(r.Where), code(r.Example))
		}
	}
	for _, w := range schema.WaysOut() {
		if w.Name == word {
			return fmt.Sprintf("**%s**\n\n%s", w.Name, escape(w.Doc))
		}
	}
	return ""
}

// quotedText tells of a unit, or of one of the few words of an attribute.
func quotedText(p *page, word string, at int) string {
	a := p.tree.AttrAt(at)
	if a == nil || a.In.Kind == nil {
		return ""
	}
	if k := a.In.Kind.Attr(a.Name); k != nil && k.Form == schema.OneOf {
		if m := k.Meaning(word); m != "" {
			return fmt.Sprintf("**%s**\n\n%s", escape(word), escape(capital(m)))
		}
	}
	u, err := quantity.Lookup(word)
	if a.Name != "unit" || err != nil {
		return ""
	}
	return fmt.Sprintf("**%s** — %s, shown as %s", escape(u.Name), u.Dim.Name(), u.Symbol)
}

// machineText tells of a size of a machine that has a fixed meaning.
func machineText(f *sketch.File, i int) string {
	t := f.Tokens
	path := f.String(t[i].Span)
	for i >= 2 && t[i-1].Type == hclsyntax.TokenDot {
		i -= 2
		word := f.String(t[i].Span)
		if word != "machine" {
			path = word + "." + path
			continue
		}
		if k, ok := register.SizeOf(path); ok {
			return fmt.Sprintf("**machine.%s** — %s\n\n%s", escape(path), k.Type, escape(k.Doc))
		}
	}
	return ""
}

// functionText tells of a function, or of one that writes a unit.
func functionText(name string) string {
	for _, l := range quantity.Literals() {
		if l.Name == name {
			return fmt.Sprintf("**%s(number)** — %s\n\nA number in %s.", escape(l.Name), l.Unit.Dim, l.Doc)
		}
	}
	if f, ok := catalogue.Lookup(name); ok {
		return funcText(f)
	}
	return ""
}

func funcText(f *catalogue.Func) string {
	out := []string{fmt.Sprintf("**%s** — %s", escape(f.Signature()), escape(f.Gives())), escape(capital(f.Doc))}
	kinds := f.Kinds()
	var params []string
	for i, p := range f.Params {
		line := fmt.Sprintf("- `%s`: %s", p.Name, escape(kinds[i]))
		if p.Doc != "" {
			line += "; " + escape(p.Doc)
		}
		params = append(params, line)
	}
	out = append(out, strings.Join(params, "\n"))
	if f.Signs != "" {
		out = append(out, "Plus: "+escape(f.Signs))
	}
	if f.Example.Expr != "" {
		out = append(out, code(f.Example.Expr+"\n# "+f.Example.Want))
	}
	if f.Source != "" {
		out = append(out, "Source: "+escape(f.Source))
	}
	return strings.Join(notEmpty(out), "\n\n")
}

// capital begins a sentence.
func capital(s string) string {
	if s == "" {
		return ""
	}
	s = strings.ToUpper(s[:1]) + s[1:]
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}
