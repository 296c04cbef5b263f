package document

import (
	"fmt"
	"slices"
	"strings"

	"waywright/report"
)

// parts are the parts after the tests, in the order of reading.
func parts(r report.Record, files func(sha256 string) []byte) []Part {
	out := []Part{
		{ID: "conditions", Title: "Conditions", Blocks: append(filled("", agreed(r), machine(r), temperatures(r), sittings(r), workSheets(r), setUp(r), confirms(r),
			cautions(r), waits(r), disturbed(r), unmeasured(r), about(r, "Deviations that are meant", report.AboutCompensation)), runPictures(r)...)},
		{ID: "instruments", Title: "Instruments", Blocks: filled("No instrument was named.", instruments(r))},
		{ID: "metal", Title: metalTitle(r), Blocks: filled("Nothing was taken off or put in.", about(r, "Parts that were replaced or made", report.AboutPart), metal(r))},
		{ID: "concessions", Title: "Concessions", Blocks: filled("No concession was asked for.", concessions(r))},
		{ID: "amendments", Title: "Amendments and remarks", Blocks: filled("Nothing was amended, nothing was remarked.",
			amendments(r), withdrawals(r), notes(r))},
	}
	for _, p := range []Part{
		{ID: "others", Title: "From others", Blocks: filled("", about(r, "Work and certificates from outside", report.AboutOthers))},
		{ID: "again", Title: "To be measured again", Blocks: filled("", about(r, "When, and what", report.AboutAgain))},
		{ID: "evidence", Title: "Photographs and scans", Blocks: photos(r, files)},
	} {
		if len(p.Blocks) > 0 {
			out = append(out, p)
		}
	}
	return out
}

// filled leaves out tables without a row and columns without an entry. Without
// any table it says none.
func filled(none string, ts ...Table) []Block {
	var out []Block
	for _, t := range ts {
		if len(t.Rows) > 0 {
			out = append(out, t.withoutEmptyColumns())
		}
	}
	if len(out) == 0 && none != "" {
		out = append(out, said(none))
	}
	return out
}

// temperatures are all that were read, whatever for.
func temperatures(r report.Record) Table {
	t := newTable("Temperatures, as read", Cards, "Reading", "Values", "Sitting", "When")
	for _, rd := range r.Readings {
		if rd.Code != "Cel" {
			continue
		}
		t.add(words(rd.Title), words(valuesSaid(rd)), words(fmt.Sprint(rd.Sitting)), words(stampText(rd.From)))
	}
	return t
}

// setUp are the tests of the set-up and of the references, which were proved
// here by a rule of their own.
func setUp(r report.Record) Table {
	t := newTable("The set-up and the references, as they were proved here", Cards, "Test", "Found", "Allowed", "Verdict", "When")
	for _, x := range r.Tests {
		n := len(x.Attempts)
		if !x.Setup || n == 0 {
			continue
		}
		t.add(Cell{Text: fmt.Sprintf("%d, %s", x.No, x.Title), Ref: testID(x)}, words(foundLine(x.Found)), words(x.Allowed.Said),
			Cell{Text: x.Word, Strong: x.Verdict != report.Pass}, words(stampText(x.Attempts[n-1].At)))
	}
	return t
}

func agreed(r report.Record) Table {
	t := newTable("Agreed and taken as given before measuring", Cards, "What", "Value", "Known to", "From", "When")
	for _, g := range r.Givens {
		known := "counts as exact"
		if g.U != nil {
			known = "give or take " + g.U.WithUnit()
		}
		from := g.From
		if from == "" {
			from = "typed"
		}
		value := words(g.Text, strings.TrimPrefix(g.Odd+prefixed("; kept because ", g.Reason), "; "))
		if i, ok := r.Instrument(g.Instrument); ok {
			value.Notes = append(value.Notes, "with "+instrumentName(i))
		}
		t.add(words(g.Title), value, words(known), words(from), Cell{Text: stampText(g.At)})
	}
	return t
}

func machine(r report.Record) Table {
	t := newTable("The machine, as its entry in the logbook had it when the run began", Narrow, "What", "Entry")
	for _, f := range r.Machine.Facts {
		t.add(words(entryName(f.Name)), words(f.Text))
	}
	for _, m := range r.Machine.Sizes {
		t.add(words(entryName(m.Name)), words(m.Number.WithUnit()))
	}
	return t
}

