package montecarlo

import "math"

// rounding is how far below 0 a variance may come out of one that is 0.
const rounding = 1e-9

// Factor returns the coefficients of independent sources of unit variance in
// inputs that are correlated as r says: Σ_k a[i][k]·a[j][k] = r[i][j], with
// a[i][k] = 0 for k > i. The n×n matrix r is symmetric; a row of another that
// is wholly known from those before it needs no source of its own and gets
// none. ok is false where r is not the matrix of any correlation.
//
// The errors of indication of readings close together on one scale are
// correlated so (measure rule 5). Only normal sources make the inputs normal;
// rectangular ones keep the variances alone.
//
// Source: Cholesky's method, as JCGM 101:2008, 6.4.8 has it for the
// multivariate normal distribution.
func Factor(r [][]float64) (a [][]float64, ok bool) {
	a = make([][]float64, len(r))
	for i := range r {
		a[i] = make([]float64, len(r))
		for j := range i + 1 {
			rest := r[i][j]
			for k := range j {
				rest -= a[i][k] * a[j][k]
			}
			switch {
			case i == j && !(rest >= -rounding):
				return nil, false
			case i == j:
				if rest > rounding {
					a[i][i] = math.Sqrt(rest)
				}
			case a[j][j] > 0:
				a[i][j] = rest / a[j][j]
			case !(math.Abs(rest) <= math.Sqrt(rounding)):
				return nil, false
			}
		}
	}
	return a, true
}
