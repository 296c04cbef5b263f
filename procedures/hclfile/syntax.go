package hclfile

import (
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/procedures/diagnose"
)

// Syntax parses the bytes of a file of any kind, within the bounds that hold
// for all of them, and says what is wrong with their syntax alone. The body is
// what could be read of it; nil where the bytes are no text, or beyond the
// bounds.
func Syntax(shown string, b []byte) (*hclsyntax.Body, diagnose.List) {
	f, ds := parse(shown, b)
	return f.body, ds
}
