package document

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"waywright/checks"
	"waywright/report"
	"waywright/report/draw"
	"waywright/report/picture"
)

// detail is one test with all that stands behind it.
func detail(r report.Record, t report.Test) Test {
	out := Test{No: t.No, ID: testID(t), Title: t.Title, Word: t.Word}
	add := func(bs ...Block) { out.Blocks = append(out.Blocks, bs...) }
	verdict := Line{{Text: t.Word, Strong: true}}
	if s := foundLine(t.Found); s != "" {
		verdict = append(verdict, Run{Text: " " + s})
	}
	add(Paragraph{Style: Verdict, Line: verdict}, testFacts(r, t))
	titled := func(title string, ts ...Table) {
		if len(ts) == 0 {
			return
		}
		if title != "" {
			add(Heading{Level: 4, Text: title})
		}
		for _, x := range ts {
			add(x)
		}
	}
	titled("Readings", readingTables(r, t.Readings)...)
	add(working(r, t)...)
	titled("", elementTable(t)...)
	titled("Doubt", doubtTable(t)...)
	add(figures(r, t)...)
	titled("Attempts", attemptTable(r, t)...)
	titled("", earlierTable(r, t)...)
	return out
}

func working(r report.Record, t report.Test) []Block {
	f := Facts{Work: true}
	for _, name := range t.Working {
		if x, ok := r.Result(name); ok {
			f.Rows = append(f.Rows, Fact{x.Title, []Line{{{Text: x.Formula, Code: true}}, plain("= " + resultSaid(x))}})
		}
	}
	if len(f.Rows) == 0 {
		return nil
	}
	return []Block{Heading{Level: 4, Text: "Working"}, f}
}

// figures are the pictures of a test. Where the numbers of one stand in a table
// of the test, they are not printed twice.
func figures(r report.Record, t report.Test) []Block {
	var out []Block
	for _, p := range picture.OfTest(r, t) {
		out = append(out, newFigure(fmt.Sprintf("t%d-%s", t.No, p.Name), p, inATable(p.Name)))
	}
	return out
}

// inATable tells whether the numbers of such a picture stand in a table of its
// test: the values place by place, the attempts, the readings.
func inATable(name string) bool {
	for _, kind := range []string{"values", "attempts", "reading"} {
		if name == kind || strings.HasPrefix(name, kind+"-") {
			return true
		}
	}
	return false
}

// mostNarrow is how many columns of words fit a narrow screen beside one another.
const mostNarrow = 4

func newFigure(id string, p draw.Picture, bare bool) Figure {
	f := Figure{ID: id, Picture: p, Caption: sentence(p.Title) + " " + p.Desc}
	if bare || len(p.Numbers.Rows) == 0 {
		return f
	}
	kind := Narrow
	if len(p.Numbers.Head) > mostNarrow {
		kind = Cards
	}
	n := newTable("The numbers of the picture: "+lower(p.Title), kind, p.Numbers.Head...)
	for _, row := range p.Numbers.Rows {
		var cs []Cell
		for _, s := range row {
			cs = append(cs, words(s))
		}
		n.add(cs...)
	}
	f.Numbers = &n
	return f
}

// runPictures are the pictures of the run as a whole.
func runPictures(r report.Record) []Block {
	var out []Block
	for _, p := range picture.OfRun(r) {
		out = append(out, newFigure("run-"+p.Name, p, false))
	}
	return out
}

func foundLine(f *report.Finding) string {
	if f == nil {
		return ""
	}
	s := f.Said
	if f.U != nil {
		s += ", give or take " + f.U.WithUnit()
		if c := coverage(f); c != "" {
			s += " (" + c + ", about 95 %)"
		}
	}
	return s
}

