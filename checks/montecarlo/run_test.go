package montecarlo

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// everything is a problem with each kind of source in it, with shared sources,
// a pool, and trials without a result.
func everything() Problem {
	return Problem{
		Pools: []float64{4, 1.5},
		Sources: []Source{
			Normal(1, 0.1), Student(0, 1, 3), Pooled(0, 2, 0), Pooled(1, 1, 0), Rectangular(-1, 2),
			Triangular(0, 1), Arcsine(-1, 1), CurvilinearTrapezoid(9, 11, 0.5), {}, Pooled(0, 0.1, 1),
		},
		Inputs: []Input{
			{Value: 3, Terms: []Term{{0, 1}, {4, -2}}}, {Value: -1, Terms: []Term{{4, 0.5}, {2, 1}, {3, -1}}},
			Of(1), {Terms: []Term{{5, 3}, {6, 0.25}, {9, 1}}}, {Value: 2, Terms: []Term{{8, 1}, {7, 1}}}, {Value: 7},
		},
		Outputs: 2,
		Start: func() Func {
			return func(in, out [][]float64) {
				for i := range out[0] {
					out[0][i] = math.Sqrt(in[0][i]) * in[3][i]
					out[1][i] = in[0][i] + in[1][i]*in[2][i] - in[4][i]/in[5][i]
				}
			}
		},
	}
}

// The bytes depend on the seed alone, not on the number of goroutines.
func TestMeasureRule10SameBytes(t *testing.T) {
	for _, n := range []int{1, 999, 1000, 1001, 53_210} {
		var want []Sample
		for workers := 1; workers <= 3; workers++ {
			got, err := Run(everything(), Options{Trials: n, Seed: 42, Workers: workers})
			if err != nil {
				t.Fatal(err)
			}
			if want == nil {
				want = got
			}
			same := cmp.Comparer(func(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) })
			if d := cmp.Diff(want, got, cmp.AllowUnexported(Sample{}), same); d != "" {
				t.Errorf("%d trials: 1 and %d workers differ (-1 +%d):\n%s", n, workers, workers, d)
			}
			if s := got[0]; len(s.Values()) != n-s.Undefined || n > 900 && (s.Undefined == 0 || s.Undefined == n) {
				t.Errorf("%d trials: %d values, %d undefined", n, len(s.Values()), s.Undefined)
			}
		}
	}
}
