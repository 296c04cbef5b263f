package engine

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"waywright/checks/quantity"
	"waywright/procedures"
)

// answerValue takes the answer to a given or a reading.
func (s *State) answerValue(q Question, in Input) ([]Data, *Refusal) {
	switch {
	case q.File:
		if in.File == nil {
			return nil, refuse("value", fmt.Sprintf("I read %q.", in.Text), "A file is wanted: a photograph or a scan.", "Type attach and the file's name.")
		}
		return []Data{Answered{Name: q.Name, File: in.File, Word: in.File.Name}}, nil
	case len(q.Choices) > 0:
		return s.answerWord(q, in)
	case q.Text:
		return []Data{Answered{Name: q.Name, Word: in.Text, Reason: in.Reason}}, nil
	}
	d := Answered{Name: q.Name}
	switch over, ok := takeOver(q, in); {
	case ok && len(over.Takes) > 0:
		return []Data{over}, nil
	case ok:
		d.From, d.DoF, in.Text = over.From, over.DoF, q.Offer.exact
	case q.OfferOnly:
		return nil, cannotBeTyped(q, in)
	}
	most := 1
	if q.Kind == AskReading {
		most = max(1, q.Remaining)
	}
	takes, odd, ref := s.numbersFrom(q, in, most)
	if ref != nil {
		return nil, ref
	}
	d.Takes, d.Odd = takes, odd
	if odd != "" { // else a reason would only puzzle the reader of the record
		d.Reason = in.Reason
	}
	switch insists, ref := s.closing(q, d, in); {
	case ref != nil:
		return nil, ref
	case insists:
		d.Reason = in.Reason
	}
	return []Data{d}, nil
}

// takeOver takes over what is offered, where that was answered: with its takes,
// as they were found, or, from an entry of the logbook, as it reads.
func takeOver(q Question, in Input) (d Answered, ok bool) {
	if q.Offer == nil || !strings.EqualFold(in.Text, "offered") {
		return d, false
	}
	d = Answered{Name: q.Name, From: q.Offer.From, DoF: q.Offer.DoF}
	if (q.Offer.Run != "" || q.Offer.Assumed) && q.Unit != nil && !q.Count {
		u := *q.Unit // as it is, not as it is shown
		d.U = q.Offer.U / u.Factor
		d.Takes = []Taken{{Typed: q.Offer.exact, Value: u.Of(q.Offer.Value), Unit: u.Name}}
	}
	return d, true
}

// cannotBeTyped refuses a value that only an accepted run, or an entry of the
// logbook, can give.
func cannotBeTyped(q Question, in Input) *Refusal {
	understood := fmt.Sprintf("I read %q.", in.Text)
	if q.Offer == nil {
		why := q.Why
		if why == "" {
			why = "This value cannot be typed."
		}
		return refuse("offer", understood, why, "There is none at present that holds.")
	}
	return refuse("offer", understood, "This value comes from "+q.Offer.From+" and cannot be typed.", "Type offered to take it over.")
}

// numbersFrom reads one number, or the row of all that remain. Odd values are
// refused unless a reason comes with them; odd then says what was odd.
func (s *State) numbersFrom(q Question, in Input, most int) (takes []Taken, odd string, ref *Refusal) {
	if q.Count {
		t, ref := s.countFrom(q, in)
		if ref != nil && !(ref.Keep && in.Reason != "") {
			return nil, "", ref
		}
		if ref != nil {
			odd = ref.Wrong
		}
		return []Taken{t}, odd, nil
	}
	c := s.context(q)
	c.One = most == 1
	typed, err := quantity.Parse(in.Text, c)
	if err != nil {
		return nil, "", s.withExample(q, asParse(err))
	}
	if len(typed) != 1 && len(typed) != most {
		what, mend := "One is wanted.", "Type one value."
		if most > 1 {
			what, mend = fmt.Sprintf("%d are wanted.", most), fmt.Sprintf("Type the next value alone, or all %d that are left.", most)
		}
		return nil, "", refuse("count", fmt.Sprintf("I read %s: %s.", values(len(typed)), in.Text), what, mend)
	}
	for i, t := range typed {
		k := Taken{Typed: t.Text, Value: t.Unit.Of(t.Value), Unit: t.Unit.Name, Way: t.Way}
		if _, err := quantity.Lookup(k.Unit); err != nil && q.Unit != nil {
			k.Value, k.Unit = q.Unit.Of(t.Value), q.Unit.Name // divisions mean nothing without their instrument
		}
		r := s.oddInRow(q, typed, i)
		switch {
		case r == nil:
		case in.Reason == "" || !r.Keep:
			return nil, "", r
		case !strings.Contains(odd, r.Wrong):
			odd = strings.TrimSpace(odd + " " + r.Wrong)
		}
		takes = append(takes, k)
	}
	return takes, odd, nil
}

