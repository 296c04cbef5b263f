package propagate

import (
	"fmt"
	"math"
	"testing"

	"waywright/checks/montecarlo"
	"waywright/checks/uncert"
)

// inputs makes a model of normal inputs of u = 1, and a formula over them.
func problem(t *testing.T, sources []uncert.Source, form Form, f func(x []float64) float64) Problem {
	t.Helper()
	m, err := uncert.New(nil, nil, sources)
	if err != nil {
		t.Fatal(err)
	}
	return Problem{
		Model: m,
		Eval:  func(x []float64) []float64 { return []float64{f(x)} },
		Start: func() montecarlo.Func {
			x := make([]float64, m.Len())
			return func(in, out [][]float64) {
				for i := range out[0] {
					for k := range in {
						x[k] = in[k][i]
					}
					out[0][i] = f(x)
				}
			}
		},
		Forms: []Form{form},
	}
}

func normals(n int) []uncert.Source {
	var s []uncert.Source
	for i := range n {
		s = append(s, uncert.Source{ID: fmt.Sprint("x", i), U: 1})
	}
	return s
}

func solve(t *testing.T, p Problem) Estimate {
	t.Helper()
	out, ok := Solve(p)
	if !ok || len(out) != 1 {
		t.Fatalf("Solve gave %d numbers, ok %t", len(out), ok)
	}
	return out[0]
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.5g, want %.5g ± %g", what, got, want, tolerance)
	}
}

// Derived here: |x| of a normal x about 0 has the standard deviation √(1 − 2/π)
// = 0.603 and the mean √(2/π) = 0.798, and lies within 1.960 of 0 with 95 %.
func TestMeasureRule10Abs(t *testing.T) {
	e := solve(t, problem(t, normals(1), Form{Kinked: true, NonNegative: true}, func(x []float64) float64 { return math.Abs(x[0]) }))
	if e.Drawn == nil || e.Drawn.Why != Kink {
		t.Fatalf("not drawn: %+v", e)
	}
	near(t, "u", e.Std, math.Sqrt(1-2/math.Pi), 0.01)
	near(t, "bias", e.Drawn.Bias, math.Sqrt(2/math.Pi), 0.01)
	near(t, "U", e.U, 1.960, 0.02)
	if len(e.Budget) != 1 || math.Abs(e.Budget[0].Share-1) > 1e-9 {
		t.Errorf("the budget of a kink is empty: %+v", e.Budget)
	}
}

// A kink far away is drawn too, and gives what the linear way does.
func TestMeasureRule10AbsFarFromNought(t *testing.T) {
	e := solve(t, problem(t, normals(1), Form{Kinked: true, NonNegative: true}, func(x []float64) float64 { return math.Abs(x[0] + 20) }))
	near(t, "u", e.Std, 1, 0.01)
	near(t, "bias", e.Drawn.Bias, 0, 0.01)
	near(t, "U", e.U, 1.960, 0.02)
}

// Derived here: the range of four equal readings has u = 0.880 (tables of the
// range, d3 for n = 4), where central differences give nothing.
func TestMeasureRule10RangeOfEquals(t *testing.T) {
	e := solve(t, problem(t, normals(4), Form{Kinked: true, NonNegative: true}, func(x []float64) float64 {
		return max(x[0], x[1], x[2], x[3]) - min(x[0], x[1], x[2], x[3])
	}))
	near(t, "u", e.Std, 0.880, 0.01)
	near(t, "bias", e.Drawn.Bias, 2.059, 0.02)
}

// Straight formulas are not drawn, whatever their sources.
func TestMeasureRule10StraightIsNotDrawn(t *testing.T) {
	sources := []uncert.Source{{ID: "a", U: 1, Limit: true}, {ID: "b", U: 0.3, DoF: 4}, {ID: "c", U: 1e-3}}
	e := solve(t, problem(t, sources, Form{}, func(x []float64) float64 { return 20 + 3*x[0] - x[1] + 1e3*x[2] }))
	if e.Drawn != nil {
		t.Fatalf("drawn: %+v", e.Drawn)
	}
	near(t, "u", e.Std, math.Sqrt(9+0.09+1), 1e-9)
}

