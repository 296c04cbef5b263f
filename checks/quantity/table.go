package quantity

import "math/big"

// entry is a named unit. Its factor is exact, except that π carries fifty
// digits; aliases are the other spellings that people use.
type entry struct {
	Unit
	factor  *big.Rat // base units in one of this unit
	offset  *big.Rat // only for points
	usual   int      // decimals shown where nothing else says how many
	aliases []string
}

// The exact factors. Sources: the inch, the pound and the pound-force are
// exact by NIST SP 811 (2008), Appendix B; the degree Fahrenheit too. The
// rest follows from the meaning of the SI prefixes and of a turn.
var (
	pi, _   = new(big.Rat).SetString("3.14159265358979323846264338327950288419716939937510")
	inchMM  = big.NewRat(254, 10)
	footMM  = times(inchMM, big.NewRat(12, 1))
	degree  = times(pi, big.NewRat(1, 180))
	poundKg = ratio("0.45359237")
	lbfBase = ratio("4448.2216152605") // kg·mm/s²; 4.4482216152605 N
)

func ratio(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("quantity: bad factor " + s)
	}
	return r
}

func times(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }
func over(a, b *big.Rat) *big.Rat  { return new(big.Rat).Quo(a, b) }

// named makes an entry. UCUM codes are written from memory of the UCUM
// tables (ucum.org, case-sensitive form).
func named(name, symbol, ucum string, d Dim, factor *big.Rat, usual int, aliases ...string) entry {
	f, _ := factor.Float64()
	return entry{
		Unit:    Unit{Name: name, Symbol: symbol, UCUM: ucum, Dim: d, Factor: f},
		factor:  factor,
		usual:   usual,
		aliases: aliases,
	}
}

// point makes a temperature scale of an entry.
func point(e entry, offset *big.Rat) entry {
	e.Point = true
	e.offset = offset
	e.Offset, _ = offset.Float64()
	return e
}

// The units with a name of their own. Where two share a spelling, as the
// minute of time and of angle do, the earlier one is meant unless the
// question asks for the other's dimension.
var entries = []entry{
	named("mm", "mm", "mm", Length, ratio("1"), 3,
		"millimetre", "millimetres", "millimeter", "millimeters"),
	named("um", "µm", "um", Length, ratio("0.001"), 1,
		"µm", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"),
	named("nm", "nm", "nm", Length, ratio("0.000001"), 0,
		"nanometre", "nanometres", "nanometer", "nanometers"),
	named("cm", "cm", "cm", Length, ratio("10"), 2,
		"centimetre", "centimetres", "centimeter", "centimeters"),
	named("m", "m", "m", Length, ratio("1000"), 3, "metre", "metres", "meter", "meters"),
	named("inch", "in", "[in_i]", Length, inchMM, 4, "in", "inches", `"`),
	named("thou", "thou", "[mil_i]", Length, times(inchMM, ratio("0.001")), 2, "thous"),
	named("tenth_thou", "tenths of a thou", "10*-4.[in_i]", Length, times(inchMM, ratio("0.0001")), 1,
		"tenths_thou", "tenth_of_a_thou", "tenths_of_a_thou"),
	named("microinch", "µin", "10*-6.[in_i]", Length, times(inchMM, ratio("0.000001")), 0,
		"uin", "µin", "microinches"),
	named("foot", "ft", "[ft_i]", Length, footMM, 3, "ft", "feet", "'"),

	named("s", "s", "s", Time, ratio("1"), 0, "second", "seconds", "sec", "secs"),
	named("min", "min", "min", Time, ratio("60"), 1, "minute", "minutes", "mins"),
	named("h", "h", "h", Time, ratio("3600"), 1, "hour", "hours", "hr", "hrs"),
	named("day", "d", "d", Time, ratio("86400"), 1, "d", "days"),

	named("deg", "°", "deg", Angle, degree, 4, "°", "degree", "degrees"),
	named("arcmin", "′", "'", Angle, times(degree, big.NewRat(1, 60)), 2,
		"'", "arcmins", "arcminute", "arcminutes", "minute", "minutes", "min"),
	named("arcsec", "″", "''", Angle, times(degree, big.NewRat(1, 3600)), 1,
		`"`, "arcsecs", "arcsecond", "arcseconds", "second", "seconds", "sec"),
	named("rad", "rad", "rad", Angle, ratio("1"), 6, "radian", "radians"),
	named("mrad", "mrad", "mrad", Angle, ratio("0.001"), 3, "milliradian", "milliradians"),
	named("urad", "µrad", "urad", Angle, ratio("0.000001"), 0, "µrad", "microradian", "microradians"),

	point(named("celsius", "°C", "Cel", TempDiff, ratio("1"), 1, "°C", "C", "c", "degC"), ratio("0")),
	point(named("fahrenheit", "°F", "[degF]", TempDiff, ratio("5/9"), 1, "°F", "F", "f", "degF"), ratio("-160/9")),
	named("kelvin", "K", "K", TempDiff, ratio("1"), 1, "K", "k", "kelvins", "°C", "C", "c", "degC", "celsius"),
	named("fahrenheit_degree", "°F", "[degR]", TempDiff, ratio("5/9"), 1,
		"fahrenheit_degrees", "°F", "F", "f", "degF", "fahrenheit"),

	named("kg", "kg", "kg", Mass, ratio("1"), 2, "kilogram", "kilograms", "kilo", "kilos"),
	named("g", "g", "g", Mass, ratio("0.001"), 0, "gram", "grams"),
	named("lb", "lb", "[lb_av]", Mass, poundKg, 2, "lbs", "pound", "pounds"),

	named("N", "N", "N", Force, ratio("1000"), 1, "newton", "newtons"),
	named("kN", "kN", "kN", Force, ratio("1000000"), 3, "kilonewton", "kilonewtons"),
	named("lbf", "lbf", "[lbf_av]", Force, lbfBase, 1, "lb", "lbs", "pound", "pounds"),
	named("newton_metre", "N·m", "N.m", Torque, ratio("1000000"), 1,
		"N·m", "Nm", "newton_metres", "newton_meter", "newton_meters"),
	named("foot_pound", "lbf·ft", "[lbf_av].[ft_i]", Torque, times(lbfBase, footMM), 1,
		"lbf·ft", "ft·lbf", "ft·lb", "lb·ft", "ftlb", "foot_pounds"),

	named("Pa", "Pa", "Pa", Pressure, ratio("0.001"), 0, "pascal", "pascals"),
	named("kPa", "kPa", "kPa", Pressure, ratio("1"), 1, "kilopascal", "kilopascals"),
	named("MPa", "MPa", "MPa", Pressure, ratio("1000"), 2, "megapascal", "megapascals"),
	named("bar", "bar", "bar", Pressure, ratio("100"), 2, "bars"),
	named("psi", "psi", "[psi]", Pressure, over(lbfBase, times(inchMM, inchMM)), 1),

	named("Hz", "Hz", "Hz", Frequency, ratio("1"), 2, "hertz"),
	named("rpm", "rpm", "{rev}/min", Frequency, ratio("1/60"), 0, "rev/min", "r/min"),

	named("1", "", "1", Ratio, ratio("1"), 6),
	named("%", "%", "%", Ratio, ratio("0.01"), 0, "percent", "pct"),
	named("ppm", "ppm", "[ppm]", Ratio, ratio("0.000001"), 1),
}

// Units returns the units that have a name of their own, in the order of the
// reference page. Others are made from them: see [Lookup].
func Units() []Unit {
	us := make([]Unit, len(entries))
	for i, e := range entries {
		us[i] = e.Unit
	}
	return us
}
