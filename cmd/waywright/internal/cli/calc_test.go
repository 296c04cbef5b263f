package cli

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// sheetOf is a file of published figures: by quantity, and for files of
// several cases by their number.
type sheetOf struct {
	file  string
	cases []map[string]figure
}

type figure struct{ want, tolerance float64 }

func readPublished(t *testing.T, name string) sheetOf {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "testdata", "published", name))
	if err != nil {
		t.Fatal(err)
	}
	type entry struct {
		Quantity, Value string
		Tolerance       string `json:"suggested_tolerance"`
	}
	var f struct {
		Published []entry
		Cases     []struct{ Published []entry }
	}
	if err := json.Unmarshal(b, &f); err != nil {
		t.Fatal(err)
	}
	lists := [][]entry{f.Published}
	for _, c := range f.Cases {
		lists = append(lists, c.Published)
	}
	out := sheetOf{file: name}
	for _, l := range lists {
		m := map[string]figure{}
		for _, e := range l {
			x, err := strconv.ParseFloat(e.Value, 64)
			tol, _ := strconv.ParseFloat(e.Tolerance, 64)
			if err == nil {
				m[e.Quantity] = figure{x, tol}
			}
		}
		out.cases = append(out.cases, m)
	}
	return out
}

// hold holds a number against a published one. A tolerance of 0 is that of the
// file: half of the last figure, or what it has a reason for.
func (s sheetOf) hold(t *testing.T, part int, quantity string, got, tolerance float64) {
	t.Helper()
	f, ok := s.cases[part][quantity]
	if !ok {
		t.Fatalf("%s has no %q", s.file, quantity)
	}
	if tolerance == 0 {
		tolerance = f.tolerance
	}
	digits := 17.0
	if got != f.want {
		digits = -math.Log10(math.Abs(got-f.want) / math.Max(math.Abs(f.want), 1e-300))
	}
	t.Logf("%-48s %-14.8g published %-10g %5.1f digits (%s)", quantity, got, f.want, digits, s.file)
	if !(math.Abs(got-f.want) <= tolerance+1e-12*math.Abs(f.want)) {
		t.Errorf("%s = %.8g, want %g ± %g (%s)", quantity, got, f.want, tolerance, s.file)
	}
}

// told runs calc with --json, as at the prompt.
func told(t *testing.T, args ...string) calculated {
	t.Helper()
	code, out, errs := typed(append([]string{"calc", "--json"}, args...)...)
	if code != 0 {
		t.Fatalf("calc %q ended with %d: %s", args, code, errs)
	}
	var c calculated
	if err := json.Unmarshal([]byte(out), &c); err != nil {
		t.Fatal(err)
	}
	return c
}

func typed(args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = Main(args, Streams{Out: &o, Err: &e, Now: time.Now, Env: func(string) string { return "" }})
	return code, o.String(), e.String()
}

func within(t *testing.T, what string, got *float64, want, tolerance float64) {
	t.Helper()
	if got == nil {
		t.Errorf("%s is not there, want %g", what, want)
	} else if !(math.Abs(*got-want) <= tolerance) {
		t.Errorf("%s = %.8g, want %g ± %g", what, *got, want, tolerance)
	}
}

// endGauge is the comparison of gauge blocks of JCGM 100:2008, H.1, in nm.
func endGauge(more ...string) []string {
	args := []string{"ls + d + d1 + d2 - ls*(dalpha*(theta + cyclic) + alpha*dtheta)", "--in", "nm"}
	for _, w := range []string{
		"ls = about(mm(50.000623), um(0.075), 3, 18)",
		"d = student(nm(215), nm(13)/sqrt(5), 24)",
		"d1 = about(nm(0), um(0.01), 2.57, 5)",
		"d2 = about(nm(0), um(0.02), 3, 8)",
		"alpha = rectangular(9.5e-6/kelvin(1), 13.5e-6/kelvin(1))",
		"theta = normal(kelvin(-0.1), kelvin(0.2))",
		"cyclic = arcsine(kelvin(0.5))",
		"dalpha = rectangular(-1e-6/kelvin(1), 1e-6/kelvin(1), 50)",
		"dtheta = rectangular(kelvin(-0.05), kelvin(0.05), 2)",
	} {
		args = append(args, "--with", w)
	}
	return append(args, more...)
}

