package html

import (
	"fmt"
	"html/template"
	"slices"
	"strconv"
	"strings"

	"waywright/checks"
	"waywright/report"
	"waywright/report/draw"
)

// detail is one test with all that stands behind it.
type detail struct {
	report.Test
	Line     string // found, with its doubt
	Facts    []fact
	Readings []table
	Working  []work
	Doubt    *table
	Pictures []figureOf
	Elements *table
	Attempts *table
	Earlier  *table
}

type fact struct {
	Name  string
	Texts []string
}

type work struct {
	Title, Value, Formula string
}

type figureOf struct {
	SVG     template.HTML
	Caption string
}

func newDetail(r report.Record, t report.Test) detail {
	d := detail{Test: t, Line: foundLine(t.Found)}
	d.facts(r)
	d.Readings = readingTables(r, t.Readings)
	for i, id := range t.Readings {
		if rd, ok := r.Reading(id); ok {
			if p, ok := readingPlot(rd, fmt.Sprintf("t%d-reading-%d", t.No, i+1)); ok && len(t.Elements) == 0 {
				d.Pictures = append(d.Pictures, p)
			}
		}
	}
	for i, name := range t.Working {
		if x, ok := r.Result(name); ok {
			d.Working = append(d.Working, work{Title: x.Title, Value: resultSaid(x), Formula: x.Formula})
			if len(x.Heights) > 2 {
				d.Pictures = append(d.Pictures, contour(x, fmt.Sprintf("t%d-heights-%d", t.No, i+1)))
			}
		}
	}
	d.Doubt = doubtTable(t)
	if len(t.Elements) > 0 {
		d.Elements = elementTable(t)
		d.Pictures = append(d.Pictures, elementPlot(t))
	}
	if len(t.Attempts) > 1 {
		if p, ok := attemptsPlot(t); ok {
			d.Pictures = append(d.Pictures, p)
		}
	}
	d.Attempts = attemptTable(r, t)
	d.Earlier = earlierTable(r, t)
	return d
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

func (d *detail) facts(r report.Record) {
	add := func(name string, texts ...string) {
		if texts = present(texts); len(texts) > 0 {
			d.Facts = append(d.Facts, fact{name, texts})
		}
	}
	t := d.Test
	if t.Verdict == report.NotApplied {
		add("Left out because", t.Why)
	} else {
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
		add("When", stampText(t.Attempts[n-1].At))
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
	if c := t.Concession; c != nil {
		add("Concession", c.Said, prefixed("asked for because: ", c.Reason), prefixed("decided because: ", c.Because))
	}
	var up []string
	for _, u := range t.Upstream {
		up = append(up, strings.TrimSuffix(u.Title+", "+u.State, ", "))
	}
	add("May lie behind it", up...)
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

// contour draws the heights of a surface as lines of equal height.
func contour(x report.Result, id string) figureOf {
	lo, hi := heightsReach(x.Heights)
	c := draw.Contour{
		Title: x.Title + ": lines of equal height", Unit: hi.Unit, Along: "the field as seen from above",
		Desc: fmt.Sprintf("Lines of equal height through %d places. The highest is %s, marked by a dot, the lowest %s, marked by a diamond.",
			len(x.Heights), hi.WithUnit(), lo.WithUnit()),
	}
	for _, h := range x.Heights {
		c.Heights = append(c.Heights, draw.Height{X: h.X.Value, Y: h.Y.Value, Z: h.Value.Value})
	}
	return figureOf{SVG: svg(c.Draw(), id), Caption: x.Title + ". " + c.Desc}
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

func doubtTable(t report.Test) *table {
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
	out := table{Caption: caption, Head: []string{"Source", "Standard uncertainty", "Sensitivity", "Gives", "Share", "Degrees of freedom"}}
	for _, x := range t.Doubt {
		own, sens, dof := "", "", "many"
		if x.Own != nil {
			own, sens = x.Own.WithUnit(), threeFigures(x.Sensitivity)
		}
		if x.DoF > 0 {
			dof = threeFigures(x.DoF)
		}
		out.add(text(x.Source), figure(own), figure(sens), figure(x.U.WithUnit()), figure(shareSaid(x.Share)), figure(dof))
	}
	out = out.withoutEmptyColumns()
	return &out
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

func elementTable(t report.Test) *table {
	out := table{Caption: "The values, place by place", Head: []string{upper(placeWord(t)), "Value", "Give or take", "Allowed", "Verdict"}, Plain: true}
	for _, e := range t.Elements {
		u := ""
		if e.U != nil {
			u = e.U.WithUnit()
		}
		out.add(text(place(e.Key, e.At)), cell{Text: e.Said}, figure(u), cell{Text: bounds(e.Lower, e.Upper)}, cell{Text: e.Word, Strong: e.Verdict != report.Pass})
	}
	return &out
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
func earlierTable(r report.Record, t report.Test) *table {
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
	out := table{Caption: "Earlier readings, which do not count", Head: []string{"Reading", "Values", "With", "When", "What became of it"}}
	for _, rd := range r.Readings {
		if slices.Contains(t.Readings, rd.ID) || !wanted[rd.ID] && !slices.Contains(names, rd.Name) {
			continue
		}
		with, _ := r.Instrument(rd.Instrument)
		out.add(text(rd.Title), cell{Text: valuesSaid(rd)}, text(instrumentName(with)), text(stampText(rd.From)), text(upper(stateSaidOf(rd))))
	}
	if len(out.Rows) == 0 {
		return nil
	}
	return &out
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

// elementPlot draws the values of a test against their limits.
func elementPlot(t report.Test) figureOf {
	p := draw.Plot{Title: t.Title + ": the values against their limits", Joined: t.Along == "station" || t.Along == "angle", Even: t.Along == "key" || t.Along == ""}
	if f := t.Found; f != nil {
		p.Up, p.Down = f.Positive, f.Negative
	}
	p.Across = placeWord(t)
	for _, e := range t.Elements {
		v := draw.Val{Label: e.Key, Y: e.Value.Value, U: reachOf(e.U), Lo: lo(e.Lower), Hi: hi(e.Upper), Shape: shape(e.Verdict)}
		if e.At != nil {
			v.At = e.At.Value
			p.Across = placeWord(t) + ", " + e.At.Unit
		}
		p.Unit = e.Value.Unit
		p.Values = append(p.Values, v)
	}
	p.Desc = fmt.Sprintf("%d values in a row, each with its doubt, against the limits %s. %s", len(t.Elements), t.Allowed.Said, marksSaid)
	return figureOf{SVG: svg(p.Draw(), fmt.Sprintf("t%d-values", t.No)), Caption: "The values against their limits. " + marksSaid}
}

const marksSaid = "A round mark is PASS, a cross FAIL, a diamond CANNOT TELL; the upright line is the doubt."

// attemptsPlot draws how the attempts came to their limits.
func attemptsPlot(t report.Test) (figureOf, bool) {
	p := draw.Plot{Title: fmt.Sprintf("Test %d: the attempts against the limits", t.No), Across: "attempt", Even: true}
	n := 0
	for _, a := range t.Attempts {
		f := a.Found
		if f == nil || f.Value == nil {
			continue
		}
		n++
		p.Unit, p.Up, p.Down = f.Value.Unit, f.Positive, f.Negative
		p.Values = append(p.Values, draw.Val{Label: fmt.Sprint(a.N), Y: f.Value.Value, U: reachOf(f.U),
			Lo: lo(a.Allowed.Lower), Hi: hi(a.Allowed.Upper), Shape: shape(a.Verdict)})
	}
	p.Desc = fmt.Sprintf("The results of %d attempts, one after the other, each with its doubt, against the limits. %s", n, marksSaid)
	return figureOf{SVG: svg(p.Draw(), fmt.Sprintf("t%d-attempts", t.No)), Caption: "The attempts against the limits. " + marksSaid}, n > 1
}

// readingPlot draws a reading along stations or round a turn.
func readingPlot(rd report.Reading, id string) (figureOf, bool) {
	p := draw.Plot{Title: rd.Title, Unit: rd.Unit, Up: rd.Positive, Joined: true, Across: "station"}
	if n := len(rd.Keys); n > 0 {
		p.Across = rd.Keys[n-1]
	}
	for _, x := range rd.Places {
		if x.At == nil || x.Pass != "" || len(x.Keys) > 1 {
			continue
		}
		y := x.Mean
		if y == nil && len(x.Takes) > 0 {
			y = x.Takes[len(x.Takes)-1].Number
		}
		if y == nil {
			continue
		}
		p.Across = strings.TrimSuffix(strings.SplitN(p.Across, ",", 2)[0]+", "+x.At.Unit, ", ")
		p.Values = append(p.Values, draw.Val{At: x.At.Value, Y: y.Value, Lo: lo(nil), Hi: hi(nil), Shape: draw.Round})
	}
	p.Desc = fmt.Sprintf("%d readings, joined by a line.", len(p.Values))
	return figureOf{SVG: svg(p.Draw(), id), Caption: rd.Title + ", as read"}, len(p.Values) > 2
}
