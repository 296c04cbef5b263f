package compile_test

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
	"pgregory.net/rapid"

	"waywright/checks/catalogue"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
)

// TestCatalogueExamples evaluates the worked example of every function, each
// of which names where its answer is from.
func TestCatalogueExamples(t *testing.T) {
	if len(catalogue.All()) < 60 {
		t.Fatalf("the catalogue has only %d functions", len(catalogue.All()))
	}
	for _, f := range catalogue.All() {
		ex := f.Example
		p := must(t, ex.Expr, &compile.Scope{}, compile.Any(f.Name))
		v, ok := p.Static()
		if !ok || v.State != value.Present {
			t.Errorf("%s: %v %v %s", ex.Expr, ok, v.State, v.Why)
			continue
		}
		if v.Kind == value.Truth {
			if v.Truth != (ex.Want == "yes") {
				t.Errorf("%s = %v, want %s (%s)", ex.Expr, v.Truth, ex.Want, ex.Source)
			}
			continue
		}
		have := []float64{v.Num}
		if v.Kind == value.Zone {
			have = []float64{v.Lo, v.Hi}
		}
		for i, limit := range strings.Split(ex.Want, " to ") {
			want, tol := published(t, limit)
			if got := have[i]; got != want && math.Abs(got-want) > tol*(1+1e-9) {
				t.Errorf("%s = %v, want %s (%s)", ex.Expr, got, ex.Want, ex.Source)
			}
		}
	}
}

// published reads a number with its unit, in base units, and half of its last
// place.
func published(t *testing.T, s string) (x, tol float64) {
	t.Helper()
	if s == "∞" {
		return math.Inf(1), 0
	}
	figures, name, _ := strings.Cut(s, " ")
	u := *unit("1")
	if name != "" {
		u = *unit(name)
	}
	x, err := strconv.ParseFloat(figures, 64)
	if err != nil {
		t.Fatalf("published value %q: %v", s, err)
	}
	_, decimals, _ := strings.Cut(figures, ".")
	return u.Base(x), 0.5 * math.Pow(10, -float64(len(decimals))) * u.Factor
}

// plain are four ratios for the comparison with HCL's evaluator.
var plain = &compile.Scope{Names: map[formula.Space]map[string]compile.Symbol{formula.Given: {
	"a": {Type: ratio}, "b": {Type: ratio}, "c": {Type: ratio}, "yes": {Type: value.TruthType()},
}}}

// numberExpr draws an expression that both evaluators compute exactly:
// quarters of small numbers, whose products of eight stay below 2⁵³, and
// divisions by powers of two.
func numberExpr(rt *rapid.T, depth int) string {
	if depth == 0 {
		if rapid.Bool().Draw(rt, "name") {
			return rapid.SampledFrom([]string{"given.a", "given.b", "given.c"}).Draw(rt, "which")
		}
		return strconv.FormatFloat(float64(rapid.IntRange(0, 32).Draw(rt, "quarters"))/4, 'g', -1, 64)
	}
	a, b := numberExpr(rt, depth-1), numberExpr(rt, depth-1)
	switch rapid.IntRange(0, 6).Draw(rt, "form") {
	case 0:
		return fmt.Sprintf("(%s + %s)", a, b)
	case 1:
		return fmt.Sprintf("(%s - %s)", a, b)
	case 2:
		return fmt.Sprintf("%s * %s", a, b)
	case 3:
		return fmt.Sprintf("(%s) / %d", a, 1<<rapid.IntRange(0, 3).Draw(rt, "power"))
	case 4:
		// Of x % 0 HCL says 0; here it is not defined, see TestRule11StatesSpread.
		return fmt.Sprintf("(%s) %% %s", a, strconv.FormatFloat(float64(rapid.IntRange(1, 32).Draw(rt, "divisor"))/4, 'g', -1, 64))
	case 5:
		return "-" + a
	}
	return fmt.Sprintf("(%s ? %s : %s)", truthExpr(rt, depth-1), a, b)
}

func truthExpr(rt *rapid.T, depth int) string {
	if depth <= 0 {
		return rapid.SampledFrom([]string{"true", "false", "given.yes", "given.a < given.b"}).Draw(rt, "truth")
	}
	switch rapid.IntRange(0, 3).Draw(rt, "join") {
	case 0:
		return fmt.Sprintf("(%s && %s)", truthExpr(rt, depth-1), truthExpr(rt, depth-1))
	case 1:
		return fmt.Sprintf("(%s || %s)", truthExpr(rt, depth-1), truthExpr(rt, depth-1))
	case 2:
		return "!(" + truthExpr(rt, depth-1) + ")"
	}
	op := rapid.SampledFrom([]string{"==", "!=", "<", "<=", ">", ">="}).Draw(rt, "op")
	return fmt.Sprintf("(%s %s %s)", numberExpr(rt, depth-1), op, numberExpr(rt, depth-1))
}

