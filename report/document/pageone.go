package document

import (
	"fmt"
	"slices"
	"strings"

	"waywright/report"
)

func people(r report.Record) []string {
	var out []string
	for _, s := range r.Sittings {
		if s.Operator != "" && !slices.Contains(out, s.Operator) {
			out = append(out, s.Operator)
		}
	}
	return out
}

// head stands above the first part.
func head(r report.Record) []Block {
	number := Line{{Text: "No. "}, {Text: r.Number, Strong: true}}
	if r.Replaces != "" {
		number = append(number, Run{Text: ", in the place of " + r.Replaces})
	}
	by := strings.Join(people(r), ", ")
	if by == "" {
		by = "nobody yet"
	}
	rows := []Fact{
		{"Machine", lines(machineSaid(r.Machine))},
		{"Worked and measured", lines(days(r.Begun.Time, r.Last.Time))},
		{"By", lines(by)},
		{"Procedure", lines(r.Procedure.Name+prefixed(", revision ", r.Procedure.Revision), r.Procedure.Purpose)},
	}
	for _, w := range r.WorkSheets {
		rows = append(rows, Fact{"From paper", lines(w.Said)})
	}
	if r.Task != "" {
		rows = append(rows, Fact{"Overhaul", lines(strings.TrimPrefix(r.Overhaul+", task "+r.Task, ", "))})
	}
	if x := r.Supersedes; x != nil {
		text := "record " + x.Number + prefixed(", because ", x.Because)
		carried := ""
		if x.Carried > 0 {
			carried = fmt.Sprintf("The first %d entries of its journal were taken over as they were.", x.Carried)
		}
		rows = append(rows, Fact{"Corrects", lines(sentence(text), carried)})
	}
	return []Block{Paragraph{Style: Numbers, Line: number}, Paragraph{Style: Lead, Line: plain(r.Title)}, Facts{Rows: rows}}
}

func machineSaid(m report.Machine) string {
	class, id := m.Class, m.ID
	if class == "any" { // the procedure is for any; of this one nothing was said
		class = ""
	}
	if id == notNamed {
		id = "not named"
	}
	return strings.TrimSpace(class+" "+id) + prefixed(", serial ", m.Serial)
}

// notNamed is what a run calls a machine of which nobody said which it is.
const notNamed = "not-named"

// outcome is page one: what, whether, what not, who.
func outcome(r report.Record, ss []signer, draft bool) []Block {
	out := []Block{Paragraph{Style: Verdict, Line: Line{{Text: r.Outcome.Text, Strong: true}}}}
	out = append(out, spoilt(r)...)
	if r.Outcome.Reason != "" {
		s := "Reason: " + r.Outcome.Reason
		if by := r.Outcome.By; by != nil {
			s += " (" + strings.TrimPrefix(by.By+", "+when(by.Time), ", ") + ")"
		}
		out = append(out, said(s))
	}
	out = append(out, inTheWay(r, ss, draft)...)
	out = append(out, said(counts(r.Outcome.Counts)))
	out = append(out, leftOut(r)...)
	out = append(out, falls(r)...)
	out = append(out, Facts{Rows: rows(r, ss)})
	holds := fmt.Sprintf("Holds for this machine only, as it stood on %s.", day(r.Last.Time))
	if len(r.Spoilt) > 0 {
		holds += " It does not stand so any more."
	}
	return append(out, Paragraph{Style: Holds, Line: plain(holds)},
		said(codesFirst))
}

const codesFirst = "Local codes, and work that asks for a licence, come first: this record does not take the place of either."

func spoilt(r report.Record) []Block {
	if len(r.Spoilt) == 0 {
		return nil
	}
	l := List{}
	for _, x := range r.Spoilt {
		l.Items = append(l.Items, Item{Line: plain(x.Said + ".")})
	}
	return []Block{Paragraph{Style: Alarm, Line: Line{{Text: "IT DOES NOT HOLD ANY MORE.", Strong: true},
		{Text: " What was measured here was spoilt since, and is to be measured again:"}}}, l}
}

// inTheWay says what stands in the way of a decision.
func inTheWay(r report.Record, ss []signer, draft bool) []Block {
	if !draft {
		return nil
	}
	var open []string
	for _, s := range r.Outcome.Open {
		bySince := func(x signer) bool { return len(x.Sigs) > 0 && s == x.Title+": not signed." }
		if !slices.ContainsFunc(ss, bySince) {
			open = append(open, s)
		}
	}
	for _, title := range unsigned(ss) {
		if s := title + ": not signed."; !slices.Contains(open, s) {
			open = append(open, s)
		}
	}
	if len(open) == 0 {
		return nil
	}
	l := List{}
	for _, s := range open {
		l.Items = append(l.Items, Item{Line: plain(s)})
	}
	return []Block{said("Still in the way:"), l}
}

