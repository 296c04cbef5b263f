package editor

import (
	"encoding/json"
	"strings"

	"waywright/cmd/waywright/internal/editor/lsp"
	"waywright/cmd/waywright/internal/editor/sketch"
)

// symbols say as what an editor shows each type of block.
var symbols = map[string]int{
	"procedure": lsp.SymbolModule, "overhaul": lsp.SymbolModule, "given": lsp.SymbolConstant, "instrument": lsp.SymbolStruct,
	"step": lsp.SymbolFunction, "confirm": lsp.SymbolBoolean, "wait": lsp.SymbolEvent, "reading": lsp.SymbolProperty,
	"result": lsp.SymbolVariable, "gate": lsp.SymbolOperator, "correction": lsp.SymbolMethod, "signoff": lsp.SymbolKey,
	"rehearsal": lsp.SymbolClass, "caution": lsp.SymbolEvent, "table": lsp.SymbolArray, "row": lsp.SymbolConstant, "task": lsp.SymbolFunction,
}

// outline lists what a file holds: its blocks with a name, those in them below
// them.
func (s *server) outline(params json.RawMessage) (any, error) {
	in, err := read[lsp.DocumentParams](params)
	if err != nil {
		return nil, err
	}
	_, p, err := s.look(in.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	return entriesOf(p, p.tree.Root), nil
}

func entriesOf(p *page, b *sketch.Block) []lsp.DocumentSymbol {
	out := []lsp.DocumentSymbol{}
	for _, k := range b.Blocks {
		if k.Label == "" {
			continue
		}
		kind := symbols[k.Type]
		if kind == 0 {
			kind = lsp.SymbolObject
		}
		out = append(out, lsp.DocumentSymbol{
			Name: k.Label, Kind: kind, Detail: strings.TrimSpace(k.Type + " " + short(p.tree, k)),
			Range:          p.text.Range(k.TypeAt.From, k.End),
			SelectionRange: p.text.Range(k.LabelAt.From, k.LabelAt.To),
			Children:       entriesOf(p, k),
		})
	}
	return out
}

// short is what a block says of itself in a line.
func short(f *sketch.File, b *sketch.Block) string {
	for _, name := range []string{"title", "ask", "kind", "text", "procedure"} {
		if a := b.Attr(name); a != nil {
			return strings.Trim(f.String(a.Value), `"`)
		}
	}
	return ""
}
