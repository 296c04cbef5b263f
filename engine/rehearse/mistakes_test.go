package rehearse_test

import (
	"strings"
	"testing"

	"waywright/engine"
	"waywright/engine/rehearse"
)

// feet are two feet of a plate: one is set until both stand alike.
const feet = `
procedure "feet" {
  title    = "A plate on two feet"
  machine  = "any"
  revision = "1"
  purpose  = "Set one foot until both stand alike."
  decision = "guarded"
}
instrument "dial" {
  kind          = "dial indicator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(0.5)
  turn          = um(200)
}
step "read" {
  title = "Read both feet"
  reading "height" {
    each "foot" { of = ["left", "right"] }
    ask      = "Foot, ${each.foot}: height"
    unit     = "um"
    with     = instrument.dial
    nudge    = "up"
    positive = "foot high"
    range    = [um(-500), um(500)]
  }
  result "tilt" {
    title    = "Right foot above the left"
    value    = reading.height.right - reading.height.left
    unit     = "um"
    positive = "right foot high"
  }
  gate "alike" {
    title     = "Both feet alike"
    of        = result.tilt
    within    = plus_minus(um(8))
    source    = "a test"
    if_failed = [correction.screw, reject]
  }
}
correction "screw" {
  title    = "Turn the screw of the right foot"
  amount   = -result.tilt
  unit     = "um"
  positive = "up"
  negative = "down"
  moved {
    ask  = "Right foot: movement, plus up"
    with = instrument.dial
  }
  should_change {
    result = result.tilt
    by     = amount
  }
}
signoff "fitter" { title = "Done by" }
`

func plate(t *testing.T, mistakes, ends string) *engine.Plan {
	return parse(t, feet+`rehearsal "r" {
  hidden { tilt = um(60) }
  answer { height = each.foot == "right" ? hidden.tilt : um(0) }
  reacts "screw" { tilt = hidden.tilt + moved }
`+mistakes+"\n  ends {\n    outcome = \"accepted\"\n"+ends+"\n  }\n}\n")
}

// Told that readings may be swapped, a person who did swap them reads afresh
// and goes on; one who did not stays with what was read.
func TestRule50ReadsAfreshWhatWasSwapped(t *testing.T) {
	swapped := func(nth string) string {
		return "  mistake \"swapped\" {\n    of  = reading.height\n    nth = " + nth + "\n  }\n"
	}
	for _, tt := range []struct {
		name, mistakes, ends string
		afresh               int
	}{
		{"twice", swapped("1") + swapped("2"), "    said = { screw = [\"wrong_sign\"] }", 1},
		{"the needle is reversed", "  mistake \"reversed\" { of = correction.screw }", "    said = { screw = [\"wrong_sign\"] }", 0},
	} {
		s, _ := ends(t, plate(t, tt.mistakes, tt.ends), 1)
		afresh := 0
		for _, ev := range s.Events() {
			if _, ok := ev.Data.(engine.Disturbed); ok {
				afresh++
			}
		}
		if afresh != tt.afresh {
			t.Errorf("%s: read afresh %d times, want %d", tt.name, afresh, tt.afresh)
		}
		if j := s.Judgements()[0]; j.Value > 0.008 || j.Value < -0.008 {
			t.Errorf("%s: it ends with a tilt of %g mm", tt.name, j.Value)
		}
	}
}

// A reading whose needle reads the other way round is found out by the push,
// and its figures count with their signs turned.
func TestRule50ReversedReading(t *testing.T) {
	s, _ := ends(t, plate(t, "  mistake \"reversed\" { of = reading.height }", "    rounds = { screw = 1 }"), 1)
	if got := typed(s, "height.nudge"); len(got) == 0 || got[0] != "minus" {
		t.Errorf("the needle goes %v, want minus", got)
	}
	if got := typed(s, "height.right"); len(got) != 2 || got[0] != "-60 um" {
		t.Errorf("the right foot is typed %v, want −60 µm first", got)
	}
	if got := typed(s, "screw.moved"); len(got) != 1 || got[0] != "-60 um" {
		t.Errorf("moved %v, want −60 µm", got)
	}
}

// A mistake is made at the stated attempt and at no other.
func TestRule50Nth(t *testing.T) {
	for nth, want := range map[string][]string{"1": {"60 um", "-120 um"}, "2": {"-60 um"}, "7": {"-60 um"}} {
		s, _ := ends(t, plate(t, "  mistake \"wrong_way\" {\n    of  = correction.screw\n    nth = "+nth+"\n  }", ""), 1)
		if got := strings.Join(typed(s, "screw.moved"), " "); got != strings.Join(want, " ") {
			t.Errorf("the wrong way at attempt %s: moved %s, want %v", nth, got, want)
		}
	}
}

// The truth of a machine is what its readings would be without any error: a
// mistake of the person does not change it.
func TestMeasureRule18TruthIsTheMachines(t *testing.T) {
	plan := parse(t, feet+`rehearsal "r" {
  hidden { tilt = um(0) }
  spread { tilt = um(30) }
  answer { height = each.foot == "right" ? hidden.tilt : um(0) }
  mistake "swapped" { of = reading.height }
  reacts "screw" { tilt = hidden.tilt + moved }
  ends { outcome = "accepted" }
}
`)
	out := 0
	for _, d := range rehearse.Machines(plan, first(plan), 200, 2, nil) {
		if d.Failure != nil || !d.Known {
			t.Fatalf("%+v", d)
		}
		if !d.First {
			out++
		}
	}
	// Of a normal distribution 8 of 30 from its middle, 0.79 lie outside.
	if out < 135 || out > 180 {
		t.Errorf("%d of 200 machines are out at first, want about 158", out)
	}
}
