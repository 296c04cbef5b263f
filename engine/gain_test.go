package engine_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"waywright/checks/response"
	"waywright/engine"
	"waywright/engine/enginetest"
)

// What corrections do on machines of known gain, played on the engine itself:
// how many rounds it takes, and how often the wrong thing is said. The figures
// are derived here, by the same play with normal errors and without an engine
// (package response holds them too). Lengths are µm. A reading is known to 1.5,
// a movement to 1.7, the limit is 16.7, and one unit of movement changes the
// result by one on a machine of gain 1.

const (
	uReading  = 1.5
	uMovement = 1.7
)

// shiftedBy is the plan of a post that is shifted to its height, within a
// limit, by an indicator that shows a movement to uMoved.
func shiftedBy(t testing.TB, uMoved, limit float64) *engine.Plan {
	t.Helper()
	return inline(t, fmt.Sprintf(shiftedSource, uReading, uMoved/math.Sqrt2, limit)).WithTrials(fewTrials)
}

const shiftedSource = `
instrument "feeler" {
  kind              = "lever indicator"
  resolution        = um(0.01)
  error             = um(0)
  zero              = um(0)
  repeatability     = um(%g)
  repeatability_dof = 1000
  turn              = mm(1)
}
instrument "dial" {
  kind              = "dial indicator"
  resolution        = um(0.01)
  error             = um(0)
  zero              = um(0)
  repeatability     = um(%g)
  repeatability_dof = 1000
  turn              = mm(1)
}
step "look" {
  title = "Look"
  reading "off" {
    ask      = "Post: reading"
    unit     = "um"
    with     = instrument.feeler
    positive = "high"
    range    = [um(-5000), um(5000)]
  }
  result "height" {
    title    = "Post above its place"
    value    = reading.off
    unit     = "um"
    positive = "high"
  }
  gate "low" {
    title     = "It stands at its height"
    of        = result.height
    within    = plus_minus(um(%g))
    source    = "shop rule"
    if_failed = [correction.shift, reject]
  }
}
correction "shift" {
  title    = "Shift the post"
  amount   = -result.height
  unit     = "um"
  positive = "up"
  negative = "down"
  do       = ["Shift it."]
  attempts = 6
  moved {
    ask  = "Post: movement, plus up"
    with = instrument.dial
  }
  should_change {
    result = result.height
    by     = amount
  }
}`

// post is a machine that answers a movement with its gain.
type post struct {
	rng    *rand.Rand
	height float64
	gain   float64
	// moves turns what is asked for in a round into what is truly moved, and
	// what the indicator shows of it before its own error.
	moves func(p *post, asked float64) (made, shown float64)
	// tests is what the needle does when it is tested.
	tests func(p *post) string

	uMoved float64
	gains  map[string]float64 // remembered of the machine
	first  string             // the first reading, where it is given
	told   bool               // the run ends when it is told what a correction did

	rounds   int
	said     []response.Word
	knows    bool // where the mistake was, after a test of the needle
	contrary error
}

func straight(_ *post, asked float64) (float64, float64) { return asked, asked }

// play works a run to its end.
func (p *post) play(plan *engine.Plan) (engine.Outcome, error) {
	s, clock := engine.New(plan), enginetest.Start
	keep := func(data ...engine.Data) error {
		var evs []engine.Event
		for i, d := range data {
			evs = append(evs, engine.Event{N: s.Len() + i + 1, Time: clock, By: "A. Fitter", Data: d})
		}
		after, err := s.With(evs...)
		if err != nil {
			return err
		}
		for _, n := range engine.Effects(s, after) {
			if n.Kind == engine.Answers {
				p.said = append(p.said, n.Response.Finding.Word)
			}
		}
		s = after
		return nil
	}
	if err := keep(engine.Begun{Procedure: plan.Procedure().Name, Gains: p.gains}, engine.Sat{Operator: "A. Fitter"}); err != nil {
		return "", err
	}
	for range 400 {
		clock = clock.Add(time.Second)
		q := s.Next(clock)
		if q.Kind == engine.End || p.told && len(p.said) > 0 {
			return q.Outcome, nil
		}
		data, ref := s.Reply(clock, p.answer(q))
		if ref != nil {
			return "", fmt.Errorf("at %s: %+v", q.Name, ref)
		}
		if err := keep(data...); err != nil {
			return "", err
		}
	}
	return "", fmt.Errorf("no end")
}

