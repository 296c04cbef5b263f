package engine_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"waywright/checks"
	"waywright/engine"
	"waywright/engine/enginetest"

	"pgregory.net/rapid"
)

// dice makes choices out of bytes, so that a fuzzer and a generator of values
// can both play. Out of bytes it always throws nought.
type dice struct{ b []byte }

func (d *dice) n(of int) int {
	if len(d.b) == 0 || of < 2 {
		return 0
	}
	x := int(d.b[0])
	d.b = d.b[1:]
	return x % of
}

func pickOne[T any](d *dice, of []T) T { return of[d.n(len(of))] }

// someone answers whatever is asked: mostly as a person would, at times not.
type someone struct {
	dice
	r     *enginetest.Runner
	level float64 // by how many steps the readings stand apart just now
}

func (p *someone) input(q engine.Question) engine.Input {
	x := p.n(64)
	if q.Kind == engine.AskSign && x%3 == 1 {
		x = 60 // what is changed under a signature
	}
	switch x {
	case 63:
		return p.mischief(q)
	case 62, 61:
		return engine.Input{Verb: pickOne(&p.dice, []engine.Verb{engine.Back, engine.Back, engine.Omit, engine.Pause, engine.Note}), Text: "a remark"}
	case 60, 59, 58:
		return p.amendment()
	case 57:
		return engine.Input{Verb: engine.Cannot, Name: q.Name, Reason: pickOne(&p.dice, []string{"cannot reach it", ""})}
	case 56:
		return engine.Input{Verb: engine.Disturb, Name: p.something(), Reason: pickOne(&p.dice, []string{"it was knocked", ""})}
	}
	return p.answer(q)
}

// something is a step or an instrument, or neither.
func (p *someone) something() string {
	names := []string{"machine", "nothing", "instrument."}
	proc := p.r.Plan.Procedure()
	for _, s := range proc.Steps {
		names = append(names, s.Name)
	}
	for _, i := range proc.Instruments {
		names = append(names, i.Name, "instrument."+i.Name)
	}
	return pickOne(&p.dice, names)
}

func (p *someone) amendment() engine.Input {
	in := engine.Input{Verb: engine.Amend, Reason: "misread"}
	kept := p.r.State().Amendable(6)
	if len(kept) == 0 {
		return in
	}
	k := pickOne(&p.dice, kept)
	in.Name, in.Take = k.Name, k.Take*p.n(2)
	in.Text = pickOne(&p.dice, []string{"no", "yes", "1", "0.02", "20.01", "300", "ends", "flat", "home", "-3", k.Value})
	return in
}

// mischief is what no front end should send, and some will.
func (p *someone) mischief(q engine.Question) engine.Input {
	in := engine.Input{
		Verb: pickOne(&p.dice, []engine.Verb{engine.Answer, engine.Answer, engine.Amend, engine.Cannot, engine.Attach, engine.Verb("shout")}),
		Name: pickOne(&p.dice, []string{"", q.Name, q.Name + ".again", q.Name + ".back", "operator", "...", ".moved", "end"}),
		Take: pickOne(&p.dice, []int{0, 1, -1, 1 << 40}),
		Text: pickOne(&p.dice, []string{"", "NaN", "1e400", "-", "1 2 3", "1 mm 2", "plus", "minus", "nowhere", "sign", "wrong_way", "carry_on", "again",
			"\x00", strings.Repeat("9", 400), "3 div", "1 kg", "0.3 °C", "ÅÅÅ"}),
		Reason: pickOne(&p.dice, []string{"", "because"}),
	}
	if p.n(4) == 0 {
		in.File = &engine.File{Name: "a.jpg", SHA256: "00", Size: 1}
	}
	return in
}

