package html

import (
	"fmt"
	"slices"
	"strings"

	"waywright/report"
)

// parts are the parts of the page after the tests, in the order of reading.
func parts(r report.Record) []part {
	return []part{
		{ID: "conditions", Title: "Conditions", Tables: filled(agreed(r), machine(r), sittings(r), confirms(r), cautions(r), waits(r), disturbed(r), unmeasured(r))},
		{ID: "instruments", Title: "Instruments", Tables: filled(instruments(r)), None: "No instrument was named."},
		{ID: "metal", Title: "Metal and shims", Tables: filled(metal(r)), None: "Nothing was taken off or put in."},
		{ID: "concessions", Title: "Concessions", Tables: filled(concessions(r)), None: "No concession was asked for."},
		{ID: "amendments", Title: "Amendments and remarks", Tables: filled(amendments(r), withdrawals(r), notes(r)), None: "Nothing was amended, nothing was remarked."},
	}
}

// filled leaves out tables without a row and columns without an entry.
func filled(ts ...table) []table {
	var out []table
	for _, t := range ts {
		if len(t.Rows) > 0 {
			out = append(out, t.withoutEmptyColumns())
		}
	}
	return out
}

func agreed(r report.Record) table {
	t := table{Caption: "Agreed and taken as given before measuring", Head: []string{"What", "Value", "Known to", "From", "When"}}
	for _, g := range r.Givens {
		known := "counts as exact"
		if g.U != nil {
			known = "give or take " + g.U.WithUnit()
		}
		from := g.From
		if from == "" {
			from = "typed"
		}
		value := text(g.Text, strings.TrimPrefix(g.Odd+prefixed("; kept because ", g.Reason), "; "))
		if i, ok := r.Instrument(g.Instrument); ok {
			value.Notes = append(value.Notes, "with "+instrumentName(i))
		}
		t.add(text(g.Title), value, text(known), text(from), cell{Text: stampText(g.At)})
	}
	return t
}

func machine(r report.Record) table {
	t := table{Caption: "The machine, as its entry in the logbook had it when the run began", Head: []string{"What", "Entry"}, Plain: true}
	for _, f := range r.Machine.Facts {
		t.add(text(entryName(f.Name)), text(f.Text))
	}
	for _, m := range r.Machine.Sizes {
		t.add(text(entryName(m.Name)), text(m.Number.WithUnit()))
	}
	return t
}

// entryName reads a dotted name: test bar, length.
func entryName(s string) string {
	return upper(strings.ReplaceAll(strings.ReplaceAll(s, ".", ", "), "_", " "))
}

func sittings(r report.Record) table {
	t := table{Caption: "Sittings", Head: []string{"Sitting", "At the machine", "From", "To", "Ended because"}}
	for _, s := range r.Sittings {
		t.add(text(fmt.Sprint(s.N)), text(s.Operator), times(s.From), times(s.To), text(s.Paused))
	}
	return t
}

func confirms(r report.Record) table {
	t := table{Caption: "Asked and answered", Head: []string{"Question", "Answer", "Step", "When"}}
	for _, c := range r.Confirms {
		again := ""
		if c.Stale {
			again = "asked again later"
		}
		t.add(text(c.Title), text(c.Answer, c.Reason, again), text(c.Step), cell{Text: stampText(c.At)})
	}
	return t
}

func cautions(r report.Record) table {
	t := table{Caption: "Cautions, hands and power, hold points", Head: []string{"Before", "What was put", "Answer", "When"}}
	for _, c := range r.Cautions {
		put := append([]string(nil), c.Texts...)
		if c.Spindle != "" {
			put = append(put, "The spindle is "+c.Spindle+" from here on.")
		}
		answer := cell{Text: "acknowledged"}
		if c.Skipped {
			answer = cell{Text: "NOT ACKNOWLEDGED", Strong: true}
		}
		t.add(text(c.Step), cell{Notes: put}, answer, cell{Text: stampText(c.At)})
	}
	for _, x := range r.Releases {
		t.add(text(x.Step), text("Hold point, released as: "+x.Role), text("released by "+x.Name), cell{Text: when(x.At.Time)})
	}
	return t
}

