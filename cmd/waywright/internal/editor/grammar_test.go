package editor_test

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"waywright/checks/catalogue"
	"waywright/checks/quantity"
	"waywright/cmd/waywright/internal/editor"
	"waywright/procedures/hclfile/schema"
)

// patterns collects the rules of a grammar by their scope, or by the scope of
// their first capture.
func patterns(t *testing.T) map[string][]string {
	t.Helper()
	var tree any
	if err := json.Unmarshal(editor.Grammar(), &tree); err != nil {
		t.Fatal(err)
	}
	out := map[string][]string{}
	var walk func(x any)
	walk = func(x any) {
		switch x := x.(type) {
		case []any:
			for _, y := range x {
				walk(y)
			}
		case map[string]any:
			name, _ := x["name"].(string)
			for _, captures := range []string{"captures", "beginCaptures"} {
				if c, ok := x[captures].(map[string]any); ok && name == "" {
					for _, n := range []string{"1", "2"} {
						if one, ok := c[n].(map[string]any); ok && name == "" {
							name, _ = one["name"].(string)
						}
					}
				}
			}
			for _, k := range []string{"match", "begin"} {
				if p, ok := x[k].(string); ok {
					out[name] = append(out[name], p)
				}
			}
			for _, y := range x {
				walk(y)
			}
		}
	}
	walk(tree)
	return out
}

// around takes the parts away that look before and behind, which Go's expressions
// do not have.
var around = strings.NewReplacer(`(?<![\w.-])`, ``, `(?![\w-])`, `\b`, `(?=\s*\()`, ``, `(?=\{)`, ``, `(?!=)`, ``, `(?<=\.)`, ``)

// All words of the language are coloured as what they are, those that come to
// it later too.
func TestGrammarKnowsTheLanguage(t *testing.T) {
	rules := patterns(t)
	colours := func(scope, text, word string) {
		t.Helper()
		for _, p := range rules[scope] {
			re, err := regexp.Compile(around.Replace(p))
			if err != nil {
				t.Fatalf("%s: %v", p, err)
			}
			if m := re.FindStringSubmatch(text); m != nil && strings.Contains(strings.Join(m, "\x00")+"\x00", word+"\x00") {
				return
			}
		}
		t.Errorf("%s is not coloured as %s", word, scope)
	}
	seen := 0
	for _, b := range schema.All() {
		for _, u := range b.Blocks {
			seen++
			colours("keyword.control.block.waywright", "  "+u.Type+" {", u.Type)
		}
		for _, a := range b.Attrs {
			seen++
			colours("variable.other.property.waywright", "  "+a.Name+"  = 1", a.Name)
		}
	}
	for _, f := range catalogue.All() {
		if _, unit := quantity.LiteralUnit(f.Name); !unit {
			seen++
			colours("support.function.waywright", f.Name+"(", f.Name)
		}
	}
	for _, l := range quantity.Literals() {
		colours("support.function.unit.waywright", l.Name+"(", l.Name)
	}
	for _, r := range schema.Roots() {
		colours("variable.language.waywright", r.Name, r.Name)
	}
	for _, w := range schema.WaysOut() {
		colours("variable.language.waywright", w.Name, w.Name)
	}
	if seen < 200 {
		t.Errorf("only %d words were tried", seen)
	}
}
