package engine_test

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"waywright/engine"
	"waywright/engine/enginetest"
)

func judgementOf(t *testing.T, s *engine.State, gate string) engine.Judgement {
	t.Helper()
	for _, j := range s.Judgements() {
		if j.Name == gate {
			return j
		}
	}
	t.Fatalf("no gate %s", gate)
	return engine.Judgement{}
}

const readOnce = `begin corr-doubt
omit
length = 180
omit
near = 20
far = 20.010
omit
place.1 = 5
place.2 = 5
place.3 = 5
place.4 = 5
omit
alone = 5
one_way = 3
other_way = 3
`

// Standard uncertainties of results, worked out by hand from measure rules 1
// to 5 in µm². A take adds its scatter 1 and 1/12 for its step of 1. The
// micrometer's indication adds 6²/3 = 12 and, nothing being stated of it, its
// zero 12; the indicator's 2²/3 and 12²/3 = 48.
func TestMeasureRule1To5InTheEngine(t *testing.T) {
	const take = 1 + 1.0/12
	r := enginetest.Play(t, readOnce, load)
	for _, tt := range []struct {
		gate, why string
		want      float64
	}{
		{"diameter", "indication and zero stand in full", take + 12 + 12},
		{"taper", "10 µm apart, r = 0.98: the zero and nearly all of the indication cancel", 2*take + 2*12*0.02},
		{"level", "zero in full", take + 4.0/3 + 48},
		{"true_zero", "the error stated holds with its zero", take + 4.0/3},
		{"reversal", "the zero cancels in the mean; 6 µm apart on the scale, r = 0.97", take/2 + 4.0/3*0.03/2},
		{"reversed", "the zero stands in the half difference", take/2 + 48 + 4.0/3*(1+0.97)/2},
	} {
		j := judgementOf(t, r.State(), tt.gate)
		if got, want := j.U/j.K*1000, math.Sqrt(tt.want); math.Abs(got-want) > 1e-4*want {
			t.Errorf("%s: u = %.5f µm, want %.5f: %s", tt.gate, got, want, tt.why)
		}
	}
}

// Measure rule 11: a limit worked out from a length carries the doubt of the
// length. At 180 mm ± 30 mm the limit is 12 µm with u² = (20/300)²·(30²/3 +
// 0.5²/12 ) = 1.333, the taper 10 µm with u² = 2.647, so that the margin of 2 is
// 1.002 u: P = 0.84 (normal tables, a little less by Student). With an exact
// limit it were 1.229 u: 0.89.
func TestMeasureRule11LimitWithItsDoubt(t *testing.T) {
	j := judgementOf(t, enginetest.Play(t, readOnce, load).State(), "taper")
	if math.Abs(j.Hi*1000-12) > 1e-9 || math.Abs(j.P-0.838) > 0.004 {
		t.Errorf("limit %.4f µm, p %.4f, want 12 and 0.838", j.Hi*1000, j.P)
	}
}

// Derived here, by drawing a take's own errors: its scatter, µm, known with
// eight degrees of freedom that all takes share, and half a step either way.
// What all takes of a setting share, the zero and nearly all of the indication,
// cancels in a range and in a difference.
func drawnStd(f func(take func() float64) float64, scatter float64) float64 {
	r := rand.New(rand.NewPCG(4, 2))
	var n, sum, squares float64
	for range 400_000 {
		var chi float64
		for range 8 {
			x := r.NormFloat64()
			chi += x * x
		}
		stretch := math.Sqrt(8 / chi)
		y := f(func() float64 { return scatter*stretch*r.NormFloat64() + r.Float64() - 0.5 })
		n, sum, squares = n+1, sum+y, squares+y*y
	}
	return math.Sqrt(squares/n - sum*sum/n/n)
}

func TestMeasureRule10KinksInTheEngine(t *testing.T) {
	r := enginetest.Play(t, readOnce, load)
	spread := func(at [4]float64) float64 {
		return drawnStd(func(take func() float64) float64 {
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, x := range at {
				y := x + take()
				lo, hi = math.Min(lo, y), math.Max(hi, y)
			}
			return hi - lo
		}, 1)
	}
	check := func(gate, why string, want float64) {
		t.Helper()
		j := judgementOf(t, r.State(), gate)
		if j.Drawn == nil || math.Abs(j.U/j.K*1000-want) > 0.02*want {
			t.Errorf("%s, %s: u = %.4f µm, want %.4f, drawn: %+v", gate, why, j.U/j.K*1000, want, j.Drawn)
		}
	}
	check("alike", "four equal readings", spread([4]float64{}))
	check("size", "an amount of nought", drawnStd(func(take func() float64) float64 { return math.Abs(take() - take()) }, 1))
	for _, v := range []string{"5.2", "6", "7"} {
		if _, ref, err := r.Say(engine.Input{Verb: engine.Amend, Name: "place.3", Text: v, Reason: "misread"}); ref != nil || err != nil {
			t.Fatal(ref, err)
		}
		x, _ := strconv.ParseFloat(v, 64)
		check("alike", "one of four at "+v+" µm, the others at 5", spread([4]float64{0, 0, x - 5, 0}))
	}
}
