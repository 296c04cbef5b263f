package montecarlo

import (
	"math"
	"testing"
)

// A stream draws from the distributions that it names: mean and variance of
// the normal, of the rectangular (JCGM 101:2008, 6.4.7 and 6.4.2: 1/3), and of
// 1/stretch², which is χ²/ν: mean 1, variance 2/ν.
func TestStream(t *testing.T) {
	const n, nu = 200_000, 8
	for _, tt := range []struct {
		name       string
		draw       func(*Stream) float64
		mean, vari float64
	}{
		{"normal", (*Stream).Normal, 0, 1},
		{"rectangular", (*Stream).Centred, 0, 1.0 / 3},
		{"chi squared", func(s *Stream) float64 { k := s.Stretch(nu); return 1 / (k * k) }, 1, 2.0 / nu},
	} {
		s := NewStream(7, 3)
		var sum, squares float64
		for range n {
			x := tt.draw(s)
			sum += x
			squares += x * x
		}
		mean := sum / n
		vari := squares/n - mean*mean
		if tol := 4 * math.Sqrt(tt.vari/n); math.Abs(mean-tt.mean) > tol {
			t.Errorf("%s: mean %.4f, want %g ± %.4f", tt.name, mean, tt.mean, tol)
		}
		if math.Abs(vari-tt.vari) > 0.03*tt.vari {
			t.Errorf("%s: variance %.4f, want %.4f", tt.name, vari, tt.vari)
		}
	}
	if k := NewStream(1, 1).Stretch(math.Inf(1)); k != 1 {
		t.Errorf("a deviation that is known stretches by %g", k)
	}
}

// One seed gives the same numbers again, another seed or number others.
func TestStreamSeeds(t *testing.T) {
	first := func(seed, number uint64) float64 { return NewStream(seed, number).Normal() }
	if a, b := first(1, 2), first(1, 2); a != b {
		t.Errorf("the same stream gives %g and %g", a, b)
	}
	seen := map[float64]bool{}
	for seed := range uint64(100) {
		for number := range uint64(100) {
			seen[first(seed, number)] = true
		}
	}
	if len(seen) != 100*100 {
		t.Errorf("%d of 10000 streams differ", len(seen))
	}
}
