package engine

import (
	"maps"
	"slices"

	"waywright/checks"
	"waywright/procedures"
)

// feedTakes lists the events of the readings that a gate stands on in one
// round.
func (s *State) feedTakes(g *procedures.Gate, within []string) []int {
	var out []int
	for _, r := range s.plan.feeds[g.Name] {
		for _, round := range s.feedRounds(r, g, within) {
			for _, id := range s.elements(r, round) {
				for _, t := range s.live(id, r.Step) {
					out = append(out, t.n)
				}
			}
		}
	}
	return out
}

// setIDs lists the reading sets a gate stands on.
func (s *State) setIDs(g *procedures.Gate) []string {
	var out []string
	for _, r := range s.plan.feeds[g.Name] {
		for _, set := range s.setsOf(r) {
			if set.State == "used" {
				out = append(out, set.ID)
			}
		}
	}
	return out
}

// History returns the judgements of a gate, oldest first: one for each time
// that its inputs were whole.
func (s *State) History(gate string) []Attempt {
	if s.history == nil {
		s.history = s.histories()
	}
	return s.history[gate]
}

// histories gives what every gate has been through.
func (s *State) histories() map[string][]Attempt {
	s.chronicle = s.chronicle.upTo(s)
	of := map[string]*past{}
	for name, p := range s.chronicle.of {
		of[name] = p.clone()
	}
	s.chronicle.t.lookAgain(of)
	out := map[string][]Attempt{}
	for name, p := range of {
		p.compare()
		s.chronicle.of[name].changes = p.changes // they are what they are
		s.addCorrections(name, p.attempts)
		out[name] = p.attempts
	}
	return out
}

// chronicle is a run folded once more with every gate followed, as far as some
// event. It is not changed once made: a run grows by an answer at a time, and
// what came before need not be followed again.
type chronicle struct {
	t  *State
	of map[string]*past
}

// upTo returns the chronicle of a state that has grown out of the one that it
// was made for; of nil, a new one.
func (c *chronicle) upTo(s *State) *chronicle {
	next := &chronicle{of: map[string]*past{}}
	switch {
	case c == nil:
		next.t = New(s.plan)
		next.t.gone = s.gone
	case len(c.t.events) == len(s.events):
		return c
	default:
		next.t = c.t.clone()
		for name, p := range c.of {
			next.of[name] = p.clone()
		}
	}
	for _, ev := range s.events[len(next.t.events):] {
		if err := next.follow(ev); err != nil {
			break // it was applied before: this cannot be
		}
	}
	return next
}

// follow follows every gate over one more event.
func (c *chronicle) follow(ev Event) error {
	t := c.t
	if _, ok := ev.Data.(Withdrawn); ok || t.gone[ev.N] != 0 {
		t.events = append(t.events, ev)
		return nil
	}
	switch ev.Data.(type) {
	case Chosen, Disturbed:
		t.lookAgain(c.of) // as it was when something was done about it
	}
	if err := t.apply(ev); err != nil {
		return err
	}
	for _, g := range t.plan.gates() {
		for _, round := range t.rounds(g.Step) {
			name := address(g.Name, round...)
			if c.of[name] == nil {
				c.of[name] = &past{}
			}
			c.of[name].follow(t, ev, g, round)
		}
	}
	return nil
}

// lookAgain keeps what the readings of each gate look like now, beside those of
// the other gates.
func (s *State) lookAgain(of map[string]*past) {
	if s.plan.unread {
		return
	}
	for _, j := range s.Judgements() {
		p := of[j.Name]
		if p == nil || len(p.attempts) == 0 {
			continue
		}
		if last := &p.attempts[len(p.attempts)-1]; last.Stands && j.Verdict != checks.Open {
			last.Suspicions = s.Suspicions(&j)
		}
	}
}

// past is the history of one gate while a run is folded.
type past struct {
	attempts []Attempt
	from     []weighed // what each stands on
	takes    []int     // of the last attempt
	judged   int       // event on which the judgement was last made

	changes map[[2]int]*Change // from one attempt to another, as far as they were compared
}

// clone copies what may still change.
func (p *past) clone() *past {
	q := *p
	q.attempts, q.from, q.changes = slices.Clone(p.attempts), slices.Clone(p.from), maps.Clone(p.changes)
	return &q
}

