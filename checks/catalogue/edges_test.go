package catalogue

import (
	"math"
	"strings"
	"testing"

	"waywright/checks/value"
)

// TestEdges asks what functions say at the edges of what they can be asked:
// the exact answer, or what is needed.
func TestEdges(t *testing.T) {
	zone, ls, ends := str("minimum_zone"), str("least_squares"), str("end_points")
	gap := value.Value{Kind: value.Number, State: value.Unmeasured, Why: "could not reach"}
	withGap := value.ProfileOf([]float64{0, 1, 2}, []value.Value{num(1), gap, num(3)})
	turnOf := func(at []float64, r ...float64) value.Value { return value.TurnOf(at, nums(r...)) }
	quarter := []float64{0, math.Pi / 2, math.Pi, 3 * math.Pi / 2}
	line := value.NetOf([]float64{0, 1, 2, 3}, []float64{0, 1, 2, 3}, []float64{5, 6, 7, 9})
	same := value.NetOf([]float64{1, 1, 1}, []float64{2, 2, 2}, []float64{0, 3, 1})
	for _, tt := range []struct {
		name string
		args []value.Value
		want any // a number, or words of the reason
	}{
		// Two points.
		{"straightness", []value.Value{profile([]float64{0, 100}, 3, 9), zone}, 0.0},
		{"straightness", []value.Value{profile([]float64{0, 100}, 3, 9), ls}, 0.0},
		{"straightness", []value.Value{profile([]float64{0, 100}, 3, 9), ends}, 0.0},
		{"slope", []value.Value{profile([]float64{0, 100}, 3, 9)}, 0.06},
		{"bow", []value.Value{profile([]float64{0, 100}, 3, 9)}, 0.0},
		{"correlation", []value.Value{listed(1, 2), listed(5, 3)}, -1.0},
		// One point, and none.
		{"straightness", []value.Value{profile([]float64{5}, 3), zone}, "a line needs two stations, there is 1"},
		{"slope", []value.Value{profile(nil)}, "a line needs two stations"},
		{"flatness", []value.Value{value.NetOf(nil, nil, nil), zone}, "there are no heights"},
		{"runout", []value.Value{turnOf(nil)}, "two readings round the turn are needed, there are none"},
		{"runout", []value.Value{turnOf(quarter[:1], 7)}, "two readings round the turn are needed, there is 1"},
		{"runout", []value.Value{turnOf(quarter[:2], 7, 9)}, 2.0},
		// Lengths that there cannot be.
		{"airy", []value.Value{num(-100)}, "the length must be above nothing"},
		{"bessel", []value.Value{num(0)}, "the length must be above nothing"},
		{"scaled", []value.Value{num(0.015), num(300), num(-1000), num(0.005), num(0.002)}, "the length measured over must not be below nothing"},
		{"scaled", []value.Value{num(0.015), num(300), num(0), num(0.005), num(0.002)}, 0.005},
		{"lobes", []value.Value{turnOf(quarter, 7, 8, 9, 7), num(0)}, "the number of lobes begins at 1"},
		{"stdev", []value.Value{takes(4)}, "two values are needed"},
		// Equal stations.
		{"straightness", []value.Value{profile([]float64{5, 5, 5}, 3, 4, 5), zone}, "all values lie at one station"},
		{"edge_error", []value.Value{profile([]float64{5, 5}, 3, 4), profile([]float64{5, 5}, 3, 4)}, "all values lie at one station"},
		{"along", []value.Value{listed(0, 50, 50), listed(1, 2, 3)}, "50 mm stands twice"},
		// All values equal.
		{"straightness", []value.Value{profile([]float64{0, 1, 2}, 7, 7, 7), zone}, 0.0},
		{"stdev", []value.Value{takes(250.1, 250.1, 250.1)}, 0.0},
		{"eccentricity", []value.Value{turnOf(quarter, 7, 7, 7, 7)}, 0.0},
		{"high_spot", []value.Value{turnOf(quarter, 7, 7, 7, 7)}, "no side is high"},
		{"correlation", []value.Value{listed(1, 1, 1), listed(1, 2, 3)}, "all equal"},
		{"differs", []value.Value{takes(1, 1), takes(2, 2)}, "give the step of the instrument"},
		{"differs", []value.Value{takes(1), takes(2, 2)}, "two takes of each"},
		// Unsorted stations.
		{"straightness", []value.Value{profile([]float64{200, 0, 100}, 0, 0, 6), zone}, 6.0},
		{"straightness", []value.Value{profile([]float64{200, 0, 100}, 0, 0, 6), ends}, 6.0},
		{"bow", []value.Value{profile([]float64{200, 100, 0}, 0, 6, 0)}, 6.0},
		{"slope", []value.Value{profile([]float64{200, 0, 100}, 4, 0, 2)}, 0.02},
		// A collinear net, and one in a place.
		{"flatness", []value.Value{line, zone}, 2.0 / 3}, // the chord lies 1/3 and 2/3 above those between
		{"flatness", []value.Value{same, ls}, 3.0},
		// One reading missing.
		{"straightness", []value.Value{withGap, zone}, "could not reach"},
		{"mean", []value.Value{withGap}, "could not reach"},
		{"scrape_stripes", []value.Value{withGap, num(0), num(1)}, "could not reach"},
		// Stations that do not go together.
		{"edge_error", []value.Value{profile([]float64{0, 1}, 3, 4), profile([]float64{0, 2}, 3, 4)}, "are not"},
		{"correlation", []value.Value{listed(1, 2, 3), listed(1, 2)}, "3 and 2"},
		// Turns within half a turn.
		{"eccentricity", []value.Value{turnOf([]float64{0, 0.5, 1, 1.5}, 1, 2, 3, 4)}, "within half a turn"},
		{"roundness", []value.Value{turnOf([]float64{0, 0.5, 1, 1.5}, 1, 2, 3, 4), str("inscribed")}, "within half a turn"},
		{"lobes", []value.Value{turnOf(quarter, 1, 2, 3, 4), num(2)}, "more than twice as many are needed"},
		{"lobes", []value.Value{turnOf([]float64{0, 1, 2, 3, 4}, 1, 2, 3, 4, 5), num(1)}, "not evenly spaced"},
		// Out of a function's own domain.
		{"set_over", []value.Value{num(1), num(300), num(0)}, "the span must be above nothing"},
		{"kappa", []value.Value{num(1), num(0)}, "the planned must not be nothing"},
		{"cooling_time", []value.Value{num(25), num(1), num(10)}, "get warmer"},
		{"t_factor", []value.Value{num(5), num(1)}, "between nothing and 100 %"},
		{"welch_satterthwaite", []value.Value{listed(0, 0), listed(5, 5)}, "all uncertainties are nothing"},
		{"welch_satterthwaite", []value.Value{listed(1, 2), listed(5)}, "2 uncertainties and 1 degrees"},
		{"spots", []value.Value{listed(20, -1)}, "cannot be counted"},
		{"spots", []value.Value{listed(20, 24), num(25.4)}, 22 * 625 / (25.4 * 25.4)}, // an inch holds 3 % more
		{"bearing", []value.Value{num(101), num(100)}, "cannot be marked"},
		{"scrape_stripes", []value.Value{profile([]float64{0, 1}, 1, 0), num(0), num(0)}, "bite must be above nothing"},
		{"scrape_stripes", []value.Value{profile([]float64{0, 1}, 1, 0), num(0), num(1e-9)}, "far too small"},
		{"standard_taper", []value.Value{str("morse"), num(8)}, "there are 0 1 2 3 4 4.5 5 6 7"},
		{"standard_limit", []value.Value{str("din_875"), str("squareness"), str("0")}, "goes by a size"},
		{"standard_limit", []value.Value{str("din_863"), str("error"), str("single"), num(900)}, "no limit"},
		{"repeatability", []value.Value{value.KeyedOf([]string{"ann"}, []value.Value{keyed("p q", 1, 2)})}, "two people, two parts"},
		{"supported_sag", []value.Value{num(25), num(300), num(400)}, "beyond the ends"},
		{"supported_sag", []value.Value{num(25), num(300), num(150), num(30)}, "below the outer one"},
	} {
		got := eval(t, tt.name, tt.args...)
		switch want := tt.want.(type) {
		case float64:
			if got.State != value.Present || math.Abs(got.Num-want) > 1e-12 {
				t.Errorf("%s of %v = %v %q, want %v", tt.name, tt.args, got.Num, got.Why, want)
			}
		case string:
			if got.State == value.Present || !strings.Contains(got.Why, want) {
				t.Errorf("%s of %v = %v %q, want a reason with %q", tt.name, tt.args, got.Num, got.Why, want)
			}
		}
	}
}