// JCGM 100:2008, H.1, with the figures of its Table H.1.
func TestCalcPublishedEndGauge(t *testing.T) {
	pub := readPublished(t, "gum/h1_end_gauge.json")
	c := told(t, endGauge("--linear", "--level", "0.99")...)
	pub.hold(t, 0, "l", *c.Value*1e-6, 0)
	pub.hold(t, 0, "uc(l)", *c.Std, 0)
	pub.hold(t, 0, "uc2(l)", *c.Std**c.Std, 0)
	pub.hold(t, 0, "veff(l)", *c.DoF, 0)
	pub.hold(t, 0, "t99(16)", *c.K, 0)
	pub.hold(t, 0, "U99", *c.U, 0)
	rows := map[string]rowJSON{}
	for _, r := range c.Budget {
		rows[r.Input] = r
	}
	pub.hold(t, 0, "u(lS)", *rows["ls"].Std, 0)
	pub.hold(t, 0, "u(dbar)", *rows["d"].Std, 0)
	pub.hold(t, 0, "u(d1)", *rows["d1"].Std, 0)
	pub.hold(t, 0, "u(d2)", *rows["d2"].Std, 0)
	pub.hold(t, 0, "u(dtheta)", *rows["dtheta"].Std, 0)
	pub.hold(t, 0, "|c(dalpha)|u(dalpha)", math.Abs(*rows["dalpha"].Gives), 0)
	pub.hold(t, 0, "|c(dtheta)|u(dtheta)", math.Abs(*rows["dtheta"].Gives), 0)
	if c.Method != "linear" {
		t.Errorf("with --linear the method is %s", c.Method)
	}
}

// JCGM 101:2008, 9.5, Tables 10 and 11: the same comparison with errors drawn.
// The two limits that are not well known are curvilinear trapezoids there, as
// rectangular with degrees of freedom is here.
func TestCalcPublishedGaugeBlock(t *testing.T) {
	pub := readPublished(t, "jcgm101/9_5_gauge_block.json")
	c := told(t, endGauge("--level", "99 %")...)
	if c.Method != "drawn" || c.Trials != 1_000_000 {
		t.Fatalf("method %s with %d trials; the formula bends (H.1.7), so errors are drawn", c.Method, c.Trials)
	}
	pub.hold(t, 0, "MCM estimate", *c.Mean-50e6, 0)
	pub.hold(t, 0, "MCM u", *c.Std, 0)
	pub.hold(t, 0, "MCM low", *c.Shortest.Low-50e6, 0)
	pub.hold(t, 0, "MCM high", *c.Shortest.High-50e6, 0)
	pub.hold(t, 0, "delta", *c.Validation.Tolerance, 0)
	pub.hold(t, 0, "GUF estimate", *c.Value-50e6, 0)
	pub.hold(t, 0, "GUF u", *c.Linear.Std, 0)
	// 745 and 931 come from the rounded 2.92 · 32; unrounded it is 745.5 and 930.5.
	pub.hold(t, 0, "GUF low (99 %, t with 16 dof)", *c.Linear.Interval.Low-50e6, 1)
	pub.hold(t, 0, "GUF high", *c.Linear.Interval.High-50e6, 1)
}

