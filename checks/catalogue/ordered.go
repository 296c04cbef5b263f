package catalogue

import (
	"math"
	"slices"
	"strconv"

	"waywright/checks/quantity"
	"waywright/checks/stat"
	"waywright/checks/value"
)

// most is how many elements a function may make at once; far more stations
// than anyone reads, far fewer than would fill the memory.
const most = 10_000

// ordered are the functions over lists and over the order of values.
func ordered() []*Func {
	list := []Param{{Name: "x", Doc: "values in order: a list, a profile, a turn or values by key"}}
	return []*Func{
		generic(Func{
			Name: "numbered", Doc: "the list 1, 2 … n, as keys", Source: "definition",
			Params:  []Param{{Name: "n", Doc: "how many"}},
			Example: Example{"last(numbered(4))", "4", "definition"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				return value.ListType(value.CountType()), counts(0, ts[0])
			},
			Eval: func(a []value.Value) value.Value {
				n := a[0].Num
				if n < 0 || n > most || n != math.Trunc(n) {
					return absent("cannot number %g things; up to %d can be", n, most)
				}
				elems := make([]value.Value, int(n))
				for i := range elems {
					elems[i] = value.Num(float64(i + 1))
				}
				return value.ListOf(elems...)
			},
		}, false),
		generic(Func{
			Name: "stations", Doc: "a list of n evenly spaced stations, both ends among them", Source: "definition",
			Params: []Param{
				{Name: "from", Doc: "first station"}, {Name: "to", Doc: "last station"},
				{Name: "n", Doc: "how many stations"},
			},
			Example: Example{"at(stations(mm(0), mm(200), 5), 2)", "50 mm", "definition"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				if ts[0].Kind != value.Number || (ts[0].Dim != quantity.Length && ts[0].Dim != quantity.Angle) {
					return value.Type{}, wanted(0, ts[0], value.NumberType(quantity.Length))
				}
				t, err := same(ts[0], ts[1], 1)
				if err == nil {
					err = counts(2, ts[2])
				}
				return value.ListType(t), err
			},
			Eval: evalStations,
		}, false),
		generic(Func{
			Name: "reversed", Doc: "the same values in the reverse order", Params: list, Source: "definition",
			Example: Example{"first(reversed([um(1), um(2), um(3)]))", "0.003 mm", "definition"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				if !ts[0].Collection() {
					return value.Type{}, wantedWords(0, ts[0], "a list is wanted")
				}
				return ts[0], nil
			},
			Eval: func(a []value.Value) value.Value {
				v := a[0]
				v.Elems, v.Keys, v.At = backwards(v.Elems), backwards(v.Keys), backwards(v.At)
				return v
			},
			Moves: []int{0},
		}, true),
		generic(Func{
			Name: "changes", Doc: "the first value, then each less the one before it", Params: list,
			Signs: "plus is more than the one before", Source: "definition",
			Example: Example{"last(changes([um(2), um(5), um(4)]))", "-0.001 mm", "definition"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				if !ts[0].Collection() || ts[0].Elem.Kind != value.Number {
					return value.Type{}, wantedWords(0, ts[0], "numbers in order are wanted: a list, a profile or values by key")
				}
				return ofElem(ts[0], value.NumberType(ts[0].Elem.Dim)), nil
			},
			Eval: func(a []value.Value) value.Value {
				v, x := a[0], numbersOf(a[0])
				v.Elems = make([]value.Value, len(x))
				for i := range x {
					v.Elems[i] = number(x[i])
					if i > 0 {
						v.Elems[i] = number(x[i] - x[i-1])
					}
				}
				return v
			},
			Over: overChanges,
		}, false),
		generic(Func{
			Name: "where_greatest", Doc: "the station, angle or key of the greatest value; of equal ones the first", Source: "definition",
			Params:  []Param{{Name: "x", Doc: "a profile, a turn or values by one key"}},
			Example: Example{"where_greatest(along([mm(0), mm(50), mm(100)], [um(1), um(4), um(2)]))", "50 mm", "definition"},
			Check:   checkWhere, Eval: evalWhere,
		}, false),
		end("first", "the first value", 1, func(n int) int { return 0 }),
		end("last", "the last value", 3, func(n int) int { return n - 1 }),
		generic(Func{
			Name: "rise", Doc: "the last value less the first", Params: list,
			Signs: "plus is more at the end", Source: "definition",
			Example: Example{"rise([um(2), um(5), um(4)])", "0.002 mm", "definition"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				if ts[0].Collection() && single(*ts[0].Elem) {
					return asDiff(*ts[0].Elem), nil
				}
				return value.Type{}, wantedWords(0, ts[0], "numbers in order are wanted: a list, a profile or values by key")
			},
			Eval: func(a []value.Value) value.Value {
				e := a[0].Elems
				if len(e) == 0 {
					return absent("there are no values")
				}
				if b, ok := value.Blocked(e[0], e[len(e)-1]); ok {
					return b
				}
				return number(e[len(e)-1].Num - e[0].Num)
			},
		}, true),
		generic(Func{
			Name: "at", Doc: "the value at a station, interpolated between two; of a turn at an angle; of a list the n-th",
			Params: []Param{
				{Name: "x", Doc: "a profile, a turn or a list"},
				{Name: "where", Kind: "a length for a profile, an angle for a turn, a whole number for a list", Doc: "station, angle, or which of the list"},
			},
			Signs: "plus as the values are", Source: "straight line between neighbours",
			Example: Example{"at(along([mm(0), mm(100)], [um(2), um(6)]), mm(25))", "0.003 mm", "derived here"},
			Check:   checkAt, Eval: evalAt,
		}, true),
	}
}

