package cli

import (
	"strings"

	"github.com/hashicorp/hcl/v2"
)

// calcWords are what is said of a sum that cannot be read, by the summary that the
// parser of files gives.
var calcWords = map[string][2]string{
	"Unterminated function call":                 {"A bracket is not closed", "Write ) where the values of this function end."},
	"Unbalanced parentheses":                     {"A bracket is not closed", "Write ) where it is to end."},
	"Unterminated tuple constructor expression":  {"A bracket is not closed", "Write ] where the list ends."},
	"Unterminated object constructor expression": {"A brace is not closed", "Write } where the keyed values end."},
	"Unterminated template string":               {"A quotation mark is not closed", "Write \" where the text ends."},
	"Extra characters after expression":          {"Something is left over", "The sum is complete before it. Is a sign missing, such as + or *, or is a bracket too many?"},
	"Missing expression":                         {"Something is missing", "A value is wanted here."},
	"Invalid expression":                         {"Something is missing", "A value is wanted here: a number, a size such as mm(3), or a function."},
}

// inASum words what is said of a file for a single sum.
var inASum = strings.NewReplacer(
	"before the end of the file", "before the end", "the end of the file", "the end", " elsewhere in this file", "", " in this file", " here",
	"expression", "sum", "An expression", "A sum", "an expression", "a sum", "Expression", "Sum",
)

// calcSaid is what is said of a diagnostic of a sum.
func calcSaid(d *hcl.Diagnostic) (summary, detail string) {
	if d.Extra != nil { // it is this program's own
		return d.Summary, d.Detail
	}
	if w, ok := calcWords[d.Summary]; ok {
		return w[0], w[1]
	}
	return inASum.Replace(d.Summary), inASum.Replace(d.Detail)
}