func (p *post) answer(q engine.Question) engine.Input {
	in := engine.Input{Name: q.Name, Text: "yes", Reason: "a simulation"}
	switch q.Kind {
	case engine.AskInstrument:
		in.Text = "none"
	case engine.AskReading:
		in.Text = fmt.Sprintf("%.2f", p.height+uReading*p.rng.NormFloat64())
		if p.first != "" {
			in.Text, p.first = p.first, ""
		}
	case engine.AskWay:
		in.Text = q.Ways[0].Name
		if q.Ways[0].Kind == engine.WayAfresh {
			in.Text = q.Ways[1].Name // a correction, or the end where all tries are used
		}
		p.contrary = cmpErr(p.contrary, contradicts(q))
	case engine.AskMoved:
		p.rounds++
		made, shown := p.moves(p, q.Ways[0].Advice.Amount*1000)
		p.height += p.gain * made
		in.Text = fmt.Sprintf("%.2f", shown+p.uMoved*p.rng.NormFloat64())
	case engine.AskMove:
		in.Text = "carry_on"
		if q.Move.Nudge {
			in.Text = "plus"
			if p.tests != nil {
				in.Text = p.tests(p)
			}
		}
	case engine.AskSign:
		in.Text = "the " + q.Role.Name
	}
	return in
}

func cmpErr(a, b error) error {
	if a != nil {
		return a
	}
	return b
}

// contradicts tells where what is advised at a gate goes against the result
// that it is advised for.
func contradicts(q engine.Question) error {
	ad := q.Ways[0].Advice
	if ad == nil || !ad.HasAmount || q.Gate == nil {
		return nil
	}
	if ad.Amount*q.Gate.Value >= 0 {
		return fmt.Errorf("it stands %+.4f, and %+.4f is advised", q.Gate.Value, ad.Amount)
	}
	if most := 2 * math.Abs(q.Gate.Value) * (1 + 1e-9); math.Abs(ad.Amount) > most {
		return fmt.Errorf("it stands %+.4f, and %+.4f is advised: more than twice as much", q.Gate.Value, ad.Amount)
	}
	return nil
}

// rounds plays many runs and returns the mean number of rounds, with 7 where
// six did not do, and the share that six did for.
func rounds(t *testing.T, plan *engine.Plan, trials int, start, gain float64, set func(*post)) (mean, within float64) {
	t.Helper()
	for seed := range trials {
		p := &post{rng: rand.New(rand.NewPCG(uint64(seed), math.Float64bits(start*1000+gain))), height: start, gain: gain, moves: straight, uMoved: uMovement}
		if set != nil {
			set(p)
		}
		o, err := p.play(plan)
		if err == nil {
			err = p.contrary
		}
		if err != nil {
			t.Fatalf("from %g at gain %g, seed %d: %v", start, gain, seed, err)
		}
		n := p.rounds
		if o != engine.Accepted {
			n = 7
		} else {
			within += 1 / float64(trials)
		}
		mean += float64(n) / float64(trials)
	}
	return mean, within
}

// near holds a simulated figure against what it should be.
func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s: %.3f, want %.3f ± %.3f", what, got, want, within)
	}
}

func TestRoundsByGainOnTheEngine(t *testing.T) {
	plan := shiftedBy(t, uMovement, 16.7)
	for _, gain := range []float64{0.5, 1, 1.8} {
		for _, start := range []float64{40, 120, 300} {
			if mean, within := rounds(t, plan, 100, start, gain, nil); mean < 0.99 || mean > 2.1 || within < 1 {
				t.Errorf("gain %g from %g: %.2f rounds, %.3f within six; want 1 to 2", gain, start, mean, within)
			}
		}
	}
	for _, tt := range []struct{ gain, start, want float64 }{{0.3, 40, 2}, {0.3, 120, 3.3}, {0.3, 300, 4.3}, {0.2, 40, 3.1}, {0.2, 120, 5.1}} {
		mean, _ := rounds(t, plan, 80, tt.start, tt.gain, nil)
		near(t, fmt.Sprintf("gain %g from %g", tt.gain, tt.start), mean, tt.want, 0.35)
	}
	if _, within := rounds(t, plan, 60, 300, 0.2, nil); within > 0.05 {
		t.Errorf("gain 0.2 from 300: %.2f within six, want none", within)
	}
}

