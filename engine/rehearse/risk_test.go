package rehearse_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"

	"waywright/checks/montecarlo"
	"waywright/engine"
	"waywright/engine/rehearse"
	"waywright/procedures"
)

// gauge is one reading held against ±5 µm and nothing else: what JCGM 106:2012
// has a global risk of. Its doubt is that of one take, 1.5 µm.
func gauge(t *testing.T, more string) *engine.Plan {
	src := strings.NewReplacer(
		"decision = \"guarded\"", "decision = \"simple\"",
		"resolution    = um(0.5)", "resolution    = um(0.01)", "error         = um(1)", "error         = um(0.001)\n  zero          = um(0)",
		"repeatability = um(0.5)", "repeatability = um(1.5)\n  repeatability_dof = 1000",
		"[correction.press, concession]", "[reject]",
		"  repeat   = 3\n", "", "    repeat   = 3\n", "", "  concedes = true\n", "").Replace(bow)
	src = src[:strings.Index(src, "correction \"press\"")] + src[strings.Index(src, "signoff \"fitter\""):]
	return parse(t, src+"rehearsal \"r\" {\n  hidden { bow = um(0) }\n"+more+"  answer { height = hidden.bow }\n  ends { outcome = \"accepted\" }\n}\n")
}

// The shares agree with the integrals of JCGM 106:2012, 9.5: over a normal
// distribution of what is measured and one of what is read of it.
func TestMeasureRule18GlobalRisk(t *testing.T) {
	const limit, spread, u, n = 5, 5, 1.5, 4000
	prior, unit := distuv.Normal{Sigma: spread}, distuv.Normal{Sigma: 1}
	accepted := func(x float64) float64 { return unit.CDF((limit-x)/u) - unit.CDF((-limit-x)/u) }
	integral := func(lo, hi float64, f func(float64) float64) float64 {
		return quad.Fixed(func(x float64) float64 { return prior.Prob(x) * f(x) }, lo, hi, 400, nil, 0)
	}
	consumer := 2 * integral(limit, 8*spread, accepted)
	producer := integral(-limit, limit, func(x float64) float64 { return 1 - accepted(x) })

	plan := gauge(t, "  spread { bow = um(5) }\n")
	s := rehearse.Sum(plan.Procedure(), rehearse.Machines(plan, first(plan), n, 2, nil))
	if s.N() != n {
		t.Fatalf("%d machines of %d are counted: %+v", s.N(), n, s.Failed)
	}
	for _, tt := range []struct {
		name      string
		got, want float64
	}{{"consumer", s.Consumer().Share(), consumer}, {"producer", s.Producer().Share(), producer}} {
		// Four standard deviations of a binomial share.
		if tol := 4 * math.Sqrt(tt.want*(1-tt.want)/n); math.Abs(tt.got-tt.want) > tol {
			t.Errorf("%s's risk %.4f, want %.4f ± %.4f (JCGM 106:2012, 9.5)", tt.name, tt.got, tt.want, tol)
		}
	}
	if s.Promised != nil || s.Gates[0].Promised != nil {
		t.Errorf("a simple decision is said to promise %v", s.Gates[0].Promised)
	}
}

// Without a spread of states there is no risk.
func TestMeasureRule18NoSpread(t *testing.T) {
	if plan := gauge(t, ""); rehearse.Spreads(first(plan)) {
		t.Error("a rehearsal without spread is said to have one")
	}
}

// A rule that passes what it should not is told apart from one that keeps its
// promise: here the machine hides half of its bow from the reading.
func TestMeasureRule18Kept(t *testing.T) {
	src := withResult(bow) + `rehearsal "r" {
  hidden { bow = um(0) }
  spread { bow = um(4) }
  answer { height = hidden.bow }
  reacts "press" { bow = hidden.bow + moved }
  ends { outcome = "accepted" }
}
`
	plan := parse(t, src)
	drawn := rehearse.Machines(plan, first(plan), 400, 2, nil)
	s := rehearse.Sum(plan.Procedure(), drawn)
	if !s.Kept() || s.Promised == nil || math.Abs(*s.Promised-0.05) > 1e-12 {
		t.Errorf("kept %v, promised %v; want true and 0.05", s.Kept(), s.Promised)
	}
	for i := range drawn { // one in four that was accepted is in truth out
		if i%4 == 0 {
			drawn[i].Sound = map[string]bool{"straight": false}
		}
	}
	if s := rehearse.Sum(plan.Procedure(), drawn); s.Kept() {
		t.Errorf("%+v keeps its promise", s.Tally)
	}
}

// A drawn instrument errs by no more than its limit, alike where readings are
// close together and otherwise a turn away; over many the error is as large as
// measure rule 5 has it.
func TestMeasureRule5DrawnInstruments(t *testing.T) {
	p := &procedures.Instrument{Name: "dial", Kind: "dial indicator", Resolution: 0.001, Error: 0.004, HasError: true, Repeatability: 0.001, Turn: 0.5}
	var near, far, square, scatter float64
	const n = 4000
	for seed := range uint64(n) {
		tool := rehearse.Tool(montecarlo.NewStream(seed, 1), p)
		a, b, c := tool.Indication(20), tool.Indication(20.01), tool.Indication(20.75)
		if math.Abs(a) > 0.004 {
			t.Fatalf("seed %d: it errs by %g, the limit is 0.004", seed, a)
		}
		near += (a - b) * (a - b) / n
		far += (a - c) * (a - c) / n
		square += a * a / n
		scatter += tool.Scatter() / n
	}
	// Between two places the error is the mean of theirs, weighted: on average
	// over all places its variance is 2/3 of 0.004²/3.
	if want := 2.0 / 3 * 0.004 * 0.004 / 3; math.Abs(square-want) > 0.06*want {
		t.Errorf("variance %g, want %g", square, want)
	}
	if near > far/100 {
		t.Errorf("readings 0.01 mm apart differ by %g, a turn and a half apart by %g", math.Sqrt(near), math.Sqrt(far))
	}
	if math.Abs(far-2*square) > 0.1*far {
		t.Errorf("readings more than a turn apart differ by %g, want %g as of two instruments", math.Sqrt(far), math.Sqrt(2*square))
	}
	if scatter < 0.001 || scatter > 0.0013 {
		t.Errorf("takes scatter by %g on average; stated is 0.001, known to a quarter", scatter)
	}
}
