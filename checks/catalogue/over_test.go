package catalogue

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"waywright/checks/plate"
	"waywright/checks/value"
)

// flat lists the numbers of a value, NaN for those that are not there.
func flat(v value.Value) (out []float64) {
	if v.State != value.Present {
		return []float64{math.NaN()}
	}
	switch v.Kind {
	case value.Number, value.Point:
		return []float64{v.Num}
	case value.Takes:
		return v.Takes
	case value.Net:
		return v.Z
	case value.Zone:
		return []float64{v.Lo, v.Hi}
	}
	for _, e := range v.Elems {
		out = append(out, flat(e)...)
	}
	return out
}

// sameForm tells whether two values are alike but for their numbers, and for
// elements that are not there.
func sameForm(a, b value.Value) bool {
	if a.State != value.Present || b.State != value.Present {
		return true
	}
	return a.Kind == b.Kind && a.Text == b.Text && slices.Equal(a.Keys, b.Keys) && slices.Equal(a.At, b.At) &&
		slices.Equal(a.X, b.X) && slices.Equal(a.Y, b.Y) && slices.EqualFunc(a.Elems, b.Elems, sameForm)
}

func sameNumbers(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool {
		return math.Float64bits(x) == math.Float64bits(y) || x != x && y != y
	})
}

// What is prepared for many calls gives to the last bit what Eval gives, for
// whatever the function takes.
func TestPropertyOver(t *testing.T) {
	some := 0
	for _, f := range All() {
		if f.Over == nil && f.Moves == nil {
			continue
		}
		some++
		t.Run(f.Name, func(t *testing.T) {
			tried := 0
			rapid.Check(t, func(rt *rapid.T) {
				if overAgrees(rt, f) {
					tried++
				}
			})
			if tried < 20 {
				t.Errorf("only %d calls could be prepared", tried)
			}
		})
	}
	if some < 60 {
		t.Errorf("only %d functions can be prepared", some)
	}
}

// overAgrees compares several calls of a function that are alike but for their
// numbers; it tells whether any could be prepared.
func overAgrees(rt *rapid.T, f *Func) bool {
	ts := typesOf(rt, f)
	args, like := make([]value.Value, len(ts)), make([]value.Value, len(ts))
	moved := func(i int) bool { return slices.Contains(f.Moves, i) }
	usual, first := usualOf(rt, f.Name), rapid.Bool().Draw(rt, "only the first changes")
	for i := range ts {
		args[i] = valueOf(rt, ts[i], f.Params[i].Name)
		if i < len(usual) {
			args[i] = usual[i]
		}
		if !f.Params[i].Takes {
			args[i] = args[i].Mean()
		}
		if s, _ := args[i].Worst(); s != value.Present {
			return false
		}
		changes := rapid.IntRange(0, 3).Draw(rt, "changes") > 0 && (i == 0 || !first) || moved(i)
		like[i] = Place(args[i], func(x float64) float64 {
			if changes && (f.Moves == nil || moved(i)) {
				return math.NaN()
			}
			return x
		})
	}
	if f.Moves != nil {
		return movesAgree(rt, f, args)
	}
	gives, k := f.Over(like)
	if k == nil {
		return false
	}
	for range 3 {
		want := f.Eval(args)
		var x []float64
		for _, a := range args {
			x = append(x, flat(a)...)
		}
		out := make([]float64, Numbers(gives))
		there := k(x, out)
		whole := want.State == value.Present
		if there != whole {
			rt.Fatalf("%s of %+v: there is %t, Eval gives %+v", f.Name, args, there, want)
		}
		if whole && (!sameForm(gives, want) || !sameNumbers(out, flat(want))) || !whole && slices.ContainsFunc(out, func(y float64) bool { return y == y }) {
			rt.Fatalf("%s of %+v gives %v in %+v, Eval %+v", f.Name, args, out, gives, want)
		}
		for i := range args {
			n := 0
			still := flat(like[i])
			args[i] = Place(args[i], func(x float64) float64 {
				if n++; still[n-1] != still[n-1] {
					return numbers.Draw(rt, "next")
				}
				return x
			})
		}
	}
	return true
}

// usualOf draws arguments of functions that random ones seldom fit.
func usualOf(rt *rapid.T, name string) []value.Value {
	at := rapid.SampledFrom([][]float64{{0, 100, 200, 300}, {300, 0, 200, 100}}).Draw(rt, "stations")
	row := func() []value.Value {
		x := make([]float64, len(at))
		for i := range x {
			x[i] = rapid.Float64Range(-0.1, 0.1).Draw(rt, "value")
		}
		return value.Nums(x...)
	}
	angles := []float64{0, math.Pi / 2, math.Pi, 1.5 * math.Pi}
	switch name {
	case "along":
		return []value.Value{value.ListOf(value.Nums(at...)...), value.ListOf(row()...)}
	case "around":
		return []value.Value{value.ListOf(value.Nums(angles...)...), value.ListOf(row()...)}
	case "edge_error", "slide_error":
		return []value.Value{value.ProfileOf(at, row()), value.ProfileOf([]float64{100, 0, 200, 300}, row())}
	case "level_profile":
		return []value.Value{value.ProfileOf(at, row()), value.Num(100)}
	case "roundness":
		return []value.Value{value.TurnOf(angles, row())}
	case "plate", "plate_closure":
		var keys []string
		var lines []value.Value
		for i := range plate.Lines {
			line := plate.Lines[(i+3)%8]
			keys = append(keys, line)
			step := map[bool]float64{true: math.Sqrt2, false: 1}[line == "nw_se" || line == "ne_sw"]
			lines = append(lines, value.ProfileOf(each(at, func(x float64) float64 { return x * step }), row()))
		}
		return []value.Value{value.KeyedOf(keys, lines), value.Num(400), value.Num(400)}
	}
	return nil
}

// movesAgree compares what a function makes of places in the place of numbers.
func movesAgree(rt *rapid.T, f *Func, args []value.Value) bool {
	var x []float64
	like := slices.Clone(args)
	for _, i := range f.Moves {
		like[i] = Place(args[i], func(y float64) float64 {
			x = append(x, y)
			return float64(len(x) - 1)
		})
	}
	from, want := f.Eval(like), f.Eval(args)
	if from.State != want.State {
		rt.Fatalf("%s of %+v gives %+v, of places %+v", f.Name, args, want, from)
	}
	if from.State != value.Present {
		return false
	}
	got := Place(from, func(i float64) float64 { return x[int(i)] })
	if !sameForm(got, want) || !sameNumbers(flat(got), flat(want)) {
		rt.Fatalf("%s of %+v gives %+v, by places %+v", f.Name, args, want, got)
	}
	return true
}
