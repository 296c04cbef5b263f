package sheet

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"waywright/checks/quantity"
	"waywright/engine"
	"waywright/procedures"
	"waywright/report/document"
)

// steps makes a part of each step; rounds of one step stand in one part.
func (b *builder) steps() []document.Part {
	var out []document.Part
	for i := range b.w.Steps {
		st := &b.w.Steps[i]
		blocks := b.round(st)
		if i > 0 && b.w.Steps[i-1].Step == st.Step {
			last := &out[len(out)-1]
			last.Blocks = append(last.Blocks, blocks...)
			continue
		}
		title := fmt.Sprintf("Step %d of %d: %s", st.N, len(b.p.Steps), st.Title)
		if len(st.Round) > 0 {
			title = fmt.Sprintf("Step %d of %d, %s", st.N, len(b.p.Steps), strings.Join(eachNames(st.Step), " and "))
		}
		out = append(out, document.Part{ID: "step-" + st.Step.Name, Title: blanks(title), Blocks: blocks})
	}
	return out
}

// eachNames says what the rounds of a step are: each screw.
func eachNames(st *procedures.Step) []string {
	var out []string
	for _, e := range st.Each {
		out = append(out, "each "+strings.ReplaceAll(e.Name, "_", " "))
	}
	return out
}

// round is a step, or one round of it.
func (b *builder) round(st *engine.SheetStep) []document.Block {
	if b.step == nil || b.step.Step != st.Step {
		b.drawn = map[string]bool{}
	}
	b.step = st
	var out []document.Block
	add := func(bs ...document.Block) { out = append(out, bs...) }
	if len(st.Round) > 0 {
		title := st.Title
		if st.Open {
			title += " (as far as there are so many)"
		}
		add(document.Heading{Level: 3, Text: blanks(title)})
	}
	add(b.before(st)...)
	add(b.parts(st)...)
	return out
}

// before is what stands above what is read: the condition, the spindle, cautions
// with their box, tools, instructions.
func (b *builder) before(st *engine.SheetStep) []document.Block {
	var out []document.Block
	if st.When != "" {
		out = append(out, document.Paragraph{Line: strong(upper(onlyIf(st.When)) + ". Else go on with the next step.")})
	}
	if c := st.Clear; c != nil {
		out = append(out, cautions(c)...)
	}
	if !st.Again {
		out = append(out, b.toDo(st)...)
	}
	var rows []document.Field
	if f := st.InTime; f != nil {
		rows = append(rows, document.Field{No: f.No, Line: said(f.Ask), Rooms: []document.Room{clock("began"), {Kind: document.Ticks, Words: []string{"yes", "no"}}}})
	}
	if f := st.Clear; f != nil {
		rows = append(rows, clear(f))
	}
	if f := st.Release; f != nil {
		rows = append(rows, document.Field{No: f.No, Line: strong(f.Ask), Under: appendLines(nil, "Nothing goes on here before."), Rooms: []document.Room{{Kind: document.Words}}})
	}
	if f := st.Ask; f != nil {
		rows = append(rows, done(f))
	}
	if st.Step.GoodFor != nil && !st.Again {
		rows = append(rows, document.Field{Line: said("What this step establishes does not last. It ended at"), Rooms: []document.Room{clock("")}})
	}
	return append(out, fieldsOf(rows)...)
}

func fieldsOf(rows []document.Field) []document.Block {
	if len(rows) == 0 {
		return nil
	}
	return []document.Block{document.Fields{Rows: rows}}
}

// clock is room for a time of day.
func clock(head string) document.Room { return document.Room{Head: head, Unit: "h"} }

func done(f *engine.SheetField) document.Field {
	return document.Field{No: f.No, Line: said("All of this is done"), Rooms: []document.Room{{Kind: document.Ticks, Words: []string{"done"}}}}
}

func clear(f *engine.SheetField) document.Field {
	line := "All clear, all so"
	switch f.SpindleTo {
	case procedures.Stopped:
		line = "Spindle at rest, isolator off and locked, key out; all clear"
	case procedures.Turning:
		line = "Chuck key out, guards shut, no gloves, no rings; all clear"
	}
	return document.Field{No: f.No, Line: strong(line), Rooms: []document.Room{{Kind: document.Ticks, Words: []string{"so"}}}}
}

