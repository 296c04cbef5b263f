package engine_test

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/checks"
	"waywright/checks/uncert"
	"waywright/engine"
	"waywright/engine/enginetest"
)

const hingeMicrometer = `shop {"id":"M-9","what":"outside micrometer","unit":"mm","reads":[25,50],"resolution":0.001,"error":0.004,"repeatability":0.001,"turn":0.5}
pin = 31
instrument.micrometer = M-9
`

func budgetOf(t *testing.T, gate, script string) engine.Budget {
	t.Helper()
	r := enginetest.Play(t, "begin hinge\n"+script, load)
	b, ok := r.State().Budget(gate, "")
	if !ok {
		t.Fatalf("no budget of %s", gate)
	}
	return b
}

// Sources are said in words: the instrument by its number, readings by their
// places.
func TestBudgetSources(t *testing.T) {
	b := budgetOf(t, "alike", hingeMicrometer+"near = 31.001 31.002 31.001\nfar = 31.003 31.003 31.004\n")
	var got []string
	for _, p := range b.Parts {
		got = append(got, p.Source)
	}
	want := []string{"M-9, scatter of 3 takes of each of far pin and near pin", "M-9, its own error"}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("sources (−want +got):\n%s", d)
	}
	if d := cmp.Diff(want, []string{b.Judgement.Budget[0].Source, b.Judgement.Budget[1].Source}); d != "" {
		t.Errorf("sources of the judgement (−want +got):\n%s", d)
	}
	if b.Verdict != checks.Pass || math.Abs(b.Risk-(1-b.P)) > 1e-15 {
		t.Errorf("%v with p %g has the risk %g", b.Verdict, b.P, b.Risk)
	}
}

// A remedy comes to what is found when it is taken.
func TestBudgetRemedyComesTrue(t *testing.T) {
	b := budgetOf(t, "alike", hingeMicrometer+"near = 31.001 31.002 31.001\nfar = 31.015 31.016 31.015\n")
	r, ok := b.Reduce()
	if !ok {
		t.Fatal("no remedies")
	}
	for _, x := range r.Remedies {
		if x.Way != uncert.SmallerError {
			continue
		}
		better := budgetOf(t, "alike", `shop {"id":"M-9","what":"outside micrometer","unit":"mm","reads":[25,50],"resolution":0.001,"error":0.002,"repeatability":0.001,"turn":0.5}
pin = 31
instrument.micrometer = M-9
near = 31.001 31.002 31.001
far = 31.015 31.016 31.015
`)
		if x.From != 0.004 || x.To != 0.002 || math.Abs(x.U-better.U) > 1e-12 {
			t.Errorf("an instrument right to %g is told to give %g, and gives %g", x.To, x.U, better.U)
		}
		if x.Instrument != "M-9" {
			t.Errorf("of instrument %q", x.Instrument)
		}
		return
	}
	t.Errorf("no better instrument among %+v", r.Remedies)
}

// A gate that is not judged says what is missing.
func TestBudgetMissing(t *testing.T) {
	b := budgetOf(t, "alike", hingeMicrometer+"near = 31.001 31.002 31.001\n")
	if b.Verdict != checks.Open || len(b.Parts) != 0 {
		t.Errorf("%v with %d rows", b.Verdict, len(b.Parts))
	}
	if d := cmp.Diff([]string{"Far pin: diameter"}, b.Missing); d != "" {
		t.Errorf("missing (−want +got):\n%s", d)
	}
	r := enginetest.Play(t, "begin hinge\n", load)
	if _, ok := r.State().Budget("unlike", ""); ok {
		t.Error("a result has the budget of a gate")
	}
	if risk, n := r.State().RunRisk(); risk != 0 || n != 0 {
		t.Errorf("risk of nothing: %g over %d", risk, n)
	}
}

// Of a range of four readings at 0, 2, 5 and 9 µm the two at its ends move it, and
// the two between do not: they stand in no row, and it is said how many.
func TestBudgetSaysWhatStandsInNoRow(t *testing.T) {
	r := playInline(t, `
step "read" {
  title = "Read"
  reading "row" {
    ask   = "Row"
    unit  = "um"
    with  = instrument.gauge
    range = [um(-50), um(50)]
    along = [mm(0), mm(50), mm(100), mm(150)]
  }
  gate "even" {
    title     = "Even"
    of        = spread(reading.row)
    at_most   = um(40)
    source    = "test"
    if_failed = [reject]
  }
  gate "rising" {
    title     = "Rising"
    of        = rise(reading.row)
    at_most   = um(40)
    source    = "test"
    if_failed = [reject]
  }
}
`, "omit\nrow.0 = 0\nrow.50 = 2\nrow.100 = 5\nrow.150 = 9")
	for gate, want := range map[string]int{"even": 2, "rising": 0} { // a difference is not drawn: what it leaves out is in no formula
		if b, ok := r.State().Budget(gate, ""); !ok || b.Unmoving != want || (b.Drawn != nil) != (want > 0) {
			t.Errorf("%s: %d readings in no row, drawn %v; want %d", gate, b.Unmoving, b.Drawn != nil, want)
		}
	}
	if got, want := r.State().GateNames(), []string{"even", "rising"}; !slices.Equal(got, want) {
		t.Errorf("gates %v, want %v", got, want)
	}
}
