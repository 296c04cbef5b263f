package plate

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"waywright/checks/fit"
	"waywright/checks/form"
	"waywright/checks/internal/published"
)

// TestEightLines holds a survey against a constructed plate whose heights were
// worked out independently; readings are rounded to 0.01″, answers to 1e-6 µm.
func TestEightLines(t *testing.T) {
	var file struct {
		Plate [2]float64 `json:"plate_mm"`
		Foot  float64    `json:"foot_spacing_mm"`
		Lines map[string]struct {
			X        []float64 `json:"x_mm"`
			Y        []float64 `json:"y_mm"`
			Readings []float64 `json:"readings_arcsec"`
		}
		Answers struct {
			Heights map[string][]float64 `json:"heights_um"`
			Closure map[string]float64   `json:"closure_error_um"`
			Eight   float64              `json:"flatness_eight_line_um"`
			Plane   float64              `json:"flatness_least_squares_plane_um"`
			Zone    float64              `json:"flatness_minimum_zone_um"`
		}
	}
	published.Read(t, "geometry/flatness_eight_line_constructed_a.json", &file)
	slopes := map[string][]float64{}
	for name, l := range file.Lines {
		for _, r := range l.Readings {
			key := strings.ToLower(strings.Replace(name, "-", "_", 1))
			slopes[key] = append(slopes[key], r/3600*math.Pi/180)
		}
	}
	if err := Steps(slopes, file.Plate[0], file.Plate[1], file.Foot); err != nil {
		t.Error(err)
	}
	if err := Steps(slopes, file.Plate[0], file.Plate[1], 200); err == nil {
		t.Error("feet 200 mm apart fit steps of 150 mm")
	}
	if err := Steps(slopes, file.Plate[0], file.Plate[1], 0); err == nil {
		t.Error("feet at one place are not refused")
	}
	s, err := EightLines(slopes, file.Plate[0], file.Plate[1])
	if err != nil {
		t.Fatal(err)
	}
	const tol = 2e-6 // µm
	got := map[[2]float64][]float64{}
	for i := range s.Z {
		k := [2]float64{math.Round(s.X[i]), math.Round(s.Y[i])}
		got[k] = append(got[k], s.Z[i]*1000)
	}
	for name, l := range file.Lines {
		for i, want := range file.Answers.Heights[name] {
			if middle := l.X[i] == 0 && l.Y[i] == 0; middle && (name == "W-E" || name == "N-S") {
				want = 0 // the closure is not spread over the survey
			}
			for _, h := range got[[2]float64{l.X[i], l.Y[i]}] {
				if math.Abs(h-want) > tol {
					t.Errorf("%s at (%v, %v): height %.6f µm, want %.6f", name, l.X[i], l.Y[i], h, want)
				}
			}
			if len(got[[2]float64{l.X[i], l.Y[i]}]) == 0 {
				t.Errorf("no height at (%v, %v)", l.X[i], l.Y[i])
			}
		}
	}
	plane, err1 := form.Flatness(s.X, s.Y, s.Z, form.LeastSquares)
	zone, err2 := form.Flatness(s.X, s.Y, s.Z, form.MinimumZone)
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"closure W-E", s.MissWE, file.Answers.Closure["W-E"]},
		{"closure N-S", s.MissNS, file.Answers.Closure["N-S"]},
		{"flatness, least squares", plane, file.Answers.Plane},
		{"flatness, least zone", zone, file.Answers.Zone},
	} {
		if math.Abs(c.got*1000-c.want) > tol {
			t.Errorf("%s = %.6f µm, want %.6f", c.name, c.got*1000, c.want)
		}
	}
	if err := errors.Join(err1, err2); err != nil {
		t.Error(err)
	}
}