// A machine that is remembered to answer weakly is in line sooner.
func TestRoundsWithTheGainRemembered(t *testing.T) {
	plan := shiftedBy(t, uMovement, 16.7)
	without, _ := rounds(t, plan, 80, 120, 0.5, nil)
	with, _ := rounds(t, plan, 80, 120, 0.5, func(p *post) { p.gains = map[string]float64{"shift": 0.5} })
	if with > 1.2 || without < 1.8 {
		t.Errorf("%.2f rounds with what was remembered, %.2f without; want about 1 and 2", with, without)
	}
}

func TestWrongWayOnTheEngine(t *testing.T) {
	plan := shiftedBy(t, uMovement, 16.7)
	first := func(p *post) {
		p.moves = func(p *post, asked float64) (float64, float64) {
			if p.rounds == 1 {
				return -asked, -asked
			}
			return asked, asked
		}
	}
	for _, tt := range []struct{ gain, start, want float64 }{{1, 40, 2}, {1, 120, 2}, {1, 300, 2}, {0.3, 40, 3}, {0.3, 120, 4}, {0.3, 300, 5}} {
		mean, _ := rounds(t, plan, 60, tt.start, tt.gain, first)
		near(t, fmt.Sprintf("first the wrong way, gain %g from %g", tt.gain, tt.start), mean, tt.want, 0.35)
	}
	quarter := func(p *post) {
		p.moves = func(p *post, asked float64) (float64, float64) {
			if p.rng.IntN(4) == 0 {
				return -asked, -asked
			}
			return asked, asked
		}
	}
	for _, start := range []float64{40, 120, 300} {
		if mean, within := rounds(t, plan, 400, start, 1, quarter); mean < 1.2 || mean > 2.4 || within < 0.985 {
			t.Errorf("wrong one time in four, from %g: %.2f rounds, %.3f within six; want 1.3 to 2.3 and 0.999", start, mean, within)
		}
	}
	for start, want := range map[float64]float64{40: 0.95, 120: 0.80, 300: 0.58} {
		_, within := rounds(t, plan, 120, start, 0.3, quarter)
		near(t, fmt.Sprintf("wrong one time in four at gain 0.3, from %g: within six", start), within, want, 0.1)
	}
}

// reversed goes by the needle, until it is tested.
func reversed(p *post) {
	p.moves = func(p *post, asked float64) (float64, float64) {
		if p.knows {
			return asked, -asked
		}
		return -asked, asked
	}
	p.tests = func(p *post) string { p.knows = true; return "minus" }
}

// always goes the other way, until the needle is tested.
func always(p *post) {
	p.moves = func(p *post, asked float64) (float64, float64) {
		if p.knows {
			return asked, asked
		}
		return -asked, -asked
	}
	p.tests = func(p *post) string { p.knows = true; return "plus" }
}

// A person who always goes the wrong way, and an indicator that reads the other
// way round, are found by the test of the needle.
func TestReversedOnTheEngine(t *testing.T) {
	plan := shiftedBy(t, uMovement, 16.7)
	for name, set := range map[string]func(*post){"reversed": reversed, "always the wrong way": always} {
		for _, start := range []float64{40, 120, 300} {
			if mean, within := rounds(t, plan, 60, start, 1, set); mean < 1.9 || mean > 3.1 || within < 1 {
				t.Errorf("%s, from %g: %.2f rounds, %.2f within six; want 2 to 3", name, start, mean, within)
			}
		}
	}
}

// On a machine that answers weakly besides it takes 4 to 6, and more than six from
// far where the way is always wrong; a reversed indicator is found at the first move.
func TestReversedAndWeakOnTheEngine(t *testing.T) {
	plan := shiftedBy(t, uMovement, 16.7)
	for _, tt := range []struct {
		start, reversed, always float64
	}{{40, 3, 4.15}, {120, 4, 5.8}, {300, 5, 6.8}} {
		mean, _ := rounds(t, plan, 40, tt.start, 0.3, reversed)
		near(t, fmt.Sprintf("reversed, gain 0.3, from %g", tt.start), mean, tt.reversed, 0.2)
		mean, _ = rounds(t, plan, 40, tt.start, 0.3, always)
		near(t, fmt.Sprintf("always the wrong way, gain 0.3, from %g", tt.start), mean, tt.always, 0.2)
	}
}

