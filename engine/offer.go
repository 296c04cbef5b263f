package engine

import (
	"fmt"
	"math"
	"slices"

	"waywright/checks"
	"waywright/checks/response"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// moreTakes asks for further takes of every reading that feeds a gate. Where
// its value could not be had, it asks for another try instead: at what was left
// out, else at the whole working of the steps that led to no answer.
func (s *State) moreTakes(g *procedures.Gate, round []string) {
	if s.judge(g, round).Verdict == checks.NotMeasured {
		if !s.tryAgain(g) {
			s.spoil(s.plan.workedFor(g), "measured again: "+words(g.Title, s.env().in(g.Step, round)))
		}
		return
	}
	for _, r := range s.plan.feeds[g.Name] {
		if !r.Step.Lasting && repeatable(r) {
			s.extra[extraKey(r)]++
			s.extra[askedAgain(g)]++
			s.forget()
		}
	}
}

// askedAgain is where it is counted that further takes were asked for because
// of a gate: others that the same readings feed are judged as before.
func askedAgain(g *procedures.Gate) string { return "for gate " + g.Name }

// tryAgain opens what could not be taken once more; a set is taken again whole.
func (s *State) tryAgain(g *procedures.Gate) (some bool) {
	for _, r := range s.plan.feeds[g.Name] {
		for _, round := range s.rounds(r.Step) {
			places, _ := s.places(r, round)
			left := false
			for _, p := range places {
				if id := p.element(r); s.unableAt(r, id) != "" {
					s.edit(id).unable = nil
					left = true
				}
			}
			if left && isSet(r) {
				s.voidSet(r, round, 0, "a place of it is tried again")
			}
			some = some || left
		}
	}
	s.forget()
	return some
}

// workedFor returns the steps of the readings that feed a gate, with those they
// need; lasting ones are spared.
func (pl *Plan) workedFor(g *procedures.Gate) []*procedures.Step {
	hit := map[*procedures.Step]bool{}
	for _, r := range pl.feeds[g.Name] {
		pl.withNeeds(r.Step, hit)
	}
	return pl.inOrder(hit)
}

// repeatable reports whether more takes of a reading say more: words and
// counts do not get better.
func repeatable(r *procedures.Reading) bool {
	return r.Unit != nil && len(r.Choose) == 0 && !r.Count && !r.Text && !r.File
}

// gain is what the machine is thought to answer to a correction: 1, what the
// logbook remembers, or what was learnt in this run.
func (s *State) gain(c *procedures.Correction) (gain float64, last *response.Finding, wrongWays int) {
	gain = 1
	if g, ok := s.begun.Gains[c.Name]; ok && g > 0 {
		gain = g
	}
	for i := range s.attempts {
		a := &s.attempts[i]
		if a.corr != c || !a.told || a.cannot != "" {
			continue
		}
		if !a.mistaken {
			gain = response.NextGain(gain, a.finding)
		}
		last = &a.finding
		if a.nudged {
			last = nil
		}
		if a.finding.Word == response.WrongWay && !a.nudged {
			wrongWays++
		} else {
			wrongWays = 0
		}
	}
	return gain, last, wrongWays
}

// noReturn reports whether what a correction does cannot be put back: there are
// words for one sign of its amount only.
func noReturn(c *procedures.Correction) bool { return c.Amount != nil && c.Negative == nil }

// constantPass tells whether the amount is the procedure's own, a pass that is the
// same whatever was found: half of it is none.
func constantPass(c *procedures.Correction) bool {
	return c.Amount != nil && !slices.ContainsFunc(c.Amount.Refs(), func(r formula.Ref) bool {
		return r.Space == formula.Result || r.Space == formula.Reading
	})
}

// tells reports whether a correction has an amount of which no movement is read:
// how much was done is told when it is reported.
func tells(c *procedures.Correction) bool { return c.Amount != nil && c.Moved == nil }

// notHere is why a correction is not offered whose condition is false: there is
// nothing to say about it.
const notHere = "it does not apply here"

// offer works out whether a correction can be taken at a gate, and what it
// would ask for (semantics rule 33). why says what stands against it.
func (s *State) offer(c *procedures.Correction, g *procedures.Gate, round []string) (ad *Advice, why string) {
	e := s.env().in(g.Step, round)
	if c.When != nil {
		if w := c.When.Eval(e); w.State != value.Present || !w.Truth {
			return nil, notHere
		}
	}
	left := c.Attempts - s.reports(c)
	if left <= 0 {
		return nil, fmt.Sprintf("all %d tries of it are used", c.Attempts)
	}
	ad = &Advice{
		Correction: c, Title: words(c.Title, e), Left: left, Gain: 1, Report: c.Name, NoReturn: noReturn(c), OnePass: constantPass(c), Tells: tells(c),
		Ledger: words(c.Ledger, e),
	}
	ad.SoFar = s.soFar(ad.Ledger)
	for _, d := range c.Do {
		ad.Do = append(ad.Do, words(d, e))
	}
	for _, st := range s.plan.SpoiltBy(c) {
		ad.Spoils = append(ad.Spoils, s.stepTitle(st))
	}
	for _, t := range c.Disturbs {
		if t.Accepted != "" {
			ad.Disturbs = append(ad.Disturbs, t.Accepted)
		}
	}
	if c.Moved != nil {
		ad.Report = c.Name + ".moved"
		ad.Instrument = s.inHand(c.Moved.With)
		ad.Reversed = s.signs[c.Name] < 0
	}
	if c.Amount == nil {
		return ad, ""
	}
	return s.withAmount(ad, c, g, round, e)
}

func (s *State) withAmount(ad *Advice, c *procedures.Correction, g *procedures.Gate, round []string, e *env) (*Advice, string) {
	own := c.Amount.Eval(e)
	if st, why := own.Worst(); st != value.Present {
		return nil, "its amount cannot be worked out: " + why
	}
	ad.HasAmount, ad.Unit = true, *c.Unit
	at, y := numbersOf(own)
	if own.Kind == value.Profile || own.Kind == value.Turn {
		ad.At = at
	}
	gain, last, wrong := s.gain(c)
	step := response.Step{Own: 1, Gain: gain, Last: last, WrongWays: wrong}
	if change, ok := s.expectedChange(c, own, g, round); ok {
		est, known := s.estimateOf(c.Should.Result)
		if !known {
			return nil, "its result is not known"
		}
		u := est.e[0]
		if math.Abs(change) <= u.U {
			return nil, "the change it would make is lost in the doubt of the readings: a finer instrument is needed"
		}
		step.Change, step.UChange = change, math.Sqrt2*u.Std
		ad.ExpectUnit = *c.Should.Result.Unit
	} else {
		step.Change, step.UChange = 1, 0
	}
	next := response.NextAmount(step)
	switch next.First {
	case response.Limit:
		return nil, "the change it would make is lost in the doubt of the readings: a finer instrument is needed"
	case response.CheckSign, response.NudgeCheck:
		next.Amount = 1 // the sign is asked about apart, see nudgeOpen
	}
	ad.Gain = 1 / next.Amount
	ad.Remembered, ad.FromRun = s.remembered(c)
	for _, v := range y {
		v *= next.Amount
		if v < 0 && c.Negative == nil || v > 0 && c.Positive == nil {
			return nil, "there is nothing that can be put back"
		}
		ad.Amounts = append(ad.Amounts, v)
	}
	if len(ad.At) == 0 {
		ad.Amount = ad.Amounts[0]
		ad.Direction = direction(c, ad.Amount, e)
		if ad.Instrument != nil && ad.Instrument.Resolution > 0 {
			ad.Divisions = math.Abs(ad.Amount) / ad.Instrument.Resolution
		}
	} else {
		ad.Direction = words(c.Positive, e)
	}
	if x, ok := s.expectedChange(c, amountValue(ad.Amounts, ad.At), g, round); ok {
		ad.Expects = &x
	}
	return ad, ""
}

// readIn is the step in which a gate's readings are taken: the last of them
// that is not lasting; nil where there is none.
func (s *State) readIn(g *procedures.Gate) *procedures.Step {
	var st *procedures.Step
	for _, r := range s.plan.feeds[g.Name] {
		if !r.Step.Lasting {
			st = r.Step
		}
	}
	return st
}

// ways lists the ways on from a gate that is not passed, the one to take
// first first: that is to read once more where readFirst says so. spent names corrections whose tries are used up.
func (s *State) ways(j *Judgement, readFirst bool) (out []Offered, withheld []Withheld, spent bool) {
	g := j.Gate
	if j.Verdict == checks.Undecided && s.moreHelps(j) || j.Verdict == checks.NotMeasured {
		out = append(out, Offered{Name: string(WayAgain), Kind: WayAgain})
	}
	for _, w := range g.IfFailed {
		switch w.Kind {
		case procedures.Correct:
			if j.Verdict == checks.NotMeasured {
				continue
			}
			if ad, why := s.offer(w.Correction, g, j.Keys); ad != nil {
				out = append(out, Offered{Name: w.Correction.Name, Kind: WayCorrection, Advice: ad})
			} else {
				spent = spent || s.reports(w.Correction) >= w.Correction.Attempts
				if why != notHere {
					withheld = append(withheld, Withheld{w.Correction.Name, words(w.Correction.Title, s.env().in(g.Step, j.Keys)), why})
				}
			}
		case procedures.Concede:
			out = append(out, Offered{Name: string(WayConcession), Kind: WayConcession})
		}
	}
	if s.readIn(g) != nil && j.Verdict != checks.NotMeasured {
		afresh := Offered{Name: string(WayAfresh), Kind: WayAfresh}
		if readFirst {
			out = append([]Offered{afresh}, out...)
		} else {
			out = append(out, afresh)
		}
	}
	return append(out, Offered{Name: string(WayReject), Kind: WayReject}), withheld, spent
}

// moreHelps reports whether further takes could decide an undecided gate:
// they are offered twice at most, and only where the scatter of takes is a
// part of the doubt that matters (semantics rule 34, measure rule 16).
func (s *State) moreHelps(j *Judgement) bool {
	if j.Holds || j.Why != "" || s.againSince(j) >= 2 {
		return false
	}
	some := false
	for _, r := range s.plan.feeds[j.Gate.Name] {
		some = some || !r.Step.Lasting && repeatable(r)
	}
	if !some {
		return false
	}
	var scatter, all float64
	for _, l := range j.Budget {
		if l.Kind == uncert.Takes {
			scatter += l.Share
		}
		all += l.Share
	}
	if all == 0 {
		return false
	}
	// With three sets of takes in all the variance of the scatter falls to a
	// third of what one set has, at best. Would the same value then be decided?
	have := float64(1 + s.againSince(j))
	u := j.U / j.K * math.Sqrt(math.Max(0, 1-scatter*(1-have/3)))
	q := checks.Within(j.Value, j.Lo, j.Hi, u, math.Inf(1), j.Rule)
	q.Again = true // as it will be judged
	return checks.Decide(q).Verdict != checks.Undecided
}

// againSince counts the further takes asked for at a gate since its inputs
// were last read afresh.
func (s *State) againSince(j *Judgement) int {
	most := 0
	for _, r := range s.plan.feeds[j.Gate.Name] {
		most = max(most, s.extra[extraKey(r)])
	}
	return most
}