// entryName reads a dotted name: test bar, length.
func entryName(s string) string {
	return upper(strings.ReplaceAll(strings.ReplaceAll(s, ".", ", "), "_", " "))
}

func sittings(r report.Record) Table {
	t := newTable("Sittings", Cards, "Sitting", "At the machine", "From", "To", "Ended because")
	for _, s := range r.Sittings {
		t.add(words(fmt.Sprint(s.N)), words(s.Operator), times(s.From), times(s.To), words(s.Paused))
	}
	return t
}

// workSheets are those that were filled in on paper: when, and when they were
// typed in.
func workSheets(r report.Record) Table {
	t := newTable("Work sheets, filled in on paper at the machine and typed in afterwards", Cards, "Written", "By", "Temperature there", "Typed in", "Values", "Not read in time")
	for _, w := range r.WorkSheets {
		t.add(words(date(w.Written)), words(w.By), words(w.Temperature), words(stampText(w.From), "to "+stampText(w.To)), figure(fmt.Sprint(w.Values)), Cell{Notes: w.Late})
	}
	return t
}

func confirms(r report.Record) Table {
	t := newTable("Asked and answered", Cards, "Question", "Answer", "Step", "When")
	for _, c := range r.Confirms {
		again := ""
		if c.Stale {
			again = "asked again later"
		}
		t.add(words(c.Title), words(c.Answer, c.Reason, again), words(c.Step), Cell{Text: stampText(c.At)})
	}
	return t
}

func cautions(r report.Record) Table {
	t := newTable("Cautions, hands and power, hold points", Cards, "Before", "What was put", "Answer", "When")
	for _, c := range r.Cautions {
		put := append([]string(nil), c.Texts...)
		if c.Spindle != "" {
			put = append(put, "The spindle is "+c.Spindle+" from here on.")
		}
		answer := Cell{Text: "acknowledged"}
		if c.Skipped {
			answer = Cell{Text: "NOT ACKNOWLEDGED", Strong: true}
			if c.Reason != "" {
				answer.Notes = []string{"because: " + c.Reason}
			}
		}
		t.add(words(c.Step), Cell{Notes: put}, answer, Cell{Text: stampText(c.At)})
	}
	for _, x := range r.Releases {
		t.add(words(x.Step), words("Hold point, released as: "+x.Role), words("released by "+x.Name), Cell{Text: when(x.At.Time)})
	}
	return t
}

