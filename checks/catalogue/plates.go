package catalogue

import (
	"slices"

	"waywright/checks/form"
	"waywright/checks/plate"
	"waywright/checks/quantity"
	"waywright/checks/value"
)

// examplePlate is a plate crowned by 1 µm at the middle of every edge line,
// surveyed in steps of 100 mm.
const examplePlate = `{ nw_se = ` + exampleDiagonal + `, ne_sw = ` + exampleDiagonal + `, nw_ne = ` + exampleLine + `, sw_se = ` + exampleLine +
	`, nw_sw = ` + exampleLine + `, ne_se = ` + exampleLine + `, w_e = ` + exampleLine + `, n_s = ` + exampleLine + ` }`

const exampleLine = "along([mm(0), mm(100)], [um(10)/m(1), um(-10)/m(1)])"

const exampleDiagonal = "along([mm(0), mm(141.42)], [um(10)/m(1), um(-10)/m(1)])"

// plates are the functions over surfaces.
func plates() []*Func {
	params := []Param{
		{Name: "lines", Doc: "slopes or angles of equal steps along each of nw_se, ne_sw, nw_ne, sw_se, nw_sw, ne_se, w_e, n_s, plus when the further end is higher: profiles by key"},
		{Name: "length", Doc: "length of the field, west to east"},
		{Name: "width", Doc: "width of the field, south to north"},
		{Name: "base", Doc: "distance between the feet of the level or reflector; if given, every step must be as long", Optional: true},
	}
	const source = "eight-line survey after J. C. Moody, 1955, from memory: diagonals levelled to equal ends and a middle of nothing, edges and centre lines tied to them"
	return []*Func{
		generic(Func{
			Name: "plate", Doc: "heights of all stations of a surface plate surveyed along eight lines", Params: params,
			Signs: "plus is high", Source: source,
			Example: Example{"flatness(plate(" + examplePlate + `, mm(200), mm(200)), "minimum_zone")`, "0.001414 mm", "derived here"},
			Check:   checkPlate(value.NetType(quantity.Length)),
			Eval: func(a []value.Value) value.Value {
				s, err := surveyOf(a)
				if err != nil {
					return undefined(err)
				}
				return value.NetOf(s.X, s.Y, s.Z)
			},
			Over: overPlate(func(f *plate.Field) value.Value { return value.NetOf(f.X, f.Y, make([]float64, len(f.X))) },
				func(z []float64, _, _ float64, out []float64) bool { return finitely(out, z) }),
		}, false),
		generic(Func{
			Name: "plate_closure", Doc: "by how much each centre line misses the middle, by key w_e and n_s", Params: params,
			Signs: "plus is the centre line above the middle that the diagonals give", Source: source,
			Example: Example{"plate_closure(" + examplePlate + ", mm(200), mm(200)).w_e", "0.000586 mm", "derived here"},
			Check:   checkPlate(value.KeyedType(value.Key{Words: []string{"w_e", "n_s"}}, value.NumberType(quantity.Length))),
			Eval: func(a []value.Value) value.Value {
				s, err := surveyOf(a)
				if err != nil {
					return undefined(err)
				}
				return value.KeyedOf([]string{"w_e", "n_s"}, []value.Value{number(s.MissWE), number(s.MissNS)})
			},
			Over: overPlate(func(*plate.Field) value.Value { return value.KeyedOf([]string{"w_e", "n_s"}, value.Nums(0, 0)) },
				func(_ []float64, we, ns float64, out []float64) bool {
					out[0], out[1] = defined(we), defined(ns)
					return true
				}),
		}, false),
		byMethod(Func{
			Name: "flatness", Doc: "range of heights from a plane, taken along the reading",
			Params: []Param{{Name: "net", Doc: "heights over a plane, such as plate gives"}, {Name: "plane", Doc: `"least_squares" or "minimum_zone"`}},
			Source: "least squares, or least zone by linear programming",
			Example: Example{"flatness(plate(" + examplePlate + `, mm(200), mm(200)), "least_squares")`, "0.001414 mm",
				"derived here"},
		}, []form.Method{form.LeastSquares, form.MinimumZone},
			func(ts []value.Type) (value.Type, *ArgError) {
				if ts[0].Kind != value.Net {
					return value.Type{}, wantedWords(0, ts[0], "heights over a plane are wanted, such as plate(…) gives")
				}
				return value.NumberType(ts[0].Dim), nil
			},
			func(v value.Value, m form.Method) (float64, error) { return form.Flatness(v.X, v.Y, v.Z, m) },
			func(v value.Value, m form.Method) (*form.Shape, error) { return form.Over(v.X, v.Y, m) }),
	}
}

func checkPlate(gives value.Type) func([]value.Type) (value.Type, *ArgError) {
	return func(ts []value.Type) (value.Type, *ArgError) {
		t := ts[0]
		if t.Kind != value.Keyed || t.Elem.Kind != value.Profile || !slopeLike(*t.Elem.Elem) {
			return value.Type{}, wantedWords(0, t, "profiles of slopes or angles are wanted, by the keys "+list(plate.Lines[:]))
		}
		if words := t.Key.Words; words != nil {
			for _, l := range plate.Lines {
				if !slices.Contains(words, l) {
					return value.Type{}, &ArgError{0, "has no line " + l + "; the keys wanted are " + list(plate.Lines[:])}
				}
			}
		}
		for i := 1; i < len(ts); i++ {
			if err := length("", "").check(i, ts[i]); err != nil {
				return value.Type{}, err
			}
		}
		return gives, nil
	}
}

func surveyOf(a []value.Value) (plate.Survey, error) {
	slopes, at := map[string][]float64{}, map[string][]float64{}
	for i, k := range a[0].Keys {
		at[k], slopes[k] = inOrder(a[0].Elems[i])
	}
	if len(a) > 3 {
		if why := plate.Steps(slopes, a[1].Num, a[2].Num, a[3].Num); why != nil {
			return plate.Survey{}, why
		}
	}
	survey, err := plate.EightLines(slopes, a[1].Num, a[2].Num)
	if err != nil {
		return survey, err
	}
	return survey, plate.Stations(at, a[1].Num, a[2].Num)
}
