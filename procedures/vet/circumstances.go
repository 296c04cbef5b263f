package vet

import (
	"math"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/procedures"
)

// Circumstances are what a run knows beyond its procedure. What is left out is
// as the procedure has it.
type Circumstances struct {
	Grade       string
	Givens      map[string]value.Value // that were answered, by name, with all their keys
	Instruments map[*procedures.Instrument]uncert.Instrument
	Rule        func(*procedures.Gate) checks.Rule
}

// Zones works out the pass zones of some gates of a procedure under the
// circumstances of a run, as [Procedure] does for all gates without any. Gates
// without limits are passed over.
func Zones(p *procedures.Procedure, gates []*procedures.Gate, c Circumstances) []Zone {
	ix := newIndex(p)
	ix.known = c
	if c.Grade == "" && len(p.Grades) > 0 {
		c.Grade = p.Grades[0]
	}
	var out []Zone
	for _, g := range gates {
		if g.Of != nil && len(limits(g)) > 0 {
			out = append(out, ix.zone(g, c.Grade))
		}
	}
	return out
}

// Doubt is the expanded uncertainty of what is judged.
func (z Zone) Doubt() float64 {
	if z.U == 0 {
		return 0
	}
	return uncert.Coverage(z.DoF) * z.U
}

// Limit is how far from its aim a value may be: the limit, or half the width
// between two.
func (z Zone) Limit() float64 {
	switch {
	case math.IsInf(z.Hi, 1):
		return math.Abs(z.Lo)
	case math.IsInf(z.Lo, -1), z.NonNegative && z.Lo <= 0:
		return z.Hi
	}
	return (z.Hi - z.Lo) / 2
}

// Length writes a number in two figures of a unit; of a temperature, as a
// difference.
func Length(x float64, u quantity.Unit) string { return length(x, u) }
