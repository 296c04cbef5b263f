// Package form holds the form of things: how straight a line, how flat a
// plane, how round a turn is.
//
// Stations are in mm, angles in radians; readings are in any one unit, and so
// is what comes of them. Deviations are taken along the readings, not square
// to the line or plane, which at the slopes of machine work is the same.
//
// What is not finite, or comes to nothing finite, is an [*fit.Undefined].
package form

import (
	"fmt"
	"math"

	"waywright/checks/fit"
	"waywright/checks/stat"
)

// Method is the reference from which deviations are counted.
type Method string

// The methods. A straightness has the first three, a flatness the first two,
// a roundness all but EndPoints.
const (
	LeastSquares  Method = "least_squares"
	MinimumZone   Method = "minimum_zone"
	EndPoints     Method = "end_points"
	Circumscribed Method = "circumscribed"
	Inscribed     Method = "inscribed"
)

// Line is a straight line through a middle point.
type Line struct{ X, Y, Slope float64 }

// At returns the line's value at a station.
func (l Line) At(x float64) float64 { return l.Y + l.Slope*(x-l.X) }

// FitLine returns the least-squares line through values v at stations at.
// The error is an [*fit.Undefined] where there are not two stations, or a number
// is not finite.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, linear least
// squares, from memory.
func FitLine(at, v []float64) (Line, error) {
	if err := profile(at, v); err != nil {
		return Line{}, err
	}
	l := Line{X: stat.Mean(at), Y: stat.Mean(v)}
	var xy, xx float64
	for i := range at {
		xy += (at[i] - l.X) * (v[i] - l.Y)
		xx += (at[i] - l.X) * (at[i] - l.X)
	}
	l.Slope = xy / xx
	if !finite(l.X) || !finite(l.Y) || !finite(l.Slope) {
		return Line{}, errTooLarge
	}
	return l, nil
}

// profile tells by an [*fit.Undefined] why a line has no answer: a number that
// is none, or no two stations.
func profile(at, v []float64) error {
	if err := given(series{"station", at}, series{"value", v}); err != nil {
		return err
	}
	return twoStations(at)
}

func twoStations(at []float64) error {
	if len(at) < 2 {
		return &fit.Undefined{Why: fmt.Sprintf("a line needs two stations, there is %d", len(at))}
	}
	for _, x := range at {
		if x != at[0] {
			return nil
		}
	}
	return &fit.Undefined{Why: "all values lie at one station"}
}

// Detrended returns values less their least-squares line, or less the middle
// line of the least zone. Stations are in rising order.
func Detrended(at, v []float64, method Method) ([]float64, error) {
	if err := profile(at, v); err != nil {
		return nil, err
	}
	if method == EndPoints {
		return nil, unknown(method)
	}
	s, err := Along(at, method)
	if err != nil {
		return nil, err
	}
	return leftOf(s, v)
}

func leftOf(s *Shape, v []float64) ([]float64, error) {
	left := s.Left(v)
	if left == nil {
		return nil, errTooLarge
	}
	return left, nil
}

// rangeOf is [Shape.Range], with the error where it is no number.
func rangeOf(s *Shape, v []float64) (float64, error) {
	x := s.Range(v)
	if math.IsNaN(x) {
		return 0, errTooLarge
	}
	return x, nil
}

// Straightness returns the range of the deviations from a straight line:
// least-squares, of least range, or through the values at the end stations.
// The least range is at most either of the others. Stations are in rising
// order.
//
// Source: the definition as ISO 230-1:2012, 3.4 has it, read in an excerpt.
func Straightness(at, v []float64, method Method) (float64, error) {
	if err := profile(at, v); err != nil {
		return 0, err
	}
	s, err := Along(at, method)
	if err != nil {
		return 0, err
	}
	return rangeOf(s, v)
}

// Bow returns how far the values stand above the line through the first and
// the last, in the middle between the end stations; positive is crowned. Where
// no station lies there it is interpolated. Stations are in rising order. A
// positive bow does not prove that nothing is hollow elsewhere.
func Bow(at, v []float64) (float64, error) {
	if err := profile(at, v); err != nil {
		return 0, err
	}
	s, err := Along(at, EndPoints)
	if err != nil {
		return 0, err
	}
	left, err := leftOf(s, v)
	if err != nil {
		return 0, err
	}
	middle := at[0] + (at[len(at)-1]-at[0])/2
	return counted(Interpolate(at, left, middle))
}

// Interpolate returns the value at station x from values at stations in rising
// order, along the straight line between the two neighbours. Beyond the ends
// it gives no number.
func Interpolate(at, v []float64, x float64) float64 {
	for i := range at {
		switch {
		case at[i] == x:
			return v[i]
		case i > 0 && at[i-1] < x && x < at[i]:
			share := (x - at[i-1]) / (at[i] - at[i-1])
			return v[i-1] + (v[i]-v[i-1])*share
		}
	}
	return math.NaN()
}

// Flatness returns the range of the heights z, at the places x and y, from a
// plane: least-squares or of least range. Three heights or fewer are flat, as
// are heights along one line once a straight line is taken off them. The error
// is an [*fit.Undefined] where there are no heights.
func Flatness(x, y, z []float64, method Method) (float64, error) {
	if len(z) == 0 {
		return 0, &fit.Undefined{Why: "there are no heights"}
	}
	if err := heights(x, y, z); err != nil {
		return 0, err
	}
	s, err := Over(x, y, method)
	if err != nil {
		return 0, err
	}
	return rangeOf(s, z)
}

func heights(x, y, z []float64) error {
	return given(series{"place x", x}, series{"place y", y}, series{"height", z})
}

// Levelled returns heights less their least-squares plane, or less the middle
// plane of the least zone. The error is that of [Flatness].
func Levelled(x, y, z []float64, method Method) ([]float64, error) {
	if len(z) == 0 {
		return nil, &fit.Undefined{Why: "there are no heights"}
	}
	if err := heights(x, y, z); err != nil {
		return nil, err
	}
	s, err := Over(x, y, method)
	if err != nil {
		return nil, err
	}
	return leftOf(s, z)
}

func unknown(m Method) error {
	return &fit.Undefined{Why: fmt.Sprintf("%q is not a way to count it from", string(m))}
}
