package elastic

import (
	"math"
	"testing"

	"waywright/checks/internal/published"
)

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

// TestSag holds sag against figures worked out independently from the textbook
// beam formulas; no published example was found.
func TestSag(t *testing.T) {
	var file struct {
		Answers map[string]float64 `json:"answers_um"`
	}
	published.Read(t, "workshop/cantilever_sag.json", &file)
	for name, got := range map[string]float64{
		"solid 40 mm dia, 300 mm":                 BarSag(40, 300, 300),
		"solid 30 mm dia, 300 mm":                 BarSag(30, 300, 300),
		"solid 40 mm dia, 500 mm":                 BarSag(40, 500, 500),
		"tube 40/30 mm, 300 mm":                   TubeSag(40, 30, 300, 300),
		"end load 1 N on solid 20 mm dia, 200 mm": ToolSpring(1, 200, 20),
	} {
		want, ok := file.Answers[name]
		if !ok {
			t.Fatalf("no answer for %s", name)
		}
		if !near(got*1000, want, 1e-6) {
			t.Errorf("%s: %.6f µm, want %.6f", name, got*1000, want)
		}
	}
}

// Vectors that are derived here; mm.
func TestDerived(t *testing.T) {
	const deg = math.Pi / 180
	for _, tt := range []struct {
		name           string
		got, want, tol float64
	}{
		{"10 N at the end of Ø25 × 150", ToolSpring(10, 150, 25), 0.0028, 5e-5},
		{"10 N at the end of Ø32 × 150", ToolSpring(10, 150, 32), 0.0010, 5e-5},
		{"10 N at the end of Ø50 × 250", ToolSpring(10, 250, 50), 0.0008, 5e-5},
		{"a bar of 25 hangs", BarSag(25, 300, 300), 0.0095, 5e-5},
		{"a bar of 40 hangs", BarSag(40, 300, 300), 0.0037, 5e-5},
		{"nothing at the hold", BarSag(30, 300, 0), 0, 0},
		{"a rig that reads −0.04 turned over", RigSag(-0.04), 0.02, 0},
		{"calibrated at 12°, standing at 30°", Lever(0.040, 30*deg, 12*deg), 0.0354, 5e-5},
		{"factor at 12°", Lever(1, 12*deg, 0), 0.978, 5e-4},
		{"factor at 45°", Lever(1, 45*deg, 0), 0.707, 5e-4},
		{"25 mm of steel, a kelvin", Growth(25, 1, 11.5e-6), 0.00029, 5e-6},
		{"300 mm of steel, a kelvin", Growth(300, 1, 11.5e-6), 0.00345, 5e-6},
		{"back to 20 °C", At20(300+Growth(300, 10, 11.5e-6), 30, 11.5e-6), 300, 1e-12},
		{"lost motion has no sign", Backlash(0.05, 0.12), 0.07, 1e-15},
	} {
		if !near(tt.got, tt.want, tt.tol) {
			t.Errorf("%s: %.6f, want %.6f ± %g", tt.name, tt.got, tt.want, tt.tol)
		}
	}
}

// TestBeamEquation integrates the bending moment twice, step by step, as a
// slow twin of the formula for the sag along a bar.
func TestBeamEquation(t *testing.T) {
	const d, length, steps = 30.0, 300.0, 30000
	w := weight * math.Pi * d * d / 4
	stiffness := youngs * math.Pi * math.Pow(d, 4) / 64
	dx := length / steps
	var slope, sag float64
	for i := range steps {
		x := (float64(i) + 0.5) * dx
		sag += slope*dx + w*(length-x)*(length-x)/2/stiffness*dx*dx/2
		slope += w * (length - x) * (length - x) / 2 / stiffness * dx
		if i%5000 == 4999 {
			at := float64(i+1) * dx
			if got := BarSag(d, length, at); !near(got, sag, 1e-8*sag+1e-12) {
				t.Errorf("BarSag at %v = %v, want %v", at, got, sag)
			}
		}
	}
}

