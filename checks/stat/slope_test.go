package stat

import (
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"waywright/checks"
	"waywright/checks/internal/published"
)

// JCGM 100:2008, H.3: a thermometer's corrections over temperature, known
// alike and from how they scatter about the line alone.
func TestSlopeThermometer(t *testing.T) {
	var c struct {
		Inputs struct {
			T []string `json:"t_degC"`
			B []string `json:"b_degC"`
		}
		Published []struct {
			Quantity, Value string
			Tolerance       string `json:"suggested_tolerance"`
		}
	}
	published.Read(t, "gum/h3_thermometer.json", &c)
	var g []Point
	for i := range c.Inputs.T {
		g = append(g, Point{X: published.Number(t, c.Inputs.T[i]), Y: published.Number(t, c.Inputs.B[i])})
	}
	s, ok := CommonSlope(g)
	if !ok || s.DoF != 9 || !s.Scatter {
		t.Fatalf("CommonSlope = %+v, %v", s, ok)
	}
	got := map[string]float64{"y2": s.By, "s(y2)": s.U, "s": math.Sqrt(s.ChiSquared / 9)}
	seen := 0
	for _, p := range c.Published {
		x, ok := got[p.Quantity]
		if !ok {
			continue
		}
		seen++
		if want, tol := published.Number(t, p.Value), published.Number(t, p.Tolerance); math.Abs(x-want) > tol {
			t.Errorf("%s = %v, want %v ± %v (JCGM 100:2008, H.3.3)", p.Quantity, x, want, tol)
		}
	}
	if seen != 3 {
		t.Errorf("%d published figures, want 3", seen)
	}
}

// NIST StRD Norris: slope 1.00211681802045 with standard deviation
// 0.000429796848199937, residual standard deviation 0.884796396144373.
func TestSlopeNorris(t *testing.T) {
	b, err := os.ReadFile(published.Path("nist_strd/linear/Norris.dat"))
	if err != nil {
		t.Fatal(err)
	}
	var g []Point
	for _, line := range strings.Split(string(b), "\n")[60:96] {
		f := strings.Fields(line)
		g = append(g, Point{Y: published.Number(t, f[0]), X: published.Number(t, f[1])})
	}
	s, ok := CommonSlope(g)
	if !ok {
		t.Fatal("no slope")
	}
	published.Agree(t, "NIST StRD Norris", "slope", s.By, 1.00211681802045, 12)
	published.Agree(t, "NIST StRD Norris", "its standard deviation", s.U, 0.000429796848199937, 12)
	published.Agree(t, "NIST StRD Norris", "residual", math.Sqrt(s.ChiSquared/float64(s.Free)), 0.884796396144373, 12)
	// Told uncertainties of that size, the points give the same slope.
	for i := range g {
		g[i].U, g[i].DoF = 0.884796396144373, math.Inf(1)
	}
	if w, ok := CommonSlope(g); !ok || math.Abs(w.By-s.By) > 1e-12 || math.Abs(w.U-s.U) > 1e-12 || w.Scatter {
		t.Errorf("with uncertainties: %+v, want %+v", w, s)
	}
}

// Two points give the slope of the line through them, with the uncertainty of
// their difference.
func TestSlopeOfTwo(t *testing.T) {
	s, ok := CommonSlope([]Point{{0, 1, 3, math.Inf(1)}, {2, 11, 4, math.Inf(1)}})
	if !ok || math.Abs(s.By-5) > 1e-12 || math.Abs(s.U-2.5) > 1e-12 || s.Free != 0 || s.Scatter {
		t.Errorf("%+v, %v; want 5 ± 2.5", s, ok)
	}
	// 5⁴/(3⁴/10 + 4⁴/10), JCGM 100:2008, G.2b
	s, _ = CommonSlope([]Point{{0, 1, 3, 10}, {2, 11, 4, 10}})
	if want := 625 / 33.7; math.Abs(s.DoF-want) > 1e-9 {
		t.Errorf("%v degrees of freedom, want %v", s.DoF, want)
	}
}

