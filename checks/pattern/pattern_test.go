package pattern

import (
	"math"
	"math/rand/v2"
	"testing"
)

// All figures here are derived here: by hand, or by drawing takes with normal
// errors. The seeds are fixed.

func noise(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 31)) }

// How often what a function calls a pattern is shown by noise alone.
func rate(trials int, seen func() bool) float64 {
	n := 0
	for range trials {
		if seen() {
			n++
		}
	}
	return float64(n) / float64(trials)
}

func takes(r *rand.Rand, n int, sd, step float64, at func(k int) float64) []float64 {
	out := make([]float64, n)
	for k := range out {
		out[k] = math.Round((at(k)+sd*r.NormFloat64())/step) * step
	}
	return out
}

func TestSame(t *testing.T) {
	// Centred on a step with sd = step a take shows it with Φ(0.5) − Φ(−0.5) =
	// 0.3829, the steps beside it with 0.2417, the next with 0.0606.
	want := math.Pow(0.3829, 5) + 2*math.Pow(0.2417, 5) + 2*math.Pow(0.0606, 5)
	if got := Same(5, 1, 1); math.Abs(got-want) > 1e-4 {
		t.Errorf("five takes: %.5f, want %.5f", got, want)
	}
	for _, tt := range []struct {
		name     string
		n        int
		sd, step float64
		least    float64
		most     float64
	}{
		{"a dial that is far coarser than it scatters", 10, 0.1, 1, 0.999, 1},
		{"a comparator that scatters by many steps", 3, 5, 1, 0, 0.01},
		{"one take", 1, 1, 1, 1, 1},
		{"nothing known of the scatter", 5, 0, 1, 1, 1},
	} {
		if got := Same(tt.n, tt.sd, tt.step); got < tt.least || got > tt.most {
			t.Errorf("%s: %.4f, want %g to %g", tt.name, got, tt.least, tt.most)
		}
	}
	// Drawn, with the true value anywhere: never more often than that.
	r := noise(1)
	got := rate(40000, func() bool {
		at := r.Float64()
		y := takes(r, 5, 1, 1, func(int) float64 { return at })
		return y[0] == y[1] && y[1] == y[2] && y[2] == y[3] && y[3] == y[4]
	})
	if most := Same(5, 1, 1); got > most*1.15 || got < most/4 {
		t.Errorf("drawn: %.4f, said at most %.4f", got, most)
	}
}

// two are two places of n takes, the first of them read once more: noise of sd 1
// about what at gives for the take in the whole order and in its place.
func two(r *rand.Rand, n int, at func(order, nth int) float64) []Place {
	out := make([]Place, 2)
	order := 0
	for i := range out {
		p := &out[i]
		p.Again = math.NaN()
		for k := range n {
			p.Y = append(p.Y, at(order, k)+r.NormFloat64())
			p.Order = append(p.Order, order)
			order++
		}
	}
	out[0].Again, out[0].AgainOrder = at(order, 0)+r.NormFloat64(), order
	return out
}

func zero(int) float64 { return 0 }

func TestFallsByHand(t *testing.T) {
	// Two takes a place, 0 and −2, with nothing read once more: Σ(k − ½)² = ½ a
	// place, so the slope is −2 with u = 1/√1.
	p := []Place{{Y: []float64{5, 3}, Order: []int{0, 1}, Again: math.NaN()}, {Y: []float64{9, 7}, Order: []int{2, 3}, Again: math.NaN()}}
	f, cause := Falls(p, 1, 0, 0.05)
	if f.PerTake != -2 || f.U != 1 || math.Abs(f.P-0.02275) > 1e-4 || cause != Untold {
		t.Errorf("%+v, cause %d; want −2 a take, u 1, P(z < −2), not told why", f, cause)
	}
	p[1].Y = []float64{7, 7}
	if _, cause := Falls(p, 1, 0, 0.9); cause != NoFall {
		t.Errorf("a place that does not fall: cause %d", cause)
	}
}

