package form

import "math"

// Seats separates what a bar is out by from what its socket is, from the
// readings round a turn in one seating and those with the bar turned half a
// turn in its socket. Angles are the spindle's. Each result is an amplitude,
// half of the run-out that it causes, and the angle of the spindle at which it
// is highest, from 0 to less than 2π; the bar's is that of the first seating.
//
// The error is that of [Eccentricity], of either turn.
func Seats(angles, r, angles2, reseated []float64) (socket, socketHigh, bar, barHigh float64, err error) {
	e0, h0, err := Eccentricity(angles, r)
	if err != nil {
		return 0, 0, 0, 0, err
	}
	e1, h1, err := Eccentricity(angles2, reseated)
	if err != nil {
		return 0, 0, 0, 0, err
	}
	x0, y0 := e0*math.Cos(h0), e0*math.Sin(h0)
	x1, y1 := e1*math.Cos(h1), e1*math.Sin(h1)
	socket, socketHigh = polar((x0+x1)/2, (y0+y1)/2)
	bar, barHigh = polar((x0-x1)/2, (y0-y1)/2)
	return socket, socketHigh, bar, barHigh, nil
}

// rounding is how far, in radians, an angle may lie below nothing for no
// other cause than rounding.
const rounding = 1e-12

// polar returns the length of a vector and its angle, from 0 to less than 2π.
func polar(x, y float64) (length, angle float64) {
	switch angle = math.Atan2(y, x); {
	case angle < -rounding:
		angle += 2 * math.Pi
	case angle < 0:
		angle = 0 // not a whole turn, which is the same place
	}
	return math.Hypot(x, y), angle
}

// Cyclic returns the range of the lead errors within a turn of a screw, once
// their least-squares line is taken off.
func Cyclic(at, errors []float64) (float64, error) {
	return Straightness(at, errors, LeastSquares)
}
