package montecarlo

import (
	"math"
	"testing"
)

// Outputs published with the generators: of xoshiro256++ from the state 1, 2,
// 3, 4 and of SplitMix64 from 1477776061723855037, both as the tests of the
// Rust crate rand_xoshiro have them, made with the authors' C programs. From
// memory.
func TestPublishedGenerators(t *testing.T) {
	g := generator{1, 2, 3, 4}
	for i, want := range []uint64{41943041, 58720359, 3588806011781223, 3591011842654386, 9228616714210784205,
		9973669472204895162, 14011001112246962877, 12406186145184390807, 15849039046786891736, 10450023813501588000} {
		if got := g.next(); got != want {
			t.Errorf("xoshiro256++, output %d = %d, want %d", i, got, want)
		}
	}
	z := uint64(1477776061723855037)
	for i, want := range []uint64{1985237415132408290, 2979275885539914483, 13511426838097143398, 8488337342461049707, 15141737807933549159} {
		z += golden
		if got := mix(z); got != want {
			t.Errorf("SplitMix64, output %d = %d, want %d", i, got, want)
		}
	}
}

// The fast ways of filling give the numbers of the generator one by one.
func TestFillTwins(t *testing.T) {
	a, b := stream(1, 2, 3), stream(1, 2, 3)
	fast := make([]float64, 5000)
	a.fillNormal(fast)
	for i, x := range fast {
		if y := b.normal(); x != y {
			t.Fatalf("normal number %d: %v, one by one %v", i, x, y)
		}
	}
	a.fillCentred(fast)
	for i, x := range fast {
		if y := b.centred(); x != y {
			t.Fatalf("rectangular number %d: %v, one by one %v", i, x, y)
		}
	}
	if a != b {
		t.Error("the generators have gone apart")
	}
}

// The layers of the ziggurat have one area, and meet at the top of the curve.
func TestZiggurat(t *testing.T) {
	const scale = 1 << 52
	area := ziggurat[0].width * scale * curve(tailAt)
	for i := 1; i < layers; i++ {
		x := ziggurat[i].width * scale
		if got := x * (heights[i+1] - heights[i]); math.Abs(got-area) > 1e-12 {
			t.Errorf("layer %d has the area %g, the lowest %g", i, got, area)
		}
	}
	if whole, want := area*layers, math.Sqrt(math.Pi/2); whole < want || whole > 1.05*want {
		t.Errorf("all layers cover %g, the curve %g", whole, want)
	}
}

// Streams of neighbouring blocks, sources and seeds have nothing to do with
// each other: their numbers are not correlated.
func TestStreams(t *testing.T) {
	const n = 200_000
	draw := func(seed, block, source uint64) []float64 {
		g := stream(seed, block, source)
		x := make([]float64, n)
		g.fillNormal(x)
		return x
	}
	x := draw(0, 0, 0)
	for _, c := range [][3]uint64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {0, 1, 1}, {golden, 0, 0}, {0, 0, ^uint64(0)}} {
		var r float64
		for i, y := range draw(c[0], c[1], c[2]) {
			r += x[i] * y
		}
		if z := r / math.Sqrt(n); math.Abs(z) > 4 {
			t.Errorf("seed, block, source %v: correlated with 0, 0, 0 by %.1f standard deviations", c, z)
		}
	}
}
