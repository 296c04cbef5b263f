package engine

import (
	"math"
	"slices"
	"time"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
)

// Next returns what is to be settled next: the first fact in the order of the
// procedure that is missing or no longer true at the time now. It is a pure
// question; asking it changes nothing.
func (s *State) Next(now time.Time) Question {
	q := s.next(now)
	q.Outcome = s.Outcome()
	return q
}

func (s *State) next(now time.Time) Question {
	switch {
	case s.rejected != nil || s.finished():
		return Question{Kind: End, Name: "end"}
	case !s.seated:
		return Question{Kind: AskOperator, Name: "operator", Optional: true, Text: true, Ask: "Who is at the machine?", Choices: s.people()}
	}
	if len(s.plan.proc.Grades) > 0 && s.Grade() == "" {
		return Question{Kind: AskGrade, Name: "grade", Ask: "Which limits are to hold: the grade?", Choices: choices(s.plan.proc.Grades)}
	}
	if s.moveOpen >= 0 {
		return s.moveQuestion(&s.attempts[s.moveOpen])
	}
	if s.nudgeOpen >= 0 {
		return s.nudgeQuestion(&s.attempts[s.nudgeOpen])
	}
	if q, ok := s.nextGiven(); ok {
		return q
	}
	for i, st := range s.plan.proc.Steps {
		if q, ok := s.nextInStep(i, st, now); ok {
			return q
		}
	}
	return s.nextSignature()
}

func (s *State) finished() bool {
	return len(s.plan.proc.Signoffs) > 0 && len(s.signed) == len(s.plan.proc.Signoffs)
}

func (s *State) people() []Choice {
	var out []Choice
	for _, t := range slices.Backward(s.sittings) {
		c := Choice{t.Operator, t.Operator}
		if !slices.Contains(out, c) && len(out) < 3 {
			out = append(out, c)
		}
	}
	return out
}

func choices(words []string) []Choice {
	out := make([]Choice, len(words))
	for i, w := range words {
		out[i] = Choice{w, w}
	}
	return out
}

// settled reports whether every step is settled as far as it can be told
// without the time.
func (s *State) settled() bool {
	if _, ok := s.nextGiven(); ok {
		return false
	}
	for i, st := range s.plan.proc.Steps {
		if _, ok := s.nextInStep(i, st, s.last); ok {
			return false
		}
	}
	return true
}

func (s *State) nextGiven() (Question, bool) {
	e := s.env()
	for _, g := range s.plan.proc.Givens {
		combos, ok := s.combos(g.Each, e)
		if !ok {
			continue // its keys come from a given further down: never, by rule 3
		}
		for _, keys := range combos {
			id := address(g.Name, keys...)
			ek := e.bindAll(g.Each, keys)
			if g.When != nil {
				if w := g.When.Eval(ek); w.State != value.Present || !w.Truth {
					continue
				}
			}
			if len(s.live(id, nil)) > 0 {
				continue
			}
			if q, ok := s.instrumentQuestion(g.With); ok {
				return q, true
			}
			return s.givenQuestion(g, id, ek), true
		}
	}
	return Question{}, false
}

func (s *State) givenQuestion(g *procedures.Given, id string, e *env) Question {
	q := Question{Kind: AskGiven, Name: id, Ask: words(g.Ask, e)}
	s.answerForm(&q, &g.Answer, e)
	q.Instrument = s.inHand(g.With)
	if g.From != nil {
		if v := g.From.Eval(e); v.State == value.Present {
			q.Offer = s.offered(v, q.Unit)
		}
	}
	if g.Ask == nil {
		q.Kind, q.Ask = Blocked, words(g.Title, e)
		if g.From != nil {
			q.Why = "It comes from " + g.From.Source() + ", and cannot be typed."
		}
	}
	return q
}

func (s *State) offered(v value.Value, u *quantity.Unit) *Offer {
	o := &Offer{Value: v.Num, From: "the entry of " + s.begun.Machine.ID}
	switch {
	case v.Kind == value.Text:
		o.Text = v.Text
	case u != nil:
		o.Text = quantity.Plain(v.Num, *u)
	default:
		o.Text = quantity.Plain(v.Num, quantity.Ratio.Default())
	}
	return o
}

