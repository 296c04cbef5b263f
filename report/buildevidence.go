package report

import (
	"slices"
	"strings"

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
			e = Evidence{Caption: d.Text, Where: b.where(d.Name), Name: d.Name, File: *file(d.File)}
		case engine.Answered:
			if d.File == nil {
				continue
			}
			e = Evidence{Where: b.where(d.Name), Name: d.Name, Answer: true, File: *file(d.File)}
		default:
			continue
		}
		e.No, e.At = len(out)+1, atEvent(ev)
		b.belongs(&e)
		out = append(out, e)
	}
	return out
}

// where is the question that was open, in words; of a step its title.
func (b *builder) where(name string) string {
	if ask := b.ask(name); ask != name {
		return ask
	}
	return b.workTitle(strings.TrimSuffix(name, ".clear"))
}

// belongs finds the reading of a file, the first that was finished after it,
// else the last one; and its tests: that which was open, those that use the
// reading, else those of the same step and round, because a picture is in no
// formula.
func (b *builder) belongs(e *Evidence) {
	r := &b.record
	step := ""
	for _, rd := range r.Readings {
		if !slices.ContainsFunc(rd.Places, func(p Place) bool { return p.Name == e.Name }) {
			continue
		}
		e.Reading, step = rd.ID, rd.Step
		e.Stale = e.Answer && rd.State != "used"
		if rd.To.Entry >= e.At.Entry {
			break
		}
	}
	label, keys, _ := strings.Cut(e.Name, ".")
	for _, st := range b.proc.Steps {
		if st.Name == label {
			step, keys = b.workTitle(label), strings.TrimSuffix(strings.TrimSuffix(keys, "clear"), ".")
		}
	}
	for _, t := range r.Tests {
		if t.Name == e.Name || e.Reading != "" && b.uses(t, e.Reading) {
			e.Tests = append(e.Tests, t.No)
		}
	}
	if len(e.Tests) > 0 || step == "" {
		return
	}
	for _, t := range r.Tests {
		round := strings.Join(t.Keys, ".")
		if t.Step == step && (round == keys || strings.HasPrefix(keys+".", round+".") || round == "") {
			e.Tests = append(e.Tests, t.No)
		}
	}
}

// uses tells whether a test is judged from a reading, or was in an attempt.
func (b *builder) uses(t Test, reading string) bool {
	return slices.Contains(t.Readings, reading) ||
		slices.ContainsFunc(t.Attempts, func(a Attempt) bool { return slices.Contains(a.Readings, reading) })
}
