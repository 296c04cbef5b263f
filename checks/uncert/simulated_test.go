package uncert

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"
)

// noise returns a generator that gives the same numbers on every machine.
func noise(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 2)) }

// statedRepeatability draws what a maker of an instrument that scatters by 1
// would have found from nine takes: ν0 = 8.
func statedRepeatability(r *rand.Rand) float64 {
	var sum float64
	for range 8 {
		x := r.NormFloat64()
		sum += x * x
	}
	return math.Sqrt(sum / 8)
}

// Derived here, simulated: intervals for the mean of three takes, pooled with
// a stated repeatability, hold the true value in 0.97 of cases when that
// happens to be right, in 0.95 when it comes from nine takes itself, and in
// 0.82 with 2s/√n. (0.82 is also P(|t| < 2) at ν = 2.)
func TestMeasureRule2CoverageSimulated(t *testing.T) {
	r := noise(1)
	const trials = 20000
	var right, drawn, twoS float64
	for range trials {
		o := takes(r.NormFloat64(), r.NormFloat64(), r.NormFloat64())
		covers := func(s0 float64) float64 {
			in := Instrument{HasError: true, HasZero: true, Repeatability: s0}
			if math.Abs(o.Value) <= mustNew(t, in, []Observation{o}).Combine([]float64{1}).U {
				return 1. / trials
			}
			return 0
		}
		right += covers(1)
		drawn += covers(statedRepeatability(r))
		if math.Abs(o.Value) <= 2*stat.StdDev(o.Takes, nil)/math.Sqrt(3) {
			twoS += 1. / trials
		}
	}
	near(t, "coverage with the right repeatability", right, 0.97, 0.005)
	near(t, "coverage with one from nine takes", drawn, 0.95, 0.006)
	near(t, "coverage of 2s/√n", twoS, 0.82, 0.01)
}

// Derived here, simulated: with two takes and nothing else known of the
// scatter, the interval is five times as wide as it would be if it were known.
func TestMeasureRule2TwoTakesAloneSimulated(t *testing.T) {
	r := noise(3)
	const trials = 5000
	var sum float64
	for range trials {
		o := takes(r.NormFloat64(), r.NormFloat64())
		sum += mustNew(t, Instrument{HasError: true, HasZero: true}, []Observation{o}).Combine([]float64{1}).U
	}
	near(t, "width of the interval, in known ones", sum/trials/(1.96/math.Sqrt2), 5, 0.5)
}

// Derived here, simulated: the difference of two means of three takes, with a
// shared scatter of ν = 4 and none stated, is covered by its U in 0.95 of cases
// if the scatter counts as one source; as two, with t(0.975, 8), in less.
func TestMeasureRule9CoverageSimulated(t *testing.T) {
	r := noise(5)
	const trials = 20000
	var covered, asTwo int
	for range trials {
		a := takes(r.NormFloat64(), r.NormFloat64(), r.NormFloat64())
		b := takes(r.NormFloat64(), r.NormFloat64(), r.NormFloat64())
		a.ID, b.ID = "a", "b"
		res := mustNew(t, Instrument{HasError: true, HasZero: true}, []Observation{a, b}).Combine([]float64{-1, 1})
		d := math.Abs(b.Value - a.Value)
		if d <= res.U {
			covered++
		}
		if d <= Coverage(8)*res.Std {
			asTwo++
		}
	}
	near(t, "coverage as one source", float64(covered)/trials, 0.95, 0.006)
	near(t, "coverage as two sources", float64(asTwo)/trials, 0.918, 0.006) // P(|t| < 2.306) at ν = 4
}

// Derived here, simulated: an indication error that is a smooth curve within
// its limit of ±1 (a wave of one turn and slower ones, drawn at random). The u of a
// difference of two readings is never below the true standard deviation from a
// tenth of a turn up.
func TestMeasureRule5SmoothCurvesSimulated(t *testing.T) {
	const turn, trials = 0.5, 4000
	in := Instrument{Error: 1, HasError: true, HasZero: true, Turn: turn}
	for _, distance := range []float64{0.05, 0.1, 0.2, 0.4, 1} {
		u := mustNew(t, in, []Observation{{ID: "a"}, {ID: "b", Value: distance}}).Combine([]float64{-1, 1}).Std
		r := noise(7)
		var sum float64
		for range trials {
			e := smoothCurve(r, turn)
			d := e(distance) - e(0)
			sum += d * d
		}
		ratio := u / math.Sqrt(sum/trials)
		if ratio < 1 {
			t.Errorf("%.2f mm apart: u is %.2f times true, want at least 1", distance, ratio)
		}
	}
}

// smoothCurve draws an error curve over 20 mm that touches its limit of ±1: a
// wave of one turn of the screw, and slower ones.
func smoothCurve(r *rand.Rand, turn float64) func(x float64) float64 {
	periods := []float64{turn, 5, 10, 25}
	var amp, phase [4]float64
	for i := range periods {
		amp[i], phase[i] = r.Float64(), 2*math.Pi*r.Float64()
	}
	raw := func(x float64) (y float64) {
		for i, p := range periods {
			y += amp[i] * math.Sin(2*math.Pi*x/p+phase[i])
		}
		return y
	}
	var most float64
	for x := -10.0; x <= 10; x += 0.0625 {
		most = math.Max(most, math.Abs(raw(x)))
	}
	return func(x float64) float64 { return raw(x) / most }
}
