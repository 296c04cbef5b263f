package catalogue

import (
	"math"

	"waywright/checks/quantity"
	"waywright/checks/stat"
	"waywright/checks/value"
)

// arithmetic are the functions of school.
func arithmetic() []*Func {
	return []*Func{
		generic(Func{
			Name: "abs", Doc: "the amount of a number, without its sign; of a collection, of each element", Source: "definition",
			Params:  []Param{{Name: "x", Doc: "a number, a profile, a turn, values by key or a list"}},
			Example: Example{"abs(um(-3))", "0.003 mm", "definition"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				return zipTypes(ts, func(ts []value.Type) (value.Type, *ArgError) {
					if ts[0].Kind != value.Number {
						return value.Type{}, wantedWords(0, ts[0], "a number is wanted")
					}
					return ts[0], nil
				})
			},
			Eval: func(a []value.Value) value.Value {
				return value.Map(func(v value.Value) value.Value { return number(math.Abs(v.Num)) }, a[0])
			},
			Num:  func(x []float64) float64 { return math.Abs(x[0]) },
			Over: overEach(func(x []float64) float64 { return math.Abs(x[0]) }),
		}, true),
		generic(Func{
			Name: "sum", Doc: "the sum of many values", Source: "definition", Signs: "plus as the values are",
			Params:  []Param{{Name: "x", Doc: "a profile, a turn, values by one key, or a list"}},
			Example: Example{"sum([um(3), um(5), um(-4)])", "0.004 mm", "definition"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				if !ts[0].Collection() {
					return value.Type{}, wantedWords(0, ts[0], "a profile, a turn, values by key or a list are wanted")
				}
				e, err := sample(0, ts[0])
				if err == nil && e.Kind == value.Point {
					err = wantedWords(0, ts[0], "temperatures have no sum")
				}
				return e, err
			},
			Eval: func(a []value.Value) value.Value { return number(stat.Sum(numbersOf(a[0]))) },
			Many: stat.Sum,
		}, false),
		generic(Func{
			Name: "hypot", Doc: "the length of the diagonal of two numbers, √(a² + b²); of collections, of each element", Source: "definition",
			Params:  []Param{{Name: "a", Doc: "a number"}, {Name: "b", Doc: "another of the same dimension"}},
			Example: Example{"hypot(um(3), um(-4))", "0.005 mm", "definition"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				return zipTypes(ts, func(ts []value.Type) (value.Type, *ArgError) {
					if ts[0].Kind != value.Number {
						return value.Type{}, wantedWords(0, ts[0], "a number is wanted")
					}
					t, err := same(ts[0], ts[1], 1)
					return value.NumberType(t.Dim), err
				})
			},
			Eval: func(a []value.Value) value.Value {
				return zip(func(a []value.Value) value.Value { return number(math.Hypot(a[0].Num, a[1].Num)) }, a...)
			},
			Num:  func(x []float64) float64 { return math.Hypot(x[0], x[1]) },
			Over: overEach(func(x []float64) float64 { return math.Hypot(x[0], x[1]) }),
		}, false),
		scalar{
			Func: Func{
				Name: "tan", Doc: "the slope of an angle", Signs: "plus as the angle is", Source: "definition",
				Example: Example{"tan(deg(5)) * m(1)", "87 mm", "5° in mm/m, a maker of levels"},
			},
			args: []arg{angle("angle", "an angle")}, gives: quantity.Ratio, lift: true,
			f: func(a []float64, _ string) float64 { return math.Tan(a[0]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "atan", Doc: "the angle of a slope", Signs: "plus as the slope is", Source: "definition",
				Example: Example{"atan(um(100) / m(1))", "20.6 arcsec", "derived here; makers of levels print 20″ for 0.1 mm/m"},
			},
			args: []arg{ratio("slope", "a slope")}, gives: quantity.Angle, lift: true,
			f: func(a []float64, _ string) float64 { return math.Atan(a[0]) },
		}.build(),
	}
}
