package compile_test

import (
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
)

// BenchmarkScalar evaluates one formula of plain numbers in three ways: by
// HCL's own evaluator, by a program that asks for its inputs, and by a frame
// with one input changed each time, as a simulation does.
func BenchmarkScalar(b *testing.B) {
	const src = "result.taper / 2 * given.centres / given.span"
	e, diags := hclsyntax.ParseExpression([]byte(src), "x", hcl.InitialPos)
	if diags.HasErrors() {
		b.Fatal(diags)
	}
	plain := compile.Symbol{Type: ratio}
	p, diags := compile.Expr(e, []byte(src), &compile.Scope{Names: map[formula.Space]map[string]compile.Symbol{
		formula.Result: {"taper": plain}, formula.Given: {"centres": plain, "span": plain},
	}}, compile.Number(quantity.Ratio, ""))
	if p == nil {
		b.Fatal(diags)
	}
	env := trio{}
	b.Run("hcl", func(b *testing.B) {
		ctx := &hcl.EvalContext{Variables: map[string]cty.Value{
			"result": cty.ObjectVal(map[string]cty.Value{"taper": cty.NumberFloatVal(0.045)}),
			"given":  cty.ObjectVal(map[string]cty.Value{"centres": cty.NumberFloatVal(300), "span": cty.NumberFloatVal(250)}),
		}}
		b.ReportAllocs()
		for b.Loop() {
			if _, diags := e.Value(ctx); diags.HasErrors() {
				b.Fatal(diags)
			}
		}
	})
	b.Run("program", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if v := p.Eval(env); v.State != value.Present {
				b.Fatal(v)
			}
		}
	})
	b.Run("frame", func(b *testing.B) {
		f := p.Frame(env)
		b.ReportAllocs()
		for b.Loop() {
			f.SetNum(0, 0.045)
			if _, s := f.Num(); s != value.Present {
				b.Fatal(s)
			}
		}
	})
}

// trio is an environment of three numbers.
type trio struct{}

func (trio) Value(r formula.Ref) value.Value {
	switch r.Name {
	case "taper":
		return value.Num(0.045)
	case "centres":
		return value.Num(300)
	}
	return value.Num(250)
}
