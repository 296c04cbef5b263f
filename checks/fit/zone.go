package fit

import (
	"math"
	"slices"
)

// zone looks for the fit of least range.
type zone struct {
	m     *Model
	e     []float64 // the readings, levelled
	size  float64   // the greatest amount of these
	best  []float64 // what the best fit so far leaves
	among []int     // the readings that are fitted
}

// settled fits the readings among, and adds those that stand out; it tells
// whether none does.
func (z *zone) settled() bool {
	fit, least := z.fit()
	if fit == nil {
		return true // rounding allows nothing better than what was found
	}
	left := z.m.less(z.e, fit, z.size)
	lo, hi := extremes(left)
	if left[hi]-left[lo] < spread(z.best) {
		z.best = left
	}
	// No fit of all the readings has a range below that of a few of them.
	if left[hi]-left[lo] <= least+1e-14*z.size {
		return true
	}
	before := len(z.among)
	for _, i := range [2]int{lo, hi} {
		if !slices.Contains(z.among, i) {
			z.among = append(z.among, i)
		}
	}
	return len(z.among) == before
}

// fit returns the fit of least range of the readings among, in terms of the
// constant and q and in units of size, with that range.
//
// Source: the dual linear program of fitting by the greatest residual, solved
// by the simplex method; see for example G. A. Watson, Approximation Theory
// and Numerical Methods (1980), from memory.
func (z *zone) fit() (fit []float64, least float64) {
	// Maximise Σ e·(μ⁺ − μ⁻) with Σ p·(μ⁺ − μ⁻) = 0 for the constant and each
	// shape, and Σ (μ⁺ + μ⁻) = 2. The multipliers are the fit, and half the
	// range.
	rows := len(z.m.q) + 2
	lp := program{rhs: make([]float64, rows)}
	lp.rhs[rows-1] = 2
	for _, i := range z.among {
		for _, sign := range [2]float64{1, -1} {
			col := make([]float64, rows)
			col[0], col[rows-1] = sign, 1
			for k, q := range z.m.q {
				col[k+1] = sign * q[i]
			}
			lp.add(col, sign*z.e[i]/z.size)
		}
	}
	start := []int{0, 1}
	for i := range len(z.m.q) { // the first ones span, see spanning
		start = append(start, 2*(i+1))
	}
	least = math.Inf(1)
	lp.solve(start, func(_ []int, _, pi []float64) {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, i := range z.among {
			x := z.m.at(z.e, pi, z.size, i)
			lo, hi = math.Min(lo, x), math.Max(hi, x)
		}
		if hi-lo < least {
			fit, least = slices.Clone(pi), hi-lo
		}
	})
	return fit, least
}

// at returns what a fit, in terms of the constant and q, leaves of reading i.
func (m *Model) at(e, fit []float64, size float64, i int) float64 {
	f := fit[0]
	for k, q := range m.q {
		f += fit[k+1] * q[i]
	}
	return e[i] - f*size
}

// less takes a fit off residuals.
func (m *Model) less(e, fit []float64, size float64) []float64 {
	out := make([]float64, len(e))
	for i := range e {
		out[i] = m.at(e, fit, size, i)
	}
	return out
}

// spanning returns one more point than there are shapes kept, such that the
// constant and the shapes are independent over them alone.
func (m *Model) spanning() []int {
	rows, all := make([][]float64, m.n), make([]float64, m.n*(len(m.q)+1))
	for i := range rows {
		rows[i] = all[i*(len(m.q)+1) : (i+1)*(len(m.q)+1)]
		rows[i][0] = 1
		for k, q := range m.q {
			rows[i][k+1] = q[i]
		}
	}
	var picked []int
	for range len(m.q) + 1 {
		best := 0
		for i := range rows {
			if norm(rows[i]) > norm(rows[best]) {
				best = i
			}
		}
		picked = append(picked, best)
		dir, size := append([]float64(nil), rows[best]...), dot(rows[best], rows[best])
		for i := range rows {
			c := dot(rows[i], dir) / size
			for k := range dir {
				rows[i][k] -= c * dir[k]
			}
		}
	}
	return picked
}

// extremes returns the places of the least and of the greatest.
func extremes(x []float64) (lo, hi int) {
	for i := range x {
		if x[i] < x[lo] {
			lo = i
		}
		if x[i] > x[hi] {
			hi = i
		}
	}
	return lo, hi
}
