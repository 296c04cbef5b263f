package montecarlo

import (
	"fmt"
	"math"
)

// Source is a distribution that errors are drawn from: centre + scale times a
// number of its shape. The zero Source is always 0.
type Source struct {
	shape         shape
	centre, scale float64
	extra         float64 // student: degrees of freedom; curved: width of the edges over the half width; trapezoidal: top over base
	pool          int
}

type shape uint8

const (
	constant shape = iota
	normal
	student
	pooled
	rectangular
	triangular
	trapezoidal
	arcsine
	curved
)

// Normal returns the normal distribution (JCGM 101:2008, 6.4.7).
func Normal(mean, sd float64) Source { return Source{shape: normal, centre: mean, scale: sd} }

// Student returns the t distribution with dof degrees of freedom, scaled and
// shifted (JCGM 101:2008, 6.4.9): for the mean of n takes with standard
// deviation s, scale is s/√n and dof n − 1. Its standard deviation is
// scale·√(dof/(dof − 2)), and none up to 2 degrees of freedom.
func Student(mean, scale, dof float64) Source {
	if math.IsInf(dof, 1) {
		return Normal(mean, scale)
	}
	return Source{shape: student, centre: mean, scale: scale, extra: dof}
}

// Pooled is like [Student], with the degrees of freedom of a pool. The takes
// of all sources of one pool scatter by one estimate, so in each trial they
// share the draw of its error: of their χ² (measure rule 10).
func Pooled(mean, scale float64, pool int) Source {
	return Source{shape: pooled, centre: mean, scale: scale, pool: pool}
}

// Rectangular returns the rectangular distribution between two limits (JCGM
// 101:2008, 6.4.2).
func Rectangular(lo, hi float64) Source { return between(rectangular, lo, hi) }

// Triangular returns the symmetric triangular distribution between two limits
// (JCGM 101:2008, 6.4.5).
func Triangular(lo, hi float64) Source { return between(triangular, lo, hi) }

// Trapezoid returns the symmetric trapezoidal distribution between two limits,
// whose top is the share top of its base: 1 is rectangular, 0 triangular (JCGM
// 101:2008, 6.4.4; JCGM 100:2008, 4.3.9).
func Trapezoid(lo, hi, top float64) Source {
	s := between(trapezoidal, lo, hi)
	s.extra = top
	return s
}

// Arcsine returns the U-shaped distribution of what swings evenly between two
// limits (JCGM 101:2008, 6.4.6).
func Arcsine(lo, hi float64) Source { return between(arcsine, lo, hi) }

// CurvilinearTrapezoid returns the rectangular distribution whose limits are
// only known to ±d each, its middle being known (JCGM 101:2008, 6.4.3).
func CurvilinearTrapezoid(lo, hi, d float64) Source {
	s := between(curved, lo, hi)
	s.extra = d / s.scale
	return s
}

func between(sh shape, lo, hi float64) Source {
	return Source{shape: sh, centre: lo + (hi-lo)/2, scale: (hi - lo) / 2}
}

func (s Source) String() string {
	a, b := s.centre-s.scale, s.centre+s.scale
	switch s.shape {
	case normal:
		return fmt.Sprintf("normal(%g, %g)", s.centre, s.scale)
	case student:
		return fmt.Sprintf("t(%g, %g, %g)", s.centre, s.scale, s.extra)
	case pooled:
		return fmt.Sprintf("t(%g, %g, pool %d)", s.centre, s.scale, s.pool)
	case rectangular:
		return fmt.Sprintf("rectangular(%g, %g)", a, b)
	case triangular:
		return fmt.Sprintf("triangular(%g, %g)", a, b)
	case trapezoidal:
		return fmt.Sprintf("trapezoid(%g, %g, %g)", a, b, s.extra)
	case arcsine:
		return fmt.Sprintf("arcsine(%g, %g)", a, b)
	case curved:
		return fmt.Sprintf("curvilinear trapezoid(%g, %g, %g)", a, b, s.extra*s.scale)
	}
	return "nothing"
}

// Mean returns the expectation of the source.
func (s Source) Mean() float64 {
	if s.shape == constant {
		return 0
	}
	return s.centre
}

// Scale returns what the numbers of the shape are multiplied by: of a normal
// source the standard deviation, of limits half their distance.
func (s Source) Scale() float64 { return s.scale }

// Wild tells whether the source has no standard deviation: Student's t with up
// to two degrees of freedom.
func (s Source) Wild() bool { return s.shape == student && s.extra <= 2 }

// fill fills dst with numbers of the shape alone: centred on 0, of scale 1.
// stretch is what the errors of the source's pool are multiplied by.
func (s *Source) fill(g *generator, dst, stretch []float64) {
	switch s.shape {
	case constant:
		clear(dst)
	case normal:
		g.fillNormal(dst)
	case student:
		g.fillNormal(dst)
		for i := range dst {
			dst[i] *= g.stretch(s.extra)
		}
	case pooled:
		g.fillNormal(dst)
		for i, k := range stretch[:len(dst)] {
			dst[i] *= k
		}
	case rectangular:
		g.fillCentred(dst)
	case triangular:
		for i := range dst {
			dst[i] = (g.centred() + g.centred()) / 2
		}
	case trapezoidal:
		// The sum of two rectangular numbers, of half widths (1 ± top)/2.
		long, short := (1+s.extra)/2, (1-s.extra)/2
		for i := range dst {
			dst[i] = float64(long*g.centred()) + float64(short*g.centred())
		}
	case arcsine:
		for i := range dst {
			dst[i] = math.Sin(math.Pi * g.centred())
		}
	case curved:
		for i := range dst {
			// Limits 1 − d·r apart from the middle, a rectangular place between them.
			edge := 1 - float64(s.extra*g.centred())
			dst[i] = edge * g.centred()
		}
	}
}

// stretch returns √(ν/χ²): what makes of a normal number one of Student's t.
func (g *generator) stretch(nu float64) float64 {
	if math.IsInf(nu, 1) {
		return 1
	}
	return math.Sqrt(nu / (2 * g.gamma(nu/2)))
}

// gamma returns a number of the gamma distribution with that shape, above 0.
//
// Source: G. Marsaglia, W. W. Tsang, A simple method for generating gamma
// variables, ACM Transactions on Mathematical Software 26 (2000), from memory.
func (g *generator) gamma(a float64) float64 {
	if a < 1 {
		u := g.unit()
		return g.gamma(a+1) * math.Pow(u, 1/a)
	}
	d := a - 1.0/3
	c := 1 / math.Sqrt(9*d)
	for {
		x := g.normal()
		v := 1 + float64(c*x)
		if v <= 0 {
			continue
		}
		v = v * v * v
		u := g.unit()
		if u < 1-float64(0.0331*(x*x)*(x*x)) { // then what follows holds too
			return d * v
		}
		if math.Log(u) < float64(x*x/2)+float64(d*(1-v+math.Log(v))) {
			return d * v
		}
	}
}
