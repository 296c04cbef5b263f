package rehearse

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"waywright/checks/montecarlo"
	"waywright/checks/quantity"
	"waywright/checks/response"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// begin is when every rehearsal begins, and pace the time that an answer takes.
var begin = time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)

const pace = 15 * time.Second

// A rehearsal that has no end of its own is ended: the longest of the runs
// that end have some hundred answers, and a confirmation that is answered no
// each time is answered so for ever.
const (
	mostAnswers = 5000
	mostNoes    = 20
)

// The names that people sign with.
const operator = "the rehearsed person"

// play is one rehearsal under way.
type play struct {
	plan  *engine.Plan
	r     *procedures.Rehearsal
	m     *model
	s     *engine.State
	clock time.Time
	seed  int

	answers  int
	asks     string // the last question, and the answer as it was typed
	last     string
	noes     map[string]int // how often each confirmation was answered no
	rounds   map[string]int
	said     map[string][]string
	seen     *Seen
	failure  *Failure
	mistakes []mistake
	doubted  bool // told that readings may be swapped, or a sign wrong
	trail    trail
	explains bool // of a failure all is told
	openEnd  bool // a machine that is drawn, or a task of a plan: the ends are not those of the author

	paper bool                  // it was written on a work sheet first, and is typed in from it
	asked func(engine.Question) // told of each question; nil: nobody

	// In a plan.
	begun   engine.Begun
	began   time.Time
	offered bool                                                 // what accepted runs give is taken
	reacted func(*procedures.Correction, map[string]value.Value) // told of each correction that was carried out; nil: nobody
}

func newPlay(plan *engine.Plan, r *procedures.Rehearsal, seed int) *play {
	plan = plan.Unread()
	proc := plan.Procedure()
	p := &play{plan: plan, r: r, explains: true, seed: seed, clock: begin, rounds: map[string]int{}, said: map[string][]string{}, noes: map[string]int{}, seen: NewSeen(),
		m: newModel(proc, r, montecarlo.NewStream(uint64(seed), number(proc.Name, r.Name)))}
	for i := range r.Mistakes {
		p.mistakes = append(p.mistakes, mistake{Mistake: &r.Mistakes[i]})
	}
	p.s, p.begun = engine.New(plan), engine.Begun{Procedure: proc.Name}
	return p
}

func (p *play) outcome() engine.Outcome { return p.s.Outcome() }

// work carries out what is asked until nothing is, or something is amiss.
func (p *play) work() {
	events := []engine.Data{p.begun, engine.Sat{Operator: operator}}
	if p.paper {
		events = slices.Insert(events, 1, engine.Data(engine.FromSheet{}))
	}
	if err := p.keep(events...); err != nil {
		p.fail(&Failure{Kind: Refused, At: p.r.At, Got: err.Error()})
		return
	}
	p.m.start(p.s)
	for p.failure == nil {
		p.clock = p.clock.Add(pace)
		q := p.s.Next(p.clock)
		p.seen.asked(q)
		if p.asked != nil {
			p.asked(q)
		}
		if q.Kind == engine.End {
			break
		}
		if p.answers++; p.answers > mostAnswers || p.noes[q.Name] > mostNoes {
			p.fail(&Failure{Kind: Endless, At: p.r.At, Question: q.Name})
			break
		}
		p.answer(q)
	}
	p.seen.stands(p.s)
	for _, j := range p.s.Judgements() {
		p.seen.judged(&j)
	}
}

// answer answers one question.
func (p *play) answer(q engine.Question) {
	in := engine.Input{Name: q.Name, Text: "yes"}
	switch q.Kind {
	case engine.AskOperator:
		in.Text = operator
	case engine.AskSheet:
		in.Text = onSheet(q, p.clock)
	case engine.AskGrade:
		in.Text = p.grade(q)
	case engine.AskInstrument:
		in.Text = "none"
	case engine.AskNudge:
		in.Text = p.needle(q)
	case engine.AskRelease, engine.AskDecider, engine.AskSign:
		in.Text = "the " + strings.ReplaceAll(q.Role.Name, "_", " ")
	case engine.AskConcession:
		in.Text, in.Reason = "grant", "a rehearsal"
	case engine.AskConfirm:
		in.Text = p.confirm(q)
	case engine.AskGiven, engine.AskReading:
		p.value(q)
		return
	case engine.Blocked:
		p.fromElsewhere(q)
		return
	case engine.AskWait:
		p.wait(q)
		return
	case engine.AskWay:
		in.Text, in.Reason = p.way(q), "a rehearsal"
	case engine.AskDone:
		if len(q.Ways) > 0 {
			p.correct(q.Ways[0].Advice)
			p.report(q.Name)
		}
	case engine.AskMoved:
		in.Text = p.typed(q, p.correct(q.Ways[0].Advice))
		defer p.report(q.Ways[0].Advice.Correction.Name)
	case engine.AskMove:
		in.Text = p.move(q)
	}
	p.say(q, in)
}

