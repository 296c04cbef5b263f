package ways

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"waywright/checks/fit"
	"waywright/checks/internal/published"
)

// TestEdgeReversal holds the reversal of a straightedge against a constructed
// example that was worked out independently. Its readings are slide + edge and
// slide − edge, so that sum and difference change places here.
func TestEdgeReversal(t *testing.T) {
	var file struct {
		Inputs struct {
			At []float64 `json:"position_mm"`
			R1 []float64 `json:"reading1_um"`
			R2 []float64 `json:"reading2_um"`
		}
		Answers map[string][]float64
	}
	published.Read(t, "geometry/reversal_straightedge_constructed.json", &file)
	in := file.Inputs
	sum, err1 := EdgeError(in.At, in.R1, in.R2)
	difference, err2 := SlideError(in.At, in.R1, in.R2)
	if err := errors.Join(err1, err2); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(file.Answers["slide_um = (r1 + r2)/2"], sum, cmpopts.EquateApprox(0, 1e-9)); diff != "" {
		t.Errorf("half the sum (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(file.Answers["edge_um = (r1 - r2)/2"], difference, cmpopts.EquateApprox(0, 1e-9)); diff != "" {
		t.Errorf("half the difference (-want +got):\n%s", diff)
	}
}

// TestReversalsSeparate: whatever edge and slide, or square and column, are,
// they come apart again; how the edge was set up changes nothing.
func TestReversalsSeparate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		um := rapid.Float64Range(-20, 20)
		s, c := um.Draw(t, "square"), um.Draw(t, "column")
		if !near(SquareError(s+c, s-c), s, 1e-12) || !near(ColumnLean(s+c, s-c), c, 1e-12) {
			t.Fatalf("square %v, column %v do not come back", s, c)
		}
		n := rapid.IntRange(2, 9).Draw(t, "n")
		var at, edge, slide, m1, m2 []float64
		t1, t2, o1, o2 := um.Draw(t, "tilt"), um.Draw(t, "tilt"), um.Draw(t, "offset"), um.Draw(t, "offset")
		for i := range n {
			at = append(at, float64(100*i))
			e, f := um.Draw(t, "edge"), um.Draw(t, "slide")
			if i == 0 || i == n-1 {
				e, f = 0, 0 // counted from the ends
			}
			edge, slide = append(edge, e), append(slide, f)
			x := at[i] / 1000
			m1, m2 = append(m1, e+f+o1+t1*x), append(m2, e-f+o2+t2*x)
		}
		gotE, err1 := EdgeError(at, m1, m2)
		gotS, err2 := SlideError(at, m1, m2)
		if err := errors.Join(err1, err2); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff([2][]float64{edge, slide}, [2][]float64{gotE, gotS}, cmpopts.EquateApprox(0, 1e-10)); d != "" {
			t.Fatalf("edge and slide (-want +got):\n%s", d)
		}
		a, b, d := um.Draw(t, "a"), um.Draw(t, "b"), um.Draw(t, "c")
		ga, gb, gc := ThreeWay(a+b, b+d, a+d)
		if !near(ga, a, 1e-12) || !near(gb, b, 1e-12) || !near(gc, d, 1e-12) {
			t.Fatalf("three edges %v %v %v come back as %v %v %v", a, b, d, ga, gb, gc)
		}
	})
}

func TestReversalUndefined(t *testing.T) {
	for _, at := range [][]float64{nil, {5}, {5, 5}} {
		v := make([]float64, len(at))
		if _, err := EdgeError(at, v, v); !errors.As(err, new(*fit.Undefined)) {
			t.Errorf("stations %v: %v", at, err)
		}
	}
}

// TestPasses: what is left after the passes is the wanted surface, to half of
// a bite and at its lowest place exactly, and no place gets less than none.
func TestPasses(t *testing.T) {
	// Derived here: a step of 12 µm over three zones in passes of 3 µm.
	if d := cmp.Diff([]float64{4, 2, 0}, Passes([]float64{0.012, 0.006, 0}, []float64{0, 0, 0}, 0.003)); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "n")
		bite := rapid.Float64Range(0.5, 5).Draw(t, "bite")
		p, target := make([]float64, n), make([]float64, n)
		least := math.Inf(1)
		for i := range p {
			p[i], target[i] = rapid.Float64Range(-30, 30).Draw(t, "p"), rapid.Float64Range(-30, 30).Draw(t, "target")
			least = math.Min(least, p[i]-target[i])
		}
		got, none := Passes(p, target, bite), false
		for i, k := range got {
			if left := p[i] - target[i] - least - k*bite; k < 0 || k != math.Trunc(k) || math.Abs(left) > bite/2*(1+1e-6) {
				t.Fatalf("zone %d: %v passes leave %v", i, k, left)
			}
			none = none || k == 0
		}
		if !none {
			t.Fatal("every zone gets a pass")
		}
	})
}
