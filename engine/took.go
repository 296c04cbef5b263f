package engine

import (
	"fmt"
	"math"
	"strings"

	"waywright/checks/quantity"
)

// Where no movement of a correction is read, its report may tell how much of it
// was done: half of it first, as metal that cannot be put back is taken off. What
// it did is then held against what was done, and the ledger adds that.

// tookOf keeps how much of a correction was done.
func (s *State) tookOf(a *attempt, d Reported) error {
	if d.Took == nil && d.Share == 0 {
		return nil
	}
	share := d.Share
	if d.Took != nil {
		u, err := quantity.Lookup(d.Took.Unit)
		if err != nil || !tells(a.corr) || len(a.planned) != 1 || u.Dim != a.corr.Unit.Dim || a.amount() == 0 {
			return fmt.Errorf("it reports how much of %q was done, which is not asked", a.corr.Name)
		}
		share = math.Abs(u.Base(d.Took.Value) / a.amount())
	}
	if !tells(a.corr) || d.Took == nil && share > 1 || !(share > 0) || math.IsInf(share, 0) {
		return fmt.Errorf("it reports a share of %q that cannot be", a.corr.Name)
	}
	a.took, a.share = d.Took, share
	if a.corr.Should == nil {
		return nil
	}
	g, round, ok := s.gateAt(a.gate)
	if x, had := s.expectedChange(a.corr, amountValue(a.done(), a.stations), g, round); ok && had {
		a.expected = x
	} else {
		a.expected *= share
	}
	return nil
}

// done are the planned amounts as far as they were done.
func (a *attempt) done() []float64 {
	if a.share == 0 {
		return a.planned
	}
	out := make([]float64, len(a.planned))
	for i, v := range a.planned {
		out[i] = v * a.share
	}
	if a.took != nil && len(out) == 1 {
		if u, err := quantity.Lookup(a.took.Unit); err == nil { // as it was typed
			out[0] = math.Copysign(u.Base(a.took.Value), a.planned[0])
		}
	}
	return out
}

// answerDone takes the report of a correction of which no movement is read: that
// it is done, or how much of it.
func (s *State) answerDone(q Question, in Input) ([]Data, *Refusal) {
	ad := q.Ways[0].Advice
	d := Reported{Correction: ad.Correction.Name, Reason: in.Reason}
	if w, ok := pick(in.Text, []Choice{{"half", ""}}); ok && w == "half" {
		d.Share = 0.5
		return []Data{d}, nil
	}
	if y, ok := yes(in.Text); ok {
		if !y {
			return nil, refuse("done", "Not done yet.", "Nothing was kept.", "Take your time. Say yes when it is done, or pause.")
		}
		return []Data{d}, nil
	}
	if q.Unit == nil || !looksNumeric(in.Text) {
		mend := "Answer yes for all of it, or half."
		if q.Unit != nil {
			mend = "Answer yes for all of it, half, or how much in " + q.Unit.Spoken() + "."
		}
		return nil, refuse("choice", fmt.Sprintf("I read %q.", in.Text), "The correction is reported once it is done.", mend)
	}
	typed, err := quantity.Parse(in.Text, quantity.Context{Unit: *q.Unit, Inch: s.begun.Inch, One: true})
	switch {
	case err != nil:
		return nil, s.withExample(q, asParse(err))
	case len(typed) != 1 || typed[0].Value == 0 || typed[0].Value < 0 || strings.HasPrefix(strings.TrimSpace(in.Text), "-"):
		return nil, refuse("value", fmt.Sprintf("I read %q.", in.Text), "How much was done is one amount, without a sign.", "Type how much in "+q.Unit.Spoken()+", or yes for all of it.")
	}
	t := typed[0]
	d.Took = &Taken{Typed: t.Text, Value: t.Unit.Of(t.Value), Unit: t.Unit.Name}
	return []Data{d}, nil
}

// doneText reads back that a correction was done, and how much of it where that
// was told.
func (a *attempt) doneText(inch bool) string {
	done := a.done()
	switch {
	case a.share == 0:
		return "Done. Kept."
	case len(done) == 1:
		return strings.TrimSpace("Done: "+shown(*a.corr.Unit, abs(done[0]), inch)+" "+a.way(done[0])) + ". Kept."
	}
	return "Done: half of it. Kept."
}
