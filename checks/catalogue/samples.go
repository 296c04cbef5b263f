package catalogue

import (
	"math"

	"waywright/checks/stat"
	"waywright/checks/value"
)

// anything is the parameter of functions over many values.
var anything = []Param{{Name: "x", Doc: "repeated takes, a profile, a turn, values by one key, or a list", Takes: true}}

const manyWanted = "repeated takes, a profile, a turn, values by key or a list are wanted"

// sample returns the type of one of the many values of type t.
func sample(i int, t value.Type) (value.Type, *ArgError) {
	switch {
	case t.Kind == value.Takes:
		return t.Scalar(), nil
	case !t.Collection():
		return value.Type{}, wantedWords(i, t, manyWanted)
	case t.Elem.Collection():
		return value.Type{}, wantedWords(i, t, "values by one key alone are wanted: pick a key, or work it out for each with a for")
	case !single(*t.Elem):
		return value.Type{}, wantedWords(i, t, "numbers are wanted")
	}
	return *t.Elem, nil
}

// numbersOf returns many values as plain numbers.
func numbersOf(v value.Value) []float64 {
	if v.Kind == value.Takes {
		return v.Takes
	}
	x := make([]float64, len(v.Elems))
	for i, e := range v.Elems {
		x[i] = e.Num
	}
	return x
}

// kindOf returns the kind of one of many values.
func kindOf(v value.Value) value.Type {
	if len(v.Elems) > 0 {
		return value.Type{Kind: v.Elems[0].Kind}
	}
	return value.Type{Kind: value.Number}
}

// reduction describes a function of many values that gives one.
type reduction struct {
	Func
	atLeast int // how many values it needs
	type_   func(elem value.Type) value.Type
	f       func(x []float64) float64
	alike   bool // gives a temperature of temperatures
}

func (r reduction) build() *Func {
	r.Params = anything
	r.Check = func(ts []value.Type) (value.Type, *ArgError) {
		e, err := sample(0, ts[0])
		if err != nil {
			return value.Type{}, err
		}
		return r.type_(e), nil
	}
	r.Eval = func(a []value.Value) value.Value {
		x := numbersOf(a[0])
		if len(x) < r.atLeast {
			if len(x) == 0 {
				return absent("there are no values")
			}
			return absent("two values are needed, there is one")
		}
		if t := kindOf(a[0]); r.alike {
			return like(t, r.f(x))
		}
		return number(r.f(x))
	}
	r.Many = func(x []float64) float64 {
		if len(x) < r.atLeast {
			return math.NaN()
		}
		return r.f(x)
	}
	return generic(r.Func, false)
}

func asElem(e value.Type) value.Type { return e }
func asDiff(e value.Type) value.Type { d, _ := e.Difference(); return d }
func asMean(e value.Type) value.Type { e.Count = false; return e }

// samples are the functions that make one number of many.
func samples() []*Func {
	const five = "([um(3), um(5), um(4), um(8), um(0)])"
	count := Func{
		Name: "count", Params: anything, Doc: "how many values there are", Source: "definition",
		Example: Example{"count" + five, "5", "definition"},
		Check: func(ts []value.Type) (value.Type, *ArgError) {
			if ts[0].Kind != value.Takes && !ts[0].Collection() {
				return value.Type{}, wantedWords(0, ts[0], manyWanted)
			}
			return value.CountType(), nil
		},
		Eval: func(a []value.Value) value.Value {
			if a[0].Kind == value.Takes {
				return value.Num(float64(len(a[0].Takes)))
			}
			return value.Num(float64(len(a[0].Elems)))
		},
	}
	return []*Func{
		reduction{Func: Func{
			Name: "mean", Doc: "arithmetic mean", Signs: "plus as the values are", Source: "definition",
			Example: Example{"mean" + five, "0.004 mm", "definition"},
		}, atLeast: 1, type_: asMean, f: stat.Mean, alike: true}.build(),
		reduction{Func: Func{
			Name: "stdev", Doc: "standard deviation of one value", Source: "JCGM 100:2008, 4.2.2",
			Example: Example{"stdev" + five, "0.0029 mm", "definition: √(34/4) µm"},
		}, atLeast: 2, type_: asDiff, f: stat.Stdev}.build(),
		reduction{Func: Func{
			Name: "standard_error", Doc: "standard deviation of the mean", Source: "JCGM 100:2008, 4.2.3",
			Example: Example{"standard_error" + five, "0.0013 mm", "definition: √(34/20) µm"},
		}, atLeast: 2, type_: asDiff, f: stat.StandardError}.build(),
		reduction{Func: Func{
			Name: "spread", Doc: "greatest less least", Source: "definition",
			Example: Example{"spread" + five, "0.008 mm", "definition"},
		}, atLeast: 1, type_: asDiff, f: stat.Spread}.build(),
		reduction{Func: Func{
			Name: "least", Doc: "the least value", Signs: "plus as the values are", Source: "definition",
			Example: Example{"least" + five, "0.000 mm", "definition"},
		}, atLeast: 1, type_: asElem, f: func(x []float64) float64 { return x[stat.WhereLeast(x)] }, alike: true}.build(),
		reduction{Func: Func{
			Name: "greatest", Doc: "the greatest value", Signs: "plus as the values are", Source: "definition",
			Example: Example{"greatest" + five, "0.008 mm", "definition"},
		}, atLeast: 1, type_: asElem, f: func(x []float64) float64 { return x[stat.WhereGreatest(x)] }, alike: true}.build(),
		generic(count, false),
	}
}
