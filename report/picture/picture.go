// Package picture makes the pictures of a record: which pictures a test earns,
// and what each shows. It knows records and package draw, and nothing of pages.
//
// All is made from the record alone, so that a page, a printed sheet and a
// terminal show the same. Every picture has a title, one sentence of what it
// shows, and its numbers as a table: nobody needs to see it to know what is in
// it. Directions stand in the words of the procedure.
//
// A test earns
//
//   - "values", where it judges many values at once: along stations, round a
//     turn, or one after the other, against their limits;
//   - "axis", where its words say how an end lies in the level or the upright
//     plane: both planes side by side, where the record has both;
//   - "level", where it stands on slopes along a bed: its height, and how it
//     leans across;
//   - "profile", where it judges the form of a profile: with the line that its
//     form is counted from;
//   - "contour", where it stands on a surface;
//   - "attempts", where it was judged more than once;
//   - "reading", for what was read along stations or round a turn.
//
// A run earns a "timeline".
package picture

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/procedures/direction"
	"waywright/report"
	"waywright/report/draw"
)

// OfTest returns the pictures of a test, in the order in which they tell it:
// what was found against the limits, how the attempts came to it, what was
// read. The names of a test's pictures differ: of several of one kind, those
// after the first end in -b, -c and so on.
func OfTest(r report.Record, t report.Test) []draw.Picture {
	v := view{r, t}
	return named(slices.Concat(v.values(), v.axis(), v.level(), v.profiles(), v.surfaces(), v.attempts(), v.read()))
}

// view is a test in its record.
type view struct {
	r report.Record
	t report.Test
}

// working are the results behind the test that are there.
func (v view) working() []report.Result {
	var out []report.Result
	for _, name := range v.t.Working {
		for _, x := range v.r.Results {
			if x.Name == name && x.State == "present" {
				out = append(out, x)
			}
		}
	}
	return out
}

// readings are those that the test stands on.
func (v view) readings() []report.Reading {
	var out []report.Reading
	for _, id := range v.t.Readings {
		if rd, ok := v.r.Reading(id); ok {
			out = append(out, rd)
		}
	}
	return out
}

// named makes the names of pictures differ.
func named(ps []draw.Picture) []draw.Picture {
	seen := map[string]int{}
	for i, p := range ps {
		seen[p.Name]++
		if n := seen[p.Name]; n > 1 {
			ps[i].Name += "-" + nth(n)
		}
	}
	return ps
}

// nth is b for the second, z for the twenty-sixth, and then a number.
func nth(n int) string {
	if n <= 26 {
		return string(rune('a' + n - 1))
	}
	return fmt.Sprint(n)
}

func called(name string, p draw.Picture, n draw.Numbers) draw.Picture {
	p.Name, p.Numbers = name, n
	return p
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

// place is the head of a value's row: its key, or its station.
func place(key string, at *report.Number) string {
	if at != nil {
		return at.WithUnit()
	}
	return key
}

func placeWord(along string) string {
	if along == "" || along == "key" {
		return "place"
	}
	return along
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// inclined tells whether a printed unit is one of angles or slopes.
func inclined(unit string) bool {
	u, err := quantity.Lookup(unit)
	return err == nil && (u.Dim == quantity.Angle || u.Dim == quantity.Ratio && unit != "" && unit != "%")
}

// isLength tells whether a printed unit is one of lengths.
func isLength(unit string) bool {
	u, err := quantity.Lookup(unit)
	return err == nil && u.Dim == quantity.Length
}

// against are the words for the other way; "" where there are none.
func against(words string) string {
	other, ok := direction.Opposite(words)
	if !ok {
		return ""
	}
	return other
}

func infinite() (lo, hi float64) { return math.Inf(-1), math.Inf(1) }
