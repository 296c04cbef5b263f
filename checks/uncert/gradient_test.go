package uncert

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestMeasureRule9Gradient(t *testing.T) {
	tests := []struct {
		name      string
		f         func(x []float64) (float64, bool)
		x, u      []float64
		want      []float64
		undefined []int
	}{
		{"plane", func(x []float64) (float64, bool) { return 3*x[0] - 2*x[1] + 7, true },
			[]float64{1, 2}, []float64{0.1, 0.2}, []float64{3, -2}, nil},
		{"exact inputs are not stepped", func(x []float64) (float64, bool) { return x[0] / x[1], x[1] == 4 },
			[]float64{1, 4}, []float64{0.5, 0}, []float64{0.25, 0}, nil},
		{"a cube has the slope of the chord", func(x []float64) (float64, bool) { return x[0] * x[0] * x[0], true },
			[]float64{2}, []float64{1}, []float64{13}, nil}, // (27 − 1)/2
		{"defined above only", func(x []float64) (float64, bool) { return math.Sqrt(x[0]), true },
			[]float64{0}, []float64{4}, []float64{0.5}, nil},
		{"defined below only", func(x []float64) (float64, bool) { return 2 * x[0], x[0] <= 1 },
			[]float64{1}, []float64{0.5}, []float64{2}, nil},
		{"nowhere but here", func(x []float64) (float64, bool) { return 1, x[1] == 5 },
			[]float64{3, 5}, []float64{1, 1}, []float64{0, 0}, []int{1}},
		{"nowhere", func(x []float64) (float64, bool) { return math.NaN(), true },
			[]float64{3}, []float64{1}, []float64{0}, []int{0}},
		{"infinite above", func(x []float64) (float64, bool) { return 1 / (2 - x[0]), true },
			[]float64{1}, []float64{1}, []float64{0.5}, nil}, // f(1) − f(0) = 1 − 1/2
		{"a tie of two says too little", func(x []float64) (float64, bool) { return math.Max(x[0], x[1]), true },
			[]float64{1, 1}, []float64{0.1, 0.1}, []float64{0.5, 0.5}, nil},
	}
	for _, tt := range tests {
		got, undefined := Gradient(tt.f, tt.x, tt.u)
		if d := cmp.Diff(tt.want, got, cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, d)
		}
		if d := cmp.Diff(tt.undefined, undefined); d != "" {
			t.Errorf("%s, undefined (-want +got):\n%s", tt.name, d)
		}
	}
}

// Central differences of a quadratic are its slope at the place.
func TestGradientOfQuadratics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(label string) float64 { return rapid.Float64Range(-5, 5).Draw(t, label) }
		a, b, k := num("a"), num("b"), num("k")
		x := []float64{num("x"), num("y")}
		u := []float64{rapid.Float64Range(0.01, 3).Draw(t, "u"), rapid.Float64Range(0.01, 3).Draw(t, "v")}
		c, undefined := Gradient(func(x []float64) (float64, bool) { return a*x[0]*x[0] + b*x[1]*x[1] + k*x[0]*x[1], true }, x, u)
		want := []float64{2*a*x[0] + k*x[1], 2*b*x[1] + k*x[0]}
		if undefined != nil || math.Abs(c[0]-want[0]) > 1e-9 || math.Abs(c[1]-want[1]) > 1e-9 {
			t.Fatalf("got %v, %v, want %v", c, undefined, want)
		}
	})
}
