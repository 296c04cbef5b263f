// Package picture makes the pictures of a record: which pictures a test earns,
// and what each shows. It knows records and package draw, and nothing of pages.
//
// All is made from the record alone, so that a page, a printed sheet and a
// terminal show the same. Every picture has a title, one sentence of what it
// shows, and its numbers as a table: nobody needs to see it to know what is in
// it. Directions stand in the words of the procedure.
package picture

import (
	"math"

	"waywright/report"
	"waywright/report/draw"
)

// OfTest returns the pictures of a test, in the order in which they tell it:
// what was found against the limits, how the attempts came to it, what was
// read. The names of a test's pictures differ.
func OfTest(r report.Record, t report.Test) []draw.Picture {
	var out []draw.Picture
	out = append(out, values(t)...)
	out = append(out, surfaces(r, t)...)
	out = append(out, attempts(t)...)
	out = append(out, read(r, t)...)
	return numbered(out)
}

// numbered makes the names of pictures differ.
func numbered(ps []draw.Picture) []draw.Picture {
	seen := map[string]int{}
	for i, p := range ps {
		seen[p.Name]++
		if n := seen[p.Name]; n > 1 {
			ps[i].Name += "-" + string(rune('a'+min(n-1, 25)))
		}
	}
	return ps
}

func lower(n *report.Number) float64 { return valueOr(n, math.Inf(-1)) }
func upper(n *report.Number) float64 { return valueOr(n, math.Inf(1)) }
func doubt(n *report.Number) float64 { return valueOr(n, 0) }

func valueOr(n *report.Number, none float64) float64 {
	if n == nil {
		return none
	}
	return n.Value
}

// shape is that of a verdict.
func shape(verdict string) draw.Shape {
	switch verdict {
	case report.Pass:
		return draw.Round
	case report.Fail:
		return draw.Cross
	}
	return draw.Diamond
}

const marksSaid = "A round mark is PASS, a cross FAIL, a diamond CANNOT TELL; the upright line is the doubt."

// bounds says limits as they stand in a table.
func bounds(lo, hi *report.Number) string {
	switch {
	case lo == nil && hi == nil:
		return ""
	case lo == nil:
		return "at most " + hi.WithUnit()
	case hi == nil:
		return "at least " + lo.WithUnit()
	}
	return lo.Text + " to " + hi.WithUnit()
}

func withUnit(n *report.Number) string {
	if n == nil {
		return ""
	}
	return n.WithUnit()
}
