package engine_test

import (
	"math"
	"testing"

	"waywright/checks"
	"waywright/engine"
	"waywright/engine/enginetest"
)

func playInline(t *testing.T, body, script string) *enginetest.Runner {
	t.Helper()
	p := inline(t, body)
	return enginetest.Play(t, "begin inline\n"+script, func(string) (*engine.Plan, error) { return p, nil })
}

func nearly(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.5f, want %.5f ± %g", what, got, want, tolerance)
	}
}

// u returns the standard uncertainty of a judgement in micrometres.
func u(j engine.Judgement) float64 { return j.U / j.K * 1000 }

// Derived here: read again, the first place has moved by 6 µm, so 2 and 4 µm
// are drift in the readings a third and two thirds on the way. What is left
// open has u = 6/(2√3) µm times 4·t·(1−t) = 8/9 in the middle. Of the difference of
// two readings it adds 2.370 µm² to twice a take, 0.25 + 1/12; zero and
// indication cancel.
func TestMeasureRule6Drift(t *testing.T) {
	r := playInline(t, `
step "read" {
  title = "Read"
  reading "row" {
    ask     = "Row"
    unit    = "um"
    with    = instrument.gauge
    range   = [um(-50), um(50)]
    along   = [mm(0), mm(50), mm(100)]
    closure = um(10)
  }
  result "rise" {
    title    = "Rise"
    value    = at(reading.row, mm(50)) - at(reading.row, mm(0))
    unit     = "um"
    positive = "up"
  }
  gate "level" {
    title     = "Level"
    of        = result.rise
    within    = plus_minus(um(40))
    source    = "test"
    if_failed = [reject]
  }
}
`, "omit\nrow.0 = 10 12 14\nrow.0.again = 16")
	j := judgementOf(t, r.State(), "level")
	nearly(t, "rise", j.Value*1000, 0, 1e-9)
	nearly(t, "u", u(j), math.Sqrt(2*(0.25+1.0/12)+6.0*6/12*64/81), 1e-4)
}

// At no drift the correction costs nothing.
func TestMeasureRule6NoDrift(t *testing.T) {
	r := playInline(t, `
step "read" {
  title = "Read"
  reading "row" {
    ask     = "Row"
    unit    = "um"
    with    = instrument.gauge
    range   = [um(-50), um(50)]
    along   = [mm(0), mm(50), mm(100)]
    closure = um(10)
  }
  gate "level" {
    title     = "Level"
    of        = at(reading.row, mm(50)) - at(reading.row, mm(0))
    within    = plus_minus(um(40))
    source    = "test"
    if_failed = [reject]
  }
}
`, "omit\nrow.0 = 10 10 14\nrow.0.again = 10")
	nearly(t, "u", u(judgementOf(t, r.State(), "level")), math.Sqrt(2*(0.25+1.0/12)), 1e-4)
}

// JCGM 100:2008, H.1 has the two terms: length · coefficient · u(rise) and
// length · rise · u(coefficient). One thermometer reads part and air to 0.1 K,
// so its error of 0.5 K cancels and its step stays: u(rise) = 0.1·√(2/12) K. Of 300
// mm, 6 K warmer, they are 0.141 and 1.8 µm.
func TestMeasureRule7Temperature(t *testing.T) {
	r := playInline(t, `
instrument "thermometer" {
  kind       = "contact thermometer"
  resolution = kelvin(0.1)
  error      = kelvin(0.5)
}
step "read" {
  title = "Read"
  reading "part" {
    ask   = "Part"
    unit  = "celsius"
    with  = instrument.thermometer
    range = [celsius(5), celsius(40)]
  }
  reading "air" {
    ask   = "Air"
    unit  = "celsius"
    with  = instrument.thermometer
    range = [celsius(5), celsius(40)]
  }
  result "longer" {
    title    = "Longer"
    value    = growth(mm(300), reading.part - reading.air, "steel")
    unit     = "um"
    positive = "longer"
  }
  gate "small" {
    title     = "Small"
    of        = result.longer
    at_most   = um(100)
    source    = "test"
    if_failed = [reject]
  }
}
`, "omit\npart = 26\nair = 20")
	j := judgementOf(t, r.State(), "small")
	nearly(t, "growth", j.Value*1000, 300*6*11.5e-3, 1e-9)
	nearly(t, "u", u(j), math.Hypot(300*11.5e-3*0.1/math.Sqrt(6), 300*6*1e-3), 1e-4)
	kinds := map[string]bool{}
	for _, l := range j.Budget {
		kinds[l.Kind.String()] = true
	}
	if !kinds["temperature"] || !kinds["resolution"] || kinds["indication"] || kinds["zero"] {
		t.Errorf("the budget has %v", kinds)
	}
}

