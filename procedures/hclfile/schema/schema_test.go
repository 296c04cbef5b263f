package schema_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/procedures/hclfile/schema"
)

// The reference page and the editor show these texts.
func TestEverythingIsExplained(t *testing.T) {
	for _, b := range schema.All() {
		if !sentence(b.Doc) && b.FreeDoc == "" {
			t.Errorf("block %s: %q is no sentence", b.Type, b.Doc)
		}
		if b.Free && b.FreeDoc == "" {
			t.Errorf("block %s does not say which attributes it takes", b.Type)
		}
		if _, ds := hclsyntax.ParseConfig([]byte(b.Example()), "example", hcl.InitialPos); b.Example() == "" || ds.HasErrors() {
			t.Errorf("%s: example %q: %v", b.Heading(), b.Example(), ds)
		}
		for _, a := range b.Attrs {
			if len(a.Means) != len(a.Words) {
				t.Errorf("%s.%s has %d words and %d meanings", b.Type, a.Name, len(a.Words), len(a.Means))
			}
			for _, w := range a.Words {
				if !sentence(a.Meaning(w)) {
					t.Errorf("%s.%s: %q is not said what it means", b.Type, a.Name, w)
				}
			}
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

// Blocks of one type can be told apart by their headings, which are anchors too.
func TestHeadingsDiffer(t *testing.T) {
	seen := map[string]bool{}
	for _, b := range schema.All() {
		if seen[b.Heading()] {
			t.Errorf("%s stands twice", b.Heading())
		}
		seen[b.Heading()] = true
	}
}

// The words of said, and the first words of names, are explained like attributes.
func TestWordsAreExplained(t *testing.T) {
	if len(schema.Responses) != len(schema.ResponseMean) || len(schema.Objections) != len(schema.ObjectionMean) {
		t.Error("a word of said has no meaning")
	}
	for _, s := range slices.Concat(schema.ResponseMean, schema.ObjectionMean) {
		if !sentence(s) {
			t.Errorf("%q is no sentence", s)
		}
	}
	for _, r := range schema.Roots() {
		_, ds := hclsyntax.ParseExpression([]byte(r.Example), "example", hcl.InitialPos)
		if r.Where == "" || r.Doc == "" || ds.HasErrors() {
			t.Errorf("%s: %q, %q, %v", r.Name, r.Doc, r.Where, ds)
		}
	}
}

func sentence(s string) bool { return len(s) > 10 && strings.HasSuffix(s, ".") }
