package form

import (
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"waywright/checks/fit"
	"waywright/checks/internal/published"
)

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

// TestNorris holds the least-squares line against the certified values of the
// NIST Statistical Reference Dataset Norris, and prints the digits that agree
// (log relative error). Householder QR in double precision reaches 12.5.
func TestNorris(t *testing.T) {
	var sets map[string]struct {
		Lines     [2]int `json:"data_lines"`
		Certified struct {
			Parameters map[string]struct{ Estimate string }
		}
		Reached struct {
			Estimate float64 `json:"estimate_min"`
		} `json:"float64_digits_reached"`
	}
	published.Read(t, "nist_strd/certified.json", &sets)
	set := sets["Norris"]
	b, err := os.ReadFile(published.Path("nist_strd/linear/Norris.dat"))
	if err != nil {
		t.Fatal(err)
	}
	var x, y []float64
	for _, line := range strings.Split(string(b), "\n")[set.Lines[0]-1 : set.Lines[1]] {
		f := strings.Fields(line)
		y, x = append(y, published.Number(t, f[0])), append(x, published.Number(t, f[1]))
	}
	l, err := FitLine(x, y)
	if err != nil || len(x) != 36 {
		t.Fatalf("%d points, %v", len(x), err)
	}
	for name, got := range map[string]float64{"B0": l.At(0), "B1": l.Slope} {
		want := published.Number(t, set.Certified.Parameters[name].Estimate)
		digits := -math.Log10(math.Abs(got-want) / math.Abs(want))
		t.Logf("%s agrees to %.1f digits", name, digits)
		if digits < set.Reached.Estimate {
			t.Errorf("%s = %.15g, want %.15g: %.1f digits", name, got, want, digits)
		}
	}
}

// TestPublishedThermometer holds the line against JCGM 100:2008, H.3.
func TestPublishedThermometer(t *testing.T) {
	var file struct {
		Inputs struct {
			T []string `json:"t_degC"`
			B []string `json:"b_degC"`
		}
		Published []published.Entry
	}
	published.Read(t, "gum/h3_thermometer.json", &file)
	var x, y []float64
	for i := range file.Inputs.T {
		x, y = append(x, published.Number(t, file.Inputs.T[i])), append(y, published.Number(t, file.Inputs.B[i]))
	}
	l, err := FitLine(x, y)
	if err != nil {
		t.Fatal(err)
	}
	for quantity, got := range map[string]float64{"y1": l.At(20), "y2": l.Slope, "b(30 degC)": l.At(30)} {
		e := published.Find(t, file.Published, quantity)
		if want, tol := e.Number(t); !near(got, want, tol) {
			t.Errorf("%s = %v, want %v ± %v (JCGM 100, %s)", quantity, got, want, tol, e.Where)
		}
	}
}

// TestPublishedStraightness holds the end-point method against readings of an
// autocollimator in public lecture slides: seconds over 2′, a base of 100 mm,
// and 0.5 µm for a second as the slides have it.
func TestPublishedStraightness(t *testing.T) {
	var file struct {
		Inputs struct {
			Forward  [][2]float64 `json:"forward_min_sec"`
			Backward [][2]float64 `json:"backward_min_sec"`
		}
		Published []published.Entry
	}
	published.Read(t, "geometry/straightness_autocollimator_7.json", &file)
	var at, h []float64
	height := 0.0
	for i := range file.Inputs.Forward {
		mean := (file.Inputs.Forward[i][1] + file.Inputs.Backward[i][1]) / 2
		first := (file.Inputs.Forward[0][1] + file.Inputs.Backward[0][1]) / 2
		height += (mean - first) * 0.5
		at, h = append(at, float64(i)*100), append(h, height)
	}
	got, err := Straightness(at, h, EndPoints)
	if want, tol := published.Find(t, file.Published, "straightness |max|+|min|").Number(t); err != nil || !near(got, want, tol) {
		t.Errorf("straightness %v, %v; want %v ± %v", got, err, want, tol)
	}
	d := fromEnds(at, h)
	hi, lo := math.Inf(-1), math.Inf(1)
	for _, v := range d {
		hi, lo = math.Max(hi, v), math.Min(lo, v)
	}
	for quantity, got := range map[string]float64{"largest positive deviation": hi, "largest negative deviation": lo} {
		if want, tol := published.Find(t, file.Published, quantity).Number(t); !near(got, want, tol) {
			t.Errorf("%s %v, want %v", quantity, got, want)
		}
	}
}

// fromEnds returns values less the line through the first and the last.
func fromEnds(at, v []float64) []float64 {
	s, err := Along(at, EndPoints)
	if err != nil {
		return nil
	}
	return s.Left(v)
}

