package report

import "waywright/checks/quantity"

// LimitWords says limits as a record does, with what plus means: "0 to 15 µm
// free end high, never low". A limit that is infinite is none. lo and hi are in
// base units.
func LimitWords(lo, hi float64, u quantity.Unit, positive string) string {
	return limits(lo, hi, u, quantity.Usual(u), senseOf(positive, "")).Said
}
