package form

import (
	"fmt"
	"math"
	"testing"

	"waywright/checks/fit"
	"waywright/checks/internal/published"
	"waywright/checks/stat"
)

// TestScipy compares with what numpy and scipy give, whose zones are linear
// programs solved to about nine figures; see testdata/crosscheck.
func TestScipy(t *testing.T) {
	var file struct {
		Made  map[string]string `json:"made_by"`
		Lines []struct {
			At, Values []float64
			Slope      float64
			AtZero     float64 `json:"at_zero"`
			LS         float64 `json:"least_squares"`
			Zone       float64 `json:"minimum_zone"`
		}
		Planes []struct {
			X, Y, Z []float64
			LS      float64 `json:"least_squares"`
			Zone    float64 `json:"minimum_zone"`
		}
		Turns []struct {
			Angles, Readings, Lobes []float64
			LS                      float64 `json:"least_squares"`
			Zone                    float64 `json:"minimum_zone"`
			C                       float64 `json:"circumscribed_c"`
			I                       float64 `json:"inscribed_c"`
		}
	}
	published.Read(t, "../crosscheck/values.json", &file)
	source := fmt.Sprintf("numpy %s, scipy %s", file.Made["numpy"], file.Made["scipy"])
	agree := func(what string, got float64, err error, want, digits float64) {
		t.Helper()
		if err != nil {
			t.Errorf("%s: %v", what, err)
		}
		published.Agree(t, source, what, got, want, digits)
	}
	for _, l := range file.Lines {
		line, err := FitLine(l.At, l.Values)
		agree("slope", line.Slope, err, l.Slope, 11)
		agree("value at zero", line.At(0), err, l.AtZero, 11)
		ls, err := Straightness(l.At, l.Values, LeastSquares)
		agree("straightness, least squares", ls, err, l.LS, 11)
		mz, err := Straightness(l.At, l.Values, MinimumZone)
		agree("straightness, least zone", mz, err, l.Zone, 8)
	}
	for _, p := range file.Planes {
		ls, err := Flatness(p.X, p.Y, p.Z, LeastSquares)
		agree("flatness, least squares", ls, err, p.LS, 11)
		mz, err := Flatness(p.X, p.Y, p.Z, MinimumZone)
		agree("flatness, least zone", mz, err, p.Zone, 8)
	}
	for _, c := range file.Turns {
		ls, err := Roundness(c.Angles, c.Readings, LeastSquares)
		agree("roundness, least squares", ls, err, c.LS, 11)
		mz, err := Roundness(c.Angles, c.Readings, MinimumZone)
		agree("roundness, least zone", mz, err, c.Zone, 8)
		for n, a := range c.Lobes {
			got, err := Lobes(c.Angles, c.Readings, n+1)
			agree(fmt.Sprint("lobes ", n+1), got, err, a, 9)
		}
		for name, f := range map[string]func(a, r []float64) ([]float64, error){"circumscribed": fit.Circumscribed, "inscribed": fit.Inscribed} {
			left, err := f(c.Angles, c.Readings)
			curve := make([]float64, len(left))
			for i := range left {
				curve[i] = c.Readings[i] - left[i]
			}
			want := map[string]float64{"circumscribed": c.C, "inscribed": c.I}[name]
			got, _ := fit.RoundModel(c.Angles).Coefficients(curve)
			agree(name, got, err, want, 8)
		}
	}
	if len(file.Lines)+len(file.Planes)+len(file.Turns) < 14 {
		t.Error("little was compared")
	}
}

// TestSeats: a socket and a bar that are known come apart, wherever either is
// high; derived here: the socket 4 at 30°, the bar 3 at 200°.
func TestSeats(t *testing.T) {
	const deg = math.Pi / 180
	var angles, angles2, r, q []float64
	for i := range 7 {
		a, b := 2*math.Pi*float64(i)/7, 2*math.Pi*float64(i)/7+0.2
		angles, angles2 = append(angles, a), append(angles2, b)
		r = append(r, 20+4*math.Cos(a-30*deg)+3*math.Cos(a-200*deg))
		q = append(q, -5+4*math.Cos(b-30*deg)-3*math.Cos(b-200*deg))
	}
	s, sh, b, bh, err := Seats(angles, r, angles2, q)
	if err != nil || !near(s, 4, 1e-12) || !near(sh, 30*deg, 1e-12) || !near(b, 3, 1e-12) || !near(bh, 200*deg, 1e-12) {
		t.Errorf("socket %v at %v°, bar %v at %v°, %v; want 4 at 30°, 3 at 200°", s, sh/deg, b, bh/deg, err)
	}
	e0, _, _ := Eccentricity(angles, r)
	e1, _, _ := Eccentricity(angles2, q)
	if !near(2*e0, 2.34, 0.005) || !near(2*e1, 13.95, 0.005) {
		t.Errorf("run-outs %v and %v, want 2.34 and 13.95", 2*e0, 2*e1)
	}
	if _, _, _, _, err := Seats(angles[:2], r[:2], angles2, q); err == nil {
		t.Error("two angles in the first seating are not refused")
	}
	if _, _, _, _, err := Seats(angles, r, angles2[:2], q[:2]); err == nil {
		t.Error("two angles in the second seating are not refused")
	}
}