// JCGM 101:2008, 9.2.2 to 9.2.4, Tables 2 to 4.
func TestCalcPublishedAdditive(t *testing.T) {
	pub := readPublished(t, "jcgm101/9_2_additive.json")
	const r3 = "1.7320508075688772"
	normal, unit, wide := "normal(0, 1)", "rectangular(-"+r3+", "+r3+")", "rectangular(10*"+r3+")"
	sum := func(last string, x string) string { return strings.Join([]string{x, x, x, last}, " + ") }

	c := told(t, sum(normal, normal), "--draw", "--trials", "1000000")
	pub.hold(t, 1, "y", *c.Value, 0)
	pub.hold(t, 1, "u(y)", *c.Linear.Std, 0)
	pub.hold(t, 1, "u(y)", *c.Std, 0)
	const half = "interval half-width, GUF / MCM (M = 1e6) / analytical"
	pub.hold(t, 1, half, *c.Linear.U, 0)
	pub.hold(t, 1, half, (*c.Interval.High-*c.Interval.Low)/2, 0.02) // three times the spread of runs of 10⁶
	pub.hold(t, 1, "numerical tolerance delta", *c.Validation.Tolerance, 0)
	if !c.Validation.Symmetric.OK {
		t.Errorf("9.2.2: %+v, want validated", c.Validation)
	}

	c = told(t, sum(unit, unit), "--draw", "--trials", "1000000")
	pub.hold(t, 2, "u(y)", *c.Std, 0)
	pub.hold(t, 2, "GUF half-width", *c.Linear.U, 0)
	pub.hold(t, 2, "analytical half-width 2*sqrt3*(2-(3/5)^(1/4))", (*c.Interval.High-*c.Interval.Low)/2, 0.015)

	c = told(t, sum(wide, unit), "--adaptive")
	pub.hold(t, 3, "u(y) exact sqrt(103)", *c.Std, 0)
	pub.hold(t, 3, "GUF half-width", *c.Linear.U, 0)
	pub.hold(t, 3, "MCM half-width (M = 1e6)", (*c.Interval.High-*c.Interval.Low)/2, 0)
	pub.hold(t, 3, "delta", *c.Validation.Tolerance, 0)
	if c.Validation.Symmetric.OK || c.Stable == nil || !*c.Stable {
		t.Errorf("9.2.4: %+v, stable %v, want not validated and stable", c.Validation, c.Stable)
	}
}

// JCGM 101:2008, 9.3, Tables 5 and 6. Masses in mg are plain numbers here.
func TestCalcPublishedMass(t *testing.T) {
	pub := readPublished(t, "jcgm101/9_3_mass.json")
	args := []string{"(mr + dmr)*(1 + (a - 1.2)*(1/w - 1/r)) - 100000", "--digits", "1", "--trials", "1000000",
		"--with", "mr = normal(100000, 0.050)", "--with", "dmr = normal(1.234, 0.020)",
		"--with", "a = rectangular(1.1, 1.3)", "--with", "w = rectangular(7000, 9000)", "--with", "r = rectangular(7950, 8050)"}
	c := told(t, args...)
	pub.hold(t, 0, "MCM estimate", *c.Mean, 0)
	pub.hold(t, 0, "MCM u", *c.Std, 0)
	pub.hold(t, 0, "MCM low (shortest 95 %)", *c.Shortest.Low, 0.003) // the minimum of the length is flat
	pub.hold(t, 0, "MCM high", *c.Shortest.High, 0.003)
	pub.hold(t, 0, "GUF first order: estimate", *c.Value, 0)
	pub.hold(t, 0, "GUF first order: u", *c.Linear.Std, 0)
	pub.hold(t, 0, "GUF first order: low", *c.Linear.Interval.Low, 0)
	pub.hold(t, 0, "GUF first order: high", *c.Linear.Interval.High, 0)
	pub.hold(t, 0, "delta", *c.Validation.Tolerance, 0)
	v := c.Validation.Shortest
	if v.OK {
		t.Error("the first order is good enough; Table 6 has it as not")
	}
	within(t, "distance of the lower ends (Table 6)", v.Low, 0.0451, 0.003)
	within(t, "distance of the upper ends (Table 6)", v.High, 0.0430, 0.003)
	// Without being asked for: the product of two poorly known numbers bends.
	if c := told(t, append([]string{args[0]}, args[5:]...)...); c.Method != "drawn" || c.Why != "the formula bends within the doubt of its inputs" {
		t.Errorf("method %s, because %q; want drawn, because it bends", c.Method, c.Why)
	}
}

// JCGM 101:2008, 6.4.3.4, example.
func TestCalcPublishedCurvilinearTrapezoid(t *testing.T) {
	pub := readPublished(t, "jcgm101/6_4_3_ctrap.json")
	c := told(t, "curvilinear_trapezoid(9.9, 10.1, 0.05)", "--draw")
	pub.hold(t, 0, "u(x)", *c.Std, 0)
	pub.hold(t, 0, "u(x)", *c.Linear.Std, 0)
	pub.hold(t, 0, "u2(x)", *c.Linear.Std**c.Linear.Std, 0)
	pub.hold(t, 0, "u(x) with exact limits", *told(t, "rectangular(9.9, 10.1)").Std, 0)
}