// say gives an answer that is not a value; none of these can be refused but by
// a mistake in the rehearsal or in the procedure.
func (p *play) say(q engine.Question, in engine.Input) {
	if ref := p.tell(q, in); ref != nil {
		p.refused(q, in, ref)
	}
}

// tell gives an answer and takes in what is said of it.
func (p *play) tell(q engine.Question, in engine.Input) *engine.Refusal {
	if p.failure != nil {
		return nil
	}
	p.asks, p.last = q.Name, in.Text
	data, ref := p.s.Reply(p.clock, in)
	a := Typed{N: p.answers, Question: in.Name, Text: in.Text}
	if in.Verb == engine.Amend {
		a.Question += ", amended"
	}
	if ref != nil {
		a.Refused = ref.Code
		p.trail.add(a)
		return ref
	}
	p.trail.add(a)
	if err := p.keep(data...); err != nil {
		p.refused(q, in, &engine.Refusal{Wrong: err.Error()})
	}
	return nil
}

// keep adds events to the run, and takes in what they bring about.
func (p *play) keep(data ...engine.Data) error {
	events := make([]engine.Event, len(data))
	for i, d := range data {
		events[i] = engine.Event{N: p.s.Len() + i + 1, Time: p.clock, By: p.s.Author(d), Data: d}
	}
	said, err := p.s.Advance(events...)
	p.hear(said)
	return err
}

func (p *play) refused(q engine.Question, in engine.Input, ref *engine.Refusal) {
	p.fail(&Failure{Kind: Refused, At: p.stated(q.Name), Question: q.Name, Typed: in.Text,
		Got: strings.TrimSpace(strings.Join([]string{ref.Understood, ref.Wrong, ref.Mend}, " "))})
}

// hear keeps what was said.
func (p *play) hear(notices []engine.Notice) {
	for _, n := range notices {
		switch {
		case n.Kind == engine.SetVoid:
			name := n.Drift.Reading.Name
			p.said[name] = append(p.said[name], "void")
		case n.Kind == engine.Answers && n.Response.Cannot == "":
			word, c := n.Response.Finding.Word, n.Response.Correction.Name
			p.said[c] = append(p.said[c], string(word))
			p.doubted = p.doubted || word == response.WrongSign
		}
	}
}

// report counts a correction that was reported.
func (p *play) report(name string) {
	p.rounds[name]++
	p.seen.corrected(name)
	p.holdRounds(name)
}

func (p *play) grade(q engine.Question) string {
	if p.r.Grade != "" {
		return p.r.Grade
	}
	return q.Choices[0].Word
}

func (p *play) confirm(q engine.Question) string {
	v := p.m.honest(p.m.asked(q), p.s)
	if v.State == value.Present && v.Kind == value.Truth && !v.Truth {
		p.noes[q.Name]++
		return "no"
	}
	return "yes"
}

// way takes further takes while they are offered, then the first way that the
// procedure names. Reading afresh is none: it is taken where something is said
// to be wrong with the readings, and there is.
func (p *play) way(q engine.Question) string {
	p.seen.judged(q.Gate)
	p.seen.stands(p.s)
	ways := slices.DeleteFunc(slices.Clone(q.Ways), func(w engine.Offered) bool { return w.Kind == engine.WayAfresh })
	way := ways[0]
	if p.doubted && len(ways) < len(q.Ways) && p.misread(q.Gate.Gate) {
		way = q.Ways[slices.IndexFunc(q.Ways, func(w engine.Offered) bool { return w.Kind == engine.WayAfresh })]
	}
	p.doubted = false
	p.seen.took(q.Gate.Gate.Name, way)
	return way.Name
}

// fromElsewhere gives what comes from an accepted run of another procedure. In
// a plan there are such runs, and nothing stands for them.
func (p *play) fromElsewhere(q engine.Question) {
	for _, g := range p.plan.Procedure().Givens {
		if g.Name != p.m.asked(q).name || g.From == nil || p.offered {
			continue
		}
		for _, ref := range g.From.Refs() {
			if ref.Space != formula.Accepted {
				continue
			}
			v := p.m.honest(p.m.asked(q), p.s)
			if v.State != value.Present {
				p.noAnswer(q, v)
				return
			}
			unit := quantity.Unit{Name: "1", Factor: 1}
			if g.Unit != nil {
				unit = *g.Unit
			}
			found := engine.Found{Accepted: []engine.AcceptedValue{{Name: ref.Name, Value: v.Num / unit.Factor, Unit: unit.Name, Run: "rehearsed", Day: begin.Format("2006-01-02")}}}
			if p.keep(found) == nil {
				return
			}
		}
	}
	p.fail(&Failure{Kind: Stuck, At: p.stated(q.Name), Question: q.Name, Got: q.Why})
}

