// Package sheet makes a work sheet of a procedure: a document to print, to fill
// in by hand at the machine, and to type in afterwards by its numbers.
//
// What is asked, its order and its numbers are those of
// [waywright/engine.WorkSheet]; this package puts them into words and gives
// each its room. It knows what the state knows beforehand: the machine, the
// grade, givens. The same state makes the same document.
package sheet

import (
	"fmt"
	"strings"

	"waywright/checks/quantity"
	"waywright/engine"
	"waywright/procedures"
	"waywright/report/document"
)

// Of makes the work sheet of a run that was begun and in which nothing was
// read, of a procedure that is called so at the command line. Its digest is
// that of the procedure's files.
func Of(s *engine.State, called string) document.Document {
	p, begun := s.Procedure(), s.Begun()
	b := &builder{s: s, p: p, called: called, w: s.WorkSheet(), said: map[string]bool{}, drawn: map[string]bool{}, tests: map[string]string{}}
	d := document.Document{
		Title: "Work sheet", Subject: strings.TrimSuffix(p.Name+", revision "+p.Revision, ", revision "), Item: machineItem(begun.Machine),
		Digest: begun.Digest, Short: begun.Digest[:min(8, len(begun.Digest))], Language: "en", Program: begun.Program, End: "END OF THE WORK SHEET",
	}
	d.Head = b.head()
	d.Parts = append(d.Parts, document.Part{ID: "head", Title: "To be filled in first", Form: document.First, Blocks: b.first()})
	d.Parts = append(d.Parts, b.steps()...)
	d.Parts = append(d.Parts, document.Part{ID: "remarks", Title: "Remarks", Form: document.AtOnce, Blocks: []document.Block{
		document.Fields{Rows: []document.Field{{Line: said("What was seen besides: parts, marks, noises, what stood in the way"),
			Rooms: []document.Room{{Kind: document.Words, Lines: 4}}}}}}})
	return document.Settled(d)
}

// machineItem is the machine at the foot of each sheet.
func machineItem(m engine.Machine) string {
	if m.ID == "" {
		return "machine ________________"
	}
	if m.Serial != "" {
		return m.ID + ", serial " + m.Serial
	}
	return m.ID
}

type builder struct {
	s      *engine.State
	p      *procedures.Procedure
	called string // at the command line
	w      engine.WorkSheet
	said   map[string]bool   // instructions that were said in a round before
	drawn  map[string]bool   // ways that were drawn in the present step
	tests  map[string]string // corrections that were told of in full: where
	step   *engine.SheetStep
}

// plain is a line without anything special.
func said(parts ...string) document.Line {
	text := strings.TrimSpace(strings.Join(parts, " "))
	if text == "" {
		return nil
	}
	return document.Line{{Text: blanks(text)}}
}

func strong(text string) document.Line { return document.Line{{Text: blanks(text), Strong: true}} }

func paragraph(parts ...string) document.Block {
	return document.Paragraph{Line: said(parts...)}
}

// blanks leaves room to write what is not known yet.
func blanks(s string) string { return strings.ReplaceAll(s, "…", "______") }

func (b *builder) head() []document.Block {
	f := document.Facts{}
	fact := func(name string, lines ...string) {
		var ls []document.Line
		for _, l := range lines {
			if l != "" {
				ls = append(ls, said(l))
			}
		}
		if len(ls) > 0 {
			f.Rows = append(f.Rows, document.Fact{Name: name, Lines: ls})
		}
	}
	m := b.s.Begun().Machine
	machine := "________________________   serial ________________"
	if m.ID != "" {
		machine = strings.Join(present(m.ID, m.Class, prefixed("serial ", m.Serial)), ", ")
	}
	fact("Procedure", b.p.Name+prefixed(", revision ", b.p.Revision), "digest begins "+b.s.Begun().Digest[:min(8, len(b.s.Begun().Digest))])
	fact("Machine", machine)
	fact("What for", b.p.Purpose)
	return []document.Block{
		document.Paragraph{Style: document.Lead, Line: said(b.p.Title)},
		f,
		document.List{Items: []document.Item{
			{Line: said("Fill in from the top, number by number, in pencil or ink. Write what the instrument shows, with its sign. A slip is struck out once; what is right goes beside it.")},
			{Line: said("A limit that is met: go on. One that is not: what to do stands behind it, with room for what is read again. A second time: on a copy of that page.")},
			{Line: said("Near a limit the program decides, because it knows the doubt of the instruments.")},
			{Line: document.Line{{Text: "Typed in afterwards, in this order: "}, {Text: "waywright run " + b.called + " --from-sheet", Code: true}}},
			{Line: said("The shop's own rules come first.")},
		}},
	}
}