// JCGM 100:2008, G.4.1, example: a product of three inputs, each the mean of
// some observations.
func TestCalcPublishedWelchSatterthwaite(t *testing.T) {
	pub := readPublished(t, "gum/g4_welch_satterthwaite.json")
	c := told(t, "student(1, 0.0025, 9)*student(1, 0.0057, 4)*student(1, 0.0082, 14)", "--in", "%")
	pub.hold(t, 0, "uc(y)/y", *c.Std, 0)
	pub.hold(t, 0, "veff", *c.DoF, 0)
	pub.hold(t, 0, "U95/y", *c.U, 0)
	if *c.DoF < 19 { // 18.99874 unrounded is rounded down here (G.4.1 takes 19)
		within(t, "k at 18 degrees of freedom (Table G.2)", c.K, 2.10, 0.005)
	}
}

// What two values share is counted once: of d − d nothing is left, d + d has
// twice the uncertainty of d and not √2 of it (JCGM 100:2008, F.1.2.3).
func TestCalcNamedInputsAreShared(t *testing.T) {
	d := []string{"--with", "d = about(mm(20.011), um(3))"}
	within(t, "u of d - d", told(t, append(d, "d - d")...).Std, 0, 0)
	within(t, "u of d + d", told(t, append(d, "d + d")...).Std, 0.003, 1e-12)
	within(t, "u of d + d, drawn", told(t, append(d, "d + d", "--draw")...).Std, 0.003, 2e-5)
	twice := told(t, "about(mm(20.011), um(3)) + about(mm(20.011), um(3))")
	within(t, "u of two inputs written alike", twice.Std, 0.0015*math.Sqrt2, 1e-12)
	if len(twice.Budget) != 2 || twice.Budget[1].Input != "about(mm(20.011), um(3)) [2]" {
		t.Errorf("budget of two inputs: %+v", twice.Budget)
	}
	// A value about another: the error of that and its own, correlated with it.
	chain := append(d, "--with", "e = about(d + mm(1), um(4))", "e - d")
	c := told(t, chain...)
	within(t, "e - d", c.Value, 1, 1e-12)
	within(t, "u of e - d", c.Std, 0.002, 1e-12)
	within(t, "u of e", told(t, append(d, "--with", "e = about(d + mm(1), um(4))", "e", "--draw")...).Std, 0.0025, 2e-5)
}

// JCGM 101:2008, 9.4: δY = X1² + X2² with u = 0.005 each. Its means and u are
// x1² + 2u² and √(4x1²u² + 4(1 + r²)u⁴), derived here; the figures of 9.4, from
// memory, are these rounded.
func TestCalcPublishedComparisonLoss(t *testing.T) {
	for _, tt := range []struct{ x, r, y, u, uLinear float64 }{
		{0, 0, 50, 50, 0}, {0.010, 0, 150, 112, 100}, {0.050, 0, 2550, 502, 500},
		{0, 0.9, 50, 67, 0}, {0.010, 0.9, 150, 121, 100}, {0.050, 0.9, 2550, 505, 500},
	} {
		num := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
		c := told(t, "square(x1) + square(x2)", "--trials", "1000000", "--with", "x1 = normal("+num(tt.x)+", 0.005)",
			"--with", "x2 = normal(0, 0.005)", "--correlation", "x1, x2 = "+num(tt.r))
		what := "x1 = " + num(tt.x) + ", r = " + num(tt.r)
		*c.Mean, *c.Std, *c.Linear.Std = *c.Mean*1e6, *c.Std*1e6, *c.Linear.Std*1e6
		within(t, "mean with "+what, c.Mean, tt.y, 1.5)
		within(t, "u with "+what, c.Std, tt.u, 1)
		within(t, "first order u with "+what, c.Linear.Std, tt.uLinear, 0.5)
	}
}