// Noise is taken for a fall no more often than is said; with a fall of so many
// times the scatter a take, the cause is right in so many of a thousand.
func TestFallsSimulated(t *testing.T) {
	r := noise(2)
	const rare = 0.005
	for _, dof := range []float64{0, 8} {
		if got := rate(40000, func() bool {
			_, c := Falls(two(r, 3, func(int, int) float64 { return 0 }), 1, dof, rare)
			return c != NoFall
		}); got > rare {
			t.Errorf("dof %g: noise is taken for a fall in %.4f, want %g at most", dof, got, rare)
		}
	}
	for _, tt := range []struct {
		name  string
		fall  func(order, nth int) float64
		cause Cause
		least float64
	}{
		{"cooling by 1.5 a take", func(o, _ int) float64 { return -1.5 * float64(o) }, Cooling, 0.9},
		{"pressing by 2.5 a take", func(_, k int) float64 { return -2.5 * float64(k) }, Pressed, 0.75},
	} {
		seen := map[Cause]int{}
		for range 4000 {
			_, c := Falls(two(r, 3, tt.fall), 1, 8, rare)
			seen[c]++
		}
		if got := float64(seen[tt.cause]) / 4000; got < tt.least {
			t.Errorf("%s: rightly told in %.3f, want %g", tt.name, got, tt.least)
		}
		if other := Cooling + Pressed - tt.cause; seen[other] > 8 {
			t.Errorf("%s: taken for the other %d times of 4000", tt.name, seen[other])
		}
	}
}

func TestPuller(t *testing.T) {
	for _, tt := range []struct {
		name    string
		changes []float64
		u       float64
		which   int
		ok      bool
	}{
		{"the second of four makes 80 %", []float64{1, 16, 2, 1}, 0.5, 1, true},
		{"all alike", []float64{5, 5, 5, 5}, 0.5, 0, false},
		{"just over six tenths, within the doubt", []float64{2, 13, 2, 3}, 0.5, 1, false},
		{"nothing shifts", []float64{0.3, -0.2, 0.4, 0}, 0.5, 2, false},
		{"two that take each other back", []float64{10, -9, 0, 1}, 0.5, 0, false},
		{"two screws are not enough to tell", []float64{9, 1}, 0.1, 0, false},
	} {
		if which, _, ok := Puller(tt.changes, tt.u); ok != tt.ok || ok && which != tt.which {
			t.Errorf("%s: %d, %v; want %d, %v", tt.name, which, ok, tt.which, tt.ok)
		}
	}
	r := noise(4)
	got := rate(20000, func() bool { // four screws that shift alike, read with a scatter of 1
		y, was, c := 0.0, r.NormFloat64(), make([]float64, 4)
		for i := range c {
			y += 3
			is := y + r.NormFloat64()
			c[i], was = is-was, is
		}
		_, _, ok := Puller(c, 1)
		return ok
	})
	if got > 0.005 {
		t.Errorf("screws that pull alike are told apart in %.4f", got)
	}
}

func TestReversal(t *testing.T) {
	r := noise(5)
	got := rate(20000, func() bool {
		_, p := Reversal(takes(r, 5, 1, 0.01, zero), takes(r, 5, 1, 0.01, zero), 1, 8)
		return p < 0.01
	})
	if got > 0.0125 {
		t.Errorf("noise shows a reversal at the level 0.01 in %.4f", got)
	}
	if gap, p := Reversal([]float64{0, 1, 2, 3}, []float64{5, 6, 7, 8}, 0.5, 8); gap != 5 || p > 0.001 {
		t.Errorf("a gap of %g with P %.4f, want 5 and hardly any", gap, p)
	}
	if _, p := Reversal([]float64{0, 1, 2, 3}, []float64{9, 10, 11, 2}, 0.5, 8); p != 1 {
		t.Errorf("a place that differs the other way: P %.4f, want 1", p)
	}
}