func waits(r report.Record) Table {
	t := newTable("Waits", Cards, "What for", "Asked", "Waited", "How it ended", "When")
	for _, w := range r.Waits {
		asked, waited := "", ""
		if w.Asked != nil {
			asked = w.Asked.WithUnit()
		}
		if w.Waited != nil {
			waited = w.Waited.WithUnit()
		}
		how := words(w.Said, w.Reason)
		how.Strong = w.How == "short" || w.How == "skipped"
		if vs := numbers(w.Values); vs != "" {
			how.Notes = append(how.Notes, "read meanwhile: "+vs)
		}
		t.add(words(upper(w.Why)), words(asked), words(waited), how, Cell{Text: stampText(w.At)})
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

func disturbed(r report.Record) Table {
	t := newTable("What moved, outside a correction", Cards, "What", "What happened", "Measured again", "When")
	for _, d := range r.Disturbed {
		what := d.What
		if d.Title != "" {
			what += ": " + d.Title
		}
		t.add(words(upper(what)), words(d.Reason), Cell{Text: strings.Join(d.Again, "; ")}, Cell{Text: stampText(d.At)})
	}
	return t
}

func unmeasured(r report.Record) Table {
	t := newTable("What could not be taken", Cards, "What", "Why", "Since then", "When")
	for _, u := range r.Unmeasured {
		since := Cell{Text: "taken later"}
		if u.Stands {
			since = Cell{Text: "NOT MEASURED", Strong: true}
		}
		t.add(words(u.Title), words(u.Reason), since, Cell{Text: stampText(u.At)})
	}
	return t
}

func instruments(r report.Record) Table {
	t := newTable("Every instrument that was in the hand", Cards,
		"Number", "Kind", "Reads", "Doubt", "Certificate", "Calibrated", "Due", "What did not suit", "In the hand")
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
		t.add(words(number, what, i.Maker, labelled("serial number", i.Serial)), words(i.Kind, i.Source),
			words(unitOr(i.Resolution), reach(i)), doubt(i), words(i.CertificateNo, labelled("by", i.CalibratedBy)),
			Cell{Text: date(i.Calibrated)}, due(i), unsuited(i), inHand(i))
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
func doubt(i report.Instrument) Cell {
	c := words("error at most " + unitOr(i.Error))
	switch {
	case i.Certificate != nil && i.K > 0:
		c = words(fmt.Sprintf("%s (U, k = %g)", i.Certificate.WithUnit(), i.K))
	case i.Certificate != nil:
		c = words(i.Certificate.WithUnit() + " (U)")
	case i.Error == nil:
		c = words("not stated")
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

func due(i report.Instrument) Cell {
	c := Cell{Text: "no date stated"}
	switch {
	case i.Overdue:
		c = Cell{Text: "OVERDUE, ended " + date(i.Due), Strong: true}
	case i.Due != "":
		c = Cell{Text: "until " + date(i.Due)}
	}
	if len(i.Odd) == 0 && i.Reason != "" {
		c.Notes = []string{i.Reason}
	}
	return c
}

// unsuited is what was said against an instrument, and why it was kept.
func unsuited(i report.Instrument) Cell {
	var c Cell
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
func inHand(i report.Instrument) Cell {
	if i.Until == nil {
		return Cell{Text: stampText(i.At)}
	}
	return words(stampText(i.At), "until "+stampText(*i.Until))
}

func unitOr(n *report.Number) string {
	if n == nil {
		return "not stated"
	}
	return n.WithUnit()
}

func metal(r report.Record) Table {
	t := newTable("Taken off and put in, place by place", Cards, "Where", "What", "How much", "In all there", "When")
	for _, m := range r.Metal {
		amount := words(m.Amount.Said)
		if m.Planned {
			amount.Notes = []string{"as asked for; what moved was not read"}
		}
		t.add(words(upper(m.Place)), words(m.Correction), amount, words(m.TotalSaid), Cell{Text: stampText(m.At)})
	}
	return t
}

func concessions(r report.Record) Table {
	t := newTable("Concessions asked for", Cards, "No.", "Test", "Verdict", "Asked for because", "What became of it", "Asked")
	for _, c := range r.Concessions {
		became := words(c.Said, c.Because)
		if c.Decided != nil {
			became.Notes = append(became.Notes, strings.Trim(c.Role+", "+stampText(*c.Decided), ", "))
		}
		became.Strong = c.State != "granted"
		t.add(words(fmt.Sprint(c.No)), Cell{Text: fmt.Sprintf("%d, %s", c.TestNo, c.Title), Ref: fmt.Sprintf("test-%d", c.TestNo)},
			Cell{Text: c.Word, Strong: true}, words(c.Reason), became, Cell{Text: stampText(c.Asked)})
	}
	return t
}

func amendments(r report.Record) Table {
	t := newTable("Amendments: both values stay", Cards, "Answer", "Was", "Is", "Why", "When")
	for _, a := range r.Amendments {
		name := a.Title
		if name == "" {
			name = a.Name
		}
		if a.Take > 0 {
			name += fmt.Sprintf(", take %d", a.Take)
		}
		t.add(words(name), words(a.From), words(a.To), words(a.Reason), Cell{Text: stampText(a.At)})
	}
	return t
}

func withdrawals(r report.Record) Table {
	t := newTable("Answers taken back", Cards, "Answer", "It said", "Given", "Taken back")
	for _, w := range r.Withdrawals {
		t.add(words(w.What), words(trueMinus(w.Said)), times(w.Of.Time), Cell{Text: stampText(w.At)})
	}
	return t
}

func notes(r report.Record) Table {
	t := newTable("Remarks and files", Cards, "Beside", "Remark", "File", "When")
	for _, n := range r.Notes {
		if n.About != "" || n.File != nil && len(r.Evidence) > 0 {
			continue // under a heading of its own
		}
		file := Cell{}
		if n.File != nil {
			file = words(n.File.Name, "begins "+firstEight(n.File.SHA256))
		}
		t.add(words(n.Where), words(n.Text), file, Cell{Text: stampText(n.At)})
	}
	return t
}

func firstEight(hash string) string {
	if len(hash) < 8 {
		return hash
	}
	return hash[:8]
}
