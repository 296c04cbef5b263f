package engine

import (
	"fmt"
	"math"
	"slices"
	"time"

	"waywright/checks"
	"waywright/checks/response"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/procedures"
)

// attempt is one time that a correction was chosen.
type attempt struct {
	corr   *procedures.Correction
	number int    // which report of the correction it is or will be, from 1
	gate   string // gate address

	chosen   int // event
	chosenAt time.Time
	by       string
	planned  []float64 // base units; one, or one a station
	stations []float64
	gain     float64
	expected float64 // change of the result at the planned amount, base units
	expects  bool
	before   estimate
	hasWas   bool

	reported   int // event, 0 until reported
	reportedAt time.Time
	moves      []movement
	hasMoved   bool
	judgements []moveJudgement

	after   estimate
	told    bool
	cannot  string
	finding response.Finding
	uDelta  uncert.Result
	nudged  bool // the indicator was tested afterwards
}

// movement is one movement as it was read.
type movement struct {
	n     int
	at    time.Time
	by    string
	typed Taken
	value float64 // base units, as it counts
}

type moveJudgement struct {
	MoveJudged
	n  int
	at time.Time
	by string
}

// moved is the sum of the movements.
func (a *attempt) moved() float64 {
	var sum float64
	for _, m := range a.moves {
		sum += m.value
	}
	return sum
}

// amount is the planned amount, of a single one.
func (a *attempt) amount() float64 {
	if len(a.planned) == 1 {
		return a.planned[0]
	}
	return 0
}

// choose keeps the way chosen at a gate.
func (s *State) choose(ev Event, d Chosen) error {
	g, round, ok := s.gateAt(d.Gate)
	if !ok {
		return fmt.Errorf("it chooses a way at %q, which the procedure does not have", d.Gate)
	}
	ch := &choice{Chosen: d, n: ev.N, at: ev.Time, by: ev.By, attempt: -1, feeding: s.feeding(g)}
	switch d.Way {
	case string(WayAgain):
		s.moreTakes(g)
		return nil
	case string(WayConcession):
		s.conceded[d.Gate] = &asked{Concession{Reason: d.Reason, By: ev.By}, ch.feeding, ev.N}
		return nil
	case string(WayReject):
		s.rejected = &Rejection{d.Gate, d.Reason, ev.By, ev.Time, ev.N}
		return nil
	}
	c := s.plan.corrections[d.Way]
	if c == nil {
		return fmt.Errorf("it chooses %q at %q, which is no way there", d.Way, d.Gate)
	}
	a := attempt{corr: c, number: s.reports(c) + 1, gate: d.Gate, chosen: ev.N, chosenAt: ev.Time, by: ev.By, gain: d.Gain, stations: d.Stations}
	if a.gain == 0 {
		a.gain = 1
	}
	for _, st := range d.Amounts {
		var t take
		if err := t.number(Taken{Value: st.Value, Unit: st.Unit}); err != nil {
			return err
		}
		a.planned = append(a.planned, t.raw)
	}
	if c.Should != nil {
		a.expected, a.expects = s.expectedChange(c, s.plannedValue(&a), g, round)
		a.before, a.hasWas = s.estimateOf(c.Should.Result)
	}
	s.attempts = append(s.attempts, a)
	ch.attempt = len(s.attempts) - 1
	s.chosen[d.Gate] = ch
	return nil
}

// moreTakes asks for further takes of every reading that feeds a gate, or for
// another try at those that could not be taken.
func (s *State) moreTakes(g *procedures.Gate) {
	missing := false
	for _, r := range s.plan.feeds[g.Name] {
		for _, round := range s.rounds(r.Step) {
			places, _ := s.places(r, round)
			for _, p := range places {
				if id := p.element(r); s.unableAt(r, id) != "" {
					s.edit(id).unable = nil
					missing = true
				}
			}
		}
	}
	if missing {
		return
	}
	for _, r := range s.plan.feeds[g.Name] {
		if !r.Step.Lasting && repeatable(r) {
			s.extra[extraKey(r)]++
		}
	}
}

// repeatable reports whether more takes of a reading say more: words and
// counts do not get better.
func repeatable(r *procedures.Reading) bool {
	return r.Unit != nil && len(r.Choose) == 0 && !r.Count && !r.Text && !r.File
}

