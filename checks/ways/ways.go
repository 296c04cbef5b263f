// Package ways holds the formulas of levels and slideways.
//
// Lengths are in mm, slopes are ratios. A level reads plus when the end
// towards the tailstock is high along the bed, and when the rear is high
// across it; it is recorded in machine direction, whichever way round it
// stands.
package ways

import "math"

// LevelSlope returns the true slope from two readings of a level in one
// footprint, both in machine direction, the second with the level turned end
// for end.
func LevelSlope(reading, turned float64) float64 { return reading + (turned-reading)/2 }

// LevelZero returns what a level reads on a true level, from the same two
// readings; positive when it reads too high as it first stood.
func LevelZero(reading, turned float64) float64 { return (reading - turned) / 2 }

// Heights returns the heights of the n + 1 points that a level of that base
// steps over, the first being 0, from its n slopes.
func Heights(slopes []float64, base float64) []float64 {
	h := make([]float64, len(slopes)+1)
	for i, s := range slopes {
		h[i+1] = h[i] + s*base
	}
	return h
}

// Wind returns the change of roll for each length, positive when the front way
// is low at the far end: cross readings near and far, the rear high being
// plus, span apart along the bed.
func Wind(near, far, span float64) float64 { return (far - near) / span }

// FootShim returns how far to raise the front foot at the tailstock end, or
// when negative the rear one, so that a bar in the chuck turns parallel. The
// taper is the diameter at the free end less that at the headstock, span
// apart; the tool stands toolHeight above the ways. A bed yields less than
// this says, by a factor that each bed has for its own.
//
// With a toolHeight or a span of 0 it gives an infinity or no number.
func FootShim(taper, feetAcross, feetAlong, toolHeight, span float64) float64 {
	return taper * feetAcross * feetAlong / (2 * toolHeight * span)
}

// halfway is how near a half a number of passes may lie and still be taken for
// one and a half, two and a half: what was worked out in binary may be a last
// digit off.
const halfway = 1e-9

// roundUp rounds to the nearest whole number, halves up.
func roundUp(x float64) float64 { return math.Floor(x + 0.5 + halfway*math.Max(1, math.Abs(x))) }