// answerForm fills in what may be answered.
func (s *State) answerForm(q *Question, a *procedures.Answer, e *env) {
	q.Count, q.Text, q.File, q.Choices = a.Count, a.Text, a.File, choices(a.Choose)
	if a.Unit != nil {
		u := quantity.InRun(*a.Unit, s.begun.Inch)
		q.Unit = &u
	}
	if a.Range[0] != nil && a.Range[1] != nil {
		lo, hi := a.Range[0].Eval(e).Mean(), a.Range[1].Eval(e).Mean()
		if lo.State == value.Present && hi.State == value.Present {
			q.Range = &Range{lo.Num, hi.Num}
		}
	}
}

func (s *State) inHand(p *procedures.Instrument) *InHand {
	if p == nil {
		return nil
	}
	in := s.instrument(p)
	b := s.bound[p.Name]
	return &InHand{Name: p.Name, Kind: p.Kind, ID: b.ID, Resolution: in.Resolution, Unit: p.Unit, Due: b.Due}
}

func (s *State) instrumentQuestion(p *procedures.Instrument) (Question, bool) {
	if p == nil {
		return Question{}, false
	}
	if _, ok := s.bound[p.Name]; ok {
		return Question{}, false
	}
	return Question{
		Kind: AskInstrument, Name: "instrument." + p.Name, Optional: true, Text: true,
		Ask: "Which " + p.Kind + " is in the hand: its number?", Instrument: s.inHand(p),
	}, true
}

func (s *State) stepTitle(st *procedures.Step) string {
	if len(st.Each) == 0 {
		return words(st.Title, s.env())
	}
	return st.Title.Words(s.env().in(st, nil))
}

// nextInStep returns the first unsettled question of a step.
func (s *State) nextInStep(i int, st *procedures.Step, now time.Time) (Question, bool) {
	for _, round := range s.rounds(st) {
		e := s.env().in(st, round)
		if st.When != nil {
			if w := st.When.Eval(e); w.State != value.Present || !w.Truth {
				continue
			}
		}
		q, ok := s.nextInRound(st, round, e, now)
		if !ok {
			continue
		}
		q.Step = Place{N: i + 1, Of: len(s.plan.proc.Steps), Name: st.Name, Title: words(st.Title, e), Keys: round}
		q.Spindle = st.Spindle
		return q, true
	}
	return Question{}, false
}

func (s *State) nextInRound(st *procedures.Step, round []string, e *env, now time.Time) (Question, bool) {
	for _, it := range st.Items {
		if g, ok := it.(*procedures.Gate); ok {
			if q, ok := s.gateQuestion(g, round, e); ok {
				return q, true
			}
			continue
		}
		q, ok := s.itemQuestion(st, it, round, e, now)
		if !ok {
			continue
		}
		if old, ok := s.aged(st, now); ok {
			return old, true
		}
		return s.before(st, round, e, q), true
	}
	if asksNothing(st) && len(st.Do) > 0 {
		id := address(st.Name, round...)
		if w, ok := s.word(id, st, now); !ok || w != "yes" {
			q := Question{Kind: AskDone, Name: id, Ask: "Done?", Do: s.sentences(st.Do, e), Tools: s.sentences(st.Tools, e)}
			return s.before(st, round, e, q), true
		}
	}
	return Question{}, false
}

func asksNothing(st *procedures.Step) bool {
	for _, it := range st.Items {
		switch it.(type) {
		case *procedures.Confirm, *procedures.Wait, *procedures.Reading:
			return false
		}
	}
	return true
}

func (s *State) sentences(texts []procedures.Text, e *env) []string {
	var out []string
	for _, t := range texts {
		out = append(out, words(t, e))
	}
	return out
}