// TestOrderAndScale: the order of the points changes nothing, and a scale goes
// through; a flatness and a roundness too.
func TestOrderAndScale(t *testing.T) {
	at, v := wavy(300)
	x, y := make([]float64, 300), make([]float64, 300)
	angles := make([]float64, 300)
	for i := range at {
		x[i], y[i], angles[i] = float64(i%17), float64(i/17), 2*math.Pi*float64(i)/300
	}
	back := func(s []float64, k float64) []float64 {
		out := make([]float64, len(s))
		for i := range s {
			out[len(s)-1-i] = k * s[i]
		}
		return out
	}
	for _, m := range []Method{LeastSquares, MinimumZone, Circumscribed, Inscribed} {
		if m == LeastSquares || m == MinimumZone {
			a, err1 := Flatness(x, y, v, m)
			b, err2 := Flatness(back(x, 3), back(y, 3), back(v, 1e-3), m)
			if err1 != nil || err2 != nil || !near(a/1000, b, 1e-12*a) {
				t.Errorf("flatness %s: %v and %v, %v %v", m, a/1000, b, err1, err2)
			}
			s, c := math.Sincos(0.7) // the field turned in its plane
			u, w := make([]float64, 300), make([]float64, 300)
			for i := range x {
				u[i], w[i] = c*x[i]-s*y[i]+1000, s*x[i]+c*y[i]-2000
			}
			if d, err := Flatness(u, w, v, m); err != nil || !near(a, d, 1e-11*a) {
				t.Errorf("flatness %s turned: %v and %v, %v", m, a, d, err)
			}
		}
		a, err1 := Roundness(angles, v, m)
		b, err2 := Roundness(back(angles, 1), back(v, 1e-3), m)
		if err1 != nil || err2 != nil || !near(a/1000, b, 1e-10*a) {
			t.Errorf("roundness %s: %v and %v, %v %v", m, a/1000, b, err1, err2)
		}
	}
}

// TestLargeOffset: micrometres on a quarter of a metre. The same structure
// without the offset, and tilted, has the same form to what the last figure of
// a quarter of a metre allows.
func TestLargeOffset(t *testing.T) {
	at, v := wavy(5000)
	bare, tilted := make([]float64, len(v)), make([]float64, len(v))
	for i := range v {
		bare[i] = v[i] - 250 // exact
		tilted[i] = v[i] + 0.25*at[i]/500
	}
	for _, m := range []Method{LeastSquares, MinimumZone, EndPoints} {
		a, err1 := Straightness(at, v, m)
		b, err2 := Straightness(at, bare, m)
		c, err3 := Straightness(at, tilted, m)
		if err1 != nil || err2 != nil || err3 != nil || !near(a, b, 1e-13) || !near(a, c, 2e-13) {
			t.Errorf("%s: %.15g, bare %.15g, tilted %.15g; %v %v %v", m, a, b, c, err1, err2, err3)
		}
	}
	if got := stat.Spread(bare); got > 0.02 {
		t.Errorf("the structure is %v mm, and micrometres are meant", got)
	}
}

// TestLevelled: what is left keeps its range, is counted from the middle of
// the zone, and differs from the heights by a plane; a profile likewise by a
// line.
func TestLevelled(t *testing.T) {
	at, v := wavy(60)
	x, y := make([]float64, 60), make([]float64, 60)
	for i := range x {
		x[i], y[i] = float64(i%8), float64(i/8)
	}
	for _, m := range []Method{LeastSquares, MinimumZone} {
		h, err1 := Levelled(x, y, v, m)
		f, err2 := Flatness(x, y, v, m)
		d, err3 := Detrended(at, v, m)
		s, err4 := Straightness(at, v, m)
		if err1 != nil || err2 != nil || err3 != nil || err4 != nil {
			t.Fatal(err1, err2, err3, err4)
		}
		if !near(stat.Spread(h), f, 1e-15) || !near(stat.Spread(d), s, 1e-15) {
			t.Errorf("%s: ranges %v and %v, of %v and %v", m, stat.Spread(h), stat.Spread(d), f, s)
		}
		plane, line := make([]float64, 60), make([]float64, 60)
		for i := range v {
			plane[i], line[i] = v[i]-h[i], v[i]-d[i]
		}
		if f, _ := Flatness(x, y, plane, LeastSquares); f > 1e-12 {
			t.Errorf("%s: what was taken off is out by %v from a plane", m, f)
		}
		if s, _ := Straightness(at, line, LeastSquares); s > 1e-12 {
			t.Errorf("%s: what was taken off is out by %v from a line", m, s)
		}
		if m == MinimumZone && !near(h[stat.WhereGreatest(h)], -h[stat.WhereLeast(h)], 1e-15) {
			t.Errorf("the zone lies from %v to %v", h[stat.WhereLeast(h)], h[stat.WhereGreatest(h)])
		}
	}
	for _, m := range []Method{EndPoints, Inscribed} {
		if _, err := Levelled(x, y, v, m); err == nil {
			t.Errorf("heights less a plane of %s", m)
		}
	}
	if _, err := Levelled(nil, nil, nil, LeastSquares); err == nil {
		t.Error("no heights are levelled")
	}
}
