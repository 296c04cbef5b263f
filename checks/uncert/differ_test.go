package uncert

import (
	"math"
	"testing"
)

// Table G.2 of JCGM 100:2008 has 2.78 for 4 degrees of freedom and 95 %, 1.96
// for no end of them.
func TestHonestDifferenceDiffer(t *testing.T) {
	inf := math.Inf(1)
	for _, tt := range []struct {
		d    float64
		r    Result
		want Difference
	}{
		{2.7, Result{Std: 1, DoF: 4, K: 2.78, U: 2.78}, Difference{By: 2.7, Std: 1, DoF: 4, K: 2.78, U: 2.78}},
		{-2.8, Result{Std: 1, DoF: 4, K: 2.78, U: 2.78}, Difference{By: -2.8, Std: 1, DoF: 4, K: 2.78, U: 2.78, Shown: true}},
		{2.78, Result{Std: 1, DoF: 4, K: 2.78, U: 2.78}, Difference{By: 2.78, Std: 1, DoF: 4, K: 2.78, U: 2.78}},
		{1.95, Result{Std: 1}, Difference{By: 1.95, Std: 1, DoF: inf, K: 1.960, U: 1.960}},
		{1.97, Result{Std: 1}, Difference{By: 1.97, Std: 1, DoF: inf, K: 1.960, U: 1.960, Shown: true}},
		{0, Result{}, Difference{DoF: inf, K: 1.960}},
		{1e-9, Result{}, Difference{By: 1e-9, DoF: inf, K: 1.960, Shown: true}}, // what is exact differs as it is written
		{math.NaN(), Result{Std: 1}, Difference{By: math.NaN(), Std: 1, DoF: inf, K: 1.960, U: 1.960}},
	} {
		got := Differ(tt.d, tt.r)
		same := func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) < 1e-3 }
		if !same(got.By, tt.want.By) || got.Std != tt.want.Std || !same(got.DoF, tt.want.DoF) || !same(got.K, tt.want.K) || !same(got.U, tt.want.U) || got.Shown != tt.want.Shown {
			t.Errorf("Differ(%v, %+v) = %+v, want %+v", tt.d, tt.r, got, tt.want)
		}
	}
}