func TestSlopeHasNone(t *testing.T) {
	for name, g := range map[string][][]Point{
		"nothing":                 {},
		"one":                     {{{1, 1, 1, 1}}},
		"one each":                {{{1, 1, 1, 1}}, {{2, 2, 1, 1}}, {{3, 3, 1, 1}}},
		"in one place":            {{{1, 1, 1, 9}, {1, 2, 1, 9}, {1, 3, 1, 9}}},
		"exact and not":           {{{1, 1, 0, 9}, {2, 2, 1, 9}, {3, 3, 1, 9}}},
		"exact, nothing to spare": {{{1, 1, 0, 9}, {2, 2, 0, 9}}},
	} {
		if s, ok := CommonSlope(g...); ok {
			t.Errorf("%s: %+v", name, s)
		}
	}
}

// Shifting a group, or all of x, changes nothing: groups share the slope alone.
func TestSlopeKeepsToItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		some := rapid.Float64Range(-100, 100)
		slope := some.Draw(t, "slope")
		dof := rapid.SampledFrom([]float64{5, math.Inf(1)}).Draw(t, "dof")
		var a, b []Point
		for i := range rapid.IntRange(2, 6).Draw(t, "n") {
			u := rapid.Float64Range(0.1, 10).Draw(t, "u")
			e := some.Draw(t, "e")
			x := float64(i) + rapid.Float64Range(0, 0.9).Draw(t, "x")
			a, b = append(a, Point{x, slope*x + e, u, dof}), append(b, Point{x + 7, slope*x + e + 40, u, dof})
		}
		one, ok1 := CommonSlope(a)
		two, ok2 := CommonSlope(a, b)
		if !ok1 || !ok2 || math.Abs(one.By-two.By) > 1e-8 {
			t.Fatalf("%+v %v, %+v %v", one, ok1, two, ok2)
		}
		// Twice as many points of the same kind: √2 better known.
		if !one.Scatter && !two.Scatter && dof == math.Inf(1) && math.Abs(one.U/two.U-math.Sqrt2) > 1e-9 {
			t.Fatalf("u %v and %v", one.U, two.U)
		}
	})
}

// Without a slope, one is shown about once in twenty times, whatever the
// weights, the groups and how well the uncertainties are known.
func TestSlopeFalseAlarmsSimulated(t *testing.T) {
	const runs = 20_000
	for name, groups := range map[string][]int{"three": {3}, "eight": {8}, "adjusted each time": {2, 2, 2}, "one adjustment": {3, 4}} {
		for _, dof := range []float64{8, math.Inf(1)} {
			shown := 0
			r := rand.New(rand.NewPCG(6, 7))
			for range runs {
				var gs [][]Point
				x := 0.0
				for _, n := range groups {
					level := 10 * r.NormFloat64()
					var g []Point
					for range n {
						x += 0.5 + r.Float64()
						sigma := 1 + 2*r.Float64()
						g = append(g, Point{x, level + sigma*r.NormFloat64(), sigma * estimated(r, dof), dof})
					}
					gs = append(gs, g)
				}
				s, ok := CommonSlope(gs...)
				if !ok {
					t.Fatal("no slope")
				}
				if math.Abs(s.By) > checks.TQuantile(0.975, s.DoF)*s.U {
					shown++
				}
			}
			share := float64(shown) / runs
			t.Logf("%s, %v degrees of freedom: %.3f", name, dof, share)
			if share < 0.025 || share > 0.058 {
				t.Errorf("%s, %v degrees of freedom: a slope is shown in %.3f of all runs, want about 0.05", name, dof, share)
			}
		}
	}
}

// estimated is how a standard deviation comes out, beside the true one.
func estimated(r *rand.Rand, dof float64) float64 {
	if math.IsInf(dof, 1) {
		return 1
	}
	sum := 0.0
	for range int(dof) {
		x := r.NormFloat64()
		sum += x * x
	}
	return math.Sqrt(sum / dof)
}
