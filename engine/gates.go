package engine

import (
	"math"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/procedures"
)

// gateQuestion returns what is to be settled at a gate, if anything.
func (s *State) gateQuestion(g *procedures.Gate, round []string, e *env) (Question, bool) {
	if s.passedBy(g) {
		return Question{}, false
	}
	j := s.judge(g, round)
	switch j.Verdict {
	case checks.Pass, checks.NotApplied, checks.Open:
		return Question{}, false
	}
	if j.Conceded != nil || g.Noted() {
		return Question{}, false
	}
	if q, ok := s.pending(&j, e); ok {
		return q, true
	}
	return s.wayQuestion(&j, e), true
}

func (s *State) wayQuestion(j *Judgement, e *env) Question {
	look := s.looks(j)
	ways, withheld, spent := s.ways(j, s.readFirst(j, look))
	q := Question{Kind: AskWay, Name: j.Name, Gate: j, Ways: ways, Ask: "What now?", Response: s.lastResponse(j), Suspicions: look, Withheld: withheld}
	if !s.plan.unread {
		q.Change = s.changed(*j)
	}
	if r := q.Response; r != nil && q.Change.saidOf(r) {
		q.Change = nil
	}
	for _, w := range ways {
		q.Choices = append(q.Choices, Choice{w.Name, w.Name})
	}
	if ad := ways[0].Advice; ad != nil {
		q.Also = []string{ad.Report}
		c := ad.Correction
		if clear, ok := s.clearQuestion(c.Name+".clear", c.Cautions, c.Spindle, e); ok {
			q.Also, q.Clear = append(q.Also, clear.Name), &clear
		}
		q.Positive, q.Negative = words(ad.Correction.Positive, e), words(ad.Correction.Negative, e)
		if ad.Correction.Moved != nil {
			u := quantity.InRun(ad.Correction.Moved.Unit, s.begun.Inch)
			q.Unit = &u
			q.Instrument = ad.Instrument
		}
	}
	if spent || !j.Gate.Corrects() {
		for _, t := range j.Gate.Upstream {
			q.Open = append(q.Open, s.upstream(t))
		}
	}
	return q
}

func (s *State) upstream(t procedures.Target) string {
	if t.Gate != nil {
		return words(t.Gate.Title, s.env())
	}
	return t.Accepted
}

// pending returns the question for a correction that was chosen at a gate and
// not yet reported, while the choice still holds (semantics rule 43).
func (s *State) pending(j *Judgement, e *env) (Question, bool) {
	ch := s.chosen[j.Name]
	if ch == nil {
		return Question{}, false
	}
	a := &s.attempts[ch.attempt]
	if q, ok := s.clearQuestion(a.corr.Name+".clear", a.corr.Cautions, a.corr.Spindle, e); ok {
		return q, true
	}
	ad := s.adviceOf(a)
	q := Question{Kind: AskDone, Name: a.corr.Name, Ask: "Done?", Do: ad.Do, Gate: j, Ways: []Offered{{a.corr.Name, WayCorrection, ad}}}
	if m := a.corr.Moved; m != nil {
		if iq, ok := s.instrumentQuestion(m.With); ok {
			return iq, true
		}
		moved := s.movedQuestion(a.corr, e)
		moved.Do, moved.Gate, moved.Ways = q.Do, q.Gate, q.Ways
		q = moved
	}
	if ad.Tells {
		q.Choices = []Choice{{"yes", "done, all of it"}, {"half", "half of it, as a first pass"}}
		if len(a.planned) == 1 {
			u := quantity.InRun(ad.Unit, s.begun.Inch)
			q.Unit = &u
		}
	}
	return q, true
}

// adviceOf is the advice of an attempt as it was planned.
func (s *State) adviceOf(a *attempt) *Advice {
	ad := &Advice{Correction: a.corr, Title: a.title, Do: a.do, Report: a.corr.Name, Gain: a.gain,
		Left: a.corr.Attempts - s.reports(a.corr), HasAmount: len(a.planned) > 0, At: a.stations, Amounts: a.planned,
		NoReturn: noReturn(a.corr), OnePass: constantPass(a.corr), Tells: tells(a.corr), Ledger: a.place}
	if a.reported == 0 {
		ad.SoFar = s.soFar(a.place)
	}
	for _, st := range s.plan.SpoiltBy(a.corr) {
		ad.Spoils = append(ad.Spoils, s.stepTitle(st))
	}
	for _, t := range a.corr.Disturbs {
		if t.Accepted != "" {
			ad.Disturbs = append(ad.Disturbs, t.Accepted)
		}
	}
	if a.corr.Unit != nil {
		ad.Unit = *a.corr.Unit
	}
	ad.Remembered, ad.FromRun = a.known, a.fromRun
	if len(a.planned) == 1 {
		ad.Amount = a.planned[0]
		ad.Direction = a.way(ad.Amount)
	} else if len(a.planned) > 1 {
		ad.Direction = a.plus
	}
	if a.expects {
		x := a.expected
		ad.Expects, ad.ExpectUnit = &x, *a.corr.Should.Result.Unit
	}
	if a.corr.Moved != nil {
		ad.Report = a.corr.Name + ".moved"
		ad.Instrument = s.inHand(a.corr.Moved.With)
		ad.Reversed = s.signs[a.corr.Name] < 0
		if ad.Instrument != nil && ad.Instrument.Resolution > 0 && len(a.planned) == 1 {
			ad.Divisions = math.Abs(ad.Amount) / ad.Instrument.Resolution
		}
	}
	return ad
}

