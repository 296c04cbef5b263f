package csv

import (
	"io"
	"slices"
	"strings"

	"waywright/report"
)

// Machine writes the record of a machine: what it lacks first, a row each, then
// a row for each test. Each row names the run, the record and its digest that
// it comes from, and a test besides those of the value as found.
//
// "state" is holds, spoilt or left_out for a test, and else what is missing:
// rejected, spoilt_run, overdue, unsigned, corrected, open, missing, caution.
func Machine(w io.Writer, m report.Whole, o Options) error {
	var rows []machineRow
	for i := range m.Missing {
		rows = append(rows, machineRow{whole: &m, missing: &m.Missing[i]})
	}
	for i := range m.Tests {
		x := &m.Tests[i]
		row := machineRow{whole: &m, of: x}
		row.left, _ = m.Joined(x.Record)
		row.foundIn = row.left
		if x.FoundIn > 0 {
			row.foundIn, _ = m.Joined(x.FoundIn)
		}
		rows = append(rows, row)
	}
	return write(w, o, machineColumns, rows)
}

type machineRow struct {
	whole   *report.Whole
	missing *report.Missing // nil in the row of a test
	of      *report.WholeTest
	left    report.Joined // that the test is from
	foundIn report.Joined // that its value as found is from
}

func (r machineRow) state() string {
	switch {
	case r.missing != nil && r.missing.Kind == report.MissSpoilt:
		return "spoilt_run" // of a test the word is another
	case r.missing != nil:
		return r.missing.Kind
	case r.of.Spoilt:
		return "spoilt"
	case r.of.Test.Verdict == report.NotApplied:
		return "left_out"
	}
	return "holds"
}

// record is the one that a row is of.
func (r machineRow) record() report.Joined {
	if r.missing == nil {
		return r.left
	}
	i := slices.IndexFunc(r.whole.Records, func(j report.Joined) bool { return j.Run == r.missing.Run })
	if i < 0 {
		return report.Joined{Run: r.missing.Run}
	}
	return r.whole.Records[i]
}

// ofTest is a column that only tests have.
func ofTest(f func(testRow) cell) func(machineRow) cell {
	return func(r machineRow) cell {
		if r.of == nil {
			return cell{}
		}
		return f(testRow{&report.Record{Instruments: r.left.Hands}, &r.of.Test})
	}
}

// ofFound is a column of the record of the value as found.
func ofFound(f func(report.Joined) string) func(machineRow) cell {
	return func(r machineRow) cell {
		if r.of == nil || !r.of.Test.AsFound.Read {
			return cell{}
		}
		return text(f(r.foundIn))
	}
}

var machineColumns = []column[machineRow]{
	{"machine_record", func(r machineRow) cell { return text(r.whole.Number) }},
	{"machine", func(r machineRow) cell { return text(r.whole.Machine.ID) }},
	{"serial", func(r machineRow) cell { return text(r.whole.Machine.Serial) }},
	{"state", func(r machineRow) cell { return text(r.state()) }},
	{"no", ofTest(func(t testRow) cell { return whole(t.No) })},
	{"object", func(r machineRow) cell {
		if r.missing != nil {
			return text(r.missing.What)
		}
		return text(r.of.Test.Title)
	}},
	{"why", func(r machineRow) cell {
		if r.missing != nil {
			return text(r.missing.Why)
		}
		return text(r.of.Test.Why)
	}},
	{"lasting_test", ofTest(func(t testRow) cell { return text(t.Lasting) })},
	{"test", ofTest(func(t testRow) cell { return text(t.Name) })},
	{"keys", ofTest(func(t testRow) cell { return text(strings.Join(t.Keys, ", ")) })},
	{"permissible", ofTest(func(t testRow) cell { return text(t.Allowed.Said) })},
	{"lower", ofTest(func(t testRow) cell { return digits(t.Allowed.Lower) })},
	{"upper", ofTest(func(t testRow) cell { return digits(t.Allowed.Upper) })},
	{"as_found", ofTest(func(t testRow) cell { return digits(t.asFound().Value) })},
	{"as_found_give_or_take", ofTest(func(t testRow) cell { return digits(t.asFound().U) })},
	{"as_found_words", ofTest(func(t testRow) cell { return said(t.asFound(), t.AsFound.Said) })},
	{"as_left", ofTest(func(t testRow) cell { return digits(t.found().Value) })},
	{"give_or_take", ofTest(func(t testRow) cell { return digits(t.found().U) })},
	{"unit", ofTest(func(t testRow) cell {
		return unitOf(t.found().Value, t.asFound().Value, t.Allowed.Upper, t.Allowed.Lower)
	})},
	{"as_left_words", ofTest(func(t testRow) cell { return said(t.found(), "") })},
	{"verdict", ofTest(func(t testRow) cell { return text(t.Word) })},
	{"concession", ofTest(func(t testRow) cell { return t.concession(func(c report.Concession) string { return c.State }) })},
	{"instrument", ofTest(func(t testRow) cell { return t.instruments(func(i report.Instrument) string { return i.Number }) })},
	{"source", ofTest(func(t testRow) cell { return text(t.Allowed.Source) })},
	{"procedure", func(r machineRow) cell { return text(r.record().Procedure) }},
	{"run", func(r machineRow) cell { return text(r.record().Run) }},
	{"record", func(r machineRow) cell { return text(r.record().Number) }},
	{"record_sha256", func(r machineRow) cell { return text(r.record().SHA256) }},
	{"measured_utc", ofTest(testRow.measured)},
	{"as_found_run", ofFound(func(j report.Joined) string { return j.Run })},
	{"as_found_record", ofFound(func(j report.Joined) string { return j.Number })},
	{"as_found_record_sha256", ofFound(func(j report.Joined) string { return j.SHA256 })},
}