func present(ss ...string) []string {
	var out []string
	for _, s := range ss {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

func prefixed(before, s string) string {
	if s == "" {
		return ""
	}
	return before + s
}

// first is what is filled in before the work begins.
func (b *builder) first() []document.Block {
	var rows []document.Field
	for _, f := range b.w.Head {
		rows = append(rows, document.Field{No: f.No, Line: said(f.Ask), Rooms: []document.Room{{Kind: document.Words}}})
	}
	if g := b.w.Grade; g != nil {
		row := document.Field{No: g.No, Line: said("Grade of the limits"), Rooms: []document.Room{{Kind: document.Ticks, Words: words(g.Choices)}}}
		if g.Says != "" {
			row.Under = append(row.Under, said("this sheet has the limits of: "+g.Says))
		}
		rows = append(rows, row)
	}
	for _, f := range b.w.Instruments {
		rows = append(rows, instrument(f))
	}
	for _, f := range b.w.Givens {
		rows = append(rows, b.given(f))
	}
	return []document.Block{document.Fields{Rows: rows}}
}

func words(cs []engine.Choice) []string {
	var out []string
	for _, c := range cs {
		out = append(out, c.Word)
	}
	return out
}

// instrument asks for the number of an instrument, and says what it must be good
// for.
func instrument(f engine.SheetField) document.Field {
	row := document.Field{No: f.No, Line: said(upper(f.Ask) + ": its number"), Rooms: []document.Room{{Kind: document.Words}}}
	if in := f.Instrument; in != nil && in.Resolution > 0 {
		row.Under = append(row.Under, said("reads "+quantity.Plain(in.Resolution, in.Unit.Difference())))
	}
	return row
}

func (b *builder) given(f engine.SheetField) document.Field {
	row := document.Field{No: f.No, Line: said(f.Ask), Rooms: rooms(f)}
	hint := present(f.Says, b.expected(f))
	if f.Says != "" {
		hint[0] = "known: " + f.Says
	}
	if f.OfferOnly || f.Kind == engine.Blocked {
		hint = append(hint, "from an accepted run: it is not measured here")
	}
	row.Under = appendLines(row.Under, strings.Join(hint, "; "), onlyIf(f.When))
	return row
}

func appendLines(ls []document.Line, texts ...string) []document.Line {
	for _, t := range texts {
		if t != "" {
			ls = append(ls, said(t))
		}
	}
	return ls
}

// onlyIf says a condition that is not known yet.
func onlyIf(when string) string {
	if when == "" {
		return ""
	}
	return "only where " + formulaWords(when)
}

// expected is what is plausible.
func (b *builder) expected(f engine.SheetField) string {
	if f.Range == nil {
		return ""
	}
	if f.Unit == nil {
		return fmt.Sprintf("%g to %g expected", f.Range.From, f.Range.To)
	}
	return shown(f.Range.From, *f.Unit) + " to " + quantity.WithSymbol(shown(f.Range.To, *f.Unit), *f.Unit) + " expected"
}

func shown(x float64, u quantity.Unit) string {
	return strings.ReplaceAll(quantity.TrimNoughts(quantity.Number(x, u, quantity.Usual(u))), "-", quantity.TrueMinus)
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func lower(s string) string {
	if len(s) < 2 || s[1] >= 'A' && s[1] <= 'Z' {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// rooms is the room that an answer wants.
func rooms(f engine.SheetField) []document.Room {
	switch {
	case len(f.Choices) > 0:
		return []document.Room{{Kind: document.Ticks, Words: words(f.Choices)}}
	case f.File, f.Text:
		return []document.Room{{Kind: document.Words}}
	}
	unit := ""
	if f.Unit != nil {
		unit = f.Unit.Symbol
	}
	n := max(f.Takes, 1)
	out := make([]document.Room, n)
	for i := range out {
		if n > 1 {
			out[i].Head = fmt.Sprint(i + 1)
		}
	}
	out[n-1].Unit = unit
	return out
}
