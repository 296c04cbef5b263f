package fit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

// points draws n places and readings. Small whole numbers give many places on
// one line and many equal readings, which is where such programs go wrong.
func points(t *rapid.T, n int) (x, y, z []float64) {
	draw := func(t *rapid.T, name string) float64 {
		return float64(rapid.IntRange(-10000, 10000).Draw(t, name)) / 1000
	}
	if rapid.Bool().Draw(t, "whole") {
		draw = func(t *rapid.T, name string) float64 {
			return float64(rapid.IntRange(-2, 2).Draw(t, name))
		}
	}
	for range n {
		x, y, z = append(x, draw(t, "x")), append(y, draw(t, "y")), append(z, draw(t, "z"))
	}
	return x, y, z
}

// leastRange is the slow twin of MinimumZone for two shapes. A fit of least
// range is settled by four readings, two differences of which it takes to
// nothing: all are tried. It is exact where the points do not all lie on one
// line.
func leastRange(x, y, z []float64) float64 {
	type edge struct{ x, y, z float64 }
	var edges []edge
	for i := range z {
		for j := range i {
			edges = append(edges, edge{x[i] - x[j], y[i] - y[j], z[i] - z[j]})
		}
	}
	best := spread(z)
	left := make([]float64, len(z))
	for i, e := range edges {
		for _, f := range edges[:i] {
			det := e.x*f.y - e.y*f.x
			if math.Abs(det) < 1e-9 {
				continue
			}
			a, b := (e.z*f.y-f.z*e.y)/det, (e.x*f.z-f.x*e.z)/det
			for k := range z {
				left[k] = z[k] - a*x[k] - b*y[k]
			}
			best = math.Min(best, spread(left))
		}
	}
	return best
}

// leastRangeLine is the slow twin for one shape: the line of least range is
// parallel to a line through two of the points.
func leastRangeLine(x, z []float64) float64 {
	best := math.Inf(1)
	left := make([]float64, len(z))
	for i := range x {
		for j := range i {
			if x[i] == x[j] {
				continue
			}
			s := (z[i] - z[j]) / (x[i] - x[j])
			for k := range z {
				left[k] = z[k] - s*x[k]
			}
			best = math.Min(best, spread(left))
		}
	}
	return best
}

func TestMinimumZoneAgainstTwins(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 9).Draw(t, "n")
		x, y, z := points(t, n)
		if m := NewModel(n, x, y); m.Rank() == 2 {
			got, want := spread(m.MinimumZone(z)), leastRange(x, y, z)
			if !near(got, want, 1e-9) {
				t.Fatalf("plane: least range %v, want %v", got, want)
			}
		}
		if m := NewModel(n, x); m.Rank() == 1 {
			got, want := spread(m.MinimumZone(z)), leastRangeLine(x, z)
			if !near(got, want, 1e-9) {
				t.Fatalf("line: least range %v, want %v", got, want)
			}
		}
	})
}

// TestMinimumZoneOfMany proves large fits: the readings that touch the two
// sides of the zone have, by themselves, the same least range, and no fit of
// more readings can have less.
func TestMinimumZoneOfMany(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(30, 200).Draw(t, "n")
		x, y, z := make([]float64, n), make([]float64, n), make([]float64, n)
		side := int(math.Sqrt(float64(n))) + 1
		whole := rapid.Bool().Draw(t, "whole")
		seed := rapid.Uint32().Draw(t, "seed")
		for i := range z {
			x[i], y[i] = float64(i%side)*50, float64(i/side)*50
			seed = seed*1664525 + 1013904223
			z[i] = float64(seed>>8) / (1 << 24)
			if whole {
				z[i] = math.Floor(z[i] * 4)
			}
		}
		left := NewModel(n, x, y).MinimumZone(z)
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, v := range left {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
		var tx, ty, tz []float64
		for i, v := range left {
			if v-lo < 1e-9 || hi-v < 1e-9 {
				tx, ty, tz = append(tx, x[i]), append(ty, y[i]), append(tz, z[i])
			}
		}
		if len(tz) > 14 {
			return // too many for the slow twin
		}
		least := leastRange(tx, ty, tz)
		if NewModel(len(tz), tx, ty).Rank() == 1 { // all on one line
			along := make([]float64, len(tz))
			for i := range along {
				along[i] = (tx[i]-tx[0])*(tx[1]-tx[0]) + (ty[i]-ty[0])*(ty[1]-ty[0])
			}
			least = leastRangeLine(along, tz)
		}
		if !near(least, hi-lo, 1e-9) {
			t.Fatalf("range %v, but the touching readings %v alone need only %v", hi-lo, tz, least)
		}
	})
}

// TestTilted asks that tilting and shifting the readings changes nothing that
// is left.
func TestTilted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(4, 20).Draw(t, "n")
		x, y, z := points(t, n)
		a := rapid.Float64Range(-5, 5).Draw(t, "a")
		b := rapid.Float64Range(-5, 5).Draw(t, "b")
		c := rapid.Float64Range(-100, 100).Draw(t, "c")
		tilted := make([]float64, n)
		for i := range z {
			tilted[i] = z[i] + a*x[i] + b*y[i] + c
		}
		m := NewModel(n, x, y)
		before, after := m.Residuals(z), m.Residuals(tilted)
		for i := range before {
			if !near(before[i], after[i], 1e-10) {
				t.Fatalf("least squares: %v became %v", before[i], after[i])
			}
		}
		zone := spread(m.MinimumZone(z))
		if got := spread(m.MinimumZone(tilted)); !near(got, zone, 1e-9) {
			t.Fatalf("least range %v became %v", zone, got)
		}
		if ls := spread(before); zone > ls {
			t.Fatalf("least range %v is above that of least squares, %v", zone, ls)
		}
	})
}

