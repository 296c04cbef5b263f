package quantity

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Moving the point gives the float that exact arithmetic gives, to the last bit.
func TestShiftedIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64().Draw(t, "v")
		u := rapid.SampledFrom([]string{"um", "m", "um/m", "cm"}).Draw(t, "unit")
		unit, err := Lookup(u)
		if err != nil {
			t.Fatal(err)
		}
		if math.IsInf(v, 0) || math.IsNaN(v) {
			return
		}
		base, _ := unit.exact().base(decimal(v)).Float64()
		of, _ := unit.exact().of(decimal(v)).Float64()
		if got := unit.Base(v); math.Float64bits(got) != math.Float64bits(base) {
			t.Errorf("%v %s: base %v, want %v", v, u, got, base)
		}
		if got := unit.Of(v); math.Float64bits(got) != math.Float64bits(of) {
			t.Errorf("%v: of %s %v, want %v", v, u, got, of)
		}
	})
}