// withExample puts what fits the question in the place of a parser's general
// example.
func (s *State) withExample(q Question, r *Refusal) *Refusal {
	switch {
	case q.Unit == nil || !strings.HasPrefix(r.Mend, "Type a number in"):
	case q.Kind == AskMoved || q.Kind == AskMove || q.Kind == AskWay:
		r.Mend = fmt.Sprintf("Type how far and which way, such as %s %s.", quantity.Plain(0.1*q.Unit.Factor, *q.Unit), q.Positive)
	case q.Range != nil:
		r.Mend = fmt.Sprintf("Type a number in %s, between %s and %s.", q.Unit.Spoken(), quantity.Plain(q.Range.From, *q.Unit), quantity.Plain(q.Range.To, *q.Unit))
	}
	return r
}

func values(n int) string {
	if n == 1 {
		return "1 value"
	}
	return strconv.Itoa(n) + " values"
}

func (s *State) countFrom(q Question, in Input) (Taken, *Refusal) {
	n, err := strconv.Atoi(strings.TrimPrefix(in.Text, "+"))
	if err != nil {
		return Taken{}, refuse("value", fmt.Sprintf("I read %q.", in.Text), "That is not a whole number.", "Type a whole number, without a unit.")
	}
	t := Taken{Typed: in.Text, Value: float64(n), Unit: "1"}
	if r := q.Range; r != nil && (t.Value < r.From || t.Value > r.To) {
		ref := refuse("range", fmt.Sprintf("I read %d.", n), fmt.Sprintf("Expected %g to %g.", r.From, r.To), "Type it again.")
		return t, ref // a count out of its range is not kept: the longest path hangs on it
	}
	return t, nil
}

// context is what a typed number may lean on.
func (s *State) context(q Question) quantity.Context {
	c := quantity.Context{Inch: s.begun.Inch}
	if q.Unit != nil {
		c.Unit = *q.Unit
	}
	if q.Instrument != nil {
		c.Division = q.Instrument.Resolution
	}
	if q.Positive != "" && (q.Kind == AskMoved || q.Kind == AskMove || q.Kind == AskWay) {
		c.Plus = []string{q.Positive}
		if q.Negative != "" {
			c.Minus = []string{q.Negative}
		}
	}
	return c
}

// oddValue tells what is odd about a value, or nil.
func (s *State) oddValue(q Question, t quantity.Typed, before []float64) *Refusal {
	u := t.Unit
	if q.Unit != nil {
		u = *q.Unit
	}
	read := func() string { return "I read " + quantity.Plain(t.Value, t.Unit) + "." }
	if r := q.Range; r != nil && (t.Value < r.From-tiny(r.From) || t.Value > r.To+tiny(r.To)) {
		ref := &Refusal{Code: "range", Understood: read(), Keep: true,
			Wrong: fmt.Sprintf("Expected %s to %s.", quantity.Plain(r.From, u), quantity.Plain(r.To, u)),
			Mend:  anew(q) + ", or keep it and say why."}
		s.otherUnit(q, t, r, ref)
		return ref
	}
	if ref := offScale(q, t, read); ref != nil {
		return ref
	}
	if q.Kind != AskReading {
		return nil
	}
	if slip := s.turnSlip(q, t, read); slip != nil {
		return slip
	}
	if ref := s.strays(q, t, before, read); ref != nil {
		return ref
	}
	return s.copied(q, t, before, read)
}

func tiny(x float64) float64 { return 1e-9 * math.Abs(x) }

// otherUnit suggests the unit that may have been meant.
func (s *State) otherUnit(q Question, t quantity.Typed, r *Range, ref *Refusal) {
	if t.HasUnit || q.Unit == nil {
		return
	}
	for _, name := range []string{"mm", "inch", "um"} {
		u, err := quantity.Lookup(name)
		if err != nil || u.Dim != q.Unit.Dim || u.Name == q.Unit.Name {
			continue
		}
		v := u.Base(t.Unit.Of(t.Value))
		if v >= r.From && v <= r.To {
			typed := t.Text + " " + u.Symbol
			ref.Suggest = append(ref.Suggest, Choice{typed, "it was " + typed})
			ref.Mend = fmt.Sprintf("As %s it would fit. Type %s if you mean that.", u.Symbol, typed)
			return
		}
	}
}

