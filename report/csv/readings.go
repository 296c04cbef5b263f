package csv

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"waywright/report"
)

// Readings writes a row for each take of each reading, in the order of the
// record: those that count and those that do not, withdrawn ones too. A place
// that could not be read has a row without a value.
//
// "value" has the digits that every form of the record prints, in "unit";
// "typed" is what was typed; "base_value" has all figures that are kept, in
// the one unit of its kind that all rows share.
func Readings(w io.Writer, r report.Record, o Options) error {
	var rows []takeRow
	for i := range r.Readings {
		rd := &r.Readings[i]
		for j := range rd.Places {
			p := &rd.Places[j]
			row := takeRow{record: &r, reading: rd, place: p}
			row.instrument, _ = r.Instrument(rd.Instrument)
			row.tests, row.attempts = usedIn(r, rd.ID)
			for n := range p.Takes {
				row.take, row.n = &p.Takes[n], n+1
				rows = append(rows, row)
			}
			if len(p.Takes) == 0 {
				rows = append(rows, row)
			}
		}
	}
	return write(w, o, readingColumns, rows)
}

// takeRow is one take, with all that it belongs to. take is nil where nothing
// could be read.
type takeRow struct {
	record          *report.Record
	reading         *report.Reading
	place           *report.Place
	take            *report.Take
	n               int
	instrument      report.Instrument
	tests, attempts []string
}

// usedIn names the tests, and the attempts at them, that a reading was used in.
func usedIn(r report.Record, id string) (tests, attempts []string) {
	for _, t := range r.Tests {
		any := slices.Contains(t.Readings, id)
		for _, a := range t.Attempts {
			if slices.Contains(a.Readings, id) {
				attempts = append(attempts, fmt.Sprintf("test %d attempt %d", t.No, a.N))
				any = true
			}
		}
		if any {
			tests = append(tests, fmt.Sprintf("test %d", t.No))
		}
	}
	return tests, attempts
}

// ofTake is a cell that only a take has.
func ofTake(f func(*report.Take) cell) func(takeRow) cell {
	return func(r takeRow) cell {
		if r.take == nil {
			return cell{}
		}
		return f(r.take)
	}
}

// state is what became of the take, or else of its reading.
func (r takeRow) state() string {
	switch {
	case r.take != nil && r.take.Withdrawn != nil:
		return "withdrawn"
	case r.take == nil && r.place.Why != "":
		return "unmeasured"
	}
	return r.reading.State
}

func (r takeRow) why() string {
	if r.take == nil && r.place.Why != "" {
		return r.place.Why
	}
	return r.reading.Why
}

func amendments(t *report.Take) cell {
	var parts []string
	for _, a := range t.Amended {
		parts = append(parts, fmt.Sprintf("was %s, %s", a.From, a.Reason))
	}
	return list(parts)
}

func onDrift(f func(*report.Drift) cell) func(takeRow) cell {
	return func(r takeRow) cell {
		if r.reading.Drift == nil {
			return cell{}
		}
		return f(r.reading.Drift)
	}
}

var readingColumns = []column[takeRow]{
	{"record", func(r takeRow) cell { return text(r.record.Number) }},
	{"machine", func(r takeRow) cell { return text(r.record.Machine.ID) }},
	{"procedure", func(r takeRow) cell { return text(r.record.Procedure.Name) }},
	{"set", func(r takeRow) cell { return text(r.reading.ID) }},
	{"reading", func(r takeRow) cell { return text(r.reading.Name) }},
	{"place", func(r takeRow) cell { return text(r.place.Name) }},
	{"asked", func(r takeRow) cell { return text(r.place.Ask) }},
	{"step", func(r takeRow) cell { return text(r.reading.Step) }},
	{"working", func(r takeRow) cell { return whole(r.reading.Working) }},
	{"key", func(r takeRow) cell { return text(strings.Join(r.keys(), ", ")) }},
	{"at", func(r takeRow) cell { return digits(r.place.At) }},
	{"at_unit", func(r takeRow) cell { return unitOf(r.place.At) }},
	{"pass", func(r takeRow) cell { return text(r.place.Pass) }},
	{"take", func(r takeRow) cell {
		if r.take == nil {
			return cell{}
		}
		return whole(r.n)
	}},
	{"typed", ofTake(func(t *report.Take) cell { return text(t.Typed) })},
	{"value", ofTake(func(t *report.Take) cell { return digits(t.Number) })},
	{"unit", ofTake(func(t *report.Take) cell { return unitOf(t.Number) })},
	{"base_value", ofTake(func(t *report.Take) cell { x, _ := base(t.Number); return x })},
	{"base_unit", ofTake(func(t *report.Take) cell { _, u := base(t.Number); return u })},
	{"words", ofTake(func(t *report.Take) cell {
		if t.Number != nil {
			return cell{}
		}
		return text(t.Text)
	})},
	{"plus_means", func(r takeRow) cell { return text(r.reading.Positive) }},
	{"signs_turned", func(r takeRow) cell { return yes(r.reading.Turned) }},
	{"state", func(r takeRow) cell { return text(r.state()) }},
	{"why", func(r takeRow) cell { return text(r.why()) }},
	{"tests", func(r takeRow) cell { return list(r.tests) }},
	{"attempts", func(r takeRow) cell { return list(r.attempts) }},
	{"instrument", func(r takeRow) cell { return text(r.instrument.Number) }},
	{"instrument_kind", func(r takeRow) cell { return text(r.instrument.Kind) }},
	{"certificate", func(r takeRow) cell { return text(r.instrument.CertificateNo) }},
	{"calibration_ends", func(r takeRow) cell { return text(r.instrument.Due) }},
	{"overdue", func(r takeRow) cell { return yes(r.instrument.Overdue) }},
	{"time_utc", ofTake(func(t *report.Take) cell { return moment(t.At) })},
	{"by", ofTake(func(t *report.Take) cell { return text(t.At.By) })},
	{"sitting", func(r takeRow) cell { return whole(r.reading.Sitting) }},
	{"journal_line", ofTake(func(t *report.Take) cell { return whole(t.At.Entry) })},
	{"offered_from", ofTake(func(t *report.Take) cell { return text(t.From) })},
	{"odd", ofTake(func(t *report.Take) cell { return text(t.Odd) })},
	{"reason", ofTake(func(t *report.Take) cell { return text(t.Reason) })},
	{"amended", ofTake(amendments)},
	{"drift_moved", onDrift(func(d *report.Drift) cell { return digits(&d.Moved) })},
	{"drift_allowed", onDrift(func(d *report.Drift) cell { return digits(&d.Allowed) })},
	{"drift_unit", onDrift(func(d *report.Drift) cell { return unitOf(&d.Moved) })},
	{"file", ofTake(func(t *report.Take) cell {
		if t.File == nil {
			return cell{}
		}
		return text(t.File.Name)
	})},
	{"file_sha256", ofTake(func(t *report.Take) cell {
		if t.File == nil {
			return cell{}
		}
		return text(t.File.SHA256)
	})},
}

// keys are the keys of the place that are words; a station or angle has
// columns of its own.
func (r takeRow) keys() []string {
	if r.place.At != nil && len(r.place.Keys) > 0 {
		return r.place.Keys[:len(r.place.Keys)-1]
	}
	return r.place.Keys
}