// moveQuestion asks about a movement that was not as asked.
func (s *State) moveQuestion(a *attempt) Question {
	m := s.judgeMove(a)
	u := quantity.InRun(a.corr.Moved.Unit, s.begun.Inch)
	adv := &MoveAdvice{
		Correction: a.corr, Band: m.Band, Asked: a.amount(), AskedWay: a.way(a.amount()),
		Moved: a.moved(), MovedWay: a.way(a.moved()), Left: m.Left, LeftWay: a.way(m.Left),
		Unit: *a.corr.Unit, NudgeWay: a.plus, Instrument: s.inHand(a.corr.Moved.With),
	}
	if adv.Instrument != nil && adv.Instrument.Resolution > 0 {
		adv.Divisions = math.Abs(m.Left) / adv.Instrument.Resolution
	}
	q := Question{
		Kind: AskMove, Name: a.corr.Name + ".moved", Optional: true, Move: adv, Unit: &u, Instrument: adv.Instrument,
		Ask: "Move on, then read again: the further movement?", Positive: a.plus, Negative: a.minus,
		Choices: []Choice{{"carry_on", "carry on with it as it is"}, {"wrong_way", "I typed the wrong way"}, {"sign", "the needle's sign is in doubt"}},
	}
	s.decimals(&q)
	return q
}

// nudgeQuestion asks for a test of the indicator that showed a movement. It is
// not left out: no amount is worth offering, and no movement is taken, until it is
// known which way the needle goes.
func (s *State) nudgeQuestion(a *attempt) Question {
	way := a.plus
	return Question{
		Kind: AskMove, Name: a.corr.Name + ".nudge", Instrument: s.inHand(a.corr.Moved.With),
		Ask:     "Push " + way + " by hand. The needle goes",
		Choices: []Choice{{"plus", "plus"}, {"minus", "minus"}, {"nowhere", "nowhere"}},
		Move: &MoveAdvice{Correction: a.corr, Asked: a.amount(), AskedWay: a.way(a.amount()), Moved: a.moved(),
			MovedWay: a.way(a.moved()), Nudge: true, NudgeWay: way, Unit: *a.corr.Unit},
		Response: s.response(a),
	}
}

// lastResponse is what the last correction did whose result the gate judges.
func (s *State) lastResponse(j *Judgement) *Response {
	for i := len(s.attempts) - 1; i >= 0; i-- {
		a := &s.attempts[i]
		if a.gate == j.Name && a.told {
			return s.response(a)
		}
	}
	return nil
}

// response puts an attempt's effect into words and numbers.
func (s *State) response(a *attempt) *Response {
	if !a.told {
		return nil
	}
	r := &Response{
		Correction: a.corr, Title: words(a.corr.Should.Result.Title, s.env().in(a.corr.Should.Result.Step, nil)), Attempt: a.number, Unit: *a.corr.Should.Result.Unit, Before: a.before.of[0].y, After: a.after.of[0].y,
		UDelta: a.change.U, Shown: a.change.Shown, Expected: a.expected, Amount: a.amount(), Moved: a.moved(), HasMoved: a.hasMoved,
		Direction: a.way(a.amount()), MovedWay: a.way(a.moved()), Finding: a.finding, Cannot: a.cannot,
	}
	r.Positive = words(a.corr.Should.Result.Positive, s.env().in(a.corr.Should.Result.Step, nil))
	r.Rightly = a.tested == "plus"
	r.Reread = s.rereadSince(a)
	if g, round, ok := s.gateAt(a.gate); ok {
		r.Verdict = s.judge(g, round).Verdict
	}
	if !s.plan.unread {
		r.Looks = s.explains(a)
	}
	if a.corr.Unit != nil {
		r.AmountUnit = *a.corr.Unit
	}
	return r
}
