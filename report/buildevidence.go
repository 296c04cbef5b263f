package report

import (
	"slices"

	"waywright/engine"
)

// evidence lists the files of the run, each with what it belongs to.
func (b *builder) evidence() []Evidence {
	var out []Evidence
	for _, ev := range b.live {
		var e Evidence
		switch d := ev.Data.(type) {
		case engine.Noted:
			if d.File == nil {
				continue
			}
			e = Evidence{Caption: d.Text, Where: b.ask(d.Name), Name: d.Name, File: *file(d.File)}
		case engine.Answered:
			if d.File == nil {
				continue
			}
			e = Evidence{Where: b.ask(d.Name), Name: d.Name, Answer: true, File: *file(d.File)}
		default:
			continue
		}
		e.No, e.At = len(out)+1, atEvent(ev)
		b.belongs(&e)
		out = append(out, e)
	}
	return out
}

// belongs finds the reading of a file, the first that was finished after it,
// else the last one; and the tests that use that, or were open.
func (b *builder) belongs(e *Evidence) {
	r := &b.record
	for _, rd := range r.Readings {
		if !slices.ContainsFunc(rd.Places, func(p Place) bool { return p.Name == e.Name }) {
			continue
		}
		e.Reading, e.Stale = rd.ID, e.Answer && rd.State != "used"
		if rd.To.Entry >= e.At.Entry {
			break
		}
	}
	for _, t := range r.Tests {
		if t.Name == e.Name || e.Reading != "" && b.uses(t, e.Reading) {
			e.Tests = append(e.Tests, t.No)
		}
	}
}

// uses tells whether a test is judged from a reading, or was in an attempt.
func (b *builder) uses(t Test, reading string) bool {
	return slices.Contains(t.Readings, reading) ||
		slices.ContainsFunc(t.Attempts, func(a Attempt) bool { return slices.Contains(a.Readings, reading) })
}