// before puts cautions, the change of the spindle and the hold point in front
// of the first question of a step.
func (s *State) before(st *procedures.Step, round []string, e *env, q Question) Question {
	if c, ok := s.clearQuestion(address(st.Name, append(slices.Clone(round), "clear")...), st.Cautions, st.Spindle, e); ok {
		return c
	}
	if st.HoldPoint != nil {
		id := address(st.Name, append(slices.Clone(round), "release")...)
		if _, ok := s.word(id, st, time.Time{}); !ok {
			return Question{Kind: AskRelease, Name: id, Text: true, Role: st.HoldPoint,
				Ask: "Hold point. Who releases it, as " + words(st.HoldPoint.Title, e) + "?"}
		}
	}
	if q.Kind != AskInstrument && s.untouched(st, round) {
		q.Do, q.Tools = s.sentences(st.Do, e), s.sentences(st.Tools, e)
	}
	return q
}

// untouched reports whether nothing of this working of the round was
// answered yet, so that its instructions are still to be shown.
func (s *State) untouched(st *procedures.Step, round []string) bool {
	for _, it := range st.Items {
		switch it := it.(type) {
		case *procedures.Confirm, *procedures.Wait:
			if _, ok := s.word(address(it.ItemName(), round...), st, time.Time{}); ok {
				return false
			}
		case *procedures.Reading:
			places, _ := s.places(it, round)
			for _, p := range places {
				if len(s.live(p.element(it), st)) > 0 {
					return false
				}
			}
		}
	}
	return true
}

func (s *State) clearQuestion(name string, cautions []*procedures.Caution, spindle procedures.Spindle, e *env) (Question, bool) {
	q := Question{Kind: AskClear, Name: name, Optional: true, Ask: "All clear?"}
	for _, c := range cautions {
		if !s.cleared[c.Name] {
			q.Cautions = append(q.Cautions, CautionText{c.Name, words(c.Text, e), c.Hazard, c.Source})
		}
	}
	if spindle != procedures.AnySpindle && spindle != s.spindle {
		q.SpindleTo = spindle
	}
	return q, len(q.Cautions) > 0 || q.SpindleTo != procedures.AnySpindle
}

// word returns the last word kept at an address in the present working; ok is
// false when there is none, or when it no longer holds by its age. A zero now
// does not judge the age.
func (s *State) word(id string, st *procedures.Step, _ time.Time) (string, bool) {
	f := s.facts[id]
	if f == nil || len(f.takes) == 0 {
		return "", false
	}
	t := f.takes[len(f.takes)-1]
	if t.work != s.work[st.Name] || t.void != "" {
		return "", false
	}
	return t.word, true
}

// expired reports whether what a step established no longer holds at a time.
func (s *State) expired(st *procedures.Step, at time.Time) bool {
	if st.GoodFor == nil || at.IsZero() {
		return false
	}
	d := st.GoodFor.Eval(s.env().in(st, nil))
	last, ok := s.established(st)
	return ok && d.State == value.Present && at.Sub(last) > seconds(d.Num)
}

func seconds(x float64) time.Duration { return time.Duration(x * float64(time.Second)) }

// established returns when the last fact of a step's present working was
// kept; ok is false while the step is not settled.
func (s *State) established(st *procedures.Step) (last time.Time, ok bool) {
	note := func(t take) {
		if t.at.After(last) {
			last = t.at
		}
	}
	for _, round := range s.rounds(st) {
		for _, it := range st.Items {
			switch it := it.(type) {
			case *procedures.Confirm, *procedures.Wait:
				id := address(it.ItemName(), round...)
				if _, ok := s.word(id, st, time.Time{}); !ok {
					return last, false
				}
				f := s.facts[id]
				note(f.takes[len(f.takes)-1])
			case *procedures.Reading:
				if !s.whole(it, round) {
					return last, false
				}
				places, _ := s.places(it, round)
				for _, p := range places {
					for _, t := range s.live(p.element(it), st) {
						note(t)
					}
				}
			}
		}
		if asksNothing(st) && len(st.Do) > 0 {
			id := address(st.Name, round...)
			if _, ok := s.word(id, st, time.Time{}); !ok {
				return last, false
			}
			f := s.facts[id]
			note(f.takes[len(f.takes)-1])
		}
	}
	return last, !last.IsZero()
}