// JCGM 100:2008, H.2, from memory: resistance, reactance and impedance from
// correlated voltage, current and phase.
func TestCalcPublishedCorrelatedInputs(t *testing.T) {
	inputs := []string{"--with", "V = normal(4.9990, 0.0032)", "--with", "I = normal(0.0196610, 0.0000095)", "--with", "phi = normal(radian(1.04446), radian(0.00075))",
		"--correlation", "V, I = -0.36", "--correlation", "V, phi = 0.86", "--correlation", "I, phi = -0.65"}
	for _, tt := range []struct {
		expr string
		y, u float64
	}{{"V/I*cos(phi)", 127.732, 0.071}, {"V/I*sin(phi)", 219.847, 0.295}, {"V/I", 254.260, 0.236}} {
		c := told(t, append(inputs, tt.expr)...)
		// The inputs and their correlations are printed with two to five figures;
		// the printed results are from unrounded ones.
		within(t, tt.expr, c.Value, tt.y, 0.01)
		within(t, "u of "+tt.expr, c.Std, tt.u, 0.002)
	}
}

// Each distribution has the u of JCGM 101:2008, Table 1, by sensitivities and
// drawn.
func TestCalcDistributions(t *testing.T) {
	for _, tt := range []struct {
		expr     string
		value, u float64
		dof      float64
	}{
		{"about(5, 0.2)", 5, 0.1, 0},
		{"about(5, 0.3, 3)", 5, 0.1, 0},
		{"normal(5, 0.1)", 5, 0.1, 0},
		{"rectangular(4, 6)", 5, 1 / math.Sqrt(3), 0},
		{"rectangular(1)", 0, 1 / math.Sqrt(3), 0},
		{"triangular(4, 6)", 5, 1 / math.Sqrt(6), 0},
		{"triangular(1)", 0, 1 / math.Sqrt(6), 0},
		{"arcsine(4, 6)", 5, 1 / math.Sqrt2, 0},
		{"arcsine(1)", 0, 1 / math.Sqrt2, 0},
		{"trapezoid(4, 6, 0)", 5, 1 / math.Sqrt(6), 0},
		{"trapezoid(4, 6, 0.5)", 5, math.Sqrt(1.25 / 6), 0},
		{"trapezoid(4, 6, 1)", 5, 1 / math.Sqrt(3), 0},
		{"curvilinear_trapezoid(4, 6, 0.5)", 5, math.Sqrt(1/3.0 + 0.25/9), 0},
		{"student(5, 0.1, 12)", 5, 0.1, 12},
		{"about(5, 0.2, 2, 12)", 5, 0.1, 12},
		{"takes(4, 5, 6, 5, 4, 6, 5)", 5, math.Sqrt(4.0/6) / math.Sqrt(7), 6},
	} {
		c := told(t, tt.expr, "--trials", "1000000")
		within(t, tt.expr, c.Value, tt.value, 1e-9)
		within(t, "u of "+tt.expr, c.Linear.Std, tt.u, 1e-9)
		drawn := tt.u
		if tt.dof > 0 {
			within(t, "ν of "+tt.expr, c.Linear.DoF, tt.dof, 1e-9)
			drawn *= math.Sqrt(tt.dof / (tt.dof - 2)) // JCGM 101:2008, 6.4.9.4
		}
		within(t, "drawn u of "+tt.expr, c.Std, drawn, 0.005*drawn)
		within(t, "drawn mean of "+tt.expr, c.Mean, tt.value, 0.005*drawn)
	}
}

// A profile, a temperature, a given coefficient of expansion, and a formula
// with a kink.
func TestCalcOfManyKinds(t *testing.T) {
	c := told(t, "along([mm(0), mm(100)], [a, a + b])", "--with", "a = about(um(1), um(2))", "--with", "b = about(um(3), um(2))", "--in", "um", "--draw")
	if len(c.Values) != 2 || c.Values[0].Key != "0 mm" || c.Values[1].Key != "100 mm" {
		t.Fatalf("values of a profile: %+v", c.Values)
	}
	within(t, "second value", c.Values[1].Value, 4, 1e-9)
	within(t, "its u", c.Values[1].Std, math.Sqrt2, 0.01)
	within(t, "u of the first", c.Values[0].Linear.Std, 1, 1e-9)

	c = told(t, "about(celsius(20), kelvin(0.5))", "--in", "fahrenheit")
	within(t, "20 °C", c.Value, 68, 1e-9)
	within(t, "its u in °F", c.Std, 0.25*1.8, 1e-9)

	// 100 mm that warm by 10 K: 1 µm/m/K of the coefficient is 1 µm.
	within(t, "u of growth", told(t, `growth(about(mm(100), um(0)), kelvin(10), "steel")`, "--in", "um").Std, 1, 1e-9)
	within(t, "u of growth in figures alone", told(t, `growth(mm(100), kelvin(10), "steel")`, "--in", "um").U, 0, 0)

	// |x| of a normal error about nought: u = √(1 − 2/π) (measure rule 10 has
	// 0.60), 95 % of the trials below 1.96.
	c = told(t, "abs(normal(0, 1))")
	if c.Method != "drawn" || !strings.Contains(c.Why, "kink") {
		t.Errorf("|x| is %s, because %q", c.Method, c.Why)
	}
	within(t, "U of |x|", c.U, 1.96, 0.02)
	within(t, "standard deviation of |x|", c.Mean, math.Sqrt(2/math.Pi), 0.01)
}

