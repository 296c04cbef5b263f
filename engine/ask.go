package engine

import (
	"math"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

func (s *State) givenQuestion(g *procedures.Given, id string, e *env) Question {
	q := Question{Kind: AskGiven, Name: id, Ask: words(g.Ask, e)}
	s.answerForm(&q, &g.Answer, e)
	q.Instrument = s.inHand(g.With)
	if g.From != nil {
		if v := g.From.Eval(e); v.State == value.Present {
			q.Offer = s.offered(v, q.Unit)
			s.fromAccepted(q.Offer, g.From)
		} else {
			q.Offer = s.assumption(id, q.Unit)
		}
	}
	if g.Ask == nil {
		q.Kind, q.Ask = Blocked, words(g.Title, e)
		if q.Offer != nil {
			q.Kind, q.OfferOnly = AskGiven, true
			return q
		}
		if g.From != nil {
			q.Why = "This value comes from " + comesFrom(g.From) + " and cannot be typed."
		}
	}
	return q
}

func (s *State) offered(v value.Value, u *quantity.Unit) *Offer {
	o := &Offer{Value: v.Num, From: "the entry of " + s.begun.Machine.ID}
	switch {
	case v.Kind == value.Text:
		o.Text, o.exact = v.Text, v.Text
	case u != nil:
		o.Text, o.exact = quantity.Short(v.Num, *u), quantity.Plain(v.Num, *u)
	default:
		r := quantity.Ratio.Default()
		o.Text, o.exact = quantity.Short(v.Num, r), quantity.Plain(v.Num, r)
	}
	return o
}

// comesFrom says in words what a program takes its value from.
func comesFrom(p *formula.Program) string {
	for _, r := range p.Refs() {
		if other, _, ok := strings.Cut(r.Name, "."); ok && r.Space == formula.Accepted {
			return "an accepted run of " + other + " on this machine"
		}
	}
	return p.Source()
}

// fromAccepted says of what is offered from which accepted run it comes, and
// how well it was known there (semantics rule 45, measure rule 8).
func (s *State) fromAccepted(o *Offer, from *formula.Program) {
	for _, r := range from.Refs() {
		if a, ok := s.accepted(r); ok {
			o.Run, o.From, o.U, o.DoF = a.Run, a.origin(), a.base(a.U), a.DoF
		}
	}
}

// found puts what was found later in the place of what was known before. A
// given that is answered keeps what it took.
func (s *State) found(d Found) {
	kept := slices.DeleteFunc(slices.Clone(s.begun.Accepted), func(a AcceptedValue) bool {
		return slices.ContainsFunc(d.Accepted, func(b AcceptedValue) bool { return a.Name == b.Name })
	})
	s.begun.Accepted = append(kept, d.Accepted...)
}

// accepted returns what a name means in the accepted runs of the machine.
func (s *State) accepted(r formula.Ref) (AcceptedValue, bool) {
	for _, a := range s.begun.Accepted {
		if r.Space == formula.Accepted && a.Name == r.Name {
			return a, true
		}
	}
	return AcceptedValue{}, false
}

// base brings a size of the value, such as its uncertainty, to base units.
func (a AcceptedValue) base(x float64) float64 {
	u, err := quantity.Lookup(a.Unit)
	if err != nil {
		return x
	}
	return x * u.Factor
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
	h, ok := s.cache.hands[p]
	if !ok {
		h = s.takenInHand(p)
		put(&s.cache.hands, p, h)
	}
	return &h
}

func (s *State) takenInHand(p *procedures.Instrument) InHand {
	in := s.instrument(p)
	b := s.bound[p.Name]
	return InHand{Name: p.Name, Kind: p.Kind, ID: b.ID, Resolution: in.Resolution, Reads: reach(p, b), Unit: p.Unit, Due: b.Due,
		absolute: absolute(p, b, Range{})}
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
		Ask: numberOf(p.Kind), Instrument: s.inHand(p),
	}, true
}

// numberOf asks for the number of the real instrument. A kind may end with what it
// reads: "lever indicator, 0.002 mm".
func numberOf(kind string) string {
	if strings.Contains(kind, ",") {
		kind += ","
	}
	return "Number of the " + kind + " in the hand?"
}

func (s *State) sentences(texts []procedures.Text, e *env) []string {
	var out []string
	for _, t := range texts {
		out = append(out, words(t, e))
	}
	return out
}

