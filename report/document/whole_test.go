package document_test

import (
	"bytes"
	"strings"
	"testing"

	"waywright/report"
	"waywright/report/document"
	"waywright/report/html"
	"waywright/report/pdf"
	"waywright/report/reporttest"
)

// The record of a machine says first what is missing and what does not hold,
// has a line to each test with the record it is from, and can be printed.
func TestWholeSaysWhatIsMissing(t *testing.T) {
	var list []report.RunIssue
	spoilt := reporttest.Tailstock().SpoiltSince([]report.Spoilt{{Said: "run 9 moved the head", Time: "2026-12-01T08:00:00Z", Run: "9"}})
	for run, r := range map[string]report.Record{"tailstock": spoilt, "bar": reporttest.Bar()} {
		b, err := report.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, report.RunIssue{Run: run, Issue: report.Issue{Record: r, JSON: b}})
	}
	w, err := report.Join("lathe-2", list, []report.Missing{{Kind: report.MissNever, What: "task headstock of bench-lathe", Why: "it is not begun yet"}})
	if err != nil {
		t.Fatal(err)
	}
	d, err := document.OfWhole(w)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := document.WritePlain(&b, d); err != nil {
		t.Fatal(err)
	}
	text, at := b.String(), 0
	for _, want := range []string{
		"DRAFT", "Record of a machine", "2 accepted records", "NOT WHOLE", "What is missing, or does not hold any more",
		"DISTURBED Tailstock in line: test cut between centres: it does not hold any more: run 9 moved the head.", "run tailstock",
		"MISSING Task headstock of bench-lathe: it is not begun yet.", "CALIBRATION ENDED", "Of these 1 does not hold any more",
		"What is not as the limits ask", "Closest to their limits", "Holds for this machine only", "TEST SHEET", "Record 1: Tailstock in line: test cut between centres. Run tailstock, No. lathe-2-tailstock-by-test-cut-20261103-3b1f5f0a, digest " + w.Records[0].SHA256[:8],
		"Verdict: DOES NOT HOLD ANY MORE", "it was PASS", "Record: 1", "Record 2: Lap a bar", "Record: 2", "THE RECORDS", "Does it hold: NOT ANY MORE", "TO CHECK THIS RECORD", w.Records[0].SHA256, "END OF RECORD",
	} {
		n := strings.Index(text[at:], want)
		if n < 0 {
			t.Fatalf("the record does not say %q behind what comes before it:\n%s", want, text[at:])
		}
		at += n
	}
	var page, sheets bytes.Buffer
	if err := html.Render(&page, d); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(page.String(), `href="#test-`) {
		t.Error("the page points to tests that it does not have")
	}
	if err := pdf.Render(&sheets, d, pdf.A4); err != nil {
		t.Fatal(err)
	}
}

// Where nothing is accepted yet, nothing is announced that does not follow, and no
// sheet is wanted for a test sheet without tests.
func TestWholeWithoutRecords(t *testing.T) {
	w, err := report.Join("lathe-2", nil, []report.Missing{{Kind: report.MissOpen, What: "Bed", Why: "its run is not ended", Run: "bed-lathe-2"}})
	if err != nil {
		t.Fatal(err)
	}
	d, err := document.OfWhole(w)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range d.Parts {
		if p.Form == document.Lying || p.Form == document.Fresh {
			t.Errorf("%q has a sheet of its own", p.Title)
		}
	}
	var b bytes.Buffer
	if err := document.WritePlain(&b, d); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "answers:") || !strings.Contains(b.String(), "no accepted record is joined in it") {
		t.Errorf("it says\n%s", b.String())
	}
}