// leftOut names the tests that were left out by agreement, by whom, when and
// why, and those that do not apply; both apart from what could not be measured.
func leftOut(r report.Record) []Block {
	var out []Block
	agreed := List{Style: Falls}
	for _, t := range r.LeftOut() {
		x := t.LeftOut
		agreed.Items = append(agreed.Items, Item{No: t.No, Line: Line{{Text: t.Title, Ref: testID(t)}},
			Under: []Line{plain(x.Because), plain("agreed with " + x.Agreed + ", " + day(x.At.Time) + ", before the work began")}})
	}
	if n := len(agreed.Items); n > 0 {
		out = append(out, Heading{Level: 3, Text: fmt.Sprintf("Left out by agreement: %d", n)}, agreed)
	}
	out = append(out, assumed(r)...)
	left := r.NotApplying()
	if len(left) == 0 {
		return out
	}
	line := Line{{Text: fmt.Sprintf("Not to be measured here, by what was asked first: %d (", len(left))}}
	for i, t := range left {
		if i > 0 {
			line = append(line, Run{Text: "; "})
		}
		line = append(line, Run{Text: fmt.Sprintf("%d, %s", t.No, t.Title), Ref: testID(t)}, Run{Text: prefixed(": ", t.Why)})
	}
	return append(out, Paragraph{Line: append(line, Run{Text: ")."})})
}

// assumed names the values that were agreed on and not measured, with their
// doubt, by whom, when and why.
func assumed(r report.Record) []Block {
	var l List
	for _, g := range r.Givens {
		if x := g.Assumed; x != nil {
			value := g.Text
			if g.U != nil {
				value += " ± " + g.U.WithUnit()
			}
			l.Items = append(l.Items, Item{Line: plain(fmt.Sprintf("%s: %s, agreed with %s, %s: %s", g.Title, value, x.Agreed, day(x.At.Time), x.Because))})
		}
	}
	if len(l.Items) == 0 {
		return nil
	}
	return []Block{Heading{Level: 3, Text: fmt.Sprintf("Assumed by agreement, not measured: %d", len(l.Items))}, l}
}

// falls are the tests that fall short, then those that lie closest to their
// limits.
func falls(r report.Record) []Block {
	var out []Block
	short := List{Style: Falls}
	for _, t := range r.FallsShort() {
		short.Items = append(short.Items, fall(t))
	}
	switch {
	case len(short.Items) > 0:
		out = append(out, Heading{Level: 3, Text: "What is not as the limits ask"}, short)
	case r.Outcome.Counts.Agreed > 0:
		out = append(out, said("Nothing falls short of its limits."))
	}
	noted := List{Style: Falls}
	for _, t := range r.AsFound() {
		noted.Items = append(noted.Items, fall(t))
	}
	if len(noted.Items) > 0 {
		out = append(out, Heading{Level: 3, Text: "As found, no limits of this run"}, noted)
	}
	closest := List{Style: Falls}
	for _, t := range r.Closest(3) {
		closest.Items = append(closest.Items, Item{No: t.No, Line: Line{{Text: t.Title, Ref: testID(t)}},
			Under: lines(t.Found.Said + ", allowed " + t.Allowed.Said)})
	}
	if len(closest.Items) > 0 {
		out = append(out, Heading{Level: 3, Text: "Closest to their limits"}, closest)
	}
	return out
}

func rows(r report.Record, ss []signer) []Fact {
	out := []Fact{{"Limits", lines(limitsSaid(r)...)}, {"Rule", lines(r.Procedure.Rule.Said)}}
	if s := stateSaid(r); len(s) > 0 {
		out = append(out, Fact{"State", lines(s...)})
	}
	return append(out, Fact{"Signed", signedSaid(ss)}, Fact{"Check", []Line{{{Text: "To check this record", Ref: "check"}}}},
		Fact{"Forms", lines("For screen readers and small screens: record.html. For paper: record.pdf. Both say the same.")})
}

func testID(t report.Test) string { return fmt.Sprintf("test-%d", t.No) }

func fall(t report.Test) Item {
	f := Item{No: t.No, Line: Line{{Text: t.Title, Ref: testID(t)}, {Text: " "}, {Text: t.Word, Strong: true}}}
	add := func(s string) { f.Under = append(f.Under, plain(s)) }
	if t.Found != nil {
		line := t.Found.Said
		if t.Found.Holds == "" {
			line = "found " + line
		}
		if t.Found.U != nil {
			line += ", give or take " + t.Found.U.WithUnit()
		}
		add(line)
	}
	if t.Why != "" {
		add(t.Why)
	}
	if t.Found == nil || t.Found.Holds == "" {
		add("allowed " + t.Allowed.Said)
	}
	if c := t.Concession; c != nil {
		add("concession " + c.State + concessionReason(*c))
	}
	return f
}

