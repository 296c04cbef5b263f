package uncert

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// reduce finds remedies for the sum of observations times c, decided from U
// down to wanted.
func reduce(t testing.TB, in Instrument, os []Observation, srcs []Source, c []float64, wanted float64) Reduction {
	t.Helper()
	r, err := Reduce([]Instrument{in}, os, srcs, c, func(m *Model) Outcome {
		u := m.Combine(c).U
		return Outcome{u, u <= wanted}
	})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func remedy(t testing.TB, r Reduction, w Way) Remedy {
	t.Helper()
	for _, x := range r.Remedies {
		if x.Way == w {
			return x
		}
	}
	t.Fatalf("no remedy %q in %+v", w, r.Remedies)
	return Remedy{}
}

const never = -1 // no U decides

// What is told of a remedy is what the model says when it is taken.
func TestMeasureRule2MoreTakes(t *testing.T) {
	// Two takes of s = 3 with a step too fine to count: more takes divide.
	in := Instrument{Name: "M-3", Kind: "outside micrometer", Resolution: 0.001, Error: 0, HasError: true, HasZero: true, Repeatability: 3, RepeatabilityDoF: 1000}
	os := []Observation{{ID: "a", Value: 10, Takes: []float64{10 - 3/math.Sqrt2, 10 + 3/math.Sqrt2}}}
	r := reduce(t, in, os, nil, []float64{1}, never)
	x := remedy(t, r, MoreTakes)
	near(t, "U now", r.Now.U, 1.96*3/math.Sqrt2, 0.02)
	if x.From != 2 || x.To != 4 || !r.TakesHelp || r.Largest.Kind != Takes {
		t.Errorf("takes %g to %g, help %t, largest %v", x.From, x.To, r.TakesHelp, r.Largest.Kind)
	}
	near(t, "U with 4", x.U, r.Now.U/math.Sqrt2, 0.01)

	// Only 4 times as many decide: that is told.
	if x := remedy(t, reduce(t, in, os, nil, []float64{1}, 2.1), MoreTakes); x.To != 8 || !x.Decided {
		t.Errorf("to decide at 2.1: %+v, want 8 takes", x)
	}
}

// Steps are not averaged away: beyond some number takes do not help.
func TestMeasureRule3TakesAgainstSteps(t *testing.T) {
	in := Instrument{Name: "M-3", Resolution: 10, HasError: true, HasZero: true, Repeatability: 3}
	os := []Observation{{ID: "a", Value: 50, Takes: []float64{50, 50, 50}}}
	r := reduce(t, in, os, nil, []float64{1}, never)
	if r.TakesHelp || r.Largest.Kind != Resolution {
		t.Errorf("takes help %t, largest %v; want no help against a step", r.TakesHelp, r.Largest.Kind)
	}
	x := remedy(t, r, FinerStep)
	if x.From != 10 || x.To != 5 {
		t.Errorf("step %g to %g, want 10 to 5", x.From, x.To)
	}
	in.Resolution = 5
	m := mustNew(t, in, os)
	near(t, "U with half the step", x.U, m.Combine([]float64{1}).U, 1e-12)
}

// Two settings of one instrument have two zeros: under one setting they
// cancel in a difference.
func TestMeasureRule4OneSetting(t *testing.T) {
	in := Instrument{Name: "L-4", Kind: "spirit level", Resolution: 0.01, HasError: true, Zero: 4, HasZero: true}
	os := []Observation{{ID: "a", Value: 1, Setting: "one"}, {ID: "b", Value: 1, Setting: "two"}}
	r := reduce(t, in, os, nil, []float64{-1, 1}, never)
	x := remedy(t, r, OneSetting)
	if x.From != 2 || x.U > r.Now.U/100 {
		t.Errorf("one setting: %+v of %g, want next to nothing of two zeros", x, r.Now.U)
	}
	// A single reading of a level: its zero drops out of a reversal.
	r = reduce(t, in, os[:1], nil, []float64{1}, never)
	if x := remedy(t, r, TurnedRound); x.U > r.Now.U/100 {
		t.Errorf("turned round: %+v of %g", x, r.Now.U)
	}
	// What is no level gets its zero set better.
	in.Kind = "dial indicator"
	if x := remedy(t, reduce(t, in, os[:1], nil, []float64{1}, never), BetterZero); x.From != 4 || x.To != 2 {
		t.Errorf("zero from %g to %g, want 4 to 2", x.From, x.To)
	}
}

func TestMeasureRule5IndicationRemedies(t *testing.T) {
	in := Instrument{Name: "I-2", Kind: "dial indicator", Resolution: 0.0001, Error: 0.004, HasError: true, HasZero: true}
	os := []Observation{{ID: "a", Value: 0, Setting: "s"}, {ID: "b", Value: 0.3, Setting: "s"}}
	c := []float64{-1, 1}
	r := reduce(t, in, os, nil, c, never)
	close := remedy(t, r, CloserReading)
	near(t, "apart", close.From, 0.3, 1e-12)
	if close.U > r.Now.U/20 {
		t.Errorf("readings at one place leave %g of %g: their errors are one", close.U, r.Now.U)
	}
	finer := remedy(t, r, SmallerError)
	near(t, "half the error", finer.U, r.Now.U/2, 0.01*r.Now.U)

	in.CertU, in.CertK = 0.002, 2
	if x := remedy(t, reduce(t, in, os, nil, c, never), SmallerError); x.From != 0.002 {
		t.Errorf("with a certificate: from %g, want its U", x.From)
	}
	bare := Instrument{Name: "I-2", Kind: "dial indicator", Resolution: 0.01}
	if x := remedy(t, reduce(t, bare, os, nil, c, never), StatedError); x.From != 0.01 {
		t.Errorf("no error stated: from %g, want the step that stands for it", x.From)
	}
}

func TestMeasureRules6To8Remedies(t *testing.T) {
	in := Instrument{Name: "M-3", HasError: true, HasZero: true, Resolution: 0.001}
	os := []Observation{{ID: "a", Value: 1}}
	drift := Source{ID: "drift", Kind: Drift, U: 2, Limit: true, On: []Effect{{"a", 1}}}
	if x := remedy(t, reduce(t, in, os, []Source{drift}, []float64{1}, never), LessDrift); x.U > 0.01 {
		t.Errorf("without the drift: %g", x.U)
	}
	for _, k := range []Kind{Given, Temperature} {
		src := Source{ID: "length", Kind: k, U: 3}
		r := reduce(t, in, os, []Source{src}, []float64{0, 2}, 2*3*1.96/4)
		x := remedy(t, r, BetterKnown)
		if x.From != 3 || math.Abs(x.To-0.6) > 1e-12 || !x.Decided || x.Instrument != -1 {
			t.Errorf("%v: %+v, want a fifth, which is the mildest that decides", k, x)
		}
	}
}

// Takes that a formula looks at one by one are not told to be taken more often.
func TestReduceTakesApart(t *testing.T) {
	in := Instrument{Name: "I-4", HasError: true, HasZero: true, Resolution: 0.01, Repeatability: 1}
	os := []Observation{{ID: "a", Value: 1, Apart: true}, {ID: "b", Value: 2, Apart: true}}
	r := reduce(t, in, os, nil, []float64{-1, 1}, never)
	x := remedy(t, r, Steadier)
	near(t, "half the scatter", x.U, r.Now.U/2, 0.01)
	if r.TakesHelp {
		t.Error("more takes help to know how takes scatter")
	}
}

// Where no remedy decides, the U that would is told.
func TestReduceNeeded(t *testing.T) {
	in := Instrument{Name: "M-3", Resolution: 0.001, Error: 4, HasError: true, HasZero: true}
	os := []Observation{{ID: "a", Value: 1}}
	r := reduce(t, in, os, nil, []float64{1}, 0.3) // of 4.5: a tenth is too much
	if r.Needed > 0.3 || r.Needed < 0.29 {
		t.Errorf("needed %g, want just below 0.3", r.Needed)
	}
	near(t, "halved", r.Halved.U, r.Now.U/2, 0.01)
	if r.Without.U > 0.01 || !r.Without.Decided {
		t.Errorf("without its error: %+v", r.Without)
	}
	if r := reduce(t, in, os, nil, []float64{1}, never); r.Needed != 0 {
		t.Errorf("needed %g where nothing decides", r.Needed)
	}
}

// A remedy makes U smaller, never larger, whatever the readings; and no number
// of it is made up: the degrees lie between nothing and what there is.
func TestReduceProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pos := rapid.Float64Range(0, 10)
		in := Instrument{Name: "M-3", Kind: rapid.SampledFrom([]string{"", "dial indicator", "spirit level", "outside micrometer"}).Draw(t, "kind"),
			Resolution: pos.Draw(t, "a"), Error: pos.Draw(t, "E"), HasError: rapid.Bool().Draw(t, "stated"),
			Zero: pos.Draw(t, "zero"), Repeatability: pos.Draw(t, "s0"), CertU: rapid.SampledFrom([]float64{0, 2}).Draw(t, "cert")}
		var os []Observation
		var c []float64
		for i := range rapid.IntRange(1, 4).Draw(t, "n") {
			o := Observation{ID: fmt.Sprint(i), Value: pos.Draw(t, "y"), Setting: rapid.SampledFrom([]string{"one", "two"}).Draw(t, "setting"), Apart: rapid.Bool().Draw(t, "apart")}
			if !o.Apart {
				o.Takes = rapid.SliceOfN(pos, 0, 4).Draw(t, "takes")
			}
			os, c = append(os, o), append(c, rapid.Float64Range(-2, 2).Draw(t, "c"))
		}
		srcs := []Source{{ID: "span", U: pos.Draw(t, "u")}}
		c = append(c, 1)
		r, err := Reduce([]Instrument{in}, os, srcs, c, func(m *Model) Outcome { return Outcome{U: m.Combine(c).U} })
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range r.Remedies {
			if !(x.U <= worthSaying*r.Now.U) || x.From < 0 || x.To < 0 {
				t.Fatalf("%+v of U %g", x, r.Now.U)
			}
			if x.Way != MoreTakes && x.To > x.From {
				t.Fatalf("%s from %g to %g", x.Way, x.From, x.To)
			}
		}
	})
}
