package response

import (
	"math"
	"math/rand/v2"
	"testing"
)

// All figures here are derived here, simulated: what the bands and the step
// rule do on a machine of known gain, with normal errors. The seeds are fixed.

func noise(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 4)) }

// share returns how often a correction is called one of words, when the truth
// is the change and movement given, in units of u(Δ) of the expected change p.
func share(r *rand.Rand, trials int, p, change, moved float64, words ...Word) float64 {
	const uKappa = 0.02
	n := 0
	for range trials {
		k := moved + uKappa*r.NormFloat64()
		in := ratios(change+r.NormFloat64()/p, k, 1/p, uKappa)
		f := Analyse(in)
		for _, w := range words {
			if f.Word == w {
				n++
			}
		}
	}
	return float64(n) / float64(trials)
}

func TestRightCauseSimulated(t *testing.T) {
	r := noise(1)
	const trials = 20000
	for _, tt := range []struct {
		p                  float64
		asExpected, undone float64
	}{{5, 0.83, 0.77}, {7, 0.94, 0.85}, {10, 0.99, 0.93}} {
		near(t, "as expected", share(r, trials, tt.p, 1, 1, AsExpected), tt.asExpected, 0.01)
		near(t, "undone", share(r, trials, tt.p, 0, 1, Undone), tt.undone, 0.01)
		for _, s := range []float64{
			share(r, trials, tt.p, -1, -1, WrongWay),
			share(r, trials, tt.p, -1, 1, WrongSign),
		} {
			if s < 0.99 {
				t.Errorf("|P| = %g u: wrong way or swapped is named in %.4f, want over 0.99", tt.p, s)
			}
		}
	}
}

// A move that worked is called wrong or swapped in less than 10⁻⁵ of cases, an
// undone one swapped in 0.6 % (P(z < −2.5)), at any size up to where 0.15 rules.
func TestFalseAlarmsSimulated(t *testing.T) {
	r := noise(2)
	const trials = 200000
	if got := share(r, trials, 5, 1, 1, WrongWay, WrongSign); got > 1e-5 {
		t.Errorf("a move that worked is called wrong in %g, want under 1e-5", got)
	}
	for _, p := range []float64{5, 8, 15} {
		near(t, "undone called swapped", share(r, trials/4, p, 0, 1, WrongSign), 0.006, 0.0015)
	}
}

// run plays a correction from start until the result passes, and returns the
// rounds it took; 7 when six do not do. Lengths are µm. move turns the amount
// asked for, in the n-th round, into the one that is truly made.
func run(r *rand.Rand, start, gain float64, move func(n int, asked float64) float64) int {
	const (
		limit   = 16.7
		u       = 1.5 // of a result
		uMoved  = 1.7 // of m
		passing = limit - 1.645*u
	)
	truth := start
	before := truth + u*r.NormFloat64()
	step := Step{Gain: 1, UChange: math.Sqrt2 * u}
	for n := range 7 {
		if math.Abs(before) <= passing {
			return n
		}
		step.Own, step.Change = -before, -before // one unit of amount changes the result by one
		next := NextAmount(step)
		asked := next.Amount
		if next.First != Nothing {
			asked = -before // the check found the mistake; the step is the plain one
			step.Last, step.WrongWays = nil, 0
		}
		made := move(n, asked)
		truth += gain * made
		after := truth + u*r.NormFloat64()
		moved := made + uMoved*r.NormFloat64()
		f := Analyse(Input{Planned: asked, Moved: moved, UMoved: uMoved, HasMoved: true,
			ExpectedPlanned: asked, ExpectedMoved: moved, Change: after - before, UChange: step.UChange})
		step.Gain, step.Last = NextGain(step.Gain, f), &f
		if f.Word == WrongWay {
			step.WrongWays++
		} else {
			step.WrongWays = 0
		}
		before = after
	}
	return 7
}

func meanRounds(seed uint64, start, gain float64, move func(n int, asked float64) float64) (mean, within float64) {
	const trials = 2000
	r := noise(seed)
	for range trials {
		n := run(r, start, gain, move)
		mean += float64(n) / trials
		if n <= 6 {
			within += 1. / trials
		}
	}
	return mean, within
}

// What a fixed edge would do instead of one at 2.5 u: call an undone move
// wrong at ρ < −0.5, and never see a wrong one on a machine of gain 0.3.
func TestFixedEdgeSimulated(t *testing.T) {
	r := noise(3)
	const (
		trials = 400000
		u      = 1.5 * math.Sqrt2 // of a change
	)
	for _, tt := range []struct{ planned, want, within float64 }{{5, 0.12, 0.01}, {8, 0.03, 0.002}, {10, 0.009, 0.001}, {15, 0.0002, 0.0001}} {
		n := 0
		for range trials {
			if u*r.NormFloat64()/tt.planned < -0.5 {
				n++
			}
		}
		near(t, "undone called wrong", float64(n)/trials, tt.want, tt.within)
	}
	// The wrong way at gain 0.3: ρ is about −0.3, which the fixed edge misses from
	// 30 µm on, and this one sees.
	for _, planned := range []float64{30, 60} {
		fixed, here := 0, 0
		for range 20000 {
			change := -0.3*planned + u*r.NormFloat64()
			if change/planned < -0.5 {
				fixed++
			}
			if Analyse(Input{Planned: planned, Moved: -planned, UMoved: 1.7, HasMoved: true, ExpectedPlanned: planned, ExpectedMoved: -planned, Change: change, UChange: u}).Word == WrongWay {
				here++
			}
		}
		if float64(fixed)/20000 > 0.003 || float64(here)/20000 < 0.95 {
			t.Errorf("%g µm the wrong way at gain 0.3: seen by the fixed edge %d, by this one %d of 20000", planned, fixed, here)
		}
	}
}

