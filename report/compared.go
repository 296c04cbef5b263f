package report

import "waywright/checks/quantity"

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

// UnitOf returns the unit of a number, which a record from elsewhere may have
// in a spelling that is not known here.
func UnitOf(n Number) (u quantity.Unit, ok bool) {
	for _, name := range []string{n.Unit, n.Code} {
		if u, err := quantity.Lookup(name); name != "" && err == nil {
			return u, true
		}
	}
	if n.Unit == "" && (n.Code == "" || n.Code == "1") {
		return quantity.Unit{UCUM: "1", Factor: 1}, true
	}
	return quantity.Unit{}, false
}

// Without returns the number without its sign, for use beside words that say
// the way.
func (n Number) Without() Number { return n.abs() }