// counts refuses what is not a whole number.
func counts(i int, t value.Type) *ArgError {
	if t.Kind == value.Number && t.Count {
		return nil
	}
	return wanted(i, t, value.CountType())
}

// ofElem returns the type of collection t with elements of another type.
func ofElem(t, elem value.Type) value.Type {
	t.Elem = &elem
	return t
}

func backwards[T any](x []T) []T {
	x = slices.Clone(x)
	slices.Reverse(x)
	return x
}

func evalStations(a []value.Value) value.Value {
	from, to, n := a[0].Num, a[1].Num, a[2].Num
	switch {
	case n != math.Trunc(n) || n < 1 || n > most:
		return absent("cannot make %g stations; 1 to %d can be", n, most)
	case n == 1 && from != to:
		return absent("one station alone cannot stand at both ends")
	}
	elems := make([]value.Value, int(n))
	for i := range elems {
		elems[i] = value.Num(from)
		if i > 0 { // the last is the end itself, to the last bit
			share := float64(i) / (n - 1)
			elems[i] = value.Num(from*(1-share) + to*share)
		}
	}
	return value.ListOf(elems...)
}

func checkWhere(ts []value.Type) (value.Type, *ArgError) {
	t := ts[0]
	if !t.Collection() || t.Kind == value.List || !single(*t.Elem) {
		return value.Type{}, wantedWords(0, t, "a profile, a turn or values by one key are wanted")
	}
	switch {
	case t.Kind == value.Profile:
		return value.NumberType(quantity.Length), nil
	case t.Kind == value.Turn:
		return value.NumberType(quantity.Angle), nil
	case t.Key.Count:
		return value.CountType(), nil
	}
	return value.TextType(t.Key.Words...), nil
}

func evalWhere(a []value.Value) value.Value {
	v := a[0]
	if len(v.Elems) == 0 {
		return absent("there are no values")
	}
	i := stat.WhereGreatest(numbersOf(v))
	if v.Kind != value.Keyed {
		return number(v.At[i])
	}
	// Whether a key such as 180 is a count or a word, the type alone knows: the
	// value has both.
	key := value.Str(v.Keys[i])
	if n, err := strconv.Atoi(v.Keys[i]); err == nil && countKeys(v.Keys) {
		key.Kind, key.Num = value.Number, float64(n)
	}
	return key
}

