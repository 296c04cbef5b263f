package report

import (
	"strings"

	"waywright/checks/quantity"
)

// Differing returns a difference and its expanded uncertainty U, both in base
// units, as numbers of the unit u. They are printed so that they compare in
// print as they do unrounded. bigU is nil where nothing is stated, both are
// where by is not finite.
func Differing(by, U float64, u quantity.Unit) (n, bigU *Number) {
	u = u.Difference()
	places := differing(by, U, u)
	if n = number(by, u, places); n == nil || !(U > 0) {
		return n, nil
	}
	return n, number(U, u, places)
}

// UnitOf returns the unit of a number, by its code or else as it is printed. A
// record from elsewhere may have one that is not known here.
func UnitOf(n Number) (u quantity.Unit, ok bool) {
	for _, u := range quantity.Units() {
		if u.UCUM == n.Code && n.Code != "" {
			return u, true
		}
	}
	if n.Unit == "" && n.Code == "" {
		return quantity.Unit{UCUM: "1", Factor: 1}, true
	}
	u, err := quantity.Lookup(ofAngle.Replace(n.Unit))
	return u, err == nil && n.Unit != ""
}

// ofAngle are the signs that a page prints for parts of a degree. What people
// type with them may be inches and feet.
var ofAngle = strings.NewReplacer("″", "arcsec", "′", "arcmin")

// Without returns the number without its sign, for use beside words that say
// the way.
func (n Number) Without() Number { return n.abs() }