func testFacts(r report.Record, t report.Test) Facts {
	var out Facts
	add := func(name string, texts ...string) {
		if texts = present(texts); len(texts) > 0 {
			out.Rows = append(out.Rows, Fact{name, lines(texts...)})
		}
	}
	switch x := t.LeftOut; {
	case x != nil:
		add("Left out", x.Because, "agreed with "+x.Agreed+", "+when(x.At.Time)+", before the work began")
	case t.Verdict == report.NotApplied:
		add("Does not apply", t.Why)
	default:
		add("Not measured because", t.Why)
	}
	worked := t.Allowed.Formula
	if worked != "" {
		worked = "worked out as " + worked
	}
	source := t.Allowed.Source
	if source != "" {
		source = "source: " + source
		if t.Allowed.Memory {
			source += " (V: from memory, text not seen)"
		}
	}
	add("Allowed", t.Allowed.Said, worked, source)
	if t.Worst != "" {
		add("Decided by", "the value at "+t.Worst)
	}
	if f := t.Found; f != nil && f.Between != "" {
		add("Doubt reaches", "from "+f.Between)
	}
	if t.Change != nil {
		add("Against as found", t.Change.Said)
	}
	if t.P != "" {
		add("How sure", "the limit is kept with a probability of "+strings.NewReplacer("> ", "more than ", "< ", "less than ").Replace(t.P))
	}
	if t.Risk != nil {
		add("Risk", "that this verdict is wrong: "+t.Risk.Said)
	}
	if m := t.Method; m != nil {
		add("Method", m.Said, methodMore(m))
	}
	if t.Rule.Name != r.Procedure.Rule.Name {
		add("Rule", t.Rule.Said)
	}
	var with []string
	for _, id := range t.Instruments {
		if i, ok := r.Instrument(id); ok {
			with = append(with, instrumentSaid(i))
		}
	}
	add("With", with...)
	if n := len(t.Attempts); n > 0 {
		paper := ""
		if w := r.OnSheet(t.Attempts[n-1].At.Entry); w != nil {
			paper = "typed in then; written on paper on " + date(w.Written) + " by " + w.By
		}
		add("When", stampText(t.Attempts[n-1].At), paper)
	}
	var givens []string
	for _, name := range t.Givens {
		for _, g := range r.Givens {
			if g.Name == name {
				givens = append(givens, g.Title+": "+g.Text)
			}
		}
	}
	add("Taken as given", givens...)
	if t.Noted {
		add("Noted", "As found. It is no limit of this run.")
	}
	if c := t.Concession; c != nil {
		add("Concession", c.Said, prefixed("asked for because: ", c.Reason), prefixed("decided because: ", c.Because))
	}
	out.Rows = append(out.Rows, photosOf(r, t)...)
	var up []string
	for _, u := range t.Upstream {
		up = append(up, strings.TrimSuffix(u.Title+", "+u.State, ", "))
	}
	add("May lie behind it", up...)
	return out
}

func prefixed(with, s string) string {
	if s == "" {
		return ""
	}
	return with + s
}

func resultSaid(x report.Result) string {
	switch {
	case x.Found != nil:
		return foundLine(x.Found)
	case x.Text != "":
		return x.Text
	case len(x.Heights) > 0:
		lo, hi := heightsReach(x.Heights)
		return fmt.Sprintf("%d heights, from %s to %s", len(x.Heights), lo.Text, hi.WithUnit())
	case len(x.Profile) > 0:
		var vs []string
		for _, p := range x.Profile {
			vs = append(vs, p.Value.Text)
		}
		return strings.Join(vs, "  ") + " " + x.Profile[0].Value.Unit
	case x.Why != "":
		return x.Why
	}
	return x.State
}

// heightsReach returns the least and the greatest height.
func heightsReach(hs []report.Height) (lo, hi report.Number) {
	lo, hi = hs[0].Value, hs[0].Value
	for _, h := range hs {
		if h.Value.Value < lo.Value {
			lo = h.Value
		}
		if h.Value.Value > hi.Value {
			hi = h.Value
		}
	}
	return lo, hi
}

// methodMore tells what drawn errors gave besides the doubt.
func methodMore(m *report.Method) string {
	if m.Name != "drawn" || m.From == nil || m.To == nil || m.Bias == nil {
		return ""
	}
	s := "the middle 95 % of the trials: " + m.From.Text + " to " + m.To.WithUnit()
	if m.Bias.Value != 0 {
		s += "; on average they lie " + m.Bias.WithUnit() + " from the value"
	}
	return s + "; seed " + m.Seed
}

