package engine

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/register"
)

// answerInstrument takes the answer to which instrument is in the hand. What
// does not suit what it is to read is said at once, once for each instrument,
// and it is kept only with a reason (measure rules 13 and 20).
func (s *State) answerInstrument(now time.Time, question string, in Input) ([]Data, *Refusal) {
	name := strings.TrimPrefix(question, "instrument.")
	if in.Text = strings.TrimSpace(in.Text); in.Text == "" {
		return nil, refuse("value", "I read nothing.", "Enter alone answers nothing.", "Type its number, or none.")
	}
	if strings.EqualFold(in.Text, "none") {
		return []Data{Bound{Name: name}}, nil
	}
	b := Bound{ID: in.Text}
	if in.Known != nil {
		b = *in.Known
	}
	b.Name, b.Reason = name, in.Reason
	p := s.plan.instruments[name]
	if p == nil {
		return []Data{b}, nil
	}
	b.Odd = append(s.oddities(p, b), unvouched(b, in, now)...)
	had := s.bound[name]
	var unsaid []string
	for _, o := range b.Odd {
		if o.insisted() && !(had.ID == b.ID && slices.Contains(had.Odd, o)) {
			unsaid = append(unsaid, o.Said)
		}
	}
	switch {
	case strings.TrimSpace(in.Reason) != "":
	case len(unsaid) > 0:
		return nil, &Refusal{Code: "instrument", Keep: true, Understood: fmt.Sprintf("I read %s.", b.ID),
			Wrong: strings.Join(unsaid, " "), Mend: "Name another, or keep it and say why."}
	case had.ID == b.ID:
		b.Reason = had.Reason
	}
	return []Data{b}, nil
}

// unvouched tells where nobody vouches for an instrument: its calibration has
// ended, or the shop, which has a register, does not have it there.
func unvouched(b Bound, in Input, now time.Time) []Oddity {
	var out []Oddity
	if b.Due != "" && b.Due < now.Format(time.DateOnly) {
		out = append(out, Oddity{oddOverdue, fmt.Sprintf("Its calibration ended %s.", b.Due)})
	}
	if in.Known == nil && in.Shop != "" {
		out = append(out, Oddity{oddUnlisted, fmt.Sprintf("The logbook does not have it. It has %s.", in.Shop)})
	}
	return out
}

// oddities tells what does not suit about a real instrument in the place of
// one of the procedure's.
func (s *State) oddities(p *procedures.Instrument, b Bound) []Oddity {
	u, err := quantity.Lookup(b.Unit)
	if err == nil && u.Dim != p.Dim {
		return []Oddity{{oddKind, fmt.Sprintf("The logbook has it as %s, which reads %s; asked for is %s, which reads %s.", cmp.Or(b.What, "something"), u.Dim, kindOf(p), p.Dim)}}
	}
	var out []Oddity
	if b.What != "" && p.Kind != "" && !register.SameKind(b.What, p.Kind) {
		out = append(out, Oddity{oddKind, fmt.Sprintf("The logbook has it as %s; asked for is %s.", b.What, p.Kind)})
	}
	if o, ok := s.outOfReach(p, b); ok {
		out = append(out, o)
	}
	return append(out, s.tooCoarse(p, b)...)
}

func kindOf(p *procedures.Instrument) string {
	if p.Kind == "" {
		return strings.ReplaceAll(p.Name, "_", " ")
	}
	return p.Kind
}

// reach is what a real instrument can read on its own scale, in base units.
func reach(p *procedures.Instrument, b Bound) *Range {
	if len(b.Reads) != 2 {
		return nil
	}
	if u, err := quantity.Lookup(b.Unit); err == nil && u.Dim != p.Dim {
		return nil
	}
	f := factor(b.Unit, p.Unit)
	return &Range{tidy(b.Reads[0] * f), tidy(b.Reads[1] * f)}
}

// tidy takes away what changing units leaves in the last digits.
func tidy(x float64) float64 {
	if x == 0 {
		return 0
	}
	scale := math.Pow(10, 9-math.Floor(math.Log10(math.Abs(x))))
	return math.Round(x*scale) / scale
}

