package sketch

import (
	"bytes"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/procedures/hclfile/schema"
)

// Read reads a file. The name tells which kind it is.
func Read(name string, text []byte) *File {
	r := &reader{f: &File{Text: text}}
	lines := r.lines()
	kind := kindOf(name, func(typ string) bool { return hasBlock(r.f, lines, typ) })
	r.f.Root = &Block{Kind: kind, Type: kind.Type, Body: Span{0, len(text)}, End: len(text)}
	r.now = r.f.Root
	for _, l := range lines {
		r.line(l)
	}
	r.endAttr(len(text))
	for r.now.Up != nil {
		r.close(len(text), len(text))
	}
	return r.f
}

type reader struct {
	f    *File
	now  *Block
	attr *Attr                 // that is being read
	open []hclsyntax.TokenType // brackets and quotes open in it
}

// row is a line of a file.
type row struct {
	Span           // without the end of the line
	tokens []Token // without comments
}

// lines cuts the file into lines and those into tokens. What stands in a
// comment of several lines, or in a heredoc, is passed over.
func (r *reader) lines() []row {
	text := maskComments(r.f.Text)
	var out []row
	marker := ""
	for from := 0; from <= len(text); {
		to := len(text)
		if i := bytes.IndexByte(text[from:], '\n'); i >= 0 {
			to = from + i
		}
		end := from + len(bytes.TrimRight(text[from:to], "\r"))
		l := row{Span: Span{from, end}}
		switch {
		case marker == "":
			l.tokens, marker = tokens(text, l.Span)
		case strings.TrimSpace(string(text[from:to])) == marker:
			marker = ""
		}
		r.f.Tokens = append(r.f.Tokens, l.tokens...)
		out = append(out, l)
		from = to + 1
	}
	return out
}

// tokens reads a line. The marker is that of a heredoc which begins in it.
func tokens(text []byte, s Span) (out []Token, marker string) {
	// The newline lets the lexer see a heredoc.
	line := append(bytes.Clone(text[s.From:s.To]), '\n')
	found, _ := hclsyntax.LexConfig(line, "", hcl.Pos{Byte: s.From, Line: 1, Column: 1}) // what is wrong in it is told elsewhere
	for _, t := range found {
		switch t.Type {
		case hclsyntax.TokenNewline, hclsyntax.TokenQuotedNewline, hclsyntax.TokenComment, hclsyntax.TokenEOF:
			continue
		case hclsyntax.TokenOHeredoc:
			return out, strings.TrimLeft(strings.TrimSpace(string(t.Bytes)), "<-")
		}
		to := min(t.Range.End.Byte, s.To)
		if t.Range.Start.Byte < to {
			out = append(out, Token{t.Type, Span{t.Range.Start.Byte, to}})
		}
	}
	return out, ""
}

// maskComments puts blanks in the place of comments of several lines.
func maskComments(text []byte) []byte {
	out := text
	quoted := false
	for i := 0; i < len(text); i++ {
		rest := text[i:]
		switch {
		case text[i] == '\n':
			quoted = false
		case quoted && text[i] == '\\':
			i++
		case text[i] == '"':
			quoted = !quoted
		case quoted:
		case text[i] == '#' || bytes.HasPrefix(rest, []byte("//")):
			if n := bytes.IndexByte(rest, '\n'); n >= 0 {
				i += n - 1
			} else {
				i = len(text)
			}
		case bytes.HasPrefix(rest, []byte("/*")):
			n := bytes.Index(rest[2:], []byte("*/"))
			if n < 0 {
				n = len(rest) - 4
			}
			if &out[0] == &text[0] {
				out = bytes.Clone(text)
			}
			for j := i; j < min(i+n+4, len(text)); j++ {
				if text[j] != '\n' && text[j] != '\r' {
					out[j] = ' '
				}
			}
			i += n + 3
		}
	}
	return out
}