const difference = `
step "read" {
  title = "Read"
  reading "far" {
    ask   = "Far"
    unit  = "um"
    with  = instrument.gauge
    range = [um(-50), um(50)]
  }
  reading "near" {
    ask   = "Near"
    unit  = "um"
    with  = instrument.gauge
    range = [um(-50), um(50)]
  }
  gate "low" {
    title     = "Low"
    of        = reading.far - reading.near
    at_most   = um(10.45)
    source    = "test"
    if_failed = [reject]
  }
}
`

// Derived here: 9 µm of 10.45 with u = 0.853 µm cannot be told. Once more, 10 µm,
// pooled: s² = (8·0.25 + 0.5)/(8 + 2) = 0.25, u² = 2·0.25/2 + 2·(1/3)·9.5/200 µm², so the
// margin of 0.95 is 1.79 u: P is 0.951, which would pass the first time and does not now.
func TestMeasureRule16ReadAgain(t *testing.T) {
	r := playInline(t, difference, "omit\nfar = 19\nnear = 10")
	if j := judgementOf(t, r.State(), "low"); j.Verdict != checks.Undecided {
		t.Fatalf("at first %s, p %.3f", j.Verdict, j.P)
	}
	for _, in := range []engine.Input{
		{Verb: engine.Answer, Name: "low", Text: "again"},
		{Verb: engine.Answer, Name: "far", Text: "20"},
		{Verb: engine.Answer, Name: "near", Text: "10"},
	} {
		if _, ref, err := r.Say(in); ref != nil || err != nil {
			t.Fatalf("%s: %v %v", in.Name, ref, err)
		}
	}
	j := judgementOf(t, r.State(), "low")
	nearly(t, "u", u(j), math.Sqrt(0.25+2.0/3*9.5/200), 1e-4)
	if j.Verdict != checks.Undecided || j.P < 0.9501 || j.P > 0.976 {
		t.Errorf("again: %s, p %.4f, want undecided between 0.95 and 0.977", j.Verdict, j.P)
	}
}

const turned = `
step "read" {
  title = "Read"
  reading "ring" {
    ask    = "Ring"
    unit   = "um"
    with   = instrument.gauge
    range  = [um(-50), um(50)]
    around = 8
  }
  gate "true" {
    title     = "Runs true"
    of        = runout(reading.ring)
    at_most   = um(4)
    source    = "test"
    if_failed = [reject]
  }
}
`

// A ring that reads the same all round passes 4 µm, seven times what one
// reading is uncertain by, and is said to show no more than the noise. One
// that reads 4 µm is neither passed nor failed: a good ring may read so.
func TestMeasureRule15RunoutInTheEngine(t *testing.T) {
	j := judgementOf(t, playInline(t, turned, "omit\nring.0 = 5 5 5 5 5 5 5 5").State(), "true")
	if j.Verdict != checks.Pass || j.Bound != checks.AtLeast || !j.Noise || j.Drawn == nil || j.Drawn.Bias < 0.001 {
		t.Errorf("a true ring: %s, bound %d, noise %t, drawn %+v", j.Verdict, j.Bound, j.Noise, j.Drawn)
	}
	j = judgementOf(t, playInline(t, turned, "omit\nring.0 = 3 5 7 5 3 5 7 5").State(), "true")
	if j.Verdict != checks.Undecided || j.Noise {
		t.Errorf("a ring at the limit: %s, noise %t", j.Verdict, j.Noise)
	}
	j = judgementOf(t, playInline(t, turned, "omit\nring.0 = 0 5 10 5 0 5 10 5").State(), "true")
	if j.Verdict != checks.Fail || j.Bound != checks.AtMost {
		t.Errorf("a ring of 10 µm: %s, bound %d, p %.4f", j.Verdict, j.Bound, j.P)
	}
}

// Where a formula looks at the takes themselves, equal ones have a doubt too:
// each may be off by its step and what the instrument scatters.
func TestMeasureRule10SpreadOfTakes(t *testing.T) {
	r := playInline(t, `
step "read" {
  title = "Read"
  reading "seat" {
    ask    = "Seat"
    unit   = "um"
    with   = instrument.gauge
    range  = [um(-50), um(50)]
    repeat = 3
  }
  gate "same" {
    title     = "Seats the same"
    of        = spread(reading.seat)
    at_most   = um(10)
    source    = "test"
    if_failed = [reject]
  }
}
`, "omit\nseat = 5 5 5")
	j := judgementOf(t, r.State(), "same")
	want := drawnStd(func(take func() float64) float64 {
		a, b, c := take(), take(), take()
		return max(a, b, c) - min(a, b, c)
	}, 0.5)
	nearly(t, "u", u(j), want, 0.02*want)
}