// wait lets the time pass, and reads where a wait wants readings.
func (p *play) wait(q engine.Question) {
	if q.Wait.Over.After(p.clock) {
		p.clock = q.Wait.Over
	}
	q = p.s.Next(p.clock) // a reading may be due now
	in := engine.Input{Name: q.Name, Text: "over"}
	if q.Sheet {
		in.Text = "yes"
	}
	if q.Wait.Takes > 0 {
		v := p.m.honest(p.m.asked(q), p.s)
		switch {
		case v.State != value.Present && p.m.answers[p.m.asked(q).name] == nil:
			in.Text, in.Reason = "stated", "a rehearsal"
		case !q.Wait.Reading:
			in.Text, in.Reason = "short", "the readings do not agree"
		default:
			p.value(q)
			return
		}
	}
	p.say(q, in)
}

// onSheet is what stands on a rehearsed work sheet.
func onSheet(q engine.Question, now time.Time) string {
	switch {
	case strings.HasSuffix(q.Name, ".day"):
		return now.Format(time.DateOnly)
	case strings.HasSuffix(q.Name, ".name"):
		return operator
	case strings.HasSuffix(q.Name, ".temperature"):
		return "20"
	}
	return "yes"
}

// value answers a given, a reading or the reading of a wait.
func (p *play) value(q engine.Question) {
	if q.OfferOnly || p.offered && q.Offer != nil && q.Offer.Run != "" {
		p.say(q, engine.Input{Name: q.Name, Text: "offered"})
		return
	}
	asked := p.m.asked(q)
	v, slipped := p.misreading(q, asked)
	if v.State != value.Present {
		p.noAnswer(q, v)
		return
	}
	in := engine.Input{Name: q.Name}
	if q.File {
		in.Text, in.File = v.Text, &engine.File{Name: v.Text, SHA256: strings.Repeat("0", 64), Size: 1}
		p.say(q, in)
		return
	}
	for try := 0; ; try++ {
		in.Text = p.shown(q, asked, v, slipped)
		ref := p.tell(q, in)
		if ref == nil || p.failure != nil {
			return
		}
		p.said[asked.name] = append(p.said[asked.name], ref.Code)
		switch {
		case slipped != nil: // it is read again, and rightly
			slipped = nil
		case p.mend(q, ref): // an earlier one was wrong
		case !ref.Keep:
			p.refused(q, in, ref)
			return
		case try > 0:
			in.Reason = "read again, and the same"
		}
		if in.Reason != "" {
			p.say(q, in)
			return
		}
	}
}

// shown is a value as it is read and typed: with the noise of one take and the
// errors of the instrument, rounded to its resolution.
func (p *play) shown(q engine.Question, asked question, v value.Value, slipped *mistake) string {
	switch v.Kind {
	case value.Text:
		return v.Text
	case value.Truth:
		if v.Truth {
			return "yes"
		}
		return "no"
	}
	x := v.Mean().Num
	if q.Count {
		return fmt.Sprintf("%.0f", x)
	}
	x = p.m.read(p.s, q, asked, x)
	if q.Kind == engine.AskReading && p.in(asked.name, procedures.Reversed, q.Working) != nil {
		x = -x
	}
	x = rounded(q, x)
	if slipped != nil && slipped.Kind == procedures.SlipTurn {
		slipped.honest = p.inUnit(q, x)
		x += slipped.Reading.With.Turn
	}
	return p.inUnit(q, x)
}

func rounded(q engine.Question, x float64) float64 {
	if q.Instrument == nil || q.Instrument.Resolution <= 0 {
		return x
	}
	return math.Round(x/q.Instrument.Resolution) * q.Instrument.Resolution
}

// inUnit types a number in the unit of its question: twelve figures, so that
// what is rounded is typed as an instrument shows it.
func (p *play) inUnit(q engine.Question, x float64) string {
	if q.Unit == nil {
		return fmt.Sprintf("%.12g", x)
	}
	return decimal(q.Unit.Of(x)) + " " + q.Unit.Name
}

// decimal writes a number without an exponent.
func decimal(x float64) string {
	if x == 0 {
		return "0" // without a sign
	}
	places := 11 - int(math.Floor(math.Log10(math.Abs(x))))
	t := fmt.Sprintf("%.*f", max(0, places), x)
	if strings.Contains(t, ".") {
		t = strings.TrimRight(strings.TrimRight(t, "0"), ".")
	}
	return t
}

func (p *play) noAnswer(q engine.Question, v value.Value) {
	why := v.Why
	switch {
	case p.m.answers[p.m.asked(q).name] == nil:
		why = "nothing is stated for it"
	case why == "":
		why = "what it is made from is not there"
	}
	p.fail(&Failure{Kind: NoAnswer, At: p.stated(q.Name), Question: q.Name, Got: why})
}