// follow looks at the gate after one event.
func (p *past) follow(t *State, ev Event, g *procedures.Gate, round []string) {
	j := t.judge(g, round)
	if at := t.judged[j.Name].n; at != p.judged {
		p.judged = at
		p.note(t, ev, j, t.feedTakes(g, round))
		if j.Verdict != checks.Open {
			p.keep(t.judged[j.Name].from)
		}
	}
	if c, ok := ev.Data.(Chosen); ok && c.Gate == j.Name && len(p.attempts) > 0 {
		last := &p.attempts[len(p.attempts)-1]
		last.Chosen, last.ChosenAt = &c, stamp(ev, c.Reason)
	}
}

// note keeps a judgement that was made anew.
func (p *past) note(t *State, ev Event, j Judgement, takes []int) {
	var last *Attempt
	if n := len(p.attempts); n > 0 {
		last = &p.attempts[n-1]
	}
	same := last != nil && slices.Equal(takes, p.takes)
	switch {
	case j.Verdict == checks.Open:
		if last != nil && last.Stands && !same {
			last.Stands, last.Ended = false, t.lastSpoil()
		}
	case !same || !last.Stands:
		if last != nil && last.Stands {
			last.Stands, last.Ended = false, "further takes"
		}
		p.attempts = append(p.attempts, Attempt{Judgement: j, At: stamp(ev, ""), Working: t.setIDs(j.Gate), Stands: true})
		p.takes = takes
	default:
		last.Judgement = j // an amendment or a concession
	}
}

// keep remembers what the newest judgement was made from.
func (p *past) keep(from weighed) {
	if n := len(p.attempts); len(p.from) < n {
		p.from = append(p.from, from)
	} else {
		p.from[n-1] = from
		maps.DeleteFunc(p.changes, func(between [2]int, _ *Change) bool { return slices.Contains(between[:], n-1) })
	}
}

// compare holds each judgement against the last one before it that had a value,
// and against the first.
func (p *past) compare() {
	var had []int
	for i := range p.attempts {
		if _, ok := p.from[i].alone(); !ok {
			continue
		}
		if n := len(had); n > 0 {
			p.attempts[i].Change = p.since(had[n-1], i)
			if n > 1 {
				p.attempts[i].Overall = p.since(had[0], i)
			} else {
				p.attempts[i].Overall = p.attempts[i].Change
			}
		}
		had = append(had, i)
	}
}

func (p *past) since(was, is int) *Change {
	between := [2]int{was, is}
	if c, ok := p.changes[between]; ok {
		return c
	}
	c, ok := compare(p.from[was], p.from[is])
	if !ok {
		return nil
	}
	c.Since = was + 1
	put(&p.changes, between, &c)
	return &c
}

func (s *State) lastSpoil() string {
	if n := len(s.spoils); n > 0 {
		return s.spoils[n-1].why
	}
	return "read again"
}

// addCorrections joins what was chosen at each attempt with what became of it.
func (s *State) addCorrections(gate string, out []Attempt) {
	for i := range s.attempts {
		a := &s.attempts[i]
		for k := range out {
			if a.gate == gate && out[k].ChosenAt.N == a.chosen && a.reported != 0 {
				out[k].Correction = s.attempted(a)
			}
		}
	}
}

func (s *State) attempted(a *attempt) *Attempted {
	ad := s.adviceOf(a)
	t := &Attempted{
		Correction: a.corr, Title: ad.Title, Do: ad.Do, N: a.number, HasAmount: ad.HasAmount, FromRun: a.fromRun, Planned: a.amount(),
		PlannedWay: ad.Direction, At: a.stations, Amounts: a.planned, Gain: a.gain, Response: s.response(a),
		Disturbed: append(slices.Clip(ad.Spoils), ad.Disturbs...), Report: Stamp{N: a.reported, Time: a.reportedAt, By: a.by},
	}
	for _, m := range a.moves {
		t.Moved = append(t.Moved, Movement{Stamp{N: m.n, Time: m.at, By: m.by}, m.typed.Typed, m.value, a.way(m.value)})
	}
	if a.hasMoved {
		sum := a.moved()
		t.MovedSum, t.MovedWay = &sum, a.way(sum)
	}
	if done := a.done(); a.share != 0 && len(done) == 1 {
		t.Took = &Movement{Stamp: t.Report, Typed: "half", Value: done[0], Way: a.way(done[0])}
		if a.took != nil {
			t.Took.Typed = a.took.Typed
		}
	}
	for _, j := range a.judgements {
		t.Judged = append(t.Judged, Judged{Stamp{N: j.n, Time: j.at, By: j.by}, j.MoveJudged})
	}
	return t
}

// Corrections returns every correction that was reported, in order.
func (s *State) Corrections() []Attempted {
	var out []Attempted
	for i := range s.attempts {
		if a := &s.attempts[i]; a.reported != 0 {
			out = append(out, *s.attempted(a))
		}
	}
	return out
}
