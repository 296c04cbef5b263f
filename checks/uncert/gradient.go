package uncert

import (
	"math"
	"slices"
)

// Gradient returns the sensitivity of f to each of its inputs at x, by central
// differences over steps of u on either side; so a curved function has the
// slope that matters for an error of that size. An input with u = 0 gets 0
// and is not stepped.
//
// f tells by its second result whether it is defined; a NaN or an infinity
// counts as undefined. Where f is undefined on one side of x, the difference
// is taken to the other; where it is on both, or at x itself as well, the
// sensitivity is 0 and the input's number is in undefined. f must not keep or
// change its argument.
//
// At a kink (abs at nought, the greatest of two equals) central differences
// say too little; measure rule 10 has what to do there.
//
// Source: JCGM 100:2008, 5.1.3, note 2 (measure rule 9).
func Gradient(f func(x []float64) (float64, bool), x, u []float64) (c []float64, undefined []int) {
	c = make([]float64, len(x))
	at := slices.Clone(x)
	eval := func(i int, v float64) (float64, bool) {
		at[i] = v
		y, ok := f(at)
		at[i] = x[i]
		return y, ok && !math.IsNaN(y) && !math.IsInf(y, 0)
	}
	for i := range x {
		if u[i] == 0 {
			continue
		}
		above, below := x[i]+u[i], x[i]-u[i]
		up, okUp := eval(i, above)
		down, okDown := eval(i, below)
		if !okUp {
			above = x[i]
			up, okUp = eval(i, above)
		}
		if !okDown && above != x[i] {
			below = x[i]
			down, okDown = eval(i, below)
		}
		if !okUp || !okDown || above == below {
			undefined = append(undefined, i)
			continue
		}
		c[i] = (up - down) / (above - below)
	}
	return c, undefined
}
