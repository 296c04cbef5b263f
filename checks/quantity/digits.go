package quantity

import (
	"math"
	"math/big"
	"strings"
)

// Rounded prints a value and its expanded uncertainty, both in base units, as
// numbers of u without symbol: the uncertainty to two figures, the value to
// the same place (measure rule 19). An uncertainty of nothing prints as "0",
// and the value then in full.
func Rounded(y, U float64, u Unit) (ys, Us string) {
	d, ok := twoFigures(U, u)
	if !ok {
		return Style{NoUnit: true}.Plain(y, u), "0"
	}
	return Number(y, u, d), Number(U, u.Difference(), d)
}

// RoundedDecimals returns the decimals that [Rounded] prints. They are below
// zero where U is a hundred or more. An U of nothing gives [Usual].
func RoundedDecimals(U float64, u Unit) int {
	d, ok := twoFigures(U, u)
	if !ok {
		return Usual(u)
	}
	return d
}

func twoFigures(U float64, u Unit) (decimals int, ok bool) {
	if !finite(U) || U <= 0 {
		return 0, false
	}
	x := u.Difference().exact().of(decimal(U))
	d := 1 - magnitude(x)
	if figuresIn(fixed(x, d)) > 2 { // 0.0995 rounds to 0.10, not to 0.100
		d--
	}
	return d, true
}

// figuresIn counts from the first figure that is not nought; noughts that
// stand for rounded places count too, but only one of them can occur.
func figuresIn(s string) int {
	s = strings.TrimLeft(strings.Replace(s, ".", "", 1), "-0")
	if strings.Trim(s, "0") == "1" {
		return len(s)
	}
	return len(strings.TrimRight(s, "0"))
}

// magnitude returns the power of ten of the first figure: 0 for 1 to 9.99…,
// −3 for 0.001. The number must not be nought.
func magnitude(x *big.Rat) int {
	x = new(big.Rat).Abs(x)
	f, _ := x.Float64()
	n := 0
	if f > 0 && !math.IsInf(f, 0) {
		n = int(math.Floor(math.Log10(f)))
	}
	for x.Cmp(tenTo(n)) < 0 {
		n--
	}
	for x.Cmp(tenTo(n+1)) >= 0 {
		n++
	}
	return n
}

func tenTo(n int) *big.Rat {
	if n < 0 {
		return new(big.Rat).Inv(powerOfTen(-n))
	}
	return powerOfTen(n)
}

// Usual returns the decimals that are shown where neither an uncertainty nor
// an instrument says how many.
func Usual(u Unit) int {
	for _, e := range entries {
		if e.Name == u.Name {
			return e.usual
		}
	}
	return Decimals(u, u.Dim.usualStep())
}

// usualStep is what the last figure shown stands for, in base units, in units
// that have no name of their own.
func (d Dim) usualStep() float64 {
	switch d {
	case Ratio:
		return 1e-7 // 0.1 µm/m
	case AnglePerLong:
		return 4.8e-9 // about 1″/m
	}
	return 0
}

// Decimals returns the decimals that show every step of an instrument: 3 for
// a step of 0.001 mm, 4 for one of 0.0005 mm, 2 for one of 0.25. A step that
// has no end in this unit, as 0.01 mm in inches has not, gets as many as show
// each step apart from the next.
func Decimals(u Unit, step float64) int {
	if !finite(step) || step <= 0 {
		return 3
	}
	x := u.Difference().exact().of(decimal(step))
	apart := max(0, -magnitude(x))
	for d := range apart + 3 {
		if times(x, powerOfTen(d)).IsInt() {
			return min(d, maxDecimals)
		}
	}
	return min(apart, maxDecimals)
}

// Natural prints v with as many decimals as the instrument's smallest step
// needs, and the symbol. Without a step it prints [Usual] decimals.
func Natural(v float64, u Unit, step float64) string {
	if !finite(step) || step <= 0 {
		return Format(v, u, Usual(u))
	}
	return Format(v, u, Decimals(u, step))
}

// EnoughDigits returns the decimals, at least least, with which y prints on
// the same side of every limit on which it is, and prints as equal to one
// only if it is. So printed figures never contradict a verdict. Limits that
// are not finite are passed over; so is a difference beyond the fifteenth
// figure, which no float64 can be trusted with.
func EnoughDigits(y float64, u Unit, least int, limits ...float64) int {
	if !finite(y) {
		return least
	}
	e := u.exact()
	most := least
	if y != 0 {
		most = max(least, 15-magnitude(decimal(y))+max(0, magnitude(e.factor)))
	}
	for d := least; d < min(most, maxDecimals); d++ {
		if agrees(e, y, d, limits) {
			return d
		}
	}
	return least
}

// agrees tells whether y prints as it compares to the limits.
func agrees(e exactUnit, y float64, decimals int, limits []float64) bool {
	printed := func(v float64) *big.Rat {
		r, _ := new(big.Rat).SetString(fixed(e.of(decimal(v)), decimals))
		return r
	}
	at := printed(y)
	for _, limit := range limits {
		if !finite(limit) {
			continue
		}
		want := 0
		switch {
		case y < limit:
			want = -1
		case y > limit:
			want = 1
		}
		if at.Cmp(printed(limit)) != want {
			return false
		}
	}
	return true
}
