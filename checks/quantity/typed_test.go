package quantity

import (
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// What was typed reads back with the digits that were typed, in every unit:
// the base value is that of the decimal, and the shortest decimal that gives it
// back is the one typed. Twelve figures are more than any instrument shows.
func TestTypedReadsBackAsTyped(t *testing.T) {
	names := []string{"mm", "um", "inch", "thou", "deg", "arcmin", "arcsec", "celsius", "fahrenheit", "um/m", "minute", "1"}
	rapid.Check(t, func(rt *rapid.T) {
		u, err := Lookup(rapid.SampledFrom(names).Draw(rt, "unit"))
		if err != nil {
			rt.Fatal(err)
		}
		n, d := rapid.IntRange(-9_999_999, 9_999_999).Draw(rt, "n"), rapid.IntRange(0, 4).Draw(rt, "decimals")
		typed := strconv.FormatFloat(float64(n)/float64([]int{1, 10, 100, 1000, 10000}[d]), 'f', -1, 64)
		x, err := strconv.ParseFloat(typed, 64)
		if err != nil {
			rt.Fatal(err)
		}
		if got := (Style{NoUnit: true}).Plain(u.Base(x), u); got != strings.TrimPrefix(typed, "+") && !(x == 0 && got == "0") {
			rt.Fatalf("%s %s reads back as %s", typed, u.Name, got)
		}
	})
}

// A count prints whole, and a fraction of counts with no more than it has.
func TestCountsPrintWhole(t *testing.T) {
	one := Ratio.Default()
	for _, tt := range []struct {
		y, U float64
		u    Unit
		want string
	}{
		{1, 0, one, "1"}, {0, 0, one, "0"}, {12, 0, one, "12"}, {2.5, 0, one, "2.5"}, {1.0 / 3, 0, one, "0.333"},
		{0.0004, 0, one, "0.0004"}, {1, 0.02, one, "1.000"}, {0.003, 0, mustLookup("mm"), "0.003"},
	} {
		if got := Number(tt.y, tt.u, ValueDecimals(tt.y, tt.U, tt.u)); got != tt.want {
			t.Errorf("%g ± %g %s prints %s, want %s", tt.y, tt.U, tt.u.Name, got, tt.want)
		}
	}
}
