package report

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/response"
	"waywright/engine"
)

func unit(t testing.TB, name string) quantity.Unit {
	t.Helper()
	u, err := quantity.Lookup(name)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

// The digits of a value and its uncertainty.
//
// Source of the rule: JCGM 100:2008, 7.2.6, which gives the first case.
func TestMeasureRule19(t *testing.T) {
	inf := math.Inf(1)
	for _, tt := range []struct {
		y, bigU, lo, hi float64 // mm
		unit            string
		want, u         string
	}{
		{10.05762, 0.027, -inf, inf, "mm", "10.058", "0.027"},
		{0.0448, 0.00712, -0.0133, 0.0133, "mm", "0.0448", "0.0071"},
		{0.0448, 0.00712, -0.0133, 0.0133, "um", "44.8", "7.1"},
		{-0.0011, 0.0071, -0.0133, 0.0133, "um", "−1.1", "7.1"},
		{0.00003, 0.0071, -inf, inf, "um", "0.0", "7.1"},
		{-0.00003, 0.0071, -inf, inf, "um", "0.0", "7.1"}, // never minus nothing
		{0.1234, 0.0142, -inf, inf, "um", "123", "14"},
		{0.1234, 0.142, -inf, inf, "um", "120", "140"},
		{0.00996, 0.000996, -inf, inf, "um", "10.0", "1.0"},       // 0.996 has the figures 1.0
		{0.013304, 0.0071, -inf, 0.0133, "um", "13.304", "7.100"}, // a hair above its limit shows as above
		{0.0133, 0.0071, -inf, 0.0133, "um", "13.3", "7.1"},
		{0.0127, 0.0071, -inf, inf, "thou", "0.50", "0.28"},
	} {
		f := finding(tt.y, tt.bigU, 2, 8, tt.lo, tt.hi, unit(t, tt.unit), sense{})
		if f.Value.Text != tt.want || f.U.Text != tt.u {
			t.Errorf("finding(%g, %g) in %s prints %s give or take %s; want %s, %s", tt.y, tt.bigU, tt.unit, f.Value.Text, f.U.Text, tt.want, tt.u)
		}
	}
}

// Printed figures never contradict the verdict.
func TestFigureAndLimitStandAsTheyAre(t *testing.T) {
	u := unit(t, "um")
	rapid.Check(t, func(t *rapid.T) {
		limit := float64(rapid.IntRange(-400, 400).Draw(t, "limit")) / 7e3
		y := limit + float64(rapid.IntRange(-3000, 3000).Draw(t, "off"))/1e6
		bigU := float64(rapid.IntRange(1, 200).Draw(t, "U")) / 1e4
		f := finding(y, bigU, 2, 0, math.Inf(-1), limit, u, sense{})
		a := limits(math.Inf(-1), limit, u, placesFor(bigU, u), sense{})
		if f == nil || f.Value == nil || a.Upper == nil {
			t.Fatal("nothing printed")
		}
		places := apart(placesFor(bigU, u), u, y, limit)
		got := sign(printed(f.Value.Text) - printed(limitDigits(limit, u, places)))
		if want := sign(steady(y) - steady(limit)); got != want && math.Abs(y-limit) > 1e-6*bigU {
			t.Fatalf("%s against %s: %d, want %d", f.Value.Text, limitDigits(limit, u, places), got, want)
		}
	})
}

func TestSay(t *testing.T) {
	taper := senseOf("larger at the tailstock end", "")
	for _, tt := range []struct {
		sense sense
		x     float64 // mm
		want  string
	}{
		{taper, 0.045, "45.0 µm larger at the tailstock end"},
		{taper, -0.001, "1.0 µm larger at the headstock end"},
		{taper, 0, "0.0 µm"},
		{senseOf("raise the front foot", "raise the rear foot"), -0.03, "30.0 µm raise the rear foot"},
		{senseOf("never below nothing", ""), 0.003, "3.0 µm"},
		{senseOf("as the drawing has it", ""), -0.003, "−3.0 µm (plus: as the drawing has it)"},
		{sense{}, -0.003, "−3.0 µm"},
	} {
		if got := tt.sense.say(*number(tt.x, unit(t, "um"), 1)); got != tt.want {
			t.Errorf("say(%g) = %q, want %q", tt.x, got, tt.want)
		}
	}
}

// The sense of a limit is said in words, as test sheets have it.
func TestAllowed(t *testing.T) {
	inf := math.Inf(1)
	line := senseOf("towards the operator", "")
	for _, tt := range []struct {
		sense  sense
		lo, hi float64 // mm
		want   string
	}{
		{line, 0, 0.012, "0 to 12 µm towards the operator, never away from the operator"},
		{line, -0.012, 0, "0 to 12 µm away from the operator, never towards the operator"},
		{line, -0.013, 0.013, "up to 13 µm, either way"},
		{line, -0.005, 0.02, "5 µm away from the operator to 20 µm towards the operator"},
		{line, 0.005, 0.02, "5 to 20 µm towards the operator"},
		{line, -0.02, -0.005, "5 to 20 µm away from the operator"},
		{line, -inf, 0.02, "at most 20 µm towards the operator"},
		{line, -inf, 0, "never towards the operator"},
		{line, -inf, -0.02, "at least 20 µm away from the operator"},
		{line, 0, inf, "never away from the operator"},
		{line, 0.003, inf, "at least 3 µm towards the operator"},
		{line, -0.001, inf, "at most 1 µm away from the operator"},
		{senseOf("never below nothing", ""), -inf, 0.003, "at most 3 µm"},
		{senseOf("so", ""), -0.001, 0.003, "−1 to 3 µm (plus: so)"},
		{sense{}, -0.02 / 3, 0.01, "−6.67 to 10 µm"},
		{sense{}, -inf, inf, "no limit"},
	} {
		if got := limits(tt.lo, tt.hi, unit(t, "um"), 1, tt.sense).Said; got != tt.want {
			t.Errorf("limits %g to %g: %q, want %q", tt.lo, tt.hi, got, tt.want)
		}
	}
}

func TestNothingEndlessIsKept(t *testing.T) {
	u := unit(t, "mm")
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if n := number(x, u, 3); n != nil {
			t.Errorf("number(%g) = %v, want none", x, n)
		}
		if f := finding(x, 0.1, 2, 8, 0, 1, u, sense{}); f != nil {
			t.Errorf("finding(%g) = %v, want none", x, f)
		}
	}
	f := finding(1, 0.1, 2, math.Inf(1), math.Inf(-1), math.Inf(1), u, sense{})
	if f.DoF != 0 || f.Nearer != nil {
		t.Errorf("without end: dof %v, to limit %v; want none", f.DoF, f.Nearer)
	}
}

