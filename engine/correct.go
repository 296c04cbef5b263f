package engine

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"time"

	"waywright/checks/propagate"
	"waywright/checks/quantity"
	"waywright/checks/response"
	"waywright/checks/value"
	"waywright/procedures"
)

// attempt is one time that a correction was chosen. Its words are kept as they
// read then: what they are made from is stale once it is reported.
type attempt struct {
	corr   *procedures.Correction
	number int    // which report of the correction it is or will be, from 1
	gate   string // gate address

	title, plus, minus, place string
	do                        []string

	chosen   int // event
	chosenAt time.Time
	by       string
	own      []float64 // what the procedure worked out, before the gain
	planned  []float64 // base units; one, or one a station
	stations []float64
	gain     float64
	known    float64 // the gain that an earlier run found, where the amount went by it
	fromRun  string  // that run
	expected float64 // change of the result at the planned amount, base units
	expects  bool
	work     map[string]int // workings and further takes at the choice, to
	extra    map[string]int // know the result as it was then
	before   estimate
	amended  int // how many amendments before knows of
	hasWas   bool

	reported   int // event, 0 until reported
	reportedAt time.Time
	moves      []movement
	hasMoved   bool
	took       *Taken  // how much was done, where it was told
	share      float64 // of what was planned; 0 where all of it was done
	judgements []moveJudgement

	after    estimate
	onTakes  []int // events that after stands on
	told     bool
	cannot   string
	finding  response.Finding
	mistaken bool // two places were taken for one another before or after it: it teaches no gain
	change   Change
	nudged   bool   // the indicator was tested afterwards
	tested   string // and what it did then
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

// way is the words for an amount's sign; "" for none.
func (a *attempt) way(amount float64) string {
	switch {
	case amount > 0:
		return a.plus
	case amount < 0:
		return a.minus
	}
	return ""
}

// choose keeps the way chosen at a gate.
func (s *State) choose(ev Event, d Chosen) error {
	g, round, ok := s.gateAt(d.Gate)
	if !ok {
		return fmt.Errorf("it chooses a way at %q, which the procedure does not have", d.Gate)
	}
	switch d.Way {
	case string(WayAgain):
		s.moreTakes(g, round)
		return nil
	case string(WayConcession):
		s.conceded[d.Gate] = &asked{Concession{Reason: d.Reason, By: ev.By}, s.feeding(g, round), ev.N}
		return nil
	case string(WayReject):
		s.rejected = &Rejection{d.Gate, d.Reason, ev.By, ev.Time, ev.N}
		return nil
	}
	c := s.plan.corrections[d.Way]
	if c == nil || !slices.ContainsFunc(g.IfFailed, func(w procedures.Way) bool { return w.Correction == c }) {
		return fmt.Errorf("it chooses %q at %q, which is no way there", d.Way, d.Gate)
	}
	a := attempt{corr: c, number: s.reports(c) + 1, gate: d.Gate, chosen: ev.N, chosenAt: ev.Time, by: ev.By, gain: d.Gain}
	if a.gain == 0 {
		a.gain = 1
	}
	if err := a.plan(d); err != nil {
		return err
	}
	if c.Amount != nil {
		a.known, a.fromRun = s.remembered(c)
	}
	s.describe(&a, s.env().in(g.Step, round))
	if c.Amount != nil {
		_, a.own = numbersOf(c.Amount.Eval(s.env().in(g.Step, round)))
	}
	if c.Should != nil {
		a.expected, a.expects = s.expectedChange(c, amountValue(a.planned, a.stations), g, round)
		a.work, a.extra = maps.Clone(s.work), maps.Clone(s.extra)
		a.before, a.hasWas = s.estimateOf(c.Should.Result)
		a.amended = s.amendments
	}
	s.attempts = append(s.attempts, a)
	s.chosen[d.Gate] = &choice{Chosen: d, n: ev.N, at: ev.Time, by: ev.By, attempt: len(s.attempts) - 1, feeding: s.feeding(g, round)}
	return nil
}

// plan takes over the amounts of a choice.
func (a *attempt) plan(d Chosen) error {
	want := a.corr.Unit
	if (want == nil) != (len(d.Amounts) == 0) || len(d.Stations) == 0 && len(d.Amounts) > 1 ||
		len(d.Stations) > 0 && len(d.Stations) != len(d.Amounts) {
		return fmt.Errorf("it chooses %q with %d amounts at %d stations", d.Way, len(d.Amounts), len(d.Stations))
	}
	a.stations = d.Stations
	for _, st := range d.Amounts {
		u, err := quantity.Lookup(st.Unit)
		if err != nil || u.Dim != want.Dim {
			return fmt.Errorf("it chooses %q by %v %s, which is no unit for it", d.Way, st.Value, st.Unit)
		}
		v := u.Base(st.Value)
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("it chooses %q by %v %s, which is no amount", d.Way, st.Value, st.Unit)
		}
		a.planned = append(a.planned, v)
	}
	return nil
}

