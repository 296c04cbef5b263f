package uncert

import (
	"testing"

	"waywright/checks/elastic"
)

// A computed sag carries the uncertainty of what it is computed from: at the
// free end of a bar it goes with the fourth power of the length, so that u is
// 4·u(L)/L of it. Derived here. A result with the same length in another place
// shares it: in their difference it cancels as far as the slopes agree.
func TestMeasureRule8ComputedSag(t *testing.T) {
	m := mustNew(t, Instrument{}, nil, Source{ID: "length", U: 0.5, DoF: 7}, Source{ID: "diameter"})
	x := []float64{300, 25}
	sag := func(x []float64) (float64, bool) { return elastic.BarSag(x[1], x[0], x[0]), true }
	c, undefined := Gradient(sag, x, m.U())
	if undefined != nil {
		t.Fatalf("undefined at %v", undefined)
	}
	r := m.Combine(c)
	y, _ := sag(x)
	near(t, "relative u of the sag", r.Std/y, 4*0.5/300, 1e-5)
	near(t, "ν", r.DoF, 7, 1e-9)
	if len(r.Budget) != 1 || r.Budget[0].Source != "length" || r.Budget[0].Kind != Given {
		t.Errorf("budget %+v, want the length alone", r.Budget)
	}
	slope, _ := Gradient(func(x []float64) (float64, bool) { return 2e-4 * x[0], true }, x, m.U())
	near(t, "u of the difference", m.Combine(Less(slope, c)).Std, 2e-4*0.5-r.Std, 1e-9)
}
