package ways

import (
	"math"
	"testing"

	"waywright/checks/internal/published"
)

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

// TestReversal holds the reversal of a level, and the twist of a bed, against
// a constructed example that was worked out independently. Its turned reading
// is that of the level's own direction, so that its sign turns here.
func TestReversal(t *testing.T) {
	var file struct {
		Inputs  map[string]string
		Answers map[string]float64
	}
	published.Read(t, "geometry/level_reversal_twist_constructed.json", &file)
	in := func(name string) float64 { return published.Number(t, file.Inputs[name]) }
	normal, turned := in("reading_normal_mm_per_m"), -in("reading_turned_end_for_end_mm_per_m")
	head, tail := in("cross_level_mm_per_m_at_headstock"), in("cross_level_mm_per_m_at_tailstock")
	for name, got := range map[string]float64{
		"true_slope_mm_per_m = (n - t)/2":               LevelSlope(normal, turned),
		"level_zero_error_mm_per_m = (n + t)/2":         LevelZero(normal, turned),
		"twist_per_metre_of_length_mm_per_m_per_m":      Wind(head, tail, in("distance_between_m")),
		"twist_mm_per_m (difference of cross readings)": Wind(head, tail, 1),
	} {
		want, ok := file.Answers[name]
		if !ok {
			t.Fatalf("no answer %s", name)
		}
		if !near(got, want, 1e-15) {
			t.Errorf("%s = %v, want %v", name, got, want)
		}
	}
}

// TestHeights is derived here: slopes in mm/m on a base of 200.
func TestHeights(t *testing.T) {
	got := Heights([]float64{.02e-3, .01e-3, 0, -.02e-3, -.03e-3}, 200)
	want := []float64{0, 4, 6, 6, 2, -4} // µm
	for i := range want {
		if len(got) != len(want) || !near(got[i]*1000, want[i], 1e-12) {
			t.Fatalf("Heights = %v mm, want %v µm", got, want)
		}
	}
}

// TestFootShim is derived here; mm. The far end is larger, so the front foot
// goes up.
func TestFootShim(t *testing.T) {
	if got := FootShim(0.012, 180, 600, 95, 150); !near(got, 0.045, 5e-4) {
		t.Errorf("FootShim = %v, want 0.045", got)
	}
	// Raising the front foot by that turns the bed back by shim/feetAcross over
	// feetAlong, so that the tool comes 2·H·Δφ nearer over the span.
	shim := FootShim(0.012, 180, 600, 95, 150)
	if left := 0.012 - 2*95*(shim/180)*150/600; !near(left, 0, 1e-15) {
		t.Errorf("%v mm of taper is left", left)
	}
}
