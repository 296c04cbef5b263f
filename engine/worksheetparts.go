package engine

import (
	"maps"
	"math"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
)

func (b *sheetBuilder) wait(x *SheetStep, w *procedures.Wait, e *env, field func(Question)) {
	q := Question{Kind: AskWait, Name: address(w.Name, x.Round...), Why: words(w.Why, e), Wait: &Waiting{}}
	if u := w.Until; u != nil {
		unit := quantity.InRun(u.Unit, b.s.begun.Inch)
		q.Unit, q.Instrument = &unit, b.s.inHand(u.With)
		b.s.decimals(&q)
		q.Wait.Takes, q.Wait.Agree, q.Wait.Every = u.Takes, u.Agree.Eval(e).Num, seconds(u.Every.Eval(e).Num)
		q.Ask, q.Takes = words(u.Ask, e), u.Takes
	}
	field(q)
}

// reading lists the places of a reading, in the order of asking.
func (b *sheetBuilder) reading(x *SheetStep, r *procedures.Reading, e *env, p *SheetPart) {
	s := b.s
	combos, ok := b.t.keysOf(r, x.Round)
	if !ok {
		return
	}
	open := b.open(r.Each)
	var way []SheetField
	for _, keys := range combos {
		when, ok := b.applies(r.When, e.bindAll(r.Each, keys))
		if !ok {
			continue
		}
		way = append(way, b.row(x, r, e, keys, when, open)...)
	}
	if len(way) == 0 {
		return
	}
	if b.s.firstTest(r, x.Round) {
		p.Fields = append(p.Fields, SheetField{No: b.number(r.Name+".nudge", x), Item: r, Question: Question{
			Kind: AskNudge, Name: nudgeOf(r, x.Round), Ask: s.pushed(r, e),
			Choices: []Choice{{"plus", "plus"}, {"minus", "minus"}}}})
	}
	p.Fields = append(p.Fields, way...)
	switch first := way[0]; {
	case r.BothWays:
		for _, f := range slices.Backward(way) {
			f.Back, f.No = true, strings.TrimSuffix(f.No, b.mark())+" back"+b.mark()
			p.Fields = append(p.Fields, f)
		}
	case r.Closure != nil && len(way) > 1:
		first.Again, first.Takes, first.No = true, 0, strings.TrimSuffix(first.No, b.mark())+" once more"+b.mark()
		p.Fields = append(p.Fields, first)
	}
}

// row lists the stations of a reading for one set of its keys: one where it has
// none.
func (b *sheetBuilder) row(x *SheetStep, r *procedures.Reading, e *env, keys []string, when string, open bool) []SheetField {
	ek := b.t.env().in(x.Step, x.Round).bindAll(r.Each, keys)
	no := b.s.plan.numbers[r.Name] + letters(b.t.indices(x.Step.Each, x.Round, b.t.env())) + dotted(b.t.indices(r.Each, keys, b.t.env().in(x.Step, x.Round)))
	full := append(slices.Clone(x.Round), keys...)
	at, row, ok := b.t.stations(r, ek)
	if !row {
		return []SheetField{b.place(r, e.bindAll(r.Each, keys), SheetField{No: no + b.mark(), When: when, Open: open, Item: r, Question: Question{Keys: full}})}
	}
	count, any := b.hangsOn(r.Along, r.Around)
	unknown := !ok || any
	if !ok {
		at = make([]float64, 8)
	}
	var out []SheetField
	for i, z := range at {
		f := SheetField{No: no + dotted([]int{i}) + b.mark(), When: when, Open: open || count || !ok, Item: r, Question: Question{Keys: full, Where: z, Station: i + 1, Stations: len(at)}}
		if unknown {
			f.Where = math.NaN()
		}
		out = append(out, b.place(r, e.bindAll(r.Each, keys), f))
	}
	return out
}

