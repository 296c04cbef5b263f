package catalogue

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"waywright/checks/quantity"
	"waywright/checks/value"
)

// fast draws a number that functions find easy or hard.
func fast(rt *rapid.T, name string) float64 {
	return rapid.OneOf(rapid.Float64Range(-400, 400), rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1, -1, 1e300, 1e-310})).Draw(rt, name)
}

// alikeNumber tells whether Eval gave v where the way for plain numbers gave x.
func alikeNumber(v value.Value, x float64) bool {
	if v.State != value.Present {
		return math.IsNaN(x) || math.IsInf(x, 0)
	}
	return math.Float64bits(v.Num) == math.Float64bits(x)
}

// The ways for plain numbers give to the last bit what Eval gives, for every
// number of arguments that is allowed.
func TestPropertyPlainNumbers(t *testing.T) {
	some := 0
	for _, f := range All() {
		if f.Num != nil {
			some++
			t.Run(f.Name, func(t *testing.T) { rapid.Check(t, func(rt *rapid.T) { checkNum(rt, f) }) })
		}
		if f.Many != nil {
			some++
			t.Run(f.Name, func(t *testing.T) { rapid.Check(t, func(rt *rapid.T) { checkMany(rt, f) }) })
		}
	}
	if some < 20 {
		t.Errorf("only %d functions have a way for plain numbers", some)
	}
}

func checkNum(rt *rapid.T, f *Func) {
	least := 0
	for _, p := range f.Params {
		if !p.Optional {
			least++
		}
	}
	n := rapid.IntRange(least, len(f.Params)).Draw(rt, "arguments")
	x := make([]float64, n, len(f.Params))
	args := make([]value.Value, n)
	for i := range x {
		x[i] = fast(rt, f.Params[i].Name)
		args[i] = value.Num(x[i])
	}
	want := f.Eval(args)
	if got := f.Num(x); !alikeNumber(want, got) {
		rt.Fatalf("%s of %v: %v, Eval gives %+v", f.Name, args, got, want)
	}
}

func checkMany(rt *rapid.T, f *Func) {
	x := make([]float64, rapid.IntRange(0, 6).Draw(rt, "values"))
	at := make([]float64, len(x))
	for i := range x {
		x[i], at[i] = fast(rt, "value"), float64(i)
	}
	of := map[string]value.Value{
		"takes": value.TakesOf(x...), "list": value.ListOf(value.Nums(x...)...),
		"turn": value.TurnOf(at, value.Nums(x...)), "profile": value.ProfileOf(at, value.Nums(x...)),
	}
	types := map[string]func(value.Type) value.Type{"takes": value.TakesType, "list": value.ListType, "turn": value.TurnType, "profile": value.ProfileType}
	tried := 0
	for kind, v := range of {
		_, length := f.Check([]value.Type{types[kind](value.NumberType(quantity.Length))})
		if _, slope := f.Check([]value.Type{types[kind](value.NumberType(quantity.Ratio))}); length != nil && slope != nil {
			continue
		}
		tried++
		want := f.Eval([]value.Value{v})
		if got := f.Many(x); !alikeNumber(want, got) {
			rt.Fatalf("%s of %s %v: %v, Eval gives %+v", f.Name, kind, x, got, want)
		}
	}
	if tried == 0 {
		rt.Fatalf("%s takes nothing that was tried", f.Name)
	}
}