func (p *someone) answer(q engine.Question) engine.Input {
	in := engine.Input{Name: pickOne(&p.dice, []string{q.Name, q.Name, ""}), Text: "yes", Reason: pickOne(&p.dice, []string{"", "I saw to it"})}
	switch q.Kind {
	case engine.AskOperator:
		in.Text = pickOne(&p.dice, []string{"A. Fitter", "B. Turner"})
	case engine.AskGrade, engine.AskNudge, engine.AskConcession, engine.AskGiven, engine.AskReading:
		in.Text = p.value(q)
	case engine.AskInstrument:
		in.Text = pickOne(&p.dice, []string{"none", "M-3", "M-4"})
	case engine.AskConfirm:
		in.Text = pickOne(&p.dice, []string{"yes", "yes", "yes", "no"})
	case engine.AskWait:
		p.r.Clock = p.r.Clock.Add(pickOne(&p.dice, []time.Duration{time.Hour, time.Minute}))
		in.Text = pickOne(&p.dice, []string{"over", "over", "short", "stated"})
		if q.Wait.Takes > 0 {
			in.Text = pickOne(&p.dice, []string{"20.001", "20.001", "20.004", "short"})
		}
	case engine.AskWay:
		p.level = pickOne(&p.dice, []float64{0, 0, 0, 0, 0.5, 4, 20, 60})
		in.Text = pickOne(&p.dice, append(q.Ways, slices.Repeat(q.Ways[:1], 6)...)).Name
		if len(q.Also) > 0 && p.n(2) == 1 {
			in.Name, in.Text = pickOne(&p.dice, q.Also), "yes"
			if strings.HasSuffix(in.Name, ".moved") {
				in.Text = p.moved(q, q.Ways[0].Advice.Amount)
			}
		}
	case engine.AskMoved:
		in.Text = p.moved(q, q.Ways[0].Advice.Amount)
	case engine.AskMove:
		in.Text = pickOne(&p.dice, []string{"carry_on", "plus", "minus", "wrong_way", "nowhere", "sign"})
		if !q.Move.Nudge && p.n(3) == 0 {
			in.Text = p.moved(q, q.Move.Left)
		}
	case engine.AskSign, engine.AskDecider:
		in.Text = pickOne(&p.dice, []string{"A. Fitter", "B. Turner", "C. Inspector"})
	}
	return in
}

func (p *someone) moved(q engine.Question, asked float64) string {
	return number(q, asked*pickOne(&p.dice, []float64{1, 1, -1, 0.1, 0.5, 1.6}))
}

func number(q engine.Question, base float64) string {
	return strconv.FormatFloat(q.Unit.Of(base), 'f', 4, 64)
}

var noise = append(slices.Repeat([]float64{0, 0, 0, 0.5, -0.5, 1, -1}, 8), 5, 500, 4000)

// value is one value or a row: about the middle of what is plausible.
func (p *someone) value(q engine.Question) string {
	switch {
	case len(q.Choices) > 0 && p.n(2) == 0:
		return q.Choices[0].Word
	case len(q.Choices) > 0:
		return pickOne(&p.dice, q.Choices).Word
	case q.Text || q.Unit == nil && !q.Count:
		return pickOne(&p.dice, []string{"seen nothing", "cracked"})
	case q.Count:
		return strconv.Itoa(int(q.Range.From) + p.n(int(q.Range.To-q.Range.From)+1))
	}
	n := 1
	if q.Remaining > 1 {
		n = pickOne(&p.dice, []int{1, q.Remaining, q.Remaining})
	}
	mid, step := 0.0, 0.001
	side := float64(len(q.Name)%3 - 1) // one reading against another
	if q.Range != nil {
		mid = (q.Range.From + q.Range.To) / 2
	}
	if q.Instrument != nil {
		step = q.Instrument.Resolution
	}
	var out []string
	for range n {
		out = append(out, number(q, mid+step*(side*p.level+pickOne(&p.dice, noise))))
	}
	return strings.Join(out, " ")
}

// shape tells questions apart by all that a front end shows.
func shape(q engine.Question) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s %s %v %v %+v %v %v %q %q %q %v %v %v %v", q.Kind, q.Name, q.Also, q.Optional, q.Step, q.Spindle, q.Do, q.Ask, q.Why, q.Positive, q.Choices,
		q.Cautions, q.SpindleTo, q.Open)
	fmt.Fprintf(&b, " %d/%d %d/%d %v %v %v %v %d %s", q.Take, q.Takes, q.Station, q.Stations, q.At, q.So, q.Again, q.Back, q.Remaining, q.Outcome)
	if q.Range != nil {
		fmt.Fprintf(&b, " range %v", *q.Range)
	}
	if q.Wait != nil {
		fmt.Fprintf(&b, " wait %v", *q.Wait)
	}
	if q.Gate != nil {
		b.WriteString(verdict(*q.Gate))
	}
	for _, w := range q.Ways {
		fmt.Fprintf(&b, " way %s", w.Name)
		if ad := w.Advice; ad != nil {
			fmt.Fprintf(&b, " %v %v %s %v %v %v", ad.Amount, ad.Amounts, ad.Direction, ad.Gain, ad.Left, ad.Do)
		}
	}
	for _, x := range q.Suspicions {
		fmt.Fprintf(&b, " looks %+v", x)
	}
	if m := q.Move; m != nil {
		fmt.Fprintf(&b, " move %v %v %v %v", m.Band, m.Asked, m.Moved, m.Left)
	}
	return b.String()
}

