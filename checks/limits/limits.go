// Package limits holds the tolerances that grow with a length.
package limits

import "math"

// Scaled returns a tolerance stated for the length per, in proportion for
// another length, as the test charts of machine tools have it (ISO 230-1 and
// ISO 1708, from memory): rounded to the nearest whole step, half to the even
// one, and never below floor. A step of 0 does not round. All but the two
// lengths are in one unit.
//
// With per 0 it gives an infinity or no number.
func Scaled(tolerance, per, length, floor, step float64) float64 {
	t := tolerance * length / per
	if step > 0 {
		t = step * roundHalfEven(t/step)
	}
	return math.Max(t, floor)
}

// halfway is how near, for each whole step, counts as half: 0.0125/0.005 must
// be taken for 2.5 though the quotient of the two nearest binary fractions
// may be a last digit off.
const halfway = 1e-9

func roundHalfEven(q float64) float64 {
	half := math.Floor(q) + 0.5
	if math.Abs(q-half) <= halfway*math.Max(1, math.Abs(q)) {
		q = half
	}
	return math.RoundToEven(q)
}
