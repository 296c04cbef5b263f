// Package elastic holds what weight, force and heat do to bars and to the rigs
// that indicators hang on.
//
// Lengths are in mm, forces in N, temperatures in °C and their differences in
// K. Sag is positive downward.
package elastic

import "math"

// Properties of steel, from memory of common handbook tables; they vary by a
// few per cent between steels, and so does the sag.
const (
	youngs  = 210e3   // N/mm²
	density = 7.85e-6 // kg/mm³
	gravity = 9.80665 // m/s², the standard value (CGPM 1901)
)

// weight is the weight of steel for each volume, N/mm³.
const weight = density * gravity

// BarSag returns how far a round steel bar held at one end hangs down, by its
// own weight, at a distance at from the hold; length is the free length.
//
// Source: the beam equation for an even load, w·x²·(6L² − 4Lx + x²)/(24·E·I).
func BarSag(diameter, length, at float64) float64 { return TubeSag(diameter, 0, length, at) }

// TubeSag is [BarSag] for a tube.
func TubeSag(outer, inner, length, at float64) float64 {
	// w/(E·I), with w = weight·π(D²−d²)/4 and I = π(D⁴−d⁴)/64.
	k := 16 * weight / (youngs * (outer*outer + inner*inner))
	x, l := at, length
	return k * x * x * (6*l*l - 4*l*x + x*x) / 24
}

// RigSag returns the sag of an indicator rig, on the radius, from the reading
// under a stiff mandrel when it was zeroed on top: turned over, the rig hangs
// away from the mandrel by twice its sag.
func RigSag(turnedOver float64) float64 { return -turnedOver / 2 }

// ToolSpring returns how far a force, in N, pushes the free end of a round
// steel bar held at one end. It is counted once, on the radius: a bar that
// springs so is turned larger by twice as much.
//
// Source: the beam equation for a load at the end, F·l³/(3·E·I).
func ToolSpring(force, overhang, diameter float64) float64 {
	inertia := math.Pi * math.Pow(diameter, 4) / 64
	return force * math.Pow(overhang, 3) / (3 * youngs * inertia)
}

// Airy returns the distance from each end at which to support a bar so that
// its end faces stay parallel.
//
// Source: G. B. Airy; the spacing is L/√3.
func Airy(length float64) float64 { return length * (3 - math.Sqrt(3)) / 6 }

// bessel solves the condition of [Bessel] for a bar of length 1: with supports
// at a from each end the square of the slope, summed along the bar, is least.
const bessel = 0.2203099406834786

// Bessel returns the distance from each end at which to support a bar so that
// its length along the middle line is shortened least by bending.
//
// Source: F. W. Bessel; worked out here from the beam equation.
func Bessel(length float64) float64 { return length * bessel }

// Growth returns how much longer a length gets when it warms by rise;
// coefficient is for each kelvin.
func Growth(length, rise, coefficient float64) float64 { return length * rise * coefficient }

// At20 returns what a length, true at temperature, is at 20 °C.
func At20(length, temperature, coefficient float64) float64 {
	return length / (1 + coefficient*(temperature-20))
}

// Lever returns what a lever indicator should have read when its lever stands
// at angle to the surface and it reads true at the angle calibrated. The
// factor is a quotient of cosines, not the cosine of a difference.
func Lever(reading, angle, calibrated float64) float64 {
	return reading * math.Cos(angle) / math.Cos(calibrated)
}

// Backlash returns the lost motion between readings at one place, come to from
// either side.
func Backlash(forward, back float64) float64 { return math.Abs(forward - back) }

// SupportedSag returns how far a round steel bar or tube that lies on supports
// at both of its ends hangs down by its own weight, at a distance at from one
// of them.
//
// Source: the beam equation for an even load, w·x·(L³ − 2Lx² + x³)/(24·E·I).
func SupportedSag(outer, inner, length, at float64) float64 {
	k := 16 * weight / (youngs * (outer*outer + inner*inner))
	x, l := at, length
	return k * x * (l*l*l - 2*l*x*x + x*x*x) / 24
}

// heat is the specific heat of steel, J/(kg·K), from memory of handbook tables.
const heat = 475

// CoolingTime returns how long, in s, a long steel bar takes in air until it
// is only to warmer than that, having been from warmer. The film coefficient
// is in W/(m²·K): in still air 8 to 12, in the draught of a fan about 25.
//
// It is an estimate: the film coefficient is known to a third at best, and
// what the bar lies on counts too.
//
// Source: τ = ρ·c·d/(4·h) and t = τ·ln(from/to), for a bar that is equally warm
// throughout; textbook formula from memory.
func CoolingTime(diameter, from, to, film float64) float64 {
	const perMetre = density * 1e9 // kg/m³
	tau := perMetre * heat * diameter / 1000 / (4 * film)
	return tau * math.Log(from/to)
}

// LeadError returns by how much a nut has travelled too far for its turns;
// negative is short.
func LeadError(travel, turns, pitch float64) float64 { return travel - turns*pitch }