func verdict(j engine.Judgement) string {
	s := fmt.Sprintf("[%s %s %v %v %v %v %v %v %s]", j.Name, j.Verdict, j.Value, j.U, j.P, j.Lo, j.Hi, j.Element, j.Why)
	if j.Conceded != nil {
		s += fmt.Sprintf("%+v", *j.Conceded)
	}
	return s
}

// digest is all that a state says of the run, but for the times of sittings
// and for what was taken back.
func digest(s *engine.State, now time.Time) string {
	var b strings.Builder
	fmt.Fprintln(&b, shape(s.Next(now)))
	for _, j := range s.Judgements() {
		fmt.Fprintln(&b, verdict(j))
		for _, a := range s.History(j.Name) {
			fmt.Fprintf(&b, "  %s %v %s %v %d suspicions", verdict(a.Judgement), a.Stands, a.Ended, a.Working, len(a.Suspicions))
			for _, c := range []*engine.Change{a.Change, a.Overall} {
				if c != nil {
					fmt.Fprintf(&b, ", since %d %v to %v ± %v, real %t", c.Since, c.From, c.To, c.U, c.Shown)
				}
			}
			fmt.Fprintln(&b)
		}
	}
	for _, r := range s.Readings() {
		fmt.Fprintf(&b, "%s %s %s %d %v", r.ID, r.State, r.Why, r.Working, r.Sitting)
		for _, t := range r.Takes {
			fmt.Fprintf(&b, " %v %s %s", t.Value, t.Typed, t.Word)
		}
		b.WriteString("\n")
	}
	for _, f := range append(s.Givens(), s.Confirms()...) {
		fmt.Fprintf(&b, "%s %+v %v\n", f.Name, f.Value, f.Stale)
	}
	for _, c := range s.Corrections() {
		fmt.Fprintf(&b, "%s %d %v %v", c.Title, c.N, c.Planned, c.Amounts)
		for _, m := range c.Moved {
			fmt.Fprintf(&b, " %v %s", m.Value, m.Way)
		}
		if c.Response != nil {
			fmt.Fprintf(&b, " %v %v %+v", c.Response.Before, c.Response.After, c.Response.Finding)
		}
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "%v %v %+v %+v %+v", s.Outcome(), s.Open(), s.Waits(), s.Concessions(), s.Unmeasured())
	for _, l := range s.Ledger() {
		fmt.Fprintf(&b, " %s %v %v %s", l.Place, l.Amount, l.Total, l.Way)
	}
	for _, r := range s.Roles() {
		fmt.Fprintf(&b, " %s", r.Name)
	}
	return b.String()
}

// play works a run by throws of the dice and holds every step against what is
// always true.
func play(t rapid.TB, plan *engine.Plan, bytes []byte, most int, thorough bool) {
	r, err := enginetest.Begin(plan, engine.Begun{Machine: engine.Machine{ID: "lathe-2"}, Accepted: beforeHeadstock, Inch: len(bytes)%7 == 3})
	if err != nil {
		t.Fatal(err)
	}
	p := &someone{dice: dice{bytes}, r: r, level: 20}
	for n := 0; n < most && len(p.b) > 0; n++ {
		before, now := r.State(), r.Clock
		q := before.Next(now)
		if a, b := shape(q), shape(before.Next(now)); a != b {
			t.Fatalf("asked twice:\n%s\n%s", a, b)
		}
		in := p.input(q)
		was := ""
		if thorough && n%10 == 5 {
			was = digest(before, r.Clock)
		}
		_, refusal, err := r.Say(in)
		switch {
		case err != nil:
			t.Fatalf("at %s: %+v is taken and then refused: %v", q.Name, in, err)
		case refusal != nil:
			if strings.TrimSpace(refusal.Wrong) == "" || refusal.Code == "" {
				t.Fatalf("at %s: %+v is refused without a reason: %+v", q.Name, in, refusal)
			}
			if before != r.State() {
				t.Fatalf("a refusal changed the state")
			}
		case was != "":
			takenBack(t, r, before, was, in)
		}
		honest(t, r.State(), r.Clock)
		if thorough && n%10 == 0 {
			remembered(t, r.State(), r.Clock)
		}
	}
	folded, err := engine.Fold(plan, r.Events())
	if err != nil {
		t.Fatalf("fold: %v", err)
	}
	if a, b := digest(r.State(), r.Clock), digest(folded, r.Clock); a != b {
		t.Fatalf("step by step:\n%s\nfrom the journal:\n%s", a, b)
	}
	if !thorough {
		return
	}
	tellAll(folded, r.Clock)
}