// reports counts how often a correction was reported in the run.
func (s *State) reports(c *procedures.Correction) int {
	n := 0
	for _, a := range s.attempts {
		if a.corr == c && a.reported != 0 {
			n++
		}
	}
	return n
}

// estimateOf works out a result, with its sensitivities.
func (s *State) estimateOf(res *procedures.Result) (estimate, bool) {
	rounds := s.rounds(res.Step)
	if len(rounds) != 1 {
		return estimate{}, false
	}
	return s.estimate(func(e *env) ([]float64, bool) {
		v := e.result(res, rounds[0]).Mean()
		return []float64{v.Num}, v.State == value.Present && (v.Kind == value.Number || v.Kind == value.Point)
	})
}

func amountValue(planned, stations []float64) value.Value {
	if len(stations) == 0 && len(planned) == 1 {
		return value.Value{Kind: value.Number, Num: planned[0]}
	}
	return value.ProfileOf(stations, value.Nums(planned...))
}

func (s *State) plannedValue(a *attempt) value.Value { return amountValue(a.planned, a.stations) }

// expectedChange evaluates should_change at an amount, in base units of the
// result.
func (s *State) expectedChange(c *procedures.Correction, amount value.Value, g *procedures.Gate, round []string) (float64, bool) {
	if c.Should == nil || amount.State != value.Present {
		return 0, false
	}
	e := s.env().in(g.Step, round).with(map[string]value.Value{"amount": amount})
	v := c.Should.By.Eval(e).Mean()
	return v.Num, v.State == value.Present
}

// uMoved is the standard uncertainty of a movement.
func (s *State) uMoved(c *procedures.Correction, moved float64) float64 {
	if c.Moved == nil || c.Moved.With == nil {
		return 0
	}
	m, err := uncert.New([]uncert.Instrument{s.instrument(c.Moved.With)},
		[]uncert.Observation{{ID: "moved", Value: moved, Setting: "moved", Pool: "moved", Moved: true}}, nil)
	if err != nil {
		return 0
	}
	return m.Combine([]float64{1}).Std
}

func (s *State) reported(ev Event, d Reported) error {
	i := s.lastAttempt(d.Correction)
	if i < 0 || s.attempts[i].reported != 0 != d.Further {
		return fmt.Errorf("it reports the correction %q, which was not chosen", d.Correction)
	}
	a := &s.attempts[i]
	if d.Moved != nil {
		t := take{}
		if err := t.number(*d.Moved); err != nil {
			return err
		}
		v := t.raw
		if s.signs[d.Correction] < 0 {
			v = -v
		}
		a.moves = append(slices.Clip(a.moves), movement{ev.N, ev.Time, ev.By, *d.Moved, v})
		a.hasMoved = true
		s.moveOpen = -1
		if s.movedAmiss(a) {
			s.moveOpen = i
		}
	}
	if !d.Further {
		a.reported, a.reportedAt = ev.N, ev.Time
		delete(s.chosen, a.gate)
		s.spoil(s.plan.spoiltBy(a.corr), "after: "+s.attemptTitle(a))
	}
	s.enter(a, ev)
	return nil
}

func (s *State) lastAttempt(correction string) int {
	for i := len(s.attempts) - 1; i >= 0; i-- {
		if s.attempts[i].corr.Name == correction {
			return i
		}
	}
	return -1
}

func (s *State) judgeMove(a *attempt) response.Move {
	return response.JudgeMove(a.amount(), a.moved(), s.uMoved(a.corr, a.moved()))
}

// movedAmiss reports whether a movement is plainly not what was asked: the
// other way, or short of it. The other way is said of small amounts too, where
// the doubt of the indicator leaves it plain.
func (s *State) movedAmiss(a *attempt) bool {
	m := s.judgeMove(a)
	return a.amount() != 0 && (m.Band == response.BandMinus || m.Plain && (m.Band == response.BandNought || m.Band == response.BandPart))
}

func (s *State) attemptTitle(a *attempt) string { return words(a.corr.Title, s.env()) }

