// Package pattern looks in readings for the signs of common mistakes: takes that
// were copied, a part that is still warm, a screw that pulls, a lever that stands
// askew, places taken for one another.
//
// Every function says with which probability noise alone would show as much, or
// holds what it finds against the doubt of it; what is to be said, and when, is
// for the caller. Numbers are in any one unit. Standard deviations are those of a
// single take, known with dof degrees of freedom; 0 stands for +Inf.
//
// The patterns are common practice; how they are told from noise is derived here.
package pattern

import (
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"waywright/checks/response"
)

// Same returns the greatest probability with which n takes that scatter by sd and
// are shown in whole steps all show the same, wherever the true value lies
// between two steps. It is 1 for fewer than two takes and where nothing is known
// of the scatter or the step.
func Same(n int, sd, step float64) float64 {
	if n < 2 || !(sd > 0) || !(step > 0) {
		return 1
	}
	most := 0.0
	for off := 0.0; off <= 0.5; off += 0.05 {
		p := 0.0
		reach := int(math.Ceil(6*sd/step)) + 1
		for k := -reach; k <= reach; k++ {
			lo, hi := (float64(k)-0.5+off)*step/sd, (float64(k)+0.5+off)*step/sd
			p += math.Pow(distuv.UnitNormal.CDF(hi)-distuv.UnitNormal.CDF(lo), float64(n))
		}
		most = math.Max(most, p)
	}
	return math.Min(1, most)
}

// SameSets returns the greatest probability with which the takes of each of
// several places are all the same at that place, as [Same] does of one. What the
// places read is nothing to it.
func SameSets(takes []int, sd, step float64) float64 {
	p := 1.0
	for _, n := range takes {
		p *= Same(n, sd, step)
	}
	return p
}

// Place are the takes of one place, in the order of taking, and the number of
// each in the whole order.
type Place struct {
	Y     []float64
	Order []int
	// Again is what was read there once more at the end, with its number; NaN
	// where nothing was.
	Again      float64
	AgainOrder int
}

// Fall is a slope that is common to several places, each with a level of its own.
type Fall struct {
	PerTake float64 // from one take to the next, negative for a fall
	U       float64 // its standard uncertainty
	P       float64 // probability that noise alone falls as steeply
	left    float64 // sum of the squares that the slope leaves
}

// Cause says what a fall comes from.
type Cause uint8

// The causes of a fall.
const (
	NoFall  Cause = iota // noise does as much
	Untold               // it falls, and the data do not tell why
	Cooling              // with every take, whatever the place: the part shrinks
	Pressed              // with every take of a place, and anew at each: the hand presses more
)

// Falls tells whether takes fall, and why, at the level rare. A cooling part goes
// on falling from place to place, and where the first place is read once more it
// reads smaller still; a hand that presses harder with every take begins anew at
// every place, and so it does there. Without that reading one cannot be told from
// the other. At every place the last take has to lie below the first.
func Falls(places []Place, sd, dof, rare float64) (Fall, Cause) {
	if !(sd > 0) {
		return Fall{P: 1}, NoFall
	}
	for _, p := range places {
		if n := len(p.Y); n < 2 || p.Y[n-1] >= p.Y[0] {
			return Fall{P: 1}, NoFall
		}
	}
	cooling := slope(places, sd, dof, func(p Place, k int) float64 {
		if k < 0 {
			return float64(p.AgainOrder)
		}
		return float64(p.Order[k])
	})
	pressed := slope(places, sd, dof, func(_ Place, k int) float64 { return math.Max(0, float64(k)) })
	const told = 9 // by which the sums of squares must differ, in sd²: three times the scatter
	switch better := (pressed.left - cooling.left) / (sd * sd); {
	case better > told && cooling.P < rare:
		return cooling, Cooling
	case better < -told && pressed.P < rare:
		return pressed, Pressed
	case better <= told && better >= -told && cooling.P < rare && pressed.P < rare:
		return pressed, Untold
	}
	return cooling, NoFall
}

