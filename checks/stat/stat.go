// Package stat holds the statistics of repeated readings. All functions work
// in the unit of their argument. They need the number of readings that each
// names; with fewer they give no number.
package stat

import "math"

// Mean returns the arithmetic mean of at least one reading. It is taken in two
// passes, so that readings that differ in their last digits alone lose none.
func Mean(x []float64) float64 {
	m := Sum(x) / float64(len(x))
	rest := 0.0
	for _, v := range x {
		rest += v - m
	}
	return m + rest/float64(len(x))
}

// Stdev returns the standard deviation of one reading, estimated from at least
// two (n − 1 in the denominator: JCGM 100:2008, 4.2.2).
//
// Source of the two passes with a correction for the rounded mean: T. F. Chan,
// G. H. Golub, R. J. LeVeque, Algorithms for computing the sample variance,
// The American Statistician 37 (1983), from memory.
func Stdev(x []float64) float64 {
	m, n := Mean(x), float64(len(x))
	var squares, rest float64
	for _, v := range x {
		squares += (v - m) * (v - m)
		rest += v - m
	}
	return math.Sqrt(math.Max(0, squares-rest*rest/n) / (n - 1))
}

// StandardError returns the standard deviation of the mean of at least two
// readings (JCGM 100:2008, 4.2.3).
func StandardError(x []float64) float64 { return Stdev(x) / math.Sqrt(float64(len(x))) }

// extreme returns the place of the reading that none other beats.
func extreme(x []float64, better func(a, b float64) bool) int {
	best := 0
	for i := range x {
		if better(x[i], x[best]) {
			best = i
		}
	}
	return best
}

// WhereLeast returns the place of the least of at least one reading; of equal
// ones the first.
func WhereLeast(x []float64) int {
	return extreme(x, func(a, b float64) bool { return a < b })
}

// WhereGreatest returns the place of the greatest of at least one reading; of
// equal ones the first.
func WhereGreatest(x []float64) int {
	return extreme(x, func(a, b float64) bool { return a > b })
}

// Spread returns greatest less least of at least one reading.
func Spread(x []float64) float64 { return x[WhereGreatest(x)] - x[WhereLeast(x)] }

// Sum returns the sum of readings; of none it is 0.
func Sum(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s
}