func cautions(f *engine.SheetField) []document.Block {
	var out []document.Block
	switch f.SpindleTo {
	case procedures.Stopped:
		out = append(out, document.Paragraph{Style: document.Before, Line: strong("SPINDLE STOPPED. HANDS GO IN NOW.")})
	case procedures.Turning:
		out = append(out, document.Paragraph{Style: document.Before, Line: strong("THE SPINDLE WILL TURN.")})
	}
	for _, c := range f.Cautions {
		out = append(out, document.Paragraph{Style: document.Before, Line: document.Line{{Text: "CAUTION  ", Strong: true}, {Text: blanks(sentence(c.Text))}}})
	}
	return out
}

func sentence(s string) string {
	s = upper(strings.TrimSpace(s))
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".?:") {
		return s
	}
	return s + "."
}

// toDo is what to have ready and what to do. Of a later round it is said what is
// otherwise than before.
func (b *builder) toDo(st *engine.SheetStep) []document.Block {
	var out []document.Block
	var items []document.Item
	if ready := b.fresh(st.Step, st.Tools); len(ready) > 0 {
		out = append(out, document.Paragraph{Style: document.Before, Line: document.Line{{Text: "Ready: ", Strong: true}, {Text: blanks(strings.Join(ready, "; ") + ".")}}})
	}
	for _, d := range b.fresh(st.Step, st.Do) {
		items = append(items, document.Item{Line: said(sentence(d))})
	}
	if len(items) > 0 {
		out = append(out, document.List{Items: items})
	}
	return out
}

// fresh leaves out what was said in an earlier round of the step.
func (b *builder) fresh(st *procedures.Step, texts []string) []string {
	var out []string
	for _, t := range texts {
		if key := st.Name + "\x00" + t; !b.said[key] {
			b.said[key] = true
			out = append(out, t)
		}
	}
	return out
}

// parts are the items of a step.
func (b *builder) parts(st *engine.SheetStep) []document.Block {
	var out []document.Block
	var rows []document.Field
	flush := func() {
		out, rows = append(out, fieldsOf(rows)...), nil
	}
	for i, p := range st.Parts {
		switch it := p.Item.(type) {
		case *procedures.Confirm:
			f := p.Fields[0]
			rows = append(rows, document.Field{No: f.No, Line: said(f.Ask), Rooms: []document.Room{{Kind: document.Ticks, Words: []string{"yes", "no"}}}})
		case *procedures.Wait:
			rows = append(rows, b.wait(it, p.Fields[0]))
		case *procedures.Reading:
			if len(p.Fields) == 1 && len(b.picture(p.Fields[0].Positive, "", false)) == 0 {
				rows = append(rows, b.alone(it, p.Fields[0]))
				continue
			}
			flush()
			out = append(out, b.reading(it, p)...)
		case *procedures.Result:
			flush()
			out = append(out, b.result(it, p)...)
		case *procedures.Gate:
			flush()
			var before procedures.Item
			if i > 0 {
				before = st.Parts[i-1].Item
			}
			out = append(out, b.gate(it, p, before)...)
		default:
			flush()
			out = append(out, b.corrections(p)...)
		}
	}
	flush()
	return out
}

func (b *builder) wait(w *procedures.Wait, f engine.SheetField) document.Field {
	row := document.Field{No: f.No}
	why := lower(strings.TrimRight(f.Why, "."))
	if w.Until == nil {
		line := "WAIT"
		if w.AtLeast != nil {
			if v, ok := w.AtLeast.Static(); ok {
				line += " at least " + engine.Period(time.Duration(v.Num*float64(time.Second)))
			} else {
				line += " at least " + formulaWords(w.AtLeast.Source())
			}
		}
		row.Line = strong(line)
		row.Under = appendLines(nil, why)
		row.Rooms = []document.Room{clock("from"), clock("to"), {Kind: document.Ticks, Words: []string{"so"}}}
		return row
	}
	row.Line = strong("WAIT until it stands")
	row.Under = appendLines(nil, why, f.Ask,
		fmt.Sprintf("a reading every %s, until two in a row agree within %s; the time beside each", engine.Period(f.Wait.Every), quantity.Plain(f.Wait.Agree, f.Unit.Difference())))
	row.Rooms = rooms(f)
	return row
}

// alone is a reading of one place.
func (b *builder) alone(r *procedures.Reading, f engine.SheetField) document.Field {
	row := document.Field{No: f.No, Line: said(f.Ask), Rooms: rooms(f)}
	row.Under = appendLines(nil, b.details(r, f), onlyIf(f.When))
	return row
}

