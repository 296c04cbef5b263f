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

func TestFalls(t *testing.T) {
	f := Falls([][]float64{{3, 2, 1}, {13, 12, 11}}, 1, 0)
	// By hand: Σ(k − 1)² = 2 a place, so the slope is −1 with u = 1/√4.
	if f.PerTake != -1 || math.Abs(f.U-0.5) > 1e-12 || !f.All || math.Abs(f.P-0.02275) > 1e-4 {
		t.Errorf("%+v, want −1 a take, u 0.5, P(z < −2)", f)
	}
	r := noise(2)
	for _, dof := range []float64{0, 8} {
		got := rate(20000, func() bool {
			y := [][]float64{takes(r, 3, 1, 0.01, zero), takes(r, 3, 1, 0.01, zero)}
			return Falls(y, 1, dof).P < 0.01
		})
		if got > 0.0125 {
			t.Errorf("dof %g: noise falls at the level 0.01 in %.4f", dof, got)
		}
	}
	seen := rate(2000, func() bool {
		y := [][]float64{takes(r, 3, 1, 0.01, slope(-4)), takes(r, 3, 1, 0.01, slope(-4))}
		return Falls(y, 1, 0).P < 0.001
	})
	if seen < 0.95 {
		t.Errorf("a fall of four times the scatter a take is seen in %.3f", seen)
	}
}

func zero(int) float64 { return 0 }

func slope(b float64) func(int) float64 { return func(k int) float64 { return b * float64(k) } }

func TestCauseOf(t *testing.T) {
	r := noise(3)
	const b = -4 // of what a take scatters
	right := map[Cause]int{}
	wrong := 0
	for range 2000 {
		cooled := takes(r, 7, 1, 0.01, slope(b))
		f := Falls([][]float64{cooled[:3], cooled[3:6]}, 1, 0)
		switch c := CauseOf(cooled[:3], 3, cooled[6], 1, f); c {
		case Pressed:
			wrong++
		default:
			right[c]++
		}
		pressed := append(takes(r, 3, 1, 0.01, slope(b)), takes(r, 3, 1, 0.01, slope(b))...)
		f = Falls([][]float64{pressed[:3], pressed[3:]}, 1, 0)
		again := takes(r, 1, 1, 0.01, zero)[0]
		switch c := CauseOf(pressed[:3], 3, again, 1, f); c {
		case Cooling:
			wrong++
		default:
			right[c]++
		}
	}
	if wrong > 4 {
		t.Errorf("one is taken for the other %d times of 4000", wrong)
	}
	if right[Cooling] < 1900 || right[Pressed] < 1700 {
		t.Errorf("told: %v of 2000 each", right)
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
