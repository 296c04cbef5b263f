package uncert

import (
	"math"
	"math/rand/v2"
	"strconv"
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
// difference of two readings is 1.2 to 2.7 times the true standard deviation,
// never below it, from a tenth of a turn up; most at whole turns, where the
// wave comes back.
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
		t.Logf("%.2f mm apart: u is %.2f times true", distance, ratio)
		if ratio < 1.1 || ratio > 2.8 {
			t.Errorf("%.2f mm apart: u is %.2f times true, want 1.1 to 2.8", distance, ratio)
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

// corrected takes c·t off readings, where c is how far the first place had
// moved when it was read again at the end, and t the share of the order taken.
func corrected(readings []float64) []float64 {
	last := len(readings) - 1
	c := readings[last] - readings[0]
	out := make([]float64, last)
	for i := range out {
		out[i] = readings[i] - c*float64(i)/float64(last)
	}
	return out
}

// Derived here, simulated: where nothing drifts, taking off what the noise
// alone made of the closing reading costs nothing in the differences from the
// first place: it is read twice, which makes up for it. Derived: 1 + (1 − t)² +
// t² instead of 2 times the variance of a reading.
func TestMeasureRule6NoDriftSimulated(t *testing.T) {
	r := noise(9)
	const places, trials = 8, 20000
	var plain, less [places]float64
	for range trials {
		readings := make([]float64, places+1)
		for i := range readings {
			readings[i] = r.NormFloat64()
		}
		out := corrected(readings)
		for i := range out {
			plain[i] += (readings[i] - readings[0]) * (readings[i] - readings[0]) / trials
			less[i] += (out[i] - out[0]) * (out[i] - out[0]) / trials
		}
	}
	for i := 1; i < places; i++ {
		share := float64(i) / places
		near(t, "variance of a difference from the first", less[i], 1+(1-share)*(1-share)+share*share, 0.06)
		if less[i] > plain[i] {
			t.Errorf("place %d: variance %.3f corrected, %.3f not", i, less[i], plain[i])
		}
	}
}

// Derived here: a drift that comes to rest within the set, by an e-th part in
// the time that a half, a whole or twice of it takes, is what is left of a
// straight line taken off: 0.1 c (root mean square over the set) in the middle
// case. The source with u = |c|/(2√3) and the coefficient 4t(1 − t) covers it
// there at every place.
func TestMeasureRule6CurvedDriftSimulated(t *testing.T) {
	for _, tt := range []struct{ time, left, most float64 }{{0.5, 0.17, 1.2}, {1, 0.09, 0.6}, {2, 0.045, 0.3}} {
		const places = 40
		readings := make([]float64, places+1)
		for i := range readings {
			readings[i] = (1 - math.Exp(-float64(i)/places/tt.time)) / (1 - math.Exp(-1/tt.time))
		}
		var squares, most float64
		var o []Observation
		source := Source{ID: "drift", Kind: Drift, U: 1 / (2 * math.Sqrt(3))}
		for i, x := range corrected(readings) {
			share := float64(i) / places
			o = append(o, Observation{ID: strconv.Itoa(i), Value: x})
			source.On = append(source.On, Effect{strconv.Itoa(i), 4 * share * (1 - share)})
			squares += x * x / places
		}
		m := mustNew(t, Instrument{HasError: true, HasZero: true}, o, source)
		for i, u := range m.U() {
			if i > 0 {
				most = math.Max(most, math.Abs(o[i].Value)/u)
			}
		}
		near(t, "left of the drift", math.Sqrt(squares), tt.left, 0.01)
		near(t, "left at the worst place, in u", most, tt.most, 0.15)
	}
}
