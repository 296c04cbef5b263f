package form

import (
	"fmt"
	"math"

	"waywright/checks/fit"
	"waywright/checks/stat"
)

// Eccentricity returns the amplitude of the first harmonic of readings r round
// a turn, and the angle at which it is highest, from 0 to less than 2π: r is near
// c + amplitude·cos(φ − high), by least squares. The run-out that it causes is
// twice the amplitude.
//
// The error is an [*fit.Undefined] where there are fewer than three angles, or
// all lie within half a turn.
func Eccentricity(angles, r []float64) (amplitude, high float64, err error) {
	if err := allRound(angles, r); err != nil {
		return 0, 0, err
	}
	_, c := fit.RoundModel(angles).Coefficients(r)
	amplitude, high = polar(c[0], c[1])
	if !finite(amplitude) || !finite(high) {
		return 0, 0, errTooLarge
	}
	return amplitude, high, nil
}

func allRound(angles, r []float64) error {
	if err := given(series{"angle", angles}, series{"reading", r}); err != nil {
		return err
	}
	switch {
	case len(angles) < 3:
		return &fit.Undefined{Why: fmt.Sprintf("three angles are needed, there are %d", len(angles))}
	case !fit.Surrounds(angles):
		return &fit.Undefined{Why: "the angles all lie within half a turn"}
	}
	return nil
}

// evenly is how far, in radians, an angle may lie from its even place and
// still count as evenly spaced; it is far above rounding and far below what a
// spindle can be set to.
const evenly = 1e-6

// Lobes returns the amplitude, not peak to valley, of the n-th harmonic of
// readings round a turn at evenly spaced angles.
//
// The error is an [*fit.Undefined] where the angles are not even, or n is not
// from 1 to less than half their number.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.4.4, for the
// sums; from memory.
func Lobes(angles, r []float64, n int) (float64, error) {
	count := len(angles)
	if n < 1 {
		return 0, &fit.Undefined{Why: fmt.Sprintf("%d lobes cannot be told: the number of lobes begins at 1", n)}
	}
	if 2*n >= count {
		return 0, &fit.Undefined{Why: fmt.Sprintf("%d lobes cannot be told with %d angles: more than twice as many are needed", n, count)}
	}
	if err := given(series{"angle", angles}, series{"reading", r}); err != nil {
		return 0, err
	}
	step := 2 * math.Pi / float64(count)
	if angles[1] < angles[0] {
		step = -step // the spindle was turned the other way
	}
	mean := stat.Mean(r)
	var c, s float64
	for i, a := range angles {
		off := a - angles[0] - float64(i)*step
		if math.Abs(math.Remainder(off, 2*math.Pi)) > evenly {
			return 0, &fit.Undefined{Why: "the angles are not evenly spaced round the turn"}
		}
		c += (r[i] - mean) * math.Cos(float64(n)*a)
		s += (r[i] - mean) * math.Sin(float64(n)*a)
	}
	return counted(2 / float64(count) * math.Hypot(c, s))
}

// Roundness returns the out-of-roundness of readings r, positive outward:
// their range once the curve c + a·cos φ + b·sin φ is taken off, which is a
// circle but for the square of its eccentricity. The curve is the
// least-squares one, that of least range, the smallest with no reading
// outside, or the largest with none inside.
//
// The error is an [*fit.Undefined] where there are fewer than three angles, or
// all lie within half a turn.
func Roundness(angles, r []float64, method Method) (float64, error) {
	if err := allRound(angles, r); err != nil {
		return 0, err
	}
	s, err := Around(angles, method)
	if err != nil {
		return 0, err
	}
	return rangeOf(s, r)
}
