package form

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// wavy is a profile of n stations in rising order with a wave and noise on it.
func wavy(n int) (at, v []float64) {
	rng := rand.New(rand.NewPCG(1, 2))
	at, v = make([]float64, n), make([]float64, n)
	for i := range at {
		at[i] = float64(i) / 10
		v[i] = 250 + 0.002*math.Sin(float64(i)/float64(n)*9) + 0.001*rng.NormFloat64()
	}
	return at, v
}

func BenchmarkLine1e6(b *testing.B) {
	at, v := wavy(1_000_000)
	for b.Loop() {
		if _, err := FitLine(at, v); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSort1e6 is what straightness is measured by: sorting as many
// stations with their values.
func BenchmarkSort1e6(b *testing.B) {
	at, v := wavy(1_000_000)
	rng := rand.New(rand.NewPCG(1, 3))
	type point struct{ at, v float64 }
	shuffled := make([]point, len(at))
	for i := range at {
		shuffled[i] = point{at[i], v[i]}
	}
	rng.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
	points := make([]point, len(shuffled))
	for b.Loop() {
		copy(points, shuffled)
		slices.SortFunc(points, func(p, q point) int {
			switch {
			case p.at < q.at:
				return -1
			case p.at > q.at:
				return 1
			}
			return 0
		})
	}
}

func BenchmarkStraightness1e6(b *testing.B) {
	at, v := wavy(1_000_000)
	for b.Loop() {
		if _, err := Straightness(at, v, MinimumZone); err != nil {
			b.Fatal(err)
		}
	}
}

func benchFlatness(b *testing.B, n int) {
	x, z := wavy(n)
	_, y := wavy(n)
	side := int(math.Sqrt(float64(n)))
	for i := range x {
		x[i], y[i] = float64(i%side), float64(i/side)
	}
	for b.Loop() {
		if _, err := Flatness(x, y, z, MinimumZone); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFlatness1e4(b *testing.B) { benchFlatness(b, 10_000) }
func BenchmarkFlatness1e5(b *testing.B) { benchFlatness(b, 100_000) }
func BenchmarkFlatness1e6(b *testing.B) { benchFlatness(b, 1_000_000) }

func benchRoundness(b *testing.B, m Method) {
	angles, r := wavy(3600)
	for i := range angles {
		angles[i] = 2 * math.Pi * float64(i) / 3600
	}
	for b.Loop() {
		if _, err := Roundness(angles, r, m); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRoundness3600(b *testing.B)     { benchRoundness(b, MinimumZone) }
func BenchmarkCircumscribed3600(b *testing.B) { benchRoundness(b, Circumscribed) }