// The same figures every time, and others with another seed.
func TestCalcSeeds(t *testing.T) {
	args := []string{"abs(normal(0, 1))"}
	a, b := told(t, args...), told(t, args...)
	if a.Seed == 0 || *a.U != *b.U || a.Seed != b.Seed {
		t.Errorf("twice the same: %v with seed %d, %v with seed %d", *a.U, a.Seed, *b.U, b.Seed)
	}
	if c := told(t, append(args, "--seed", strconv.FormatUint(a.Seed, 10))...); *c.U != *a.U {
		t.Errorf("with its own seed it gives %v, want %v", *c.U, *a.U)
	}
	if c := told(t, append(args, "--seed", "7")...); *c.U == *a.U || c.Seed != 7 {
		t.Errorf("seed 7 gives the same %v (seed %d)", *c.U, c.Seed)
	}
}

// No function of calc takes the name of one of procedures, each is explained,
// and the examples are right.
func TestCalcFunctionsHaveNamesOfTheirOwn(t *testing.T) {
	seen := map[string]bool{}
	for _, n := range functionNames() {
		if seen[n] {
			t.Errorf("%s stands for two functions", n)
		}
		seen[n] = true
	}
	for _, f := range inputFuncs {
		if f.Doc == "" || f.Source == "" || f.Example.Expr == "" || f.Example.Source == "" {
			t.Errorf("%s lacks words, source or example", f.Name)
		}
		for _, p := range f.Params {
			if p.Doc == "" {
				t.Errorf("%s of %s is not explained", p.Name, f.Name)
			}
		}
		if code, _, errs := typed("calc", f.Example.Expr); code != 0 {
			t.Errorf("the example of %s does not work: %s", f.Name, errs)
		}
	}
	for _, f := range plainFuncs {
		if _, out, errs := typed("calc", f.Example.Expr); strings.TrimSpace(out) != f.Example.Want {
			t.Errorf("%s gives %s%s, want %s", f.Example.Expr, out, errs, f.Example.Want)
		}
	}
}

// Whatever is typed, calc answers or says what is wrong.
func FuzzCalc(f *testing.F) {
	for _, s := range [][2]string{
		{"set_over(um(170), mm(300), mm(250))", ""}, {"d - about(d, um(1))", "d = about(mm(20.011), um(3))"},
		{"a*square(a) / takes(1, 2)", "a = rectangular(1, 2, 3)"}, {"[for x in [d, d] : x + mm(1)]", "d = triangular(mm(1))"},
		{"{for k in [1] : k => about(1, 2)}", "d=1"}, {"\"${d}\"", "d = trapezoid(1, 2, 0.5)"}, {`growth(L, kelvin(3), "steel")`, "L = arcsine(mm(1), mm(2))"},
		{"d ? d : 1", "d = curvilinear_trapezoid(1, 2, 1) > 1"}, {"about(", "d = ("}, {"along([mm(0)], [d])[\"0\"]", "d = normal(um(1), um(2), 3)"},
	} {
		f.Add(s[0], s[1])
	}
	f.Fuzz(func(t *testing.T, expr, with string) {
		a := &app{Streams: Streams{Out: io.Discard, Err: io.Discard, Now: time.Now, Env: func(string) string { return "" }}}
		o := calcOptions{with: []string{with}, linear: true, digits: 2, budget: true}
		if with == "" {
			o.with = nil
		}
		first := a.calc(expr, o)
		o.json = true
		if second := a.calc(expr, o); (first == nil) != (second == nil) {
			t.Errorf("%q: %v in words, %v as JSON", expr, first, second)
		}
	})
}
