package report_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/checks"
	"waywright/checks/propagate"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/report"
)

func unit(t testing.TB, name string) quantity.Unit {
	t.Helper()
	u, err := quantity.Lookup(name)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

// Each kind of remedy in words; lengths are in mm inside.
func TestAdvice(t *testing.T) {
	um, mm := unit(t, "um"), unit(t, "mm")
	part := func(k uncert.Kind, source string) engine.Part {
		return engine.Part{Line: uncert.Line{Kind: k, Source: source, Share: 0.8}, Unit: um}
	}
	way := func(w uncert.Way, from, to, u float64) engine.Remedy {
		return engine.Remedy{Remedy: uncert.Remedy{Way: w, From: from, To: to, Outcome: uncert.Outcome{U: u}, Line: uncert.Line{On: []int{0, 1}}}, Instrument: "M-3", Place: "both collars", Unit: um}
	}
	of := func(r engine.Remedy, k uncert.Kind) engine.Remedy {
		r.Line.Kind, r.Unit = k, mm
		return r
	}
	decides := func(r engine.Remedy) engine.Remedy {
		r.Decided = true
		return r
	}
	own := part(uncert.Indication, "M-3, its own error")
	takes := part(uncert.Takes, "M-3, scatter of 2 takes of both collars")
	const now = 0.007
	for _, tt := range []struct {
		name    string
		largest engine.Part
		verdict checks.Verdict
		r       uncert.Reduction
		with    []engine.Remedy
		want    []string
	}{
		{name: "takes", largest: takes, verdict: checks.Pass, r: uncert.Reduction{TakesHelp: true, Now: uncert.Outcome{Decided: true}}, with: []engine.Remedy{way(uncert.MoreTakes, 2, 4, 0.005)},
			want: []string{"Take each 4 times instead of twice: give or take 5.0 µm instead of 7.0."}},
		{name: "single takes", largest: takes, verdict: checks.Pass, r: uncert.Reduction{TakesHelp: true, Now: uncert.Outcome{Decided: true}}, with: []engine.Remedy{way(uncert.MoreTakes, 1, 2, 0.005)},
			want: []string{"Take each twice instead of once: give or take 5.0 µm instead of 7.0."}},
		{name: "takes one by one", largest: takes, verdict: checks.Pass, r: uncert.Reduction{Now: uncert.Outcome{Decided: true}}, with: []engine.Remedy{way(uncert.Steadier, 2, 0.4, 0.005)},
			want: []string{"With takes that scatter a fifth as much: give or take 5.0 µm instead of 7.0."}},
		{name: "step", largest: part(uncert.Resolution, "M-3, its smallest step"), verdict: checks.Pass, r: uncert.Reduction{Now: uncert.Outcome{Decided: true}}, with: []engine.Remedy{way(uncert.FinerStep, 0.01, 0.005, 0.004)},
			want: []string{"More takes will not help: the doubt is M-3's own.", "With a finer scale than that of M-3, in steps of 5 µm instead of 10 µm: give or take 4.0 µm instead of 7.0."}},
		{name: "zeros", largest: part(uncert.Zero, "M-3, its zero"), verdict: checks.Undecided, r: uncert.Reduction{}, with: []engine.Remedy{decides(way(uncert.OneSetting, 2, 0, 0.0003)), way(uncert.TurnedRound, 0, 0, 0.0003), way(uncert.BetterZero, 0.004, 0.002, 0.0041)},
			want: []string{"More takes will not help: the doubt is M-3's own.",
				"Read them all under one zero of M-3, which was set 2 times: give or take 0.30 µm instead of 7.00, which decides.",
				"Read M-3 both ways round and take the mean, so that its zero drops out: give or take 0.30 µm instead of 7.00.",
				"Set the zero of M-3 right to 2 µm instead of 4 µm: give or take 4.1 µm instead of 7.0."}},
		{name: "error", largest: own, verdict: checks.Pass, r: uncert.Reduction{Now: uncert.Outcome{Decided: true}}, with: []engine.Remedy{way(uncert.SmallerError, 0.004, 0.002, 0.0041), way(uncert.StatedError, 0.01, 0.005, 0.0041), way(uncert.CloserReading, 0.3, 0, 0.001)},
			want: []string{"More takes will not help: the doubt is M-3's own.",
				"With an instrument right to 2 µm instead of 4 µm, or a certificate of M-3 that says as much: give or take 4.1 µm instead of 7.0.",
				"State how far M-3 is right; its step, 10 µm, stands for it now. If it is right to 5 µm: give or take 4.1 µm instead of 7.0.",
				"With the readings close together on the scale of M-3, where they lie 300 µm apart: give or take 1.0 µm instead of 7.0."}},
		{name: "drift", largest: part(uncert.Drift, "drift from the first reading to the last"), verdict: checks.Pass, r: uncert.Reduction{Now: uncert.Outcome{Decided: true}}, with: []engine.Remedy{way(uncert.LessDrift, 0.001, 0, 0.002)},
			want: []string{"More takes will not help: something moved between the first reading and the last.",
				"Find what moved between the first reading and the last, and read again without it: give or take 2.0 µm instead of 7.0."}},
		{name: "given", largest: part(uncert.Given, "taken as given: bar, length"), verdict: checks.Pass, r: uncert.Reduction{Now: uncert.Outcome{Decided: true}}, with: []engine.Remedy{of(way(uncert.BetterKnown, 1, 0.2, 0.002), uncert.Given), of(way(uncert.BetterKnown, 1, 0.5, 0.003), uncert.Temperature)},
			want: []string{"More takes will not help: the doubt is in what is taken as given: bar, length.",
				"Measure both collars 5 times as well: give or take 2.0 µm instead of 7.0.",
				"Measure the temperature twice as well: give or take 3.0 µm instead of 7.0."}},
		{name: "two parts", largest: own, verdict: checks.Undecided, r: uncert.Reduction{Halved: uncert.Outcome{U: 0.005}, Without: uncert.Outcome{U: 0.004}, Needed: 0.0021},
			want: []string{"More takes will not help: the doubt is M-3's own.", "No single thing would make it much less: no part of the doubt stands out.",
				"To decide at this value, give or take 2.1 µm is needed. Half of the largest part would leave 5.0, and none of it 4.0: more than one part has to become smaller."}},
		{name: "nearly all of it", largest: own, verdict: checks.Undecided, r: uncert.Reduction{Halved: uncert.Outcome{U: 0.005}, Without: uncert.Outcome{U: 0.001, Decided: true}, Needed: 0.0021},
			want: []string{"More takes will not help: the doubt is M-3's own.", "No single thing would make it much less: no part of the doubt stands out.",
				"To decide at this value, give or take 2.1 µm is needed. Half of the largest part would leave 5.0; nearly all of it has to go."}},
		{name: "at the limit", largest: takes, verdict: checks.Undecided, r: uncert.Reduction{TakesHelp: true}, with: []engine.Remedy{way(uncert.MoreTakes, 2, 4, 0.005)},
			want: []string{"Take each 4 times instead of twice: give or take 5.0 µm instead of 7.0.", "The value lies so close to the limit that no instrument could tell."}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := engine.Budget{Judgement: engine.Judgement{Unit: um, Verdict: tt.verdict, U: now}, Parts: []engine.Part{tt.largest}}
			tt.r.Now.U = now
			got := report.Advice(b, engine.Reduction{Reduction: tt.r, Remedies: tt.with, Largest: tt.largest, Owner: "M-3"})
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Errorf("advice (−want +got):\n%s", d)
			}
			for _, line := range got {
				if strings.ContainsAny(line, "_!") {
					t.Errorf("%q", line)
				}
			}
		})
	}
}