func waits(r report.Record) table {
	t := table{Caption: "Waits", Head: []string{"What for", "Asked", "Waited", "How it ended", "When"}}
	for _, w := range r.Waits {
		asked, waited := "", ""
		if w.Asked != nil {
			asked = w.Asked.WithUnit()
		}
		if w.Waited != nil {
			waited = w.Waited.WithUnit()
		}
		how := text(w.Said, w.Reason)
		how.Strong = w.How == "short" || w.How == "skipped"
		if vs := numbers(w.Values); vs != "" {
			how.Notes = append(how.Notes, "read meanwhile: "+vs)
		}
		t.add(text(upper(w.Why)), text(asked), text(waited), how, cell{Text: stampText(w.At)})
	}
	return t
}

func numbers(ns []report.Number) string {
	var vs []string
	for _, n := range ns {
		vs = append(vs, n.Text)
	}
	if len(ns) == 0 {
		return ""
	}
	return strings.TrimSpace(strings.Join(vs, "  ") + " " + ns[0].Unit)
}

func disturbed(r report.Record) table {
	t := table{Caption: "What moved, outside a correction", Head: []string{"What", "What happened", "Measured again", "When"}}
	for _, d := range r.Disturbed {
		what := d.What
		if d.Title != "" {
			what += ": " + d.Title
		}
		t.add(text(upper(what)), text(d.Reason), cell{Text: strings.Join(d.Again, "; ")}, cell{Text: stampText(d.At)})
	}
	return t
}

func unmeasured(r report.Record) table {
	t := table{Caption: "What could not be taken", Head: []string{"What", "Why", "Since then", "When"}}
	for _, u := range r.Unmeasured {
		since := cell{Text: "taken later"}
		if u.Stands {
			since = cell{Text: "NOT MEASURED", Strong: true}
		}
		t.add(text(u.Title), text(u.Reason), since, cell{Text: stampText(u.At)})
	}
	return t
}

func instruments(r report.Record) table {
	t := table{Caption: "Every instrument that was in the hand", Head: []string{
		"Number", "Kind", "Reads", "Doubt", "Certificate", "Calibrated", "Due", "What did not suit", "In the hand"}}
	for _, i := range r.Instruments {
		number := i.Number
		if number == "" {
			number = "not numbered"
			if i.Skipped {
				number = "not identified"
			}
		}
		what := i.What
		if what == i.Kind {
			what = ""
		}
		t.add(text(number, what, i.Maker, labelled("serial number", i.Serial)), text(i.Kind, i.Source),
			text(unitOr(i.Resolution), reach(i)), doubt(i), text(i.CertificateNo, labelled("by", i.CalibratedBy)),
			cell{Text: date(i.Calibrated)}, due(i), unsuited(i), inHand(i))
	}
	return t.withoutEmptyColumns()
}

func labelled(label, s string) string {
	if s == "" {
		return ""
	}
	return label + " " + s
}

// reach is from where to where an instrument reads.
func reach(i report.Instrument) string {
	if i.From == nil || i.To == nil {
		return ""
	}
	return "from " + i.From.Text + " to " + i.To.WithUnit()
}

// doubt is how far an instrument may be out: by its certificate, else the
// limit of its error.
func doubt(i report.Instrument) cell {
	c := text("error at most " + unitOr(i.Error))
	switch {
	case i.Certificate != nil && i.K > 0:
		c = text(fmt.Sprintf("%s (U, k = %g)", i.Certificate.WithUnit(), i.K))
	case i.Certificate != nil:
		c = text(i.Certificate.WithUnit() + " (U)")
	case i.Error == nil:
		c = text("not stated")
	}
	if i.Certificate != nil && i.Error != nil {
		c.Notes = append(c.Notes, "error at most "+i.Error.WithUnit())
	}
	if i.Zero != nil {
		c.Notes = append(c.Notes, "its zero within "+i.Zero.WithUnit())
	}
	if i.Repeats != nil {
		c.Notes = append(c.Notes, "one take varies by "+i.Repeats.WithUnit())
	}
	return c
}

