package sheet

import (
	"fmt"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/direction"
	"waywright/procedures/formula"
	"waywright/report"
	"waywright/report/document"
	"waywright/report/draw"
)

type sheetPart = engine.SheetPart

// oneNumber tells whether a program gives a single value.
func oneNumber(p *formula.Program) bool {
	switch p.Type().Kind {
	case value.Number, value.Point, value.Takes, value.Truth, value.Text:
		return true
	}
	return false
}

// gate is a limit: what is allowed, and what to do where it is not met.
func (b *builder) gate(g *procedures.Gate, p sheetPart, before procedures.Item) []document.Block {
	row := document.Field{Line: document.Line{{Text: "LIMIT  ", Strong: true}, {Text: blanks(p.Title), Strong: true}}}
	one := g.Of != nil && oneNumber(g.Of)
	row.Under = append(row.Under, b.allowed(g, p)...)
	if src := g.Source; src != "" {
		row.Under = appendLines(row.Under, "from: "+src)
	}
	row.Under = appendLines(row.Under, b.judged(g, before), ifNot(g))
	ticks := []string{"inside", "outside"}
	if g.Of == nil {
		ticks = []string{"so", "not so"}
	}
	if one {
		if _, isResult := b.resultOf(g); !isResult {
			row.Rooms = append(row.Rooms, document.Room{Unit: g.Unit.Symbol})
		}
	}
	row.Rooms = append(row.Rooms, document.Room{Kind: document.Ticks, Words: ticks})
	out := []document.Block{document.Fields{Rows: []document.Field{row}}}
	if t, ok := scaledTable(g, p.Limits, p.Positive); ok {
		out = append(out, t)
	}
	return out
}

// resultOf is the name of the result that a gate judges, where it is that alone.
func (b *builder) resultOf(g *procedures.Gate) (string, bool) {
	if g.Of == nil {
		return "", false
	}
	name, ok := strings.CutPrefix(oneLine(g.Of), "result.")
	return name, ok && !strings.ContainsAny(name, " (.[")
}

// judged says what is held against the limits, where that is not the result just
// worked out.
func (b *builder) judged(g *procedures.Gate, before procedures.Item) string {
	if g.Of == nil {
		return ""
	}
	if name, ok := b.resultOf(g); ok {
		if before != nil && before.ItemName() == name {
			return ""
		}
		return "judged: " + b.resultTitle(name)
	}
	text, _, _ := b.formula(g.Of)
	return "judged: " + text
}

// resultTitle is what a result is called on the sheet.
func (b *builder) resultTitle(name string) string {
	for _, st := range b.w.Steps {
		for _, p := range st.Parts {
			if p.Item != nil && p.Item.ItemName() == name && p.Title != "" {
				return p.Title
			}
		}
	}
	return strings.ReplaceAll(name, "_", " ")
}

// allowed says the limits: worked out as far as they are known, and how they
// come about.
func (b *builder) allowed(g *procedures.Gate, p sheetPart) []document.Line {
	if g.Holds != nil {
		text, under, _ := b.formula(g.Holds)
		return appendLines([]document.Line{said("it must hold that " + text)}, under...)
	}
	var out []document.Line
	known := false
	line := document.Line{{Text: "allowed: "}}
	for _, l := range p.Limits {
		if l.Given != "" {
			continue
		}
		if known {
			line = append(line, document.Run{Text: "; "})
		}
		known = true
		if l.Grade != "" {
			line = append(line, document.Run{Text: l.Grade + " "})
		}
		line = append(line, document.Run{Text: report.LimitWords(l.Lo, l.Hi, g.Unit, p.Positive), Strong: true})
	}
	if known {
		out = append(out, line)
	}
	for _, lim := range []struct {
		what string
		p    *formula.Program
	}{{"within", g.Within}, {"at most", g.AtMost}, {"at least", g.AtLeast}} {
		if lim.p == nil || known && simple(lim.p) {
			continue
		}
		text, under, _ := b.formula(lim.p)
		out = append(out, said("limit: "+lim.what+" "+text))
		out = appendLines(out, under...)
	}
	return out
}

// simple tells whether a limit is said in full by what it comes to.
func simple(p *formula.Program) bool {
	return !slices.ContainsFunc(p.Refs(), func(r formula.Ref) bool { return r.Space != formula.Table })
}

