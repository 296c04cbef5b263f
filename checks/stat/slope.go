package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Point is a value y at x with its standard uncertainty, known with so many
// degrees of freedom (+Inf: with no end of them). A value that counts as exact
// has U = 0.
type Point struct{ X, Y, U, DoF float64 }

// Slope is by how much values change with x.
type Slope struct {
	By  float64
	U   float64 // its standard uncertainty
	DoF float64
	// Scatter: the values lie further from their lines than their uncertainties
	// explain, or have none; U is from how they lie then.
	Scatter    bool
	ChiSquared float64 // sum of the squared distances, each over its uncertainty
	Free       int     // points less levels less one
}

// scatters is the probability with which chance alone would have the points
// lie as far from their lines.
const scatters = 0.05

// CommonSlope returns the slope that groups of points share, each group at a
// level of its own, by least squares weighted with 1/u². ok is false where
// there are fewer points than levels and one slope need, where no group has
// two places, or where some values count as exact and others do not.
//
// With as many points as unknowns nothing is known of how they scatter; the
// slope has the uncertainty of its points then. Otherwise it does where chi
// squared is below its 95 % point, with the degrees of freedom of its points
// (Welch–Satterthwaite), else that of the scatter about the lines.
//
// Source: JCGM 100:2008, H.3.2 for one group whose points are known alike; the
// weights are those of least squares for points of unlike variance, as
// commonly taught.
func CommonSlope(groups ...[]Point) (s Slope, ok bool) {
	n, exact := 0, 0
	for _, g := range groups {
		for _, p := range g {
			n++
			if p.U == 0 {
				exact++
			}
		}
	}
	if exact != 0 && exact != n {
		return Slope{}, false
	}
	var sxx, sxy float64
	var reach []float64 // of each point: by how much its y, one u off, moves sxy
	var dof []float64
	for _, g := range groups {
		mx, my := centre(g)
		for _, p := range g {
			w, dx := weight(p), p.X-mx
			sxx += w * dx * dx
			sxy += w * dx * (p.Y - my)
			reach, dof = append(reach, w*dx*p.U), append(dof, p.DoF)
		}
	}
	s.Free = n - levels(groups) - 1
	if s.Free < 0 || !(sxx > 0) || math.IsInf(sxx, 0) {
		return Slope{}, false
	}
	s.By = sxy / sxx
	for _, g := range groups {
		mx, my := centre(g)
		for _, p := range g {
			r := (p.Y - my) - s.By*(p.X-mx)
			s.ChiSquared += weight(p) * r * r
		}
	}
	within := 1 / math.Sqrt(sxx)
	if s.Free > 0 && (exact > 0 || s.ChiSquared > distuv.ChiSquared{K: float64(s.Free)}.Quantile(1-scatters)) {
		s.U, s.DoF, s.Scatter = within*math.Sqrt(s.ChiSquared/float64(s.Free)), float64(s.Free), true
		return s, true
	}
	if exact > 0 {
		return Slope{}, false
	}
	s.U, s.DoF = within*math.Sqrt(1+estimatedWeights(reach, dof)), EffectiveDoF(reach, dof)
	return s, true
}

// estimatedWeights is by which part of itself a variance is greater because
// the weights are not known better than the uncertainties they are made from:
// a point that seems better known than it is gets too much weight.
//
// Source: P. Meier, Variance of a weighted mean, Biometrics 9 (1953) 59–73,
// from memory, with the parts that points have in a slope in the place of
// those that they have in a mean; held here by simulation.
func estimatedWeights(reach, dof []float64) float64 {
	whole, sum := 0.0, 0.0
	for _, r := range reach {
		whole += r * r
	}
	for i, r := range reach {
		part := r * r / whole
		sum += 4 * part * (1 - part) / dof[i]
	}
	return sum
}

func levels(groups [][]Point) (n int) {
	for _, g := range groups {
		if len(g) > 0 {
			n++
		}
	}
	return n
}

func weight(p Point) float64 {
	if p.U == 0 {
		return 1
	}
	return 1 / p.U / p.U
}

// centre is the weighted mean of a group, worked out from its first point.
func centre(g []Point) (x, y float64) {
	if len(g) == 0 {
		return 0, 0
	}
	var sw, sx, sy float64
	for _, p := range g {
		w := weight(p)
		sw += w
		sx += w * (p.X - g[0].X)
		sy += w * (p.Y - g[0].Y)
	}
	return g[0].X + sx/sw, g[0].Y + sy/sw
}
