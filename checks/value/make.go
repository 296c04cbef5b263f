package value

// Num is a number in base units.
func Num(x float64) Value { return Value{Kind: Number, Num: x} }

// Celsius is a temperature.
func Celsius(x float64) Value { return Value{Kind: Point, Num: x} }

// Bool is true or false.
func Bool(b bool) Value { return Value{Kind: Truth, Truth: b} }

// Str is a text.
func Str(s string) Value { return Value{Kind: Text, Text: s} }

// TakesOf are repeated takes, in base units.
func TakesOf(x ...float64) Value { return Value{Kind: Takes, Takes: x} }

// Nums are numbers in base units, to make collections of.
func Nums(x ...float64) []Value {
	out := make([]Value, len(x))
	for i := range x {
		out[i] = Num(x[i])
	}
	return out
}

// ProfileOf is a profile: elems at the stations at, in mm.
func ProfileOf(at []float64, elems []Value) Value {
	return Value{Kind: Profile, At: at, Elems: elems}
}

// TurnOf is a turn: elems at the angles at, in rad.
func TurnOf(at []float64, elems []Value) Value {
	return Value{Kind: Turn, At: at, Elems: elems}
}

// KeyedOf are values by key, in the order of taking.
func KeyedOf(keys []string, elems []Value) Value {
	return Value{Kind: Keyed, Keys: keys, Elems: elems}
}

// ObjectOf are values that belong together, by name.
func ObjectOf(names []string, parts []Value) Value {
	return Value{Kind: Object, Keys: names, Elems: parts}
}

// ListOf is a list.
func ListOf(elems ...Value) Value { return Value{Kind: List, Elems: elems} }

// NetOf are heights z, in base units, at the places x and y, in mm.
func NetOf(x, y, z []float64) Value { return Value{Kind: Net, X: x, Y: y, Z: z} }

// ZoneOf is a tolerance zone. A limit that is not there is an infinity.
func ZoneOf(lo, hi float64) Value { return Value{Kind: Zone, Lo: lo, Hi: hi} }

// AbsentFor is a value that does not apply, with the reason in words. Its kind
// is not known.
func AbsentFor(why string) Value { return Value{State: Absent, Why: why} }

// NotYet is a value that is missing. Its kind is not known.
func NotYet() Value { return Value{State: Missing} }
