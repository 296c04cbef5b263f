package uncert

import (
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// usualDoF is how well a stated repeatability is known where nothing is said:
// to a quarter of itself (JCGM 100:2008, G.4.2).
const usualDoF = 8

// pool is the scatter of the readings of one instrument in one step.
type pool struct {
	instrument int
	name       string
	members    []int // observations
	alone      []int // those whose own spread is too large for the pool
	s          float64
	dof        float64 // 0: nothing is known
}

// addTakes adds what the takes of each reading scatter (measure rule 2) and
// what their steps leave open (rule 3).
func (m *Model) addTakes(instruments []Instrument, observations []Observation) {
	var pools []*pool
	for i, o := range observations {
		p := findPool(pools, o)
		if p == nil {
			p = &pool{instrument: o.Instrument, name: o.Pool}
			pools = append(pools, p)
		}
		if m.scattersTooMuch(instruments[o.Instrument], o) {
			p.alone = append(p.alone, i)
		} else {
			p.members = append(p.members, i)
		}
	}
	for _, p := range pools {
		in := instruments[p.instrument]
		p.estimate(in, observations)
		if p.dof < 3 && len(p.members) > 0 {
			m.notes = append(m.notes, Note{Kind: RepeatabilityUnknown, Instrument: in.Name, DoF: p.dof})
		}
		m.addScatter(in, p.members, p.s, p.dof, observations)
		for _, i := range p.alone {
			n := len(observations[i].Takes)
			m.addScatter(in, []int{i}, stat.StdDev(observations[i].Takes, nil), float64(n-1), observations)
		}
	}
}

func findPool(pools []*pool, o Observation) *pool {
	for _, p := range pools {
		if p.instrument == o.Instrument && p.name == o.Pool {
			return p
		}
	}
	return nil
}

// Scatters reports whether takes scatter more than the instrument does in 99
// of 100 cases, by the F test; what the resolution alone makes of them does
// not count against it. It is false of an instrument whose repeatability is
// not stated.
func Scatters(in Instrument, takes []float64) bool {
	if len(takes) < 2 || in.Repeatability == 0 {
		return false
	}
	s := stat.StdDev(takes, nil)
	return beyond(s*s/in.seen(), float64(len(takes)-1), in.dof())
}

// seen is the variance that takes of the instrument show: that of its hand, and
// what rounding to its step makes of it.
func (in Instrument) seen() float64 {
	return in.Repeatability*in.Repeatability + in.Resolution*in.Resolution/12
}

// beyond tells whether a ratio of variances is above the 99 % point of the F
// distribution, which is always above 1.
func beyond(ratio, d1, d2 float64) bool {
	return ratio > 1 && ratio > distuv.F{D1: d1, D2: d2}.Quantile(0.99)
}

// scattersTooMuch tells whether the takes of a reading scatter more than the
// instrument does in 99 of 100 cases, by the F test, and notes it. Rounding to a
// coarse step does not count against them here either.
func (m *Model) scattersTooMuch(in Instrument, o Observation) bool {
	n, s0 := len(o.Takes), in.Repeatability
	if n < 2 || s0 == 0 {
		return false
	}
	s := stat.StdDev(o.Takes, nil)
	if n >= 5 && s == 0 && s0 > in.Resolution/2 {
		m.notes = append(m.notes, Note{Kind: SameTakes, ID: o.ID, Instrument: in.Name, Expected: s0})
	}
	if !beyond(s*s/in.seen(), float64(n-1), in.dof()) {
		return false
	}
	m.notes = append(m.notes, Note{Kind: SpreadTooLarge, ID: o.ID, Instrument: in.Name, Spread: s, Expected: s0})
	return true
}

// dof returns the degrees of freedom of the stated repeatability.
func (in Instrument) dof() float64 {
	switch {
	case in.Repeatability == 0:
		return 0
	case in.RepeatabilityDoF == 0:
		return usualDoF
	}
	return in.RepeatabilityDoF
}

// estimate pools the stated repeatability with the spread of the members'
// takes (JCGM 100:2008, 4.2.4).
func (p *pool) estimate(in Instrument, observations []Observation) {
	p.dof = in.dof()
	sum := p.dof * in.Repeatability * in.Repeatability
	for _, i := range p.members {
		if takes := observations[i].Takes; len(takes) > 1 {
			v := stat.Variance(takes, nil)
			sum += float64(len(takes)-1) * v
			p.dof += float64(len(takes) - 1)
		}
	}
	if p.dof > 0 {
		p.s = math.Sqrt(sum / p.dof)
	}
}

// addScatter adds the lines of readings that scatter by s, known with dof
// degrees of freedom. Averaging n takes makes the scatter smaller but never
// the step: of the two the larger counts. A single take has both.
func (m *Model) addScatter(in Instrument, members []int, s, dof float64, observations []Observation) {
	scatter := line{kind: Takes, name: in.Name, u: s, dof: dof}
	step := line{kind: Resolution, name: in.Name, u: in.Resolution / math.Sqrt(12), dof: math.Inf(1), rectangular: true}
	for _, i := range members {
		n := float64(max(1, len(observations[i].Takes)))
		c := 1 / math.Sqrt(n)
		if observations[i].Moved {
			c *= math.Sqrt2 // set to 0 and read again
		}
		scatters := s > 0
		if n > 1 {
			scatters = s > 0 && s*c >= step.u
		}
		if scatters {
			scatter.parts = append(scatter.parts, part{on: []coef{{i, c}}})
		}
		if n == 1 || !scatters {
			step.parts = append(step.parts, part{on: []coef{{i, 1}}})
		}
	}
	for _, l := range []line{scatter, step} {
		if len(l.parts) > 0 && l.u > 0 {
			m.lines = append(m.lines, l)
		}
	}
}