func concessionReason(c report.Concession) string {
	switch {
	case c.Because != "":
		return ": " + c.Because
	case c.Reason != "":
		return ": " + c.Reason
	}
	return ""
}

func counts(c report.Counts) string {
	var parts []string
	for _, x := range []struct {
		n    int
		word string
	}{{c.Pass, "PASS"}, {c.Fail, "FAIL"}, {c.Undecided, "CANNOT TELL"}, {c.NotMeasured, "NOT MEASURED"}, {c.Open, "NOT YET JUDGED"}} {
		if x.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", x.n, x.word))
		}
	}
	tests := "tests"
	if c.Agreed == 1 {
		tests = "test"
	}
	if c.Agreed == 0 && c.Noted > 0 {
		return fmt.Sprintf("No test was agreed as a limit; %d noted as found.", c.Noted)
	}
	s := fmt.Sprintf("%d %s agreed", c.Agreed, tests)
	if len(parts) > 0 {
		s += ": " + strings.Join(parts, ", ")
	}
	if c.Conceded > 0 {
		s += fmt.Sprintf("; %d accepted by concession", c.Conceded)
	}
	if c.Noted > 0 {
		s += fmt.Sprintf("; %d noted as found, besides", c.Noted)
	}
	return s + "."
}

func limitsSaid(r report.Record) []string {
	var out []string
	if r.Procedure.Grade != "" {
		out = append(out, "Grade: "+r.Procedure.Grade+".")
	}
	if v := r.FromMemory(); len(v) > 0 {
		var nos []int
		for _, t := range v {
			nos = append(nos, t.No)
		}
		of := fmt.Sprintf("limit of test %d is", nos[0])
		if len(nos) > 1 {
			of = "limits of tests " + spans(nos) + " are"
		}
		out = append(out, "V: the "+of+" from memory of the source, its text not seen. Verify before relying on it.")
	}
	if len(out) == 0 {
		out = append(out, "As the test sheet has them, each with its source.")
	}
	return out
}

// spans lists numbers, of three and more in a row the first and the last: 1, 3
// to 9 and 12.
func spans(nos []int) string {
	var parts []string
	for i := 0; i < len(nos); {
		n := 1
		for i+n < len(nos) && nos[i+n] == nos[i]+n {
			n++
		}
		switch {
		case n > 2:
			parts = append(parts, fmt.Sprintf("%d to %d", nos[i], nos[i+n-1]))
		default:
			for _, x := range nos[i : i+n] {
				parts = append(parts, fmt.Sprint(x))
			}
		}
		i += n
	}
	if n := len(parts); n > 1 {
		return strings.Join(parts[:n-1], ", ") + " and " + parts[n-1]
	}
	return strings.Join(parts, "")
}

func stateSaid(r report.Record) []string {
	var out []string
	if a := r.Anew; a != nil {
		out = append(out, fmt.Sprintf("The plan %s was begun anew with this run, from %s on. Because: %s.", r.Overhaul, day(a.Since), strings.TrimRight(a.Because, ".")))
	}
	if o := r.OutOfOrder; o != nil {
		out = append(out, fmt.Sprintf("BEGUN OUT OF ORDER: %s. Because: %s.", strings.Join(o.Against, "; "), strings.TrimRight(o.Because, ".")))
	}
	if a, b, ok := r.Temperatures(); ok {
		s := a.WithUnit()
		if a.Text != b.Text {
			s = a.Text + " to " + b.WithUnit()
		}
		out = append(out, "Temperatures read: "+s+".")
	}
	for _, i := range r.Overdue() {
		out = append(out, fmt.Sprintf("The calibration of %s was OVERDUE.", instrumentName(i)))
	}
	for _, i := range r.Instruments {
		said := fmt.Sprintf("%s was kept against what was said of it: %s.", instrumentName(i), unsuited(i).Text)
		if len(i.Insisted()) > 0 && !slices.Contains(out, said) {
			out = append(out, said)
		}
	}
	n := len(r.Amendments)
	switch {
	case n == 1:
		out = append(out, "1 answer was amended; both values stand in this record.")
	case n > 1:
		out = append(out, fmt.Sprintf("%d answers were amended; both values stand in this record.", n))
	}
	for _, c := range r.Cautions {
		if c.Skipped {
			out = append(out, fmt.Sprintf("A caution was not acknowledged: %s.", c.Step))
		}
	}
	return out
}
