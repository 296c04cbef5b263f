package engine_test

import (
	"math"
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
		{"alike", "equals: two takes; the zero cancels, and the indication", 2 * take},
		{"size", "at nought: two takes", 2 * take},
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

// Where readings are nearly equal the greatest is still one of them: its doubt
// is never less than its own, and what all share still cancels.
func TestMeasureRule10NearTies(t *testing.T) {
	const take = 1 + 1.0/12
	r := enginetest.Play(t, readOnce, load)
	for _, v := range []string{"5.2", "6", "7", "40"} {
		if _, ref, err := r.Say(engine.Input{Verb: engine.Amend, Name: "place.3", Text: v, Reason: "misread"}); ref != nil || err != nil {
			t.Fatal(ref, err)
		}
		j := judgementOf(t, r.State(), "alike")
		least, most := math.Sqrt(2*take), math.Sqrt(2*take+2*4.0/3*0.035/0.2)
		if u := j.U / j.K * 1000; u < least-1e-3 || u > most+1e-3 {
			t.Errorf("one of four at %s µm, the others at 5: u = %.4f µm, want %.4f to %.4f", v, u, least, most)
		}
	}
}
