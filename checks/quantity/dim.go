package quantity

import (
	"fmt"
	"strings"
)

// Mul returns the dimension of a product. Exponents stop at ±127, far beyond
// anything that has a meaning, instead of wrapping round.
func (d Dim) Mul(e Dim) Dim {
	return d.zip(e, func(a, b int) int { return a + b })
}

// Div returns the dimension of a quotient.
func (d Dim) Div(e Dim) Dim {
	return d.zip(e, func(a, b int) int { return a - b })
}

// Pow returns the dimension of the n-th power.
func (d Dim) Pow(n int) Dim {
	n = min(max(n, -1000), 1000) // the product below then fits any int
	return d.zip(Dim{}, func(a, _ int) int { return a * n })
}

// Root returns the dimension of the square root; ok tells whether there is
// one, which is so when every exponent is even.
func (d Dim) Root() (root Dim, ok bool) {
	for _, e := range d.exponents() {
		if e%2 != 0 {
			return Dim{}, false
		}
	}
	return d.zip(Dim{}, func(a, _ int) int { return a / 2 }), true
}

func (d Dim) zip(e Dim, f func(a, b int) int) Dim {
	g := func(a, b int8) int8 { return int8(min(max(f(int(a), int(b)), -127), 127)) }
	return Dim{
		Length: g(d.Length, e.Length),
		Mass:   g(d.Mass, e.Mass),
		Time:   g(d.Time, e.Time),
		Temp:   g(d.Temp, e.Temp),
		Angle:  g(d.Angle, e.Angle),
	}
}

// base describes one base dimension: its word, the name of its base unit and
// the function of the procedure language that writes it.
type base struct{ word, unit, literal string }

var bases = [...]base{
	{"length", "mm", "mm"},
	{"mass", "kg", "kilogram"},
	{"time", "s", "seconds"},
	{"temperature difference", "kelvin", "kelvin"},
	{"angle", "rad", "radian"},
}

// exponents is in the order of bases.
func (d Dim) exponents() [len(bases)]int {
	return [...]int{int(d.Length), int(d.Mass), int(d.Time), int(d.Temp), int(d.Angle)}
}

// known holds what the dimensions of the trade are called, the unit in which
// an expression without a unit of its own is shown, and how one is written in
// a procedure.
var known = map[Dim]struct{ name, unit, example string }{
	Ratio:                          {"ratio", "1", "um(20)/m(1)"},
	Length:                         {"length", "mm", "um(20)"},
	Area:                           {"area", "mm2", "mm(10)*mm(10)"},
	{Length: 3}:                    {"volume", "mm3", "mm(10)*mm(10)*mm(10)"},
	Mass:                           {"mass", "kg", "kilogram(5)"},
	Time:                           {"time", "s", "minutes(10)"},
	TempDiff:                       {"temperature difference", "kelvin", "kelvin(2)"},
	Angle:                          {"angle", "arcsec", "arcsec(12)"},
	Force:                          {"force", "N", "newton(50)"},
	Torque:                         {"torque", "newton_metre", "newton_metre(20)"},
	Pressure:                       {"pressure", "MPa", "megapascal(5)"},
	Frequency:                      {"frequency", "rpm", "rpm(500)"},
	AnglePerLong:                   {"angle per length", "arcsec/m", "arcsec(10)/m(1)"},
	{Length: -1}:                   {"ratio per length", "um/m/m", "um(20)/m(1)/m(1)"},
	{Length: 1, Time: -1}:          {"speed", "mm/min", "mm(100)/minutes(1)"},
	{Mass: 1, Time: -2}:            {"force per length", "N/um", "newton(10)/um(1)"},
	{Length: 1, Temp: -1}:          {"length per temperature difference", "um/kelvin", "um(2)/kelvin(1)"},
	{Temp: -1}:                     {"ratio per temperature difference", "um/m/kelvin", "um(11)/m(1)/kelvin(1)"},
	{Temp: 1, Length: -1}:          {"temperature difference per length", "kelvin/m", "kelvin(1)/m(1)"},
	{Length: -3, Mass: 1}:          {"density", "kg/m3", "kilogram(7850)/m(1)/m(1)/m(1)"},
	{Time: 2, Length: 0, Mass: -1}: {"length per force", "um/N", "um(1)/newton(10)"},
}

// Name returns the dimension in words, without an article: "length", "force",
// "length²·mass/time³".
func (d Dim) Name() string {
	if k, ok := known[d]; ok {
		return k.name
	}
	return d.product("·", "/", "ratio", func(i, e int) string { return bases[i].word + raised(e) })
}

// String returns the dimension in words, with its article: "a length", "an
// angle".
func (d Dim) String() string { return withArticle(d.Name()) }

func withArticle(noun string) string {
	if strings.ContainsRune("aeiou", rune(noun[0])) {
		return "an " + noun
	}
	return "a " + noun
}

// Example returns what to write in a procedure for a value of this
// dimension: "um(20)". A ratio is written as a slope; [Unit.Example] knows
// more where the unit is known.
func (d Dim) Example() string {
	if k, ok := known[d]; ok {
		return k.example
	}
	return d.product("*", "/", "um(20)/m(1)", func(i, e int) string {
		one := bases[i].literal + "(1)"
		return one + strings.Repeat(d.sign(i)+one, e-1)
	})
}

func (d Dim) sign(i int) string {
	if d.exponents()[i] < 0 {
		return "/"
	}
	return "*"
}

// Default returns the unit in which a value is shown when nothing names one.
func (d Dim) Default() Unit {
	name := ""
	if k, ok := known[d]; ok {
		name = k.unit
	} else {
		name = d.product("*", "/", "1", func(i, e int) string {
			if e == 1 {
				return bases[i].unit
			}
			return fmt.Sprintf("%s^%d", bases[i].unit, e)
		})
	}
	u, err := Lookup(name)
	if err != nil { // a power that nobody writes, such as a record from elsewhere may have
		return d.ofBases()
	}
	return u
}

// ofBases is the unit of a dimension made of the base units alone, which is in
// no list.
func (d Dim) ofBases() Unit {
	part := func(names [len(bases)]string, power func(e int) string) func(i, e int) string {
		return func(i, e int) string { return names[i] + power(e) }
	}
	plain := func(e int) string {
		if e == 1 {
			return ""
		}
		return fmt.Sprint(e)
	}
	code := d.product(".", "/", "1", part([...]string{"mm", "kg", "s", "K", "rad"}, plain))
	printed := d.product("·", "/", "1", part([...]string{"mm", "kg", "s", "K", "rad"}, raised))
	return Unit{Name: code, Symbol: printed, UCUM: code, Dim: d, Factor: 1}
}

// product joins the base dimensions that occur, those with positive exponents
// first. The function part gets the exponent without its sign; none stands
// for no dimension.
func (d Dim) product(times, per, none string, part func(i, e int) string) string {
	var over, under []string
	for i, e := range d.exponents() {
		switch {
		case e > 0:
			over = append(over, part(i, e))
		case e < 0:
			under = append(under, part(i, -e))
		}
	}
	s := strings.Join(over, times)
	if s == "" {
		if len(under) == 0 {
			return none
		}
		s = "1"
	}
	for _, u := range under {
		s += per + u
	}
	return s
}

var superscripts = strings.NewReplacer(
	"0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴", "5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹")

// raised returns the exponent as superscript figures, nothing for 1.
func raised(e int) string {
	if e == 1 {
		return ""
	}
	return superscripts.Replace(fmt.Sprint(e))
}