func TestEveryWordOfAResponseIsSaid(t *testing.T) {
	for _, w := range response.Words() {
		said := responseSaid(response.Finding{Word: w})
		if responseWords[w] == "" || said == "" || strings.Contains(said, "_") {
			t.Errorf("%s: %q", w, said)
		}
	}
}

func TestEveryVerdictIsSaid(t *testing.T) {
	seen := map[string]bool{}
	for v := checks.Open; v <= checks.Fail; v++ {
		w := VerdictWord(v)
		if seen[w] {
			t.Errorf("%s is the word of two verdicts", w)
		}
		seen[w] = true
	}
}

// The levels are those of JCGM 106:2012, 8.3.2, as measure rule 12 has them.
func TestRuleSaid(t *testing.T) {
	for _, tt := range []struct {
		rule checks.Rule
		want string
	}{
		{checks.Guarded, "Guarded: PASS only where the limit is kept with a probability of at least 0.95, FAIL only where with at most 0.05."},
		{checks.Strict, "Strict: PASS only where the limit is kept with a probability of at least 0.977, FAIL only where with at most 0.023."},
		{checks.Simple, "Simple: PASS where the value itself lies inside its limits."},
	} {
		if got := rule(tt.rule, engine.RuleOfProcedure).Said; !strings.HasPrefix(got, tt.want) {
			t.Errorf("rule(%v): %q, want %q …", tt.rule, got, tt.want)
		}
	}
}
