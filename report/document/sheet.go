package document

import (
	"fmt"
	"strings"

	"waywright/report"
	"waywright/report/picture"
)

const sheetCaption = "Test sheet: a line to a test. In the diagram the upright bars are the limits, the mark is the result, and the thick line its doubt."

// sheet is the test sheet: a line to a test, under the steps they belong to.
func sheet(r report.Record) Table {
	t := newTable(sheetCaption, Sheet, "No.", "Object", "Diagram", "Permissible deviation", "As found", "As left", "Give or take", "Verdict",
		"Instrument", "Source", "Attempts", "Detail")
	step := ""
	for _, x := range r.Tests {
		if x.Step != step {
			step = x.Step
			t.Rows = append(t.Rows, Row{Group: step})
		}
		t.add(sheetRow(r, x)...)
	}
	return t
}

func sheetRow(r report.Record, t report.Test) []Cell {
	left := words(foundSaid(t.Found))
	if t.Found == nil {
		left = words(notFound(t))
	}
	if t.Worst != "" {
		left.Notes = append(left.Notes, "at "+t.Worst)
	}
	if c := t.Change; c != nil {
		left.Notes = append(left.Notes, c.Said)
	}
	verdict := Cell{Text: t.Word, Strong: t.Verdict != report.Pass}
	if c := t.Concession; c != nil {
		verdict.Notes = []string{"concession " + c.State}
	}
	if t.Noted {
		verdict.Notes = append(verdict.Notes, "noted as found")
	}
	found := words(t.AsFound.Said)
	if t.AsFound.Word != "" {
		found.Notes = []string{t.AsFound.Word}
	}
	source := words(t.Allowed.Source)
	if t.Allowed.Memory {
		source.Notes = []string{"V: from memory"}
	}
	diagram := Cell{}
	if p, ok := picture.Strip(t); ok {
		p.Name = fmt.Sprintf("strip-%d", t.No)
		diagram = Cell{Picture: &p, Notes: []string{picture.StripSaid(t)}}
	}
	return []Cell{
		{Text: fmt.Sprint(t.No), Figure: true}, words(t.Title), diagram, words(t.Allowed.Said), found, left,
		{Text: giveOrTake(t.Found), Notes: present([]string{coverage(t.Found)}), Figure: true}, verdict,
		words(strings.Join(instrumentNames(r, t.Instruments), ", ")), source, figure(attempts(t)),
		{Text: fmt.Sprintf("test %d", t.No), Figure: true, Ref: testID(t)},
	}
}

func notFound(t report.Test) string {
	switch t.Verdict {
	case report.NotMeasured:
		return "not measured"
	case report.NotApplied:
		if t.LeftOut != nil {
			return "left out"
		}
		return "does not apply"
	}
	return "not read"
}

// attempts counts the judgements of a test. One that was left out had none.
func attempts(t report.Test) string {
	if t.LeftOut != nil {
		return "none"
	}
	return fmt.Sprint(len(t.Attempts))
}
