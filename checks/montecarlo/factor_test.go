package montecarlo

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The coefficients give the correlation of measure rule 5, max(0, 1 − δ/λ),
// back, for places that may fall together.
func TestMeasureRule5Factor(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		at := rapid.SliceOfN(rapid.OneOf(rapid.Float64Range(0, 3), rapid.SampledFrom([]float64{0, 0.5, 1, 2})), 1, 12).Draw(rt, "places")
		r := make([][]float64, len(at))
		for i := range r {
			r[i] = make([]float64, len(at))
			for j := range r[i] {
				r[i][j] = math.Max(0, 1-math.Abs(at[i]-at[j]))
			}
		}
		a, ok := Factor(r)
		if !ok {
			rt.Fatalf("places %v: no coefficients", at)
		}
		for i := range r {
			for j := range r {
				var got float64
				for k := range a {
					got += a[i][k] * a[j][k]
				}
				if math.Abs(got-r[i][j]) > 1e-4 {
					rt.Errorf("places %v: r of %d and %d = %g, want %g", at, i, j, got, r[i][j])
				}
			}
		}
	})
	for _, bad := range [][][]float64{{{1, 2}, {2, 1}}, {{-1}}, {{0, 1}, {1, 1}}, {{math.NaN()}}} {
		if a, ok := Factor(bad); ok {
			t.Errorf("Factor(%v) = %v, want none", bad, a)
		}
	}
}

// Drawn inputs are correlated as they were meant to be.
func TestFactorDrawn(t *testing.T) {
	r := [][]float64{{1, 0.6, 0}, {0.6, 1, 0.4}, {0, 0.4, 1}}
	a, ok := Factor(r)
	if !ok {
		t.Fatal("no coefficients")
	}
	p := sum(Normal(0, 1), Normal(0, 1), Normal(0, 1))
	for i := range p.Inputs {
		p.Inputs[i].Terms = nil
		for k, c := range a[i] {
			p.Inputs[i].Terms = append(p.Inputs[i].Terms, Term{k, c})
		}
	}
	p.Outputs = 3
	p.Start = func() Func {
		return func(in, out [][]float64) {
			for i := range out[0] {
				out[0][i], out[1][i], out[2][i] = in[0][i]*in[1][i], in[0][i]*in[2][i], in[1][i]*in[2][i]
			}
		}
	}
	s, err := Run(p, Options{Seed: 2})
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range []float64{0.6, 0, 0.4} {
		if z := (s[k].Mean - want) / s[k].Std * math.Sqrt(Usual); math.Abs(z) > 4 {
			t.Errorf("correlation %.4f, want %g", s[k].Mean, want)
		}
	}
}
