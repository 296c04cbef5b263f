package montecarlo

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// numbers draws values with many ties, zeros of both signs and far ones.
func numbers(rt *rapid.T, least, most int) []float64 {
	one := rapid.OneOf(rapid.Float64Range(-10, 10), rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1, 1e300, -1e-300}))
	return rapid.SliceOfN(one, least, most).Draw(rt, "values")
}

func sampleOf(y []float64) Sample {
	var m moments
	for start := 0; start < len(y); start += Block {
		m = m.with(momentsOf(y[start:min(len(y), start+Block)]))
	}
	return newSample(y, m)
}

// The intervals are those of the definitions, JCGM 101:2008, 7.7, on sorted
// trials.
func TestPropertyIntervals(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		y := numbers(rt, 2, 300)
		p := rapid.Float64Range(0.01, 0.999).Draw(rt, "level")
		s := sampleOf(y)
		g := slices.Sorted(slices.Values(y))
		m := len(y)
		q := int(p*float64(m) + 0.5)
		r := (m - q) / 2
		if (m-q)%2 == 1 {
			r = (m - q + 1) / 2
		}
		if q == 0 || q == m { // nothing, or everything
			return
		}
		if got, want := s.Symmetric(p), (Interval{g[r-1], g[r+q-1]}); got != want {
			rt.Errorf("symmetric %v, want %v", got, want)
		}
		want := Interval{math.Inf(-1), math.Inf(1)}
		for r := 1; r <= m-q; r++ {
			if iv := (Interval{g[r-1], g[r+q-1]}); iv.Length() < want.Length() {
				want = iv
			}
		}
		if got := s.Shortest(p); got != want {
			rt.Errorf("shortest %v, want %v", got, want)
		}
	})
}

// Ranks of many numbers, found by a sample, are those of sorting them all.
func TestPropertyRanks(t *testing.T) {
	kinds := map[string]func(g *generator, i int) float64{
		"normal":     func(g *generator, _ int) float64 { return g.normal() },
		"ties":       func(g *generator, _ int) float64 { return math.Round(g.normal()) },
		"all alike":  func(*generator, int) float64 { return 7 },
		"sorted":     func(_ *generator, i int) float64 { return float64(i) },
		"backwards":  func(_ *generator, i int) float64 { return -float64(i) },
		"far tails":  func(g *generator, _ int) float64 { return g.normal() * g.stretch(0.3) },
		"in periods": func(g *generator, i int) float64 { return float64(i%8) + g.unit()/100 },
	}
	rapid.Check(t, func(rt *rapid.T) {
		kind := rapid.SampledFrom(slices.Sorted(func(yield func(string) bool) {
			for k := range kinds {
				if !yield(k) {
					return
				}
			}
		})).Draw(rt, "kind")
		n := few + rapid.IntRange(0, few).Draw(rt, "n")
		g := stream(rapid.Uint64().Draw(rt, "seed"), 0, 0)
		y := make([]float64, n)
		for i := range y {
			y[i] = kinds[kind](&g, i)
		}
		at := []int{}
		for range 4 {
			at = append(at, rapid.IntRange(0, n-1).Draw(rt, "rank"))
		}
		slices.Sort(at)
		a, b := ranks(y, span{at[0], at[1]}, span{at[2], at[3]})
		all := slices.Sorted(slices.Values(y))
		if !slices.Equal(a, all[at[0]:at[1]+1]) || !slices.Equal(b, all[at[2]:at[3]+1]) {
			rt.Fatalf("%s, %d numbers, ranks %v: wrong numbers", kind, n, at)
		}
	})
}

func TestPropertySortNumbers(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		y := numbers(rt, 1, 50)
		for len(y) < 3000 {
			y = append(y, y...)
		}
		for i := range y {
			y[i] *= float64(i%9) - 4
		}
		want := slices.Sorted(slices.Values(y))
		if sortNumbers(y); !slices.Equal(y, want) {
			rt.Fatal("not in order")
		}
	})
}

// Mean and standard deviation are those of two careful passes, and trials
// without a result count in neither.
func TestPropertyMoments(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		about := rapid.SampledFrom([]float64{0, 1, -1e6, 1e9}).Draw(rt, "about")
		y := rapid.SliceOfN(rapid.Float64Range(-10, 10), 2, 2500).Draw(rt, "values")
		var defined []float64
		for i := range y {
			y[i] += about
			if rapid.IntRange(0, 30).Draw(rt, "gone") == 0 {
				y[i] = rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1)}).Draw(rt, "as")
				continue
			}
			defined = append(defined, y[i])
		}
		s := sampleOf(y)
		if s.Trials != len(y) || s.Undefined != len(y)-len(defined) || !slices.Equal(s.Values(), defined) {
			rt.Fatalf("%d trials, %d undefined, %d values", s.Trials, s.Undefined, len(s.Values()))
		}
		if len(defined) < 2 {
			if !math.IsNaN(s.Std) || len(defined) == 0 && !math.IsNaN(s.Mean) {
				rt.Fatalf("mean %g, u %g of %v", s.Mean, s.Std, defined)
			}
			return
		}
		mean, sd := stat.MeanStdDev(defined, nil)
		slack := 1e-14 * (math.Abs(about) + 10)
		if math.Abs(s.Mean-mean) > 10*slack || math.Abs(s.Std-sd) > 1e-9*sd+10*slack {
			rt.Fatalf("mean %v, u %v; want %v, %v", s.Mean, s.Std, mean, sd)
		}
		lo, hi := mean-sd, mean+sd
		in := 0
		for _, v := range y {
			if v >= lo && v <= hi {
				in++
			}
		}
		if got, want := s.Share(lo, hi), float64(in)/float64(len(y)); got != want {
			rt.Fatalf("share %v, want %v", got, want)
		}
	})
}

// Without a single result there is no number, and nothing breaks.
func TestNoResults(t *testing.T) {
	p := sum(Normal(0, 1))
	p.Start = func() Func {
		return func(_, out [][]float64) {
			for i := range out[0] {
				out[0][i] = math.NaN()
			}
		}
	}
	s, err := Run(p, Options{Trials: 5000})
	if err != nil {
		t.Fatal(err)
	}
	if r := s[0]; r.Undefined != 5000 || !math.IsNaN(r.Mean) || !math.IsNaN(r.Std) || r.Share(-1, 1) != 0 ||
		!math.IsNaN(r.Symmetric(0.95).Low) || !math.IsNaN(r.Shortest(0.95).High) {
		t.Errorf("%+v", r)
	}
	a, err := Adapt(p, Options{}, Until{Most: 50_000})
	if err != nil || a.Stable || a.Samples[0].Trials != 50_000 {
		t.Errorf("adaptive: %d trials, stable %v, %v; want 50000, false", a.Samples[0].Trials, a.Stable, err)
	}
}

// So many numbers that several goroutines look for the ranks.
func TestRanksOfMany(t *testing.T) {
	g := stream(1, 2, 3)
	y := make([]float64, many+77)
	g.fillNormal(y)
	all := slices.Sorted(slices.Values(y))
	for _, at := range [][4]int{{0, 9000, len(y) - 9001, len(y) - 1}, {5000, 5000, 195_000, 195_000}, {0, 0, 1, 1}} {
		a, b := ranks(y, span{at[0], at[1]}, span{at[2], at[3]})
		if !slices.Equal(a, all[at[0]:at[1]+1]) || !slices.Equal(b, all[at[2]:at[3]+1]) {
			t.Errorf("ranks %v: wrong numbers", at)
		}
	}
}
