package checks

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// bigDoF is where Student's t is taken as the normal distribution: at 10⁷
// degrees of freedom their factors differ by less than 10⁻⁶.
const bigDoF = 1e7

// TCDF returns the probability that a variable of Student's t distribution
// with nu degrees of freedom is at most x. Degrees of freedom need not be
// whole; +Inf is the normal distribution, and so is 0, which stands for "not
// stated". A NaN gives NaN.
func TCDF(x, nu float64) float64 {
	switch {
	case math.IsNaN(x) || math.IsNaN(nu) || nu < 0:
		return math.NaN()
	case math.IsInf(x, 1):
		return 1
	case math.IsInf(x, -1):
		return 0
	case nu == 0 || nu > bigDoF:
		return 0.5 * math.Erfc(-x/math.Sqrt2)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}.CDF(x)
}

// TQuantile returns the x that [TCDF] gives p for. Outside 0 < p < 1 it is
// −Inf, +Inf or NaN.
//
// Held against JCGM 100:2008, Table G.2.
func TQuantile(p, nu float64) float64 {
	switch {
	case math.IsNaN(p) || math.IsNaN(nu) || nu < 0 || p < 0 || p > 1:
		return math.NaN()
	case p == 0:
		return math.Inf(-1)
	case p == 1:
		return math.Inf(1)
	case nu == 0 || nu > bigDoF:
		return distuv.UnitNormal.Quantile(p)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}.Quantile(p)
}
