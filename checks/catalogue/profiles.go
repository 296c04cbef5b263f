package catalogue

import (
	"errors"
	"math"
	"slices"

	"waywright/checks/fit"
	"waywright/checks/form"
	"waywright/checks/quantity"
	"waywright/checks/value"
)

// undefined is the value of a computation that returned an error.
func undefined(err error) value.Value {
	if u := (*fit.Undefined)(nil); errors.As(err, &u) {
		return value.AbsentFor(u.Why)
	}
	return value.AbsentFor(err.Error())
}

// result is number, for a computation that may have no answer.
func result(x float64, err error) value.Value {
	if err != nil {
		return undefined(err)
	}
	return number(x)
}

// profiles are the functions over values along a line.
func profiles() []*Func {
	p := Param{Name: "p", Doc: "a profile"}
	return []*Func{
		places("along", "a profile: values at stations", "mm", value.NumberType(quantity.Length), value.ProfileType, value.ProfileOf,
			Example{"rise(along([mm(0), mm(50), mm(100)], [um(1), um(4), um(3)]))", "0.002 mm", "definition"}),
		generic(Func{
			Name: "slope", Doc: "slope of the least-squares line of a profile", Params: []Param{p},
			Signs: "plus is rising towards greater stations", Source: "linear least squares",
			Example: Example{"slope(along([mm(0), mm(100), mm(200)], [um(0), um(3), um(4)])) * m(1)", "0.020 mm", "derived here"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				e, err := profileOf(0, ts[0])
				return value.NumberType(asDiff(e).Dim.Div(quantity.Length)), err
			},
			Eval: func(a []value.Value) value.Value {
				l, err := form.FitLine(inOrder(a[0]))
				return result(l.Slope, err)
			},
			Over: overLine(func(l form.Line, _ []float64) float64 { return l.Slope }, false),
		}, false),
		generic(Func{
			Name: "fit_at", Doc: "value of the least-squares line of a profile at a station",
			Params: []Param{p, {Name: "z", Doc: "a station, beyond the ends too"}},
			Signs:  "plus as the values are", Source: "linear least squares",
			Example: Example{"fit_at(along([mm(0), mm(100), mm(200)], [um(0), um(3), um(3)]), mm(200))", "0.0035 mm", "derived here"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				e, err := profileOf(0, ts[0])
				if err == nil {
					err = length("z", "").check(1, ts[1])
				}
				return asMean(e), err
			},
			Eval: func(a []value.Value) value.Value {
				l, err := form.FitLine(inOrder(a[0]))
				if err != nil {
					return undefined(err)
				}
				return like(kindOf(a[0]), l.At(a[1].Num))
			},
			Over: overLine(func(l form.Line, x []float64) float64 { return l.At(x[0]) }, true),
		}, false),
		ofProfile(Func{
			Name: "bow", Doc: "how far a profile stands above the line through its ends, in the middle of its length",
			Signs: "plus is crowned; that alone does not prove that nothing is hollow", Source: "end-point line; common practice",
			Example: Example{"bow(along([mm(0), mm(200), mm(400), mm(600), mm(800), mm(1000)], [um(0), um(4), um(6), um(6), um(2), um(-4)]))", "0.008 mm", "derived here"},
			Over:    overProfile(bowAlong),
		}, form.Bow),
		byMethod(Func{
			Name: "straightness", Doc: "range of a profile's deviations from a straight line, taken along the reading",
			Params: []Param{p, {Name: "line", Doc: `"least_squares", "minimum_zone" or "end_points"`}},
			Source: "the definition as ISO 230-1:2012, 3.4 has it, read in an excerpt; least zone by linear programming",
			Example: Example{
				`straightness(along([mm(0), mm(200), mm(400), mm(600), mm(800), mm(1000)], [um(0), um(4), um(6), um(6), um(2), um(-4)]), "end_points")`, "0.0084 mm", "derived here",
			},
		}, []form.Method{form.LeastSquares, form.MinimumZone, form.EndPoints},
			func(ts []value.Type) (value.Type, *ArgError) { return profileOf(0, ts[0]) },
			func(v value.Value, m form.Method) (float64, error) {
				at, x := inOrder(v)
				return form.Straightness(at, x, m)
			},
			func(v value.Value, m form.Method) (*form.Shape, error) {
				at, _ := inOrder(v)
				return form.Along(at, m)
			}),
	}
}

