package fit

import (
	"math"
	"slices"
)

// zone looks for the fit of least range, of one set of readings after another.
//
// Such a fit is held by as many readings as there are shapes and two more: some
// lie on its upper side, the others on its lower one, and each side has weights,
// one in all, under which both have the same middle in every shape. Those are
// looked for by an exchange. The range of the readings held is known; where
// another one stands out beyond it, that one takes the place of the one whose
// weight is used up first, and the range grows. No fit of all the readings can
// have a range below that of a few of them, so where none stands out it is the
// least.
//
// Source: the dual linear program of fitting by the greatest residual, solved
// by the revised simplex method; see for example G. A. Watson, Approximation
// Theory and Numerical Methods (1980), from memory.
type zone struct {
	m    *Model
	rows int       // conditions on the weights: one of either side's, one for each shape
	from []held    // the readings that are held at first
	inv0 []float64 // the inverse of their columns, row by row

	basis  []held
	inv    []float64 // its last column, twice, is the weights
	pi     []float64 // the fit: constant, shapes, and half of the range
	best   []float64 // of all that were seen, that of least range
	enter  []float64 // the column that comes in, and in terms of the basis
	wide   []float64 // see invert
	e      []float64 // the readings, levelled, in units of their size
	left   []float64 // what the fit leaves of them
	lo, hi int       // the least and the greatest of that
}

// held is a reading on one side of the fit.
type held struct {
	i    int
	sign float64 // 1: on the upper side
}

// before orders the columns of the program.
func (h held) before(o held) bool {
	return h.i < o.i || h.i == o.i && h.sign > o.sign
}

const (
	gainTol  = 1e-13 // less than this is no gain, beside readings of size 1
	pivotTol = 1e-10 // less than this is no pivot
)

func newZone(m *Model) *zone {
	rows := len(m.q) + 2
	z := &zone{
		m: m, rows: rows, basis: make([]held, rows), inv: make([]float64, rows*rows), wide: make([]float64, 2*rows*rows),
		pi: make([]float64, rows), best: make([]float64, rows), enter: make([]float64, 2*rows),
		e: make([]float64, m.n), left: make([]float64, m.n),
	}
	span := m.spanning()
	z.from = append(z.from, held{span[0], 1}, held{span[0], -1}) // a range of nothing
	for _, i := range span[1:] {
		z.from = append(z.from, held{i, 1})
	}
	copy(z.basis, z.from)
	if z.invert() {
		z.inv0 = slices.Clone(z.inv)
	}
	return z
}

// fit returns what the fit of least range leaves of the readings e, whose
// greatest amount is size: e itself where rounding allows nothing better.
func (z *zone) fit(e []float64, size float64) []float64 {
	if z.inv0 == nil {
		return e
	}
	for i, v := range e {
		z.e[i] = v / size
	}
	copy(z.basis, z.from)
	copy(z.inv, z.inv0)
	least := z.exchange(math.Inf(1))
	if z.invert() { // without what rounding brought into it
		least = z.exchange(least)
	}
	if math.IsInf(least, 1) {
		return e
	}
	for i := range e {
		z.left[i] = e[i] - z.at(z.best, i)*size
	}
	if spread(z.left) < spread(e) {
		return z.left
	}
	return e
}

// exchange goes on until no reading stands out, and keeps the best fit seen.
// After more steps than such a program is known to need it stops where it is.
//
// The reading that stands out most comes in; when that brings nothing for a
// while the first one that stands out at all does (R. G. Bland's rule, 1977,
// from memory), which cannot go round in a circle.
func (z *zone) exchange(least float64) float64 {
	last, idle := math.Inf(-1), 0
	for range 100 + 20*z.m.n {
		z.price()
		if r := z.left[z.hi] - z.left[z.lo]; r < least {
			least = r
			copy(z.best, z.pi)
		}
		if v := 2 * z.pi[z.rows-1]; v > last+gainTol {
			last, idle = v, 0
		} else {
			idle++
		}
		in, gain := z.standsOut()
		if idle > 2*z.rows {
			in, gain = z.firstOut()
		}
		if gain <= gainTol || !z.exchangeFor(in) {
			break
		}
	}
	return least
}

