package proofread

import (
	"regexp"
	"slices"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/procedures/diagnose"
)

// Answered is a warning that the author has answered: a comment on its line
// gives its code and a reason, "# W604: a finer lever is bought in spring".
type Answered struct {
	diagnose.Diagnostic
	Reason string
}

// answer is what a comment says of one or more codes.
var answer = regexp.MustCompile(`(?s)^(?:#|//)\s*(W\d{3}(?:,\s*W\d{3})*):\s*(\S.*?)\s*$`)

var code = regexp.MustCompile(`W\d{3}`)

// answered parts the warnings that a comment on their line answers from the
// rest. An error cannot be answered.
func answered(list diagnose.List, text func(file string) []byte) (rest diagnose.List, out []Answered) {
	comments := map[string]map[int]map[string]string{}
	for _, d := range list {
		file := d.Subject.File
		if comments[file] == nil {
			comments[file] = reasons(text(file))
		}
		reason, ok := comments[file][d.Subject.Start.Line][d.Code]
		if !ok || d.Severity != diagnose.Warning {
			rest = append(rest, d)
			continue
		}
		out = append(out, Answered{d, reason})
	}
	return rest, out
}

// reasons returns what the comments of a file say of codes, by line.
func reasons(text []byte) map[int]map[string]string {
	out := map[int]map[string]string{}
	if !slices.ContainsFunc(text, func(b byte) bool { return b == 'W' }) {
		return out
	}
	tokens, _ := hclsyntax.LexConfig(text, "", hcl.InitialPos)
	for _, t := range tokens {
		if t.Type != hclsyntax.TokenComment {
			continue
		}
		m := answer.FindSubmatch(t.Bytes)
		if m == nil {
			continue
		}
		line := t.Range.Start.Line
		if out[line] == nil {
			out[line] = map[string]string{}
		}
		for _, c := range code.FindAll(m[1], -1) {
			out[line][string(c)] = string(m[2])
		}
	}
	return out
}