// TestDerivedForm is derived here; µm.
func TestDerivedForm(t *testing.T) {
	at := []float64{0, 200, 400, 600, 800, 1000}
	h := []float64{0, 4, 6, 6, 2, -4}
	if diff := cmp.Diff([]float64{0, 4.8, 7.6, 8.4, 5.2, 0}, fromEnds(at, h), cmpopts.EquateApprox(0, 1e-12)); diff != "" {
		t.Errorf("deviations from the ends (-want +got):\n%s", diff)
	}
	five := []float64{0, 100, 200, 300, 400}
	for _, tt := range []struct {
		name   string
		at, v  []float64
		method Method
		want   float64
	}{
		{"convex", at, h, EndPoints, 8.4},
		{"least squares may be larger than end points", five, []float64{0, 1, 0, 0, 0}, LeastSquares, 1.1},
		{"of the same", five, []float64{0, 1, 0, 0, 0}, EndPoints, 1},
		{"least zone of the same", five, []float64{0, 1, 0, 0, 0}, MinimumZone, 1}, // the three zeros about the one are on one line
		{"two stations are straight", at[:2], h[:2], MinimumZone, 0},
		{"a wave", five, []float64{0, 1, 0, 1, 0}, MinimumZone, 1},
	} {
		got, err := Straightness(tt.at, tt.v, tt.method)
		if err != nil || !near(got, tt.want, 1e-12) {
			t.Errorf("%s: %v, %v; want %v", tt.name, got, err, tt.want)
		}
	}
	if got, err := Bow(at, h); err != nil || !near(got, 8, 1e-12) { // between 7.6 and 8.4
		t.Errorf("Bow = %v, %v; want 8", got, err)
	}
	if got, err := Bow(at[:2], h[:2]); err != nil || got != 0 {
		t.Errorf("Bow of two stations = %v, %v; want 0", got, err)
	}
}

// TestStraightnessProperties: tilt and shift change nothing, turning the
// profile end for end or over changes nothing, and the least zone is the least.
func TestStraightnessProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 25).Draw(t, "n")
		tilt := rapid.Float64Range(-1, 1).Draw(t, "tilt")
		shift := rapid.Float64Range(-100, 100).Draw(t, "shift")
		var at, v, tilted, back, over []float64
		x := 0.0
		for range n {
			x += float64(rapid.IntRange(1, 100).Draw(t, "step"))
			at = append(at, x)
			v = append(v, float64(rapid.IntRange(-50, 50).Draw(t, "v"))/10)
		}
		for i := range v {
			tilted = append(tilted, v[i]+tilt*at[i]+shift)
			back = append(back, v[n-1-i])
			over = append(over, -v[i])
		}
		var backAt []float64
		for i := range at {
			backAt = append(backAt, at[n-1]-at[n-1-i])
		}
		zone := math.Inf(1)
		for _, m := range []Method{MinimumZone, LeastSquares, EndPoints} {
			want, err := Straightness(at, v, m)
			if err != nil {
				t.Fatal(err)
			}
			if m == MinimumZone {
				zone = want
			}
			if zone > want+1e-12 {
				t.Fatalf("least zone %v is above %s, %v", zone, m, want)
			}
			for name, c := range map[string][2][]float64{"tilted": {at, tilted}, "end for end": {backAt, back}, "turned over": {at, over}} {
				if got, err := Straightness(c[0], c[1], m); err != nil || !near(got, want, 1e-9) {
					t.Fatalf("%s, %s: %v, %v; want %v", m, name, got, err, want)
				}
			}
		}
		b1, _ := Bow(at, v)
		b2, _ := Bow(at, tilted)
		b3, _ := Bow(at, over)
		if !near(b1, b2, 1e-9) || !near(b1, -b3, 1e-9) {
			t.Fatalf("bow %v, tilted %v, turned over %v", b1, b2, b3)
		}
	})
}

// TestPublishedTurn holds the turn functions against a constructed trace of
// four harmonics, whose answers were worked out independently.
func TestPublishedTurn(t *testing.T) {
	var file struct {
		Inputs struct {
			Angles   []float64 `json:"angle_deg"`
			Readings []float64 `json:"reading_um"`
		}
		Answers map[string]any
	}
	published.Read(t, "geometry/runout_harmonics_constructed_a.json", &file)
	var angles []float64
	for _, d := range file.Inputs.Angles {
		angles = append(angles, d*math.Pi/180)
	}
	r := file.Inputs.Readings
	want := func(name string) float64 { return file.Answers[name].(float64) }
	check := func(name string, got, want, tol float64, err error) {
		if err != nil || !near(got, want, tol) {
			t.Errorf("%s = %.6f, %v; want %.6f", name, got, err, want)
		}
	}
	e, high, err := Eccentricity(angles, r)
	check("eccentricity", e, want("eccentricity_um"), 1e-6, err)
	check("high spot", high*180/math.Pi, want("direction_deg"), 1e-6, err)
	ls, err := Roundness(angles, r, LeastSquares)
	check("roundness, least squares", ls, want("roundness_least_squares_um"), 1e-6, err)
	mz, err := Roundness(angles, r, MinimumZone)
	check("roundness, least zone", mz, want("roundness_minimum_zone_um (linearised, limacon)"), 1e-6, err)
	for n, amplitude := range map[int]float64{1: 7.999446, 2: 1.501101, 3: 2.000775} {
		got, err := Lobes(angles, r, n)
		check("lobes", got, amplitude, 1e-6, err)
	}
	for _, m := range []Method{Circumscribed, Inscribed} { // no answers there: bounded by the least zone alone
		if got, err := Roundness(angles, r, m); err != nil || got < mz-1e-9 {
			t.Errorf("%s %v, %v; the least zone is %v", m, got, err, mz)
		}
	}
}

