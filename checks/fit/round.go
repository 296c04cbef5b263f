package fit

import (
	"math"
	"slices"
)

// least is the weight of the range beside the radius in [Circumscribed]: of
// fits with one radius, the one of least range is taken.
const least = 1e-6

// Circumscribed returns what is left of the readings r, one at each angle in
// radians, once the smallest curve c + a·cos φ + b·sin φ with no reading
// outside is taken off: no residual is above 0. Smallest is by c; where several
// curves have the least c, as with an oval that touches at two places, the one
// with the least range is taken.
//
// The curve is a circle but for the square of its eccentricity. The error is
// an [*Undefined] where the angles all lie within half a turn, for then no
// curve is the smallest.
func Circumscribed(angles, r []float64) ([]float64, error) {
	start := around(angles)
	if start == nil {
		return nil, &Undefined{"the angles all lie within half a turn"}
	}
	m := RoundModel(angles)
	e := m.Residuals(r)
	size := greatest(e)
	if size == 0 {
		return e, nil
	}
	// Maximise Σ e·(μ⁺ − μ⁻) with Σ (μ⁺ − μ⁻) = 1, the same with cos and sin 0,
	// and Σ μ⁻ = least: the dual of least c + least·range.
	lp := program{rhs: []float64{1, 0, 0, least}}
	for i, a := range angles {
		c, s := math.Cos(a), math.Sin(a)
		lp.add([]float64{1, c, s, 0}, e[i]/size)
		lp.add([]float64{-1, -c, -s, 1}, -e[i]/size)
	}
	out, top := slices.Clone(e), slices.Max(e) // a curve that encloses, to begin with
	for i := range out {
		out[i] -= top
	}
	lp.solve([]int{2 * start[0], 2*start[0] + 1, 2 * start[1], 2 * start[2]}, func(fit []float64) {
		left := make([]float64, len(e))
		for i, a := range angles {
			left[i] = e[i] - size*(fit[0]+fit[1]*math.Cos(a)+fit[2]*math.Sin(a))
		}
		if slices.Max(left) <= 1e-9*size { // so it is at the best basis alone
			out = left
		}
	})
	return out, nil
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
	return []int{order[0], order[k-1], order[k]}
}
