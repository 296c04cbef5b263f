package uncert

import (
	"encoding/binary"
	"math"
	"slices"

	"waywright/checks/montecarlo"
)

// Draws are the errors of a model's inputs as they are drawn: each input is
// off by the sum of its terms.
type Draws struct {
	Sources []montecarlo.Source
	Pools   []float64 // degrees of freedom of each estimate of scatter
	Inputs  []montecarlo.Input
	// Doubtful is true where the reach of the likeness of some indication
	// errors is not known: then they are drawn once as independent and once as
	// the same, and the worse holds.
	Doubtful bool
}

// Draws returns the errors of the model's inputs for drawing. Limits are
// drawn as rectangular, scatter as Student's t with the χ² of its pool in
// common, what a certificate states as normal (JCGM 101:2008, 6.4; measure
// rule 10). together says what indication errors are whose likeness is not
// known.
func (m *Model) Draws(together bool) Draws {
	d := Draws{Inputs: make([]montecarlo.Input, m.Len())}
	for _, l := range m.lines {
		pool := -1
		if l.kind == Takes && !math.IsInf(l.dof, 1) {
			pool = len(d.Pools)
			d.Pools = append(d.Pools, l.dof)
		}
		if !l.spaced {
			for _, p := range l.parts {
				d.add(l.source(pool), p.on, 1)
			}
			continue
		}
		d.Doubtful = d.Doubtful || math.IsNaN(l.reach) && len(l.parts) > 1
		d.addSpaced(l, together)
	}
	return d
}

// add adds a source that acts on some inputs.
func (d *Draws) add(s montecarlo.Source, on []coef, times float64) {
	for _, e := range on {
		d.Inputs[e.input].Terms = append(d.Inputs[e.input].Terms, montecarlo.Term{Source: len(d.Sources), Coefficient: e.c * times})
	}
	d.Sources = append(d.Sources, s)
}

// addSpaced adds the indication errors of one setting, correlated by their
// distance on the scale.
func (d *Draws) addSpaced(l line, together bool) {
	r := make([][]float64, len(l.parts))
	for i := range r {
		r[i] = make([]float64, len(l.parts))
		for j := range r[i] {
			switch {
			case i == j || math.IsNaN(l.reach) && together:
				r[i][j] = 1
			case !math.IsNaN(l.reach):
				r[i][j] = math.Max(0, 1-math.Abs(l.parts[i].at-l.parts[j].at)/l.reach)
			}
		}
	}
	a, ok := montecarlo.Factor(r)
	if !ok {
		panic("uncert: likeness by distance is always the matrix of some correlation")
	}
	first := len(d.Sources)
	for range l.parts {
		d.Sources = append(d.Sources, l.source(-1))
	}
	for i, p := range l.parts {
		for k, c := range a[i] {
			if c == 0 {
				continue
			}
			for _, e := range p.on {
				d.Inputs[e.input].Terms = append(d.Inputs[e.input].Terms, montecarlo.Term{Source: first + k, Coefficient: e.c * c})
			}
		}
	}
}

// source returns the distribution of an error of the line.
func (l *line) source(pool int) montecarlo.Source {
	switch {
	case l.shape != nil:
		return *l.shape
	case l.rectangular:
		return montecarlo.Rectangular(-math.Sqrt(3)*l.u, math.Sqrt(3)*l.u)
	case pool >= 0:
		return montecarlo.Pooled(0, l.u, pool)
	case math.IsInf(l.dof, 1):
		return montecarlo.Normal(0, l.u)
	}
	return montecarlo.Student(0, l.u, l.dof)
}

// Canonical returns bytes that are equal for equal models only, for a seed.
func (m *Model) Canonical() []byte {
	var b []byte
	text := func(s string) {
		b = binary.BigEndian.AppendUint32(b, uint32(len(s)))
		b = append(b, s...)
	}
	num := func(xs ...float64) {
		for _, x := range xs {
			b = binary.BigEndian.AppendUint64(b, math.Float64bits(x))
		}
	}
	for i, id := range m.ids {
		text(id)
		num(m.values[i])
	}
	for _, l := range m.lines {
		b = append(b, byte(l.kind))
		text(l.name)
		num(l.u, l.dof, l.reach, float64(len(l.parts)))
		if l.shape != nil {
			text(l.shape.String())
		}
		for _, p := range l.parts {
			num(p.at, float64(len(p.on)))
			for _, e := range p.on {
				num(float64(e.input), e.c)
			}
		}
	}
	return b
}

// Wild returns whether some scatter is so little known, with up to two
// degrees of freedom, that drawn errors have no standard deviation.
func (d Draws) Wild() bool {
	for _, nu := range d.Pools {
		if nu <= 2 {
			return true
		}
	}
	return slices.ContainsFunc(d.Sources, montecarlo.Source.Wild)
}