func TestHalfEachTimeOnTheEngine(t *testing.T) {
	plan := shiftedBy(t, uMovement, 16.7)
	half := func(p *post) {
		p.moves = func(_ *post, asked float64) (float64, float64) { return asked / 2, asked / 2 }
	}
	for _, tt := range []struct{ start, want float64 }{{40, 2}, {120, 3.6}, {300, 5}} {
		mean, _ := rounds(t, plan, 60, tt.start, 1, half)
		near(t, fmt.Sprintf("half each time, from %g", tt.start), mean, tt.want, 0.35)
	}
}

// called returns how often the first correction is called one of words, where
// it is asked to change the result by size times the doubt of a change. What is
// made and shown are shares of what is asked.
func called(t *testing.T, plan *engine.Plan, trials int, size, made, shown float64, words ...response.Word) float64 {
	t.Helper()
	n := 0
	for seed := range trials {
		rng := rand.New(rand.NewPCG(uint64(seed), math.Float64bits(size+10*made+100*shown)))
		at := math.Round(size*math.Sqrt2*uReading*1.0001*100)/100 + 0.01
		p := &post{rng: rng, gain: 1, uMoved: 0.2, told: true, first: fmt.Sprintf("%.2f", at), height: at + uReading*rng.NormFloat64()}
		p.moves = func(_ *post, asked float64) (float64, float64) { return made * asked, shown * asked }
		if _, err := p.play(plan); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if len(p.said) > 0 && slices.Contains(words, p.said[0]) {
			n++
		}
	}
	return float64(n) / float64(trials)
}

func TestRightCauseOnTheEngine(t *testing.T) {
	plan := shiftedBy(t, 0.2, 1)
	for _, tt := range []struct{ size, asExpected, undone float64 }{{5, 0.83, 0.77}, {7, 0.94, 0.85}, {10, 0.99, 0.93}} {
		near(t, "as expected", called(t, plan, 600, tt.size, 1, 1, response.AsExpected), tt.asExpected, 0.045)
		near(t, "undone", called(t, plan, 600, tt.size, 0, 1, response.Undone), tt.undone, 0.045)
		for word, made := range map[response.Word]float64{response.WrongWay: -1, response.WrongSign: 1} {
			if got := called(t, plan, 300, tt.size, -1, made, word); got < 0.99 {
				t.Errorf("%g u: %s is named in %.3f, want over 0.99", tt.size, word, got)
			}
		}
	}
}

// A move that worked is never called wrong or swapped; one that was undone is
// called swapped in 6 of 1000 cases.
func TestFalseAlarmsOnTheEngine(t *testing.T) {
	plan := shiftedBy(t, 0.2, 1)
	if got := called(t, plan, 1000, 5, 1, 1, response.WrongWay, response.WrongSign); got > 0 {
		t.Errorf("a move that worked is called wrong in %g", got)
	}
	near(t, "undone called swapped", called(t, plan, 1600, 6, 0, 1, response.WrongSign), 0.006, 0.0055)
}

// Whatever a machine did before, however it was moved, whatever the needle was
// said to show: the way and the amount come from the result as it stands.
func TestAdviceNeverGoesAgainstTheResult(t *testing.T) {
	plan := shiftedBy(t, uMovement, 16.7)
	rapid.Check(t, func(t *rapid.T) {
		factor := rapid.Float64Range(-3, 3)
		p := &post{
			rng:    rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1)),
			height: rapid.Float64Range(-400, 400).Draw(t, "height"), gain: factor.Draw(t, "gain"), uMoved: uMovement,
			gains: map[string]float64{"shift": rapid.SampledFrom([]float64{0, 0.01, 0.3, 1, 1.7, 40}).Draw(t, "remembered")},
			tests: func(*post) string { return rapid.SampledFrom([]string{"plus", "minus"}).Draw(t, "needle") },
		}
		p.moves = func(p *post, asked float64) (float64, float64) {
			p.gain = factor.Draw(t, "gain")
			return factor.Draw(t, "made") * asked, factor.Draw(t, "shown") * asked
		}
		if _, err := p.play(plan); err != nil {
			t.Fatal(err)
		}
		if p.contrary != nil {
			t.Fatalf("%v, after %v", p.contrary, p.said)
		}
	})
}