// wantedOf is the span of plausible values that an instrument is to read, as far
// as it is known, and the unit in which they are shown.
func (s *State) wantedOf(p *procedures.Instrument) (r Range, u quantity.Unit, ok bool) {
	r = Range{math.Inf(1), math.Inf(-1)}
	add := func(a *procedures.Answer, e *env) {
		if a.Unit == nil {
			return
		}
		q := Question{}
		s.answerForm(&q, a, e)
		if q.Range != nil {
			r = Range{min(r.From, q.Range.From), max(r.To, q.Range.To)}
			u, ok = *q.Unit, true
		}
	}
	for _, g := range s.plan.proc.Givens {
		if g.With != p {
			continue
		}
		combos, _ := s.combos(g.Each, s.env())
		for _, keys := range combos {
			add(&g.Answer, s.env().bindAll(g.Each, keys))
		}
	}
	for _, st := range s.plan.proc.Steps {
		if s.isOut(st) {
			continue
		}
		for _, it := range st.Items {
			x, isReading := it.(*procedures.Reading)
			if !isReading || x.With != p {
				continue
			}
			for _, round := range s.rounds(st) {
				e := s.env().in(st, round)
				places, _ := s.places(x, round)
				for _, at := range places {
					add(&x.Answer, s.atPlace(e, x, at, len(round)))
				}
				if len(places) == 0 {
					add(&x.Answer, e)
				}
			}
		}
	}
	return r, u, ok
}

// isOut tells whether a condition that is known keeps a step out of the run.
func (s *State) isOut(st *procedures.Step) bool {
	if st.When == nil {
		return false
	}
	w := st.When.Eval(s.env().in(st, nil))
	return w.State == value.Present && !w.Truth
}

// outOfReach tells where an instrument cannot read what it is to read. One
// that shows the size itself must have it on its scale; one that is set to
// nothing anywhere must have the travel.
func (s *State) outOfReach(p *procedures.Instrument, b Bound) (Oddity, bool) {
	has := reach(p, b)
	want, u, ok := s.wantedOf(p)
	if has == nil || !ok {
		return Oddity{}, false
	}
	say := func(x float64) string { return quantity.Plain(tidy(x), u) }
	if absolute(p, b, want) {
		off := fmt.Sprintf("It reads %s to %s", say(has.From), say(has.To))
		switch {
		case want.From > has.To || want.To < has.From:
			return Oddity{oddRange, fmt.Sprintf("%s; what is to be read here lies between %s and %s.", off, say(want.From), say(want.To))}, true
		case want.From < has.From-tiny(has.From) || want.To > has.To+tiny(has.To):
			return Oddity{oddPart, fmt.Sprintf("%s; what is to be read here may lie between %s and %s.", off, say(want.From), say(want.To))}, true
		}
		return Oddity{}, false
	}
	travel, span := has.To-has.From, want.To-want.From
	switch {
	case travel < span/2:
		return Oddity{oddRange, fmt.Sprintf("It travels %s in all; what is to be read here may span %s.", say(travel), say(span))}, true
	case travel < span*(1-1e-9):
		return Oddity{oddPart, fmt.Sprintf("It travels %s in all; what is to be read here may span %s.", say(travel), say(span))}, true
	}
	return Oddity{}, false
}

// absolute tells whether an instrument shows the size itself. Values on both
// sides of nothing are read from a nothing that was set.
func absolute(p *procedures.Instrument, b Bound, want Range) bool {
	kind := b.What
	if kind == "" {
		kind = p.Kind
	}
	return register.Absolute(kind) && (want.From >= 0 || p.Dim == quantity.TempDiff)
}

// offScale notices a value that the instrument in the hand cannot read (measure
// rule 20).
func offScale(q Question, t quantity.Typed, read func() string) *Refusal {
	in := q.Instrument
	if in == nil || in.Reads == nil || q.Unit == nil {
		return nil
	}
	r := *in.Reads
	travel := r.To - r.From
	switch {
	case t.Value >= r.From-tiny(r.From) && t.Value <= r.To+tiny(r.To):
		return nil
	case (!in.absolute || q.Kind != AskReading && q.Kind != AskGiven) && math.Abs(t.Value) <= travel*(1+1e-9):
		return nil
	}
	id := in.ID
	if id == "" {
		id = "The instrument"
	}
	return &Refusal{Code: "range", Understood: read(), Keep: true,
		Wrong: fmt.Sprintf("%s reads %s to %s only.", id, quantity.Plain(r.From, *q.Unit), quantity.Plain(r.To, *q.Unit)),
		Mend:  "Measure again, name another instrument, or keep it and say why."}
}

