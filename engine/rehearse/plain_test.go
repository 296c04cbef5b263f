package rehearse_test

import (
	"testing"

	"waywright/engine"
	"waywright/engine/rehearse"
)

// ring is read at six places of which the highest counts: a kink, where errors
// are drawn. How high it is differs from seed to seed by far more than the dial
// errs, so that some seeds are plain and some are close.
const ring = `
procedure "ring" {
  title    = "A ring lies flat"
  machine  = "any"
  revision = "1"
  purpose  = "Read how high a ring lies."
}
instrument "dial" {
  kind          = "dial indicator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(0.5)
  turn          = um(200)
}
step "read" {
  title = "Read the ring"
  reading "height" {
    each "place" { of = ["a", "b", "c", "d", "e", "f"] }
    ask      = "Place ${each.place}: height"
    unit     = "um"
    with     = instrument.dial
    positive = "ring high"
    range    = [um(-500), um(500)]
  }
  result "highest" {
    title = "Highest place"
    value = greatest(reading.height)
    unit  = "um"
  }
  gate "flat" {
    title     = "Not too high"
    of        = result.highest
    at_most   = um(20)
    source    = "a test"
    if_failed = [reject]
  }
}
signoff "fitter" { title = "Done by" }
rehearsal "rings" {
  noise { height = um(12) }
  answer { height = um(8) }
  ends { outcome = "accepted" }
}
`

// A verdict that is given without drawing errors is the one that drawing them
// gives, near the limit errors are drawn, and both occur.
func TestMeasureRule10PlainVerdictsAreThoseOfARun(t *testing.T) {
	plan := parse(t, ring)
	spared, drawn := map[string]int{}, 0
	for seed := 1; seed <= 400; seed++ {
		s, _ := rehearse.Played(plan, first(plan), seed)
		read, err := engine.Fold(plan, s.Events())
		if err != nil {
			t.Fatal(err)
		}
		got, want := s.Judgements()[0], read.Judgements()[0]
		if got.Verdict != want.Verdict {
			t.Errorf("seed %d: %s as %g ± %g, and %s where errors are drawn", seed, got.Verdict, got.Value, got.U, want.Verdict)
		}
		switch {
		case want.Drawn == nil:
			t.Fatalf("seed %d: no errors are drawn in a run that is read", seed)
		case got.Drawn == nil:
			spared[got.Verdict.String()]++
		default:
			drawn++
		}
	}
	if spared["pass"] < 20 || spared["fail"] < 20 || drawn < 20 {
		t.Errorf("spared %v, drawn %d of 400", spared, drawn)
	}
}
