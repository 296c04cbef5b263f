// Package turning holds the formulas of turned work: the taper that a bar
// shows, the tailstock or the top slide that makes it, and the fit of a taper
// in its socket.
//
// Lengths are in mm, angles in radians, ratios without a unit. In a lathe seen
// by the operator, Z runs from the headstock to the tailstock and X from the
// spindle's axis towards the operator; near is closer to the headstock. A
// taper is a difference of diameters, far less near, a set-over is counted on
// the radius: most lost factors of two are lost between them.
//
// The functions are formulas and nothing else: out of their domain, such as
// with a span of nothing, they give an infinity or no number.
package turning

import "math"

// SetOver returns how far to move the tailstock so that a bar between centres
// turns parallel, positive towards the operator.
//
// The taper is the diameter at the far station less that at the near one, over
// the span between the stations; centres is the length between the centre
// points. The bar's axis lies e·z/L beside the tool's path, so that D(z) grows
// by −2·e·z/L.
func SetOver(taper, centres, span float64) float64 {
	return taper / 2 * centres / span
}

// SetOverForTaper returns how far to set the tailstock over to turn a taper on
// purpose, positive towards the operator, which makes the tailstock end small:
// diameters large and small over length on a bar of length centres.
func SetOverForTaper(large, small, length, centres float64) float64 {
	return centres * (large - small) / (2 * length)
}

// TaperAfter returns the taper to be expected over span once the tailstock has
// moved, positive towards the operator.
func TaperAfter(taper, moved, centres, span float64) float64 {
	return taper - 2*moved*span/centres
}

// TaperPerLength returns the change of diameter for each length.
func TaperPerLength(large, small, length float64) float64 {
	return (large - small) / length
}

// HalfAngle returns the angle between a taper's side and its axis; ratio is
// the change of diameter for each length.
func HalfAngle(ratio float64) float64 { return math.Atan(ratio / 2) }

// AngleFromCollars returns the half-angle of a taper from two diameters, span
// apart along the axis.
func AngleFromCollars(large, small, span float64) float64 {
	return math.Atan((large - small) / (2 * span))
}

// CollarDifference returns the difference of diameters that two collars, span
// apart along the axis, show at that half-angle.
func CollarDifference(angle, span float64) float64 {
	return 2 * span * math.Tan(angle)
}

// Swing returns how far to swing the top slide at radius from its pivot to
// steepen its angle by angleError. With a half-angle it is the advance of the
// cross slide that does it with the tool touching a collar: radius is then the
// distance from the pivot along the top slide, with the tool on the headstock
// side of the pivot and the large end at the headstock.
func Swing(radius, angleError, halfAngle float64) float64 {
	return radius * angleError / math.Cos(halfAngle)
}

// SlideOffset returns the change that an indicator shows when the top slide,
// set to angle, runs travel along a true parallel bar.
func SlideOffset(angle, travel float64) float64 { return travel * math.Sin(angle) }

// AngleFromOffset returns the angle of the top slide from the change that an
// indicator shows over travel.
func AngleFromOffset(offset, travel float64) float64 { return math.Asin(offset / travel) }

// BlueAngle returns how far two tapers differ in half-angle when a film of
// blue marks on fraction of length, from one end. The gap grows evenly from
// the end that touches, and marks where it is thinner than the film.
func BlueAngle(film, fraction, length float64) float64 { return film / (fraction * length) }

// SeatShift returns how much further a taper goes into its socket when the
// plug gets smaller, or the socket larger, by diameterChange; ratio is the
// change of diameter for each length.
func SeatShift(diameterChange, ratio float64) float64 { return diameterChange / ratio }

// YawFromCollars returns the angle, as a slope, between the spindle's axis and
// the carriage's travel in the level plane, positive when the free end points
// towards the operator, from the taper of a bar held in the chuck alone.
//
// The taper is far less near, without what the bar and tool spring; roll is
// the change of the carriage's roll over the span, positive when the front way
// is low at the far end.
func YawFromCollars(taper, span, roll, toolHeight float64) float64 {
	return (2*toolHeight*roll - taper) / (2 * span)
}

// Response returns what share of the change of taper that a planned move
// should have made was seen: 1 as planned, 0 nothing, −1 the wrong way as far.
//
// The tapers before and after are far less near over span, the planned move is
// positive towards the operator, centres is the length between centres.
func Response(before, after, planned, centres, span float64) float64 {
	return (before - after) / (2 * planned * span / centres)
}

// Kappa returns what share of the planned move was made. The quotient of
// [Response] and this is the gain of the machine.
func Kappa(moved, planned float64) float64 { return moved / planned }
