package montecarlo

import "math"

// moments are count, mean and sum of squared deviations of some numbers.
type moments struct {
	n       int
	mean    float64
	squares float64
	gone    int // trials without a result
}

// momentsOf returns the moments of the trials of a block. It takes one pass,
// about the first number, in four lanes that do not wait for each other; what
// comes out is not finite where a trial has no result, and then the slow way
// is gone.
func momentsOf(y []float64) moments {
	if len(y) == 0 {
		return moments{}
	}
	shift := y[0]
	var s, q [4]float64
	i := 0
	for ; i+4 <= len(y); i += 4 {
		v := y[i : i+4 : i+4]
		a, b, c, d := v[0]-shift, v[1]-shift, v[2]-shift, v[3]-shift
		s[0] += a
		s[1] += b
		s[2] += c
		s[3] += d
		q[0] += float64(a * a)
		q[1] += float64(b * b)
		q[2] += float64(c * c)
		q[3] += float64(d * d)
	}
	for ; i < len(y); i++ {
		a := y[i] - shift
		s[0] += a
		q[0] += float64(a * a)
	}
	sum, sq, n := (s[0]+s[1])+(s[2]+s[3]), (q[0]+q[1])+(q[2]+q[3]), float64(len(y))
	if !finite(sq) || !finite(shift) {
		return carefully(y)
	}
	return moments{n: len(y), mean: shift + sum/n, squares: math.Max(0, sq-float64(sum*(sum/n)))}
}

// carefully is momentsOf for blocks in which some trials may have no result.
func carefully(y []float64) moments {
	var m moments
	for _, v := range y {
		if !finite(v) {
			m.gone++
			continue
		}
		m = m.with(moments{n: 1, mean: v})
	}
	return m
}

// with returns the moments of both together.
//
// Source: T. F. Chan, G. H. Golub, R. J. LeVeque, Updating formulae and a
// pairwise algorithm for computing sample variances, COMPSTAT 1982, from
// memory.
func (m moments) with(o moments) moments {
	gone := m.gone + o.gone
	switch {
	case o.n == 0:
		m.gone = gone
		return m
	case m.n == 0:
		o.gone = gone
		return o
	}
	n := m.n + o.n
	d := o.mean - m.mean
	part := float64(o.n) / float64(n)
	return moments{
		n: n, gone: gone, mean: m.mean + float64(d*part),
		squares: m.squares + o.squares + float64(d*d*(float64(m.n)*part)),
	}
}

// std returns the standard deviation, with n − 1 (JCGM 101:2008, 7.6).
func (m moments) std() float64 {
	if m.n < 2 {
		return math.NaN()
	}
	return math.Sqrt(m.squares / float64(m.n-1))
}
