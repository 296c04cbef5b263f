package catalogue

import (
	"waywright/checks/form"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/checks/ways"
)

// reversals are the functions that prove a reference by turning it round.
func reversals() []*Func {
	g1 := length("g1", "change of the reading up the column, the square on one side")
	g2 := length("g2", "the same with square and indicator turned round to the other side")
	return []*Func{
		scalar{
			Func: Func{
				Name: "square_error", Doc: "by how much a square's blade leans over the height travelled, from readings on both sides of a column",
				Signs: "plus is the top leaning towards the indicator", Source: "half the sum, plunger in being plus; derived here",
				Example: Example{"square_error(um(7), um(3))", "0.005 mm", "derived here: 5 + 2 and 5 − 2"},
			},
			args: []arg{g1, g2}, gives: quantity.Length, lift: true,
			f: func(a []float64, _ string) float64 { return ways.SquareError(a[0], a[1]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "column_lean", Doc: "by how much the column leans over the height travelled, from the readings of square_error",
				Signs: "plus is leaning towards the side of g1", Source: "half the difference, plunger in being plus; derived here",
				Example: Example{"column_lean(um(7), um(3))", "0.002 mm", "derived here: 5 + 2 and 5 − 2"},
			},
			args: []arg{g1, g2}, gives: quantity.Length, lift: true,
			f: func(a []float64, _ string) float64 { return ways.ColumnLean(a[0], a[1]) },
		}.build(),
		flipped("edge_error", "error of a straightedge, from readings along it before and after it was turned about its long axis",
			"plus is the edge standing proud", "half the sum of the readings less their end-point lines; common practice",
			Example{"at(edge_error(" + exampleEdge + "), mm(100))", "0.003 mm", "derived here: 3 + 1 and 3 − 1"}, ways.EdgeError),
		flipped("slide_error", "error of the slide that carried the indicator, from the readings of edge_error",
			"plus is the slide towards the side that the edge first stood on", "half the difference of the readings less their end-point lines; common practice",
			Example{"at(slide_error(" + exampleEdge + "), mm(100))", "0.001 mm", "derived here: 3 + 1 and 3 − 1"}, ways.SlideError),
		generic(Func{
			Name: "three_way", Doc: "errors of three edges or squares held against each other two at a time, by key a, b and c",
			Params: []Param{
				{Name: "ab", Doc: "the reading of a against b: a profile, or a number such as an angle"},
				{Name: "bc", Doc: "of b against c, at the same stations"}, {Name: "ac", Doc: "of a against c"},
			},
			Signs:   "plus is proud; edges are turned about the long axis, not end for end",
			Source:  "each reading the sum of two errors, so that a = (ab + ac − bc)/2; common practice",
			Example: Example{"three_way(um(5), um(7), um(6)).b", "0.003 mm", "derived here: a, b, c of 2, 3, 4 µm"},
			Check:   checkThree, Eval: evalThree, Over: overThree,
		}, false),
		seat("socket_runout", "what the socket of a spindle is out by, from a bar in two seatings half a turn apart: half of the run-out that it causes, and where it is high", true),
		seat("bar_runout", "what a bar is out by, from two seatings half a turn apart: half of the run-out that it causes, and where it is high in the first seating", false),
	}
}

// exampleEdge is an edge that stands 3 µm proud in the middle, on a slide that
// is 1 µm out there.
const exampleEdge = "along([mm(0), mm(100), mm(200)], [um(0), um(4), um(0)]), along([mm(0), mm(100), mm(200)], [um(0), um(2), um(0)])"

// flipped is a function of two profiles at the same stations.
func flipped(name, doc, signs, source string, example Example, f func(at, p, q []float64) ([]float64, error)) *Func {
	return generic(Func{
		Name: name, Doc: doc, Signs: signs, Source: source, Example: example,
		Params: []Param{
			{Name: "p", Doc: "readings along the edge, a profile"},
			{Name: "flipped", Doc: "readings at the same stations, the edge turned about its long axis and the indicator facing the other way"},
		},
		Check: func(ts []value.Type) (value.Type, *ArgError) {
			e, err := twoProfiles(ts)
			return value.ProfileType(asDiff(e)), err
		},
		Eval: func(a []value.Value) value.Value {
			at, p, q, why := together(a[0], a[1])
			if why != "" {
				return value.AbsentFor(why)
			}
			d, err := f(at, p, q)
			if err != nil {
				return undefined(err)
			}
			return value.ProfileOf(at, value.Nums(d...))
		},
		Over: overFlipped(f),
	}, false)
}

// twoProfiles returns the type of the values of two profiles that are alike.
func twoProfiles(ts []value.Type) (value.Type, *ArgError) {
	e, err := profileOf(0, ts[0])
	if err != nil {
		return e, err
	}
	q, err := profileOf(1, ts[1])
	if err != nil {
		return e, err
	}
	if q.Kind != e.Kind || q.Dim != e.Dim {
		return e, wanted(1, ts[1], value.ProfileType(e))
	}
	return e, nil
}

// together returns two profiles at the same stations, these in rising order;
// why says why they are not.
func together(p, q value.Value) (at, x, y []float64, why string) {
	pair, err := value.Zip(func(v []value.Value) value.Value { return value.ListOf(v...) }, p, q)
	if err != nil {
		return nil, nil, nil, err.Error()
	}
	first := pair
	first.Elems = make([]value.Value, len(pair.Elems))
	second := first
	second.Elems = make([]value.Value, len(pair.Elems))
	for i, e := range pair.Elems {
		first.Elems[i], second.Elems[i] = e.Elems[0], e.Elems[1]
	}
	at, x = inOrder(first)
	_, y = inOrder(second)
	return at, x, y, ""
}

var threeKeys = []string{"a", "b", "c"}

func checkThree(ts []value.Type) (value.Type, *ArgError) {
	elem, err := zipTypes(ts, func(ts []value.Type) (value.Type, *ArgError) {
		for i, t := range ts {
			if t.Kind != value.Number {
				return value.Type{}, wantedWords(i, t, "a number or a profile of numbers is wanted")
			}
			if t.Dim != ts[0].Dim {
				return value.Type{}, wanted(i, t, value.NumberType(ts[0].Dim))
			}
		}
		return value.NumberType(ts[0].Dim), nil
	})
	return value.KeyedType(value.Key{Words: threeKeys}, elem), err
}

func evalThree(a []value.Value) value.Value {
	out := make([]value.Value, 3)
	for k := range out {
		out[k] = zip(func(v []value.Value) value.Value {
			x, y, z := ways.ThreeWay(v[0].Num, v[1].Num, v[2].Num)
			return number([3]float64{x, y, z}[k])
		}, a...)
		if out[k].State != value.Present {
			return out[k]
		}
	}
	return value.KeyedOf(threeKeys, out)
}

// seat is a function of a bar in two seatings.
func seat(name, doc string, socket bool) *Func {
	want := "0.004 mm"
	if !socket {
		want = "0.003 mm"
	}
	const angles = "[deg(0), deg(90), deg(180), deg(270)]"
	return generic(Func{
		Name: name, Doc: doc,
		Signs:  "the high spot is an angle of the spindle, 0 to 360°; the run-out is twice the eccentricity",
		Source: "half the sum, or half the difference, of the first harmonics of both turns; derived here",
		Example: Example{name + "(around(" + angles + ", [um(4), um(3), um(-4), um(-3)]), around(" + angles + ", [um(4), um(-3), um(-4), um(3)])).eccentricity",
			want, "derived here: a socket of 4 µm at 0°, a bar of 3 µm at 90°"},
		Params: []Param{
			{Name: "t", Doc: "readings round a turn in the first seating"},
			{Name: "reseated", Doc: "the same with the bar turned 180° in its socket; the angles are the spindle's"},
		},
		Check: func(ts []value.Type) (value.Type, *ArgError) {
			e, err := turnOf(0, ts[0])
			if err != nil {
				return e, err
			}
			q, err := turnOf(1, ts[1])
			if err == nil && (q.Kind != e.Kind || q.Dim != e.Dim) {
				err = wanted(1, ts[1], value.TurnType(e))
			}
			return value.ObjectType(value.Part{Name: "eccentricity", Type: asDiff(e)}, value.Part{Name: "high_spot", Type: value.NumberType(quantity.Angle)}), err
		},
		Eval: func(a []value.Value) value.Value {
			r, q := numbersOf(a[0]), numbersOf(a[1])
			e, high, bar, barHigh, err := form.Seats(a[0].At, r, a[1].At, q)
			if err != nil {
				return undefined(err)
			}
			if !socket {
				e, high = bar, barHigh
			}
			where := number(high)
			if e <= 1e-12*max(greatestAmount(r), greatestAmount(q)) {
				where = absent("it is out by nothing, so that no side is high")
			}
			return value.ObjectOf([]string{"eccentricity", "high_spot"}, []value.Value{number(e), where})
		},
	}, false)
}
