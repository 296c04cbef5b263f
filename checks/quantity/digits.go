package quantity

import (
	"math"
	"math/big"
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

// ValueDecimals returns the decimals for a value with the expanded uncertainty
// U, both in base units: those of [RoundedDecimals]. A plain number without
// uncertainty is a count, or made of counts: a whole one has no decimals, a
// fraction as many as it is written with, three at most, unless it is small.
func ValueDecimals(y, U float64, u Unit) int {
	d := RoundedDecimals(U, u)
	if U > 0 || u.Name != Ratio.Default().Name || !finite(y) {
		return d
	}
	for n := range d {
		scale := math.Pow(10, float64(n))
		if x := y * scale; math.Abs(x-math.Round(x)) <= lastBits*max(1, math.Abs(x)) || n == 3 && math.Abs(y) >= 0.1 {
			return n
		}
	}
	return d
}

func twoFigures(U float64, u Unit) (decimals int, ok bool) {
	if !finite(U) || U <= 0 {
		return 0, false
	}
	x := u.Difference().exact().of(decimal(U))
	d := 1 - magnitude(x)
	if n := ratio(fixed(times(x, tenTo(d)), 0)); n.Cmp(ratio("100")) >= 0 {
		d-- // 0.0995 rounds to 0.10, not to 0.100
	}
	return d, true
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
// is no round number in this unit, as one of 0.0001 inch is not in mm, gets as
// many as tell each step from the next.
func Decimals(u Unit, step float64) int {
	if !finite(step) || step <= 0 {
		return 3
	}
	x := u.Difference().exact().of(decimal(step))
	if x.Sign() == 0 { // the zero Unit shows nothing of it
		return 3
	}
	apart := max(0, -magnitude(x))
	for d := range apart + 3 {
		n := times(x, powerOfTen(d))
		if n.IsInt() && (d <= apart+1 || isRound(n.Num())) {
			return min(d, maxDecimals)
		}
	}
	return min(apart, maxDecimals)
}

// isRound tells whether the whole number is made of twos and fives.
func isRound(n *big.Int) bool {
	n = new(big.Int).Set(n)
	for _, p := range []int64{2, 5} {
		for q, r := new(big.Int), new(big.Int); ; n.Set(q) {
			if q.QuoRem(n, big.NewInt(p), r); r.Sign() != 0 {
				break
			}
		}
	}
	return n.Cmp(big.NewInt(1)) == 0
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
// the same side of every limit on which it is, and never as equal to one that
// it differs from. So printed figures do not contradict a verdict. Limits that
// are not finite are passed over, and so are those that differ from y only in
// the last bits of a float64, which prove nothing.
func EnoughDigits(y float64, u Unit, least int, limits ...float64) int {
	if !finite(y) {
		return least
	}
	e := u.exact()
	for d := least; d < maxDecimals; d++ {
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
		if !finite(limit) || math.Abs(y-limit) <= lastBits*max(math.Abs(y), math.Abs(limit)) {
			continue
		}
		want := -1
		if y > limit {
			want = 1
		}
		if at.Cmp(printed(limit)) != want {
			return false
		}
	}
	return true
}

const lastBits = 1e-14 // some fifty rounding errors of a float64
