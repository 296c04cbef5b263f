package rehearse

import (
	"waywright/checks"
	"waywright/checks/montecarlo"
	"waywright/engine"
	"waywright/procedures"
)

// Drawn is what became of one machine that was drawn.
type Drawn struct {
	Outcome engine.Outcome
	Answers int
	Rounds  int             // corrections that were reported
	Sound   map[string]bool // whether each gate truly holds at the end
	Known   bool            // whether that can be told of all of them
	First   bool            // whether all held at the start
	Failure *Failure        // the run could not be played to its end
}

// Good tells whether every gate truly holds at the end.
func (d *Drawn) Good() bool {
	for _, ok := range d.Sound {
		if !ok {
			return false
		}
	}
	return true
}

// Spreads tells whether a rehearsal states how machines differ. Without that
// there are no machines to draw, and no risk.
func Spreads(r *procedures.Rehearsal) bool { return len(r.Spread) > 0 }

// Draw draws a machine and instruments, and plays the run to its end. Hidden
// states with a spread are drawn from the normal distribution about what the
// author states. Each instrument is drawn from the figures of the procedure:
// the error of its zero for each setting and a curve of indication errors,
// anywhere between their limits, and how far a take scatters; that takes the
// place of the noise stated for what it reads.
//
// A gate truly holds where its value is within its limits as the readings would
// be without any error, the hidden state being what it is at the end.
func Draw(plan *engine.Plan, r *procedures.Rehearsal, seed int) Drawn {
	p := newPlay(plan, r, seed)
	p.openEnd = true
	p.m.rng = montecarlo.NewStream(uint64(seed), number(plan.Procedure().Name, r.Name)+1)
	p.m.shop = newShop(p.m.rng, plan.Procedure())
	p.work()
	out := Drawn{Outcome: p.outcome(), Answers: p.answers, Sound: map[string]bool{}, Known: true, Failure: p.failure}
	for _, n := range p.rounds {
		out.Rounds += n
	}
	for _, g := range p.m.truth(p.s).Gates() {
		if !g.Known {
			out.Known = out.Known && g.Why != ""
			continue
		}
		was, ok := out.Sound[g.Gate.Name]
		out.Sound[g.Gate.Name] = g.Holds && (was || !ok)
	}
	out.First = p.m.first(p.s)
	return out
}

// first tells whether every gate held in the state at the start.
func (m *model) first(s *engine.State) bool {
	now := m.hidden
	defer func() { m.hidden = now }()
	m.hidden = m.drawn
	for _, g := range m.truth(s).Gates() {
		if g.Known && !g.Holds {
			return false
		}
	}
	return true
}

// Machines draws n machines on so many workers, in order; done is told as by
// [Seeds].
func Machines(plan *engine.Plan, r *procedures.Rehearsal, n, workers int, done func(int)) []Drawn {
	plan = plan.Unread()
	out := make([]Drawn, n)
	share(n, workers, done, func(i int) { out[i] = Draw(plan, r, i+1) })
	return out
}

// Risk is what a decision is worth, for the machines that a rehearsal states
// (measure rule 18).
type Risk struct {
	checks.Tally // at the end; a concession is no acceptance
	Outcomes     map[engine.Outcome]int
	Gates        []GateRisk
	Promised     *float64          // of bad machines among those accepted, at most; nil where a gate is decided simply
	OutAtFirst   checks.Proportion // of those out of tolerance at first: brought to acceptance
	Touched      checks.Proportion // of those in tolerance at first: corrected all the same
	Rounds       int               // most corrections on one machine
	Unknown      int               // machines of which it cannot be told what they truly are
	Failed       []Drawn           // whose run could not be played
}

// GateRisk is the share of accepted machines that are out of a gate's limits.
type GateRisk struct {
	Gate     *procedures.Gate
	Rule     checks.Rule
	Bad      checks.Proportion // among those accepted
	Promised *float64          // at most; nil where the rule promises nothing
}

// Sum puts together what became of the machines that were drawn.
func Sum(p *procedures.Procedure, drawn []Drawn) Risk {
	r := Risk{Outcomes: map[engine.Outcome]int{}}
	for _, d := range drawn {
		switch {
		case d.Failure != nil:
			r.Failed = append(r.Failed, d)
			continue
		case !d.Known:
			r.Unknown++
			continue
		}
		accepted := d.Outcome == engine.Accepted
		r.Outcomes[d.Outcome]++
		r.Add(accepted, d.Good())
		r.Rounds = max(r.Rounds, d.Rounds)
		if d.First {
			r.Touched.N++
			r.Touched.K += one(d.Rounds > 0)
		} else {
			r.OutAtFirst.N++
			r.OutAtFirst.K += one(accepted)
		}
	}
	r.gates(p, drawn)
	return r
}

func one(b bool) int {
	if b {
		return 1
	}
	return 0
}

// gates counts the machines that are out of each gate's limits among those
// accepted, beside what the rule promises of each: that a pass is right with
// the probability of its level.
func (r *Risk) gates(p *procedures.Procedure, drawn []Drawn) {
	sum, all := 0.0, true
	for _, st := range p.Steps {
		for _, it := range st.Items {
			g, ok := it.(*procedures.Gate)
			if !ok || g.Noted() {
				continue
			}
			x := GateRisk{Gate: g, Rule: ruleOf(p, g)}
			if x.Rule != checks.Simple {
				pass, _ := checks.Level(x.Rule)
				promised := 1 - pass
				x.Promised = &promised
				sum += promised
			} else {
				all = false
			}
			for _, d := range drawn {
				if holds, known := d.Sound[g.Name]; known && d.Known && d.Failure == nil && d.Outcome == engine.Accepted {
					x.Bad.N++
					x.Bad.K += one(!holds)
				}
			}
			r.Gates = append(r.Gates, x)
		}
	}
	if sum = min(sum, 1); all && len(r.Gates) > 0 {
		r.Promised = &sum
	}
}

// Kept tells whether the rule keeps what it promises, as far as so many
// machines can tell: no gate's interval lies above it.
func (r *Risk) Kept() bool {
	for _, g := range r.Gates {
		if g.Promised == nil {
			continue
		}
		if lo, _ := g.Bad.Interval(); lo > *g.Promised {
			return false
		}
	}
	return true
}