// price works out the fit that the basis holds, and what it leaves.
func (z *zone) price() {
	for r := range z.pi {
		p := 0.0
		for b, h := range z.basis {
			p += h.sign * z.e[h.i] * z.inv[b*z.rows+r]
		}
		z.pi[r] = p
	}
	for i := range z.left {
		z.left[i] = z.e[i] - z.pi[0]
	}
	for k, q := range z.m.q {
		p := z.pi[k+1]
		for i, v := range q {
			z.left[i] -= p * v
		}
	}
	z.lo, z.hi = extremes(z.left)
}

// at returns what a fit is at point i.
func (z *zone) at(fit []float64, i int) float64 {
	f := fit[0]
	for k, q := range z.m.q {
		f += fit[k+1] * q[i]
	}
	return f
}

// standsOut returns the reading that stands out beyond the range most, and by
// how much.
func (z *zone) standsOut() (h held, gain float64) {
	half := z.pi[z.rows-1]
	up, down := z.left[z.hi]-half, -z.left[z.lo]-half
	if up >= down {
		return held{z.hi, 1}, up
	}
	return held{z.lo, -1}, down
}

func (z *zone) firstOut() (h held, gain float64) {
	half := z.pi[z.rows-1]
	for i, v := range z.left {
		if v-half > gainTol {
			return held{i, 1}, v - half
		}
		if -v-half > gainTol {
			return held{i, -1}, -v - half
		}
	}
	return held{}, 0
}

// column puts the column of a reading of the program into col.
func (z *zone) column(h held, col []float64) {
	col[0], col[z.rows-1] = h.sign, 1
	for k, q := range z.m.q {
		col[k+1] = h.sign * q[h.i]
	}
}

// exchangeFor holds a reading in the place of the one whose weight is used up
// first, of equal ones of the first; it tells whether there is one.
func (z *zone) exchangeFor(in held) bool {
	n := z.rows
	col, d := z.enter[:n], z.enter[n:]
	z.column(in, col)
	out, step := -1, math.Inf(1)
	for b := range d {
		d[b] = dot(z.inv[b*n:(b+1)*n], col)
		if d[b] <= pivotTol {
			continue
		}
		s := math.Max(z.inv[b*n+n-1], 0) / d[b]
		if s < step-pivotTol || s <= step+pivotTol && (out < 0 || z.basis[b].before(z.basis[out])) {
			out, step = b, math.Min(s, step)
		}
	}
	if out < 0 {
		return false
	}
	row := z.inv[out*n : (out+1)*n]
	for r := range row {
		row[r] /= d[out]
	}
	for b := range d {
		if b == out {
			continue
		}
		for r, v := range row {
			z.inv[b*n+r] -= d[b] * v
		}
	}
	z.basis[out] = in
	return true
}

// invert works the inverse of the basis out anew, by elimination with row
// pivots; ok is false where it has none.
func (z *zone) invert() (ok bool) {
	n := z.rows
	a, col := z.wide, z.enter[:n] // the right half of a becomes the inverse
	clear(a)
	for b, h := range z.basis {
		z.column(h, col)
		for r, v := range col {
			a[r*2*n+b] = v
		}
		a[b*2*n+n+b] = 1
	}
	for k := range n {
		pivot := k
		for i := k + 1; i < n; i++ {
			if math.Abs(a[i*2*n+k]) > math.Abs(a[pivot*2*n+k]) {
				pivot = i
			}
		}
		if !(math.Abs(a[pivot*2*n+k]) > 1e-300) {
			return false
		}
		for c := range 2 * n {
			a[k*2*n+c], a[pivot*2*n+c] = a[pivot*2*n+c], a[k*2*n+c]
		}
		p := a[k*2*n+k]
		for c := range 2 * n {
			a[k*2*n+c] /= p
		}
		for i := range n {
			f := a[i*2*n+k]
			if i == k || f == 0 {
				continue
			}
			for c := range 2 * n {
				a[i*2*n+c] -= f * a[k*2*n+c]
			}
		}
	}
	for r := range n {
		copy(z.inv[r*n:(r+1)*n], a[r*2*n+n:(r+1)*2*n])
	}
	return true
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
