package engine

import (
	"math"

	"waywright/checks"
	"waywright/checks/propagate"
)

// plainly is how sure a verdict must be, by twice the linear doubt, to be given
// without drawing errors where nobody reads more of a gate than its verdict.
const plainly = 1e-4

// plain tells whether the verdict on number k is the same whatever drawing its
// errors would give: it is decided as read, or so far from both limits that
// with twice the doubt not one value in ten thousand lies on the other side.
// What drawing adds at a kink or a bend is less than that: the greatest of a
// dozen equals is high by 1.6 of their u and scatters less than each of them
// (H. A. David, H. N. Nagaraja, Order Statistics, from memory). So a rehearsal
// gives another verdict than a run in less than one of ten thousand gates that
// are found so.
func (c *chain) plain(k int, linear propagate.Estimate) bool {
	if c.s.rule(c.q.gate) == checks.Simple {
		return true
	}
	n := len(c.est.of)
	sure := func(margin float64) bool {
		return math.IsInf(margin, 0) || linear.Std > 0 && checks.TCDF(-math.Abs(margin)/(2*linear.Std), linear.DoF) < plainly
	}
	if k >= n { // a margin, which is held against nought
		return sure(linear.Value)
	}
	lo, hi := linear.Value-c.est.lo, c.est.hi-linear.Value
	return sure(hi) && (sure(lo) || c.est.form.NonNegative && c.est.lo <= 0)
}
