package uncert

import (
	"math"

	"waywright/checks"
)

// Difference is by how much two values differ, and how well that is known.
type Difference struct {
	By  float64
	Std float64 // standard uncertainty of By, what both values share counted once
	DoF float64
	K   float64
	U   float64 // K·Std
	// Shown: the difference is more than the errors of the readings explain. What
	// is not shown may be noise.
	Shown bool
}

// Differ tells whether a difference of two results is real. It is where it is
// more than its own U: with no difference at all that happens once in twenty
// times.
//
//	|d| > t(0.975, ν)·u(d)
//
// For two means of n takes each, that scatter by s, u(d) is √(2·s²/n), and not
// less than √(2·a²/12) with a step of a (measure rule 3). r is what
// [Model.Combine] gives for the sensitivities of the difference, [Less].
//
// Source: derived here as the two-sample t test with the degrees of freedom of
// JCGM 100:2008, G.4.1.
func Differ(d float64, r Result) Difference {
	out := Difference{By: d, Std: r.Std, DoF: r.DoF, K: r.K, U: r.U}
	if out.DoF == 0 {
		out.DoF = math.Inf(1)
	}
	if out.K == 0 {
		out.K = checks.TQuantile(0.975, out.DoF)
		out.U = out.K * out.Std
	}
	out.Shown = math.Abs(d) > out.U // a NaN shows nothing
	return out
}
