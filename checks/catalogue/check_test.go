package catalogue

import (
	"testing"

	"waywright/checks/quantity"
	"waywright/checks/value"
)

var (
	lengthT = value.NumberType(quantity.Length)
	angleT  = value.NumberType(quantity.Angle)
	ratioT  = value.NumberType(quantity.Ratio)
	countT  = value.CountType()
	pointT  = value.PointType()
	diffT   = value.NumberType(quantity.TempDiff)
	takesT  = value.TakesType(lengthT)
	seats   = value.Key{Name: "seat", Words: []string{"marked", "turned"}}
	screws  = value.Key{Name: "screw", Count: true}
)

func check(t *testing.T, name string, args ...value.Type) (value.Type, *ArgError) {
	t.Helper()
	f, ok := Lookup(name)
	if !ok {
		t.Fatalf("no function %s", name)
	}
	return f.Check(args)
}

// TestCheckGives asks for the types that results have.
func TestCheckGives(t *testing.T) {
	for _, tt := range []struct {
		name string
		args []value.Type
		want value.Type
	}{
		{"um", []value.Type{countT}, lengthT},
		{"celsius", []value.Type{ratioT}, pointT},
		{"set_over", []value.Type{lengthT, lengthT, lengthT}, lengthT},
		{"set_over", []value.Type{takesT, lengthT, lengthT}, lengthT}, // takes stand for their mean
		{"axis_slope", []value.Type{lengthT, lengthT, lengthT, lengthT, lengthT}, ratioT},
		{"per_length", []value.Type{value.KeyedType(seats, ratioT), lengthT}, value.KeyedType(seats, lengthT)},
		{"mean", []value.Type{takesT}, lengthT},
		{"mean", []value.Type{value.ListType(countT)}, ratioT},
		{"mean", []value.Type{value.KeyedType(seats, value.TakesType(ratioT))}, ratioT},
		{"mean", []value.Type{value.ProfileType(pointT)}, pointT},
		{"spread", []value.Type{value.TakesType(pointT)}, diffT},
		{"stdev", []value.Type{value.ListType(pointT)}, diffT},
		{"greatest", []value.Type{value.TakesType(pointT)}, pointT},
		{"least", []value.Type{value.ListType(countT)}, countT},
		{"count", []value.Type{value.KeyedType(seats, value.KeyedType(screws, lengthT))}, countT},
		{"numbered", []value.Type{countT}, value.ListType(countT)},
		{"stations", []value.Type{lengthT, lengthT, countT}, value.ListType(lengthT)},
		{"stations", []value.Type{angleT, angleT, countT}, value.ListType(angleT)},
		{"changes", []value.Type{value.KeyedType(screws, lengthT)}, value.KeyedType(screws, lengthT)},
		{"where_greatest", []value.Type{value.KeyedType(screws, lengthT)}, countT},
		{"where_greatest", []value.Type{value.KeyedType(seats, lengthT)}, value.TextType("marked", "turned")},
		{"where_greatest", []value.Type{value.ProfileType(ratioT)}, lengthT},
		{"where_greatest", []value.Type{value.TurnType(lengthT)}, angleT},
		{"last", []value.Type{value.KeyedType(screws, value.KeyedType(seats, lengthT))}, value.KeyedType(seats, lengthT)},
		{"rise", []value.Type{value.ProfileType(pointT)}, diffT},
		{"at", []value.Type{value.ProfileType(pointT), lengthT}, pointT},
		{"at", []value.Type{value.ListType(lengthT), countT}, lengthT},
		{"abs", []value.Type{value.KeyedType(screws, lengthT)}, value.KeyedType(screws, lengthT)},
		{"sum", []value.Type{value.KeyedType(screws, lengthT)}, lengthT},
		{"hypot", []value.Type{lengthT, lengthT}, lengthT},
		{"along", []value.Type{value.ListType(lengthT), value.ListType(pointT)}, value.ProfileType(pointT)},
		{"slope", []value.Type{value.ProfileType(lengthT)}, ratioT},
		{"slope", []value.Type{value.ProfileType(pointT)}, value.NumberType(quantity.Dim{Temp: 1, Length: -1})},
		{"fit_at", []value.Type{value.ProfileType(pointT), lengthT}, pointT},
		{"straightness", []value.Type{value.ProfileType(lengthT), value.TextType("least_squares")}, lengthT},
		{"straightness", []value.Type{value.ProfileType(lengthT), value.TextType("least_squares", "end_points")}, lengthT},
		{"roundness", []value.Type{value.TurnType(takesT), value.TextType("inscribed")}, lengthT},
		{"high_spot", []value.Type{value.TurnType(lengthT)}, angleT},
		{"flatness", []value.Type{value.NetType(quantity.Length), value.TextType("minimum_zone")}, lengthT},
		{"between", []value.Type{lengthT, lengthT}, value.ZoneType(lengthT)},
		{"between", []value.Type{pointT, pointT}, value.ZoneType(pointT)},
		{"plus_minus", []value.Type{diffT}, value.ZoneType(diffT)},
		{"scaled", []value.Type{angleT, lengthT, lengthT, angleT, angleT}, angleT},
		{"pad_gap", []value.Type{lengthT, lengthT, lengthT, value.TextType("nose", "rear")}, lengthT},
		{"sweep_height", []value.Type{lengthT, lengthT, lengthT}, lengthT},
		{"level_slope", []value.Type{angleT, angleT}, angleT},
		{"twist", []value.Type{value.ProfileType(ratioT)}, ratioT},
		{"level_profile", []value.Type{value.ProfileType(angleT), lengthT}, value.ProfileType(lengthT)},
		{"wind", []value.Type{ratioT, ratioT, lengthT}, value.NumberType(quantity.Dim{Length: -1})},
	} {
		got, err := check(t, tt.name, tt.args...)
		if err != nil || !got.Equal(tt.want) {
			t.Errorf("%s of %v is %v, %+v; want %v", tt.name, tt.args, got, err, tt.want)
		}
	}
}