// Source: the cosine of the angle; at 45° a lever shows 1.414 times too much.
func TestLever(t *testing.T) {
	for _, tt := range []struct {
		gain, u, degrees float64
		ok               bool
	}{
		{math.Sqrt2, 0.05, 45, true},
		{2, 0.05, 60, true},
		{1.1, 0.01, 24.62, false}, // within 30°
		{1.2, 0.05, 33.56, false}, // may be within 30°
		{3, 0.05, 70.53, false},   // something else
		{0.7, 0.01, 0, false},     //
		{1.41, 0.2, 44.83, false}, // too poorly known
		{1.41, 0.08, 44.83, true},
	} {
		theta, ok := Lever(tt.gain, tt.u)
		if d := theta * 180 / math.Pi; ok != tt.ok || math.Abs(d-tt.degrees) > 0.01 {
			t.Errorf("gain %g ± %g: %.2f°, %v; want %g°, %v", tt.gain, tt.u, d, ok, tt.degrees, tt.ok)
		}
	}
}

func TestSwapped(t *testing.T) {
	// A taper of 40 that is taken away. Read with the ends exchanged before: −40,
	// so it is doubled, to 80; rightly read after, 80 + … = 3 times what was asked.
	for _, tt := range []struct {
		name                    string
		before, after, expected float64
		want                    Which
	}{
		{"before", -40, 80, 40, Before},
		{"as it should", 40, 0, -40, Neither},
		{"the wrong way", 40, 80, -40, Neither},
		{"nothing moved", 40, 40, -40, Neither},
		{"twice as much", 40, -40, -40, Neither},
		{"after: part of a way was asked", 40, -20, -20, After}, // read rightly it went from 40 to 20
		{"too small to tell", -4, 8, 4, Neither},
	} {
		if got := Swapped(tt.before, tt.after, tt.expected, 1); got != tt.want {
			t.Errorf("%s: %d, want %d", tt.name, got, tt.want)
		}
	}
	r := noise(6)
	for _, gain := range []float64{0.5, 1, 1.3, 1.8} {
		if got := rate(20000, func() bool {
			before := 40 + r.NormFloat64()/math.Sqrt2
			return Swapped(before, 40-gain*before+r.NormFloat64()/math.Sqrt2, -before, 1) != Neither
		}); got > 1e-3 {
			t.Errorf("a machine of gain %g is taken for swapped in %.4f", gain, got)
		}
	}
}

func TestMirrored(t *testing.T) {
	lo, hi, u := []float64{0, 0}, []float64{15, 10}, []float64{2, 2}
	for _, tt := range []struct {
		values []float64
		want   bool
	}{
		{[]float64{-12, -9}, true}, {[]float64{-12, 5}, false}, {[]float64{-30, -9}, false}, {[]float64{-1, -9}, false}, {[]float64{-12}, false},
	} {
		if got := Mirrored(tt.values, lo, hi, u); got != tt.want {
			t.Errorf("%v: %v, want %v", tt.values, got, tt.want)
		}
	}
}

// Three takes at one place and four at another, as a first place that is read once
// more has: noise of one step makes all of them the same at both in one of 400 at most,
// and drawn no more often than is said, wherever the true values lie and also where the
// instrument scatters less than is stated, by the twentieth part of what eight degrees of
// freedom leave (0.72).
func TestSameSets(t *testing.T) {
	if got, want := SameSets([]int{3, 4}, 1, 1), Same(3, 1, 1)*Same(4, 1, 1); got != want || got > 1.0/400 {
		t.Errorf("3 and 4 takes: %.5f, want %.5f, at most 1 of 400", got, want)
	}
	if got := SameSets([]int{1, 1, 1}, 1, 1); got != 1 {
		t.Errorf("single takes: %g, want 1, they tell nothing", got)
	}
	const level = 0.0125 // it is asked about at 0.005 by what is stated
	r := noise(7)
	for _, sd := range []float64{1, 0.72} {
		got := rate(40000, func() bool {
			for _, n := range []int{3, 4} {
				at := r.Float64()
				y := takes(r, n, sd, 1, func(int) float64 { return at })
				for _, v := range y {
					if v != y[0] {
						return false
					}
				}
			}
			return true
		})
		if most := SameSets([]int{3, 4}, sd, 1); got > most*1.2 || got > level {
			t.Errorf("sd %g: drawn %.4f, said at most %.4f", sd, got, most)
		}
		t.Logf("sd %g: drawn %.4f, said at most %.4f", sd, got, SameSets([]int{3, 4}, sd, 1))
	}
}