// tellAll asks a state for everything that a record may want.
func tellAll(s *engine.State, now time.Time) {
	for _, j := range s.Judgements() {
		s.History(j.Name)
		s.Feeds(j.Name)
	}
	for _, in := range s.Procedure().Instruments {
		s.InstrumentInHand(in)
	}
	s.Explain(s.Next(now))
	s.Results()
	s.Amendments()
	s.Withdrawals()
	s.Cleared()
	s.Released()
	s.Rejected()
	s.Amendable(1000)
}

// remembered holds what a state has kept of its work against the work done
// again.
func remembered(t rapid.TB, s *engine.State, now time.Time) {
	if got, want := digest(s, now), digest(s.Afresh(), now); got != want {
		t.Fatalf("as it is remembered:\n%s\nworked out afresh:\n%s", got, want)
	}
}

// takenBack holds the state after back against the one before the answer.
func takenBack(t rapid.TB, r *enginetest.Runner, before *engine.State, was string, in engine.Input) {
	if in.Verb == engine.Back || in.Verb == engine.Note || in.Verb == engine.Attach {
		return
	}
	now := r.Clock
	data, refusal := r.State().Reply(now, engine.Input{Verb: engine.Back})
	if refusal != nil {
		return // it reaches so far and no further
	}
	s := r.State()
	for _, d := range data {
		var err error
		if s, err = s.With(engine.Event{N: s.Len() + 1, Time: now, Data: d}); err != nil {
			t.Fatalf("back after %+v: %v", in, err)
		}
	}
	if got, want := digest(s, now), digest(before, now); got != want {
		t.Fatalf("after %+v and back:\n%s\nbefore:\n%s", in, got, want)
	}
}

// honest holds an end against its facts: nothing accepted that is missing,
// stale or not passed.
func honest(t rapid.TB, s *engine.State, now time.Time) {
	o := s.Outcome()
	if o != engine.Accepted && o != engine.Conceded {
		return
	}
	for _, j := range s.Judgements() {
		ok := j.Verdict == checks.Pass || j.Verdict == checks.NotApplied
		if !ok && (o == engine.Accepted || j.Conceded == nil || !j.Conceded.Granted) {
			t.Fatalf("%s with %s", o, verdict(j))
		}
	}
	if open := s.Open(); len(open) > 0 {
		t.Fatalf("%s with %v", o, open)
	}
	if q := s.Next(now); q.Kind != engine.End {
		t.Fatalf("%s, and %s is asked", o, q.Name)
	}
}

// games are the procedures that are played: the library's, and those that have
// all the rest of the language in them.
func games(t testing.TB) map[string]*engine.Plan {
	t.Helper()
	out := map[string]*engine.Plan{}
	for _, name := range []string{"lathe/tailstock-by-test-cut", "lathe/headstock-align"} {
		out[name] = fromLibrary(t, name).WithTrials(fewTrials)
	}
	for _, name := range []string{"rail", "kinds", "rows", "lap-bar", "headstock-holddown", "bolts", "strip", "parts", "cooling", "post", "bubble", "edge", "signs", "fine"} {
		plan, err := load(name)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = plan.WithTrials(fewTrials)
	}
	return out
}

// Whatever is answered: nothing panics, what is taken can be kept, asking
// changes nothing, the journal folds to the state that the run had, back leads
// to the state before, and nothing is accepted that is missing, stale or not
// passed.
func TestAnyAnswersKeepTheRunWhole(t *testing.T) {
	plans := games(t)
	names := slices.Sorted(maps.Keys(plans))
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom(names).Draw(t, "procedure")
		rng := rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1)
		bytes := make([]byte, 3000)
		for i := range bytes {
			bytes[i] = byte(rng.Uint64())
		}
		play(t, plans[name], bytes, rapid.IntRange(1, 150).Draw(t, "answers"), true)
	})
}

func FuzzReply(f *testing.F) {
	plans := games(f)
	names := slices.Sorted(maps.Keys(plans))
	f.Add(uint8(0), []byte("\x00\x01\x02\x00\x00\x00\x05\x00\x00\x01"))
	f.Add(uint8(2), slices.Repeat([]byte{0}, 60))
	f.Add(uint8(3), []byte(strings.Repeat("\x00\x00\x01\x02\x03\x04", 30)))
	f.Add(uint8(4), []byte(strings.Repeat("\x00\x0e\x00\x0d\x01", 30)))
	f.Fuzz(func(t *testing.T, which uint8, bytes []byte) {
		play(t, plans[names[int(which)%len(names)]], bytes[:min(len(bytes), 200)], 30, false)
	})
}