func TestRoundsByGainSimulated(t *testing.T) {
	plain := func(_ int, asked float64) float64 { return asked }
	for _, gain := range []float64{0.5, 0.7, 1, 1.3, 1.8} {
		for _, start := range []float64{40, 120, 300} {
			if mean, _ := meanRounds(5, start, gain, plain); mean < 0.99 || mean > 2.05 {
				t.Errorf("gain %g from %g µm: %.2f rounds, want 1 to 2", gain, start, mean)
			}
		}
	}
	for _, tt := range []struct{ gain, start, want float64 }{
		{0.3, 40, 2}, {0.3, 120, 3.3}, {0.3, 300, 4.3}, {0.2, 40, 3.1}, {0.2, 120, 5.1},
	} {
		mean, _ := meanRounds(6, tt.start, tt.gain, plain)
		near(t, "rounds", mean, tt.want, 0.35)
	}
	if _, within := meanRounds(7, 300, 0.2, plain); within > 0.05 {
		t.Errorf("gain 0.2 from 300 µm: %.2f within six, want about none", within)
	}
}

func TestWrongWayFirstSimulated(t *testing.T) {
	first := func(n int, asked float64) float64 {
		if n == 0 {
			return -asked
		}
		return asked
	}
	for _, tt := range []struct{ gain, start, want float64 }{
		{1, 40, 2}, {1, 120, 2}, {1, 300, 2}, {0.3, 40, 3}, {0.3, 120, 4}, {0.3, 300, 5},
	} {
		mean, _ := meanRounds(8, tt.start, tt.gain, first)
		near(t, "rounds", mean, tt.want, 0.35)
	}
}

func TestHalfEachTimeSimulated(t *testing.T) {
	half := func(_ int, asked float64) float64 { return asked / 2 }
	for _, tt := range []struct{ start, want float64 }{{40, 2}, {120, 3.6}, {300, 5}} {
		mean, _ := meanRounds(9, tt.start, 1, half)
		near(t, "rounds", mean, tt.want, 0.35)
	}
}

// The step rule without one of its parts: the sign from ρ, or no scaling at all.
func TestOtherStepRulesSimulated(t *testing.T) {
	other := func(seed uint64, start, gain float64, first float64, amount func(y, rho float64) float64) (mean, within, most float64) {
		const (
			trials = 2000
			pass   = 16.7 - 1.645*1.5
		)
		r := noise(seed)
		for range trials {
			truth, rho, sign := start, 1., first
			before := truth + 1.5*r.NormFloat64()
			n := 0
			for ; math.Abs(before) > pass && n < 7; n++ {
				asked := amount(-before, rho)
				truth += sign * gain * asked
				sign = 1
				after := truth + 1.5*r.NormFloat64()
				rho, before = (after-before)/asked, after
				most = math.Max(most, math.Abs(truth)/start)
			}
			mean += float64(n) / trials
			if n <= 6 {
				within += 1. / trials
			}
		}
		return mean, within, most
	}
	// After a first move the wrong way ρ is −1. Dividing by it turns the sign, and by
	// what it is held at asks for twice as much: the next result is as far out again,
	// and the one after that is right.
	mean, _, most := other(10, 120, 1, -1, func(y, rho float64) float64 { return y / math.Max(rho, 0.5) })
	near(t, "rounds, dividing by ρ held at 0.5", mean, 3, 0.05)
	near(t, "and the taper at its most", most, 2, 0.1)
	// Unscaled steps on a machine of gain 1.8 go from side to side.
	unscaled := func(y, _ float64) float64 { return y }
	_, within, _ := other(11, 40, 1.8, 1, unscaled)
	near(t, "unscaled at gain 1.8 from 40 µm, within six", within, 0.81, 0.04)
	if _, within, _ = other(12, 120, 1.8, 1, unscaled); within > 0.01 {
		t.Errorf("unscaled at gain 1.8 from 120 µm: %.3f within six, want none", within)
	}
}

// Mistakes that come again.
func TestMistakesAgainSimulated(t *testing.T) {
	for _, tt := range []struct {
		gain, start, wantWithin, within float64
	}{{1, 40, 0.999, 0.003}, {1, 300, 0.999, 0.003}, {0.3, 40, 0.95, 0.03}, {0.3, 120, 0.80, 0.04}, {0.3, 300, 0.58, 0.05}} {
		r := noise(13)
		mean, share := meanRounds(14, tt.start, tt.gain, func(_ int, asked float64) float64 {
			if r.IntN(4) == 0 {
				return -asked
			}
			return asked
		})
		near(t, "wrong one time in four, within six", share, tt.wantWithin, tt.within)
		if tt.gain == 1 && (mean < 1.25 || mean > 2.35) {
			t.Errorf("wrong one time in four from %g: %.2f rounds, want 1.3 to 2.3", tt.start, mean)
		}
	}
}