func TestMeasureRule17Words(t *testing.T) {
	for _, tt := range []struct {
		risk float64
		want string
	}{
		{math.NaN(), ""}, {0, "less than 0.1 out of 100"}, {0.00099, "less than 0.1 out of 100"}, {0.0312, "at most 3.2 out of 100"},
		{0.03, "at most 3 out of 100"}, {0.05, "at most 5 out of 100"}, {0.4801, "at most 49 out of 100"}, {1, "at most 100 out of 100"},
	} {
		if got := report.RiskSaid(tt.risk); got != tt.want {
			t.Errorf("RiskSaid(%g) = %q, want %q", tt.risk, got, tt.want)
		}
	}
	if got := report.RunRiskSaid(0.061, 3); got != "Risk of the run, that any of its 3 PASSes is wrong: at most 6.1 out of 100 together, an upper bound, the sum over them." {
		t.Error(got)
	}
	if got := report.RunRiskSaid(0, 0); got != "" {
		t.Errorf("of no pass: %q", got)
	}
	if got := report.MethodSaid(&propagate.Drawn{Trials: 200000, Why: propagate.Divisor}); got != "the errors of the readings were drawn 200 000 times, because the formula divides by a value that is poorly known" {
		t.Error(got)
	}
}

// A budget adds up: what its rows give makes the standard uncertainty, and its
// shares make one. The record has it, and the run's risk is the sum of 1 − p.
func TestMeasureRule17BudgetOfARun(t *testing.T) {
	r := enginetest.Play(t, `begin hinge
shop {"id":"M-9","what":"outside micrometer","unit":"mm","reads":[25,50],"resolution":0.001,"error":0.004,"repeatability":0.001,"turn":0.5}
pin = 31
instrument.micrometer = M-9
near = 31.001 31.002 31.001
far = 31.003 31.003 31.004
`, hinge)
	s := r.State()
	rec := report.Build(s, head, s.Len())
	var sum float64
	n := 0
	for i, j := range s.Judgements() {
		b, ok := s.Budget(j.Name, "")
		if !ok {
			t.Fatalf("no budget of %s", j.Name)
		}
		if len(b.Parts) == 0 {
			continue
		}
		var squares, share float64
		for k, p := range b.Parts {
			squares += p.Gives * p.Gives
			share += p.Share
			if k > 0 && p.Share > b.Parts[k-1].Share+1e-9 {
				t.Errorf("%s: %q is greater than the one before", j.Name, p.Source)
			}
			if strings.Contains(p.Source, "_") || p.Source == "" {
				t.Errorf("%s: source %q", j.Name, p.Source)
			}
		}
		if b.Drawn == nil && math.Abs(math.Sqrt(squares)-b.U/b.K) > 1e-9*b.U {
			t.Errorf("%s: the rows make u %g, want %g", j.Name, math.Sqrt(squares), b.U/b.K)
		}
		if math.Abs(share-1) > 1e-9 {
			t.Errorf("%s: shares make %g", j.Name, share)
		}
		test := rec.Tests[i]
		if len(test.Doubt) == 0 || test.Doubt[0].Own == nil || test.Method == nil {
			t.Errorf("%s: the record has %+v, %+v", j.Name, test.Doubt, test.Method)
		}
		if j.Verdict == checks.Pass {
			sum += 1 - j.P
			n++
			if test.Risk == nil || math.Abs(test.Risk.AtMost-(1-j.P)) > 1e-9 {
				t.Errorf("%s: risk %+v, want %g", j.Name, test.Risk, 1-j.P)
			}
		}
	}
	if n == 0 {
		t.Fatal("no gate of the run passed")
	}
	if rec.Risk == nil || rec.Risk.Tests != n || math.Abs(rec.Risk.AtMost-sum) > 1e-9 {
		t.Errorf("risk of the run %+v, want %g over %d", rec.Risk, sum, n)
	}
	if err := validate(t, compile(t), marshal(t, rec)); err != nil {
		t.Error(err)
	}
}