// enter writes what a report did into the ledger: what was moved, else what
// was planned (semantics rule 40).
func (s *State) enter(a *attempt, ev Event) {
	if a.corr.Ledger == nil || a.corr.Unit == nil {
		return
	}
	amounts := a.planned
	if a.hasMoved {
		amounts = []float64{a.moves[len(a.moves)-1].value}
	}
	for i, v := range amounts {
		if v == 0 {
			continue
		}
		place := words(a.corr.Ledger, s.env())
		if len(a.stations) > 0 {
			place += " at " + stationKey(a.stations[i])
		}
		way := direction(a.corr, v, s.env())
		total := math.Abs(v)
		for _, l := range s.ledger {
			if l.Place == place && l.Way == way {
				total += l.Amount
			}
		}
		s.ledger = append(s.ledger, LedgerLine{
			Place: place, Correction: a.corr, Attempt: a.number, Amount: math.Abs(v), Total: total,
			Unit: *a.corr.Unit, Way: way, At: ev.Time, N: ev.N, By: ev.By,
		})
	}
}

// direction is the words for an amount's sign; "" for none.
func direction(c *procedures.Correction, amount float64, e *env) string {
	switch {
	case amount > 0:
		return words(c.Positive, e)
	case amount < 0 && c.Negative != nil:
		return words(c.Negative, e)
	}
	return ""
}

// moveJudged keeps the answer to a movement that was not as asked, or what
// the needle did when it was tested.
func (s *State) moveJudged(ev Event, d MoveJudged) error {
	i := s.moveOpen
	if i < 0 {
		i = s.nudgeOpen
	}
	if i < 0 || s.attempts[i].corr.Name != d.Correction {
		return fmt.Errorf("it judges a movement of %q that nobody asked about", d.Correction)
	}
	a := &s.attempts[i]
	a.judgements = append(slices.Clip(a.judgements), moveJudgement{d, ev.N, ev.Time, ev.By})
	during := s.moveOpen >= 0
	switch d.How {
	case "carry_on":
		s.moveOpen = -1
	case "wrong_way":
		a.turnLast()
	case "minus":
		s.turn(a)
	case "plus", "nowhere":
	default:
		return fmt.Errorf("it judges a movement as %q, which is not a word for that", d.How)
	}
	if !during {
		a.nudged = true
		s.nudgeOpen = -1
		if d.How == "minus" {
			s.find(a)
		}
		return nil
	}
	if !s.movedAmiss(a) {
		s.moveOpen = -1
	}
	return nil
}

// turnLast turns the sign of the last movement: it was typed the wrong way.
func (a *attempt) turnLast() {
	a.moves = slices.Clone(a.moves)
	a.moves[len(a.moves)-1].value *= -1
}

// turn turns the signs of the movement's indicator: it reads reversed.
func (s *State) turn(a *attempt) {
	if s.signs[a.corr.Name] < 0 {
		s.signs[a.corr.Name] = 1
	} else {
		s.signs[a.corr.Name] = -1
	}
	a.moves = slices.Clone(a.moves)
	for i := range a.moves {
		a.moves[i].value *= -1
	}
}

// follow tells, after each event, what the corrections did whose results are
// known again, and lets choices lapse that no longer hold.
func (s *State) follow(ev Event) {
	for i := range s.attempts {
		a := &s.attempts[i]
		if a.reported == 0 || a.told || a.corr.Should == nil || !a.hasWas {
			continue
		}
		est, ok := s.estimateOf(a.corr.Should.Result)
		if !ok {
			continue
		}
		a.after, a.told = est, true
		a.cannot = s.between(i, ev.N)
		s.find(a)
		w := a.finding.Word
		if a.cannot == "" && a.hasMoved && !a.nudged && (w == response.WrongSign || w == response.Reversed || s.twiceWrong(i)) {
			s.nudgeOpen = i
		}
	}
}

// twiceWrong reports whether this attempt and the one before it both went the
// wrong way.
func (s *State) twiceWrong(i int) bool {
	n := 0
	for k := i; k >= 0 && n < 2; k-- {
		a := &s.attempts[k]
		if a.corr != s.attempts[i].corr || !a.told {
			continue
		}
		if a.finding.Word != response.WrongWay || a.nudged {
			return false
		}
		n++
	}
	return n == 2
}

// between tells what else happened between the choice of attempt i and event
// n, so that its effect cannot be told; "" when nothing did.
func (s *State) between(i, n int) string {
	a := &s.attempts[i]
	for k := range s.attempts {
		if b := &s.attempts[k]; k != i && b.reported > a.chosen && b.reported <= n && s.touches(b.corr, a.corr) {
			return "in between: " + s.attemptTitle(b)
		}
	}
	for _, d := range s.disturbs {
		if d.N > a.chosen && d.N <= n {
			return "in between: " + d.Reason
		}
	}
	return ""
}

