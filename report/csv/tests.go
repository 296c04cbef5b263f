package csv

import (
	"io"
	"math"
	"slices"
	"strings"

	"waywright/report"
)

// Tests writes a row for each test, in the order of the record. A limit that
// is missing is an empty cell, and so is what was not read; "permissible"
// says in words what the limits are.
//
// "as_found" and "as_left" are printed digits, in "unit"; "as_left_all_figures" has
// all figures, in the same unit. "give_or_take" is the expanded uncertainty U,
// "k" its coverage factor, "dof" its degrees of freedom, empty where there is
// no end of them.
func Tests(w io.Writer, r report.Record, o Options) error {
	var rows []testRow
	for i := range r.Tests {
		rows = append(rows, testRow{&r, &r.Tests[i]})
	}
	return write(w, o, testColumns, rows)
}

type testRow struct {
	record *report.Record
	*report.Test
}

// found is what stands now; left is nil where there is no number.
func (r testRow) found() report.Finding {
	if r.Found == nil {
		return report.Finding{}
	}
	return *r.Found
}

func (r testRow) asFound() report.Finding {
	if r.AsFound.Found == nil {
		return report.Finding{}
	}
	return *r.AsFound.Found
}

// said is what a finding says where it has no number.
func said(f report.Finding, else_ string) cell {
	if f.Value != nil {
		return cell{}
	}
	if f.Said != "" {
		return text(f.Said)
	}
	return text(else_)
}

func factor(x float64) cell {
	if x == 0 || math.IsInf(x, 0) || math.IsNaN(x) {
		return cell{}
	}
	return full(x)
}

// instruments are the marks of what is in the record, each once.
func (r testRow) instruments(of func(report.Instrument) string) cell {
	var out []string
	for _, id := range r.Instruments {
		if in, ok := r.record.Instrument(id); ok && of(in) != "" && !slices.Contains(out, of(in)) {
			out = append(out, of(in))
		}
	}
	return list(out)
}

// evidence are the files that were taken as answers to what this test uses,
// and those kept beside its questions.
func (r testRow) evidence() cell {
	var out []string
	add := func(f *report.File) {
		if f != nil && !slices.Contains(out, f.Name) {
			out = append(out, f.Name)
		}
	}
	asked := map[string]bool{r.Title: true}
	for _, id := range r.Readings {
		rd, _ := r.record.Reading(id)
		for _, p := range rd.Places {
			asked[p.Ask] = true
			for _, t := range p.Takes {
				add(t.File)
			}
		}
	}
	for _, n := range r.record.Notes {
		if asked[n.Where] {
			add(n.File)
		}
	}
	return list(out)
}

func (r testRow) concession(f func(report.Concession) string) cell {
	if r.Concession == nil {
		return cell{}
	}
	return text(f(*r.Concession))
}

func (r testRow) measured() cell {
	for _, a := range r.Attempts {
		if a.Stands {
			return moment(a.At)
		}
	}
	return cell{}
}

var testColumns = []column[testRow]{
	{"record", func(r testRow) cell { return text(r.record.Number) }},
	{"machine", func(r testRow) cell { return text(r.record.Machine.ID) }},
	{"procedure", func(r testRow) cell { return text(r.record.Procedure.Name) }},
	{"no", func(r testRow) cell { return whole(r.No) }},
	{"test", func(r testRow) cell { return text(r.Name) }},
	{"lasting_test", func(r testRow) cell { return text(r.Lasting) }},
	{"object", func(r testRow) cell { return text(r.Title) }},
	{"step", func(r testRow) cell { return text(r.Step) }},
	{"keys", func(r testRow) cell { return text(strings.Join(r.Keys, ", ")) }},
	{"of_the_set_up", func(r testRow) cell { return yes(r.Setup) }},
	{"permissible", func(r testRow) cell { return text(r.Allowed.Said) }},
	{"lower", func(r testRow) cell { return digits(r.Allowed.Lower) }},
	{"upper", func(r testRow) cell { return digits(r.Allowed.Upper) }},
	{"as_found", func(r testRow) cell { return digits(r.asFound().Value) }},
	{"as_found_give_or_take", func(r testRow) cell { return digits(r.asFound().U) }},
	{"as_found_words", func(r testRow) cell { return said(r.asFound(), r.AsFound.Said) }},
	{"as_found_verdict", func(r testRow) cell { return text(r.AsFound.Word) }},
	{"as_left", func(r testRow) cell { return digits(r.found().Value) }},
	{"give_or_take", func(r testRow) cell { return digits(r.found().U) }},
	{"unit", func(r testRow) cell {
		return unitOf(r.found().Value, r.asFound().Value, r.Allowed.Upper, r.Allowed.Lower)
	}},
	{"k", func(r testRow) cell { return factor(r.found().K) }},
	{"dof", func(r testRow) cell { return factor(r.found().DoF) }},
	{"as_left_words", func(r testRow) cell { return said(r.found(), "") }},
	{"plus_means", func(r testRow) cell { return text(r.found().Positive) }},
	{"as_left_all_figures", func(r testRow) cell {
		if r.found().Value == nil {
			return cell{}
		}
		return full(r.found().Value.Value)
	}},
	{"verdict", func(r testRow) cell { return text(r.Word) }},
	{"why", func(r testRow) cell { return text(r.Why) }},
	{"conforming", func(r testRow) cell { return text(r.P) }},
	{"rule", func(r testRow) cell { return text(r.Rule.Name) }},
	{"decides_at", func(r testRow) cell { return text(r.Worst) }},
	{"concession", func(r testRow) cell { return r.concession(func(c report.Concession) string { return c.State }) }},
	{"concession_reason", func(r testRow) cell { return r.concession(func(c report.Concession) string { return c.Reason }) }},
	{"instrument", func(r testRow) cell { return r.instruments(func(i report.Instrument) string { return i.Number }) }},
	{"instrument_kind", func(r testRow) cell { return r.instruments(func(i report.Instrument) string { return i.Kind }) }},
	{"source", func(r testRow) cell { return text(r.Allowed.Source) }},
	{"source_from_memory", func(r testRow) cell { return yes(r.Allowed.Memory) }},
	{"attempts", func(r testRow) cell {
		if r.LeftOut != nil {
			return whole(0)
		}
		return whole(len(r.Attempts))
	}},
	{"measured_utc", testRow.measured},
	{"evidence", testRow.evidence},
	{"noted_as_found", func(r testRow) cell { return yes(r.Noted) }},
}
