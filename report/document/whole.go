package document

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"waywright/report"
)

// OfWhole makes the document of what the records of a machine say together.
// What stands behind a value is in the record that it is from.
func OfWhole(w report.Whole) (Document, error) {
	b, err := report.MarshalWhole(w)
	if err != nil {
		return Document{}, err
	}
	sum := sha256.Sum256(b)
	if w, err = report.ParseWhole(b); err != nil { // a copy, to be cleaned
		return Document{}, err
	}
	clean(&w)
	r := asRecord(w)
	d := Document{
		Title: "Record of a machine", Number: w.Number, Item: item(r), Digest: hex.EncodeToString(sum[:]), Draft: w.Word == report.NotDecided,
		Language: "en", Authors: signersOf(w), Subject: machineSaid(w.Machine), Time: w.Time, End: "END OF RECORD", JSON: b,
	}
	d.Short = d.Digest[:8]
	d.Head = []Block{
		Paragraph{Style: Numbers, Line: Line{{Text: "No. "}, {Text: w.Number, Strong: true}}},
		Paragraph{Style: Lead, Line: plain(machineSaid(w.Machine))},
		Facts{Rows: []Fact{
			{"Joined from", []Line{{{Text: count(len(w.Records), "accepted record", "accepted records"), Ref: "records"}}}},
			{"Worked and measured", lines(wholeDays(w))},
		}},
	}
	sheet, records := Part{ID: "sheet", Title: "Test sheet", Form: Lying, Blocks: wholeSheet(w)}, Part{ID: "records", Title: "The records", Form: Fresh, Blocks: wholeRecords(w)}
	if len(w.Tests) == 0 { // nothing that wants a page of its own
		sheet.Form, records.Form = Flowing, Flowing
	}
	d.Parts = []Part{
		{ID: "outcome", Title: "Outcome", Form: First, Blocks: wholeOutcome(w, r)}, sheet, records,
		{ID: "machine", Title: "Machine", Blocks: filled("Its entry in the logbook has no facts or sizes.", machine(r))},
		{ID: "check", Title: "To check this record", Blocks: wholeCheck(w, d.Digest)},
	}
	d.settle()
	return d, nil
}

