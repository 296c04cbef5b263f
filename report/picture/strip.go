package picture

import (
	"fmt"
	"strings"

	"waywright/checks/quantity"
	"waywright/report"
	"waywright/report/draw"
)

// Strip returns a test's result between its limits on one line, for a table. A
// test without a number or without a limit has none.
func Strip(t report.Test) (draw.Picture, bool) {
	f := t.Found
	if f == nil || f.Value == nil || t.Allowed.Lower == nil && t.Allowed.Upper == nil {
		return draw.Picture{}, false
	}
	s := draw.Strip{
		Title: fmt.Sprintf("Test %d between its limits", t.No), Desc: StripSaid(t) + ".",
		Value: f.Value.Value, U: doubt(f.U), Lo: lower(t.Allowed.Lower), Hi: upper(t.Allowed.Upper), Shape: shape(t.Verdict),
	}
	n := draw.Numbers{
		Head: []string{"Found", "Give or take", "Allowed", "Verdict"},
		Rows: [][]string{{f.Said, withUnit(f.U), t.Allowed.Said, t.Word}},
	}
	return called("strip", s.Draw(), n), true
}

// StripSaid says what the strip of a test shows.
func StripSaid(t report.Test) string {
	f := t.Found
	if f == nil || f.Nearer == nil {
		return t.Word
	}
	distance := report.Number{Text: strings.TrimLeft(f.Nearer.Text, quantity.TrueMinus), Unit: f.Nearer.Unit}.WithUnit()
	switch {
	case f.Nearer.Value > 0:
		return "Inside, " + distance + " from the nearer limit"
	case f.Nearer.Value < 0:
		return "Outside, " + distance + " beyond the limit"
	}
	return "On the limit"
}