// hasBlock tells whether a block of a type begins in some line.
func hasBlock(f *File, lines []row, typ string) bool {
	for _, l := range lines {
		if len(l.tokens) > 1 && f.String(l.tokens[0].Span) == typ && l.tokens[1].Type == hclsyntax.TokenOQuote {
			return true
		}
	}
	return false
}

// line reads a line.
func (r *reader) line(l row) {
	toks := l.tokens
	if r.attr != nil && r.breaksOff(l) {
		r.endAttr(r.attr.Stop)
	}
	for len(toks) > 0 {
		if r.attr != nil {
			toks = r.value(toks)
			continue
		}
		toks = r.statement(toks)
	}
	if r.attr == nil {
		return
	}
	r.attr.Stop = l.To
	// What is open within quotes ends with the line.
	for i, t := range r.open {
		if t == hclsyntax.TokenOQuote {
			r.open = r.open[:i]
			break
		}
	}
	if len(r.open) == 0 {
		r.endAttr(l.To)
	}
}

func (r *reader) endAttr(stop int) {
	if r.attr != nil {
		r.attr.Stop = max(r.attr.Stop, min(stop, len(r.f.Text)))
	}
	r.attr, r.open = nil, nil
}

// breaksOff tells whether a line begins something new though a bracket of the
// attribute is still open.
func (r *reader) breaksOff(l row) bool {
	t := l.tokens
	if len(t) == 0 || len(r.open) == 0 {
		return false
	}
	if t[0].Type == hclsyntax.TokenCBrace {
		return r.open[len(r.open)-1] != hclsyntax.TokenOBrace && !hasType(r.open, hclsyntax.TokenOBrace)
	}
	if t[0].Type != hclsyntax.TokenIdent || len(t) < 2 {
		return false
	}
	name := r.f.String(t[0].Span)
	switch t[1].Type {
	case hclsyntax.TokenEqual:
		if !hasType(r.open, hclsyntax.TokenOBrace) {
			return true
		}
		// A word of an object, or the next attribute.
		return r.now.Kind != nil && r.now.Kind.Attr(name) != nil && r.indent(t[0].From) <= r.indent(r.attr.NameAt.From)
	case hclsyntax.TokenOQuote, hclsyntax.TokenOBrace:
		return header(t) > 0 && known(name)
	}
	return false
}

func hasType(list []hclsyntax.TokenType, t hclsyntax.TokenType) bool {
	for _, o := range list {
		if o == t {
			return true
		}
	}
	return false
}

// indent returns how many bytes stand before a place in its line.
func (r *reader) indent(at int) int {
	return at - (bytes.LastIndexByte(r.f.Text[:at], '\n') + 1)
}

// value reads on in an attribute, and returns what is left of the line.
func (r *reader) value(toks []Token) []Token {
	for i, t := range toks {
		switch t.Type {
		case hclsyntax.TokenOBrace, hclsyntax.TokenOBrack, hclsyntax.TokenOParen, hclsyntax.TokenTemplateInterp,
			hclsyntax.TokenTemplateControl, hclsyntax.TokenOQuote:
			r.open = append(r.open, t.Type)
		case hclsyntax.TokenCBrace, hclsyntax.TokenCBrack, hclsyntax.TokenCParen, hclsyntax.TokenTemplateSeqEnd, hclsyntax.TokenCQuote:
			if len(r.open) == 0 {
				if t.Type == hclsyntax.TokenCBrace { // of the block around
					r.endAttr(t.From)
					return toks[i:]
				}
				break
			}
			r.unwind(t.Type)
		}
		r.attr.Tokens = append(r.attr.Tokens, t)
		if r.attr.Value.Empty() {
			r.attr.Value.From = t.From
		}
		r.attr.Value.To, r.attr.Stop = t.To, t.To
	}
	return nil
}

