package fit

import "math"

// LineZone returns the slope of the straight line about which values v at
// stations at have the least range, counted along the values. Stations are in
// rising order and not all the same; of equal ones each value counts.
//
// The range, as a function of the slope, is convex and made of straight
// pieces that meet at the slopes of the edges of the convex hull. The edges of
// its upper and its lower side are gone through in the order of their slopes
// until the side that touches above lies no longer to the right of the one
// below: there the range turns from falling to rising. The hull of sorted
// points takes time in proportion to their number (A. M. Andrew, Information
// Processing Letters 9 (1979), from memory).
func LineZone(at, v []float64) (slope float64) { return new(LineFinder).Zone(at, v) }

// LineFinder is for many values at few stations, in room of its own. It is for
// one goroutine.
type LineFinder struct{ up, low hull }

// Zone is [LineZone].
func (l *LineFinder) Zone(at, v []float64) (slope float64) {
	l.up.upper(at, v)
	l.low.lower(at, v)
	up, low := &l.up, &l.low
	i, j := up.n-1, 0 // what touches above and below, the slope being very low
	for up.x[i] > low.x[j] {
		// The next edge of the upper side to the left, of the lower one to the right.
		a, b := math.Inf(1), math.Inf(1)
		if i > 0 {
			a = up.steepness(i-1, i)
		}
		if j < low.n-1 {
			b = low.steepness(j, j+1)
		}
		if a <= b {
			slope = a
			i--
		} else {
			slope = b
			j++
		}
	}
	return slope
}

// mostTurns is after how many edges [LineFinder.Level] takes the hull instead.
const mostTurns = 24

// Level is [LineFinder.Zone] for values that lie along no slope, as what is left
// of others once a line of least squares is taken off, at stations that are all
// different. From there few edges of the hull lie between, and each is found by
// going through the stations on one side of a corner.
func (l *LineFinder) Level(at, v []float64) (slope float64) {
	lo, hi := extremes(v)
	if hi == lo {
		return 0
	}
	steeper := hi > lo // a rising line brings both nearer, else a falling one
	for range mostTurns {
		var a, b float64
		var i, j int
		if steeper {
			a, i = nextLeft(at, v, hi, 1)
			b, j = nextRight(at, v, lo, 1)
		} else {
			a, i = nextRight(at, v, hi, -1)
			b, j = nextLeft(at, v, lo, -1)
		}
		if a <= b {
			slope, hi = a, i
		} else {
			slope, lo = b, j
		}
		switch {
		case math.IsInf(slope, 0): // numbers too large for a slope
			return l.Zone(at, v)
		case steeper && hi <= lo:
			return slope
		case !steeper && hi >= lo:
			return -slope
		}
	}
	return l.Zone(at, v)
}

// nextLeft returns which of the stations before k is the first to stand level
// with it as the line is turned, up for sign 1, and at which slope; of several
// the one that is furthest.
func nextLeft(at, v []float64, k int, sign float64) (slope float64, i int) {
	x, y, least := at[k], v[k], math.Inf(1)
	for j, s := range at[:k] {
		if d := sign * ((y - v[j]) / (x - s)); d < least {
			least, i = d, j
		}
	}
	return least, i
}

// nextRight is nextLeft for the stations behind k.
func nextRight(at, v []float64, k int, sign float64) (slope float64, i int) {
	x, y, least := at[k], v[k], math.Inf(1)
	for j := len(at) - 1; j > k; j-- {
		if d := sign * ((v[j] - y) / (at[j] - x)); d < least {
			least, i = d, j
		}
	}
	return least, i
}

// hull is one side of a convex hull: its n corners from left to right.
type hull struct {
	x, y []float64
	n    int
}

func (h *hull) steepness(i, j int) float64 { return (h.y[j] - h.y[i]) / (h.x[j] - h.x[i]) }

// upper finds the corners of the upper side.
func (h *hull) upper(at, v []float64) {
	xs, ys := h.room(len(at))
	n := 0
	for k, x := range at {
		y := v[k]
		if n > 0 && xs[n-1] == x {
			if y <= ys[n-1] {
				continue
			}
			n--
		}
		for n > 1 {
			ax, ay := xs[n-2], ys[n-2]
			turn := (xs[n-1]-ax)*(y-ay) - (ys[n-1]-ay)*(x-ax)
			if turn < 0 {
				break // it stands out beyond the line from the one before to k
			}
			n--
		}
		xs[n], ys[n] = x, y
		n++
	}
	h.n = n
}

// lower finds the corners of the lower side.
func (h *hull) lower(at, v []float64) {
	xs, ys := h.room(len(at))
	n := 0
	for k, x := range at {
		y := v[k]
		if n > 0 && xs[n-1] == x {
			if y >= ys[n-1] {
				continue
			}
			n--
		}
		for n > 1 {
			ax, ay := xs[n-2], ys[n-2]
			turn := (xs[n-1]-ax)*(y-ay) - (ys[n-1]-ay)*(x-ax)
			if turn > 0 {
				break
			}
			n--
		}
		xs[n], ys[n] = x, y
		n++
	}
	h.n = n
}

func (h *hull) room(n int) (x, y []float64) {
	if len(h.x) < n {
		h.x, h.y = make([]float64, n), make([]float64, n)
	}
	return h.x, h.y
}
