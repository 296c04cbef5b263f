package fit

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// cases is how many seeded cases each clever computation is compared over.
const cases = 3000

// small draws n numbers, in half of the cases small whole ones, so that many
// are equal and many points lie on one line.
func small(rng *rand.Rand, n int, whole bool) []float64 {
	out := make([]float64, n)
	for i := range out {
		if out[i] = rng.NormFloat64(); whole {
			out[i] = float64(rng.IntN(5) - 2)
		}
	}
	return out
}

// TestLineZoneAgainstTwin compares the hull with trying every line through two
// of the points.
func TestLineZoneAgainstTwin(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for k := range cases {
		n, whole := 2+rng.IntN(12), k%2 == 0
		at, v := small(rng, n, whole), small(rng, n, whole)
		slices.Sort(at)
		if at[0] == at[n-1] {
			continue
		}
		slope := LineZone(at, v)
		left := make([]float64, n)
		for i := range v {
			left[i] = v[i] - slope*at[i]
		}
		if want := leastRangeLine(at, v); !near(spread(left), want, 1e-10) {
			t.Fatalf("case %d: stations %v, values %v: slope %v leaves %v, want %v", k, at, v, slope, spread(left), want)
		}
	}
}

// TestLevelAgainstZone compares the turning of a level line with the hull, and
// that it is turned on where the values lie along a slope or on a curve.
func TestLevelAgainstZone(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 1))
	for k := range cases {
		n, whole := 2+rng.IntN(12), k%2 == 0
		at, v := make([]float64, n), small(rng, n, whole)
		for i := range at {
			at[i] = float64(i) + 0.3*rng.Float64()
		}
		if k%5 == 0 { // many edges of the hull lie between
			n = 400
			at, v = make([]float64, n), make([]float64, n)
			for i := range at {
				at[i] = float64(i)
				v[i] = float64(i*i*i)*1e-6 + rng.Float64()*1e-7
			}
		}
		if k%3 == 0 {
			v = NewModel(n, at).Residuals(v)
		}
		var l LineFinder
		got, want := l.Level(at, v), l.Zone(at, v)
		off := func(slope float64) float64 {
			left := make([]float64, n)
			for i := range v {
				left[i] = v[i] - slope*at[i]
			}
			return spread(left)
		}
		if !near(off(got), off(want), 1e-12) {
			t.Fatalf("case %d: stations %v, values %v: slope %v leaves %v; the hull %v, %v", k, at, v, got, off(got), want, off(want))
		}
	}
}

// TestPlaneZoneAgainstTwin compares the exchange of readings with trying every
// plane that two differences are taken to nothing by.
func TestPlaneZoneAgainstTwin(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 1))
	held := 0
	for k := range cases {
		n, whole := 4+rng.IntN(5), k%2 == 0
		x, y, z := small(rng, n, whole), small(rng, n, whole), small(rng, n, whole)
		m := NewModel(n, x, y)
		if m.Rank() < 2 {
			continue
		}
		held++
		if got, want := spread(m.MinimumZone(z)), leastRange(x, y, z); !near(got, want, 1e-9) {
			t.Fatalf("case %d: %v %v %v: %v, want %v", k, x, y, z, got, want)
		}
	}
	if held < cases/2 {
		t.Errorf("only %d cases were compared", held)
	}
}

// roundAngles draws angles all round, evenly spaced in a third of the cases,
// so that many stand opposite each other.
func roundAngles(rng *rand.Rand, n, k int) []float64 {
	angles := make([]float64, n)
	for i := range angles {
		if angles[i] = 2 * math.Pi * rng.Float64(); k%3 == 0 {
			angles[i] = 2 * math.Pi * float64(i) / float64(n)
		}
	}
	return angles
}

