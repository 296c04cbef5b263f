package html

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"waywright/report"
	"waywright/report/draw"
)

// sheet is the test sheet: a line to a test, under the steps they belong to.
func sheet(r report.Record) table {
	t := table{
		Caption: "Test sheet: a line to a test. In the diagram the bars are the limits, the mark is the result, and the thick line its doubt.",
		Head: []string{"No.", "Object", "Diagram", "Permissible deviation", "As found", "As left", "Give or take", "Verdict",
			"Instrument", "Source", "Attempts", "Detail"},
		Wide: true,
	}
	step := ""
	for _, x := range r.Tests {
		if x.Step != step {
			step = x.Step
			t.Rows = append(t.Rows, row{Group: step})
		}
		t.add(sheetRow(r, x)...)
	}
	return t
}

func sheetRow(r report.Record, t report.Test) []cell {
	left := text(said(t.Found))
	if t.Found == nil {
		left = text(notFound(t))
	}
	if t.Worst != "" {
		left.Notes = append(left.Notes, "at "+t.Worst)
	}
	if c := t.Change; c != nil {
		left.Notes = append(left.Notes, c.Said)
	}
	verdict := cell{Text: t.Word, Strong: t.Verdict != report.Pass}
	if c := t.Concession; c != nil {
		verdict.Notes = []string{"concession " + c.State}
	}
	found := text(t.AsFound.Said)
	if t.AsFound.Word != "" {
		found.Notes = []string{t.AsFound.Word}
	}
	source := text(t.Allowed.Source)
	if t.Allowed.Memory {
		source.Notes = []string{"V: from memory"}
	}
	diagram := cell{Picture: strip(t), Notes: present([]string{stripSaid(t)})}
	return []cell{
		{Text: fmt.Sprint(t.No), Number: true}, text(t.Title), diagram, text(t.Allowed.Said), found, left,
		{Text: giveOrTake(t.Found), Notes: present([]string{coverage(t.Found)}), Number: true}, verdict,
		text(strings.Join(instrumentNames(r, t.Instruments), ", ")), source, figure(fmt.Sprint(len(t.Attempts))),
		{Text: fmt.Sprintf("test %d", t.No), Number: true, Link: fmt.Sprintf("test-%d", t.No)},
	}
}

func notFound(t report.Test) string {
	switch t.Verdict {
	case report.NotMeasured:
		return "not measured"
	case report.NotApplied:
		return "left out"
	}
	return "not read"
}

func limitOf(n *report.Number, none float64) float64 {
	if n == nil {
		return none
	}
	return n.Value
}

func lo(n *report.Number) float64 { return limitOf(n, math.Inf(-1)) }
func hi(n *report.Number) float64 { return limitOf(n, math.Inf(1)) }

func reachOf(u *report.Number) float64 { return limitOf(u, 0) }

func shape(verdict string) draw.Shape {
	switch verdict {
	case report.Pass:
		return draw.Round
	case report.Fail:
		return draw.Cross
	}
	return draw.Diamond
}

// strip draws the result between its limits. A test without a number has none.
func strip(t report.Test) template.HTML {
	if t.Found == nil || t.Found.Value == nil || t.Allowed.Lower == nil && t.Allowed.Upper == nil {
		return ""
	}
	s := draw.Strip{
		Title: fmt.Sprintf("Test %d between its limits", t.No),
		Desc:  upper(stripSaid(t)) + ".",
		Value: t.Found.Value.Value, U: reachOf(t.Found.U), Lo: lo(t.Allowed.Lower), Hi: hi(t.Allowed.Upper), Shape: shape(t.Verdict),
	}
	return svg(s.Draw(), fmt.Sprintf("strip-%d", t.No))
}

// svg is a picture as it stands in the page. SVG escapes all lettering.
func svg(p draw.Picture, id string) template.HTML {
	return template.HTML(draw.SVG(p, id)) //nolint:gosec // escaped by draw
}

// stripSaid says what the strip shows.
func stripSaid(t report.Test) string {
	f := t.Found
	if f == nil || f.Nearer == nil {
		return ""
	}
	distance := report.Number{Text: strings.TrimLeft(f.Nearer.Text, "−"), Unit: f.Nearer.Unit}.WithUnit()
	switch {
	case f.Nearer.Value > 0:
		return "inside, " + distance + " from the nearer limit"
	case f.Nearer.Value < 0:
		return "outside, " + distance + " beyond the limit"
	}
	return "on the limit"
}