// keptInstrument reads back which instrument was taken, with what is said of
// it without asking. What was said of the same instrument before is not said
// again.
func (s *State) keptInstrument(before *State, ev Event, d Bound) string {
	if d.Skipped || d.ID == "" {
		return s.brokenBy(ev.N)
	}
	text := fmt.Sprintf("Instrument %s: %s. Kept.", d.Name, d.ID)
	had := before.bound[d.Name]
	again := had.ID == d.ID
	if d.Reason != "" && len(d.Odd) > 0 && !(again && had.Reason == d.Reason) {
		text = fmt.Sprintf("Instrument %s: %s. Kept, because %s.", d.Name, d.ID, strings.TrimSuffix(d.Reason, "."))
	}
	for _, o := range d.Odd {
		if !o.insisted() && !(again && slices.Contains(had.Odd, o)) {
			text += " " + o.Said
		}
	}
	said := slices.ContainsFunc(before.plan.proc.Instruments, func(p *procedures.Instrument) bool {
		b, ok := before.bound[p.Name]
		return ok && b.ID == d.ID && b.Due == d.Due
	})
	asked := slices.ContainsFunc(d.Odd, func(o Oddity) bool { return o.What == oddOverdue })
	if d.Due != "" && d.Due < ev.Time.Format(time.DateOnly) && !said && !asked {
		text += fmt.Sprintf(" Its calibration ended %s. The record says so.", d.Due)
	}
	if broken := s.brokenBy(ev.N); broken != "" {
		text += " " + broken
	}
	return text
}

// endedSince tells at the start of a sitting which instruments in use have
// come to the end of their calibration since they were last used.
func (s *State) endedSince(before *State, ev Event) []Notice {
	var out []Notice
	var told []string
	today, last := ev.Time.Format(time.DateOnly), before.timeOfLast().Format(time.DateOnly)
	for _, p := range s.plan.proc.Instruments {
		b := s.bound[p.Name]
		if b.ID == "" || b.Due == "" || b.Due >= today || b.Due < last || slices.Contains(told, b.ID) {
			continue
		}
		told = append(told, b.ID)
		out = append(out, Notice{Kind: Kept, Name: "instrument." + p.Name, Text: fmt.Sprintf("%s: its calibration ended %s. The record says so.", b.ID, b.Due)})
	}
	return out
}

// anotherInstrument is why readings are asked again when the instrument
// changes.
const anotherInstrument = "another instrument was taken before the set was whole"

// breakCycles asks again what was begun with another instrument: one cycle,
// one instrument. A set is asked again whole, of other readings the row or the
// place that is not whole yet. What is whole stays, with the figures of the
// instrument that it was read with.
func (s *State) breakCycles(p *procedures.Instrument) {
	for _, st := range s.plan.proc.Steps {
		for _, it := range st.Items {
			r, ok := it.(*procedures.Reading)
			if !ok || r.With != p {
				continue
			}
			for _, round := range s.rounds(st) {
				s.breakCycle(r, round)
			}
		}
	}
}

func (s *State) breakCycle(r *procedures.Reading, round []string) {
	open, ok := s.open(r, round)
	if !ok || len(open) == 0 {
		return
	}
	rows := map[string]bool{}
	for _, at := range open {
		rows[address(r.Name, at.keys...)] = true
	}
	places, _ := s.places(r, round)
	for _, at := range places {
		id := at.element(r)
		if s.facts[id] == nil || !isSet(r) && !rows[address(r.Name, at.keys...)] {
			continue
		}
		f := s.edit(id)
		for i, t := range f.takes {
			if t.void == "" && t.work == s.work[r.Step.Name] {
				f.takes[i].void, f.takes[i].voidN = anotherInstrument, s.Len()
			}
		}
	}
}

// brokenBy tells how much is asked again because of the change of instrument
// in event n; it is empty where nothing is.
func (s *State) brokenBy(n int) string {
	values := 0
	for _, f := range s.facts {
		for _, t := range f.takes {
			if t.voidN == n && t.void == anotherInstrument {
				values++
			}
		}
	}
	switch values {
	case 0:
		return ""
	case 1:
		return "One cycle, one instrument: 1 value is asked again. The old one is kept."
	}
	return fmt.Sprintf("One cycle, one instrument: %d values are asked again. The old ones are kept.", values)
}

// sameInstrument tells whether a take was read with the instrument that is in
// the hand now.
func (s *State) sameInstrument(t take, p *procedures.Instrument) bool {
	return p == nil || s.boundAs(t.bound).ID == s.bound[p.Name].ID
}