// scaledTable lists limits for a few sizes, where they hang on one that is not
// known yet.
func scaledTable(g *procedures.Gate, ls []engine.SheetLimit, positive string) (document.Table, bool) {
	var grades []string
	var sizes []float64
	for _, l := range ls {
		if l.Given == "" {
			continue
		}
		if !slices.Contains(grades, l.Grade) {
			grades = append(grades, l.Grade)
		}
		if !slices.Contains(sizes, l.At) {
			sizes = append(sizes, l.At)
		}
	}
	if len(sizes) == 0 {
		return document.Table{}, false
	}
	t := document.Table{Kind: document.Narrow}
	for _, l := range ls {
		if l.Given != "" {
			t.Columns = append(t.Columns, document.Column{Head: l.Given})
			break
		}
	}
	for _, gr := range grades {
		t.Columns = append(t.Columns, document.Column{Head: "allowed" + prefixed(", ", gr)})
	}
	for _, at := range sizes {
		var cells []document.Cell
		for i, gr := range grades {
			for _, l := range ls {
				if l.Given == "" || l.At != at || l.Grade != gr {
					continue
				}
				if i == 0 {
					cells = append(cells, document.Cell{Text: quantity.Plain(l.At, l.Unit)})
				}
				cells = append(cells, document.Cell{Text: report.LimitWords(l.Lo, l.Hi, g.Unit, positive)})
			}
		}
		t.Rows = append(t.Rows, document.Row{Cells: cells})
	}
	t.Caption = "Allowed for a few sizes; in between by the formula"
	return t, true
}

// ifNot says what comes where a limit is not met.
func ifNot(g *procedures.Gate) string {
	var ways []string
	for _, w := range g.IfFailed {
		switch w.Kind {
		case procedures.Correct:
			ways = append(ways, "correct it, see below")
		case procedures.Concede:
			ways = append(ways, "write it down and go on: a concession is asked for when this is typed in")
		case procedures.Reject:
			ways = append(ways, reject(g))
		case procedures.Note:
			return "Noted as found: go on in any case."
		}
	}
	ways = slices.Compact(ways)
	if len(ways) == 0 {
		return ""
	}
	met := "Inside: go on."
	if g.Of == nil {
		met = "So: go on."
	}
	return met + " If not: " + strings.Join(ways, "; else ") + "."
}

// reject says what comes where nothing else is left.
func reject(g *procedures.Gate) string {
	var look []string
	for _, t := range g.Upstream {
		if t.Accepted != "" {
			look = append(look, t.Accepted)
		}
	}
	say := "stop here, it is not good enough"
	if g.Corrects() {
		say = "if nothing helps, it is not good enough"
	}
	if len(look) > 0 {
		say += "; look at " + strings.Join(look, ", ")
	}
	return say
}

// picture draws which way is plus, once a step.
func (b *builder) picture(plus, minus string, keep bool) []document.Block {
	if plus == "" || strings.HasPrefix(plus, "never ") || b.drawn[plus] {
		return nil
	}
	if minus == "" {
		minus, _ = direction.Opposite(plus)
	}
	if keep {
		b.drawn[plus] = true
	}
	desc := "Plus is " + plus
	if minus != "" {
		desc += ", minus is " + minus
	}
	return []document.Block{document.Figure{ID: "way-" + plus, Picture: draw.Way{Plus: plus, Minus: minus, Desc: desc + "."}.Draw(), Caption: "Which way is plus."}}
}

// corrections are what to do where a limit is not met, with what is read again.
func (b *builder) corrections(p sheetPart) []document.Block {
	var out []document.Block
	for _, c := range p.Corrections {
		out = append(out, b.correction(c)...)
	}
	if len(p.Again) == 0 {
		return out
	}
	out = append(out, document.Heading{Level: 4, Text: "Then again"})
	if len(p.Corrections) > 1 {
		out = append(out, paragraph("What the correction in hand asks for, as said there."))
	}
	step := b.step
	for i := range p.Again {
		st := &p.Again[i]
		b.step = st
		out = append(out, document.Paragraph{Style: document.Before, Line: strong("Again: " + st.Title)})
		out = append(out, unmarked(b.before(st))...)
		out = append(out, b.again(st)...)
	}
	b.step = step
	return append(out, paragraph("Work the limits out as before. If they are still not met: once more, on a copy of this page."))
}

// again is what is read again: the boxes, without what was said of them before.
func (b *builder) again(st *engine.SheetStep) []document.Block {
	var rows []document.Field
	for _, p := range st.Parts {
		switch it := p.Item.(type) {
		case *procedures.Confirm:
			rows = append(rows, document.Field{No: p.Fields[0].No, Line: said(p.Fields[0].Ask), Rooms: []document.Room{{Kind: document.Ticks, Words: []string{"yes", "no"}}}})
		case *procedures.Wait:
			row := b.wait(it, p.Fields[0])
			row.Under = nil
			rows = append(rows, row)
		case *procedures.Reading:
			for _, bl := range b.reading(it, p) {
				if f, ok := bl.(document.Fields); ok {
					rows = append(rows, f.Rows...)
				}
			}
		case *procedures.Result:
			if oneNumber(it.Value) {
				unit := ""
				if it.Unit != nil {
					unit = it.Unit.Symbol
				}
				rows = append(rows, document.Field{Line: strong(p.Title), Rooms: []document.Room{{Unit: unit}}})
			}
		}
	}
	return unmarked(fieldsOf(rows))
}

