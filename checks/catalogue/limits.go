package catalogue

import (
	"fmt"
	"math"

	"waywright/checks/limits"
	"waywright/checks/quantity"
	"waywright/checks/value"
)

// tolerances are the functions that make limits.
func tolerances() []*Func {
	return []*Func{
		generic(Func{
			Name: "scaled", Doc: "a tolerance stated for one length, in proportion for another, rounded to whole steps and never below a floor",
			Params: []Param{
				{Name: "tolerance", Doc: "what is allowed over the length that it is stated for"},
				{Name: "per", Doc: "the length that it is stated for"},
				{Name: "length", Doc: "the length measured over"},
				{Name: "floor", Doc: "the least tolerance"},
				{Name: "round_to", Doc: "the step to round to, half to the even one; nothing does not round"},
			},
			Source:  "ISO 230-1 and ISO 1708, from memory: verify",
			Example: Example{"scaled(um(15), mm(300), mm(250), um(5), um(2))", "0.012 mm", "derived here"},
			Check:   checkScaled,
			Eval: func(a []value.Value) value.Value {
				if a[1].Num <= 0 {
					return absent("the length that the tolerance is stated for must be above nothing")
				}
				if a[2].Num < 0 {
					return absent("the length measured over must not be below nothing")
				}
				return number(limits.Scaled(a[0].Num, a[1].Num, a[2].Num, a[3].Num, a[4].Num))
			},
			Num: func(x []float64) float64 {
				if x[1] <= 0 || x[2] < 0 {
					return math.NaN()
				}
				return limits.Scaled(x[0], x[1], x[2], x[3], x[4])
			},
		}, false),
		generic(Func{
			Name: "plus_minus", Doc: "the zone from minus x to plus x",
			Params: []Param{{Name: "x", Doc: "half the width of the zone"}}, Source: "definition",
			Example: Example{"plus_minus(um(20))", "-0.020 mm to 0.020 mm", "definition"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				if ts[0].Kind != value.Number {
					return value.Type{}, wantedWords(0, ts[0], "a number is wanted, such as um(20)")
				}
				return value.ZoneType(ts[0]), nil
			},
			Eval: func(a []value.Value) value.Value { return value.ZoneOf(-a[0].Num, a[0].Num) },
			Over: overZone(func(x []float64) (lo, hi float64) { return -x[0], x[0] }),
		}, false),
		generic(Func{
			Name: "between", Doc: "the zone from a to b; the wrong way round, nothing lies in it",
			Params: []Param{{Name: "a", Doc: "lower limit"}, {Name: "b", Doc: "upper limit"}}, Source: "definition",
			Example: Example{"between(um(0), um(20))", "0.000 mm to 0.020 mm", "definition"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				t, err := same(ts[0], ts[1], 1)
				if err != nil {
					return t, err
				}
				return value.ZoneType(t), nil
			},
			Eval: func(a []value.Value) value.Value { return value.ZoneOf(a[0].Num, a[1].Num) },
			Over: overZone(func(x []float64) (lo, hi float64) { return x[0], x[1] }),
		}, false),
		generic(Func{
			Name: "none_below", Doc: "the zone from x upward, without an upper limit",
			Params: []Param{{Name: "x", Doc: "lower limit"}}, Source: "definition",
			Example: Example{"none_below(um(-1))", "-0.001 mm to ∞", "definition"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				if !single(ts[0]) {
					return value.Type{}, wantedWords(0, ts[0], "a number is wanted, such as um(-1)")
				}
				return value.ZoneType(ts[0]), nil
			},
			Eval: func(a []value.Value) value.Value { return value.ZoneOf(a[0].Num, math.Inf(1)) },
			Over: overZone(func(x []float64) (lo, hi float64) { return x[0], math.Inf(1) }),
		}, false),
	}
}

func checkScaled(ts []value.Type) (value.Type, *ArgError) {
	if ts[0].Kind != value.Number {
		return value.Type{}, wantedWords(0, ts[0], "a tolerance is wanted, such as um(20)")
	}
	want := []value.Type{
		value.NumberType(ts[0].Dim), value.NumberType(quantity.Length), value.NumberType(quantity.Length),
		value.NumberType(ts[0].Dim), value.NumberType(ts[0].Dim),
	}
	for i, w := range want {
		if ts[i].Kind != value.Number || ts[i].Dim != w.Dim {
			return value.Type{}, wanted(i, ts[i], w)
		}
	}
	return want[0], nil
}

// single tells whether values of a type are one number or temperature.
func single(t value.Type) bool { return t.Kind == value.Number || t.Kind == value.Point }

// same returns the type of two numbers of one dimension, or two temperatures;
// the error is put at argument i, the second of them.
func same(a, b value.Type, i int) (value.Type, *ArgError) {
	if !single(a) {
		return value.Type{}, wantedWords(i-1, a, "a number is wanted")
	}
	if !single(b) || a.Kind != b.Kind || a.Dim != b.Dim {
		return value.Type{}, &ArgError{i, fmt.Sprintf("is %s, the one before it %s: both must be alike", b, a)}
	}
	a.Count = a.Count && b.Count
	return a, nil
}
