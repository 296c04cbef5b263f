package compare

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"waywright/report"
)

// comparer is a comparison while it is made.
type comparer struct {
	records []Input
	out     Comparison
}

// row is one test in all records; nil where a record has none.
type row []*report.Test

// ordered puts the records of one machine in the order in which they were
// measured; those of several stay as they were given.
func ordered(inputs []Input) []Input {
	out := slices.Clone(inputs)
	for _, in := range out {
		if in.Record.Machine.ID != out[0].Record.Machine.ID {
			return out
		}
	}
	slices.SortStableFunc(out, func(a, b Input) int { return cmp.Compare(a.Record.Last.Time, b.Record.Last.Time) })
	return out
}

func runOf(letter string, in Input) Run {
	r := in.Record
	out := Run{
		Letter: letter, Name: in.Name, Number: r.Number, Title: r.Title, Procedure: r.Procedure.Name, Revision: r.Procedure.Revision,
		Machine: r.Machine.ID, Class: r.Machine.Class, Serial: r.Machine.Serial,
		Outcome: r.Outcome.Word, Text: r.Outcome.Text, From: r.Begun.Time, To: r.Last.Time,
	}
	if r.Outcome.Draft {
		out.But = append(out.But, "It is a draft: nothing is decided yet.")
	}
	for _, s := range r.Spoilt {
		out.But = append(out.But, "It does not hold any more: "+strings.TrimRight(s.Said, ".")+".")
	}
	for _, i := range r.Overdue() {
		out.But = append(out.But, fmt.Sprintf("The calibration of %s had ended when it was used.", called(i)))
	}
	return out
}

// called is what an instrument is called: its own number, else what it is.
func called(i report.Instrument) string {
	for _, s := range []string{i.Number, i.What, i.Kind} {
		if s != "" {
			return s
		}
	}
	return i.Name
}

// rows matches the tests: by the name by which other records know them, else
// by procedure and name. A record stands once in a row.
func (c *comparer) rows() []row {
	var out []row
	for i := range c.records {
		r := &c.records[i].Record
		for k := range r.Tests {
			t := &r.Tests[k]
			at := slices.IndexFunc(out, func(x row) bool { return x[i] == nil && c.same(x, r, t) })
			if at < 0 {
				out = append(out, make(row, len(c.records)))
				at = len(out) - 1
			}
			out[at][i] = t
		}
	}
	return out
}

func (c *comparer) same(x row, r *report.Record, t *report.Test) bool {
	for i, other := range x {
		if other == nil {
			continue
		}
		if t.Lasting != "" && t.Lasting == other.Lasting && slices.Equal(t.Keys, other.Keys) {
			return true
		}
		if r.Procedure.Name == c.records[i].Record.Procedure.Name && t.Name == other.Name {
			return true
		}
	}
	return false
}

// test holds one test's values beside one another.
func (c *comparer) test(x row) Test {
	first := x[slices.IndexFunc(x, func(t *report.Test) bool { return t != nil })]
	out := Test{Name: first.Name, Title: first.Title, Lasting: first.Lasting}
	for i, t := range x {
		out.Values = append(out.Values, c.value(i, t))
		if e := c.entry(i, t, AsLeft); e != nil && out.Positive == "" {
			out.Positive, out.Negative = e.finding.Positive, e.finding.Negative
		}
	}
	out.Limits = c.limits(x)
	c.differences(x, &out)
	c.drifts(x, &out)
	return out
}

func (c *comparer) value(i int, t *report.Test) Value {
	v := Value{Run: c.out.Runs[i].Letter, State: NoTest}
	if t == nil {
		return v
	}
	v.No, v.Allowed = t.No, &t.Allowed
	for _, id := range t.Instruments {
		if in, ok := c.records[i].Record.Instrument(id); ok && !slices.Contains(v.Instruments, called(in)) {
			v.Instruments = append(v.Instruments, called(in))
		}
	}
	found, left := c.entry(i, t, AsFound), c.entry(i, t, AsLeft)
	v.AsFound, v.AsLeft = found.shown(), left.shown()
	v.Worked = found != nil && left != nil && c.worked(i, t)
	switch {
	case left != nil:
		v.State = There
	case t.Verdict == report.NotMeasured:
		v.State = NotMeasured
	case t.Verdict == report.NotApplied:
		v.State = NotApplied
	default:
		v.State = Open
	}
	return v
}

// worked tells whether something was corrected in the run between the first
// judgement of a test and the one that stands: by whatever test it was asked
// for, for a correction may move more than it is meant to.
func (c *comparer) worked(i int, t *report.Test) bool {
	from, to := 0, 0
	for _, a := range t.Attempts {
		if a.AsFound {
			from = a.At.Entry
		}
		if a.Stands {
			to = a.At.Entry
		}
	}
	for _, other := range c.records[i].Record.Tests {
		for _, a := range other.Attempts {
			if a.Way == nil || a.Way.Correction == nil || a.Way.Correction.Reported == nil {
				continue
			}
			if n := a.Way.Correction.Reported.Entry; n > from && n < to {
				return true
			}
		}
	}
	return false
}

// limits says where the limits are not the same in all records.
func (c *comparer) limits(x row) string {
	var parts []string
	first := ""
	for i, t := range x {
		if t == nil {
			continue
		}
		said := t.Allowed.Said
		if first == "" {
			first = said
		}
		parts = append(parts, fmt.Sprintf("%s %s", c.out.Runs[i].Letter, said))
		if said != first {
			first = "\x00"
		}
	}
	if first != "\x00" {
		return ""
	}
	return "The limits differ: " + strings.Join(parts, "; ") + "."
}

// when reads a time of a record.
func when(s string) time.Time {
	t, err := time.Parse(time.RFC3339, s)
	if err != nil {
		return time.Time{} // a record from elsewhere; it has no place in time then
	}
	return t
}
