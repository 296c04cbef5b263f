package uncert

import (
	"fmt"
	"math"
	"slices"

	"waywright/checks/montecarlo"
)

// Model holds the inputs of results and the sources of their errors. It is
// not changed once made.
//
// Inputs are numbered: the observations first, then the sources that act on
// no observation, each in the order given to New.
type Model struct {
	ids    []string
	values []float64
	us     []float64
	lines  []line
	notes  []Note
}

// line is one row of the budget: sources of one kind that have one number of
// degrees of freedom in common.
type line struct {
	kind  Kind
	name  string
	u     float64
	dof   float64
	parts []part
	// rectangular: u is that of limits, not of a normal error.
	rectangular bool
	shape       *montecarlo.Source // another one
	spaced      bool               // the parts lie on the scale of one instrument and are alike by distance
	reach       float64            // of spaced: the distance from which they are independent; NaN when unknown
}

// part is an independent source of a line, or of a spaced line one reading of
// the scale.
type part struct {
	on []coef
	at float64 // of a spaced line: place on the scale
}

type coef struct {
	input int
	c     float64
}

// New makes the model of some readings and further sources.
//
// The error tells the first input with a number that is negative or not
// finite, with an instrument that is not there, or with an effect on an
// unknown observation.
func New(instruments []Instrument, observations []Observation, sources []Source) (*Model, error) {
	if err := validate(instruments, observations, sources); err != nil {
		return nil, err
	}
	m := &Model{}
	for _, o := range observations {
		m.ids = append(m.ids, o.ID)
		m.values = append(m.values, o.Value)
	}
	m.addTakes(instruments, observations)
	m.addSettings(instruments, observations)
	for _, s := range sources {
		m.addSource(s)
	}
	m.measure()
	return m, nil
}

// measure works out the uncertainty of each input by itself.
func (m *Model) measure() {
	m.us = make([]float64, len(m.ids))
	c := make([]float64, len(m.ids))
	for i := range m.us {
		c[i] = 1
		m.us[i] = math.Sqrt(m.variance(c))
		c[i] = 0
	}
}

func (m *Model) addSource(s Source) {
	l := line{kind: s.Kind, name: s.ID, u: s.U, dof: s.DoF, rectangular: s.Limit, shape: s.Shape}
	if l.kind == 0 {
		l.kind = Given
	}
	if l.dof == 0 {
		l.dof = math.Inf(1)
	}
	var p part
	for _, e := range s.On {
		p.on = append(p.on, coef{slices.Index(m.ids, e.ID), e.Coefficient})
	}
	if len(s.On) == 0 {
		p.on = []coef{{len(m.ids), 1}}
		m.ids = append(m.ids, s.ID)
		m.values = append(m.values, 0)
	}
	l.parts = []part{p}
	m.lines = append(m.lines, l)
}

// Len returns the number of inputs.
func (m *Model) Len() int { return len(m.ids) }

// ID returns the name of an input.
func (m *Model) ID(i int) string { return m.ids[i] }

// Index returns the number of the first input with that name, or −1.
func (m *Model) Index(id string) int { return slices.Index(m.ids, id) }

// U returns the standard uncertainty of each input by itself: the steps for
// [Gradient].
func (m *Model) U() []float64 { return slices.Clone(m.us) }

// Notes returns what a person should hear about the readings.
func (m *Model) Notes() []Note { return slices.Clone(m.notes) }

func validate(instruments []Instrument, observations []Observation, sources []Source) error {
	for _, in := range instruments {
		for _, x := range []float64{in.Resolution, in.Error, in.CertU, in.CertK, in.Zero,
			in.Repeatability, in.RepeatabilityDoF, in.Turn} {
			if !(x >= 0) || math.IsInf(x, 1) {
				return fmt.Errorf("uncert: instrument %q: %g is negative or not finite", in.Name, x)
			}
		}
	}
	known := make(map[string]bool)
	for _, o := range observations {
		known[o.ID] = true
		if o.Instrument < 0 || o.Instrument >= len(instruments) {
			return fmt.Errorf("uncert: reading %q: there is no instrument %d", o.ID, o.Instrument)
		}
		for _, x := range append([]float64{o.Value}, o.Takes...) {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return fmt.Errorf("uncert: reading %q: %g is not finite", o.ID, x)
			}
		}
	}
	for _, s := range sources {
		if !(s.U >= 0) || math.IsInf(s.U, 1) || !(s.DoF >= 0) {
			return fmt.Errorf("uncert: source %q: u = %g with %g degrees of freedom", s.ID, s.U, s.DoF)
		}
		for _, e := range s.On {
			if !known[e.ID] {
				return fmt.Errorf("uncert: source %q acts on %q, which is no reading here", s.ID, e.ID)
			}
		}
	}
	return nil
}
