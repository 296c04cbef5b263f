package csv

import (
	"io"

	"waywright/report"
	"waywright/report/compare"
)

// Comparison writes a row for each value of each test of a comparison: what a
// run found, where something was corrected in it, and what it left. Beside the
// value stands by how much it differs from the one that it was held against:
// what was found from what the run before left, what was left from what the
// first run left.
//
// "real" is yes where the difference is more than its own doubt, no where it
// is not; it is empty where nothing was judged.
func Comparison(w io.Writer, c compare.Comparison, o Options) error {
	var rows []comparedRow
	for i := range c.Tests {
		t := &c.Tests[i]
		for k := range t.Values {
			v := &t.Values[k]
			row := comparedRow{n: i + 1, test: t, run: &c.Runs[k], value: v}
			if v.Worked && v.AsFound != nil {
				row.entry, row.state = v.AsFound, compare.AsFound
				rows = append(rows, row.against())
			}
			row.entry, row.state = v.AsLeft, compare.AsLeft
			rows = append(rows, row.against())
		}
	}
	return write(w, o, comparedColumns, rows)
}

type comparedRow struct {
	n     int
	test  *compare.Test
	run   *compare.Run
	value *compare.Value
	entry *compare.Entry // nil where there is none
	state string
	diff  *compare.Difference // nil where nothing was judged
}

// against finds the difference that belongs to the value. Of several the last
// is that from the first run.
func (r comparedRow) against() comparedRow {
	r.diff = nil
	for i := range r.test.Differences {
		d := &r.test.Differences[i]
		if !d.Own && d.To.Run == r.run.Letter && d.To.State == r.state {
			r.diff = d
		}
	}
	return r
}

func (r comparedRow) found() compare.Entry {
	if r.entry == nil {
		return compare.Entry{}
	}
	return *r.entry
}

func (r comparedRow) allowed() report.Allowed {
	if r.value.Allowed == nil {
		return report.Allowed{}
	}
	return *r.value.Allowed
}

func ofDifference(f func(*compare.Difference) cell) func(comparedRow) cell {
	return func(r comparedRow) cell {
		if r.diff == nil {
			return cell{}
		}
		return f(r.diff)
	}
}

var comparedColumns = []column[comparedRow]{
	{"no", func(r comparedRow) cell { return whole(r.n) }},
	{"test", func(r comparedRow) cell { return text(r.test.Name) }},
	{"object", func(r comparedRow) cell { return text(r.test.Title) }},
	{"run", func(r comparedRow) cell { return text(r.run.Letter) }},
	{"called", func(r comparedRow) cell { return text(r.run.Name) }},
	{"record", func(r comparedRow) cell { return text(r.run.Number) }},
	{"machine", func(r comparedRow) cell { return text(r.run.Machine) }},
	{"procedure", func(r comparedRow) cell { return text(r.run.Procedure) }},
	{"revision", func(r comparedRow) cell { return text(r.run.Revision) }},
	{"no_in_record", func(r comparedRow) cell {
		if r.value.No == 0 {
			return cell{}
		}
		return whole(r.value.No)
	}},
	{"state", func(r comparedRow) cell {
		if r.entry == nil {
			return text(r.value.State)
		}
		return text(r.state)
	}},
	{"measured_utc", func(r comparedRow) cell { return moment(report.Stamp{Time: r.found().At}) }},
	{"value", func(r comparedRow) cell { return digits(r.found().Value) }},
	{"give_or_take", func(r comparedRow) cell { return digits(r.found().U) }},
	{"unit", func(r comparedRow) cell { return unitOf(r.found().Value) }},
	{"base_value", func(r comparedRow) cell { x, _ := base(r.found().Value); return x }},
	{"base_unit", func(r comparedRow) cell { _, u := base(r.found().Value); return u }},
	{"words", func(r comparedRow) cell {
		if r.found().Value != nil {
			return cell{}
		}
		return text(r.found().Said)
	}},
	{"plus_means", func(r comparedRow) cell { return text(r.test.Positive) }},
	{"decides_at", func(r comparedRow) cell { return text(r.found().Worst) }},
	{"permissible", func(r comparedRow) cell { return text(r.allowed().Said) }},
	{"lower", func(r comparedRow) cell { return digits(r.allowed().Lower) }},
	{"upper", func(r comparedRow) cell { return digits(r.allowed().Upper) }},
	{"verdict", func(r comparedRow) cell { return text(r.found().Word) }},
	{"instrument", func(r comparedRow) cell { return list(r.value.Instruments) }},
	{"against", ofDifference(func(d *compare.Difference) cell { return text(d.From.String()) })},
	{"differs_by", ofDifference(func(d *compare.Difference) cell { return digits(&d.By) })},
	{"differs_give_or_take", ofDifference(func(d *compare.Difference) cell { return digits(d.U) })},
	{"differs_unit", ofDifference(func(d *compare.Difference) cell { return unitOf(&d.By) })},
	{"real", ofDifference(func(d *compare.Difference) cell {
		if d.Shown {
			return text("yes")
		}
		return text("no")
	})},
	{"at", ofDifference(func(d *compare.Difference) cell { return text(d.Where) })},
}
