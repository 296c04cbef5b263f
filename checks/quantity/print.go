package quantity

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
)

// decimal returns the decimal that the number prints as, exactly: 0.1 is one
// tenth. The number must be finite.
func decimal(v float64) *big.Rat {
	r, ok := new(big.Rat).SetString(strconv.FormatFloat(v, 'g', -1, 64))
	if !ok {
		return new(big.Rat)
	}
	return r
}

// Base returns the value in base units of v of this unit, correctly rounded
// for the decimal that v prints as: um(3) and mm(0.003) are the same number.
func (u Unit) Base(v float64) float64 {
	if !finite(v) || u.Factor == 1 && u.Offset == 0 {
		return v
	}
	if f, ok := shifted(v, u.tens()); ok {
		return f
	}
	f, _ := u.exact().base(decimal(v)).Float64()
	return f
}

// Of returns the base value as a number of this unit; see [Unit.Base].
func (u Unit) Of(base float64) float64 {
	if !finite(base) || u.Factor == 1 && u.Offset == 0 {
		return base
	}
	if f, ok := shifted(base, -u.tens()); ok {
		return f
	}
	f, _ := u.exact().of(decimal(base)).Float64()
	return f
}

// tens is the power of ten that the unit is of its base unit; 0 where it is none
// that is met often.
func (u Unit) tens() int {
	if u.Offset != 0 || u.Point {
		return 0
	}
	switch u.Factor {
	case 1e-6:
		return -6
	case 1e-3:
		return -3
	case 10:
		return 1
	case 1e3:
		return 3
	}
	return 0
}

// shifted returns the decimal that v prints as with its point moved by n places,
// correctly rounded; ok is false where it is not known to be.
func shifted(v float64, n int) (x float64, ok bool) {
	if n == 0 {
		return 0, false
	}
	if v == 0 {
		return 0, true
	}
	var room [32]byte
	b := strconv.AppendFloat(room[:0], v, 'e', -1, 64)
	e := len(b) - 1
	for b[e] != 'e' {
		e--
	}
	power, err := strconv.Atoi(string(b[e+1:]))
	if err != nil {
		return 0, false
	}
	x, err = strconv.ParseFloat(string(strconv.AppendInt(b[:e+1], int64(power+n), 10)), 64)
	return x, err == nil
}

func (e exactUnit) base(r *big.Rat) *big.Rat {
	b := times(r, e.factor)
	if e.offset != nil {
		b.Add(b, e.offset)
	}
	return b
}

func (e exactUnit) of(base *big.Rat) *big.Rat {
	if e.factor.Sign() == 0 {
		return new(big.Rat)
	}
	if e.offset != nil {
		base = new(big.Rat).Sub(base, e.offset)
	}
	return over(base, e.factor)
}

// Difference returns the unit in which differences of values in u are
// printed: u itself, but a temperature difference for a temperature.
func (u Unit) Difference() Unit {
	switch {
	case !u.Point:
		return u
	case u.Name == "fahrenheit":
		return mustLookup("fahrenheit_degree")
	}
	return mustLookup("kelvin")
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// Style says how numbers are printed. The zero Style is for terminals.
type Style struct {
	Minus  string // the minus sign; "" is the hyphen that every terminal has
	Point  string // the decimal sign; "" is a point
	NoUnit bool   // the number alone
}

// TrueMinus is the minus sign for pages.
const TrueMinus = "−"

// Format prints v, in base units, as a number of u with so many decimals, and
// the unit's symbol: "0.003 mm", "12″". Halves are rounded away from zero, by
// the decimal that v prints as, so that 0.0025 mm and 2.5 µm round alike.
// Decimals below zero round to tens, hundreds and so on. Nothing prints as
// "-0".
func Format(v float64, u Unit, decimals int) string {
	return Style{}.Format(v, u, decimals)
}

// Number is [Format] without the symbol.
func Number(v float64, u Unit, decimals int) string {
	return Style{NoUnit: true}.Format(v, u, decimals)
}

// Format prints as [Format] does, in this style.
func (s Style) Format(v float64, u Unit, decimals int) string {
	switch {
	case math.IsNaN(v):
		return "not a number"
	case math.IsInf(v, 1):
		return "no limit above"
	case math.IsInf(v, -1):
		return "no limit below"
	}
	return s.dress(fixed(u.exact().of(decimal(v)), decimals), u)
}

// dress puts signs and symbol to the figures of a number.
func (s Style) dress(figures string, u Unit) string {
	if strings.Trim(figures, "-0.") == "" {
		figures = strings.TrimPrefix(figures, "-")
	}
	if s.Minus != "" {
		figures = strings.ReplaceAll(figures, "-", s.Minus)
	}
	if s.Point != "" {
		figures = strings.Replace(figures, ".", s.Point, 1)
	}
	if s.NoUnit {
		return figures
	}
	return WithSymbol(figures, u)
}

// WithSymbol joins printed figures and the unit's symbol. The signs for
// degrees, minutes and seconds of angle touch the number.
func WithSymbol(figures string, u Unit) string {
	switch {
	case u.Symbol == "":
		return figures
	case strings.HasPrefix(u.Symbol, "°C"), strings.HasPrefix(u.Symbol, "°F"):
		return figures + " " + u.Symbol
	case strings.ContainsAny(u.Symbol[:min(len(u.Symbol), 2)], "°"), strings.HasPrefix(u.Symbol, "′"), strings.HasPrefix(u.Symbol, "″"):
		return figures + u.Symbol
	}
	return figures + " " + u.Symbol
}

const maxDecimals = 60

// fixed prints the exact number with so many decimals, in powers of ten where
// it is too long to read.
func fixed(r *big.Rat, decimals int) string {
	decimals = max(min(decimals, maxDecimals), -maxDecimals)
	if r.Cmp(tooLong) >= 0 || r.Cmp(new(big.Rat).Neg(tooLong)) <= 0 {
		return new(big.Float).SetPrec(256).SetRat(r).Text('e', 16)
	}
	if decimals >= 0 {
		return r.FloatString(decimals)
	}
	scale := powerOfTen(-decimals)
	s := over(r, scale).FloatString(0)
	if strings.Trim(s, "-0") == "" {
		return "0"
	}
	return s + strings.Repeat("0", -decimals)
}

var tooLong = powerOfTen(18)

func powerOfTen(n int) *big.Rat {
	p := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(n)), nil)
	return new(big.Rat).SetInt(p)
}