// Nor is a product of well-known lengths, which is as good as straight.
func TestMeasureRule10NearlyStraight(t *testing.T) {
	sources := []uncert.Source{{ID: "a", U: 0.001}, {ID: "b", U: 0.001}, {ID: "l", U: 0.05}}
	e := solve(t, problem(t, sources, Form{}, func(x []float64) float64 { return (x[0] + 0.045 - x[1]) / 2 * 300 / (250 + x[2]) }))
	if e.Drawn != nil {
		t.Fatalf("drawn: %+v", e.Drawn)
	}
}

// A square at nought has no slope at all, and a product of two unknowns none
// along any axis: both are found.
func TestMeasureRule10Bends(t *testing.T) {
	square := solve(t, problem(t, normals(1), Form{}, func(x []float64) float64 { return x[0] * x[0] }))
	if square.Drawn == nil || square.Drawn.Why != Curved {
		t.Fatalf("the square is not drawn: %+v", square)
	}
	near(t, "u of a square", square.Std, math.Sqrt2, 0.03) // χ² with one degree of freedom
	product := solve(t, problem(t, normals(2), Form{}, func(x []float64) float64 { return x[0] * x[1] }))
	if product.Drawn == nil {
		t.Fatalf("the product is not drawn: %+v", product)
	}
	near(t, "u of a product", product.Std, 1, 0.02)
}

func TestMeasureRule10LooseDivisor(t *testing.T) {
	for _, tt := range []struct {
		divisor float64
		drawn   bool
	}{{9.5, true}, {1000, false}} {
		p := problem(t, normals(1), Form{}, func(x []float64) float64 { return 3 })
		eval := p.Eval
		p.Eval = func(x []float64) []float64 { return append(eval(x), tt.divisor+x[0]) }
		p.Divisors = 1
		if e := solve(t, p); (e.Drawn != nil) != tt.drawn {
			t.Errorf("divisor %g ± 1: drawn %t, want %t", tt.divisor, e.Drawn != nil, tt.drawn)
		}
	}
}

// The same problem gives the same bytes; another value another seed.
func TestMeasureRule10SameSeed(t *testing.T) {
	at := func(y float64) Estimate {
		return solve(t, problem(t, normals(2), Form{Kinked: true}, func(x []float64) float64 { return max(x[0], x[1]) + y }))
	}
	a, b, c := at(1), at(1), at(1.5)
	if a.U != b.U || a.Drawn.Seed != b.Drawn.Seed || a.Drawn.Symmetric != b.Drawn.Symmetric {
		t.Errorf("the same problem gave %+v and %+v", a.Drawn, b.Drawn)
	}
	if a.Drawn.Seed == c.Drawn.Seed {
		t.Error("another value has the same seed")
	}
}

func TestSolveUndefined(t *testing.T) {
	p := problem(t, normals(1), Form{Kinked: true}, func(x []float64) float64 { return math.Sqrt(x[0] - 5) })
	if e := solve(t, p); !e.Undefined() || e.U != 0 {
		t.Errorf("a number that is not there has %+v", e)
	}
	p.Eval = func([]float64) []float64 { return nil }
	if _, ok := Solve(p); ok {
		t.Error("a formula without numbers has some")
	}
}

// What is exact stays so: nothing is drawn.
func TestSolveExact(t *testing.T) {
	e := solve(t, problem(t, []uncert.Source{{ID: "x"}}, Form{Kinked: true}, func(x []float64) float64 { return math.Abs(x[0]) + 2 }))
	if e.Drawn != nil || e.U != 0 || e.Value != 2 {
		t.Errorf("got %+v", e)
	}
}

// A scatter known with one degree of freedom has no standard deviation: u is
// that of an interval instead.
func TestSolveWild(t *testing.T) {
	m, err := uncert.New([]uncert.Instrument{{HasError: true, HasZero: true}},
		[]uncert.Observation{{ID: "x", Value: 1, Takes: []float64{0.5, 1.5}}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	e := solve(t, Problem{Model: m, Forms: []Form{{Kinked: true}},
		Eval: func(x []float64) []float64 { return []float64{math.Max(x[0], 0)} },
		Start: func() montecarlo.Func {
			return func(in, out [][]float64) {
				for i, x := range in[0] {
					out[0][i] = math.Max(x, 0)
				}
			}
		}})
	if !(e.Std > 0.5 && e.Std < 10) {
		t.Errorf("u = %g", e.Std)
	}
}
