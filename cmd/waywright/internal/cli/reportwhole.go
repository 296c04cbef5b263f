package cli

import (
	"fmt"
	"strings"

	"waywright/procedures/diagnose"
	"waywright/report"
)

// listWhole shows the record of a machine in few lines: what is missing first,
// then a line to a test.
func (a *app) listWhole(machine string, w report.Whole) {
	a.printf("%s", fill(diagnose.Plain(fmt.Sprintf("%s: %s, by %s.", machine, w.Text, plural(len(w.Records), "accepted record"))), "", page))
	if len(w.Missing) > 0 {
		a.printf("Not whole, or to be known:\n")
	}
	for _, m := range w.Missing {
		run := ""
		if m.Run != "" && !strings.Contains(m.Why, m.Run) {
			run = " (run " + m.Run + ")"
		}
		a.printf("%s", hanging("  "+m.Word()+"  ", diagnose.Plain(fmt.Sprintf("%s: %s%s", m.What, m.Why, run)), page))
	}
	last := 0
	for _, t := range w.Tests {
		if t.Record != last {
			r := w.Records[t.Record-1]
			last = t.Record
			a.printf("%s", fill(diagnose.Plain(fmt.Sprintf("%s, %s, run %s", r.Title, r.Last[:min(10, len(r.Last))], r.Run)), "", page))
		}
		word, rest := testLine(t)
		a.printf("%s", hanging("  "+word+"  ", diagnose.Plain(rest), page))
	}
	a.printf("As a page, on sheets or as a table: --html, --pdf, --csv:\n  %s\n", a.withBook("waywright report --machine "+machine+" --html -o "+machine+".html"))
}

// testLine says a test in a line: verdict, title, what was found, what is allowed.
func testLine(t report.WholeTest) (word, out string) {
	word = t.Test.Word
	if t.Spoilt {
		word = "DISTURBED SINCE, was " + word
	}
	out = t.Test.Title
	switch f := t.Test.Found; {
	case f == nil:
	case f.Holds != "":
		out += ": " + f.Holds
	case f.Said != "":
		out += ": " + f.Said
		if f.U != nil {
			out += ", give or take " + f.U.WithUnit()
		}
	}
	if said := t.Test.Allowed.Said; said != "" && t.Test.Found != nil && t.Test.Found.Holds == "" {
		out += "; allowed " + said
	}
	return word, out
}