// unwind takes the bracket away that a closing one belongs to, with those that
// were left open in it.
func (r *reader) unwind(closing hclsyntax.TokenType) {
	want := map[hclsyntax.TokenType][]hclsyntax.TokenType{
		hclsyntax.TokenCBrace:         {hclsyntax.TokenOBrace},
		hclsyntax.TokenCBrack:         {hclsyntax.TokenOBrack},
		hclsyntax.TokenCParen:         {hclsyntax.TokenOParen},
		hclsyntax.TokenCQuote:         {hclsyntax.TokenOQuote},
		hclsyntax.TokenTemplateSeqEnd: {hclsyntax.TokenTemplateInterp, hclsyntax.TokenTemplateControl},
	}[closing]
	for i := len(r.open) - 1; i >= 0; i-- {
		if hasType(want, r.open[i]) {
			r.open = r.open[:i]
			return
		}
	}
}

// header returns how many tokens the head of a block has, with its brace; 0
// where the tokens are no such head.
func header(t []Token) int {
	i := 1
	for i < len(t) && i < 8 {
		switch t[i].Type {
		case hclsyntax.TokenOBrace:
			return i + 1
		case hclsyntax.TokenOQuote, hclsyntax.TokenQuotedLit, hclsyntax.TokenCQuote, hclsyntax.TokenIdent:
			i++
		default:
			return 0
		}
	}
	return 0
}

// statement reads the beginning of an attribute or a block, or the end of one,
// and returns what is left of the line.
func (r *reader) statement(t []Token) []Token {
	switch {
	case t[0].Type == hclsyntax.TokenCBrace:
		if r.now.Up != nil {
			r.close(t[0].From, t[0].To)
		}
		return t[1:]
	case t[0].Type != hclsyntax.TokenIdent:
		return t[1:]
	case len(t) > 1 && t[1].Type == hclsyntax.TokenEqual:
		r.attr = &Attr{Name: r.f.String(t[0].Span), NameAt: t[0].Span, Equals: t[1].To, Value: Span{t[1].To, t[1].To}, Stop: t[1].To, In: r.now}
		r.now.Attrs = append(r.now.Attrs, r.attr)
		return t[2:]
	}
	n := header(t)
	if n == 0 {
		return t[1:]
	}
	r.begin(t[:n])
	return t[n:]
}

// begin begins a block.
func (r *reader) begin(head []Token) {
	b := &Block{Type: r.f.String(head[0].Span), TypeAt: head[0].Span}
	for i, t := range head[1:] {
		switch {
		case t.Type == hclsyntax.TokenOQuote && b.LabelAt == Span{}:
			b.LabelAt = Span{t.To, t.To}
		case t.Type == hclsyntax.TokenQuotedLit && b.Label == "" && head[i].Type == hclsyntax.TokenOQuote, t.Type == hclsyntax.TokenIdent && b.Label == "":
			b.Label, b.LabelAt = r.f.String(t.Span), t.Span
		}
	}
	r.outside(b)
	b.Up = r.now
	if r.now.Kind != nil {
		if use := r.now.Kind.Block(b.Type); use != nil {
			b.Kind = use.Block
		}
	}
	b.Body = Span{head[len(head)-1].To, head[len(head)-1].To}
	r.now.Blocks = append(r.now.Blocks, b)
	r.now = b
}

// outside ends the blocks that are still open though the next one, which
// stands no deeper, can only stand outside them: their brace is missing.
func (r *reader) outside(b *Block) {
	allowed := func(in *Block) bool { return in.Kind != nil && in.Kind.Block(b.Type) != nil }
	if allowed(r.now) {
		return
	}
	for up := r.now; up.Up != nil && r.indent(b.TypeAt.From) <= r.indent(up.TypeAt.From); {
		up = up.Up
		if !allowed(up) {
			continue
		}
		for r.now != up {
			r.close(b.TypeAt.From, b.TypeAt.From)
		}
		return
	}
}

func (r *reader) close(body, end int) {
	r.now.Body.To = max(r.now.Body.From, body)
	r.now.End = max(end, r.now.Body.To)
	r.now = r.now.Up
}

// known tells whether there are blocks of a type anywhere.
func known(typ string) bool {
	return slices.ContainsFunc(schema.All(), func(b *schema.Block) bool { return b.Type == typ })
}