// On plain numbers a program gives what HCL's own evaluator gives, and a frame
// gives what the program gives. Where HCL finds an error, as in a division by
// nothing, there is no value.
func TestPropertySameAsHCL(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		quarters := func(name string) float64 { return float64(rapid.IntRange(-16, 16).Draw(rt, name)) / 4 }
		a, b, c := quarters("a"), quarters("b"), quarters("c")
		yes := rapid.Bool().Draw(rt, "yes")
		src := numberExpr(rt, 3)
		e, diags := hclsyntax.ParseExpression([]byte(src), "x", hcl.InitialPos)
		if diags.HasErrors() {
			rt.Fatal(diags)
		}
		p, diags := compile.Expr(e, []byte(src), plain, compile.Number(quantity.Ratio, ""))
		if p == nil {
			if len(diags) == 1 && diags[0].Extra == compile.NoValue {
				return // such as 3 % 0, which is seen before the run
			}
			rt.Fatalf("%s: %s", src, told(src, diags))
		}
		env := values{"given.a": value.Num(a), "given.b": value.Num(b), "given.c": value.Num(c), "given.yes": value.Bool(yes)}
		got := p.Eval(env)
		want, wrong := e.Value(&hcl.EvalContext{Variables: map[string]cty.Value{"given": cty.ObjectVal(map[string]cty.Value{
			"a": cty.NumberFloatVal(a), "b": cty.NumberFloatVal(b), "c": cty.NumberFloatVal(c), "yes": cty.BoolVal(yes),
		})}})
		if wrong.HasErrors() || !want.IsKnown() || want.AsBigFloat().IsInf() {
			if got.State != value.Absent {
				rt.Fatalf("%s = %v (%v), but HCL says %v, %v", src, got.Num, got.State, want, wrong)
			}
			return
		}
		if got.State != value.Present || want.AsBigFloat().Cmp(big.NewFloat(got.Num)) != 0 {
			rt.Fatalf("%s = %v (%v %s), but HCL says %v", src, got.Num, got.State, got.Why, want.AsBigFloat())
		}
		if x, s := p.Frame(env).Num(); s != value.Present || x != got.Num {
			rt.Fatalf("%s = %v, but in a frame %v %v", src, got.Num, x, s)
		}
	})
}

// FuzzExpr asks of any text: compiling does not panic; every diagnostic has a
// code and a place; and where there is a program and its inputs are finite, no
// number that it gives is not.
func FuzzExpr(f *testing.F) {
	for _, s := range []string{
		`result.taper / 2 * given.span / given.pads`,
		`{ for n, r in reading.top : n => r.full - reading.slack }`,
		`greatest([abs(reading.warm - reading.cold) / kelvin(1), spread(reading.takes) / mm(1)])`,
		`reading.mark == "all" ? arcsec(0) : given.lean * (reading.mark == "large" ? 1 : -1)`,
		`"Work at the ${given.end[result.puller]} end: ${given.span / 8}%{ for k, v in result.moves } ${v}%{ endfor }"`,
		`reading.front.marked.near.180 - last(reading.top).full`,
		`between(-scaled(table.lathe.level, mm(300), given.span, um(5), um(2)), um(0))`,
		`[for z, v in result.form : z * v if v > um(0)][*]`,
		`1e308 * 10 % 0 / 0 - given.slope`,
		`{1 = um(0), 2 = um(6)}[each.screw]`,
		`reading.diameter.far-reading.diameter.near`,
		`hypot(1e300, 1e300) + stdev([1, 1e308, -1e308])`,
		`machine.a.b[1] + accepted["p"].result.x`,
		"<<EOT\n${given.span}\nEOT\n",
		`true ? [1] : {}`,
		`mm(1e300) * mm(1e300) / mm(1e-300)`,
		`at(reading.bar, mm(1e308) * 10)`,
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, src string) {
		if len(src) > 2000 {
			return // the depth of the parser is held by who reads the file
		}
		e, diags := hclsyntax.ParseExpression([]byte(src), "x", hcl.InitialPos)
		if e == nil || diags.HasErrors() {
			return
		}
		sc := bench()
		sc.Machine, sc.Accepted = true, true
		p, diags := compile.Expr(e, []byte(src), sc, compile.Any("the value"))
		if p == nil && len(diags) == 0 && !strings.Contains(src, "broken") {
			t.Fatalf("%q: neither a program nor a word why", src)
		}
		for _, d := range diags {
			if code, ok := d.Extra.(compile.Code); !ok || code.Summary() != d.Summary || d.Subject == nil || d.Detail == "" {
				t.Errorf("%q: diagnostic %v", src, d)
			}
		}
		if p == nil {
			return
		}
		for _, env := range []values{measured(), {}} {
			v := p.Eval(env)
			finite(t, src, v)
			finite(t, src, p.Frame(env).Eval())
			p.Words(env)
			if used := p.Used(env); len(used) > len(p.Refs()) {
				t.Errorf("%q used %v of %v", src, used, p.Refs())
			}
		}
	})
}

// finite fails where a present number is none.
func finite(t *testing.T, src string, v value.Value) {
	t.Helper()
	if v.State != value.Present {
		return
	}
	xs := append(append([]float64{v.Num}, v.Takes...), v.Z...)
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%q gives the number %v", src, x)
		}
	}
	for _, e := range v.Elems {
		finite(t, src, e)
	}
}