// TestCheckRefuses asks for the words that a person gets to read.
func TestCheckRefuses(t *testing.T) {
	for _, tt := range []struct {
		name string
		args []value.Type
		arg  int
		want string
	}{
		{"set_over", []value.Type{angleT, lengthT, lengthT}, 0, "is an angle, but a length is wanted: write mm(…)"},
		{"set_over", []value.Type{lengthT, countT, lengthT}, 1, "is a whole number, but a length is wanted: write mm(…)"},
		{"set_over", []value.Type{lengthT, lengthT}, -1, "has 2 arguments; write set_over(taper, centres, span)"},
		{"set_over", []value.Type{value.ProfileType(lengthT), lengthT, lengthT}, 0, "is a profile of lengths, but a length is wanted: write mm(…)"},
		{"lever", []value.Type{lengthT}, -1, "has one argument; write lever(reading, angle, [calibrated])"},
		{"half_angle", []value.Type{angleT}, 0, "is an angle, but a ratio is wanted, such as um(20)/m(1), or tan(…) of an angle"},
		{"slide_offset", []value.Type{ratioT, lengthT}, 0, "is a ratio, but an angle is wanted: write deg(…), or atan(…) of a ratio"},
		{"tool_spring", []value.Type{lengthT, lengthT, lengthT}, 0, "is a length, but a force is wanted: write newton(…)"},
		{"growth", []value.Type{lengthT, pointT, value.TextType("steel")}, 1, "is a temperature, but a temperature difference is wanted: write kelvin(…)"},
		{"at_20", []value.Type{lengthT, diffT, value.TextType("steel")}, 1, "is a temperature difference, but a temperature is wanted: write celsius(…)"},
		{"growth", []value.Type{lengthT, diffT, value.TextType("wood")}, 2, `is "wood", but one of "steel", "mild_steel", "cast_iron", "brass", "bronze", "aluminium", "granite", "copper" is wanted`},
		{"growth", []value.Type{lengthT, diffT, value.TextType()}, 2, `may be any text, but one of "steel", "mild_steel", "cast_iron", "brass", "bronze", "aluminium", "granite", "copper" is wanted`},
		{"pad_gap", []value.Type{lengthT, lengthT, lengthT, lengthT}, 3, `is a length, but one of "nose", "rear" is wanted`},
		{"um", []value.Type{lengthT}, 0, "is a length, but a plain number is wanted"},
		{"mean", []value.Type{lengthT}, 0, "is a length, but repeated takes, a profile, a turn, values by key or a list are wanted"},
		{"mean", []value.Type{value.KeyedType(screws, value.KeyedType(seats, lengthT))}, 0, "holds lengths keyed by screw and seat, but values by one key alone are wanted: pick a key, or work it out for each with a for"},
		{"mean", []value.Type{value.ListType(value.TruthType())}, 0, "is a list of truths, but numbers are wanted"},
		{"sum", []value.Type{value.ListType(pointT)}, 0, "is a list of temperatures, but temperatures have no sum"},
		{"changes", []value.Type{value.ListType(pointT)}, 0, "is a list of temperatures, but numbers in order are wanted: a list, a profile or values by key"},
		{"where_greatest", []value.Type{value.ListType(lengthT)}, 0, "is a list of lengths, but a profile, a turn or values by one key are wanted"},
		{"at", []value.Type{value.KeyedType(seats, lengthT), lengthT}, 0, "holds lengths keyed by seat, but a profile, a turn or a list is wanted; of values by key write x[key]"},
		{"at", []value.Type{value.ListType(lengthT), ratioT}, 1, "is a ratio, but a whole number is wanted, without a unit"},
		{"numbered", []value.Type{lengthT}, 0, "is a length, but a whole number is wanted, without a unit"},
		{"hypot", []value.Type{lengthT, angleT}, 1, "is an angle, the one before it a length: both must be alike"},
		{"hypot", []value.Type{value.KeyedType(screws, lengthT), value.ProfileType(lengthT)}, 1, "is a profile of lengths, which does not go together with lengths keyed by screw"},
		{"hypot", []value.Type{value.KeyedType(seats, lengthT), value.KeyedType(value.Key{Words: []string{"marked"}}, lengthT)}, 1, `has the keys "marked", the other has "marked", "turned"`},
		{"between", []value.Type{lengthT, countT}, 1, "is a whole number, the one before it a length: both must be alike"},
		{"plus_minus", []value.Type{pointT}, 0, "is a temperature, but a number is wanted, such as um(20)"},
		{"scaled", []value.Type{lengthT, lengthT, lengthT, angleT, lengthT}, 3, "is an angle, but a length is wanted: write mm(…)"},
		{"slope", []value.Type{lengthT}, 0, "is a length, but a profile is wanted: a reading with along, or along([…], […])"},
		{"straightness", []value.Type{value.ProfileType(lengthT), value.TextType("inscribed")}, 1, `is "inscribed", but one of "least_squares", "minimum_zone", "end_points" is wanted`},
		{"runout", []value.Type{value.ProfileType(lengthT)}, 0, "is a profile of lengths, but a turn is wanted: a reading with around, or around([…], […])"},
		{"flatness", []value.Type{value.ProfileType(lengthT), value.TextType("minimum_zone")}, 0, "is a profile of lengths, but heights over a plane are wanted, such as plate(…) gives"},
		{"plate", []value.Type{value.KeyedType(value.Key{Words: []string{"nw_se"}}, value.ProfileType(angleT)), lengthT, lengthT}, 0, `has no line ne_sw; the keys wanted are "nw_se", "ne_sw", "nw_ne", "sw_se", "nw_sw", "ne_se", "w_e", "n_s"`},
		{"plate", []value.Type{value.KeyedType(seats, value.ProfileType(lengthT)), lengthT, lengthT}, 0, `holds profiles of lengths keyed by seat, but profiles of slopes or angles are wanted, by the keys "nw_se", "ne_sw", "nw_ne", "sw_se", "nw_sw", "ne_se", "w_e", "n_s"`},
	} {
		_, err := check(t, tt.name, tt.args...)
		if err == nil || err.Arg != tt.arg || err.What != tt.want {
			t.Errorf("%s of %v: %+v\nwant argument %d %q", tt.name, tt.args, err, tt.arg, tt.want)
		}
	}
}