func due(i report.Instrument) cell {
	c := cell{Text: "no date stated"}
	switch {
	case i.Overdue:
		c = cell{Text: "OVERDUE, ended " + date(i.Due), Strong: true}
	case i.Due != "":
		c = cell{Text: "until " + date(i.Due)}
	}
	if len(i.Odd) == 0 && i.Reason != "" {
		c.Notes = []string{i.Reason}
	}
	return c
}

// unsuited is what was said against an instrument, and why it was kept.
func unsuited(i report.Instrument) cell {
	var c cell
	var words []string
	for _, o := range i.Odd {
		if !slices.Contains(words, o.Word()) {
			words = append(words, o.Word())
		}
		c.Notes = append(c.Notes, o.Said)
	}
	c.Text, c.Strong = strings.Join(words, ", "), len(i.Insisted()) > 0
	if len(i.Odd) > 0 && i.Reason != "" {
		c.Notes = append(c.Notes, "kept because "+i.Reason)
	}
	return c
}

// inHand is from when to when an instrument was in the hand.
func inHand(i report.Instrument) cell {
	if i.Until == nil {
		return cell{Text: stampText(i.At)}
	}
	return text(stampText(i.At), "until "+stampText(*i.Until))
}

func unitOr(n *report.Number) string {
	if n == nil {
		return "not stated"
	}
	return n.WithUnit()
}

func metal(r report.Record) table {
	t := table{Caption: "Taken off and put in, place by place", Head: []string{"Where", "What", "How much", "In all there", "When"}}
	for _, m := range r.Metal {
		amount := text(m.Amount.Said)
		if m.Planned {
			amount.Notes = []string{"as asked for; what moved was not read"}
		}
		t.add(text(upper(m.Place)), text(m.Correction), amount, text(m.TotalSaid), cell{Text: stampText(m.At)})
	}
	return t
}

func concessions(r report.Record) table {
	t := table{Caption: "Concessions asked for", Head: []string{"No.", "Test", "Verdict", "Asked for because", "What became of it", "Asked"}}
	for _, c := range r.Concessions {
		became := text(c.Said, c.Because)
		if c.Decided != nil {
			became.Notes = append(became.Notes, strings.Trim(c.Role+", "+stampText(*c.Decided), ", "))
		}
		became.Strong = c.State != "granted"
		t.add(text(fmt.Sprint(c.No)), cell{Text: fmt.Sprintf("%d, %s", c.TestNo, c.Title), Link: fmt.Sprintf("test-%d", c.TestNo)},
			cell{Text: c.Word, Strong: true}, text(c.Reason), became, cell{Text: stampText(c.Asked)})
	}
	return t
}

func amendments(r report.Record) table {
	t := table{Caption: "Amendments: both values stay", Head: []string{"Answer", "Was", "Is", "Why", "When"}}
	for _, a := range r.Amendments {
		name := a.Title
		if name == "" {
			name = a.Name
		}
		if a.Take > 0 {
			name += fmt.Sprintf(", take %d", a.Take)
		}
		t.add(text(name), text(a.From), text(a.To), text(a.Reason), cell{Text: stampText(a.At)})
	}
	return t
}

func withdrawals(r report.Record) table {
	t := table{Caption: "Answers taken back", Head: []string{"Answer", "It said", "Given", "Taken back"}}
	for _, w := range r.Withdrawals {
		t.add(text(w.What), text(trueMinus(w.Said)), times(w.Of.Time), cell{Text: stampText(w.At)})
	}
	return t
}

func notes(r report.Record) table {
	t := table{Caption: "Remarks and files", Head: []string{"Beside", "Remark", "File", "When"}}
	for _, n := range r.Notes {
		file := cell{}
		if n.File != nil {
			file = text(n.File.Name, "begins "+firstEight(n.File.SHA256))
		}
		t.add(text(n.Where), text(n.Text), file, cell{Text: stampText(n.At)})
	}
	return t
}

func firstEight(hash string) string {
	if len(hash) < 8 {
		return hash
	}
	return hash[:8]
}
