package quantity

// Literal is a function of the procedure language that writes a number with
// its unit: um(20).
type Literal struct {
	Name string
	Unit Unit
	Doc  string // one line: what it writes
}

var literals = []struct{ name, unit, doc string }{
	{"mm", "mm", "millimetres"},
	{"um", "um", "micrometres, 0.001 mm"},
	{"nm", "nm", "nanometres, 0.000 001 mm"},
	{"cm", "cm", "centimetres"},
	{"m", "m", "metres"},
	{"inch", "inch", "inches, 25.4 mm"},
	{"thou", "thou", "thousandths of an inch"},
	{"tenth_thou", "tenth_thou", "tenths of a thou, 0.0001 inch"},
	{"foot", "foot", "feet, 12 inches"},
	{"deg", "deg", "degrees of angle"},
	{"arcmin", "arcmin", "minutes of angle"},
	{"arcsec", "arcsec", "seconds of angle"},
	{"radian", "rad", "radians: an angle from a ratio of lengths"},
	{"celsius", "celsius", "a temperature in degrees Celsius"},
	{"fahrenheit", "fahrenheit", "a temperature in degrees Fahrenheit"},
	{"kelvin", "kelvin", "a difference of temperature in kelvins"},
	{"seconds", "s", "seconds of time"},
	{"minutes", "min", "minutes of time"},
	{"hours", "h", "hours"},
	{"days", "day", "days of 24 hours"},
	{"kilogram", "kg", "kilograms"},
	{"newton", "N", "newtons"},
	{"newton_metre", "newton_metre", "newton metres"},
	{"megapascal", "MPa", "megapascals, newtons a square millimetre"},
	{"hertz", "Hz", "hertz, times a second"},
	{"rpm", "rpm", "turns a minute"},
	{"percent", "%", "hundredths"},
}

// Literals returns the functions of the language that write numbers with
// units. Each takes one plain number.
func Literals() []Literal {
	ls := make([]Literal, len(literals))
	for i, l := range literals {
		ls[i] = Literal{l.name, mustLookup(l.unit), l.doc}
	}
	return ls
}

// LiteralUnit returns the unit that the function of that name writes.
func LiteralUnit(name string) (u Unit, ok bool) {
	for _, l := range literals {
		if l.name == name {
			return mustLookup(l.unit), true
		}
	}
	return Unit{}, false
}

// literalOf returns the function that writes the unit, or "".
func literalOf(unit string) string {
	for _, l := range literals {
		if l.unit == unit {
			return l.name
		}
	}
	return ""
}
