package catalogue

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"waywright/checks/quantity"
	"waywright/checks/value"
)

// typesOf draws types until the function takes them, changing the one that it
// refuses.
func typesOf(t *rapid.T, f *Func) []value.Type {
	n := len(f.Params)
	for n > 0 && f.Params[n-1].Optional && rapid.Bool().Draw(t, "leave out") {
		n--
	}
	pool := poolOf(f)
	ts := make([]value.Type, n)
	for i := range ts {
		ts[i] = rapid.SampledFrom(pool).Draw(t, "type")
	}
	for range 400 {
		_, err := f.Check(ts)
		if err == nil {
			return ts
		}
		i := max(err.Arg, 0)
		if rapid.IntRange(0, 9).Draw(t, "another") == 0 {
			i = rapid.IntRange(0, n-1).Draw(t, "which") // the fault may lie in the one before
		}
		ts[i] = rapid.SampledFrom(pool).Draw(t, "type")
	}
	t.SkipNow() // this draw is thrown away, not the test; too many of them fail it
	return nil
}

// poolOf are types that occur in procedures, with those words that the
// function may know.
func poolOf(f *Func) []value.Type {
	scalars := []value.Type{
		value.NumberType(quantity.Length), value.NumberType(quantity.Length), value.NumberType(quantity.Angle), value.NumberType(quantity.Ratio),
		value.NumberType(quantity.TempDiff), value.NumberType(quantity.Force), value.PointType(), value.CountType(),
	}
	words := []value.Type{value.TextType("nose", "rear"), value.TextType("bore"), value.TextType("steel"), value.TextType("least_squares"), value.TextType("minimum_zone")}
	if f.Name == "roundness" {
		words = append(words, value.TextType("circumscribed"), value.TextType("inscribed"))
	}
	pool := append(append([]value.Type(nil), scalars...), words...)
	for _, s := range scalars {
		pool = append(pool, value.TakesType(s), value.ProfileType(s), value.ListType(s), value.TurnType(s),
			value.KeyedType(value.Key{Name: "screw", Count: true}, s), value.KeyedType(value.Key{Name: "line"}, value.ProfileType(s)))
	}
	length := value.NumberType(quantity.Length)
	named := func(elem value.Type) value.Type { return value.KeyedType(value.Key{Name: "name"}, elem) }
	switch f.Name {
	case "pads":
		pool = append(pool[:2:2], value.NumberType(quantity.Ratio), named(value.ListType(length)), value.TextType("remove", "shim"), value.TextType("shim"))
	case "cooling_time":
		pool = append(scalars, value.NumberType(filmDim))
	case "repeatability":
		pool = append(pool, named(named(value.ListType(length))), named(named(named(length))))
	case "standard_taper":
		pool = append(scalars, value.TextType("morse"), value.TextType("jarno", "steep"))
	case "standard_limit":
		pool = append(scalars, value.TextType("din_875"), value.TextType("iso_1708"), value.TextType("squareness"), value.TextType("bed_straightness"), value.TextType("0"), value.TextType("normal"))
	}
	return append(pool, value.NetType(quantity.Length), value.ProfileType(value.TakesType(scalars[0])))
}

// numbers draws what a person may type, what a formula may give, and worse.
var numbers = rapid.OneOf(
	rapid.Float64Range(-500, 500), rapid.Float64Range(-0.1, 0.1), rapid.SampledFrom([]float64{
		0, 1, -1, 2, 3, 5, 1e-320, -1e-320, 1e-9, 1e9, 1e200, -1e200, math.MaxFloat64, -math.MaxFloat64, math.Pi, 2 * math.Pi, math.Pi / 2,
	}))

// leastCount is the least whole number that is drawn.
var leastCount = -1

func valueOf(t *rapid.T, ty value.Type, name string) value.Value {
	number := func() float64 { return numbers.Draw(t, name) }
	several := func() []float64 {
		x := make([]float64, rapid.IntRange(0, 6).Draw(t, "several"))
		for i := range x {
			x[i] = number()
		}
		return x
	}
	switch ty.Kind {
	case value.Number:
		if ty.Count {
			return value.Num(float64(rapid.IntRange(leastCount, 12).Draw(t, name)))
		}
		return value.Num(number())
	case value.Point:
		return value.Celsius(number())
	case value.Text:
		return value.Str(rapid.SampledFrom(ty.Words).Draw(t, name))
	case value.Takes:
		return value.TakesOf(several()...)
	case value.Net:
		x := several()
		y, z := make([]float64, len(x)), make([]float64, len(x))
		for i := range x {
			y[i], z[i] = number(), number()
		}
		return value.NetOf(x, y, z)
	}
	at := several()
	elems := make([]value.Value, len(at))
	keys := make([]string, len(at))
	for i := range elems {
		elems[i], keys[i] = valueOf(t, *ty.Elem, name), fmt.Sprint(i+1)
	}
	switch ty.Kind {
	case value.Profile:
		return value.ProfileOf(at, elems)
	case value.Turn:
		return value.TurnOf(at, elems)
	case value.Keyed:
		return value.KeyedOf(keys, elems)
	}
	return value.ListOf(elems...)
}

// fault says what is wrong with a value of a type: a number that is none, a
// reason that is missing, or another kind.
func fault(ty value.Type, v value.Value) string {
	if v.State != value.Present {
		if v.Why == "" {
			return "absent without a reason"
		}
		return ""
	}
	if ty.Kind != v.Kind && !(ty.Kind == value.Text && v.Text != "") && ty.Kind != value.Point {
		return fmt.Sprintf("is of kind %d, its type says %s", v.Kind, ty)
	}
	for _, x := range append(append(append([]float64{v.Num}, v.Takes...), v.At...), v.Z...) {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Sprintf("holds %v", x)
		}
	}
	if math.IsNaN(v.Lo) || math.IsNaN(v.Hi) {
		return "has a limit that is no number"
	}
	for i, e := range v.Elems {
		if ty.Kind == value.Object {
			if f := fault(ty.Parts[i], e); f != "" {
				return f
			}
			continue
		}
		if ty.Elem == nil {
			return fmt.Sprintf("has elements, its type is %s", ty)
		}
		if f := fault(*ty.Elem, e); f != "" {
			return f
		}
	}
	return ""
}

// TestNoNumberIsNotANumber calls every function with whatever it takes: it
// never panics, and what it gives is of its type, finite, or absent with a
// reason.
func TestNoNumberIsNotANumber(t *testing.T) {
	for _, f := range All() {
		t.Run(f.Name, func(t *testing.T) {
			called := 0
			rapid.Check(t, func(t *rapid.T) {
				ts := typesOf(t, f)
				gives, err := f.Check(ts)
				if err != nil {
					t.Fatal(err)
				}
				args := make([]value.Value, len(ts))
				for i := range ts {
					args[i] = valueOf(t, ts[i], f.Params[i].Name)
				}
				if wrong := fault(gives, f.Eval(args)); wrong != "" {
					t.Fatalf("%s of %v %+v: %s", f.Name, ts, args, wrong)
				}
				called++
			})
			if called < 50 {
				t.Errorf("called %d times only", called)
			}
		})
	}
}