func doubtTable(t report.Test) []Table {
	if len(t.Doubt) == 0 {
		return nil
	}
	caption := "Where the doubt comes from"
	if f := t.Found; f != nil && f.U != nil && f.K > 0 {
		caption += ". Give or take " + f.U.WithUnit() + " is " + fmt.Sprintf("%.2f", f.K) + " times the standard uncertainty of the result"
		if f.DoF > 0 {
			caption += ", known with " + checks.FreedomSaid(fmt.Sprintf("%.0f", f.DoF))
		}
	}
	if m := t.Method; m != nil && m.Name == "drawn" {
		caption += "; the rows are worked out from how much each source moves the value as it was read"
	}
	out := newTable(caption, Cards, "Source", "Standard uncertainty", "Sensitivity", "Gives", "Share", "Degrees of freedom")
	for _, x := range t.Doubt {
		own, sens, dof := "", "", "many"
		if x.Own != nil {
			own, sens = x.Own.WithUnit(), threeFigures(x.Sensitivity)
		}
		if x.DoF > 0 {
			dof = threeFigures(x.DoF)
		}
		out.add(words(x.Source), figure(own), figure(sens), figure(x.U.WithUnit()), figure(shareSaid(x.Share)), figure(dof))
	}
	return []Table{out.withoutEmptyColumns()}
}

// shareSaid is a part of the variance, in hundredths.
func shareSaid(share float64) string {
	if share < 0.005 {
		return "< 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

func threeFigures(x float64) string {
	s, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', 2, 64), 64)
	if err != nil {
		return ""
	}
	return trueMinus(strconv.FormatFloat(s, 'f', -1, 64))
}

// place is the head of an element's row: its key, or its station.
func place(key string, at *report.Number) string {
	if at != nil {
		return at.WithUnit()
	}
	return key
}

func elementTable(t report.Test) []Table {
	if len(t.Elements) == 0 {
		return nil
	}
	out := newTable("The values, place by place", Narrow, upper(placeWord(t)), "Value", "Give or take", "Allowed", "Verdict")
	for _, e := range t.Elements {
		u := ""
		if e.U != nil {
			u = e.U.WithUnit()
		}
		out.add(words(place(e.Key, e.At)), Cell{Text: e.Said}, figure(u), Cell{Text: bounds(e.Lower, e.Upper)}, Cell{Text: e.Word, Strong: e.Verdict != report.Pass})
	}
	return []Table{out}
}

func placeWord(t report.Test) string {
	if t.Along == "" || t.Along == "key" {
		return "place"
	}
	return t.Along
}

func bounds(lo, hi *report.Number) string {
	switch {
	case lo == nil && hi == nil:
		return ""
	case lo == nil:
		return "at most " + hi.WithUnit()
	case hi == nil:
		return "at least " + lo.WithUnit()
	}
	return lo.Text + " to " + hi.WithUnit()
}

// earlierTable lists the readings that do not count: of earlier attempts, void
// sets, sets that were not finished.
func earlierTable(r report.Record, t report.Test) []Table {
	var names []string
	wanted := map[string]bool{}
	for _, id := range t.Readings {
		if rd, ok := r.Reading(id); ok {
			names = append(names, rd.Name)
		}
	}
	for _, a := range t.Attempts {
		for _, id := range a.Readings {
			wanted[id] = true
		}
	}
	out := newTable("Earlier readings, which do not count", Cards, "Reading", "Values", "With", "When", "What became of it")
	for _, rd := range r.Readings {
		if slices.Contains(t.Readings, rd.ID) || !wanted[rd.ID] && !slices.Contains(names, rd.Name) {
			continue
		}
		with, _ := r.Instrument(rd.Instrument)
		out.add(words(rd.Title), Cell{Text: valuesSaid(rd)}, words(instrumentName(with)), words(stampText(rd.From)), words(upper(stateSaidOf(rd))))
	}
	if len(out.Rows) == 0 {
		return nil
	}
	return []Table{out}
}

func stateSaidOf(rd report.Reading) string {
	word := map[string]string{"stale": "measured again", "void": "cannot be used", "broken": "not finished", "unmeasured": "not taken"}[rd.State]
	switch {
	case rd.State == "used":
		return "counts, but not for this test"
	case word == "":
		word = rd.State
	}
	if rd.Why != "" {
		word += ", " + rd.Why
	}
	return word
}

// mostTakes is how many values are printed of one thing; the rest is in the
// JSON.
const mostTakes = 12

func valuesSaid(rd report.Reading) string {
	var vs []string
	n := 0
	for _, p := range rd.Places {
		for _, t := range p.Takes {
			n++
			if n <= 2*mostTakes {
				vs = append(vs, t.Text)
			}
		}
		if p.Why != "" {
			vs = append(vs, "not taken")
		}
	}
	s := strings.Join(vs, "  ")
	if more := n - 2*mostTakes; more > 0 {
		s += fmt.Sprintf(" and %d more in record.json", more)
	}
	return strings.TrimSpace(s + " " + rd.Unit)
}