// TestCoefficients asks that known amounts of the shapes come back, and that
// what is left is square to every shape.
func TestCoefficients(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(5, 20).Draw(t, "n")
		x, y, z := points(t, n)
		m := NewModel(n, x, y)
		left := m.Residuals(z)
		for _, shape := range [][]float64{x, y} {
			if d := dot(left, shape); !near(d, 0, 1e-10) {
				t.Fatalf("residuals lean on a shape by %v", d)
			}
		}
		c, k := m.Coefficients(z)
		for i := range z {
			if got := z[i] - c - k[0]*x[i] - k[1]*y[i]; !near(got, left[i], 1e-9) {
				t.Fatalf("coefficients leave %v at point %d, residuals say %v", got, i, left[i])
			}
		}
	})
}

// TestDependentShapes asks that a shape which adds nothing changes nothing.
func TestDependentShapes(t *testing.T) {
	x := []float64{0, 100, 200, 300}
	twice := []float64{5, 205, 405, 605}
	z := []float64{0, 3, 3, 1}
	m := NewModel(4, x, twice)
	if m.Rank() != 1 {
		t.Fatalf("rank %d, want 1", m.Rank())
	}
	if got, want := spread(m.MinimumZone(z)), leastRangeLine(x, z); !near(got, want, 1e-12) {
		t.Errorf("least range %v, want %v", got, want)
	}
	if _, k := m.Coefficients(z); k[1] != 0 {
		t.Errorf("the second shape has %v, want 0", k[1])
	}
	if m := NewModel(3, []float64{7, 7, 7}); m.Rank() != 0 {
		t.Errorf("a constant shape has rank %d", m.Rank())
	}
}

// turn draws angles all round, and readings.
func turn(t *rapid.T) (angles, r []float64) {
	n := rapid.IntRange(3, 16).Draw(t, "n")
	even := rapid.Bool().Draw(t, "even")
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		if !even {
			a = rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle")
		}
		angles = append(angles, a)
		r = append(r, float64(rapid.IntRange(-20, 20).Draw(t, "r"))/4)
	}
	return angles, r
}

// TestCircumscribedAgainstTwin tries every curve through three readings: the
// smallest that has no reading outside is the smallest of all.
func TestCircumscribedAgainstTwin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angles, r := turn(t)
		left, err := Circumscribed(angles, r)
		if err != nil {
			if Surrounds(angles) {
				t.Fatal(err)
			}
			return
		}
		curve := make([]float64, len(r))
		for i := range r {
			if left[i] > 1e-8 {
				t.Fatalf("reading %d stands %v outside", i, left[i])
			}
			curve[i] = r[i] - left[i]
		}
		c, _ := RoundModel(angles).Coefficients(curve)
		if want := smallestCurve(angles, r); !near(c, want, 1e-9) {
			t.Fatalf("c = %v, want %v", c, want)
		}
		// What is inscribed is what is circumscribed, turned inside out.
		minus := make([]float64, len(r))
		for i := range r {
			minus[i] = -r[i]
		}
		in, err := Inscribed(angles, minus)
		if err != nil || !near(spread(in), spread(left), 1e-12) {
			t.Fatalf("inscribed %v, %v; circumscribed %v", spread(in), err, spread(left))
		}
	})
}

func smallestCurve(angles, r []float64) float64 {
	best := math.Inf(1)
	for i := range r {
		for j := range i {
			for k := range j {
				var a [][]float64
				var b []float64
				for _, p := range []int{i, j, k} {
					a = append(a, []float64{1, math.Cos(angles[p]), math.Sin(angles[p])})
					b = append(b, r[p])
				}
				fit := gauss(a, b)
				if fit == nil || math.Abs(fit[0])+math.Abs(fit[1])+math.Abs(fit[2]) > 1e9 {
					continue
				}
				inside := true
				for p := range r {
					inside = inside && r[p]-fit[0]-fit[1]*math.Cos(angles[p])-fit[2]*math.Sin(angles[p]) < 1e-9
				}
				if inside {
					best = math.Min(best, fit[0])
				}
			}
		}
	}
	return best
}

// TestOval: an oval touches its circumscribed curve at two places, which
// leaves the curve free to lie anywhere between; the one in the middle has the
// least range.
func TestOval(t *testing.T) {
	var angles, r []float64
	for i := range 24 {
		a := 2 * math.Pi * float64(i) / 24
		angles, r = append(angles, a), append(r, math.Cos(2*a))
	}
	for name, f := range map[string]func(a, r []float64) ([]float64, error){"circumscribed": Circumscribed, "inscribed": Inscribed} {
		left, err := f(angles, r)
		if err != nil || !near(spread(left), 2, 1e-12) {
			t.Errorf("%s: range %v, %v; want 2", name, spread(left), err)
		}
	}
}

func TestSurrounds(t *testing.T) {
	for _, tt := range []struct {
		deg  []float64
		want bool
	}{
		{[]float64{0, 120, 240}, true},
		{[]float64{0, 90, 180}, false}, // within half a turn, its ends among them
		{[]float64{0, 90, 181}, true},
		{[]float64{0, 180}, false},
		{[]float64{350, 10, 100, 200}, true},
		{[]float64{-10, 370, 100, 560}, true},
		{[]float64{10, 20, 30, 40, 50}, false},
		{nil, false},
	} {
		var rad []float64
		for _, d := range tt.deg {
			rad = append(rad, d*math.Pi/180)
		}
		if got := Surrounds(rad); got != tt.want {
			t.Errorf("Surrounds(%v°) = %v, want %v", tt.deg, got, tt.want)
		}
	}
}
