package vet_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"waywright/procedures/diagnose"
	"waywright/procedures/vet"
)

// formed is a gate over readings round a turn or along a way, with a gauge of
// which nothing is doubtful but that a reading scatters by 1 µm.
func formed(t testing.TB, reading, of, limit string) (vet.Zone, diagnose.List) {
	t.Helper()
	text := `instrument "gauge" {
  kind              = "lever indicator"
  resolution        = um(0.01)
  error             = um(0)
  zero              = um(0)
  repeatability     = um(1)
  repeatability_dof = 1000
  turn              = mm(0.2)
}
step "s" {
  title = "S"
  reading "form" {
    ask   = "R"
    unit  = "um"
    with  = instrument.gauge
    range = [um(-100), um(100)]
    ` + reading + `
  }
  gate "g" {
    title  = "G"
    of     = ` + of + `
    source = "x"
    ` + limit + `
    if_failed = [reject]
  }
}
`
	found := vet.Procedure(read(t, body(text)))
	if len(found.Zones) != 1 || !found.Zones[0].Known {
		t.Fatalf("zones %v", found.Zones)
	}
	return found.Zones[0], found.Diagnostics
}

// A machine without fault passes 95 times in 100 where the limit is the 95 %
// point of what noise alone makes, and the guard of 1.645 √2 σ above it: of
// eight readings 4.29 + 2.33 = 6.6 σ. The 95 % points of the range of 4, 8, 12
// and 24 normal numbers are 3.63, 4.29, 4.62 and 5.14 (from memory of the tables of the
// studentized range for no end of degrees of freedom). Under simple there is
// no guard, under strict it is 2 √2 σ.
func TestMeasureRule15PerfectMachine(t *testing.T) {
	for _, tt := range []struct {
		n     int
		rule  string
		least float64 // µm
	}{
		{4, "guarded", 3.63 + 2.33}, {8, "guarded", 6.6}, {12, "guarded", 4.62 + 2.33}, {24, "guarded", 5.14 + 2.33},
		{8, "simple", 4.29}, {8, "strict", 4.29 + 2.83},
	} {
		for _, f := range []float64{0.95, 1.05} {
			z, ds := formed(t, fmt.Sprintf("around = %d", tt.n), "runout(reading.form)", fmt.Sprintf("at_most = um(%.3f)\n    decision = %q", f*tt.least, tt.rule))
			told := 0
			for _, d := range ds {
				if d.Code == "W611" {
					told++
				}
			}
			if (told == 1) != (f < 1) || (z.Perfect < 0.95) != (f < 1) || !z.NonNegative || !z.CanPass {
				t.Errorf("%d stations, %s, limit %.2f σ: warned %d times, share %.3f, can pass %t", tt.n, tt.rule, f*tt.least, told, z.Perfect, z.CanPass)
			}
		}
	}
}

// The lower bound of what cannot be negative is a bound: no part of the zone
// is lost above it, and the limit is the upper one, not half of the width.
func TestMeasureRule15NoughtIsABound(t *testing.T) {
	between, _ := formed(t, "around = 8", "runout(reading.form)", "within = between(um(0), um(20))")
	one, ds := formed(t, "around = 8", "runout(reading.form)", "at_most = um(20)")
	if between.From != 0 || between.Limit() != 0.020 || math.Abs(between.To-one.To) > 1e-12 || between.Perfect != one.Perfect || one.Perfect < 0.999 {
		t.Errorf("%v, %g; want the upper end of %v", between, between.Limit(), one)
	}
	// 1.645 √2 σ below the limit.
	if want := 0.020 - 0.001*1.645*math.Sqrt2; math.Abs(one.To-want) > 2e-5 {
		t.Errorf("passes up to %.4f mm, want %.4f", one.To, want)
	}
	for _, d := range ds {
		if strings.HasPrefix(d.Code, "W6") && d.Code != "W603" {
			t.Errorf("said: %s %s", d.Code, d.Detail)
		}
	}
}

// A difference may be negative: then nought is a limit like another, and no
// perfect machine is made up.
func TestMeasureRule15NotWhereItMayBeNegative(t *testing.T) {
	for _, of := range []string{"rise(reading.form)", "mean(reading.form)", "first(reading.form) - last(reading.form)"} {
		z, ds := formed(t, "along = stations(mm(0), mm(100), 5)", of, "at_most = um(20)")
		if z.NonNegative || !math.IsNaN(z.Perfect) {
			t.Errorf("%s: %v, share %g", of, z, z.Perfect)
		}
		for _, d := range ds {
			if d.Code == "W611" {
				t.Errorf("%s: said %s", of, d.Detail)
			}
		}
	}
	// An abs is; one that a perfect machine does not bring to nought is passed over.
	if z, _ := formed(t, "along = stations(mm(0), mm(100), 5)", "abs(rise(reading.form))", "at_most = um(20)"); !z.NonNegative || z.Perfect < 0.999 {
		t.Errorf("abs: %v, share %g", z, z.Perfect)
	}
	if z, _ := formed(t, "along = stations(mm(0), mm(100), 5)", "abs(rise(reading.form) - um(7))", "at_most = um(20)"); !math.IsNaN(z.Perfect) {
		t.Errorf("abs of what a perfect machine has: share %g", z.Perfect)
	}
}

// Straightness with a line through eight stations.
func TestMeasureRule15Straightness(t *testing.T) {
	for _, method := range []string{"least_squares", "minimum_zone", "end_points"} {
		good, _ := formed(t, "along = stations(mm(0), mm(700), 8)", fmt.Sprintf("straightness(reading.form, %q)", method), "at_most = um(9)")
		bad, ds := formed(t, "along = stations(mm(0), mm(700), 8)", fmt.Sprintf("straightness(reading.form, %q)", method), "at_most = um(4)")
		if good.Perfect < 0.95 || bad.CanPass && !(bad.Perfect < 0.95) || len(ds) == 0 {
			t.Errorf("%s: %.3f pass 9 σ, %.3f pass 4 σ", method, good.Perfect, bad.Perfect)
		}
	}
}

// A runout over a measured span is no more negative than the runout: a length
// is not. What may lie on either side of nought is another thing.
func TestMeasureRule15ScaledByALength(t *testing.T) {
	given := func(from string) string {
		return "\n}\ngiven \"span\" {\n  ask = \"Span\"\n  unit = \"mm\"\n  range = [" + from + ", mm(300)]\n"
	}
	for from, want := range map[string]bool{"mm(100)": true, "mm(0)": true, "mm(-100)": false} {
		text := "instrument \"gauge\" {\n  kind = \"lever indicator\"\n  resolution = um(1)\n  error = um(1)\n  repeatability = um(1)\n  turn = mm(0.2)" + given(from) + "}\n" +
			"step \"s\" {\n  title = \"S\"\n  reading \"form\" {\n    ask = \"R\"\n    unit = \"um\"\n    around = 8\n    with = instrument.gauge\n    range = [um(-100), um(100)]\n  }\n" +
			"  gate \"g\" {\n    title = \"G\"\n    of = runout(reading.form) * given.span / mm(100)\n    source = \"x\"\n    at_most = um(50)\n    if_failed = [reject]\n  }\n}\n"
		zs := vet.Procedure(read(t, body(text))).Zones
		if len(zs) != 1 || zs[0].NonNegative != want || math.IsNaN(zs[0].Perfect) == want {
			t.Errorf("from %s: cannot be negative %t, share %g; want %t", from, zs[0].NonNegative, zs[0].Perfect, want)
		}
	}
}
