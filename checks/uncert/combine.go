package uncert

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"waywright/checks"
)

// Result is how well a result is known.
type Result struct {
	Std    float64 // u, the standard uncertainty
	DoF    float64 // effective degrees of freedom; +Inf where all sources are fully known
	K      float64 // coverage factor for 95 %
	U      float64 // expanded uncertainty, K·Std
	Budget []Line  // where it comes from, in the order of the model; sources that do not matter are left out
}

// Line is one row of a budget.
type Line struct {
	Kind        Kind
	Source      string  // the instrument, the instrument and its setting, or the given
	U           float64 // standard uncertainty of the source
	Sensitivity float64 // how much of it reaches the result; signed where it is a single source
	DoF         float64
	Share       float64 // of the square of Std, 0 to 1
	On          []int   // inputs through which it reaches the result
}

// negligible is the share below which a source is left out of a budget: what
// remains of shared sources that cancel but for rounding.
const negligible = 1e-15

// Combine returns the uncertainty of a result from its sensitivity to each
// input, in the order of the model's inputs. It panics if there are not as
// many sensitivities as inputs.
//
//	u² = Σ_k (Σ_i c_i·a_ik)²·u_k²
//
// over independent sources k, with the indication errors of a setting as
// Σ_i Σ_j c_i·c_j·r_ij·u², r = max(0, 1 − distance/turn). The degrees of
// freedom are those of Welch and Satterthwaite over sources; all scatter that
// is estimated by one standard deviation counts as one source there. K is
// Student's factor for 95 % at the degrees of freedom rounded down.
//
// Source: JCGM 100:2008, 5.1.2, F.1.2.3, G.4.1 (measure rules 1, 5, 9).
func (m *Model) Combine(sensitivities []float64) Result {
	if len(sensitivities) != m.Len() {
		panic(fmt.Sprintf("uncert: %d sensitivities for %d inputs", len(sensitivities), m.Len()))
	}
	var variance, forDoF float64
	var r Result
	for _, l := range m.lines {
		v, single := l.variance(sensitivities)
		if v == 0 {
			continue
		}
		variance += v
		forDoF += v * v / l.dof
		c := math.Sqrt(v) / l.u
		if single < 0 {
			c = -c
		}
		r.Budget = append(r.Budget, Line{Kind: l.kind, Source: l.name, U: l.u, Sensitivity: c, DoF: l.dof, Share: v, On: l.through(sensitivities)})
	}
	for i := range r.Budget {
		r.Budget[i].Share /= variance
	}
	r.Budget = slices.DeleteFunc(r.Budget, func(l Line) bool { return l.Share < negligible })
	r.Std = math.Sqrt(variance)
	r.DoF = math.Inf(1)
	if forDoF > 0 {
		r.DoF = variance * variance / forDoF
	}
	r.K = Coverage(r.DoF)
	r.U = r.K * r.Std
	return r
}

// Std is the standard uncertainty that [Model.Combine] gives, alone.
func (m *Model) Std(sensitivities []float64) float64 {
	if len(sensitivities) != m.Len() {
		panic(fmt.Sprintf("uncert: %d sensitivities for %d inputs", len(sensitivities), m.Len()))
	}
	return math.Sqrt(m.variance(sensitivities))
}

// Coverage returns Student's two-sided factor for 95 % at dof degrees of
// freedom rounded down, but at least one.
func Coverage(dof float64) float64 { return CoverageAt(0.95, dof) }

// CoverageAt is [Coverage] for another coverage probability.
func CoverageAt(level, dof float64) float64 {
	// A hair keeps a whole number that came out of divisions from being
	// rounded down to the one below.
	whole := math.Max(1, math.Floor(dof*(1+1e-9)))
	if level == 0.95 && whole < mostTabled {
		return tabled[int(whole)].at(whole)
	}
	return checks.TQuantile((1+level)/2, whole)
}

// mostTabled is from where factors are no longer looked up.
const mostTabled = 4096

// tabled is the table of Student's factors for 95 %, by degrees of freedom: they
// are wanted again and again, and each costs a search, which is made when it is
// first wanted.
var tabled [mostTabled]tabledFactor

type tabledFactor struct {
	once sync.Once
	t    float64
}

func (f *tabledFactor) at(dof float64) float64 {
	f.once.Do(func() { f.t = checks.TQuantile((1+0.95)/2, dof) })
	return f.t
}

// variance returns the sum over all lines.
func (m *Model) variance(c []float64) float64 {
	var sum float64
	for _, l := range m.lines {
		v, _ := l.variance(c)
		sum += v
	}
	return sum
}

// variance returns what the line adds to the square of the uncertainty. The
// second number is the coefficient of the source where there is one only,
// else 0.
func (l *line) variance(c []float64) (v, single float64) {
	var few [12]float64
	cs := few[:]
	if len(l.parts) > len(few) {
		cs = make([]float64, len(l.parts))
	}
	cs = cs[:len(l.parts)]
	for i, p := range l.parts {
		for _, e := range p.on {
			cs[i] += c[e.input] * e.c
		}
	}
	switch {
	case !l.spaced:
		for _, x := range cs {
			v += x * x
		}
	case math.IsNaN(l.reach):
		v = math.Max(quadratic(cs, l.parts, apart), quadratic(cs, l.parts, together))
	default:
		v = quadratic(cs, l.parts, func(distance float64) float64 {
			return math.Max(0, 1-distance/l.reach)
		})
	}
	if len(cs) == 1 {
		single = cs[0]
	}
	return v * l.u * l.u, single
}

// through lists the inputs that carry the line to a result, each once.
func (l *line) through(c []float64) []int {
	var on []int
	for _, p := range l.parts {
		for _, e := range p.on {
			if c[e.input]*e.c != 0 && !slices.Contains(on, e.input) {
				on = append(on, e.input)
			}
		}
	}
	return on
}

func apart(float64) float64    { return 0 }
func together(float64) float64 { return 1 }

// quadratic returns Σ_i Σ_j c_i·c_j·r(distance of i and j), with r(…) of a
// part and itself 1.
func quadratic(cs []float64, parts []part, r func(float64) float64) float64 {
	var sum float64
	for i := range cs {
		if cs[i] == 0 {
			continue
		}
		sum += cs[i] * cs[i]
		for j := range i {
			sum += 2 * cs[i] * cs[j] * r(math.Abs(parts[i].at-parts[j].at))
		}
	}
	return math.Max(0, sum) // a rounding error below nought would give a NaN
}

// Less returns a − b, element by element: the sensitivities of the difference
// of two results.
func Less(a, b []float64) []float64 {
	d := make([]float64, len(a))
	for i := range a {
		d[i] = a[i] - b[i]
	}
	return d
}