// TestSupports holds the support points against public notes on them.
func TestSupports(t *testing.T) {
	var file struct{ Published []published.Entry }
	published.Read(t, "workshop/beam_supports.json", &file)
	for quantity, got := range map[string]float64{
		"Airy spacing / L = 1/sqrt 3":                               1 - 2*Airy(1),
		"Airy distance from end / L = (3 - sqrt 3)/6":               Airy(1),
		"second support / L":                                        1 - Airy(1),
		"international prototype metre: Bessel spacing for 1020 mm": 1020 - 2*Bessel(1020),
	} {
		e := published.Find(t, file.Published, quantity)
		if want, tol := e.Number(t); !near(got, want, tol) {
			t.Errorf("%s = %v, want %v ± %v (%s)", quantity, got, want, tol, e.Where)
		}
	}
}

// TestSupportsByBending works out both support points from the bent shape
// itself: Airy's where the slope at the end is nothing, Bessel's where the
// square of the slope, summed along the bar, is least.
func TestSupportsByBending(t *testing.T) {
	if s := endSlope(Airy(1)); !near(s, 0, 1e-12) {
		t.Errorf("end slope at the Airy points is %v", s)
	}
	best := shortening(Bessel(1))
	for _, off := range []float64{-1e-4, 1e-4} {
		if s := shortening(Bessel(1) + off); s <= best {
			t.Errorf("shortening is %v at the Bessel points, %v beside them", best, s)
		}
	}
	// The two sides are alike, to second order, only about the least.
	if l, r := shortening(Bessel(1)-1e-4), shortening(Bessel(1)+1e-4); !near(l, r, 2e-3*(l-best)) {
		t.Errorf("shortening rises by %v and %v beside the Bessel points", l-best, r-best)
	}
}

// slopeAt returns the slope, for a bar of length, weight and stiffness 1 on
// supports at a from each end; the bar is alike on both sides of its middle.
func slopeAt(x, a float64) float64 {
	moment := func(x float64) float64 { // integrated from the end
		m := x * x * x / 6
		if x > a {
			m -= (x - a) * (x - a) / 4
		}
		return m
	}
	return moment(x) - moment(0.5)
}

func endSlope(a float64) float64 { return slopeAt(0, a) }

func shortening(a float64) float64 {
	const n = 20000
	s := 0.0
	for i := range n {
		y := slopeAt((float64(i)+0.5)/n/2, a)
		s += y * y
	}
	return s / n
}

// TestPublishedLever holds the factor of a lever against a maker's catalogue
// of 2019, whose examples use factors of two digits.
func TestPublishedLever(t *testing.T) {
	var file struct{ Published []published.Entry }
	published.Read(t, "workshop/lever_indicator_cosine.json", &file)
	const deg = math.Pi / 180
	for quantity, got := range map[string]float64{
		"factor at 10 deg":   Lever(1, 10*deg, 0),
		"factor at 30 deg":   Lever(1, 30*deg, 0),
		"factor at 40 deg":   Lever(1, 40*deg, 0),
		"factor at 60 deg":   Lever(1, 60*deg, 0),
		"0.200 mm at 10 deg": Lever(0.200, 10*deg, 0),
		"0.200 mm at 30 deg": Lever(0.200, 30*deg, 0),
	} {
		e := published.Find(t, file.Published, quantity)
		want, tol := e.Number(t)
		if e.Unit == "mm" {
			tol = 0.0015 // the factor is rounded to 0.01: 0.005 · 0.2 and half a digit
		}
		if !near(got, want, tol) {
			t.Errorf("%s = %v, want %v ± %v (%s)", quantity, got, want, tol, e.Where)
		}
	}
}

