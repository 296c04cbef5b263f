package editor

import (
	"encoding/json"
	"regexp"
	"slices"
	"strings"

	"waywright/checks/catalogue"
	"waywright/checks/quantity"
	"waywright/procedures/hclfile/schema"
)

// rule is a rule of a TextMate grammar.
type rule struct {
	Name          string          `json:"name,omitempty"`
	Match         string          `json:"match,omitempty"`
	Begin         string          `json:"begin,omitempty"`
	End           string          `json:"end,omitempty"`
	Captures      map[string]rule `json:"captures,omitempty"`
	BeginCaptures map[string]rule `json:"beginCaptures,omitempty"`
	EndCaptures   map[string]rule `json:"endCaptures,omitempty"`
	Patterns      []rule          `json:"patterns,omitempty"`
	Include       string          `json:"include,omitempty"`
}

// Grammar returns a TextMate grammar of procedure files, made from the words of
// the schema, the functions and the units.
func Grammar() []byte {
	g := struct {
		Comment    string          `json:"comment"`
		Name       string          `json:"name"`
		ScopeName  string          `json:"scopeName"`
		FileTypes  []string        `json:"fileTypes"`
		Patterns   []rule          `json:"patterns"`
		Repository map[string]rule `json:"repository"`
	}{
		Comment:   "Made by waywright editor --grammar from the words of the language; changes belong there.",
		Name:      "Waywright procedure",
		ScopeName: "source.waywright",
		FileTypes: []string{"hcl"},
		Patterns:  []rule{{Include: "#comments"}, {Include: "#block"}, {Include: "#attribute"}, {Include: "#brace"}},
		Repository: map[string]rule{
			"comments":   {Patterns: commentRules},
			"block":      blockRule(),
			"attribute":  attributeRule(),
			"brace":      {Match: `[{}]`, Name: "punctuation.section.block.waywright"},
			"expression": {Patterns: expressionRules()},
			"string":     stringRule,
		},
	}
	b, err := json.MarshalIndent(g, "", "  ")
	if err != nil {
		panic("editor: " + err.Error())
	}
	return append(b, '\n')
}

var commentRules = []rule{
	{Name: "comment.line.number-sign.waywright", Match: `#.*$`},
	{Name: "comment.line.double-slash.waywright", Match: `//.*$`},
	{Name: "comment.block.waywright", Begin: `/\*`, End: `\*/`},
}

var stringRule = rule{
	Name: "string.quoted.double.waywright", Begin: `"`, End: `"|$`,
	Patterns: []rule{
		{Name: "constant.character.escape.waywright", Match: `\\(?:[nrt"\\]|u[0-9A-Fa-f]{4}|U[0-9A-Fa-f]{8})|\$\$\{|%%\{`},
		{Name: "meta.interpolation.waywright", Begin: `\$\{~?`, End: `~?\}`,
			BeginCaptures: map[string]rule{"0": {Name: "punctuation.section.interpolation.begin.waywright"}},
			EndCaptures:   map[string]rule{"0": {Name: "punctuation.section.interpolation.end.waywright"}},
			Patterns:      []rule{{Include: "#expression"}}},
	},
}

// oneOf matches one of the words, and no longer one.
func oneOf(words []string) string {
	words = slices.Clone(words)
	slices.Sort(words)
	words = slices.Compact(words)
	slices.Reverse(words) // at_20 before at
	for i, w := range words {
		words[i] = regexp.QuoteMeta(w)
	}
	return `(?:` + strings.Join(words, "|") + `)(?![\w-])`
}

// blockRule matches the head of a block.
func blockRule() rule {
	return rule{
		Match: `^(.*\{)?\s*(` + oneOf(blockTypes()) + `)\s*("[^"]*")?\s*(?=\{)`,
		Captures: map[string]rule{
			"1": {Patterns: []rule{{Include: "#block"}}},
			"2": {Name: "keyword.control.block.waywright"},
			"3": {Name: "entity.name.section.waywright"},
		},
	}
}

func blockTypes() []string {
	var out []string
	for _, b := range schema.All() {
		if !strings.HasSuffix(b.Type, " file") {
			out = append(out, b.Type)
		}
	}
	return out
}

// attributeRule matches an attribute: those of the schema, and names of the
// procedure's own.
func attributeRule() rule {
	var names []string
	for _, b := range schema.All() {
		for _, a := range b.Attrs {
			names = append(names, a.Name)
		}
	}
	value := []rule{{Include: "#expression"}}
	end := `(?=\})|$`
	return rule{Patterns: []rule{
		{Begin: `\b(` + oneOf(names) + `)\s*(=)(?!=)`, End: end, Patterns: value,
			BeginCaptures: map[string]rule{"1": {Name: "variable.other.property.waywright"}, "2": {Name: "keyword.operator.assignment.waywright"}}},
		{Begin: `\b([a-z][\w-]*)\s*(=)(?!=)`, End: end, Patterns: value,
			BeginCaptures: map[string]rule{"1": {Name: "variable.other.waywright"}, "2": {Name: "keyword.operator.assignment.waywright"}}},
		{Include: "#expression"},
	}}
}

// expressionRules match what stands in a value.
func expressionRules() []rule {
	var functions, units, roots []string
	for _, f := range catalogue.All() {
		if _, unit := quantity.LiteralUnit(f.Name); !unit {
			functions = append(functions, f.Name)
		}
	}
	for _, l := range quantity.Literals() {
		units = append(units, l.Name)
	}
	for _, r := range schema.Roots() {
		roots = append(roots, r.Name)
	}
	for _, w := range schema.WaysOut() {
		roots = append(roots, w.Name)
	}
	return []rule{
		{Include: "#comments"},
		{Include: "#string"},
		{Name: "constant.language.waywright", Match: `(?<![\w.-])(?:true|false|null)(?![\w-])`},
		{Name: "keyword.control.waywright", Match: `(?<![\w.-])(?:for|in|if)(?![\w-])`},
		{Name: "support.function.unit.waywright", Match: `(?<![\w.-])` + oneOf(units) + `(?=\s*\()`},
		{Name: "support.function.waywright", Match: `(?<![\w.-])` + oneOf(functions) + `(?=\s*\()`},
		{Name: "variable.language.waywright", Match: `(?<![\w.-])` + oneOf(roots)},
		{Name: "variable.other.member.waywright", Match: `(?<=\.)[a-z][\w-]*`},
		{Name: "constant.numeric.waywright", Match: `(?<![\w.])\d+(?:\.\d+)?(?:[eE][+-]?\d+)?`},
		{Name: "keyword.operator.waywright", Match: `==|!=|<=|>=|=>|&&|\|\||[-+*/%<>!?:]`},
	}
}
