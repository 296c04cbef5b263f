package voice

import (
	"strings"
	"testing"
	"time"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/engine"
	"waywright/procedures"
)

// The plausible range is told to as many places as it has figures.
func TestRangeIsToldWithItsFigures(t *testing.T) {
	unit := func(name string) *quantity.Unit {
		u, err := quantity.Lookup(name)
		if err != nil {
			t.Fatal(err)
		}
		return &u
	}
	for _, tt := range []struct {
		from, to float64
		unit     string
		decimals int
		want     string
	}{
		{0.03, 1, "mm", 0, "0.03 to 1"},
		{0, 0.0005, "mm", 0, "0 to 0.0005"},
		{80, 1500, "mm", 0, "80 to 1500"},
		{80, 1500, "inch", 3, "3.15 to 59.055"},
		{5, 120, "mm", 3, "5 to 120"},
		{-0.25, 0.25, "mm", 0, "-0.25 to 0.25"},
	} {
		q := engine.Question{Unit: unit(tt.unit), Decimals: tt.decimals, Range: &engine.Range{From: tt.from, To: tt.to}}
		if got := expected(q); got != tt.want {
			t.Errorf("%g to %g mm in %s: %q, want %q", tt.from, tt.to, tt.unit, got, tt.want)
		}
	}
}

// All tries are used only where no correction is left.
func TestTriesAreUsedOnlyWhereNoneIsLeft(t *testing.T) {
	gate := &engine.Judgement{Title: "Parallel", Verdict: checks.Fail, Holds: true, Gate: &procedures.Gate{IfFailed: []procedures.Way{{Kind: procedures.Correct, Correction: &procedures.Correction{Name: "turn"}}}}}
	reject := engine.Offered{Name: "reject", Kind: engine.WayReject}
	other := engine.Offered{Name: "shim", Kind: engine.WayCorrection, Advice: &engine.Advice{Title: "Shim it", Correction: &procedures.Correction{Name: "shim"}}}
	for _, tt := range []struct {
		ways []engine.Offered
		used bool
	}{{[]engine.Offered{reject}, true}, {[]engine.Offered{other, reject}, false}} {
		q := engine.Question{Kind: engine.AskWay, Name: "parallel", Gate: gate, Ways: tt.ways, Open: []string{"bed twist"}}
		v := Voice{}
		got := strings.Join(v.Lay(v.Ask(q, 2, time.Time{}).All()), "\n")
		if strings.Contains(got, "All tries are used") != tt.used || !strings.Contains(got, "bed twist") {
			t.Errorf("with %d ways it says\n%s", len(tt.ways), got)
		}
	}
}