// end is a function that picks an element by its place.
func end(name, doc string, example int, place func(n int) int) *Func {
	return generic(Func{
		Name: name, Doc: doc, Source: "definition", Signs: "plus as the values are",
		Params:  []Param{{Name: "x", Doc: "values in order: a list, a profile, a turn or values by key"}},
		Example: Example{name + "([um(1), um(2), um(3)])", quantity.Plain(float64(example)/1000, quantity.Length.Default()), "definition"},
		Check: func(ts []value.Type) (value.Type, *ArgError) {
			if !ts[0].Collection() {
				return value.Type{}, wantedWords(0, ts[0], "values in order are wanted: a list, a profile or values by key")
			}
			return *ts[0].Elem, nil
		},
		Eval: func(a []value.Value) value.Value {
			if len(a[0].Elems) == 0 {
				return absent("there are no values")
			}
			return a[0].Elems[place(len(a[0].Elems))]
		},
		Moves: []int{0},
	}, true)
}

func checkAt(ts []value.Type) (value.Type, *ArgError) {
	t, err := ts[0], (*ArgError)(nil)
	switch {
	case t.Kind == value.List:
		err = counts(1, ts[1])
	case t.Kind == value.Profile && single(*t.Elem):
		err = length("where", "").check(1, ts[1])
	case t.Kind == value.Turn && single(*t.Elem):
		err = angle("where", "").check(1, ts[1])
	case t.Kind == value.Keyed:
		err = wantedWords(0, t, "a profile, a turn or a list is wanted; of values by key write x[key]")
	default:
		err = wantedWords(0, t, "a profile, a turn or a list is wanted")
	}
	if err != nil {
		return value.Type{}, err
	}
	elem := *t.Elem
	if t.Kind != value.List {
		elem.Count = false
	}
	return elem, nil
}

func evalAt(a []value.Value) value.Value {
	v, x := a[0], a[1].Num
	switch {
	case len(v.Elems) == 0:
		return absent("there are no values")
	case v.Kind == value.List:
		if x < 1 || x > float64(len(v.Elems)) || x != math.Trunc(x) {
			return absent("the list has %d elements, there is no number %g", len(v.Elems), x)
		}
		return v.Elems[int(x)-1]
	case v.Kind == value.Turn:
		return atAngle(v, x)
	}
	return atStation(v, x)
}

// atStation interpolates a profile; rounding of a station changes nothing.
func atStation(v value.Value, x float64) value.Value {
	below, above := -1, -1 // the neighbours of x
	for i, s := range v.At {
		switch {
		case value.SamePlace(s, x):
			return v.Elems[i]
		case s < x && (below < 0 || s > v.At[below]):
			below = i
		case s > x && (above < 0 || s < v.At[above]):
			above = i
		}
	}
	if below < 0 || above < 0 {
		return absent("%.6g mm lies beyond the stations %.6g to %.6g mm", x, slices.Min(v.At), slices.Max(v.At))
	}
	return interpolated(v, below, above, (x-v.At[below])/(v.At[above]-v.At[below]))
}

// atAngle interpolates a turn, across where it closes too.
func atAngle(v value.Value, x float64) value.Value {
	below, above := 0, 0
	for i := range v.At {
		if before(v.At[i], x) < before(v.At[below], x) {
			below = i
		}
		if before(x, v.At[i]) < before(x, v.At[above]) {
			above = i
		}
	}
	back, on := before(v.At[below], x), before(x, v.At[above])
	switch {
	case value.SamePlace(back, 0):
		return v.Elems[below]
	case value.SamePlace(on, 0):
		return v.Elems[above]
	}
	return interpolated(v, below, above, back/(back+on))
}

// before returns how far a turn runs on from a to b, from 0 to less than 2π.
func before(a, b float64) float64 {
	d := math.Mod(b-a, 2*math.Pi)
	if d < 0 {
		d += 2 * math.Pi
	}
	return d
}

func interpolated(v value.Value, i, j int, share float64) value.Value {
	a, b := v.Elems[i], v.Elems[j]
	if s, ok := value.Blocked(a, b); ok {
		return s
	}
	return like(value.Type{Kind: a.Kind}, a.Num+(b.Num-a.Num)*share)
}

// countKeys tells whether all keys can be read as whole numbers.
func countKeys(keys []string) bool {
	for _, k := range keys {
		if _, err := strconv.Atoi(k); err != nil {
			return false
		}
	}
	return true
}