// slope fits a level to each place and one slope to all of them, over what at
// gives for each take; the one read once more is take −1.
func slope(places []Place, sd, dof float64, at func(p Place, k int) float64) Fall {
	var sxy, sxx, syy float64
	for _, p := range places {
		var x, y []float64
		for k, v := range p.Y {
			x, y = append(x, at(p, k)), append(y, v)
		}
		if !math.IsNaN(p.Again) {
			x, y = append(x, at(p, -1)), append(y, p.Again)
		}
		mx, my := stat.Mean(x, nil), stat.Mean(y, nil)
		for i := range x {
			sxy += (x[i] - mx) * (y[i] - my)
			sxx += (x[i] - mx) * (x[i] - mx)
			syy += (y[i] - my) * (y[i] - my)
		}
	}
	if sxx == 0 {
		return Fall{P: 1, left: syy}
	}
	f := Fall{PerTake: sxy / sxx, U: sd / math.Sqrt(sxx), left: syy - sxy*sxy/sxx}
	f.P = below(f.PerTake/f.U, dof)
	return f
}

// Puller returns which of several changes, one after another, makes more than
// six tenths of their sum, with its share. ok is false where that is within the
// doubt: u is the standard uncertainty of one reading between the changes.
func Puller(changes []float64, u float64) (which int, share float64, ok bool) {
	if len(changes) < 3 {
		return 0, 0, false
	}
	sum := 0.0
	for i, c := range changes {
		sum += c
		if math.Abs(c) > math.Abs(changes[which]) {
			which = i
		}
	}
	c := changes[which]
	if math.Abs(sum) < 3*math.Sqrt2*u || c*sum <= 0 {
		return which, 0, false
	}
	// c − 0.6·sum: c is a difference of two readings, and so is the sum. Apart,
	// as they are at most, it has u·√(2 + 2·0.36).
	return which, c / sum, math.Abs(c)-0.6*math.Abs(sum) > 2*u*math.Sqrt(2.72)
}

// Reversal returns by how much readings on the way back differ from those on the
// way out, on the mean, and the probability that noise alone shows as much. It
// tells nothing, with a P of 1, unless each place differs the same way.
func Reversal(out, back []float64, sd, dof float64) (gap, p float64) {
	n := min(len(out), len(back))
	if n < 2 || !(sd > 0) {
		return 0, 1
	}
	for i := range n {
		gap += (back[i] - out[i]) / float64(n)
	}
	for i := range n {
		if (back[i]-out[i])*gap <= 0 {
			return gap, 1
		}
	}
	t := math.Abs(gap) / (sd * math.Sqrt(2/float64(n)))
	return gap, 2 * below(-t, dof)
}

// Lever returns at which angle a lever stands to the surface when what it shows
// is gain times what moved: true = shown · cos θ. ok is false where it may stand
// within 30°, which is as far as a lever may go, or beyond 65°, where something
// else is the matter.
func Lever(gain, u float64) (theta float64, ok bool) {
	const most, beyond = math.Pi / 6, 65 * math.Pi / 180
	if !(gain > 1) {
		return 0, false
	}
	theta = math.Acos(1 / gain)
	return theta, gain-2*u > 1/math.Cos(most) && gain+2*u < 1/math.Cos(beyond)
}

// Which of two results places were taken for one another at.
type Which uint8

// The results.
const (
	Neither Which = iota
	Before
	After
)

// Swapped tells at which of two readings of a result two places were taken for
// one another, where the change between them fits what was expected only then.
// The result turns its sign when the places are exchanged; u is the standard
// uncertainty of the change.
func Swapped(before, after, expected, u float64) Which {
	if response.CanTell(expected, u) != response.TellCause || math.Abs(before) < 3*u {
		return Neither
	}
	uRatio := u / math.Abs(expected)
	band := func(change float64) response.Band { return response.BandOf(change/expected, uRatio) }
	if b := band(after - before); b != response.BandOver || (after-before)/expected < 2 {
		return Neither // what happened has a cause that is more likely
	}
	was, is := band(after+before) == response.BandOne, band(-after-before) == response.BandOne
	switch {
	case was && !is:
		return Before
	case is && !was && math.Abs(after) > 3*u:
		return After
	}
	return Neither
}

// Mirrored reports whether all of several values lie outside limits that let
// them in with the other sign, by more than their expanded uncertainties: as they
// do where the sign of a needle was taken the wrong way round.
func Mirrored(values, lo, hi, u []float64) bool {
	if len(values) < 2 {
		return false
	}
	for i, y := range values {
		out := y < lo[i]-u[i] || y > hi[i]+u[i]
		in := -y >= lo[i]-u[i] && -y <= hi[i]+u[i]
		if !out || !in {
			return false
		}
	}
	return true
}

// below is the probability that noise lies below t.
func below(t, dof float64) float64 {
	if !(dof > 0) || math.IsInf(dof, 1) {
		return distuv.UnitNormal.CDF(t)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: dof}.CDF(t)
}
