package compile_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"pgregory.net/rapid"

	"waywright/checks/value"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
)

// forms are ways to write a value of a sort. In a form, $L is a length, $R a
// ratio, $A an angle, $T a truth, $P a profile, $K lengths by screw, $C a
// count and $X a text.
var forms = map[string][]string{
	"$L": {"given.span", "reading.slack", "um(3)", "reading.takes", "reading.top[$C].full", "result.moves[$C]", "($L + $L)", "($L - $L)",
		"($L * $R)", "($L / $R)", "($T ? $L : $L)", "(-$L)", "abs($L)", "hypot($L, $L)", "greatest([$L, $L])", "mean($P)", "least($K)",
		"first($K)", "($L % $L)", "($A / radian(1) * mm(1))", "reading.front.marked.near.180", "spread(reading.takes)", "at($P, mm(50))",
		`straightness($P, "minimum_zone")`, `straightness($P, "end_points")`, "bow($P)", "last($P)", "rise($K)", "greatest(abs($K))",
		"three_way($L, $L, $L).b", "sum([for n@, r@ in reading.top : r@.full])", "lever($L, $A)", `growth($L, kelvin(2), "steel")`},
	"$R": {"given.slope", "0.5", "($L / mm(300))", "$C", "($R * $R)", "($R + $R)", "tan($A)", "percent(80)", "($T ? $R : $R)", "($A / arcsec(1))"},
	"$A": {"given.lean", "arcsec(5)", "atan($R)", "($A * $R)", "($A - $A)", "($L / mm(80) * radian(1))"},
	"$T": {"($L < $L)", "($R >= $R)", "($C == $C)", "($T && $T)", "($T || $T)", "!($T)", `(reading.mark == "all")`, `($X != "nose")`, "true", "($A > $A)"},
	"$P": {"result.form", "reading.bar", "($P - $P)", "($P * $R)", "{for z@, v@ in $P : z@ => v@ + $L}", "($T ? $P : $P)", "(-$P)",
		"detrended($P)", "from_zone($P)", "changes($P)", "reversed($P)", "abs($P)", "{for z@, v@ in $P : z@ => z@ + $L}", "three_way($P, $P, $P).c",
		"{for z@, v@ in $P : z@ => v@ - first($P)}", "along([mm(0), mm(50), mm(100)], [$L, $L, $L])", "edge_error($P, $P)"},
	"$K": {"result.moves", "{for n@, r@ in reading.top : n@ => r@.full - $L}", "($K + $K)", "changes($K)", "{for n@, v@ in $K : n@ => v@ if v@ > $L}", "($L - $K)",
		"{for n@, v@ in $K : n@ => v@ if n@ > 1}", "reversed($K)", "abs($K)", "hypot($K, $L)", "{for n@, r@ in reading.top : n@ => greatest([for e@, x@ in r@ : x@ - $L])}"},
	"$C": {"2", "each.screw", "given.screws", "result.puller", "where_greatest(result.moves)", "($C + $C)", "($C * $C)", "count($K)"},
	"$X": {"given.end[$C]", `given.place`, `"at ${$L} of ${$K}"`, `($T ? "a" : "nose")`},
}

// draw writes a random value of a sort.
func draw(rt *rapid.T, sort string, depth int) string {
	fs := forms[sort]
	if depth <= 0 {
		fs = slices.DeleteFunc(slices.Clone(fs), func(f string) bool { return strings.Contains(f, "$") })
		if len(fs) == 0 {
			fs = []string{"given.slope > 1"}
		}
	}
	form := strings.ReplaceAll(rapid.SampledFrom(fs).Draw(rt, sort), "@", strconv.Itoa(depth)) // no variable hides another
	for _, s := range slices.Sorted(maps.Keys(forms)) {
		for strings.Contains(form, s) {
			form = strings.Replace(form, s, draw(rt, s, depth-1), 1)
		}
	}
	return form
}