// turnSlip notices a take that is whole turns of the screw or pointer away
// from the earlier ones.
func (s *State) turnSlip(q Question, t quantity.Typed, read func() string) *Refusal {
	if q.Takes < 2 || q.Take < 2 {
		return nil
	}
	r, id := s.readingOf(q.Name)
	if r == nil || r.With == nil {
		return nil
	}
	in := s.instrument(r.With)
	earlier := s.liveParts(id, r)
	if in.Turn <= 0 || len(earlier) == 0 {
		return nil
	}
	off := t.Value - meanOf(earlier)
	turns := math.Round(off / in.Turn)
	near := math.Max(5*in.Resolution, in.Turn/10)
	if turns == 0 || math.Abs(off-turns*in.Turn) > near {
		return nil
	}
	u := *q.Unit
	was := quantity.Format(t.Value-turns*in.Turn, u, q.Decimals)
	n := "one whole turn"
	if k := math.Abs(turns); k > 1 {
		n = fmt.Sprintf("%g whole turns", k)
	}
	over := "above"
	if off < 0 {
		over = "below"
	}
	return &Refusal{Code: "turn", Understood: read(), Keep: true,
		Wrong:   fmt.Sprintf("That is %s %s the earlier takes: %s.", quantity.Format(math.Abs(off), u, q.Decimals), over, n),
		Mend:    "Measure again, correct it, or keep it and say why.",
		Suggest: []Choice{{was, "it was " + was}}}
}

// readingOf finds the reading and the element that a question's name means.
func (s *State) readingOf(name string) (*procedures.Reading, string) {
	first := nameIn(name)
	r, ok := s.plan.items[first].(*procedures.Reading)
	if !ok {
		return nil, ""
	}
	id, _ := s.elementOf(name)
	return r, id
}

func (s *State) liveParts(id string, r *procedures.Reading) []take {
	return s.live(id, r.Step)
}

// closing refuses an answer that leaves a set beyond its closure once three
// sets were void: the person then goes on with a reason (semantics rule 20).
// needed tells that the reason which was given is one for that.
func (s *State) closing(q Question, d Answered, in Input) (needed bool, ref *Refusal) {
	r, _ := s.readingOf(q.Name)
	if q.Kind != AskReading || r == nil || r.Closure == nil {
		return false, nil
	}
	round, _, ok := s.findOpen(r, q.Name)
	key := address(r.Name, round...)
	if !ok || s.voids[key] < mostVoids {
		return false, nil
	}
	d.Reason = ""
	t := s.clone()
	if err := t.keepReading(Event{N: s.Len() + 1}, d, r); err != nil || t.voids[key] == s.voids[key] {
		return false, nil
	}
	if in.Reason != "" {
		return true, nil
	}
	moved, _ := t.lastDrift(r, round)
	last := d.Takes[len(d.Takes)-1].base()
	return false, &Refusal{Code: "closure", Keep: true, Understood: "I read " + quantity.Plain(last, *q.Unit) + ".",
		Wrong: fmt.Sprintf("Three sets are void already, and this one moved %s again.", quantity.Plain(math.Abs(moved), *q.Unit)),
		Mend:  "Stop and find the cause, or go on with a reason, which the record keeps."}
}

// answerMoved takes how far a correction went, of which asked was to be gone.
func (s *State) answerMoved(q Question, asked float64, in Input) ([]Data, *Refusal) {
	takes, _, ref := s.numbersFrom(q, in, 1)
	if ref == nil {
		ref = s.divisionsMeant(q, asked, in)
	}
	if ref != nil {
		return nil, ref
	}
	name := strings.TrimSuffix(q.Name, ".moved")
	return []Data{Reported{Correction: name, Moved: &takes[0], Reason: in.Reason}}, nil
}

// answerMove takes the answer to a movement that was not as asked.
func (s *State) answerMove(q Question, in Input) ([]Data, *Refusal) {
	c := q.Move.Correction
	if w, ok := pick(in.Text, append(q.Choices, Choice{"plus", ""}, Choice{"minus", ""}, Choice{"nowhere", ""})); ok {
		return []Data{MoveJudged{Correction: c.Name, How: w}}, nil
	}
	if q.Move.Nudge {
		return nil, refuse("choice", fmt.Sprintf("I read %q.", in.Text), "That is not one of the choices.", s.wanted(q))
	}
	takes, _, ref := s.numbersFrom(q, in, 1)
	if ref == nil {
		ref = s.divisionsMeant(q, q.Move.Left, in)
	}
	if ref != nil {
		return nil, ref
	}
	return []Data{Reported{Correction: c.Name, Moved: &takes[0], Further: true, Reason: in.Reason}}, nil
}