// place fills in what is asked at a place.
func (b *sheetBuilder) place(r *procedures.Reading, e *env, f SheetField) SheetField {
	if f.Stations > 0 && !math.IsNaN(f.Where) {
		e = e.bind("station", value.Num(f.Where)).bind("angle", value.Num(f.Where))
	}
	q := &f.Question
	q.Kind, q.Name, q.Ask, q.Positive = AskReading, address(r.Name, q.Keys...), words(r.Ask, e), words(r.Positive, e)
	if f.Stations > 0 && !math.IsNaN(f.Where) {
		z := f.Where
		if r.Around != nil {
			z *= 180 / math.Pi
		}
		q.Name += "." + stationKey(z)
	}
	q.Instrument, q.Turned = b.s.inHand(r.With), r.Turned
	b.s.answerForm(q, &r.Answer, e)
	b.s.decimals(q)
	if r.Repeat > 1 {
		q.Takes = r.Repeat
	}
	return f
}

// corrections lists those that stand at a place of a step, with what is read
// again after them. What is cleared there does not count on the straight path, on
// which none is carried out.
func (b *sheetBuilder) corrections(x *SheetStep, at correctionsAt, e *env) {
	if b.again {
		return
	}
	cleared, spindle := b.cleared, b.spindle
	defer func() { b.cleared, b.spindle, b.again = cleared, spindle, false }()
	p := SheetPart{}
	spoilt := map[*procedures.Step]bool{}
	both := maps.Clone(cleared)
	for _, c := range at.list {
		when, ok := b.applies(c.When, e)
		if !ok {
			continue
		}
		b.cleared, b.spindle = maps.Clone(cleared), spindle
		y := b.correction(c, x, at, e)
		y.When = when
		for _, st := range y.Spoils {
			spoilt[st] = true
		}
		maps.DeleteFunc(both, func(name string, _ bool) bool { return !b.cleared[name] })
		p.Corrections = append(p.Corrections, y)
	}
	if len(p.Corrections) == 0 {
		return
	}
	b.cleared, b.spindle, b.again = both, procedures.AnySpindle, true
	for i, st := range b.s.plan.proc.Steps {
		if !spoilt[st] {
			continue
		}
		var until *procedures.Gate
		if st == x.Step {
			until = at.gates[len(at.gates)-1]
		}
		b.spindle = procedures.AnySpindle // not every correction has all of them worked again
		p.Again = append(p.Again, b.step(i, st, until)...)
	}
	x.Parts = append(x.Parts, p)
}

// correction is one correction, and what is asked of it.
func (b *sheetBuilder) correction(c *procedures.Correction, x *SheetStep, at correctionsAt, e *env) SheetCorrection {
	s := b.s
	y := SheetCorrection{Correction: c, Title: words(c.Title, e), Positive: words(c.Positive, e), Negative: words(c.Negative, e),
		Do: s.sentences(c.Do, e), First: !b.placed[c]}
	b.placed[c] = true
	for _, g := range at.gates {
		if slices.ContainsFunc(g.IfFailed, func(w procedures.Way) bool { return w.Correction == c }) {
			y.Gates = append(y.Gates, words(g.Title, e))
		}
	}
	if q, ok := b.clear(c.Name+".clear", c.Cautions, c.Spindle, e); ok {
		y.Clear = &SheetField{No: s.plan.numbers[c.Name+".clear"], Question: q}
	}
	report := Question{Kind: AskDone, Name: c.Name, Ask: "Done"}
	if m := c.Moved; m != nil {
		if m.With != nil && !slices.Contains(s.plan.readWith, m.With) {
			f := b.instrument(m.With)
			y.With = &f
		}
		report = s.movedQuestion(c, e)
	} else if c.Amount != nil {
		u := quantity.InRun(*c.Unit, s.begun.Inch)
		report.Unit = &u
	}
	y.Report = &SheetField{No: s.plan.numbers[report.Name], Question: report}
	for i, st := range s.plan.proc.Steps {
		if i < x.N && slices.Contains(s.plan.SpoiltBy(c), st) {
			y.Spoils = append(y.Spoils, st)
		}
	}
	return y
}
