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
type LineFinder struct{ up, low []int }

// Zone is [LineZone].
func (l *LineFinder) Zone(at, v []float64) (slope float64) {
	l.up, l.low = upperSide(at, v, l.up), lowerSide(at, v, l.low)
	up, low := l.up, l.low
	i, j := len(up)-1, 0 // what touches above and below, the slope being very low
	for at[up[i]] > at[low[j]] {
		// The next edge of the upper side to the left, of the lower one to the right.
		a, b := math.Inf(1), math.Inf(1)
		if i > 0 {
			a = steepness(at, v, up[i-1], up[i])
		}
		if j < len(low)-1 {
			b = steepness(at, v, low[j], low[j+1])
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

func steepness(at, v []float64, i, j int) float64 { return (v[j] - v[i]) / (at[j] - at[i]) }

// upperSide returns the corners of the upper side of the convex hull, from left
// to right, in the room of out.
func upperSide(at, v []float64, out []int) []int {
	out = out[:0]
	for k, x := range at {
		y := v[k]
		if n := len(out); n > 0 && at[out[n-1]] == x {
			if y <= v[out[n-1]] {
				continue
			}
			out = out[:n-1]
		}
		for n := len(out); n > 1; n = len(out) {
			a, b := out[n-2], out[n-1]
			turn := (at[b]-at[a])*(y-v[a]) - (v[b]-v[a])*(x-at[a])
			if turn < 0 {
				break // b stands out beyond the line from a to k
			}
			out = out[:n-1]
		}
		out = append(out, k)
	}
	return out
}

// lowerSide is upperSide for the lower side.
func lowerSide(at, v []float64, out []int) []int {
	out = out[:0]
	for k, x := range at {
		y := v[k]
		if n := len(out); n > 0 && at[out[n-1]] == x {
			if y >= v[out[n-1]] {
				continue
			}
			out = out[:n-1]
		}
		for n := len(out); n > 1; n = len(out) {
			a, b := out[n-2], out[n-1]
			turn := (at[b]-at[a])*(y-v[a]) - (v[b]-v[a])*(x-at[a])
			if turn > 0 {
				break
			}
			out = out[:n-1]
		}
		out = append(out, k)
	}
	return out
}