// aged returns the first question of a step that st needs and that no longer
// holds by its age, now that st is worked on.
func (s *State) aged(st *procedures.Step, now time.Time) (Question, bool) {
	for i, n := range s.plan.proc.Steps {
		if n == st || !needs(st, n) || !s.expired(n, now) {
			continue
		}
		t := s.clone()
		t.spoil([]*procedures.Step{n}, "")
		if q, ok := t.nextInStep(i, n, time.Time{}); ok {
			return q, true
		}
	}
	return Question{}, false
}

func (s *State) itemQuestion(st *procedures.Step, it procedures.Item, round []string, e *env, now time.Time) (Question, bool) {
	switch it := it.(type) {
	case *procedures.Confirm:
		id := address(it.Name, round...)
		if w, ok := s.word(id, st, now); ok && w == "yes" {
			return Question{}, false
		}
		return Question{Kind: AskConfirm, Name: id, Ask: words(it.Ask, e)}, true
	case *procedures.Wait:
		return s.waitQuestion(it, st, round, e, now)
	case *procedures.Reading:
		return s.readingQuestion(it, round, e)
	}
	return Question{}, false
}

func (s *State) readingQuestion(r *procedures.Reading, round []string, e *env) (Question, bool) {
	open, ok := s.open(r, round)
	if !ok || len(open) == 0 {
		return Question{}, false
	}
	if q, ok := s.instrumentQuestion(r.With); ok {
		return q, true
	}
	p := open[0]
	if r.Nudge != nil && s.nudged(r, round) == "" {
		way := words(r.Nudge, e)
		return Question{
			Kind: AskNudge, Name: address(r.Name, append(slices.Clone(round), "nudge")...), Instrument: s.inHand(r.With),
			Ask:      "Push the part " + way + " by hand. The needle goes",
			Choices:  []Choice{{"plus", "plus"}, {"minus", "minus"}, {"nowhere", "nowhere"}},
			Positive: words(r.Positive, e),
		}, true
	}
	ek := e.bindAll(r.Each, p.keys[len(round):])
	if p.key != "" {
		ek = ek.bind("station", value.Num(p.at)).bind("angle", value.Num(p.at))
	}
	q := Question{
		Kind: AskReading, Name: p.name(r), Positive: words(r.Positive, ek), Instrument: s.inHand(r.With),
		Remaining: remaining(open, r), Again: p.part == again, Back: p.part == back,
	}
	s.answerForm(&q, &r.Answer, ek)
	s.decimals(&q)
	q.Take, q.Takes = s.takeNumber(r, p)
	q.Ask = words(r.Ask, ek.bind("take", value.Num(float64(max(q.Take, 1)))))
	s.along(&q, r, round, p)
	return q, true
}

// remaining is how many values a row may hold: all open takes of the same
// part of the pass. The closing reading is asked apart.
func remaining(open []place, r *procedures.Reading) int {
	if r.Unit == nil || len(r.Choose) > 0 || r.Text || r.File {
		return 1
	}
	n := 0
	for _, p := range open {
		if p.part != open[0].part || p.pass != open[0].pass || !slices.Equal(p.keys, open[0].keys) {
			break
		}
		n++
	}
	return n
}

func (s *State) decimals(q *Question) {
	if q.Unit == nil {
		return
	}
	step := q.Unit.Factor
	if q.Instrument != nil && q.Instrument.Resolution > 0 {
		step = q.Instrument.Resolution
	}
	q.Decimals = max(0, int(math.Ceil(-math.Log10(step/q.Unit.Factor)-1e-9)))
}

func (s *State) takeNumber(r *procedures.Reading, p place) (n, of int) {
	if p.takes <= 1 {
		return 0, 0
	}
	have := 0
	if f := s.facts[p.element(r)]; f != nil {
		for _, t := range f.takes {
			if t.void == "" && t.part == p.part && t.pass == p.pass && t.work == s.work[r.Step.Name] {
				have++
			}
		}
	}
	return have + 1, p.takes
}