// awkward draws a number that is often hard on a computation.
func awkward(rt *rapid.T, name string) float64 {
	return rapid.OneOf(
		rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1, -1, 1e-320, 1e300, -1e300, math.MaxFloat64, 250, 0.001}),
		rapid.Float64Range(-100, 100),
	).Draw(rt, name)
}

// shaken is measured with awkward numbers, and with some values not there.
func shaken(rt *rapid.T) values {
	env := measured()
	for _, name := range []string{"given.span", "reading.slack", "given.slope", "given.lean", "result.puller"} {
		env[name] = value.Num(awkward(rt, name))
	}
	env["reading.takes"] = value.TakesOf(awkward(rt, "take"), awkward(rt, "take"))
	env["result.form"] = value.ProfileOf([]float64{0, 50, 100}, value.Nums(awkward(rt, "z"), awkward(rt, "z"), 1))
	env["result.moves"] = value.KeyedOf([]string{"3", "1", "2"}, []value.Value{
		value.Num(awkward(rt, "move")), value.AbsentFor("no such screw"), value.Num(awkward(rt, "move"))})
	for _, name := range []string{"given.span", "reading.mark", "result.form", "result.moves"} {
		if rapid.IntRange(0, 5).Draw(rt, "gone "+name) == 0 {
			env[name] = rapid.SampledFrom([]value.Value{value.NotYet(), value.AbsentFor("not asked")}).Draw(rt, "state")
		}
	}
	return env
}

// An expression of good dimensions compiles, and what it gives is a finite
// number or no number. An input that does not count can be anything. A frame
// gives the same.
func TestPropertyPrograms(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		sort := rapid.SampledFrom([]string{"$L", "$R", "$A", "$T", "$P", "$K", "$C", "$X"}).Draw(rt, "sort")
		src := draw(rt, sort, 4)
		e, diags := hclsyntax.ParseExpression([]byte(src), "x", hcl.InitialPos)
		if diags.HasErrors() {
			rt.Fatalf("%s: %v", src, diags)
		}
		p, diags := compile.Expr(e, []byte(src), bench(), compile.Any("the value"))
		if p == nil {
			for _, d := range diags {
				if d.Extra != compile.NoValue && d.Extra != compile.TooDeep {
					rt.Fatalf("%s: %s", src, told(src, diags))
				}
			}
			return
		}
		env := shaken(rt)
		v := p.Eval(env)
		if why := broken(v, p.Type()); why != "" {
			rt.Fatalf("%s gives %s: %+v", src, why, v)
		}
		if framed := p.Frame(env).Eval(); !value.Equal(v, framed) {
			rt.Fatalf("%s = %+v, in a frame %+v", src, v, framed)
		}
		used := p.Used(env)
		without := values{}
		for _, r := range used {
			without[r.String()] = env[r.String()]
		}
		if again := p.Eval(without); !value.Equal(v, again) {
			rt.Fatalf("%s = %+v, but %+v from %v alone", src, v, again, used)
		}
		if words := p.Words(env); strings.Contains(words, "NaN") || strings.Contains(words, "Inf") {
			rt.Fatalf("%s reads %q", src, words)
		}
	})
}

// broken says what is wrong with a value of a type, or "".
func broken(v value.Value, t value.Type) string {
	if v.State != value.Present {
		if v.State == value.Absent && v.Why == "" {
			return "nothing, without a reason"
		}
		return ""
	}
	if v.Kind != t.Kind {
		return fmt.Sprintf("kind %d where %d is promised", v.Kind, t.Kind)
	}
	for _, x := range append(append([]float64{v.Num}, v.Takes...), v.At...) {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return "no number"
		}
	}
	if v.Kind == value.Keyed && len(v.Keys) != len(v.Elems) || v.Kind == value.Profile && len(v.At) != len(v.Elems) {
		return "keys that do not match its elements"
	}
	for _, e := range v.Elems {
		if why := broken(e, *t.Elem); why != "" {
			return why
		}
	}
	return ""
}

var _ formula.Env = values{}
