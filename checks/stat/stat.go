// Package stat holds the statistics of repeated readings. All functions work
// in the unit of their argument. They need the number of readings that each
// names; with fewer they give no number.
package stat

import "math"

// Mean returns the arithmetic mean of at least one reading. It is taken in two
// passes, so that readings that differ in their last digits alone lose none.
func Mean(x []float64) float64 {
	n := float64(len(x))
	m := Sum(x) / n
	var rest total
	for _, v := range x {
		rest.add(v - m)
	}
	return m + rest.value()/n
}

// Stdev returns the standard deviation of one reading, estimated from at least
// two (n − 1 in the denominator: JCGM 100:2008, 4.2.2).
//
// Source of the two passes with a correction for the rounded mean: T. F. Chan,
// G. H. Golub, R. J. LeVeque, Algorithms for computing the sample variance,
// The American Statistician 37 (1983), from memory.
func Stdev(x []float64) float64 {
	m, n := Mean(x), float64(len(x))
	var squares, rest total
	for _, v := range x {
		squares.add((v - m) * (v - m))
		rest.add(v - m)
	}
	r := rest.value()
	return math.Sqrt(math.Max(0, squares.value()-r*r/n) / (n - 1))
}

// StandardError returns the standard deviation of the mean of at least two
// readings (JCGM 100:2008, 4.2.3).
func StandardError(x []float64) float64 { return Stdev(x) / math.Sqrt(float64(len(x))) }

// WhereLeast returns the place of the least of at least one reading; of equal
// ones the first.
func WhereLeast(x []float64) int {
	best, least := 0, x[0]
	for i, v := range x {
		if v < least {
			best, least = i, v
		}
	}
	return best
}

// WhereGreatest returns the place of the greatest of at least one reading; of
// equal ones the first.
func WhereGreatest(x []float64) int {
	best, most := 0, x[0]
	for i, v := range x {
		if v > most {
			best, most = i, v
		}
	}
	return best
}

// Spread returns greatest less least of at least one reading.
func Spread(x []float64) float64 { return x[WhereGreatest(x)] - x[WhereLeast(x)] }

// Sum returns the sum of readings; of none it is 0.
func Sum(x []float64) float64 {
	var t total
	for _, v := range x {
		t.add(v)
	}
	return t.value()
}

// total is a sum that keeps what rounding takes off it.
//
// Source: A. Neumaier, Zeitschrift für angewandte Mathematik und Mechanik 54
// (1974), from memory; what rounding takes off a sum of two is found without
// asking which is the larger, as D. E. Knuth, The Art of Computer Programming,
// volume 2, 4.2.2, theorem B has it, from memory.
type total struct{ sum, lost float64 }

func (t *total) add(v float64) {
	s := t.sum + v
	added := s - t.sum
	t.lost += (t.sum - (s - added)) + (v - added)
	t.sum = s
}

func (t *total) value() float64 { return t.sum + t.lost }
