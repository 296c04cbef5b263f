package engine

import (
	"maps"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// WorkSheet is what is asked on the straight path, as if every gate passed, in
// the order of asking and with the number of each: what a sheet has to hold that
// is filled in by hand. Behind gates stand the corrections that they name, each
// with what is read again after it.
type WorkSheet struct {
	Head        []SheetField // the day, the name, the temperature
	Grade       *SheetField
	Instruments []SheetField
	Givens      []SheetField
	Steps       []SheetStep
}

// SheetField is one thing that is asked. What is not known before, as how many
// screws there are, shows as "…" in its texts.
type SheetField struct {
	No string
	Question
	Item procedures.Item // whose it is, or nil
	When string          // the condition under which it is asked, where that is not known yet
	Open bool            // nobody knows yet whether there are so many
	Says string          // what the machine's entry or an accepted run has for it
}

// SheetStep is a step, or one round of it.
type SheetStep struct {
	Step                        *procedures.Step
	N                           int // from 1
	Round                       []string
	Title, When                 string
	Open                        bool // nobody knows yet whether there are so many rounds
	Again                       bool // it is worked again, behind a correction
	InTime, Clear, Release, Ask *SheetField
	Do, Tools                   []string
	Parts                       []SheetPart
}

// SheetPart is an item of a step, or the corrections that stand there: exactly
// one of Item and Corrections is there.
type SheetPart struct {
	Item        procedures.Item
	When        string
	Title       string       // of a result or a gate
	Positive    string       // what plus means
	Fields      []SheetField // of a confirmation, a wait or a reading
	Limits      []SheetLimit // of a gate, as far as they can be worked out
	Corrections []SheetCorrection
	Again       []SheetStep // what is read again after one or another of Corrections
}

// SheetLimit is the limits of a gate under a grade, and for a size that is not
// known yet.
type SheetLimit struct {
	Grade  string
	Given  string // what the size is asked as; "" where the limits hang on none
	At     float64
	Unit   quantity.Unit // of At
	Lo, Hi float64       // ±Inf where there is none
}

// SheetCorrection is a correction.
type SheetCorrection struct {
	Correction          *procedures.Correction
	Gates               []string // titles of those that ask for it here
	Title, When         string
	Positive, Negative  string
	Do                  []string
	First               bool // it stands here for the first time
	Clear, With, Report *SheetField
	Spoils              []*procedures.Step // of Again, those that this one asks to be worked again
}

// WorkSheet lists what is asked. The state holds what is known beforehand: the
// machine, and givens that were answered.
func (s *State) WorkSheet() WorkSheet {
	b := &sheetBuilder{s: s, t: s.clone(), assumed: map[string]bool{}, placed: map[*procedures.Correction]bool{}, cleared: map[string]bool{}}
	b.assume()
	var out WorkSheet
	for _, h := range []struct{ name, ask string }{{sheetDay, "Day"}, {sheetName, "Filled in by"}, {sheetTemperature, "Temperature at the machine"}} {
		out.Head = append(out.Head, SheetField{No: s.plan.numbers[h.name], Question: Question{Kind: AskSheet, Name: h.name, Ask: h.ask, Text: true}})
	}
	if len(s.plan.proc.Grades) > 0 {
		out.Grade = &SheetField{No: s.plan.numbers["grade"], Question: s.gradeQuestion(), Says: s.Grade()}
	}
	for _, in := range s.plan.readWith {
		out.Instruments = append(out.Instruments, b.instrument(in))
	}
	for _, g := range s.plan.proc.Givens {
		if s.idle.givens[g.Name] {
			continue
		}
		out.Givens = append(out.Givens, b.given(g)...)
	}
	for i, st := range s.plan.proc.Steps {
		out.Steps = append(out.Steps, b.step(i, st, nil)...)
	}
	return out
}

// Fields lists all that is asked on the straight path, in the order of asking;
// what is read again behind a correction stands with it.
func (w WorkSheet) Fields() []SheetField {
	out := slices.Clone(w.Head)
	if w.Grade != nil {
		out = append(out, *w.Grade)
	}
	out = append(append(out, w.Instruments...), w.Givens...)
	for _, st := range w.Steps {
		out = append(out, st.fields()...)
	}
	return out
}

func (st SheetStep) fields() (out []SheetField) {
	for _, f := range []*SheetField{st.InTime, st.Clear, st.Release, st.Ask} {
		if f != nil {
			out = append(out, *f)
		}
	}
	for _, p := range st.Parts {
		out = append(out, p.Fields...)
		for _, c := range p.Corrections {
			for _, f := range []*SheetField{c.Clear, c.With, c.Report} {
				if f != nil {
					out = append(out, *f)
				}
			}
		}
		for _, again := range p.Again {
			out = append(out, again.fields()...)
		}
	}
	return out
}

// sheetBuilder makes a work sheet. What is asked is listed in a state in which
// every count that is not known is as great as it can be; texts are read in one
// that knows no more than is known.
type sheetBuilder struct {
	s, t    *State
	assumed map[string]bool // givens that are not known
	placed  map[*procedures.Correction]bool
	cleared map[string]bool // cautions, as far as one comes on the sheet
	spindle procedures.Spindle
	again   bool // behind a correction
}

// assume gives the counts and sizes that are not known the upper ends of their
// ranges.
func (b *sheetBuilder) assume() {
	b.t.forget()
	for _, g := range b.s.plan.proc.Givens {
		if len(b.s.live(g.Name, nil)) > 0 {
			continue
		}
		b.assumed[g.Name] = true
		if len(g.Each) > 0 {
			continue
		}
		if v, ok := b.says(g); ok && b.keep(b.s, g, v.Num) {
			b.keep(b.t, g, v.Num)
			delete(b.assumed, g.Name)
			continue
		}
		if g.Range[1] == nil {
			continue
		}
		if hi := g.Range[1].Eval(b.t.env()).Mean(); hi.State == value.Present {
			b.keep(b.t, g, hi.Num)
		}
	}
}

// says is what the machine's entry or an accepted run has for a given.
func (b *sheetBuilder) says(g *procedures.Given) (value.Value, bool) {
	if g.From == nil {
		return value.Value{}, false
	}
	v := g.From.Eval(b.s.env()).Mean()
	return v, v.State == value.Present && (v.Kind == value.Number || v.Kind == value.Point)
}

// keep answers a given in a state, without a person. The builder's own states
// are nobody else's.
func (b *sheetBuilder) keep(s *State, g *procedures.Given, x float64) bool {
	u := quantity.Unit{Factor: 1}
	name := "1"
	if g.Unit != nil {
		u, name = *g.Unit, g.Unit.Name
	}
	if _, err := quantity.Lookup(name); err != nil {
		return false
	}
	err := s.keepGiven(Event{}, Answered{Name: g.Name, Takes: []Taken{{Value: u.Of(x), Unit: name}}}, g)
	s.forget()
	return err == nil
}

// hangsOn tells whether programs hang on givens that are not known: on counts,
// or on anything.
func (b *sheetBuilder) hangsOn(programs ...*formula.Program) (count, any bool) {
	seen := map[string]bool{}
	b.s.plan.reach(seen, programs...)
	for name := range seen {
		g := b.s.plan.givens[name]
		if g == nil || !b.assumed[name] {
			continue
		}
		any = true
		count = count || g.Unit == nil
	}
	return count, any
}

func (b *sheetBuilder) instrument(in *procedures.Instrument) SheetField {
	name := "instrument." + in.Name
	return SheetField{No: b.s.plan.numbers[name], Question: Question{Kind: AskInstrument, Name: name, Ask: in.Kind, Text: true, Instrument: b.s.inHand(in)}}
}

// applies tells whether a condition holds; where that is not known yet it says
// the condition.
func (b *sheetBuilder) applies(p *formula.Program, e *env) (when string, ok bool) {
	if p == nil {
		return "", true
	}
	switch w := p.Eval(e); w.State {
	case value.Present:
		return "", w.Truth
	default:
		return oneLine(p), true
	}
}

func (b *sheetBuilder) given(g *procedures.Given) []SheetField {
	combos, ok := b.t.combos(g.Each, b.t.env())
	if !ok {
		return nil
	}
	var out []SheetField
	for _, keys := range combos {
		e := b.s.env().bindAll(g.Each, keys)
		when, ok := b.applies(g.When, e)
		if !ok {
			continue
		}
		f := SheetField{No: b.s.plan.numbers[g.Name] + dotted(b.t.indices(g.Each, keys, b.t.env())), When: when, Open: b.open(g.Each),
			Question: b.s.givenQuestion(g, address(g.Name, keys...), e)}
		if f.Offer != nil {
			f.Says = f.Offer.Text + ", from " + f.Offer.From
		} else if len(b.s.live(f.Name, nil)) > 0 && g.Unit != nil {
			f.Says = quantity.Plain(b.s.env().given(g.Name).Mean().Num, *f.Unit)
		}
		out = append(out, f)
	}
	return out
}

func (b *sheetBuilder) open(each []*procedures.Each) bool {
	for _, e := range each {
		if count, _ := b.hangsOn(e.Of); count {
			return true
		}
	}
	return false
}

// step lists the rounds of a step; behind a correction, up to the gate that asked
// for it.
func (b *sheetBuilder) step(i int, st *procedures.Step, until *procedures.Gate) []SheetStep {
	s := b.s
	if s.idle.steps[st.Name] {
		return nil
	}
	var out []SheetStep
	for _, round := range b.t.rounds(st) {
		e := s.env().in(st, round)
		when, ok := b.applies(st.When, e)
		if !ok {
			continue
		}
		x := SheetStep{Step: st, N: i + 1, Round: round, Title: words(st.Title, e), When: when, Open: b.open(st.Each), Again: b.again,
			Do: s.sentences(st.Do, e), Tools: s.sentences(st.Tools, e)}
		cleared := maps.Clone(b.cleared)
		b.before(&x, e)
		b.items(&x, e, until)
		out = append(out, x)
		if when != "" { // whether it will be worked is not known: what comes after asks again
			b.cleared, b.spindle = cleared, procedures.AnySpindle
		}
	}
	return out
}

// number is the number of a slot in a round.
func (b *sheetBuilder) number(slot string, x *SheetStep) string {
	round := x.Round
	if strings.HasSuffix(slot, ".clear") {
		round = nil
	}
	return b.s.plan.numbers[slot] + letters(b.t.indices(x.Step.Each, round, b.t.env())) + b.mark()
}

func (b *sheetBuilder) mark() string {
	if b.again {
		return " again"
	}
	return ""
}

// before lists what is asked in front of a step.
func (b *sheetBuilder) before(x *SheetStep, e *env) {
	st, s := x.Step, b.s
	field := func(slot string, q Question) *SheetField {
		return &SheetField{No: b.number(slot, x), Question: q}
	}
	if q, ok := s.inTime(st, x.Round); ok {
		x.InTime = field(st.Name+"."+inTimeWord, q)
	}
	if q, ok := b.clear(address(st.Name, append(slices.Clone(x.Round), "clear")...), st.Cautions, st.Spindle, e); ok {
		x.Clear = field(st.Name+".clear", q)
	}
	if st.HoldPoint != nil {
		x.Release = field(st.Name+".release", Question{Kind: AskRelease, Name: releaseOf(st, x.Round), Text: true, Role: st.HoldPoint,
			Ask: "Hold point, released by the " + strings.ReplaceAll(st.HoldPoint.Name, "_", " ")})
	}
	if asksNothing(st) && len(st.Do) > 0 {
		x.Ask = field(st.Name, Question{Kind: AskDone, Name: address(st.Name, x.Round...), Ask: "Done"})
	}
}

// clear is what has to be clear that was not, as far as one comes on the sheet.
func (b *sheetBuilder) clear(name string, cautions []*procedures.Caution, spindle procedures.Spindle, e *env) (Question, bool) {
	q := Question{Kind: AskClear, Name: name, Ask: "All clear"}
	for _, c := range cautions {
		if !b.cleared[c.Name] {
			b.cleared[c.Name] = true
			q.Cautions = append(q.Cautions, CautionText{c.Name, words(c.Text, e), c.Hazard, c.Source})
		}
	}
	if spindle != procedures.AnySpindle && spindle != b.spindle {
		b.spindle = spindle
		q.SpindleTo = spindle
	}
	return q, len(q.Cautions) > 0 || q.SpindleTo != procedures.AnySpindle
}

// items lists the items of a step, with the corrections between them.
func (b *sheetBuilder) items(x *SheetStep, e *env, until *procedures.Gate) {
	blocks := b.s.plan.blocks[x.Step]
	for i, it := range x.Step.Items {
		for ; len(blocks) > 0 && blocks[0].before <= i; blocks = blocks[1:] {
			b.corrections(x, blocks[0], e)
		}
		if g, ok := it.(*procedures.Gate); ok && g == until {
			x.Parts = append(x.Parts, b.part(x, it, e))
			return
		}
		p := b.part(x, it, e)
		if p.Item == nil {
			continue
		}
		x.Parts = append(x.Parts, p)
	}
	for _, block := range blocks {
		b.corrections(x, block, e)
	}
}

// part is one item; without Item where it does not apply.
func (b *sheetBuilder) part(x *SheetStep, it procedures.Item, e *env) SheetPart {
	p := SheetPart{Item: it}
	field := func(q Question) {
		p.Fields = append(p.Fields, SheetField{No: b.number(it.ItemName(), x), Question: q, Item: it})
	}
	switch it := it.(type) {
	case *procedures.Confirm:
		field(Question{Kind: AskConfirm, Name: address(it.Name, x.Round...), Ask: words(it.Ask, e)})
	case *procedures.Wait:
		b.wait(x, it, e, field)
	case *procedures.Reading:
		if b.s.idle.readings[it.Name] {
			return SheetPart{}
		}
		b.reading(x, it, e, &p)
		if len(p.Fields) == 0 {
			return SheetPart{}
		}
	case *procedures.Result:
		p.Title, p.Positive = words(it.Title, e), words(it.Positive, e)
	case *procedures.Gate:
		p.Title, p.Positive = words(it.Title, e), words(it.Positive, e)
		if b.s.excluded(it.Name) != nil {
			return SheetPart{}
		}
		p.Limits = b.limits(it, x.Round)
	}
	return p
}

// pushed says how the needle is tested before the first value.
func (s *State) pushed(r *procedures.Reading, e *env) string {
	push := "Push the part " + words(r.Nudge, e) + " by hand"
	if r.Push != nil {
		push = strings.TrimRight(words(r.Push, e), ".")
	}
	return push + ". The needle goes"
}

// Known judges what is known of a given before a run, as it would be typed.
func (s *State) Known(name, text string) ([]Data, *Refusal) {
	first, keys := cut(name)
	g := s.plan.givens[first]
	if g == nil {
		return nil, refuse("name", "", name+" is not asked beforehand.", "")
	}
	return s.answerValue(s.givenQuestion(g, name, s.env().bindAll(g.Each, keys)), Input{Text: text})
}