// TestPublishedExpansion holds growth against the worked rows of a public
// handbook table, and each coefficient against a table that has it.
func TestPublishedExpansion(t *testing.T) {
	var file struct {
		Coefficients []struct{ Material, Value string } `json:"published_1e-6_per_degC"`
		Worked       []published.Entry
	}
	published.Read(t, "workshop/thermal_expansion.json", &file)
	in := func(material string) float64 {
		k, ok := Expansion(material)
		if !ok {
			t.Fatalf("no coefficient for %s", material)
		}
		return k
	}
	for quantity, got := range map[string]float64{
		"mild steel 100 mm, 100 degC rise": Growth(100, 100, in("mild_steel")),
		"cast iron 100 mm, 50 degC rise":   Growth(100, 50, in("cast_iron")),
	} {
		e := published.Find(t, file.Worked, quantity)
		if want, tol := e.Number(t); !near(got, want, tol) {
			t.Errorf("%s = %v, want %v ± %v", quantity, got, want, tol)
		}
	}
	names := map[string]string{
		"steel": "steel end gauge", "mild_steel": "mild steel", "cast_iron": "cast iron", "brass": "brass",
		"bronze": "bronze", "aluminium": "pure aluminium", "granite": "granite", "copper": "pure copper at 20 degC",
	}
	for _, m := range Materials() {
		found := false
		for _, c := range file.Coefficients {
			found = found || (c.Material == names[m] && near(in(m)*1e6, published.Number(t, c.Value), 1e-9))
		}
		if !found {
			t.Errorf("no table has %v for %s", in(m), m)
		}
	}
	if _, ok := Expansion("putty"); ok {
		t.Error("putty has a coefficient")
	}
}

// TestSupported holds the sag of a bar on two supports against the figure for
// its middle, 5/384 = 0.01302 of w·L⁴/(E·I), in a public paper on supports, and
// against lengths derived here.
func TestSupported(t *testing.T) {
	var file struct{ Published []published.Entry }
	published.Read(t, "workshop/beam_supports.json", &file)
	want, tol := published.Find(t, file.Published, "simply supported at the ends, mid sag / (w L^4/EI)").Number(t)
	k := 16 * weight / (youngs * 30 * 30) // w/(E·I)
	if got := SupportedSag(30, 0, 500, 250) / (k * math.Pow(500, 4)); math.Abs(got-want) > tol {
		t.Errorf("in the middle %v of w·L⁴/(E·I), want %v ± %v", got, want, tol)
	}
	for _, tt := range []struct{ d, inner, l, at, want, tol float64 }{
		{25, 0, 300, 150, 0.0010, 5e-5},
		{25, 0, 500, 250, 0.0076, 5e-5},
		{25, 0, 500, 0, 0, 0},
		{25, 0, 500, 500, 0, 1e-15},
		{40, 30, 500, 250, 0.0076 * 625 / 2500, 5e-5},
	} {
		if got := SupportedSag(tt.d, tt.inner, tt.l, tt.at); math.Abs(got-tt.want) > tt.tol {
			t.Errorf("SupportedSag(%v, %v, %v, %v) = %.5f, want %.5f", tt.d, tt.inner, tt.l, tt.at, got, tt.want)
		}
		if a, b := SupportedSag(tt.d, tt.inner, tt.l, tt.at), SupportedSag(tt.d, tt.inner, tt.l, tt.l-tt.at); math.Abs(a-b) > 1e-15 {
			t.Errorf("from the other end %v, not %v", b, a)
		}
	}
}

// TestCooling: derived here. From 10 K to 1 K a bar of 25 mm takes about 90
// minutes in still air and 36 in the draught of a fan; twice the diameter takes
// twice as long; what is to cool to what it is takes none.
func TestCooling(t *testing.T) {
	for film, want := range map[float64]float64{10: 90, 25: 36} {
		if got := CoolingTime(25, 10, 1, film) / 60; math.Abs(got-want) > 1 {
			t.Errorf("with %v W/(m²·K): %.1f min, want %v", film, got, want)
		}
	}
	if got := CoolingTime(50, 8, 2, 10) / CoolingTime(25, 8, 2, 10); math.Abs(got-2) > 1e-12 {
		t.Errorf("twice the diameter takes %v times as long", got)
	}
	if got := CoolingTime(25, 3, 3, 10); got != 0 {
		t.Errorf("no cooling takes %v s", got)
	}
	if got := LeadError(299.97, 50, 6); math.Abs(got+0.03) > 1e-12 {
		t.Errorf("lead error %v, want -0.03", got)
	}
}

// TestExpansionSources: every material says where its coefficient is from.
func TestExpansionSources(t *testing.T) {
	for _, m := range Materials() {
		if k, ok := Expansion(m); !ok || k < 5e-6 || k > 30e-6 || ExpansionSource(m) == "" {
			t.Errorf("%s: %v, %v, %q", m, k, ok, ExpansionSource(m))
		}
	}
	if _, ok := Expansion("wood"); ok || ExpansionSource("wood") != "" {
		t.Error("wood has a coefficient")
	}
}