// details are what to know of a reading: instrument, sign, what is plausible.
func (b *builder) details(r *procedures.Reading, f engine.SheetField) string {
	var parts []string
	if r.With != nil {
		parts = append(parts, strings.ReplaceAll(r.With.Name, "_", " ")+" ["+b.number("instrument."+r.With.Name)+"]")
	}
	if f.Unit != nil {
		parts = append(parts, "in "+f.Unit.Symbol)
	}
	parts = append(parts, b.expected(f))
	if f.Positive != "" && !strings.HasPrefix(f.Positive, "never ") {
		parts = append(parts, "plus: "+f.Positive)
	}
	if r.Closure != nil {
		if v, ok := r.Closure.Static(); ok && r.Unit != nil {
			parts = append(parts, "read once more at the end, it may have moved "+quantity.Plain(v.Num, r.Unit.Difference()))
		}
	}
	if r.Turned {
		parts = append(parts, "the instrument stands turned round")
	}
	return strings.Join(present(parts...), "; ")
}

// number is the number of what is asked under a name.
func (b *builder) number(name string) string { return b.s.FieldNumber(name) }

// reading is a reading of several places.
func (b *builder) reading(r *procedures.Reading, p engine.SheetPart) []document.Block {
	fields := p.Fields
	var out []document.Block
	if nudge := fields[0]; nudge.Kind == engine.AskNudge {
		out = append(out, document.Fields{Rows: []document.Field{{No: nudge.No, Line: said(nudge.Ask + ":"), Rooms: []document.Room{{Kind: document.Ticks, Words: words(nudge.Choices)}}}}})
		fields = fields[1:]
	}
	there, back := slices.Clone(fields), []engine.SheetField(nil)
	if r.BothWays {
		there, back = fields[:len(fields)/2], fields[len(fields)/2:]
	}
	title, short := b.rowTitle(there)
	details := present(title, strings.Join(b.fresh(r.Step, []string{b.details(r, there[0])}), ""))
	if len(details) > 0 {
		out = append(out, document.Paragraph{Style: document.Before, Line: said(upper(strings.Join(details, "; ")) + ".")})
	}
	out = append(out, b.picture(there[0].Positive, "", true)...)
	hints := []string{}
	if there[0].Open {
		hints = append(hints, "As many lines as there are places; the rest stay empty.")
	}
	if back != nil {
		hints = append(hints, "Going down the list, then back up it: coming back, the second box of each line, the last line first.")
	}
	if hints = b.fresh(r.Step, hints); len(hints) > 0 {
		out = append(out, document.Paragraph{Style: document.Before, Line: said(hints...)})
	}
	var rows []document.Field
	for i, f := range there {
		row := document.Field{No: strings.TrimSuffix(f.No, " again"), Line: said(f.Ask), Rooms: rooms(f)}
		if short {
			row.Line = said(place(r, f))
		}
		if f.Again {
			row.No, row.Line = strings.TrimSuffix(row.No, " once more"), said("the first once more")
		}
		row.Under = appendLines(row.Under, onlyIf(f.When))
		if back != nil {
			there, here := rooms(f), rooms(back[len(back)-1-i])
			row.Rooms = append(there, here...)
			row.Rooms[0].Unit, row.Rooms[0].Head, row.Rooms[len(there)].Head = "", "↓", "↑"
		}
		rows = append(rows, row)
	}
	return append(out, document.Fields{Rows: rows})
}

// rowTitle is what the questions of many places have in common, so that each
// line says only which place it is.
func (b *builder) rowTitle(fields []engine.SheetField) (title string, short bool) {
	if len(fields) < manyPlaces || fields[0].Stations == 0 {
		return "", false
	}
	first, second := strings.Fields(fields[0].Ask), strings.Fields(fields[1].Ask)
	if len(first) != len(second) {
		return fields[0].Ask, true
	}
	for i := range first {
		if first[i] != second[i] {
			first[i] = "______"
		}
	}
	return strings.Join(first, " "), true
}

// manyPlaces is from how many on a line has only its place.
const manyPlaces = 3

// place is where a line of a row is read.
func place(r *procedures.Reading, f engine.SheetField) string {
	own := f.Keys[min(len(r.Step.Each), len(f.Keys)):]
	var parts []string
	for _, k := range own {
		parts = append(parts, strings.ReplaceAll(k, "_", " "))
	}
	switch z := f.Where; {
	case f.Stations == 0:
	case z != z: // not known
		parts = append(parts, "at ______")
	case r.Around != nil:
		parts = append(parts, quantity.TrimNoughts(fmt.Sprintf("%.1f", z*180/3.141592653589793))+"°")
	default:
		parts = append(parts, quantity.TrimNoughts(fmt.Sprintf("%.2f", z))+" mm")
	}
	return strings.Join(parts, ", ")
}
