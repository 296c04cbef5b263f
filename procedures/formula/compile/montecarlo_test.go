package compile_test

import (
	"math"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"waywright/checks/montecarlo"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
)

// movement is a formula of five inputs: how far to move a tailstock after two
// collars, from the length between centres, that between the collars, and
// what the last correction left over.
const movement = "(given.far - given.near) / 2 * given.centres / given.span - given.left"

// collars is the environment of movement, with what each number is known to.
var collars = map[string]struct{ value, u float64 }{
	"far": {30.045, 0.001}, "near": {30.012, 0.001}, "centres": {300, 0.5}, "span": {250, 0.3}, "left": {0.002, 0.0005},
}

type collarEnv struct{}

func (collarEnv) Value(r formula.Ref) value.Value { return value.Num(collars[r.Name].value) }

func parsed(tb testing.TB, src string) (hclsyntax.Expression, *formula.Program) {
	tb.Helper()
	e, diags := hclsyntax.ParseExpression([]byte(src), "x", hcl.InitialPos)
	if diags.HasErrors() {
		tb.Fatal(diags)
	}
	names := map[string]compile.Symbol{}
	for n := range collars {
		names[n] = compile.Symbol{Type: ratio}
	}
	p, diags := compile.Expr(e, []byte(src), &compile.Scope{Names: map[formula.Space]map[string]compile.Symbol{formula.Given: names}},
		compile.Number(quantity.Ratio, ""))
	if p == nil {
		tb.Fatal(diags)
	}
	return e, p
}

// trials is a program as a problem: every number it uses is normal.
func trials(tb testing.TB, p *formula.Program, u func(name string) float64) montecarlo.Problem {
	var problem montecarlo.Problem
	var slots []formula.Slot
	for i, r := range p.Refs() {
		slots = append(slots, formula.Slot{Ref: i})
		problem.Sources = append(problem.Sources, montecarlo.Normal(0, u(r.Name)))
		problem.Inputs = append(problem.Inputs, montecarlo.Input{
			Value: collars[r.Name].value, Terms: []montecarlo.Term{{Source: i, Coefficient: 1}},
		})
	}
	problem.Start = func() montecarlo.Func {
		b, err := p.Batch(collarEnv{}, slots)
		if err != nil {
			tb.Fatal(err)
		}
		return func(in, out [][]float64) { b.Run(in, out[0]) }
	}
	return problem
}

// A compiled program is tried as it stands: what comes out is what the rules
// of propagation give for a formula that is nearly linear, and trials in which
// it is not defined are counted.
func TestMeasureRule10Program(t *testing.T) {
	_, p := parsed(t, movement)
	s, err := montecarlo.Run(trials(t, p, func(n string) float64 { return collars[n].u }), montecarlo.Options{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	// (far − near)/2·centres/span − left = 0.0178; sensitivities by hand.
	k := 300.0 / 250 / 2
	want := math.Sqrt(2*sq(k*0.001) + sq(0.0198/300*0.5) + sq(0.0198/250*0.3) + sq(0.0005))
	if math.Abs(s[0].Mean-0.0178) > 1e-5 || math.Abs(s[0].Std/want-1) > 0.01 || s[0].Undefined != 0 {
		t.Errorf("%.6f with u %.6f, %d undefined; want 0.0178 with %.6f", s[0].Mean, s[0].Std, s[0].Undefined, want)
	}
	_, p = parsed(t, "given.near > 30.012 ? given.far / 0 : given.far")
	s, err = montecarlo.Run(trials(t, p, func(n string) float64 { return collars[n].u }), montecarlo.Options{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if gone := float64(s[0].Undefined) / float64(s[0].Trials); math.Abs(gone-0.5) > 0.01 || math.Abs(s[0].Mean-30.045) > 1e-4 {
		t.Errorf("share without a result %.3f, mean %.5f; want 0.5 and 30.045", gone, s[0].Mean)
	}
}

func sq(x float64) float64 { return x * x }

// BenchmarkMillion tries a compiled formula of five inputs a million times and
// takes its 95 % interval, on as many processors as -cpu says.
// testdata/benchmarks holds it against numpy.
func BenchmarkMillion(b *testing.B) {
	_, p := parsed(b, movement)
	problem := trials(b, p, func(n string) float64 { return collars[n].u })
	for b.Loop() {
		s, err := montecarlo.Run(problem, montecarlo.Options{Trials: 1e6, Seed: 1})
		if err != nil {
			b.Fatal(err)
		}
		if iv := s[0].Symmetric(0.95); !(iv.Low < 0.0178 && 0.0178 < iv.High) {
			b.Fatal(iv)
		}
	}
}

// BenchmarkFive evaluates that formula by HCL's own evaluator, by a frame with
// every input changed, and by a batch of a thousand trials; the time is that
// of one trial.
func BenchmarkFive(b *testing.B) {
	e, p := parsed(b, movement)
	b.Run("hcl", func(b *testing.B) {
		vals := map[string]cty.Value{}
		for n, c := range collars {
			vals[n] = cty.NumberFloatVal(c.value)
		}
		ctx := &hcl.EvalContext{Variables: map[string]cty.Value{"given": cty.ObjectVal(vals)}}
		for b.Loop() {
			if _, diags := e.Value(ctx); diags.HasErrors() {
				b.Fatal(diags)
			}
		}
	})
	b.Run("frame", func(b *testing.B) {
		f := p.Frame(collarEnv{})
		var x []float64
		for _, r := range p.Refs() {
			x = append(x, collars[r.Name].value)
		}
		for b.Loop() {
			for i := range x {
				f.SetNum(i, x[i])
			}
			if _, s := f.Num(); s != value.Present {
				b.Fatal(s)
			}
		}
	})
	b.Run("batch", func(b *testing.B) {
		slots := make([]formula.Slot, len(p.Refs()))
		cols := make([][]float64, len(slots))
		for i, r := range p.Refs() {
			slots[i].Ref = i
			for k := range 1000 {
				cols[i] = append(cols[i], collars[r.Name].value*(1+float64(k)*1e-6))
			}
		}
		batch, err := p.Batch(collarEnv{}, slots)
		if err != nil {
			b.Fatal(err)
		}
		out := make([]float64, 1000)
		for i := 0; i < b.N; i += 1000 {
			batch.Run(cols, out)
		}
	})
}