// TestKnownSurface surveys surfaces that are known: what comes out is the
// surface but for a plane, every line's zero may be anything, and the centre
// lines meet the middle.
func TestKnownSurface(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(300, 3000).Draw(t, "length")
		width := rapid.Float64Range(200, length).Draw(t, "width")
		var k [8]float64
		for i := range k {
			k[i] = rapid.Float64Range(-0.01, 0.01).Draw(t, "k")
		}
		surface := func(x, y float64) float64 {
			u, v := 2*x/length, 2*y/width
			return k[0] + k[1]*u + k[2]*v + k[3]*u*u + k[4]*v*v + k[5]*u*v + k[6]*u*u*u + k[7]*u*u*v*v
		}
		s := size{length, width}
		slopes := map[string][]float64{}
		for _, line := range Lines {
			n := 2 * rapid.IntRange(1, 8).Draw(t, line)
			zero := rapid.Float64Range(-1e-3, 1e-3).Draw(t, "zero")
			x0, y0 := s.place(line, 0)
			x1, y1 := s.place(line, 1)
			step := math.Hypot(x1-x0, y1-y0) / float64(n)
			for i := range n {
				ax, ay := s.place(line, float64(i)/float64(n))
				bx, by := s.place(line, float64(i+1)/float64(n))
				slopes[line] = append(slopes[line], (surface(bx, by)-surface(ax, ay))/step+zero)
			}
		}
		got, err := EightLines(slopes, length, width)
		if err != nil {
			t.Fatal(err)
		}
		// The survey's plane is the one that makes opposite corners equal and the
		// middle 0, which takes off the odd terms' corner heights too.
		left := make([]float64, len(got.Z))
		for i := range left {
			left[i] = got.Z[i] - surface(got.X[i], got.Y[i])
		}
		if f, _ := form.Flatness(got.X, got.Y, left, form.LeastSquares); f > 1e-12 {
			t.Fatalf("the survey is out by %v mm from a plane", f)
		}
		if math.Abs(got.MissWE) > 1e-12 || math.Abs(got.MissNS) > 1e-12 {
			t.Fatalf("the centre lines miss by %v and %v", got.MissWE, got.MissNS)
		}
		// A reading of the centre line that is wrong shows in its closure alone.
		n := len(slopes["w_e"])
		slopes["w_e"][0] += 1e-5
		bad, err := EightLines(slopes, length, width)
		want := 1e-5 * length / float64(n) / 2 // a step of the first piece, half of which is levelled away
		if err != nil || math.Abs(bad.MissWE-want) > 1e-12 || bad.MissNS != got.MissNS {
			t.Fatalf("closures %v, %v; want %v, %v (%v)", bad.MissWE, bad.MissNS, want, got.MissNS, err)
		}
	})
}

func TestUndefined(t *testing.T) {
	good := func() map[string][]float64 {
		m := map[string][]float64{}
		for _, l := range Lines {
			m[l] = []float64{1e-6, -1e-6}
		}
		return m
	}
	missing, odd := good(), good()
	delete(missing, "w_e")
	odd["ne_se"] = []float64{0, 0, 0}
	for name, f := range map[string]func() (Survey, error){
		"a line is missing": func() (Survey, error) { return EightLines(missing, 1200, 900) },
		"odd steps":         func() (Survey, error) { return EightLines(odd, 1200, 900) },
		"no width":          func() (Survey, error) { return EightLines(good(), 1200, 0) },
	} {
		_, err := f()
		if u := (*fit.Undefined)(nil); !errors.As(err, &u) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := EightLines(good(), 1200, 900); err != nil {
		t.Error(err)
	}
}

// TestStations: a field that the stations contradict is told by the line that
// does so; the stations may begin anywhere and lie as a ruler marks them.
func TestStations(t *testing.T) {
	field := func() map[string][]float64 { // 800 mm by 600 mm: diagonals of 1000 mm
		at := map[string][]float64{}
		for i, line := range Lines {
			step := []float64{250, 250, 200, 200, 150, 150, 200, 150}[i]
			for k := range 4 {
				at[line] = append(at[line], 75+step*float64(k))
			}
		}
		return at
	}
	marked, uneven := field(), field()
	marked["w_e"][2] += 1 // a ruler's error
	uneven["n_s"][2] += 30
	for _, tt := range []struct {
		name          string
		at            map[string][]float64
		length, width float64
		want          string // "" is right
	}{
		{"as it is", field(), 800, 600, ""},
		{"marked with a ruler", marked, 800, 600, ""},
		{"another width", field(), 800, 700, "line nw_se has stations 250 mm apart, but 4 steps of a line of 1063.01 mm are 265.754 mm each: look at the length, the width and the stations"},
		{"length and width changed over", field(), 600, 800, "line nw_ne has stations 200 mm apart, but 4 steps of a line of 600 mm are 150 mm each: look at the length and at the stations"},
		{"uneven", uneven, 800, 600, "line n_s has stations 180 mm apart, but 4 steps of a line of 600 mm are 150 mm each: look at the width and at the stations"},
	} {
		err := Stations(tt.at, tt.length, tt.width)
		var u *fit.Undefined
		switch {
		case tt.want == "" && err != nil:
			t.Errorf("%s: %v", tt.name, err)
		case tt.want != "" && (!errors.As(err, &u) || u.Why != tt.want):
			t.Errorf("%s: %v, want %s", tt.name, err, tt.want)
		}
	}
}
