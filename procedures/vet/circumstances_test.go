package vet_test

import (
	"math"
	"testing"

	"waywright/checks"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/vet"
)

const wedge = `given "span" {
  ask   = "Span"
  unit  = "mm"
  range = [mm(100), mm(500)]
}
step "s" {
  title = "S"
  reading "top" {
    ask   = "Height"
    unit  = "um"
    with  = instrument.micrometer
    range = [um(-100), um(100)]
  }
  gate "g" {
    title     = "G"
    of        = reading.top
    within    = plus_minus(um(20) * given.span / mm(300))
    source    = "x"
    if_failed = [reject]
  }
}
`

// Measure rule 13: the zone is that of the instrument in the hand, for the
// givens that were answered, under the shop's rule. Without any circumstances
// it is the one that proofreading prints.
func TestMeasureRule13ZonesInTheCircumstancesOfARun(t *testing.T) {
	p := read(t, body(wedge))
	gates := []*procedures.Gate{p.Steps[0].Items[1].(*procedures.Gate)}
	at := func(c vet.Circumstances) vet.Zone {
		t.Helper()
		zs := vet.Zones(p, gates, c)
		if len(zs) != 1 || !zs[0].Known {
			t.Fatalf("zones %v", zs)
		}
		return zs[0]
	}
	plain := at(vet.Circumstances{})
	if want := vet.Procedure(p).Zones[0]; plain.String() != want.String() || plain.U != want.U {
		t.Errorf("without circumstances: %v, want %v", plain, want)
	}
	// Two rectangular errors of E = 4 µm, of zero and indication, a scatter of
	// 1 µm and a step of 1 µm: √(2·4²/3 + 1 + 1/12) = 3.43 µm.
	if want := math.Sqrt(2*16./3+1+1./12) / 1000; math.Abs(plain.U-want) > 1e-6 {
		t.Errorf("u = %g, want %g", plain.U, want)
	}
	if plain.Limit() != 0.02 || !plain.CanPass {
		t.Errorf("limit %g, can pass %t", plain.Limit(), plain.CanPass)
	}
	short := at(vet.Circumstances{Givens: map[string]value.Value{"span": value.Num(75)}})
	if short.Limit() != 0.005 || short.CanPass {
		t.Errorf("over 75 mm: limit %g, can pass %t, want 0.005, false", short.Limit(), short.CanPass)
	}
	dial := uncert.Instrument{Name: "I-3", Kind: "dial indicator", Resolution: 0.01, Error: 0.013, HasError: true}
	coarse := at(vet.Circumstances{Instruments: map[*procedures.Instrument]uncert.Instrument{p.Instruments[0]: dial}})
	if coarse.CanPass || coarse.Doubt() <= 2*0.013*math.Sqrt(2./3) {
		t.Errorf("with a dial of 0.01 mm: %v", coarse)
	}
	strict := at(vet.Circumstances{Rule: func(*procedures.Gate) checks.Rule { return checks.Strict }})
	if strict.Rule != checks.Strict || strict.To >= plain.To {
		t.Errorf("strict passes to %g, guarded to %g", strict.To, plain.To)
	}
}
