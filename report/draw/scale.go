package draw

import (
	"math"
	"strconv"
	"strings"
)

// scale maps values to places on the plane.
type scale struct {
	from, to float64 // values
	a, b     float64 // their places
}

func (s scale) at(x float64) float64 {
	if s.to == s.from {
		return (s.a + s.b) / 2
	}
	return s.a + (x-s.from)/(s.to-s.from)*(s.b-s.a)
}

// ticks returns round values over from to, about n of them, the step between
// them, and the decimals they need.
func ticks(from, to float64, n int) (at []float64, decimals int) {
	span := to - from
	if !(span > 0) || math.IsInf(span, 0) || n < 1 {
		return []float64{from}, 3
	}
	step := roundStep(span / float64(n))
	first := math.Ceil(from/step - 1e-9)
	for i := first; i*step <= to+step*1e-9 && len(at) < 4*n; i++ {
		at = append(at, i*step)
	}
	return at, max(0, -int(math.Floor(math.Log10(step)+1e-9)))
}

// roundStep returns the least of 1, 2 and 5 times a power of ten that is not
// below x.
func roundStep(x float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(x)))
	for _, m := range []float64{1, 2, 5} {
		if m*p >= x*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// figure writes a number of an axis.
func figure(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', min(decimals, 9), 64)
	if strings.Trim(s, "-0.") == "" {
		return "0"
	}
	return strings.Replace(s, "-", "−", 1)
}

// isFinite tells whether a number can be drawn. What is beyond 1e100 is no
// measurement, and would leave the range of float64 when it is scaled.
func isFinite(x float64) bool { return math.Abs(x) < 1e100 }

// reach widens from and to so that x is inside; a number that is not finite
// changes nothing.
func reach(from, to float64, xs ...float64) (float64, float64) {
	for _, x := range xs {
		if !isFinite(x) {
			continue
		}
		from, to = math.Min(from, x), math.Max(to, x)
	}
	return from, to
}
