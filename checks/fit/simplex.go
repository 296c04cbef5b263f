package fit

import "math"

// program is a linear program of few rows and many columns: maximise Σ c·μ
// with Σ column·μ = rhs, μ ≥ 0. Its numbers are all about 1 in size.
type program struct {
	cols [][]float64
	cost []float64
	rhs  []float64
}

func (p *program) add(col []float64, cost float64) {
	p.cols, p.cost = append(p.cols, col), append(p.cost, cost)
}

// solve goes from the feasible basis start to the best one by the revised
// simplex method, and shows see each basis, the amounts of its columns and its
// multipliers, one a row. It
// stops at the best basis; after more steps than such a program is known to
// need, it stops where it is.
//
// The column with the most gain enters; when that brings nothing for a while
// the first one with any gain does (R. G. Bland's rule, 1977, from memory),
// which cannot go round in a circle.
func (p *program) solve(start []int, see func(basis []int, amounts, multipliers []float64)) {
	basis := append([]int(nil), start...)
	last, idle := math.Inf(-1), 0
	for range 100 + 10*len(p.cols) {
		x := p.multipliersOf(basis, false)
		pi := p.multipliersOf(basis, true)
		if x == nil || pi == nil {
			return // rounding has spoiled the basis; what was seen stands
		}
		see(basis, x, pi)
		if v := dot(p.rhs, pi); v > last+gainTol {
			last, idle = v, 0
		} else {
			idle++
		}
		enter := p.entering(pi, idle > 2*len(basis))
		if enter < 0 {
			return
		}
		leave := p.leaving(basis, x, enter)
		if leave < 0 {
			return // no bound: cannot be with the programs of this package
		}
		basis[leave] = enter
	}
}

// entering returns the column to bring in, or −1 when none gains.
func (p *program) entering(pi []float64, firstOne bool) int {
	best, gain := -1, gainTol
	for j, col := range p.cols {
		if g := p.cost[j] - dot(col, pi); g > gain {
			best, gain = j, g
			if firstOne {
				return j
			}
		}
	}
	return best
}

// leaving returns the place in the basis that reaches 0 first when the column
// enter comes in; of equal ones that of the least column.
func (p *program) leaving(basis []int, x []float64, enter int) int {
	d := gauss(p.matrix(basis), p.cols[enter])
	if d == nil {
		return -1
	}
	best, step := -1, math.Inf(1)
	for i := range d {
		if d[i] <= pivotTol {
			continue
		}
		s := math.Max(x[i], 0) / d[i]
		if s < step-pivotTol || (s <= step+pivotTol && (best < 0 || basis[i] < basis[best])) {
			best, step = i, math.Min(s, step)
		}
	}
	return best
}

// multipliersOf solves the basis for its columns' amounts or, transposed, for
// the multipliers of the rows.
func (p *program) multipliersOf(basis []int, transposed bool) []float64 {
	if !transposed {
		return gauss(p.matrix(basis), p.rhs)
	}
	a, c := make([][]float64, len(basis)), make([]float64, len(basis))
	for i, j := range basis {
		a[i], c[i] = append([]float64(nil), p.cols[j]...), p.cost[j]
	}
	return gauss(a, c)
}

// matrix returns the columns of the basis as a matrix.
func (p *program) matrix(basis []int) [][]float64 {
	a := make([][]float64, len(basis))
	for r := range a {
		a[r] = make([]float64, len(basis))
		for i, j := range basis {
			a[r][i] = p.cols[j][r]
		}
	}
	return a
}

// gauss solves a·x = b by elimination with row pivots; it changes a. It returns
// nil where a has no inverse.
func gauss(a [][]float64, b []float64) []float64 {
	n := len(b)
	x := append([]float64(nil), b...)
	for k := range n {
		pivot := k
		for i := k + 1; i < n; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[pivot][k]) {
				pivot = i
			}
		}
		if math.Abs(a[pivot][k]) < 1e-300 {
			return nil
		}
		a[k], a[pivot] = a[pivot], a[k]
		x[k], x[pivot] = x[pivot], x[k]
		for i := k + 1; i < n; i++ {
			f := a[i][k] / a[k][k]
			for j := k; j < n; j++ {
				a[i][j] -= f * a[k][j]
			}
			x[i] -= f * x[k]
		}
	}
	for k := n - 1; k >= 0; k-- {
		for j := k + 1; j < n; j++ {
			x[k] -= a[k][j] * x[j]
		}
		x[k] /= a[k][k]
	}
	return x
}