// asRecord is a whole as a record, for what both say alike.
func asRecord(w report.Whole) report.Record {
	r := report.Record{Machine: w.Machine}
	r.Outcome.Counts = w.Counts
	for _, t := range w.Tests {
		if !t.Spoilt { // it falls neither short nor within
			r.Tests = append(r.Tests, t.Test)
		}
	}
	return r
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func wholeDays(w report.Whole) string {
	if len(w.Records) == 0 {
		return "nothing yet"
	}
	begun := w.Records[0].Begun
	for _, x := range w.Records {
		begun = min(begun, x.Begun)
	}
	return days(begun, w.Time)
}

func signersOf(w report.Whole) []string {
	var out []string
	for _, x := range w.Records {
		for _, s := range x.Signed {
			if s.Name != "" && !slices.Contains(out, s.Name) {
				out = append(out, s.Name)
			}
		}
	}
	return out
}

// missingTitle says what the list of what is missing holds.
func missingTitle(w report.Whole) string {
	if w.Word == report.NotDecided {
		return "What is missing, or does not hold any more"
	}
	return "What is to be known"
}

func wholeOutcome(w report.Whole, r report.Record) []Block {
	out := []Block{Paragraph{Style: Verdict, Line: Line{{Text: w.Text, Strong: true}}}}
	if len(w.Missing) > 0 {
		l := List{}
		for _, m := range w.Missing {
			item := Item{Line: Line{{Text: m.Word(), Strong: true}, {Text: " " + sentence(strings.TrimSuffix(m.What+": "+m.Why, ": "))}}}
			if m.Run != "" && !strings.Contains(m.Why, m.Run) {
				item.Under = lines("run " + m.Run)
			}
			l.Items = append(l.Items, item)
		}
		out = append(out, Heading{Level: 3, Text: missingTitle(w)}, l)
	}
	out = append(out, said(counts(w.Counts)))
	if w.Spoilt > 0 {
		out = append(out, Paragraph{Style: Alarm, Line: Line{{Text: "Of these " + count(w.Spoilt, "does", "do") + " not hold any more", Strong: true},
			{Text: ": what was measured was spoilt since. The test sheet says which."}}})
	}
	out = append(out, leftOut(r)...)
	for _, b := range falls(r) {
		if p, ok := b.(Paragraph); ok && len(r.FallsShort()) == 0 && w.Word == report.NotDecided {
			p.Line = plain("Of what is there and holds, nothing falls short of its limits.")
			b = p
		}
		out = append(out, b)
	}
	rows := []Fact{{"Limits", lines(limitsSaid(r)...)}}
	if rule := rulesOf(w); len(rule) > 0 {
		rows = append(rows, Fact{"Rule", lines(rule...)})
	}
	rows = append(rows, Fact{"Signed", []Line{{{Text: "Each of the records by itself, see: "}, {Text: "The records", Ref: "records"}}}},
		Fact{"Check", []Line{{{Text: "To check this record", Ref: "check"}}}})
	out = append(out, Facts{Rows: rows}, Paragraph{Style: Holds, Line: plain("Holds for this machine only, each test as it stood when its record was made.")},
		said(codesFirst))
	for _, b := range out {
		unlinked(b)
	}
	return out
}

// unlinked takes out what points to a test: here its record has it.
func unlinked(b Block) {
	cut := func(l Line) {
		for i := range l {
			if strings.HasPrefix(l[i].Ref, "test-") {
				l[i].Ref = ""
			}
		}
	}
	switch b := b.(type) {
	case Paragraph:
		cut(b.Line)
	case List:
		for _, x := range b.Items {
			cut(x.Line)
		}
	}
}

// rulesOf are the rules of the records, each once.
func rulesOf(w report.Whole) []string {
	var out []string
	for _, x := range w.Records {
		if x.Rule.Said != "" && !slices.Contains(out, x.Rule.Said) {
			out = append(out, x.Rule.Said)
		}
	}
	return out
}

func wholeSheet(w report.Whole) []Block {
	if len(w.Tests) == 0 {
		return []Block{said("No accepted record has a test.")}
	}
	t := newTable(sheetCaption, Sheet, "No.", "Object", "Diagram", "Permissible deviation", "As found", "As left", "Give or take", "Verdict",
		"Instrument", "Source", "Attempts", "Record")
	record := 0
	for _, x := range w.Tests {
		j, _ := w.Joined(x.Record)
		if x.Record != record {
			record = x.Record
			t.Rows = append(t.Rows, Row{Group: fmt.Sprintf("Record %d: %s. Run %s, No. %s, digest %s", record, j.Title, j.Run, j.Number, firstEight(j.SHA256))})
		}
		cells := sheetRow(report.Record{Instruments: j.Hands}, x.Test)
		if x.FoundIn > 0 {
			cells[4].Notes = append(cells[4].Notes, fmt.Sprintf("in record %d", x.FoundIn))
		}
		if x.Spoilt {
			cells[7] = Cell{Text: "DOES NOT HOLD ANY MORE", Strong: true, Notes: []string{"it was " + cells[7].Text}}
		}
		if j.Corrected != "" {
			cells[7].Notes = append(slices.Clone(cells[7].Notes), "being corrected by run "+j.Corrected)
		}
		cells[len(cells)-1] = figure(fmt.Sprint(x.Record))
		t.add(cells...)
	}
	return []Block{t}
}

func wholeRecords(w report.Whole) []Block {
	t := newTable("The records that this one is joined from. What stands behind a value is in them.", Cards,
		"No.", "Record", "Outcome", "Measured", "Signed", "Does it hold")
	for _, x := range w.Records {
		var signed, spoilt []string
		for _, s := range x.Signed {
			how := ""
			if s.How == report.ByKey {
				how = ", by key"
			}
			signed = append(signed, fmt.Sprintf("%s: %s, %s%s", s.Role, s.Name, day(s.When), how))
		}
		for _, s := range x.Spoilt {
			spoilt = append(spoilt, sentence(s.Said))
		}
		holds := Cell{Text: "yes"}
		if x.Replaced != "" {
			holds = words("Run "+x.Replaced+" took its place", "only what it found first counts")
		}
		if x.Corrected != "" {
			holds.Notes = append(holds.Notes, "being corrected by run "+x.Corrected, "until that is signed this one stands")
		}
		if len(spoilt) > 0 {
			holds = Cell{Text: "NOT ANY MORE", Strong: true, Notes: spoilt}
		}
		who := Cell{Notes: signed}
		if len(signed) == 0 {
			who = Cell{Text: "not signed", Strong: true}
		}
		t.add(words(fmt.Sprint(x.No)), words(x.Title, "No. "+x.Number, "run "+x.Run, "digest "+firstEight(x.SHA256), labelled("grade", x.Grade)), words(x.Outcome), words(days(x.Begun, x.Last)), who, holds)
	}
	return filled("There is none.", t)
}

func wholeCheck(w report.Whole, digest string) []Block {
	l := List{}
	for _, x := range w.Records {
		l.Items = append(l.Items, Item{Line: Line{{Text: fmt.Sprintf("Record %d, run %s: ", x.No, x.Run)}, {Text: x.SHA256, Code: true}}})
	}
	out := []Block{said("This record is not signed, and no accepted record is joined in it.")}
	if len(l.Items) > 0 {
		out = []Block{said("This record is not signed: the records that it is joined from are. Each says how it is checked. Their digests, as sha256sum record.json in the folder of each run answers:"), l}
	}
	return append(out, Paragraph{Line: Line{{Text: "The digest of this record's own JSON: "}, {Text: digest, Code: true}}}, said("Times are UTC."))
}