// along fills in the stations and what was read there so far.
func (s *State) along(q *Question, r *procedures.Reading, round []string, p place) {
	places, _ := s.places(r, round)
	first, n := -1, 0
	for i, o := range places {
		if o.pass != p.pass || o.part != p.part {
			continue
		}
		n++
		if first < 0 && o.element(r) == p.element(r) {
			first = i
			q.Station = n
		}
	}
	if q.Stations = n; n <= 1 {
		q.Station, q.Stations = 0, 0
	}
	if p.key == "" {
		return
	}
	for _, o := range places {
		if o.pass != p.pass || o.part != going || !slices.Equal(o.keys, p.keys) {
			continue
		}
		q.At = append(q.At, o.at)
		so := math.NaN()
		if f := s.facts[o.element(r)]; f != nil {
			var got []take
			for _, t := range f.takes {
				if t.void == "" && t.pass == p.pass && t.part == going && t.work == s.work[r.Step.Name] {
					got = append(got, t)
				}
			}
			if len(got) > 0 {
				so = meanOf(got)
			}
		}
		q.So = append(q.So, so)
	}
}

func (s *State) waitQuestion(w *procedures.Wait, st *procedures.Step, round []string, e *env, now time.Time) (Question, bool) {
	id := address(w.Name, round...)
	if _, ok := s.word(id, st, now); ok {
		return Question{}, false
	}
	wt := &Waiting{Since: s.last}
	q := Question{Kind: AskWait, Name: id, Optional: true, Why: words(w.Why, e), Wait: wt, Ask: "Wait."}
	if w.AtLeast != nil {
		if v := w.AtLeast.Eval(e); v.State == value.Present {
			wt.Over = wt.Since.Add(seconds(v.Num))
		}
	}
	if w.Until == nil {
		return q, true
	}
	u := w.Until
	if iq, ok := s.instrumentQuestion(u.With); ok {
		return iq, true
	}
	unit := quantity.InRun(u.Unit, s.begun.Inch)
	q.Unit, q.Instrument = &unit, s.inHand(u.With)
	s.decimals(&q)
	wt.Takes = u.Takes
	wt.Agree = u.Agree.Eval(e).Num
	wt.Every = seconds(u.Every.Eval(e).Num)
	if f := s.facts[id+".until"]; f != nil {
		for _, t := range f.takes {
			if t.work == s.work[st.Name] && t.void == "" {
				wt.Last = append(wt.Last, t.value)
				if o := t.at.Add(wt.Every); o.After(wt.Over) {
					wt.Over = o
				}
			}
		}
	}
	q.Ask = words(u.Ask, e.bind("take", value.Num(float64(len(wt.Last)+1))))
	wt.Reading = !now.Before(wt.Over) && len(wt.Last) < wt.Takes
	return q, true
}

// gateQuestion returns what is to be settled at a gate, if anything.
func (s *State) gateQuestion(g *procedures.Gate, round []string, e *env) (Question, bool) {
	j := s.judge(g, round)
	switch j.Verdict {
	case checks.Pass, checks.NotApplied, checks.Open:
		return Question{}, false
	}
	if j.Conceded != nil {
		return Question{}, false
	}
	if q, ok := s.pending(&j, e); ok {
		return q, true
	}
	return s.wayQuestion(&j, e), true
}

