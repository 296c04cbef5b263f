package document

import (
	"fmt"
	"strings"

	"waywright/report"
)

// attemptTable is the history of a test, wrong ones too.
func attemptTable(r report.Record, t report.Test) []Table {
	if len(t.Attempts) == 0 {
		return nil
	}
	out := newTable("All of them, the wrong ones too", Cards, "Attempt", "When", "Found", "Give or take", "Verdict", "What was done then")
	before := []string(nil)
	for i, a := range t.Attempts {
		n := Cell{Text: fmt.Sprint(a.N)}
		if a.AsFound {
			n.Notes = append(n.Notes, "as\u00a0found")
		}
		found := words(foundSaid(a.Found))
		if a.Found == nil {
			found = words("not measured", a.Why)
		}
		if a.Worst != "" {
			found.Notes = append(found.Notes, "at "+a.Worst)
		}
		if a.Change != nil {
			found.Notes = append(found.Notes, a.Change.Said)
		}
		for _, l := range a.Looks {
			found.Notes = append(found.Notes, l.Said)
		}
		if with := instrumentNames(r, a.Instruments); i > 0 && strings.Join(with, ", ") != strings.Join(before, ", ") && len(with) > 0 {
			found.Notes = append(found.Notes, "with "+strings.Join(with, ", "))
			before = with
		} else {
			before = with
		}
		limits := ""
		if a.Allowed.Said != t.Allowed.Said {
			limits = "allowed " + a.Allowed.Said
		}
		out.add(n, Cell{Text: stampText(a.At)}, found, words(giveOrTake(a.Found)),
			Cell{Text: a.Word, Strong: a.Verdict != report.Pass, Notes: present([]string{limits})}, Cell{Notes: then(a)})
	}
	return []Table{out.withoutEmptyColumns()}
}

// then tells what followed an attempt.
func then(a report.Attempt) []string {
	var out []string
	if w := a.Way; w != nil {
		out = append(out, sentence(w.Said))
		if w.Reason != "" {
			out = append(out, sentence("reason: "+w.Reason))
		}
		if w.Correction != nil {
			out = append(out, correctionSaid(*w.Correction)...)
		}
	}
	switch {
	case a.Stands:
		out = append(out, "This one stands.")
	case a.Ended != "" && a.Way == nil:
		out = append(out, sentence("measured again, "+a.Ended))
	}
	return out
}

func correctionSaid(c report.Correction) []string {
	var out []string
	asked := make([]string, 0, len(c.Asked))
	for _, x := range c.Asked {
		asked = append(asked, x.Said)
	}
	if len(asked) > 0 {
		s := "Asked: " + strings.Join(asked, "; ")
		if c.Gain != 0 && c.Gain != 1 {
			s += fmt.Sprintf(", scaled, because the machine had answered %.2f times as much as expected", c.Gain)
			if c.GainFrom != "" {
				s += " in run " + c.GainFrom
			}
		}
		out = append(out, sentence(s))
	}
	for _, m := range c.Movements {
		s := "Moved: " + m.Amount.Said
		switch {
		case m.Further:
			s = "Moved further: " + m.Amount.Said
		case c.Moved == nil: // told, not read
			s = "Done of it: " + m.Amount.Said
		}
		if typedOtherwise(m.Typed, m.Amount.Number) {
			s += " (typed " + trueMinus(m.Typed) + ")"
		}
		out = append(out, sentence(s+prefixed("; kept because ", m.Reason)))
	}
	for _, j := range c.Judged {
		out = append(out, sentence(j.Said))
	}
	if len(c.Movements) > 1 && c.Moved != nil {
		out = append(out, sentence("In all: "+c.Moved.Said))
	}
	if x := c.Response; x != nil {
		out = append(out, sentence(x.Told), sentence(x.Said))
	}
	if c.Reported != nil {
		out = append(out, sentence("done "+stampText(*c.Reported)))
	}
	return out
}
