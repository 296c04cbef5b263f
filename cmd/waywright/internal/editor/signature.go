package editor

import (
	"encoding/json"
	"strings"
	"unicode/utf16"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/catalogue"
	"waywright/checks/quantity"
	"waywright/cmd/waywright/internal/editor/lsp"
	"waywright/cmd/waywright/internal/editor/sketch"
)

// signature tells how the function around a place is called.
func (s *server) signature(params json.RawMessage) (any, error) {
	in, err := read[lsp.PositionParams](params)
	if err != nil {
		return nil, err
	}
	_, p, err := s.look(in.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	name, arg := callAt(p.tree, p.text.Offset(in.Position))
	for _, l := range quantity.Literals() {
		if l.Name == name {
			doc := s.markup("A number in " + l.Doc + ".")
			return lsp.SignatureHelp{Signatures: []lsp.Signature{{Label: name + "(number)", Documentation: &doc,
				Parameters: []lsp.Parameter{{Label: [2]int{len(name) + 1, len(name) + 7}}}}}}, nil
		}
	}
	if f, ok := catalogue.Lookup(name); ok {
		return s.callOf(f, arg), nil
	}
	return nil, nil
}

// callOf is how a function of the catalogue is called.
func (s *server) callOf(f *catalogue.Func, arg int) lsp.SignatureHelp {
	label := f.Signature() + " → " + f.Gives()
	doc := s.markup(funcText(f))
	sig := lsp.Signature{Label: label, Documentation: &doc, Parameters: []lsp.Parameter{}}
	kinds := f.Kinds()
	at := len(f.Name) + 1
	for i, p := range f.Params {
		n := strings.Index(label[at:], p.Name) + at
		at = n + len(p.Name)
		from := len(utf16.Encode([]rune(label[:n])))
		text := kinds[i]
		if p.Doc != "" {
			text += "; " + p.Doc
		}
		sig.Parameters = append(sig.Parameters, lsp.Parameter{Label: [2]int{from, from + len(p.Name)}, Documentation: text})
	}
	return lsp.SignatureHelp{Signatures: []lsp.Signature{sig}, ActiveParameter: min(arg, max(0, len(f.Params)-1))}
}

// call is an open bracket of a function, or of anything else.
type call struct {
	name string
	arg  int
	end  hclsyntax.TokenType
}

// callAt returns the innermost function whose arguments a place is among, and
// which of them.
func callAt(f *sketch.File, at int) (name string, arg int) {
	a := f.AttrAt(at)
	if a == nil {
		return "", 0
	}
	var open []call
	for i, t := range a.Tokens {
		if t.From >= at {
			break
		}
		switch t.Type {
		case hclsyntax.TokenOParen:
			c := call{end: hclsyntax.TokenCParen}
			if i > 0 && a.Tokens[i-1].Type == hclsyntax.TokenIdent {
				c.name = f.String(a.Tokens[i-1].Span)
			}
			open = append(open, c)
		case hclsyntax.TokenOBrack:
			open = append(open, call{end: hclsyntax.TokenCBrack})
		case hclsyntax.TokenOBrace:
			open = append(open, call{end: hclsyntax.TokenCBrace})
		case hclsyntax.TokenTemplateInterp, hclsyntax.TokenTemplateControl:
			open = append(open, call{end: hclsyntax.TokenTemplateSeqEnd})
		case hclsyntax.TokenCParen, hclsyntax.TokenCBrack, hclsyntax.TokenCBrace, hclsyntax.TokenTemplateSeqEnd:
			if n := len(open) - 1; n >= 0 && open[n].end == t.Type && t.To <= at {
				open = open[:n]
			}
		case hclsyntax.TokenComma:
			if len(open) > 0 {
				open[len(open)-1].arg++
			}
		}
	}
	for i := len(open) - 1; i >= 0; i-- {
		if open[i].name != "" {
			return open[i].name, open[i].arg
		}
		if open[i].end == hclsyntax.TokenTemplateSeqEnd {
			break
		}
	}
	return "", 0
}
