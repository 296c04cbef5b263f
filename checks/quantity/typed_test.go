package quantity

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// What people type, in pieces that blanks may stand between, and what it is by
// NIST SP 811 (2008): exact factors of the inch, and degrees of π/180. In the
// run a division is 0.01 mm, so that "5 div" is 0.05 mm.
var typedForms = []struct {
	in     string // unit of the question; "/inch" behind it is an inch run
	pieces []string
	want   float64 // base units
}{
	{"mm", []string{"0.003", "mm"}, 0.003},
	{"mm", []string{"3", "µm"}, 0.003},
	{"mm", []string{"3", "μm"}, 0.003},
	{"mm", []string{"3", "um"}, 0.003},
	{"mm", []string{".1", "thou"}, 0.00254},
	{"mm /inch", []string{"1.2", "tenths"}, 0.003048},
	{"mm", []string{"1/64", "in"}, 0.396875},
	{"mm", []string{"0,17"}, 0.17},
	{"mm", []string{"0,17", "mm"}, 0.17},
	{"arcsec", []string{"1°", "26'", "16\""}, math.Pi * 5176 / 648000},
	{"arcsec", []string{"26'", "16\""}, math.Pi * 1576 / 648000},
	{"um/m", []string{"0.02", "mm", "/", "m"}, 2e-5},
	{"um/m", []string{"0.0005", "in", "/", "ft"}, 0.0005 / 12},
	{"um/m", []string{"0.03", "mm", "/", "300", "mm"}, 1e-4},
	{"mm", []string{"5", "div"}, 0.05},
	{"kelvin", []string{"9", "°F"}, 5},
	{"kelvin", []string{"2", "K"}, 2},
	{"N", []string{"2.5", "kN"}, 2.5e6},
	{"N", []string{"10", "lbf"}, 44482.216152605},
	{"newton_metre", []string{"20", "N·m"}, 2e7},
	{"newton_metre", []string{"15", "lbf·ft"}, 15 * 4.4482216152605 * 0.3048 * 1e6},
	{"mm2", []string{"3", "cm²"}, 300},
	{"kPa", []string{"2", "bar"}, 200},
	{"kPa", []string{"30", "psi"}, 30 * 4.4482216152605 / (25.4 * 25.4) * 1e3},
	{"rpm", []string{"600", "rpm"}, 10},
	{"Hz", []string{"50", "Hz"}, 50},
	{"min", []string{"90", "s"}, 90},
	{"kg", []string{"10", "lb"}, 4.5359237},
	{"%", []string{"80", "%"}, 0.8},
	{"1", []string{"12"}, 12},
}

// Each form means the same with and without blanks, with a sign of any of the
// three dashes that keyboards and copied pages have.
func TestTypedForms(t *testing.T) {
	for _, f := range typedForms {
		for _, blank := range []string{"", " ", "  ", "\u00a0", "\u202f"} {
			for sign, times := range map[string]float64{"": 1, "+": 1, "-": -1, "−": -1, "–": -1} {
				text := sign + strings.Join(f.pieces, blank)
				got, err := ParseOne(text, asked(f.in))
				if err != nil {
					t.Errorf("%s: ParseOne(%q): %v", f.in, text, err)
					continue
				}
				if want := times * f.want; math.Abs(got.Value-want) > 4e-16*math.Abs(want) {
					t.Errorf("%s: ParseOne(%q) = %.17g, want %.17g", f.in, text, got.Value, want)
				}
			}
		}
	}
}

// A temperature that is a point has the offset; blanks and signs as above.
func TestTypedTemperatures(t *testing.T) {
	for text, want := range map[string]float64{
		"68 °F": 20, "68°F": 20, "68 F": 20, "68f": 20, "-40 °F": -40, "−40°F": -40, "20 °C": 20, "20°C": 20, "20": 20,
	} {
		got, err := ParseOne(text, asked("celsius"))
		if err != nil || math.Abs(got.Value-want) > 1e-12 {
			t.Errorf("ParseOne(%q) = %v °C, %v; want %v", text, got.Value, err, want)
		}
	}
	// A kelvin is a difference: 20 K must not become 20 °C.
	if got, err := ParseOne("20 K", asked("celsius")); err == nil {
		t.Errorf("ParseOne(20 K) for a temperature = %v, want an error", got.Value)
	}
}

// Every unit of the table is read back from its name and its symbol, with and
// without a blank before it, as the value that was written.
func TestEveryUnitRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(Units()).Draw(t, "unit")
		v := float64(rapid.IntRange(-999999, 999999).Draw(t, "v")) / 1000
		blank := rapid.SampledFrom([]string{"", " "}).Draw(t, "blank")
		suffix := rapid.SampledFrom([]string{u.Name, u.Symbol}).Draw(t, "suffix")
		if u.Name == "1" {
			suffix = ""
		}
		text := Plain(v, Unit{Factor: 1}) + blank + suffix
		got, err := ParseOne(text, Context{Unit: u})
		if err != nil {
			t.Fatalf("ParseOne(%q) for %s: %v", text, u.Name, err)
		}
		if want := u.Base(v); math.Abs(got.Value-want) > 1e-12*math.Max(1, math.Abs(want)) {
			t.Fatalf("ParseOne(%q) for %s = %v, want %v", text, u.Name, got.Value, want)
		}
	})
}