func TestRoundZoneAgainstTwin(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	held := 0
	for k := range cases {
		n := 4 + rng.IntN(6)
		angles, r := roundAngles(rng, n, k), small(rng, n, k%2 == 0)
		if !Surrounds(angles) {
			continue
		}
		held++
		c, s := make([]float64, n), make([]float64, n)
		for i, a := range angles {
			c[i], s[i] = math.Cos(a), math.Sin(a)
		}
		want := leastRange(c, s, r)
		if got := spread(RoundModel(angles).MinimumZone(r)); !near(got, want, 1e-8) {
			t.Fatalf("case %d: %v %v: %v, want %v", k, angles, r, got, want)
		}
	}
	if held < cases/3 {
		t.Errorf("only %d cases were compared", held)
	}
}

// TestTouchingCurvesAgainstTwin compares circumscribed and inscribed curves
// with trying every curve through three readings. Where the curve may be
// pushed, no push that still encloses leaves a smaller range.
func TestTouchingCurvesAgainstTwin(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 1))
	held, pushed := 0, 0
	for k := range cases {
		n := 3 + rng.IntN(10)
		angles, r := roundAngles(rng, n, k), small(rng, n, k%2 == 0)
		left, err := Circumscribed(angles, r)
		if (err == nil) != Surrounds(angles) {
			t.Fatalf("case %d: %v", k, err)
		}
		if err != nil {
			continue
		}
		held++
		curve := make([]float64, n)
		for i := range r {
			if left[i] > 1e-12 {
				t.Fatalf("case %d: reading %d stands %v outside", k, i, left[i])
			}
			curve[i] = r[i] - left[i]
		}
		c, _ := RoundModel(angles).Coefficients(curve)
		if want := smallestCurve(angles, r); !near(c, want, 1e-9) {
			t.Fatalf("case %d: %v %v: c %v, want %v", k, angles, r, c, want)
		}
		for dir := range 24 {
			for _, by := range [2]float64{1e-3, 0.1} {
				a := 2 * math.Pi * float64(dir) / 24
				for i, phi := range angles {
					curve[i] = left[i] - by*math.Cos(phi-a)
				}
				if slices.Max(curve) <= 1e-12 {
					pushed++
					if spread(curve) < spread(left)-1e-9 {
						t.Fatalf("case %d: pushed by %v at %v the range is %v, below %v", k, by, a, spread(curve), spread(left))
					}
				}
			}
		}
		minus := make([]float64, n)
		for i := range r {
			minus[i] = -r[i]
		}
		if in, err := Inscribed(angles, minus); err != nil || !near(spread(in), spread(left), 1e-12) {
			t.Fatalf("case %d: inscribed %v, %v; circumscribed %v", k, spread(in), err, spread(left))
		}
	}
	if held < cases/3 || pushed < 100 {
		t.Errorf("only %d curves were compared, and %d pushes tried", held, pushed)
	}
}

// TestExactAmongMany holds fits of thousands of readings: the readings that
// touch, by themselves, allow no smaller range, so that all of them do not
// either.
func TestExactAmongMany(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 1))
	for range 20 {
		const n = 5000
		x, y, z := small(rng, n, false), small(rng, n, false), small(rng, n, false)
		for i := range z {
			z[i] = 250 + 0.001*z[i] + 0.002*x[i] // micrometres on a quarter of a metre, tilted
		}
		left := NewModel(n, x, y).MinimumZone(z)
		lo, hi := extremes(left)
		var tx, ty, tz []float64
		for i, v := range left {
			if v-left[lo] < 1e-12 || left[hi]-v < 1e-12 {
				tx, ty, tz = append(tx, x[i]), append(ty, y[i]), append(tz, z[i])
			}
		}
		if want := leastRange(tx, ty, tz); len(tz) < 4 || !near(spread(left), want, 1e-11) {
			t.Fatalf("range %v, the %d touching readings alone need %v", spread(left), len(tz), want)
		}
	}
}

// TestSurroundsFar: angles too far apart for a difference are not all round.
func TestSurroundsFar(t *testing.T) {
	if Surrounds([]float64{math.MaxFloat64, -math.MaxFloat64, 0, 2, 4}) {
		t.Error("angles without a difference are all round")
	}
}
