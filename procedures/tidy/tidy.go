// Package tidy gives procedure files their one layout. It knows HCL and none of
// the words: the registers of a logbook and plans are laid out in the same way.
//
// The layout:
//
//   - Two blanks for each bracket that is open at the beginning of a line; of
//     several opened in one line, one counts. No tabs, no blanks at line ends.
//   - The equals signs of attributes in lines next to one another stand below
//     one another, and so do the comments behind them. A blank line, a comment
//     in a line of its own, a block or an attribute of several lines ends such a
//     run, and so does a line of an object with several words in it.
//   - One blank round operators; none inside round and square brackets.
//   - At most one blank line, none at the beginning or the end of a block or
//     list, none within an expression.
//   - A list that is broken has its brackets in lines of their own and a comma
//     behind the last element; where it is broken is the author's matter. A list
//     that is all of an attribute is broken, an element a line, where its line
//     would have more than [Width] columns. In one line nothing stands behind
//     the last element.
//   - A line with a comment that answers a warning, "# W604: …", is not broken:
//     it answers for the line it stands in.
//   - One newline at the end. Of two kinds of line end the first in the file
//     holds for all of it. A mark of byte order is dropped.
//
// Nothing is put in another order; comments stay where they are, word for word
// but for blanks at their ends. Heredocs and what stands in quotes are left as
// they are.
package tidy

import (
	"bytes"
	"fmt"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
)

// Width is the number of columns that a list may reach to in one line.
const Width = 120

// Bytes returns a file in its layout. The name is for messages. The error is a
// [*Refusal] where the file cannot be read as HCL.
func Bytes(name string, src []byte) ([]byte, error) {
	body, found := hclfile.Syntax(name, src)
	if found.HasErrors() || body == nil {
		return nil, &Refusal{name, found}
	}
	in := piecesOf(name, src)
	out := layout(in, facts(body))
	if at := differ(in, piecesOf(name, out)); at != nil {
		return nil, &Refusal{name, diagnose.List{diagnose.New("E010", rangeOf(name, at),
			"In its one layout the file would not say the same from here on. Please report this line.")}}
	}
	if bytes.Contains(src, []byte("\r\n")) {
		out = lineEnds(src, out)
	}
	return out, nil
}

// Refusal says why a file is left as it is.
type Refusal struct {
	Name  string
	Found diagnose.List // syntax errors, at least one
}

func (r *Refusal) Error() string {
	if len(r.Found) == 0 {
		return r.Name + ": cannot be read as HCL"
	}
	d := r.Found.Sorted()[0]
	more := ""
	if n := len(r.Found) - 1; n > 0 {
		more = fmt.Sprintf(" (and %d more)", n)
	}
	return fmt.Sprintf("%s: %s%s", d.Subject, d.Detail, more)
}
