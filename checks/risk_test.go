package checks

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestMeasureRule17RunRisk(t *testing.T) {
	for _, tt := range []struct {
		ps   []float64
		want float64
	}{
		{nil, 0}, {[]float64{1, 1}, 0}, {[]float64{0.95, 0.98, 0.999}, 0.071}, {[]float64{0.4, 0.3}, 1},
		{[]float64{0.99, math.NaN()}, 1}, {[]float64{1.0000001}, 0},
	} {
		if got := RunRisk(tt.ps...); math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("RunRisk(%v) = %g, want %g", tt.ps, got, tt.want)
		}
	}
}

// Intervals of scipy 1.10.1, stats.binomtest(k, n).proportion_ci(method='exact').
func TestMeasureRule18Binomial(t *testing.T) {
	for _, tt := range []struct {
		k, n   int
		lo, hi float64
	}{
		{0, 10, 0, 0.308497107819},
		{1, 10, 0.00252857854446, 0.445016117028},
		{3, 10, 0.0667395111777, 0.65245285006},
		{10, 10, 0.691502892181, 1},
		{0, 100, 0, 0.0362166926452},
		{5, 100, 0.0164318791817, 0.112834911105},
		{30, 1000, 0.0203304856831, 0.04255140247},
		{0, 5000, 0, 0.000737503801115},
		{7, 5000, 0.00056305202429, 0.0028823943528},
		{2500, 5000, 0.486044374001, 0.513955625999},
		{1, 1, 0.025, 1},
		{0, 0, 0, 1}, {3, 2, 0, 1}, {-1, 2, 0, 1}, // nothing is known: by definition here
	} {
		lo, hi := Binomial(tt.k, tt.n)
		if math.Abs(lo-tt.lo) > 1e-10 || math.Abs(hi-tt.hi) > 1e-10 {
			t.Errorf("Binomial(%d, %d) = %.12g, %.12g, want %.12g, %.12g", tt.k, tt.n, lo, hi, tt.lo, tt.hi)
		}
	}
}

// The interval by its definition: at its ends the tails have 25 in 1000.
func TestMeasureRule18BinomialTails(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 300).Draw(t, "n")
		k := rapid.IntRange(0, n).Draw(t, "k")
		lo, hi := Binomial(k, n)
		if atLeast := 1 - upTo(k-1, n, lo); k > 0 && math.Abs(atLeast-0.025) > 1e-8 {
			t.Fatalf("Binomial(%d, %d): %d or more at %g in %g", k, n, k, lo, atLeast)
		}
		if atMost := upTo(k, n, hi); k < n && math.Abs(atMost-0.025) > 1e-8 {
			t.Fatalf("Binomial(%d, %d): %d or fewer at %g in %g", k, n, k, hi, atMost)
		}
		if share := float64(k) / float64(n); lo > share || hi < share {
			t.Fatalf("Binomial(%d, %d) = %g..%g is beside %g", k, n, lo, hi, share)
		}
	})
}

// upTo returns the probability of at most k of n at p, by the terms.
func upTo(k, n int, p float64) float64 {
	var sum float64
	for i := 0; i <= k; i++ {
		a, _ := math.Lgamma(float64(n + 1))
		b, _ := math.Lgamma(float64(i + 1))
		c, _ := math.Lgamma(float64(n - i + 1))
		sum += math.Exp(a - b - c + float64(i)*math.Log(p) + float64(n-i)*math.Log1p(-p))
	}
	return sum
}

func TestMeasureRule18NoneInN(t *testing.T) {
	for _, n := range []int{1, 2, 3, 10, 400, 5000} {
		got, ok := Proportion{0, n}.Below()
		exact := -math.Expm1(math.Log(0.05) / float64(n)) // 1 − 0.05^(1/n)
		if !ok || got < exact || n >= 10 && got > exact*(1+2/float64(n)+0.002) || got > 1 {
			t.Errorf("none in %d is below %g, %v; the exact bound is %g", n, got, ok, exact)
		}
	}
	for _, p := range []Proportion{{1, 10}, {0, 0}} {
		if got, ok := p.Below(); ok {
			t.Errorf("%v: below %g, want nothing said", p, got)
		}
	}
}

func TestMeasureRule18Tally(t *testing.T) {
	var tally Tally
	for i := range 100 {
		tally.Add(i%4 != 0, i%10 != 0)
	}
	want := Tally{AcceptedGood: 70, AcceptedBad: 5, RejectedGood: 20, RejectedBad: 5}
	if tally != want || tally.N() != 100 {
		t.Errorf("tally %+v of %d, want %+v", tally, tally.N(), want)
	}
	for what, got := range map[string][2]Proportion{
		"consumer": {tally.Consumer(), {5, 100}}, "producer": {tally.Producer(), {20, 100}}, "bad among accepted": {tally.BadAmongAccepted(), {5, 75}},
	} {
		if got[0] != got[1] {
			t.Errorf("%s: %v, want %v", what, got[0], got[1])
		}
	}
	if got := tally.Producer().Share(); got != 0.2 {
		t.Errorf("producer's risk %g, want 0.2", got)
	}
}
