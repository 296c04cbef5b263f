package propagate

import (
	"math"
	"testing"

	"waywright/checks/montecarlo"
	"waywright/checks/uncert"
)

// The sum of a U-shaped and a trapezoidal error, which the linear way takes by
// their u alone: half widths 1 and top 0.5 give u² = 1/2 and (1 + 0.25)/6
// (JCGM 100:2008, 4.3.9; JCGM 101:2008, 6.4.4 and 6.4.6).
func shaped(t *testing.T) Problem {
	arcsine, trapezoid := montecarlo.Arcsine(-1, 1), montecarlo.Trapezoid(-1, 1, 0.5)
	return problem(t, []uncert.Source{
		{ID: "swing", U: math.Sqrt(0.5), Shape: &arcsine},
		{ID: "limits", U: math.Sqrt(1.25 / 6), Shape: &trapezoid},
	}, Form{}, func(x []float64) float64 { return x[0] + x[1] })
}

func TestAskedDrawsAtAnotherLevel(t *testing.T) {
	p := shaped(t)
	p.Level = 0.99
	e := solve(t, p)
	u := math.Sqrt(0.5 + 1.25/6)
	if e.Drawn != nil {
		t.Fatal("a sum was drawn without being asked for")
	}
	near(t, "linear u", e.Std, u, 1e-9)
	near(t, "linear k", e.K, 2.576, 0.0005) // JCGM 100:2008, Table G.2, 99 %
	p.Asked, p.Seed = true, 7
	e = solve(t, p)
	if e.Drawn == nil || e.Drawn.Why != Asked || e.Drawn.Seed != 7 || e.Drawn.Trials != montecarlo.Usual {
		t.Fatalf("asked for, it gives %+v", e.Drawn)
	}
	near(t, "drawn u", e.Std, u, 0.004)
	if w := e.Drawn.Symmetric.High; !(w > 1.5 && w < 2) {
		t.Errorf("the 99 %% interval ends at %g; the sum of ±1 and ±1 ends at 2", w)
	}
	p.Level = 0
	if w := solve(t, p).Drawn.Symmetric.High; !(w < e.Drawn.Symmetric.High) {
		t.Errorf("the 95 %% interval ends at %g, that of 99 %% at %g", w, e.Drawn.Symmetric.High)
	}
}

// JCGM 101:2008, 7.9.4: a rough tolerance needs few trials, a fine one more.
func TestAskedUntilEnough(t *testing.T) {
	p := shaped(t)
	p.Asked = true
	trials := map[int]int{}
	for _, digits := range []int{1, 2} {
		p.Until = &montecarlo.Until{Digits: digits}
		e := solve(t, p)
		if !e.Drawn.Stable {
			t.Errorf("%d figures were not reached in %d trials", digits, e.Drawn.Trials)
		}
		trials[digits] = e.Drawn.Trials
	}
	if trials[1] >= trials[2] {
		t.Errorf("one figure took %d trials, two took %d", trials[1], trials[2])
	}
	p.Until = &montecarlo.Until{Digits: 4, Most: 40_000}
	if e := solve(t, p); e.Drawn.Stable || e.Drawn.Trials > 40_000 {
		t.Errorf("four figures in %d trials, stable %t", e.Drawn.Trials, e.Drawn.Stable)
	}
}

// Student's t with two degrees of freedom has no standard deviation: u is then
// what a normal error with the same 95 % interval would have.
func TestAskedOfWildErrors(t *testing.T) {
	p := problem(t, []uncert.Source{{ID: "three takes", U: 1, DoF: 2}}, Form{}, func(x []float64) float64 { return x[0] })
	p.Asked = true
	e := solve(t, p)
	near(t, "U", e.U, 4.303, 0.1) // JCGM 100:2008, Table G.2
	near(t, "u", e.Std, 4.303/1.96, 0.05)
}

// x² at nought: the tangent is flat, and the first order of JCGM 100 says
// nothing; without Plain the steeper side stands for it (see JCGM 101:2008, 9.4).
func TestPlainSlopes(t *testing.T) {
	p := problem(t, normals(1), Form{}, func(x []float64) float64 { return x[0] * x[0] })
	p.Start = nil
	if u := solve(t, p).Std; !(u > 0.5) {
		t.Errorf("u = %g without drawing, want that of a side", u)
	}
	p.Plain = true
	near(t, "plain u", solve(t, p).Std, 0, 0)
}
