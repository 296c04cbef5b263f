package engine

import (
	"fmt"
	"math"
	"slices"
	"time"

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