// TestPadsWords: layouts that are refused say why.
func TestPadsWords(t *testing.T) {
	at := func(places ...[]float64) value.Value {
		var elems []value.Value
		for _, p := range places {
			elems = append(elems, listed(p...))
		}
		return value.KeyedOf([]string{"a", "b", "c", "d"}[:len(places)], elems)
	}
	for _, tt := range []struct {
		layout     value.Value
		horizontal float64
		want       string
	}{
		{at([]float64{0, 80}, []float64{-200, 0}), 0, "three pads or more, here are 2"},
		{at([]float64{0, 0}, []float64{-100, 0}, []float64{-200, 0}), 0, "in one line"},
		{at([]float64{0, 80}, []float64{0, -80}, []float64{-200, 0}), 1e-4, "all face up"},
		{at([]float64{0, 80}, []float64{0, -80}, []float64{-200}), 0, "the place of the pad c has 1 figures"},
	} {
		got := eval(t, "pads", num(1e-4), num(tt.horizontal), tt.layout, str("remove"))
		if got.State != value.Absent || !strings.Contains(got.Why, tt.want) {
			t.Errorf("%+v: %q, want %q", tt.layout, got.Why, tt.want)
		}
	}
	whole := at([]float64{0, 80}, []float64{0, -80}, []float64{-200, 0})
	got := eval(t, "pads", num(1e-4), num(0), whole, str("remove"))
	if across := got.Index("across"); got.State != value.Present || across.State != value.Absent {
		t.Errorf("without heights: %+v, across %+v", got, across)
	}
}

// TestThousands: thousands of stations in any order, about 250 mm with a
// structure of micrometres, give what they give in order and without the
// offset.
func TestThousands(t *testing.T) {
	const n = 8000
	at, v, bare := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range at {
		k := (i * 4801) % n // every station once, all over the place
		at[i] = float64(k) / 8
		v[i] = 250 + 0.001*math.Sin(float64(k)/900) + 0.0001*math.Sin(float64(k*k%977))
		bare[i] = v[i] - 250
	}
	whole, out := eval(t, "along", listed(at...), listed(v...)), eval(t, "along", listed(at...), listed(bare...))
	for _, method := range []string{"least_squares", "minimum_zone", "end_points"} {
		a, b := eval(t, "straightness", whole, str(method)), eval(t, "straightness", out, str(method))
		if a.State != value.Present || math.Abs(a.Num-b.Num) > 1e-12 || !(a.Num > 0.001 && a.Num < 0.01) {
			t.Errorf("%s: %v about 250 mm, %v about nothing (%s)", method, a.Num, b.Num, a.Why)
		}
	}
	d := eval(t, "detrended", whole)
	if d.At[0] != at[0] || d.At[n-1] != at[n-1] {
		t.Error("detrended does not keep the order of the readings")
	}
}