// describe keeps the words of a correction as they read now.
func (s *State) describe(a *attempt, e *env) {
	c := a.corr
	a.title, a.plus, a.minus, a.place = words(c.Title, e), words(c.Positive, e), words(c.Negative, e), words(c.Ledger, e)
	a.do = s.sentences(c.Do, e)
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
	if known, ok := s.results[res.Name]; ok {
		return known.estimate, known.ok
	}
	rounds := s.rounds(res.Step)
	if len(rounds) != 1 {
		return estimate{}, false
	}
	if s.lacking(res) || s.env().result(res, rounds[0]).State == value.Missing {
		return estimate{}, false // as after each answer of a set that is not whole
	}
	est, ok := s.estimate(ofResult(res, rounds[0]))
	ok = ok && len(est.of) == 1 && !est.e[0].Undefined()
	est.problem = propagate.Problem{} // it would keep this state alive
	put(&s.results, res.Name, estimated{est, ok})
	return est, ok
}

func amountValue(planned, stations []float64) value.Value {
	if len(stations) == 0 && len(planned) == 1 {
		return value.Value{Kind: value.Number, Num: planned[0]}
	}
	return value.ProfileOf(stations, value.Nums(planned...))
}

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

// reported keeps that a correction was carried out, or moved further.
func (s *State) reported(ev Event, d Reported) error {
	i := s.lastAttempt(d.Correction)
	if i < 0 || d.Further != (s.attempts[i].reported != 0) || d.Further && (s.moveOpen != i || d.Moved == nil) {
		return fmt.Errorf("it reports the correction %q, which was not chosen", d.Correction)
	}
	a := &s.attempts[i]
	if ch := s.chosen[a.gate]; !d.Further && (ch == nil || ch.attempt != i) {
		return fmt.Errorf("it reports the correction %q, which was not chosen", d.Correction)
	}
	if d.Moved != nil {
		if err := s.moves(i, ev, *d.Moved); err != nil {
			return err
		}
	}
	if err := s.tookOf(a, d); err != nil {
		return err
	}
	if !d.Further {
		s.remember(a)
		a.reported, a.reportedAt = ev.N, ev.Time
		delete(s.chosen, a.gate)
	}
	// A further movement spoils what was read since the first.
	if steps := s.plan.SpoiltBy(a.corr); !d.Further || slices.ContainsFunc(steps, s.begunOn) {
		s.spoil(steps, "after: "+a.title)
	}
	return nil
}

// begunOn reports whether anything was kept in a step's present working.
func (s *State) begunOn(st *procedures.Step) bool {
	return s.touched(spoilt{step: st, work: s.work[st.Name]})
}

// moves adds a movement to attempt i and judges it, before anything is cut or
// measured.
func (s *State) moves(i int, ev Event, k Taken) error {
	a := &s.attempts[i]
	if a.corr.Moved == nil {
		return fmt.Errorf("it reports how far %q moved, which is not asked", a.corr.Name)
	}
	if err := suits(a.corr.Name+".moved", &procedures.Answer{Unit: &a.corr.Moved.Unit}, []Taken{k}, ""); err != nil {
		return err
	}
	t := take{turned: s.turns(a.corr, k)}
	if err := t.number(k); err != nil {
		return err
	}
	a.moves = append(slices.Clip(a.moves), movement{n: ev.N, at: ev.Time, by: ev.By, typed: k, value: t.value, bound: s.bindingOf(a.corr.Moved.With)})
	a.hasMoved = true
	s.moveOpen = -1
	if s.movedAmiss(a) {
		s.moveOpen = i
	}
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