// TestTurnProperties: an eccentricity added, or the part turned, changes no
// roundness; the eccentricity added comes back.
func TestTurnProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(4, 24).Draw(t, "n")
		e := rapid.Float64Range(0.1, 50).Draw(t, "e")
		dir := rapid.Float64Range(0, 2*math.Pi).Draw(t, "direction")
		turned := rapid.Float64Range(-7, 7).Draw(t, "turned")
		var angles, r, out, at2 []float64
		for i := range n {
			a := 2 * math.Pi * float64(i) / float64(n)
			v := float64(rapid.IntRange(-30, 30).Draw(t, "r")) / 10
			angles, r = append(angles, a), append(r, v)
			out, at2 = append(out, v+e*math.Cos(a-dir)), append(at2, a+turned)
		}
		for _, m := range []Method{LeastSquares, MinimumZone, Circumscribed, Inscribed} {
			a, err1 := Roundness(angles, r, m)
			b, err2 := Roundness(angles, out, m)
			c, err3 := Roundness(at2, r, m)
			const tol = 1e-9
			if err := errors.Join(err1, err2, err3); err != nil || !near(a, b, tol) || !near(a, c, tol) {
				t.Fatalf("%s: %v, out of centre %v, turned %v, %v", m, a, b, c, err)
			}
		}
		round := make([]float64, n)
		for i, a := range angles {
			round[i] = 5 + e*math.Cos(a-dir)
		}
		got, high, err := Eccentricity(angles, round)
		if err != nil || !near(got, e, 1e-12*e+1e-12) || math.Abs(math.Remainder(high-dir, 2*math.Pi)) > 1e-9 {
			t.Fatalf("eccentricity %v at %v, %v; want %v at %v", got, high, err, e, dir)
		}
	})
}

// TestUndefined: what has no answer says so.
func TestUndefined(t *testing.T) {
	three := []float64{0, 2, 4}
	for name, err := range map[string]error{
		"no station":      second(FitLine(nil, nil)),
		"one station":     second(FitLine([]float64{5}, []float64{1})),
		"equal stations":  second(Straightness([]float64{5, 5, 5}, []float64{1, 2, 3}, LeastSquares)),
		"bow of one":      second(Bow([]float64{5}, []float64{1})),
		"detrended one":   second(Detrended([]float64{5}, []float64{1}, LeastSquares)),
		"no heights":      second(Flatness(nil, nil, nil, LeastSquares)),
		"two angles":      second(Roundness([]float64{0, 3}, []float64{1, 2}, LeastSquares)),
		"half a turn":     second(Roundness([]float64{0, 1, 3}, []float64{1, 2, 3}, Circumscribed)),
		"lobes of four":   second(Lobes([]float64{0, math.Pi / 2, math.Pi, 3 * math.Pi / 2}, []float64{1, 2, 3, 4}, 2)),
		"no lobes":        second(Lobes([]float64{0, 2, 4}, []float64{1, 2, 3}, 0)),
		"uneven angles":   second(Lobes([]float64{0, 2, 4}, []float64{1, 2, 3}, 1)),
		"unknown method":  second(Straightness(three, three, "by eye")),
		"unknown plane":   second(Flatness([]float64{0, 1, 0, 1}, []float64{0, 0, 1, 1}, []float64{1, 2, 3, 5}, EndPoints)),
		"unknown circle":  second(Roundness([]float64{0, 1.5, 3, 4.5}, []float64{1, 2, 3, 5}, EndPoints)),
		"unknown is last": second(Roundness([]float64{0, 2, 4, 5}, []float64{1, 2, 3, 4}, "")),
	} {
		var u *fit.Undefined
		if !errors.As(err, &u) || u.Why == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func second[T any](_ T, err error) error { return err }

// TestFlat: what cannot be out of flat is flat, to the last bit.
func TestFlat(t *testing.T) {
	for name, p := range map[string][3][]float64{
		"one height":             {{3}, {4}, {5}},
		"three heights":          {{0, 100, 0}, {0, 0, 100}, {1, 5, -2}},
		"two heights":            {{0, 100}, {0, 0}, {1, 5}},
		"many of the same place": {{1, 1}, {1, 1}, {2, 2}},
	} {
		for _, m := range []Method{LeastSquares, MinimumZone} {
			if got, err := Flatness(p[0], p[1], p[2], m); err != nil || got != 0 {
				t.Errorf("%s, %s: %v, %v; want 0", name, m, got, err)
			}
		}
	}
	// A saddle of four corners: the plane is level, whatever the method.
	for _, m := range []Method{LeastSquares, MinimumZone} {
		if got, err := Flatness([]float64{0, 1, 0, 1}, []float64{0, 0, 1, 1}, []float64{0, 2, 2, 0}, m); err != nil || !near(got, 2, 1e-12) {
			t.Errorf("saddle, %s: %v, %v; want 2", m, got, err)
		}
	}
}
