package align

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"waywright/checks/elastic"
)

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

// Vectors that are derived here, with the sign in each name; mm.
func TestDerived(t *testing.T) {
	const deg = math.Pi / 180
	for _, tt := range []struct {
		name           string
		got, want, tol float64
	}{
		{"a bar that hangs and is thin at the far station hides a rise", AxisSlope(0, 0.0074, 300, -0.002, 0.0026) * 300, 0.0120, 1e-12},
		{"free end high: scrape the nose end", PadChange(0.030/300, 0.010/300, 220), -0.0147, 5e-5},
		{"free end away: nose end towards the operator", PadChange(-0.024/300, 0.005/300, 220), 0.0213, 5e-5},
		{"free end 0.0231 high, target 0.010", PadChange(0.0231/300, 0.010/300, 220), -0.0096, 5e-5},
		{"a right-angled vee, 10 µm off one flank: sideways", VeeLateral(0.010, 90*deg), 0.0071, 5e-5},
		{"and down", VeeDrop(0.010, 90*deg), 0.0071, 5e-5},
		{"fall of 15 µm: gap under the nose pad", NoseGap(0.015, 220, 330), 0.006, 1e-12},
		{"rise of 15 µm: gap under the rear pad", RearGap(0.015, 220, 330), 0.010, 1e-12},
		{"sweep, the rig hangs by 20 µm", SweepHeight(0.050, -0.050, 0.020), 0.030, 1e-12},
		{"sweep in a bore", SweepHeightBore(-0.050, 0.050, 0.020), 0.030, 1e-12},
		{"hollow by 0.02 in 300 on a radius of 60", FacingSlope(0.008, 120) * 300, 0.02, 1e-12},
		{"its depth", FacingDepth(0.008), 0.004, 1e-12},
		{"tram over 200, for 300", Tram(0.040, 0, 200) * 300, 0.060, 1e-12},
		{"axis under a bar that is out by 8 µm", Mean(0.012, -0.004), 0.004, 1e-12},
		{"what the bar is out by", BarError(0.012, -0.004), 0.008, 1e-12},
	} {
		if !near(tt.got, tt.want, tt.tol) {
			t.Errorf("%s: %.6f, want %.6f ± %g", tt.name, tt.got, tt.want, tt.tol)
		}
	}
}

// TestSimulatedHead measures a head whose axis is known: a bar that is out of
// line with the axis, bends and tapers is turned under an indicator, and the
// axis must come out of the readings.
func TestSimulatedHead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		small := rapid.Float64Range(-0.05, 0.05)
		slope := small.Draw(t, "slope mm in 300") / 300
		out, tilt := small.Draw(t, "bar out"), small.Draw(t, "bar tilt in 300")/300
		taper := rapid.Float64Range(-0.005, 0.005).Draw(t, "radius far less near")
		near0 := rapid.Float64Range(20, 100).Draw(t, "near")
		span := rapid.Float64Range(100, 300).Draw(t, "span")
		const diameter = 30
		sag := func(z float64) float64 { return elastic.BarSag(diameter, near0+span, z) }
		// On top, plus is up: the axis, what the bar is out by at this spindle
		// angle, the bar's radius, and less the sag.
		read := func(z, spindle float64) float64 {
			return slope*z + (out+tilt*z)*math.Cos(spindle) + taper*(z-near0)/span - sag(z)
		}
		far0 := near0 + span
		got := AxisSlope(
			Mean(read(near0, 0), read(near0, math.Pi)),
			Mean(read(far0, 0), read(far0, math.Pi)),
			span, taper, sag(far0)-sag(near0))
		if !near(got, slope, 1e-15) {
			t.Fatalf("slope %v, want %v", got, slope)
		}
		if e := BarError(read(far0, 0), read(far0, math.Pi)); !near(e, out+tilt*far0, 1e-14) {
			t.Fatalf("bar out by %v at the far station, want %v", e, out+tilt*far0)
		}
		// Moving the nose end by what PadChange says brings the slope there.
		const pads, target = 220.0, 0.010 / 300
		if after := slope + PadChange(slope, target, pads)/pads; !near(after, target, 1e-15) {
			t.Fatalf("after the change the slope is %v, want %v", after, target)
		}
	})
}

// TestSimulatedSweep sweeps a barrel whose place is known with a rig that
// hangs: pushed in, the plunger reads plus.
func TestSimulatedSweep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		small := rapid.Float64Range(-0.1, 0.1)
		up, towards := small.Draw(t, "tailstock high"), small.Draw(t, "towards the operator")
		sag := rapid.Float64Range(0, 0.05).Draw(t, "sag")
		// A rig that hangs keeps its tip low by sag all the way round: over the
		// top the tip is nearer to the barrel, underneath further from it.
		outside := func(dirUp, dirTowards float64) float64 {
			return dirUp*(up+sag) + dirTowards*towards
		}
		if got := SweepHeight(outside(1, 0), outside(-1, 0), sag); !near(got, up, 1e-15) {
			t.Fatalf("high by %v, want %v", got, up)
		}
		if got := SweepLateral(outside(0, 1), outside(0, -1)); !near(got, towards, 1e-15) {
			t.Fatalf("towards the operator by %v, want %v", got, towards)
		}
		// In a bore the tip points outward, so that all signs turn.
		if got := SweepHeightBore(-outside(1, 0), -outside(-1, 0), sag); !near(got, up, 1e-15) {
			t.Fatalf("in a bore high by %v, want %v", got, up)
		}
	})
}