// Plain prints v with as few figures as give exactly v back when they are
// typed: what was typed, in most cases.
func Plain(v float64, u Unit) string {
	return Style{}.Plain(v, u)
}

// Plain prints as [Plain] does, in this style.
func (s Style) Plain(v float64, u Unit) string {
	if !finite(v) {
		return s.Format(v, u, 0)
	}
	e := u.exact()
	x := e.of(decimal(v))
	// Near nought of a point on a scale, 0.1 °F, the base value has few figures to
	// spare: there the places behind the point tell what was typed.
	places := TrimNoughts(x.FloatString(9))
	if r, _ := new(big.Rat).SetString(places); new(big.Rat).Abs(x).Cmp(big.NewRat(1000, 1)) < 0 {
		if got, _ := e.base(r).Float64(); got == v {
			if places == "-0" {
				places = "0"
			}
			return s.dress(places, u)
		}
	}
	figures := ""
	for _, n := range []int{12, 15, 17, 21, 30, maxFigures} {
		figures = significant(x, n)
		r, _ := new(big.Rat).SetString(figures)
		if got, _ := e.base(r).Float64(); got == v {
			break
		}
	}
	return s.dress(figures, u)
}

// TrimNoughts takes the noughts behind the decimal point off printed figures,
// and leaves those of a power of ten: "1.50e+20" is "1.5e+20".
func TrimNoughts(figures string) string {
	mantissa, exp, power := strings.Cut(figures, "e")
	if strings.Contains(mantissa, ".") {
		mantissa = strings.TrimRight(strings.TrimRight(mantissa, "0"), ".")
	}
	if power {
		return mantissa + "e" + exp
	}
	return mantissa
}

// maxFigures is how many figures a typed number may have: more than any
// instrument shows, and enough for [Plain].
const maxFigures = 40

// significant prints the number with at most so many significant figures and
// no noughts behind.
func significant(r *big.Rat, figures int) string {
	f := new(big.Float).SetPrec(512).SetRat(r)
	s := f.Text('g', figures)
	mantissa, exp, _ := strings.Cut(TrimNoughts(s), "e")
	if exp == "" {
		return mantissa
	}
	if n, err := strconv.Atoi(exp); err == nil && n >= -12 && n < 0 {
		if t, ok := new(big.Rat).SetString(s); ok {
			return strings.TrimRight(strings.TrimRight(t.FloatString(figures-n), "0"), ".")
		}
	}
	return mantissa + "e" + exp
}

// Sexagesimal prints an angle, in radians, as degrees, minutes and seconds,
// the seconds with so many decimals: "1°26′16″".
func Sexagesimal(rad float64, decimals int) string {
	if !finite(rad) {
		return Format(rad, Unit{}, 0)
	}
	decimals = max(0, min(decimals, 9))
	sec := mustLookup("arcsec").exact().of(decimal(math.Abs(rad)))
	parts := ratio(sec.FloatString(decimals)) // rounded first, so that 60″ carries
	sign := ""
	if rad < 0 && parts.Sign() > 0 {
		sign = "-"
	}
	whole := new(big.Int).Quo(parts.Num(), parts.Denom())
	minutes, _ := new(big.Int).QuoRem(whole, big.NewInt(60), new(big.Int))
	rest := new(big.Rat).Sub(parts, new(big.Rat).SetInt(new(big.Int).Mul(minutes, big.NewInt(60))))
	degrees, left := new(big.Int).QuoRem(minutes, big.NewInt(60), new(big.Int))
	return fmt.Sprintf("%s%v°%v′%s″", sign, degrees, left, rest.FloatString(decimals))
}

// Short is [Plain], but with six figures where more than nine would be needed:
// what a computation leaves behind says nothing to who reads it.
func Short(x float64, u Unit) string {
	text := Plain(x, u)
	if figuresIn(text) <= 9 {
		return text
	}
	y := u.Of(x)
	scale := math.Pow(10, 5-math.Floor(math.Log10(math.Abs(y))))
	return Plain(u.Base(math.Round(y*scale)/scale), u)
}

// figuresIn counts the figures of the number that a text begins with, without the
// noughts before the first other one.
func figuresIn(text string) int {
	n := 0
	for _, r := range strings.TrimLeft(text, "-0.") {
		switch {
		case r >= '0' && r <= '9':
			n++
		case r != '.':
			return n
		}
	}
	return n
}
