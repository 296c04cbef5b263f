package catalogue

import (
	"math"

	"waywright/checks/form"
	"waywright/checks/quantity"
	"waywright/checks/stat"
	"waywright/checks/value"
)

// exampleTurn is 5 µm + 3 µm·cos(φ − 90°), read every quarter turn.
const exampleTurn = "around([deg(0), deg(90), deg(180), deg(270)], [um(5), um(8), um(5), um(2)])"

// turns are the functions over readings round a turn.
func turns() []*Func {
	t := Param{Name: "t", Doc: "readings round a turn"}
	return []*Func{
		places("around", "a turn: values at angles of the spindle", "°", value.NumberType(quantity.Angle), value.TurnType, value.TurnOf,
			Example{"at(" + exampleTurn + ", deg(90))", "0.008 mm", "definition"}),
		ofTurn(Func{
			Name: "runout", Doc: "greatest less least round a turn, full indicator movement", Source: "definition",
			Example: Example{"runout(" + exampleTurn + ")", "0.006 mm", "definition"},
			Many: func(r []float64) float64 {
				if len(r) < 2 {
					return math.NaN()
				}
				return stat.Spread(r)
			},
		}, func(_, r []float64) value.Value {
			if len(r) < 2 {
				return absent("two readings round the turn are needed, there %s", isAre(len(r)))
			}
			return number(stat.Spread(r))
		}, nil),
		ofTurn(Func{
			Name: "eccentricity", Doc: "how far the middle of a turn is out: half of the run-out that it causes", Source: "first harmonic, by least squares with a constant",
			Example: Example{"eccentricity(" + exampleTurn + ")", "0.003 mm", "derived here"},
		}, func(at, r []float64) value.Value {
			e, _, err := form.Eccentricity(at, r)
			return result(e, err)
		}, nil),
		ofTurn(Func{
			Name: "high_spot", Doc: "the angle of the spindle, 0 to 360°, at which the eccentricity reads highest", Source: "first harmonic, by least squares with a constant",
			Example: Example{"high_spot(" + exampleTurn + ")", "90 deg", "derived here"},
		}, func(at, r []float64) value.Value {
			e, high, err := form.Eccentricity(at, r)
			if err == nil && e <= 1e-12*greatestAmount(r) {
				return absent("it is out by nothing, so that no side is high")
			}
			return result(high, err)
		}, &quantity.Angle),
		generic(Func{
			Name: "lobes", Doc: "amplitude, not peak to valley, of the n-th harmonic of a turn; the angles evenly spaced and more than 2·n",
			Params: []Param{t, {Name: "n", Doc: "how many lobes"}}, Source: "Fourier sums",
			Example: Example{"lobes(around([deg(0), deg(60), deg(120), deg(180), deg(240), deg(300)], [um(2), um(-1), um(-1), um(2), um(-1), um(-1)]), 2)", "0.002 mm", "derived here"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				e, err := turnOf(0, ts[0])
				if err == nil {
					err = counts(1, ts[1])
				}
				return asDiff(e), err
			},
			Eval: func(a []value.Value) value.Value {
				n := a[1].Num
				if n != math.Trunc(n) || math.Abs(n) > most {
					return absent("%g lobes cannot be told", n)
				}
				return result(form.Lobes(a[0].At, numbersOf(a[0]), int(n)))
			},
		}, false),
		byMethod(Func{
			Name: "roundness", Doc: "range of a turn's readings once its eccentricity is taken off; plus must be outward, so readings in a bore are turned first",
			Params: []Param{t, {Name: "circle", Doc: `"least_squares", "minimum_zone", "circumscribed" or "inscribed"`}},
			Source: "reference circle c + a·cos φ + b·sin φ, for small eccentricities; least zone by linear programming",
			Example: Example{
				`roundness(around([deg(0), deg(60), deg(120), deg(180), deg(240), deg(300)], [um(2), um(-1), um(-1), um(2), um(-1), um(-1)]), "least_squares")`, "0.003 mm", "derived here",
			},
		}, []form.Method{form.LeastSquares, form.MinimumZone, form.Circumscribed, form.Inscribed},
			func(ts []value.Type) (value.Type, *ArgError) { return turnOf(0, ts[0]) },
			func(v value.Value, m form.Method) (float64, error) {
				return form.Roundness(v.At, numbersOf(v), m)
			},
			func(v value.Value, m form.Method) (*form.Shape, error) { return form.Around(v.At, m) }),
	}
}

// turnOf returns the type of the values of a turn of numbers.
func turnOf(i int, t value.Type) (value.Type, *ArgError) {
	if t.Kind != value.Turn || !single(*t.Elem) {
		return value.Type{}, wantedWords(i, t, "a turn is wanted: a reading with around, or around([…], […])")
	}
	return *t.Elem, nil
}

// ofTurn is a function of a turn. It gives a difference of its values, or what
// gives says.
func ofTurn(f Func, compute func(at, r []float64) value.Value, gives *quantity.Dim) *Func {
	f.Params = []Param{{Name: "t", Doc: "readings round a turn"}}
	f.Check = func(ts []value.Type) (value.Type, *ArgError) {
		e, err := turnOf(0, ts[0])
		if gives != nil {
			return value.NumberType(*gives), err
		}
		return asDiff(e), err
	}
	f.Eval = func(a []value.Value) value.Value { return compute(a[0].At, numbersOf(a[0])) }
	return generic(f, false)
}

func isAre(n int) string {
	if n == 0 {
		return "are none"
	}
	return "is 1"
}

func greatestAmount(x []float64) float64 {
	g := 0.0
	for _, v := range x {
		g = math.Max(g, math.Abs(v))
	}
	return g
}
