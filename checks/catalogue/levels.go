package catalogue

import (
	"math"

	"waywright/checks/quantity"
	"waywright/checks/stat"
	"waywright/checks/value"
	"waywright/checks/ways"
)

// levels are the functions of package ways.
func levels() []*Func {
	return []*Func{
		reversal("level_slope", "true slope, from a level read twice in one footprint",
			"plus as the readings' plus is", "half the sum", Example{"level_slope(um(60) / m(1), um(20) / m(1)) * m(1)", "0.040 mm", "derived here"}, ways.LevelSlope),
		reversal("level_zero", "what a level reads on a true level",
			"plus is reading high as it first stood", "half the difference", Example{"level_zero(um(60) / m(1), um(20) / m(1)) * m(1)", "0.020 mm", "derived here"}, ways.LevelZero),
		generic(Func{
			Name: "level_profile", Doc: "heights of the points that a level steps over, the first being nothing",
			Params: []Param{
				{Name: "slopes", Doc: "slope of each step: a profile whose stations are where the steps begin, or a list"},
				{Name: "base", Doc: "distance between the level's feet"},
			},
			Signs: "plus is high", Source: "running sum of slope · base; common practice",
			Example: Example{"at(level_profile([um(20)/m(1), um(10)/m(1), 0, um(-20)/m(1), um(-30)/m(1)], mm(200)), mm(600))", "0.006 mm", "derived here"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				t := ts[0]
				if (t.Kind != value.Profile && t.Kind != value.List) || !slopeLike(*t.Elem) {
					return value.Type{}, wantedWords(0, t, "a profile or a list of slopes or angles is wanted")
				}
				if err := length("base", "").check(1, ts[1]); err != nil {
					return value.Type{}, err
				}
				return value.ProfileType(value.NumberType(quantity.Length)), nil
			},
			Eval: evalLevelProfile, Over: overLevelProfile,
		}, false),
		generic(Func{
			Name: "twist", Doc: "greatest less least of the cross readings of a level along the bed",
			Params: []Param{{Name: "cross", Doc: "cross readings, a profile, values by key or a list"}},
			Source: "range of the cross readings; the level's zero falls out if it always stands the same way round",
			Example: Example{
				"twist([um(40)/m(1), um(25)/m(1), um(10)/m(1)]) * m(1)", "0.030 mm", "derived here",
			},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				e, err := sample(0, ts[0])
				if err == nil && !slopeLike(e) {
					err = wantedWords(0, ts[0], "slopes or angles are wanted")
				}
				return value.NumberType(e.Dim), err
			},
			Eval: func(a []value.Value) value.Value {
				x := numbersOf(a[0])
				if len(x) == 0 {
					return absent("there are no values")
				}
				return number(stat.Spread(x))
			},
			Many: func(x []float64) float64 {
				if len(x) == 0 {
					return math.NaN()
				}
				return stat.Spread(x)
			},
		}, false),
		scalar{
			Func: Func{
				Name: "wind", Doc: "change of roll for each length of the bed",
				Signs: "plus is the front way low at the far end", Source: "(far − near)/span",
				Example: Example{"wind(um(10)/m(1), um(40)/m(1), m(1.5)) * m(1) * m(1)", "0.020 mm", "derived here"},
			},
			args: []arg{
				ratio("near", "cross reading at the headstock end, plus when the rear is high"),
				ratio("far", "the same at the far end"),
				length("span", "distance between them along the bed").above(),
			}, gives: quantity.Dim{Length: -1},
			f: func(a []float64, _ string) float64 { return ways.Wind(a[0], a[1], a[2]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "foot_shim", Doc: "how far to raise a foot at the tailstock end so that a bar in the chuck turns parallel; beds yield less, by 0.3 to 1 times",
				Signs: "plus is raise the front foot, minus the rear one", Source: "taper · feet_across · feet_along/(2 · tool_height · span); derived here",
				Example: Example{"foot_shim(um(12), mm(180), mm(600), mm(95), mm(150))", "0.045 mm", "derived here"},
			},
			args: []arg{
				length("taper", "diameter at the free end less that at the headstock end"),
				length("feet_across", "distance between the feet across the bed"),
				length("feet_along", "distance between the feet along the bed"),
				length("tool_height", "height of the tool above the ways").above(),
				length("span", "distance between the two diameters").above(),
			}, gives: quantity.Length,
			f: func(a []float64, _ string) float64 { return ways.FootShim(a[0], a[1], a[2], a[3], a[4]) },
		}.build(),
	}
}

// reversal is a function of two readings of an instrument that was turned
// round, both slopes or both angles.
func reversal(name, doc, signs, source string, example Example, f func(r, turned float64) float64) *Func {
	return generic(Func{
		Name: name, Doc: doc, Signs: signs, Source: source, Example: example,
		Params: []Param{
			{Name: "reading", Doc: "the first reading, in machine direction"},
			{Name: "turned", Doc: "the reading with the level turned end for end, in machine direction too"},
		},
		Check: func(ts []value.Type) (value.Type, *ArgError) {
			return zipTypes(ts, func(ts []value.Type) (value.Type, *ArgError) {
				if !slopeLike(ts[0]) {
					return value.Type{}, wantedWords(0, ts[0], "a slope or an angle is wanted, such as um(20)/m(1)")
				}
				t, err := same(ts[0], ts[1], 1)
				return value.NumberType(t.Dim), err
			})
		},
		Eval: func(a []value.Value) value.Value {
			return zip(func(a []value.Value) value.Value { return number(f(a[0].Num, a[1].Num)) }, a...)
		},
		Num:  func(x []float64) float64 { return f(x[0], x[1]) },
		Over: overEach(func(x []float64) float64 { return f(x[0], x[1]) }),
	}, false)
}

// slopeLike tells whether a type is of slopes or of angles.
func slopeLike(t value.Type) bool {
	return t.Kind == value.Number && (t.Dim == quantity.Ratio || t.Dim == quantity.Angle)
}

func evalLevelProfile(a []value.Value) value.Value {
	base, slopes := a[1].Num, numbersOf(a[0])
	if base <= 0 {
		return absent("the base of the level must be above nothing")
	}
	if len(slopes) == 0 {
		return absent("there are no slopes")
	}
	start := 0.0
	if a[0].Kind == value.Profile {
		at, x := inOrder(a[0])
		start, slopes = at[0], x
		for i := 1; i < len(at); i++ {
			if !value.SamePlace(at[i], at[i-1]+base) {
				return absent("stations %.6g and %.6g mm lie %.6g mm apart, the feet of the level %.6g mm", at[i-1], at[i], at[i]-at[i-1], base)
			}
		}
	}
	h := ways.Heights(slopes, base)
	at := make([]float64, len(h))
	for i := range at {
		at[i] = start + float64(i)*base
	}
	return value.ProfileOf(at, value.Nums(h...))
}
