package montecarlo

import (
	"crypto/sha256"
	"encoding/hex"
	"math"
	"slices"
	"strings"
	"testing"
)

// of returns the problem of n standard normal inputs and a function of them.
func of(n int, f func(x []float64) float64) Problem {
	sources := make([]Source, n)
	for i := range sources {
		sources[i] = Normal(0, 1)
	}
	p := sum(sources...)
	p.Start = func() Func {
		x := make([]float64, n)
		return func(in, out [][]float64) {
			for i := range out[0] {
				for k := range x {
					x[k] = in[k][i]
				}
				out[0][i] = f(x)
			}
		}
	}
	return p
}

// Where a formula has a kink the trials see what differences do not: at |x| =
// 0 and at a tie of run-out, two high and two low stations alike. The true
// values are √(1 − 2/π), and √2 times the standard deviation of the greater of
// two, √(1 − 1/π).
func TestMeasureRule10Kinks(t *testing.T) {
	abs := run(t, of(1, func(x []float64) float64 { return math.Abs(x[0]) }), 1e6)
	if want := math.Sqrt(1 - 2/math.Pi); math.Abs(abs.Std-want) > 0.003 || math.Round(want*100) != 60 {
		t.Errorf("|x|: u = %.4f, want %.4f", abs.Std, want)
	}
	tie := run(t, of(4, func(x []float64) float64 { return math.Max(x[0], x[1]) - math.Min(x[2], x[3]) }), 1e6)
	if want := math.Sqrt(2 * (1 - 1/math.Pi)); math.Abs(tie.Std-want) > 0.004 {
		t.Errorf("tie of run-out: u = %.4f, want %.4f", tie.Std, want)
	}
}

// A perfect part shows d·σ of run-out: what the mean of the trials has more
// than the value.
func TestMeasureRule15Noise(t *testing.T) {
	for n, want := range map[int]float64{4: 2.1, 8: 2.8, 12: 3.3, 24: 3.9} {
		s := run(t, of(n, func(x []float64) float64 { return slices.Max(x) - slices.Min(x) }), 200_000)
		if math.Abs(s.Mean-want) > 0.05 {
			t.Errorf("%d stations: run-out of pure noise %.3f σ, want %.1f", n, s.Mean, want)
		}
	}
}

// The seed is the first 8 bytes of SHA-256; of "abc" it begins ba7816bf
// 8f01cfea (FIPS 180-2, B.1).
func TestMeasureRule10Seed(t *testing.T) {
	if got := Seed([]byte("abc")); got != 0xba7816bf8f01cfea {
		sum := sha256.Sum256([]byte("abc"))
		t.Errorf("Seed = %016x of %s", got, hex.EncodeToString(sum[:]))
	}
}

// More trials begin with those of fewer, an adaptive run is a run of as many
// trials, and another seed gives others.
func TestMeasureRule10Continues(t *testing.T) {
	p := everything()
	long, err := Run(p, Options{Trials: 7500, Seed: 5})
	if err != nil {
		t.Fatal(err)
	}
	short, _ := Run(p, Options{Trials: 2500, Seed: 5})
	other, _ := Run(p, Options{Trials: 2500, Seed: 6})
	y := short[1].Values()
	if !slices.Equal(y, long[1].Values()[:len(y)]) {
		t.Error("a longer run does not begin with the shorter one")
	}
	if slices.Equal(y, other[1].Values()) {
		t.Error("another seed gives the same numbers")
	}
	a, err := Adapt(mass(), Options{Seed: 5}, Until{Digits: 1, Shortest: true})
	if err != nil || !a.Stable || a.Sequences < 2 {
		t.Fatalf("stable %v after %d sequences, %v", a.Stable, a.Sequences, err)
	}
	again, _ := Run(mass(), Options{Trials: a.Samples[0].Trials, Seed: 5})
	if again[0].Mean != a.Samples[0].Mean || again[0].Std != a.Samples[0].Std || again[0].Shortest(0.95) != a.Intervals[0] {
		t.Errorf("adaptive %v, in one go %v", a.Samples[0].Mean, again[0].Mean)
	}
}

// An adaptive run for a fifth of the tolerance gives ends of the interval that
// are within the whole of it.
func TestAdaptReaches(t *testing.T) {
	exact := 1.959964 * 2
	p := sum(Normal(0, 1), Normal(0, 1), Normal(0, 1), Normal(0, 1))
	for seed := range uint64(10) {
		a, err := Adapt(p, Options{Seed: seed}, Until{Digits: 2, Part: 0.2})
		if err != nil || !a.Stable {
			t.Fatalf("seed %d: stable %v, %v", seed, a.Stable, err)
		}
		if iv := a.Intervals[0]; math.Abs(iv.Low+exact) > 0.05 || math.Abs(iv.High-exact) > 0.05 {
			t.Errorf("seed %d, %d trials: %v, want ±%.3f to 0.05", seed, a.Samples[0].Trials, iv, exact)
		}
	}
}

// Half of a unit in the last figure that matters: the examples of JCGM
// 101:2008, 7.9.2 and 9, and where rounding makes another figure.
func TestTolerance(t *testing.T) {
	for _, tt := range []struct {
		u      float64
		digits int
		want   float64
	}{
		{0.00035, 2, 0.000005}, {2, 2, 0.05}, {10.149, 2, 0.5}, {0.0539, 1, 0.005}, {2, 1, 0.5}, {35.8, 2, 0.5},
		{0.0996, 2, 0.005}, {99.7, 2, 5}, {-2, 2, 0.05}, {0, 2, 0}, {5e-324, 2, 0},
	} {
		if got := Tolerance(tt.u, tt.digits); math.Abs(got-tt.want) > 1e-12*tt.want {
			t.Errorf("Tolerance(%g, %d) = %g, want %g", tt.u, tt.digits, got, tt.want)
		}
	}
	if got := Tolerance(math.NaN(), 2); !math.IsNaN(got) {
		t.Errorf("Tolerance(NaN) = %g", got)
	}
}

func TestProblemErrors(t *testing.T) {
	nan := math.NaN()
	for says, change := range map[string]func(p *Problem){
		"pool 0 has 0 degrees":             func(p *Problem) { p.Pools = []float64{0} },
		"normal(0, -1) has a width":        func(p *Problem) { p.Sources[0] = Normal(0, -1) },
		"rectangular(2, 1)":                func(p *Problem) { p.Sources[0] = Rectangular(2, 1) },
		"source 0: t(0, 1, 0) has no deg":  func(p *Problem) { p.Sources[0] = Student(0, 1, 0) },
		"source 0: normal(NaN, 1)":         func(p *Problem) { p.Sources[0] = Normal(nan, 1) },
		"curvilinear trapezoid(0, 1, -1)":  func(p *Problem) { p.Sources[0] = CurvilinearTrapezoid(0, 1, -1) },
		"there is no pool 2":               func(p *Problem) { p.Sources[0] = Pooled(0, 1, 2) },
		"input 0: there is no source 4":    func(p *Problem) { p.Inputs[0] = Of(4) },
		"input 0: NaN is not finite":       func(p *Problem) { p.Inputs[0].Value = nan },
		"input 0: coefficient +Inf is not": func(p *Problem) { p.Inputs[0].Terms[0].Coefficient = math.Inf(1) },
	} {
		p := sum(Normal(0, 1))
		change(&p)
		if _, err := Run(p, Options{Trials: 10}); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("error %v, want … %s …", err, says)
		}
		if _, err := Adapt(p, Options{}, Until{}); err == nil {
			t.Errorf("adaptive: no error, want … %s …", says)
		}
	}
}