func (s *State) wayQuestion(j *Judgement, e *env) Question {
	ways, spent := s.ways(j)
	q := Question{Kind: AskWay, Name: j.Name, Gate: j, Ways: ways, Ask: "What now?", Response: s.lastResponse(j)}
	for _, w := range ways {
		q.Choices = append(q.Choices, Choice{w.Name, w.Name})
	}
	if ad := ways[0].Advice; ad != nil {
		q.Also = []string{ad.Report}
		q.Positive, q.Negative = words(ad.Correction.Positive, e), words(ad.Correction.Negative, e)
		if ad.Correction.Moved != nil {
			u := quantity.InRun(ad.Correction.Moved.Unit, s.begun.Inch)
			q.Unit = &u
			q.Instrument = ad.Instrument
		}
	}
	if spent {
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
	if ch == nil || ch.attempt < 0 || !s.choiceHolds(ch, j) {
		return Question{}, false
	}
	a := &s.attempts[ch.attempt]
	if q, ok := s.clearQuestion(a.corr.Name+".clear", a.corr.Cautions, a.corr.Spindle, e); ok {
		return q, true
	}
	ad := s.adviceOf(a, e)
	q := Question{Kind: AskDone, Name: a.corr.Name, Ask: "Done?", Do: ad.Do, Gate: j, Ways: []Offered{{a.corr.Name, WayCorrection, ad}}}
	if m := a.corr.Moved; m != nil {
		if iq, ok := s.instrumentQuestion(m.With); ok {
			return iq, true
		}
		u := quantity.InRun(m.Unit, s.begun.Inch)
		q.Kind, q.Name, q.Ask, q.Unit, q.Instrument = AskMoved, a.corr.Name+".moved", words(m.Ask, e), &u, s.inHand(m.With)
		q.Positive, q.Negative = words(a.corr.Positive, e), words(a.corr.Negative, e)
		s.decimals(&q)
	}
	return q, true
}

// choiceHolds reports whether a choice still stands: nothing that the gate
// rests on was read or amended so that the amount moves by more than the
// result's U.
func (s *State) choiceHolds(ch *choice, j *Judgement) bool {
	if slices.Equal(ch.feeding, s.feeding(j.Gate)) {
		return true
	}
	a := &s.attempts[ch.attempt]
	if a.corr.Amount == nil || a.corr.Should == nil {
		return false
	}
	ad, _ := s.offer(a.corr, j.Gate, j.Keys)
	if ad == nil || ad.Expects == nil {
		return false
	}
	est, ok := s.estimateOf(a.corr.Should.Result)
	return ok && math.Abs(*ad.Expects-a.expected) <= est.combine(est.row(0)).U
}

// adviceOf is the advice of an attempt as it was planned.
func (s *State) adviceOf(a *attempt, e *env) *Advice {
	ad := &Advice{Correction: a.corr, Title: words(a.corr.Title, e), Do: s.sentences(a.corr.Do, e), Report: a.corr.Name, Gain: a.gain,
		Left: a.corr.Attempts - s.reports(a.corr), HasAmount: len(a.planned) > 0, At: a.stations, Amounts: a.planned,
		NoReturn: a.corr.Amount != nil && a.corr.Negative == nil, Ledger: words(a.corr.Ledger, e)}
	for _, st := range s.plan.spoiltBy(a.corr) {
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
	if len(a.planned) == 1 {
		ad.Amount = a.planned[0]
		ad.Direction = direction(a.corr, ad.Amount, e)
	} else if len(a.planned) > 1 {
		ad.Direction = words(a.corr.Positive, e)
	}
	if a.expects {
		x := a.expected
		ad.Expects, ad.ExpectUnit = &x, *a.corr.Should.Result.Unit
	}
	if a.corr.Moved != nil {
		ad.Report = a.corr.Name + ".moved"
		ad.Instrument = s.inHand(a.corr.Moved.With)
		if ad.Instrument != nil && ad.Instrument.Resolution > 0 && len(a.planned) == 1 {
			ad.Divisions = math.Abs(ad.Amount) / ad.Instrument.Resolution
		}
	}
	return ad
}

// moveQuestion asks about a movement that was not as asked.
func (s *State) moveQuestion(a *attempt) Question {
	e := s.env()
	m := s.judgeMove(a)
	u := quantity.InRun(a.corr.Moved.Unit, s.begun.Inch)
	adv := &MoveAdvice{
		Correction: a.corr, Band: m.Band, Asked: a.amount(), AskedWay: direction(a.corr, a.amount(), e),
		Moved: a.moved(), MovedWay: direction(a.corr, a.moved(), e), Left: m.Left, LeftWay: direction(a.corr, m.Left, e),
		Unit: *a.corr.Unit, NudgeWay: words(a.corr.Positive, e), Instrument: s.inHand(a.corr.Moved.With),
	}
	if adv.Instrument != nil && adv.Instrument.Resolution > 0 {
		adv.Divisions = math.Abs(m.Left) / adv.Instrument.Resolution
	}
	q := Question{
		Kind: AskMove, Name: a.corr.Name + ".moved", Optional: true, Move: adv, Unit: &u, Instrument: adv.Instrument,
		Ask: "Move on, then read again: the further movement?", Positive: words(a.corr.Positive, e), Negative: words(a.corr.Negative, e),
		Choices: []Choice{{"carry_on", "carry on with it as it is"}, {"wrong_way", "I typed the wrong way"}, {"sign", "the needle's sign is in doubt"}},
	}
	s.decimals(&q)
	return q
}

// nudgeQuestion asks for a test of the indicator that showed a movement.
func (s *State) nudgeQuestion(a *attempt) Question {
	e := s.env()
	way := words(a.corr.Positive, e)
	return Question{
		Kind: AskMove, Name: a.corr.Name + ".nudge", Optional: true, Instrument: s.inHand(a.corr.Moved.With),
		Ask:     "Push " + way + " by hand. The needle goes",
		Choices: []Choice{{"plus", "plus"}, {"minus", "minus"}, {"nowhere", "nowhere"}},
		Move: &MoveAdvice{Correction: a.corr, Asked: a.amount(), AskedWay: direction(a.corr, a.amount(), e), Moved: a.moved(),
			MovedWay: direction(a.corr, a.moved(), e), Nudge: true, NudgeWay: way, Unit: *a.corr.Unit},
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
	e := s.env()
	r := &Response{
		Correction: a.corr, Attempt: a.number, Unit: *a.corr.Should.Result.Unit, Before: a.before.y[0], After: a.after.y[0],
		UDelta: a.uDelta.U, Expected: a.expected, Amount: a.amount(), Moved: a.moved(), HasMoved: a.hasMoved,
		Direction: direction(a.corr, a.amount(), e), MovedWay: direction(a.corr, a.moved(), e), Finding: a.finding, Cannot: a.cannot,
	}
	if a.corr.Unit != nil {
		r.AmountUnit = *a.corr.Unit
	}
	return r
}

// nextSignature asks the roles to sign, in the order of the file; one that
// concedes decides on the concessions first.
func (s *State) nextSignature() Question {
	for _, role := range s.plan.proc.Signoffs {
		if slices.ContainsFunc(s.signed, func(g Signature) bool { return g.Role == role }) {
			continue
		}
		if role.Concedes {
			for _, j := range s.Judgements() {
				if j.Conceded != nil && !j.Conceded.Decided {
					return Question{
						Kind: AskConcession, Name: j.Name + ".concession", Gate: &j, Role: role,
						Ask: "Concession for this one?", Choices: []Choice{{"refuse", "refuse"}, {"grant", "grant, and say why"}},
					}
				}
			}
		}
		return Question{
			Kind: AskSign, Name: role.Name, Text: true, Role: role, Ask: words(role.Title, s.env()) + ": the signer's name", Open: s.obstacles(),
		}
	}
	return Question{Kind: End, Name: "end"}
}

// obstacles tells what stands in the way of signing.
func (s *State) obstacles() []string {
	var out []string
	for _, k := range s.skipped {
		if s.clearedAfter(k) {
			continue
		}
		out = append(out, "cautions or the state of the spindle were not acknowledged: "+k.Name)
	}
	return out
}

// clearedAfter reports whether what was skipped was acknowledged later, when
// the step was worked again.
func (s *State) clearedAfter(k Skipped) bool {
	later := false
	s.lasting(func(ev Event) {
		d, ok := ev.Data.(Cleared)
		later = later || ok && d.Name == k.Name && !d.Skipped && ev.N > k.N
	})
	return later
}
