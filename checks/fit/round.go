package fit

import (
	"cmp"
	"math"
	"slices"
)

// Circumscribed returns what is left of the readings r, one at each angle in
// radians, once the smallest curve c + a·cos φ + b·sin φ with no reading
// outside is taken off: no residual is above 0 but for rounding. Smallest is by
// c. Where the curve touches at two places opposite each other alone, as an
// oval does, it may be pushed to and fro between them; the one with the least
// range is taken.
//
// The curve is a circle but for the square of its eccentricity. The error is
// an [*Undefined] where the angles all lie within half a turn, for then no
// curve is the smallest.
func Circumscribed(angles, r []float64) ([]float64, error) {
	among := around(angles)
	if among == nil {
		return nil, &Undefined{"the angles all lie within half a turn"}
	}
	e := RoundModel(angles).Residuals(r)
	size := greatest(e)
	if size == 0 {
		return e, nil
	}
	for {
		fit, touching := smallest(angles, e, size, among)
		if fit == nil {
			return nil, &Undefined{"rounding allows no curve"}
		}
		left := make([]float64, len(e))
		for i, a := range angles {
			left[i] = e[i] - size*(fit[0]+fit[1]*math.Cos(a)+fit[2]*math.Sin(a))
		}
		_, hi := extremes(left)
		if left[hi] <= 1e-14*size || slices.Contains(among, hi) {
			if len(touching) == 2 {
				centre(angles, left, angles[touching[0]])
			}
			return left, nil
		}
		among = append(among, hi) // the best curve of a few does not enclose it
	}
}

// smallest returns the smallest curve round the readings among, in units of
// size, and the readings that hold it.
func smallest(angles, e []float64, size float64, among []int) (fit []float64, touching []int) {
	// Maximise Σ e·μ with Σ μ = 1 and Σ μ·cos φ = Σ μ·sin φ = 0; the
	// multipliers are the curve.
	lp := program{rhs: []float64{1, 0, 0}}
	for _, i := range among {
		lp.add([]float64{1, math.Cos(angles[i]), math.Sin(angles[i])}, e[i]/size)
	}
	lp.solve([]int{0, 1, 2}, func(basis []int, x, pi []float64) { // the first three lie all round
		fit, touching = slices.Clone(pi), nil
		for k, j := range basis {
			if x[k] > holds {
				touching = append(touching, among[j])
			}
		}
	})
	return fit, touching
}

// holds is the least share of a reading that holds a curve: far above
// rounding, far below what three places that are set apart have.
const holds = 1e-9

// centre pushes a curve that touches at an angle and opposite it to where the
// range of what it leaves is least.
func centre(angles, left []float64, touch float64) {
	// Pushed by t, it leaves left − t·s. The least of these is greatest where
	// the lower side of the hull of the points (s, left) crosses s = 0, t being
	// the slope there.
	n := len(left)
	order, s := make([]int, n), make([]float64, n)
	from, to := math.Inf(-1), math.Inf(1) // how far it may be pushed
	for i, a := range angles {
		order[i], s[i] = i, math.Sin(a-touch)
		switch {
		case math.Abs(s[i]) < holds:
			s[i] = 0
		case s[i] > 0:
			from = math.Max(from, left[i]/s[i])
		default:
			to = math.Min(to, left[i]/s[i])
		}
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Compare(s[i], s[j]) })
	x, y := make([]float64, n), make([]float64, n)
	for k, i := range order {
		x[k], y[k] = s[i], left[i]
	}
	var low hull
	low.lower(x, y)
	t := 0.0
	for k := 1; k < low.n; k++ {
		if low.x[k-1] <= 0 && low.x[k] >= 0 {
			t = low.steepness(k-1, k)
			break
		}
	}
	t = math.Max(from, math.Min(to, t))
	for i := range left {
		left[i] -= t * s[i]
	}
}

// Inscribed is [Circumscribed] for the largest curve with no reading inside:
// no residual is below 0.
func Inscribed(angles, r []float64) ([]float64, error) {
	minus := make([]float64, len(r))
	for i := range r {
		minus[i] = -r[i]
	}
	e, err := Circumscribed(angles, minus)
	for i := range e {
		e[i] = -e[i]
	}
	return e, err
}

// RoundModel returns the model of a circle's eccentricity: cos φ and sin φ.
func RoundModel(angles []float64) *Model {
	c, s := make([]float64, len(angles)), make([]float64, len(angles))
	for i, a := range angles {
		c[i], s[i] = math.Cos(a), math.Sin(a)
	}
	return NewModel(len(angles), c, s)
}

// Surrounds tells whether the angles lie all round: no gap between neighbours
// is half a turn or more.
func Surrounds(angles []float64) bool { return around(angles) != nil }

// around returns three of the angles that lie all round, or nil.
func around(angles []float64) []int {
	n := len(angles)
	if n < 3 {
		return nil
	}
	turn := make([]float64, n) // counted on from the first angle
	order := make([]int, n)
	for i, a := range angles {
		order[i] = i
		turn[i] = math.Mod(math.Mod(a-angles[0], 2*math.Pi)+2*math.Pi, 2*math.Pi)
		if math.IsNaN(turn[i]) {
			return nil // angles so far apart that their difference is beyond all numbers
		}
	}
	slices.SortFunc(order, func(i, j int) int {
		switch {
		case turn[i] < turn[j]:
			return -1
		case turn[i] > turn[j]:
			return 1
		}
		return i - j
	})
	for k, i := range order {
		next := 2 * math.Pi
		if k+1 < n {
			next = turn[order[k+1]]
		}
		if next-turn[i] >= math.Pi*(1-1e-9) {
			return nil
		}
	}
	// The first angle looks at the gap opposite to it: its two ends complete
	// the three. An end exactly opposite needs no third, so any will do.
	k := slices.IndexFunc(order, func(i int) bool { return turn[i] >= math.Pi })
	if k < 1 {
		return nil
	}
	return []int{order[0], order[k-1], order[k]}
}