// inOrder returns the stations of a profile in rising order, and its values.
func inOrder(v value.Value) (at, x []float64) {
	at, x = slices.Clone(v.At), numbersOf(v)
	if slices.IsSorted(at) {
		return at, x
	}
	order := make([]int, len(at))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		switch {
		case v.At[i] < v.At[j]:
			return -1
		case v.At[i] > v.At[j]:
			return 1
		}
		return 0
	})
	y := make([]float64, len(x))
	for k, i := range order {
		at[k], y[k] = v.At[i], x[i]
	}
	return at, y
}

// profileOf returns the type of the values of a profile of numbers.
func profileOf(i int, t value.Type) (value.Type, *ArgError) {
	if t.Kind != value.Profile || !single(*t.Elem) {
		return value.Type{}, wantedWords(i, t, "a profile is wanted: a reading with along, or along([…], […])")
	}
	return *t.Elem, nil
}

// ofProfile is a function of a profile that gives a difference of its values.
func ofProfile(f Func, compute func(at, v []float64) (float64, error)) *Func {
	f.Params = []Param{{Name: "p", Doc: "a profile"}}
	f.Check = func(ts []value.Type) (value.Type, *ArgError) {
		e, err := profileOf(0, ts[0])
		return asDiff(e), err
	}
	f.Eval = func(a []value.Value) value.Value { return result(compute(inOrder(a[0]))) }
	return generic(f, false)
}

// byMethod is a function whose second argument says from what deviations are
// counted. It gives a difference of the values whose type elem returns.
func byMethod(f Func, methods []form.Method, elem func([]value.Type) (value.Type, *ArgError), compute func(value.Value, form.Method) (float64, error), shape func(value.Value, form.Method) (*form.Shape, error)) *Func {
	words := make([]string, len(methods))
	for i, m := range methods {
		words[i] = string(m)
	}
	f.Check = func(ts []value.Type) (value.Type, *ArgError) {
		e, err := elem(ts)
		if err == nil {
			err = oneOf(1, ts[1], words)
		}
		return asDiff(e), err
	}
	f.Eval = func(a []value.Value) value.Value {
		if !contains(words, a[1].Text) {
			return absent("%q is not one of %s", a[1].Text, list(words))
		}
		return result(compute(a[0], form.Method(a[1].Text)))
	}
	f.Over = overShape(words, shape)
	return generic(f, false)
}

// places is a function that puts values at stations or angles.
func places(name, doc, unit string, at value.Type, type_ func(value.Type) value.Type, make_ func([]float64, []value.Value) value.Value, example Example) *Func {
	factor := 1.0
	if unit == "°" {
		factor = 180 / math.Pi
	}
	return generic(Func{
		Name: name, Doc: doc, Source: "definition", Example: example,
		Params: []Param{{Name: "at", Doc: "where, a list"}, {Name: "values", Doc: "what was read there, a list of as many"}},
		Signs:  "plus as the values are",
		Check: func(ts []value.Type) (value.Type, *ArgError) {
			if ts[0].Kind != value.List || ts[0].Elem.Kind != value.Number || ts[0].Elem.Dim != at.Dim {
				return value.Type{}, wanted(0, ts[0], value.ListType(at))
			}
			if ts[1].Kind != value.List || !single(*ts[1].Elem) {
				return value.Type{}, wantedWords(1, ts[1], "a list of numbers is wanted")
			}
			return type_(*ts[1].Elem), nil
		},
		Eval: func(a []value.Value) value.Value {
			where := numbersOf(a[0])
			if len(where) != len(a[1].Elems) {
				return absent("there are %d places, but %d values", len(where), len(a[1].Elems))
			}
			seen := make(map[float64]bool, len(where))
			for _, x := range where {
				if seen[x] {
					return absent("%.6g %s stands twice among the places", x*factor, unit)
				}
				seen[x] = true
			}
			return make_(where, a[1].Elems)
		},
		Moves: []int{1},
	}, false)
}
