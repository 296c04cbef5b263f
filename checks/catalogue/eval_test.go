package catalogue

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"waywright/checks/plate"
	"waywright/checks/value"
)

func eval(t *testing.T, name string, args ...value.Value) value.Value {
	t.Helper()
	f, ok := Lookup(name)
	if !ok {
		t.Fatalf("no function %s", name)
	}
	return f.Eval(args)
}

var (
	num   = value.Num
	str   = value.Str
	nums  = value.Nums
	takes = value.TakesOf
)

func listed(x ...float64) value.Value { return value.ListOf(nums(x...)...) }

func profile(at []float64, x ...float64) value.Value { return value.ProfileOf(at, nums(x...)) }

func keyed(keys string, x ...float64) value.Value {
	return value.KeyedOf(strings.Fields(keys), nums(x...))
}

// TestEvalGives asks for results that are plain by hand.
func TestEvalGives(t *testing.T) {
	at := []float64{0, 50, 100}
	down := []float64{100, 50, 0}
	celsius := value.ListOf(value.Celsius(19), value.Celsius(22))
	angles := []float64{0, math.Pi / 2, math.Pi, 3 * math.Pi / 2}
	for _, tt := range []struct {
		name string
		args []value.Value
		want value.Value
	}{
		{"numbered", []value.Value{num(3)}, listed(1, 2, 3)},
		{"numbered", []value.Value{num(0)}, value.ListOf()},
		{"stations", []value.Value{num(0), num(0.3), num(4)}, listed(0, 0.1, 0.2, 0.3)},
		{"stations", []value.Value{num(5), num(5), num(1)}, listed(5)},
		{"stations", []value.Value{num(5), num(2), num(3)}, listed(5, 3.5, 2)},
		{"reversed", []value.Value{listed(1, 2, 3)}, listed(3, 2, 1)},
		{"reversed", []value.Value{keyed("a b", 1, 2)}, keyed("b a", 2, 1)},
		{"reversed", []value.Value{profile(at, 1, 2, 3)}, profile(down, 3, 2, 1)},
		{"changes", []value.Value{keyed("1 2 3", 2, 5, 4)}, keyed("1 2 3", 2, 3, -1)},
		{"changes", []value.Value{profile(at, 2, 5, 4)}, profile(at, 2, 3, -1)},
		{"where_greatest", []value.Value{profile(at, 1, 4, 4)}, num(50)},
		{"first", []value.Value{keyed("b a", 7, 8)}, num(7)},
		{"last", []value.Value{keyed("b a", 7, 8)}, num(8)},
		{"rise", []value.Value{listed(2, 9, 5)}, num(3)},
		{"rise", []value.Value{celsius}, num(3)},
		{"mean", []value.Value{celsius}, value.Celsius(20.5)},
		{"spread", []value.Value{celsius}, num(3)},
		{"least", []value.Value{celsius}, value.Celsius(19)},
		{"at", []value.Value{profile(at, 1, 5, 9), num(75)}, num(7)},
		{"at", []value.Value{profile(down, 9, 5, 1), num(75)}, num(7)}, // read from the far end
		{"at", []value.Value{profile(at, 1, 5, 9), num(100)}, num(9)},
		{"at", []value.Value{profile(at, 1, 5, 9), num(100.00000000000001)}, num(9)}, // rounding of the station
		{"at", []value.Value{listed(7, 8, 9), num(3)}, num(9)},
		{"at", []value.Value{value.TurnOf(angles, nums(0, 1, 2, 3)), num(7 * math.Pi / 4)}, num(1.5)}, // across where it closes
		{"at", []value.Value{value.TurnOf(angles, nums(0, 1, 2, 3)), num(-math.Pi / 2)}, num(3)},
		{"at", []value.Value{value.TurnOf(angles, nums(0, 1, 2, 3)), num(4 * math.Pi)}, num(0)},
		{"abs", []value.Value{profile(at, -1, 0, 2)}, profile(at, 1, 0, 2)},
		{"sum", []value.Value{value.ListOf()}, num(0)},
		{"hypot", []value.Value{keyed("1 2", 3, 5), keyed("2 1", 12, 4)}, keyed("1 2", 5, 13)},
		{"count", []value.Value{takes(1, 1, 1)}, num(3)},
		{"count", []value.Value{value.ListOf()}, num(0)},
		{"bar_axis", []value.Value{profile(at, 2, 2, 2), profile(at, 0, 1, 2)}, profile(at, 1, 1.5, 2)},
		{"detrended", []value.Value{profile(at, 0, 3, 3)}, profile(at, -0.5, 1, -0.5)},
		{"detrended", []value.Value{profile(down, 3, 3, 0)}, profile(down, -0.5, 1, -0.5)},
		{"bow", []value.Value{profile(down, 0, 3, 0)}, num(3)},
		{"slope", []value.Value{profile(down, 10, 5, 0)}, num(0.1)},
		{"straightness", []value.Value{profile([]float64{100, 0, 50}, 0, 0, 3), str("end_points")}, num(3)},
		{"between", []value.Value{num(2), num(1)}, value.ZoneOf(2, 1)},
		{"none_below", []value.Value{num(-1)}, value.ZoneOf(-1, math.Inf(1))},
		{"scaled", []value.Value{num(0.04), num(300), num(150), num(0.005), num(0.002)}, num(0.02)},
		{"level_profile", []value.Value{listed(1e-5, 2e-5), num(200)}, profile([]float64{0, 200, 400}, 0, 0.002, 0.006)},
		{"level_profile", []value.Value{profile([]float64{300, 100}, 2e-5, 1e-5), num(200)}, profile([]float64{100, 300, 500}, 0, 0.002, 0.006)},
		{"twist", []value.Value{keyed("a b c", 4, 1, 2)}, num(3)},
		{"runout", []value.Value{value.TurnOf(angles, nums(0, 1, 2, 3))}, num(3)},
		{"sweep_height", []value.Value{num(3), num(1), num(0.5)}, num(0.5)},
		{"sweep_height", []value.Value{num(1), num(3), num(0.5), str("bore")}, num(0.5)},
		{"sweep_lateral", []value.Value{num(3), num(1), str("outside")}, num(1)},
		{"pad_gap", []value.Value{num(0.015), num(220), num(330), str("rear")}, num(0.01)},
		{"tool_spring", []value.Value{num(0), num(200), num(20)}, num(0)},
	} {
		got := eval(t, tt.name, tt.args...)
		if diff := cmp.Diff(tt.want, got, cmpopts.EquateApprox(0, 1e-12), cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
	}
	if got := eval(t, "stations", num(0), num(0.3), num(4)); got.Elems[3].Num != 0.3 {
		t.Errorf("the last station is %v, not the end itself", got.Elems[3].Num)
	}
}

// TestKeyOfGreatest: a key that is a number serves as a count and as a word.
func TestKeyOfGreatest(t *testing.T) {
	if got := eval(t, "where_greatest", keyed("1 2 3", 1, 5, 5)); got.Kind != value.Number || got.Num != 2 || got.Text != "2" {
		t.Errorf("among screws: %+v", got)
	}
	if got := eval(t, "where_greatest", keyed("near far", 1, 5)); got.Kind != value.Text || got.Text != "far" {
		t.Errorf("among stations: %+v", got)
	}
}

// TestRule07WhatSeesTakes: spread and its like see the takes of one thing; of a
// profile they see its stations, each by its mean.
func TestRule07WhatSeesTakes(t *testing.T) {
	p := value.ProfileOf([]float64{0, 50}, []value.Value{takes(1, 3), takes(10, 20)})
	for _, tt := range []struct {
		name string
		arg  value.Value
		want float64
	}{
		{"spread", takes(1, 3, 2), 2}, {"count", takes(1, 3, 2), 3}, {"least", takes(1, 3, 2), 1}, {"greatest", takes(1, 3, 2), 3},
		{"stdev", takes(1, 3, 2), 1}, {"standard_error", takes(1, 3, 2), 1 / math.Sqrt(3)}, {"mean", takes(1, 3, 2), 2},
		{"spread", p, 13}, {"count", p, 2}, {"mean", p, 8.5}, {"last", p, 15}, {"sum", p, 17}, {"rise", p, 13},
		{"abs", takes(-1, -3), 2}, {"set_over", takes(0.02, 0.04), 0.018},
	} {
		args := []value.Value{tt.arg}
		if tt.name == "set_over" {
			args = append(args, num(300), num(250))
		}
		if got := eval(t, tt.name, args...); got.State != value.Present || math.Abs(got.Num-tt.want) > 1e-12 {
			t.Errorf("%s of %+v is %+v, want %v", tt.name, tt.arg, got, tt.want)
		}
	}
}

// TestRule11States: what is not there spreads, with its reason, and the
// greatest state wins; what needs one element alone asks for no other.
func TestRule11States(t *testing.T) {
	gone := value.AbsentFor("no tailstock")
	half := value.KeyedOf([]string{"near", "far"}, []value.Value{num(1), gone})
	for _, tt := range []struct {
		name  string
		args  []value.Value
		state value.State
	}{
		{"set_over", []value.Value{num(1), gone, num(1)}, value.Absent},
		{"set_over", []value.Value{value.NotYet(), gone, num(1)}, value.Missing},
		{"mean", []value.Value{half}, value.Absent},
		{"mean", []value.Value{value.KeyedOf([]string{"a"}, []value.Value{value.NotYet()})}, value.Missing},
		{"first", []value.Value{half}, value.Present},
		{"last", []value.Value{half}, value.Absent},
		{"rise", []value.Value{half}, value.Absent},
		{"first", []value.Value{value.NotYet()}, value.Missing},
		{"at", []value.Value{value.ProfileOf([]float64{0, 50, 100}, []value.Value{num(1), num(2), gone}), num(25)}, value.Present},
		{"at", []value.Value{value.ProfileOf([]float64{0, 50, 100}, []value.Value{num(1), num(2), gone}), num(75)}, value.Absent},
		{"at", []value.Value{listed(1), value.NotYet()}, value.Missing},
		{"between", []value.Value{num(0), gone}, value.Absent},
		{"um", []value.Value{{State: value.Unmeasured, Why: "no tailstock"}}, value.Unmeasured},
	} {
		got := eval(t, tt.name, tt.args...)
		if got.State != tt.state || (tt.state == value.Absent && got.Why != "no tailstock") {
			t.Errorf("%s of %+v: state %v, %q; want %v", tt.name, tt.args, got.State, got.Why, tt.state)
		}
	}
	got := eval(t, "abs", half)
	if got.State != value.Present || got.Elems[0].State != value.Present || got.Elems[1].Why != "no tailstock" {
		t.Errorf("abs, element by element: %+v", got)
	}
}

// TestNotDefined asks for the words where a computation has no answer.
func TestNotDefined(t *testing.T) {
	at := []float64{0, 50, 100}
	angles := []float64{0, 1, 2}
	lines := func(odd string) value.Value {
		v := value.KeyedOf(plate.Lines[:], nil)
		for _, l := range plate.Lines {
			n := []float64{0, 0}
			if l == odd {
				n = []float64{0, 0, 0}
			}
			v.Elems = append(v.Elems, profile([]float64{0, 100, 200}[:len(n)], n...))
		}
		return v
	}
	for _, tt := range []struct {
		name string
		args []value.Value
		want string
	}{
		{"set_over", []value.Value{num(1), num(300), num(0)}, "the span must be above nothing"},
		{"set_over", []value.Value{num(1), num(-300), num(1)}, "the centres must be above nothing"},
		{"seat_shift", []value.Value{num(1), num(0)}, "the ratio must not be nothing"},
		{"angle_from_offset", []value.Value{num(60), num(50)}, "the reading cannot change by more than the travel"},
		{"vee_lateral", []value.Value{num(1), num(math.Pi)}, "the included angle of a vee lies between 0 and 180°"},
		{"bar_sag", []value.Value{num(30), num(300), num(301)}, "the place lies beyond the ends of the bar"},
		{"tube_sag", []value.Value{num(30), num(30), num(300), num(300)}, "the inner diameter must be below the outer one"},
		{"lever", []value.Value{num(1), num(math.Pi / 2)}, "a lever stands at less than 90° to the surface"},
		{"tan", []value.Value{num(math.Inf(1))}, "these values give no number"},
		{"growth", []value.Value{num(1), num(1), str("wood")}, `the material is "wood", not "steel", "mild_steel", "cast_iron", "brass", "bronze", "aluminium", "granite", "copper"`},
		{"mean", []value.Value{value.ListOf()}, "there are no values"},
		{"mean", []value.Value{takes()}, "there are no values"},
		{"stdev", []value.Value{takes(1)}, "two values are needed, there is one"},
		{"first", []value.Value{value.ListOf()}, "there are no values"},
		{"last", []value.Value{value.ListOf()}, "there are no values"},
		{"rise", []value.Value{value.ListOf()}, "there are no values"},
		{"where_greatest", []value.Value{value.KeyedOf(nil, nil)}, "there are no values"},
		{"numbered", []value.Value{num(-1)}, "cannot number -1 things; up to 10000 can be"},
		{"stations", []value.Value{num(0), num(1), num(1e9)}, "cannot make 1e+09 stations; 1 to 10000 can be"},
		{"stations", []value.Value{num(0), num(1), num(1)}, "one station alone cannot stand at both ends"},
		{"at", []value.Value{profile(at, 1, 2, 3), num(101)}, "101 mm lies beyond the stations 0 to 100 mm"},
		{"at", []value.Value{listed(1, 2), num(3)}, "the list has 2 elements, there is no number 3"},
		{"along", []value.Value{listed(0, 50), listed(1)}, "there are 2 places, but 1 values"},
		{"along", []value.Value{listed(0, 50, 50), listed(1, 2, 3)}, "50 mm stands twice among the places"},
		{"around", []value.Value{listed(0, math.Pi, math.Pi), listed(1, 2, 3)}, "180 ° stands twice among the places"},
		{"hypot", []value.Value{profile(at, 1, 2, 3), profile([]float64{0, 50, 90}, 1, 2, 3)}, "stations 0, 50, 100 mm are not stations 0, 50, 90 mm"},
		{"slope", []value.Value{profile(at[:1], 1)}, "a line needs two stations, there is 1"},
		{"bow", []value.Value{value.ProfileOf(nil, nil)}, "a line needs two stations, there is 0"},
		{"straightness", []value.Value{profile([]float64{5, 5}, 1, 2), str("least_squares")}, "all values lie at one station"},
		{"straightness", []value.Value{profile(at, 1, 2, 3), str("by eye")}, `"by eye" is not one of "least_squares", "minimum_zone", "end_points"`},
		{"eccentricity", []value.Value{value.TurnOf(angles[:2], nums(1, 2))}, "three angles are needed, there are 2"},
		{"roundness", []value.Value{value.TurnOf(angles, nums(1, 2, 3)), str("inscribed")}, "the angles all lie within half a turn"},
		{"high_spot", []value.Value{value.TurnOf([]float64{0, 2, 4}, nums(5, 5, 5))}, "it is out by nothing, so that no side is high"},
		{"lobes", []value.Value{value.TurnOf([]float64{0, 2, 4}, nums(5, 5, 5)), num(2)}, "2 lobes cannot be told with 3 angles: more than twice as many are needed"},
		{"runout", []value.Value{value.TurnOf(nil, nil)}, "two readings round the turn are needed, there are none"},
		{"level_profile", []value.Value{profile(at, 1, 2, 3), num(40)}, "stations 0 and 50 mm lie 50 mm apart, the feet of the level 40 mm"},
		{"level_profile", []value.Value{profile(at, 1, 2, 3), num(0)}, "the base of the level must be above nothing"},
		{"scaled", []value.Value{num(1), num(0), num(1), num(1), num(1)}, "the length that the tolerance is stated for must be above nothing"},
		{"flatness", []value.Value{value.NetOf(nil, nil, nil), str("minimum_zone")}, "there are no heights"},
		{"plate", []value.Value{lines("w_e"), num(1200), num(900)}, "line w_e has 3 steps; an even number is wanted, so that a station lies in the middle"},
		{"plate_closure", []value.Value{lines(""), num(0), num(900)}, "length and width must be above nothing"},
		{"abs", []value.Value{num(math.Inf(1))}, "these values give no number"},
	} {
		if got := eval(t, tt.name, tt.args...); got.State != value.Absent || got.Why != tt.want {
			t.Errorf("%s of %+v: %+v\nwant absent, %q", tt.name, tt.args, got, tt.want)
		}
	}
}
