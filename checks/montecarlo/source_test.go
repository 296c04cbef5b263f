package montecarlo

import (
	"math"
	"testing"

	"waywright/checks"
)

// distance returns the greatest distance between the share of trials up to a
// value and the probability of that, times √n: 1.95 is passed once in a
// thousand times (Kolmogorov).
func distance(s Sample, cdf func(float64) float64) float64 {
	y := append([]float64(nil), s.values...)
	sortNumbers(y)
	var d float64
	for i, v := range y {
		p := cdf(v)
		d = math.Max(d, math.Max(p-float64(i)/float64(len(y)), float64(i+1)/float64(len(y))-p))
	}
	return d * math.Sqrt(float64(len(y)))
}

func clamp(p float64) float64 { return math.Min(1, math.Max(0, p)) }

// Each source has the distribution that its name promises, and its standard
// deviation as JCGM 101:2008, 6.4 gives it.
func TestSources(t *testing.T) {
	tests := []struct {
		s        Source
		mean, sd float64
		cdf      func(x float64) float64
	}{
		{Normal(3, 2), 3, 2, func(x float64) float64 { return checks.TCDF((x-3)/2, math.Inf(1)) }},
		{Student(-1, 2, 5), -1, 2 * math.Sqrt(5.0/3), func(x float64) float64 { return checks.TCDF((x+1)/2, 5) }},
		{Student(0, 1, 1), math.NaN(), math.NaN(), func(x float64) float64 { return checks.TCDF(x, 1) }},
		{Student(0, 1, 2.5), math.NaN(), math.NaN(), func(x float64) float64 { return checks.TCDF(x, 2.5) }},
		{Student(4, 1, math.Inf(1)), 4, 1, func(x float64) float64 { return checks.TCDF(x-4, math.Inf(1)) }},
		{Rectangular(2, 6), 4, 2 / math.Sqrt(3), func(x float64) float64 { return clamp((x - 2) / 4) }},
		{Triangular(-3, 1), -1, 2 / math.Sqrt(6), func(x float64) float64 {
			if x = (x + 1) / 2; x < 0 {
				return clamp((1 + x) * (1 + x) / 2)
			}
			return clamp(1 - (1-x)*(1-x)/2)
		}},
		{Arcsine(-1, 3), 1, 2 / math.Sqrt2, func(x float64) float64 { return 0.5 + math.Asin((x-1)/2)/math.Pi }},
		{CurvilinearTrapezoid(9, 11, 0.5), 10, math.Sqrt(4.0/12 + 0.25/9), func(x float64) float64 {
			return ctrap(x-10, 1, 0.5)
		}},
		{CurvilinearTrapezoid(-1, 1, 0), 0, 1 / math.Sqrt(3), func(x float64) float64 { return clamp((x + 1) / 2) }},
		{Trapezoid(1, 5, 0.25), 3, 2 * math.Sqrt((1+0.25*0.25)/6), func(x float64) float64 {
			switch x = (x - 3) / 2; {
			case math.Abs(x) <= 0.25:
				return 0.5 + x/1.25
			case x < 0:
				return clamp((1 + x) * (1 + x) / (2 * 0.75 * 1.25))
			}
			return clamp(1 - (1-x)*(1-x)/(2*0.75*1.25))
		}},
		{Source{}, 0, 0, func(x float64) float64 { return 1 }},
	}
	const n = 400_000
	for i, tt := range tests {
		s, err := Run(sum(tt.s), Options{Trials: n, Seed: uint64(i)})
		if err != nil {
			t.Fatal(err)
		}
		if tt.s == (Source{}) {
			if s[0].Mean != 0 || s[0].Std != 0 {
				t.Errorf("the zero source gives %g with %g", s[0].Mean, s[0].Std)
			}
			continue
		}
		if d := distance(s[0], tt.cdf); !(d < 1.95) {
			t.Errorf("%v: distance %.2f from its distribution", tt.s, d)
		}
		if math.IsNaN(tt.sd) {
			continue
		}
		if z := (s[0].Mean - tt.mean) / tt.sd * math.Sqrt(n); math.Abs(z) > 4 {
			t.Errorf("%v: mean %g, want %g", tt.s, s[0].Mean, tt.mean)
		}
		if math.Abs(s[0].Std/tt.sd-1) > 0.01 {
			t.Errorf("%v: standard deviation %g, want %g", tt.s, s[0].Std, tt.sd)
		}
	}
}

// ctrap is the probability up to x of a curvilinear trapezoid about 0: the
// mean over its limits of that of a rectangle, by the midpoint rule.
func ctrap(x, half, d float64) float64 {
	const steps = 100
	var p float64
	for k := range steps {
		w := half + d*(2*(float64(k)+0.5)/steps-1)
		p += clamp((x + w) / (2 * w))
	}
	return p / steps
}

// Takes that share one standard deviation share the draw of its error: their
// mean is Student's t with the degrees of freedom of the pool, which it would
// not be if each had its own.
func TestMeasureRule10PooledTakes(t *testing.T) {
	const n, nu = 400_000, 4
	p := sum(Pooled(0, 0.5, 0), Pooled(0, 0.5, 0), Pooled(0, 0.5, 0), Pooled(0, 0.5, 0))
	p.Pools = []float64{nu}
	s, err := Run(p, Options{Trials: n, Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	cdf := func(x float64) float64 { return checks.TCDF(x, nu) }
	if d := distance(s[0], cdf); !(d < 1.95) {
		t.Errorf("pooled: distance %.2f from t with %d degrees of freedom", d, nu)
	}
	iv := s[0].Symmetric(0.95)
	if want := checks.TQuantile(0.975, nu); math.Abs(iv.Length()/2-want) > 0.03 {
		t.Errorf("pooled: half interval %.3f, want t = %.3f", iv.Length()/2, want)
	}
	apart, err := Run(sum(Student(0, 0.5, nu), Student(0, 0.5, nu), Student(0, 0.5, nu), Student(0, 0.5, nu)), Options{Trials: n, Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	if d := distance(apart[0], cdf); d < 5 {
		t.Errorf("each by itself: distance %.2f from t, so this test tells nothing", d)
	}
}

// Inputs are correlated because they share sources: what is shared drops out
// of a difference and counts double in a sum.
func TestMeasureRule1SharedSources(t *testing.T) {
	p := Problem{
		Sources: []Source{Rectangular(-1, 1), Normal(0, 0.1), Normal(0, 0.1)},
		Inputs: []Input{
			{Value: 10, Terms: []Term{{0, 1}, {1, 1}}},
			{Value: 20, Terms: []Term{{0, 1}, {2, 1}}},
			{Value: 5, Terms: []Term{{0, -1}, {2, 1}}}, // turned round
		},
		Outputs: 3,
		Start: func() Func {
			return func(in, out [][]float64) {
				for i := range out[0] {
					out[0][i] = in[1][i] - in[0][i]
					out[1][i] = in[1][i] + in[0][i]
					out[2][i] = (in[0][i] + in[2][i]) / 2
				}
			}
		},
	}
	s, err := Run(p, Options{Seed: 9})
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range []struct{ mean, sd float64 }{{10, math.Sqrt(0.02)}, {30, math.Sqrt(4.0/3 + 0.02)}, {7.5, math.Sqrt(0.02) / 2}} {
		if math.Abs(s[k].Mean-want.mean) > 5*want.sd/math.Sqrt(Usual) || math.Abs(s[k].Std/want.sd-1) > 0.01 {
			t.Errorf("output %d: %.5g with u %.5g, want %g with %g", k, s[k].Mean, s[k].Std, want.mean, want.sd)
		}
	}
}