// touches reports whether b can have changed the result that a should change:
// whether it spoils a reading that feeds it.
func (s *State) touches(b, a *procedures.Correction) bool {
	spoilt := s.plan.spoiltBy(b)
	for _, r := range s.plan.feeds[a.Should.Result.Name] {
		if slices.Contains(spoilt, r.Step) {
			return true
		}
	}
	return false
}

// find works out what an attempt did.
func (s *State) find(a *attempt) {
	a.uDelta = difference(a.before, a.after)
	in := response.Input{
		Planned: a.amount(), ExpectedPlanned: a.expected,
		Change: a.after.y[0] - a.before.y[0], UChange: a.uDelta.Std,
	}
	if a.hasMoved {
		in.HasMoved, in.Moved, in.UMoved = true, a.moved(), s.uMoved(a.corr, a.moved())
		if g, round, ok := s.gateAt(a.gate); ok {
			in.ExpectedMoved, _ = s.expectedChange(a.corr, value.Num(in.Moved), g, round)
		}
	}
	a.finding = response.Analyse(in)
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
		gain = response.NextGain(gain, a.finding)
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

// offer works out whether a correction can be taken at a gate, and what it
// would ask for (semantics rule 33). why says what stands against it.
func (s *State) offer(c *procedures.Correction, g *procedures.Gate, round []string) (ad *Advice, why string) {
	e := s.env().in(g.Step, round)
	if c.When != nil {
		if w := c.When.Eval(e); w.State != value.Present || !w.Truth {
			return nil, "it does not apply here"
		}
	}
	left := c.Attempts - s.reports(c)
	if left <= 0 {
		return nil, fmt.Sprintf("all %d tries of it are used", c.Attempts)
	}
	ad = &Advice{
		Correction: c, Title: words(c.Title, e), Left: left, Gain: 1, Report: c.Name, NoReturn: c.Amount != nil && c.Negative == nil,
		Ledger: words(c.Ledger, e),
	}
	for _, d := range c.Do {
		ad.Do = append(ad.Do, words(d, e))
	}
	for _, st := range s.plan.spoiltBy(c) {
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
	_, at, y := numbersOf(own)
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
		u := est.combine(est.row(0))
		if math.Abs(change) <= u.U {
			return nil, "the change it would make is lost in the doubt of the readings"
		}
		step.Change, step.UChange = change, math.Sqrt2*u.Std
		ad.ExpectUnit = *c.Should.Result.Unit
	} else {
		step.Change, step.UChange = 1, 0
	}
	next := response.NextAmount(step)
	switch next.First {
	case response.Limit:
		return nil, "the change it would make is lost in the doubt of the readings"
	case response.CheckSign, response.NudgeCheck:
		next.Amount = 1 // the sign is asked about apart, see nudgeOpen
	}
	ad.Gain = 1 / next.Amount
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

// ways lists the ways on from a gate that is not passed, the one to take
// first first; spent names corrections whose tries are used up.
func (s *State) ways(j *Judgement) (out []Offered, spent bool) {
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
			if ad, _ := s.offer(w.Correction, g, j.Keys); ad != nil {
				out = append(out, Offered{Name: w.Correction.Name, Kind: WayCorrection, Advice: ad})
			} else if s.reports(w.Correction) >= w.Correction.Attempts {
				spent = true
			}
		case procedures.Concede:
			out = append(out, Offered{Name: string(WayConcession), Kind: WayConcession})
		}
	}
	return append(out, Offered{Name: string(WayReject), Kind: WayReject}), spent
}

// moreHelps reports whether further takes could decide an undecided gate:
// they are offered twice at most, and only where the scatter of takes is a
// part of the doubt that matters (semantics rule 34, measure rule 16).
func (s *State) moreHelps(j *Judgement) bool {
	if j.Holds || s.againSince(j) >= 2 {
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
	// With two further sets of takes the scatter falls to a third of its
	// variance at best. Would the same value then be decided?
	u := j.U / j.K * math.Sqrt(math.Max(0, 1-scatter*2/3))
	d := checks.Decide(checks.Within(j.Value, j.Lo, j.Hi, u, math.Inf(1), j.Rule))
	return d.Verdict != checks.Undecided
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
