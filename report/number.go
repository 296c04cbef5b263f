package report

import (
	"math"
	"strconv"
	"strings"

	"waywright/checks/quantity"
)

const (
	kept       = 10 // significant figures of a value: the last bits differ between processors
	mostPlain  = 6  // most decimals of a number that nothing says the places of
	morePlaces = 4  // that may be added to keep a value and its limit apart in print

	asItIs = math.MinInt // decimals: as many as the number has, at most mostPlain
)

// page is how numbers are printed in every form of the record.
var page = quantity.Style{Minus: quantity.TrueMinus, NoUnit: true}

// number returns base, in base units, in the unit u, printed with that many
// decimals, or [asItIs]. It is nil where base is not a finite number.
func number(base float64, u quantity.Unit, places int) *Number {
	if math.IsNaN(base) || math.IsInf(base, 0) {
		return nil
	}
	return &Number{Value: steady(u.Of(base)), Unit: u.Symbol, Code: u.UCUM, Text: digits(base, u, places)}
}

// steady rounds to the figures that are kept, and turns −0 into 0.
func steady(x float64) float64 {
	if x == 0 {
		return 0
	}
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', kept-1, 64), 64)
	if err != nil {
		return x
	}
	return y
}

// digits prints base in the unit u. The value is steadied first, so that a
// half that differs in its last bit is rounded alike everywhere.
func digits(base float64, u quantity.Unit, places int) string {
	base = u.Base(steady(u.Of(base)))
	if places != asItIs {
		return page.Format(base, u, places)
	}
	return unpadded(page.Format(base, u, mostPlain))
}

func unpadded(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// placesFor returns the decimals to which a value with the expanded
// uncertainty U, in base units, is printed in the unit u: the uncertainty has
// two figures then (measure rule 19). Without uncertainty it is what is usual
// for the unit.
func placesFor(U float64, u quantity.Unit) int {
	return quantity.RoundedDecimals(steady(U), u)
}

// placesOf is [placesFor] for a value: a count without uncertainty is whole.
func placesOf(y, U float64, u quantity.Unit) int {
	return quantity.ValueDecimals(steady(y), steady(U), u)
}

// apart returns the places, at least the given ones, at which x and the limits
// stand to each other in print as they do unrounded, so that a value and its
// verdict never seem to disagree.
func apart(places int, u quantity.Unit, x float64, limits ...float64) int {
	if places == asItIs {
		return places
	}
	for p := places; p <= places+morePlaces; p++ {
		if keepsOrder(p, u, x, limits) {
			return p
		}
	}
	return places
}

func keepsOrder(places int, u quantity.Unit, x float64, limits []float64) bool {
	for _, l := range limits {
		if math.IsInf(l, 0) || math.IsNaN(l) {
			continue
		}
		shown := printed(digits(x, u, places)) - printed(limitDigits(l, u, places))
		if sign(steady(x)-steady(l)) != sign(shown) {
			return false
		}
	}
	return true
}

// limitDigits prints a limit beside a value that has so many places: one more,
// because a limit is not measured, and no empty ones.
func limitDigits(l float64, u quantity.Unit, places int) string {
	if places == asItIs {
		return digits(l, u, places)
	}
	return unpadded(digits(l, u, places+1))
}

// printed reads printed digits back.
func printed(s string) float64 {
	x, err := strconv.ParseFloat(strings.Replace(s, quantity.TrueMinus, "-", 1), 64)
	if err != nil {
		return math.NaN()
	}
	return x
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}

// abs returns n without its sign, for use beside words that say the way.
func (n Number) abs() Number {
	n.Value = math.Abs(n.Value)
	n.Text = strings.TrimPrefix(n.Text, quantity.TrueMinus)
	return n
}

// WithUnit returns the printed digits with the printed unit.
func (n Number) WithUnit() string {
	return quantity.WithSymbol(n.Text, quantity.Unit{Symbol: n.Unit})
}
