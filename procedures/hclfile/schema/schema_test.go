package schema_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/procedures/hclfile/schema"
)

// blocks returns all blocks of all kinds of file, each once.
func blocks() []*schema.Block {
	var out []*schema.Block
	var walk func(b *schema.Block)
	walk = func(b *schema.Block) {
		if slices.Contains(out, b) {
			return
		}
		out = append(out, b)
		for _, u := range b.Blocks {
			walk(u.Block)
		}
	}
	for _, f := range append(schema.Files(), schema.Registers()...) {
		walk(f)
	}
	return out
}

// The reference page and the editor show these texts.
func TestEverythingIsExplained(t *testing.T) {
	for _, b := range blocks() {
		if !sentence(b.Doc) && b.FreeDoc == "" {
			t.Errorf("block %s: %q is no sentence", b.Type, b.Doc)
		}
		if b.Free && b.FreeDoc == "" {
			t.Errorf("block %s does not say which attributes it takes", b.Type)
		}
		for _, a := range b.Attrs {
			if !sentence(a.Doc) {
				t.Errorf("%s.%s: %q is no sentence", b.Type, a.Name, a.Doc)
			}
			if a.Form.String() == "" || a.Form == schema.OneOf && len(a.Words) == 0 ||
				(a.Form == schema.Reference || a.Form == schema.References) && len(a.To) == 0 {
				t.Errorf("%s.%s does not say how it is written", b.Type, a.Name)
			}
			if _, ds := hclsyntax.ParseExpression([]byte(a.Example), "example", hcl.InitialPos); a.Example == "" || ds.HasErrors() {
				t.Errorf("%s.%s: example %q: %v", b.Type, a.Name, a.Example, ds)
			}
			if b.Attr(a.Name) == nil || b.Block(a.Name) != nil {
				t.Errorf("%s.%s cannot be found, or is a block too", b.Type, a.Name)
			}
		}
	}
}

func sentence(s string) bool { return len(s) > 10 && strings.HasSuffix(s, ".") }
