package compile_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/montecarlo"
	"waywright/checks/propagate"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
)

// gate is a gate of many inputs, read three times each with one micrometer at
// one setting: a slope through all of them, over a measured length.
type gate struct {
	p     *formula.Program
	names []string
	value map[string]float64
}

func (g gate) Value(r formula.Ref) value.Value { return value.Num(g.value[r.Name]) }

// newGate makes a gate of n inputs, of which the last is the length.
func newGate(tb testing.TB, n int) gate {
	tb.Helper()
	g := gate{value: map[string]float64{"length": 500}}
	names := map[string]compile.Symbol{"length": {Type: ratio}}
	var sum []string
	for i := range n - 1 {
		name := fmt.Sprintf("r%02d", i)
		g.value[name] = 25 + 0.001*float64(i)
		names[name] = compile.Symbol{Type: ratio}
		sum = append(sum, fmt.Sprintf("given.%s * %d", name, 2*i-(n-2)))
	}
	src := "(" + strings.Join(sum, " + ") + ") / given.length"
	e, diags := hclsyntax.ParseExpression([]byte(src), "x", hcl.InitialPos)
	if diags.HasErrors() {
		tb.Fatal(diags)
	}
	g.p, diags = compile.Expr(e, []byte(src), &compile.Scope{Names: map[formula.Space]map[string]compile.Symbol{formula.Given: names}},
		compile.Number(quantity.Ratio, ""))
	if g.p == nil {
		tb.Fatal(diags)
	}
	for _, r := range g.p.Refs() {
		g.names = append(g.names, r.Name)
	}
	return g
}

// solve works the uncertainty out from nothing: the model of the readings, the
// sensitivities through the compiled program, the budget.
func (g gate) solve(tb testing.TB, bends bool) propagate.Estimate {
	micrometer := uncert.Instrument{Name: "micrometer", Kind: "outside micrometer", Resolution: 0.001, Error: 0.004, HasError: true, HasZero: true,
		Repeatability: 0.001}
	var o []uncert.Observation
	for _, n := range g.names {
		v := g.value[n]
		o = append(o, uncert.Observation{ID: n, Value: v, Takes: []float64{v - 0.001, v, v + 0.001}, Setting: "one"})
	}
	m, err := uncert.New([]uncert.Instrument{micrometer}, o, nil)
	if err != nil {
		tb.Fatal(err)
	}
	f := g.p.Frame(g)
	p := propagate.Problem{Model: m, Eval: func(shift []float64) []float64 {
		for i, n := range g.names {
			f.SetNum(i, g.value[n]+shift[i])
		}
		y, s := f.Num()
		if s != value.Present {
			y = math.NaN()
		}
		return []float64{y}
	}}
	if bends {
		p.Start = func() montecarlo.Func {
			slots := make([]formula.Slot, len(g.names))
			for i := range slots {
				slots[i].Ref = i
			}
			b, err := g.p.Batch(g, slots)
			if err != nil {
				tb.Fatal(err)
			}
			return func(in, out [][]float64) {
				for i, n := range g.names {
					for k := range in[i] {
						in[i][k] += g.value[n]
					}
				}
				b.Run(in, out[0])
			}
		}
	}
	e, ok := propagate.Solve(p)
	if !ok || len(e) != 1 {
		tb.Fatalf("%d numbers, %v", len(e), ok)
	}
	return e[0]
}

// The scatter of the benchmark's gate by hand: √(Σc²)·s/√3 over the length,
// with s pooled from the takes and what is stated, both 1 µm. What the readings
// share, the length apart, cancels.
func TestGateOfFortyInputs(t *testing.T) {
	const n = 40
	e := newGate(t, n).solve(t, true)
	var squares float64
	for i := range n - 1 {
		squares += float64((2*i - (n - 2)) * (2*i - (n - 2)))
	}
	for _, l := range e.Budget {
		if l.Kind == uncert.Takes {
			if got, want := math.Sqrt(l.Share)*e.Std, 0.001/math.Sqrt(3)*math.Sqrt(squares)/500; math.Abs(got/want-1) > 1e-4 {
				t.Errorf("from scatter %.4g, want %.4g", got, want)
			}
			if l.DoF != 8+2*n {
				t.Errorf("ν = %g, want 8 stated and two for each of %d readings", l.DoF, n)
			}
			return
		}
	}
	t.Errorf("the budget has no scatter: %+v", e.Budget)
}

// BenchmarkGate works out the uncertainty of a gate of 40 inputs; testdata/
// benchmarks holds it against a millisecond. The second also looks whether the
// formula bends within the doubt of its inputs.
func BenchmarkGate(b *testing.B) {
	g := newGate(b, 40)
	for name, bends := range map[string]bool{"slopes": false, "slopes+bends": true} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if e := g.solve(b, bends); !(e.Std > 0) || e.Drawn != nil {
					b.Fatalf("%+v", e)
				}
			}
		})
	}
}
