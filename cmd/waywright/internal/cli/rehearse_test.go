package cli

import (
	"testing"

	"waywright/checks"
)

func TestInPercent(t *testing.T) {
	for x, want := range map[float64]string{
		0: "0", 0.0002: "0.02", 0.0323: "3.23", 0.5: "50", 0.95: "95", 0.98: "98", 0.9923: "99.23", 3615.0 / 3616: "99.972", 1: "100",
	} {
		if got := inPercent(x); got != want {
			t.Errorf("inPercent(%v) = %s, want %s", x, got, want)
		}
	}
}

// A share says how many of how many, and none of n is below 3/n (measure rule
// 18). The interval of 1 of 10 is from the tables of Clopper and Pearson, from
// memory: 0.0025 to 0.445.
func TestMeasureRule18ShareInWords(t *testing.T) {
	for _, tt := range []struct {
		k, n int
		want string
	}{
		{0, 500, "0 of 500: below 0.6 %"}, {0, 0, "0 of 0"}, {1, 10, "1 of 10: 10 %, from 0.253 to 44.5"}, {10, 10, "10 of 10: 100 %, from 69.2 to 100"},
	} {
		if got := shareOf(checks.Proportion{K: tt.k, N: tt.n}).String(); got != tt.want {
			t.Errorf("%d of %d: %q, want %q", tt.k, tt.n, got, tt.want)
		}
	}
}