func (s *State) readingQuestion(r *procedures.Reading, round []string, e *env) (Question, bool) {
	if s.idle.readings[r.Name] || s.whole(r, round) {
		return Question{}, false
	}
	open, ok := s.open(r, round)
	if !ok || len(open) == 0 {
		return Question{}, false
	}
	if q, ok := s.instrumentQuestion(r.With); ok {
		return q, true
	}
	p := open[0]
	ek := s.atPlace(e, r, p, len(round))
	if r.Nudge != nil && s.nudged(r, round) == "" {
		return Question{
			Kind: AskNudge, Name: nudgeOf(r, round), Instrument: s.inHand(r.With),
			Ask:      s.pushed(r, ek),
			Choices:  []Choice{{"plus", "plus"}, {"minus", "minus"}, {"nowhere", "nowhere"}},
			Positive: words(r.Positive, ek),
		}, true
	}
	q := Question{
		Kind: AskReading, Name: p.name(r), Positive: s.told(r.Positive, ek), Turning: s.told(r.Turning, ek), Instrument: s.inHand(r.With),
		Remaining: remaining(open, r), Again: p.part == again, Back: p.part == back, Further: p.pass > 0, Keys: p.keys, Where: p.at,
		Working: s.work[r.Step.Name] + 1, Setting: s.setting(r), Turned: r.Turned,
	}
	s.answerForm(&q, &r.Answer, ek)
	s.decimals(&q)
	q.Take, q.Takes = s.takeNumber(r, p)
	if !s.plan.unread {
		q.Ask = words(r.Ask, ek.bind("take", value.Num(float64(max(q.Take, 1)))))
	}
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

// asked returns the question that a kept answer was the answer to.
func (s *State) asked(name string) (Question, bool) {
	if c := s.movementOf(name); c != nil {
		return s.movedQuestion(c, s.env()), true
	}
	if name == "grade" {
		return s.gradeQuestion(), true
	}
	first, keys := cut(name)
	if g := s.plan.givens[first]; g != nil {
		return s.givenQuestion(g, name, s.env().bindAll(g.Each, keys)), true
	}
	switch it := s.plan.items[first].(type) {
	case *procedures.Confirm:
		q := Question{Kind: AskConfirm, Name: name}
		if len(keys) == len(s.plan.stepOf[first].Each) {
			q.Ask = words(it.Ask, s.env().in(s.plan.stepOf[first], keys))
		}
		return q, true
	case *procedures.Reading:
		return s.askedReading(it, name)
	}
	return Question{}, false
}

func (s *State) askedReading(r *procedures.Reading, name string) (Question, bool) {
	for _, round := range s.rounds(r.Step) {
		places, _ := s.places(r, round)
		for _, p := range places {
			if p.name(r) != name {
				continue
			}
			e := s.atPlace(s.env().in(r.Step, round), r, p, len(round))
			q := Question{Kind: AskReading, Name: name, Instrument: s.inHand(r.With), Remaining: 1, Positive: words(r.Positive, e)}
			s.answerForm(&q, &r.Answer, e)
			s.decimals(&q)
			q.Ask = words(r.Ask, e.bind("take", value.Num(1)))
			return q, true
		}
	}
	return Question{}, false
}

// atPlace binds the keys, the station and the angle of a place.
func (s *State) atPlace(e *env, r *procedures.Reading, p place, outer int) *env {
	e = e.bindAll(r.Each, p.keys[outer:])
	if p.key != "" {
		e = e.bind("station", value.Num(p.at)).bind("angle", value.Num(p.at))
	}
	return e
}

func (s *State) gradeQuestion() Question {
	return Question{Kind: AskGrade, Name: "grade", Ask: "Which limits are to hold: the grade?", Choices: choices(s.plan.proc.Grades)}
}

// movedQuestion asks how far a correction went.
func (s *State) movedQuestion(c *procedures.Correction, e *env) Question {
	u := quantity.InRun(c.Moved.Unit, s.begun.Inch)
	q := Question{Kind: AskMoved, Name: c.Name + ".moved", Ask: words(c.Moved.Ask, e), Unit: &u, Instrument: s.inHand(c.Moved.With),
		Positive: words(c.Positive, e), Negative: words(c.Negative, e)}
	s.decimals(&q)
	return q
}
