package html

import (
	"fmt"
	"slices"
	"strings"

	"waywright/report"
)

// fall is a test as page one has it.
type fall struct {
	No          int
	Title, Word string
	Lines       []string
}

func (p *page) pageOne() {
	r := p.Record
	for _, s := range r.Sittings {
		if !slices.Contains(p.People, s.Operator) {
			p.People = append(p.People, s.Operator)
		}
	}
	p.Dates = days(r.Begun.Time, r.Last.Time)
	p.Counts = counts(r.Outcome.Counts)
	p.Left = r.LeftOut()
	for _, t := range r.FallsShort() {
		p.Falls = append(p.Falls, newFall(t))
	}
	for _, t := range r.Closest(3) {
		p.Closest = append(p.Closest, fall{No: t.No, Title: t.Title, Lines: []string{t.Found.Said + ", allowed " + t.Allowed.Said}})
	}
	p.Limits = limitsSaid(r)
	p.State = stateSaid(r)
}

func newFall(t report.Test) fall {
	f := fall{No: t.No, Title: t.Title, Word: t.Word}
	if t.Found != nil {
		line := t.Found.Said
		if t.Found.Holds == "" {
			line = "found " + line
		}
		if t.Found.U != nil {
			line += ", give or take " + t.Found.U.WithUnit()
		}
		f.Lines = append(f.Lines, line)
	}
	if t.Why != "" {
		f.Lines = append(f.Lines, t.Why)
	}
	if t.Found == nil || t.Found.Holds == "" {
		f.Lines = append(f.Lines, "allowed "+t.Allowed.Said)
	}
	if c := t.Concession; c != nil {
		f.Lines = append(f.Lines, "concession "+c.State+concessionReason(*c))
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
	s := fmt.Sprintf("%d %s agreed", c.Agreed, tests)
	if len(parts) > 0 {
		s += ": " + strings.Join(parts, ", ")
	}
	if c.Conceded > 0 {
		s += fmt.Sprintf("; %d accepted by concession", c.Conceded)
	}
	return s + "."
}

func limitsSaid(r report.Record) []string {
	var out []string
	if r.Procedure.Grade != "" {
		out = append(out, "Grade: "+r.Procedure.Grade+".")
	}
	if v := r.FromMemory(); len(v) > 0 {
		var nos []string
		for _, t := range v {
			nos = append(nos, fmt.Sprint(t.No))
		}
		of := "limit of test " + nos[0] + " is"
		if n := len(nos); n > 1 {
			of = "limits of tests " + strings.Join(nos[:n-1], ", ") + " and " + nos[n-1] + " are"
		}
		out = append(out, "V: the "+of+" from memory of the source, its text not seen. Verify before relying on it.")
	}
	if len(out) == 0 {
		out = append(out, "As the test sheet has them, each with its source.")
	}
	return out
}

func stateSaid(r report.Record) []string {
	var out []string
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