// unmarked takes from numbers that they are of what is read again: the heading
// says it.
func unmarked(bs []document.Block) []document.Block {
	for _, bl := range bs {
		if f, ok := bl.(document.Fields); ok {
			for i := range f.Rows {
				f.Rows[i].No = strings.TrimSuffix(f.Rows[i].No, " again")
			}
		}
	}
	return bs
}

func (b *builder) correction(c engine.SheetCorrection) []document.Block {
	title := "If not “" + strings.Join(c.Gates, "”, “") + "”: " + lower(c.Title)
	out := []document.Block{document.Heading{Level: 3, Text: blanks(title)}}
	rows := []document.Field{}
	if c.When != "" {
		out = append(out, document.Paragraph{Line: strong(upper(onlyIf(c.When)) + ".")})
	}
	if len(c.Spoils) > 0 {
		var titles []string
		for _, st := range c.Spoils {
			titles = append(titles, lower(b.stepTitle(st)))
		}
		out = append(out, paragraph("Afterwards again: "+strings.Join(titles, "; ")+"."))
	}
	if !c.First {
		out = append(out, paragraph("What to do, how much and which way: as at number "+c.Report.No+" before."))
	}
	if c.Correction.Amount != nil {
		if c.First {
			out = append(out, b.picture(c.Positive, c.Negative, false)...)
		}
		rows = append(rows, b.amount(c))
	}
	if c.Clear != nil {
		if c.First {
			out = append(out, cautions(c.Clear)...)
		}
		rows = append(rows, clear(c.Clear))
	}
	if c.First {
		var items []document.Item
		for _, d := range c.Do {
			items = append(items, document.Item{Line: said(sentence(d))})
		}
		if len(items) > 0 {
			out = append(out, document.List{Items: items})
		}
	}
	if c.With != nil {
		rows = append(rows, instrument(*c.With))
	}
	return append(out, fieldsOf(append(rows, reported(c)))...)
}

func (b *builder) stepTitle(st *procedures.Step) string {
	for _, x := range b.w.Steps {
		if x.Step == st && len(x.Round) > 0 {
			return fmt.Sprintf("step %d, %s", x.N, strings.Join(eachNames(st), " and "))
		} else if x.Step == st {
			return x.Title
		}
	}
	return st.Name
}

// amount is how much and which way.
func (b *builder) amount(c engine.SheetCorrection) document.Field {
	x := c.Correction
	text, under, byHand := b.formula(x.Amount)
	row := document.Field{Line: strong("How much, and which way")}
	if c.First {
		row.Under = append(row.Under, document.Line{{Text: "amount = " + text}})
		row.Under = appendLines(row.Under, under...)
	}
	which := "plus: " + c.Positive
	if c.Negative != "" {
		which += "; minus: " + c.Negative
	} else {
		which += "; this cannot be put back: half of it first, then read"
	}
	row.Under = appendLines(row.Under, which)
	if !oneNumber(x.Amount) {
		row.Under = appendLines(row.Under, "an amount for each place; the program gives them")
		return row
	}
	if byHand && c.First {
		row.Rooms = append(row.Rooms, document.Room{Kind: document.Sum, Lines: sumLines(text)})
	}
	row.Rooms = append(row.Rooms, document.Room{Unit: x.Unit.Symbol})
	return row
}

// ways are the two ways, to tick.
func ways(c engine.SheetCorrection) document.Room {
	return document.Room{Kind: document.Ticks, Words: present(c.Positive, c.Negative)}
}

// reported is how a correction is reported.
func reported(c engine.SheetCorrection) document.Field {
	f := c.Report
	row := document.Field{No: f.No}
	switch {
	case f.Kind == engine.AskMoved:
		row.Line = said(f.Ask)
		row.Rooms = []document.Room{{Unit: f.Unit.Symbol}, ways(c)}
	case f.Unit != nil:
		row.Line = said("Done: how much of it")
		row.Rooms = []document.Room{{Unit: f.Unit.Symbol}, {Kind: document.Ticks, Words: []string{"all of it", "half"}}}
	default:
		row.Line = said("Done")
		row.Rooms = []document.Room{{Kind: document.Ticks, Words: []string{"done"}}}
	}
	return row
}
