package quantity

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// A plain answer is read as the parser reads it, to the last bit, and what is
// not plain is left to it.
func TestPlainAnswersAreParsedAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom([]string{"mm", "um", "m", "s", "rad", "deg", "inch", "thou", "1"}).Draw(t, "unit")
		u := mustLookup(name)
		figure := rapid.StringMatching(`-?[0-9]{0,6}(\.[0-9]{0,8})?`).Draw(t, "figure")
		if rapid.Bool().Draw(t, "rounded") {
			figure = fmt.Sprintf("%.*f", rapid.IntRange(0, 6).Draw(t, "places"), rapid.Float64Range(-1e4, 1e4).Draw(t, "value"))
		}
		text := figure + rapid.SampledFrom([]string{" ", "", "  "}).Draw(t, "blank") + rapid.SampledFrom([]string{name, "mm", ""}).Draw(t, "typed")
		got, ok := plainly(text, Context{Unit: u})
		if !ok {
			return
		}
		want, err := parse(text, Context{Unit: u})
		if err != nil || len(want) != 1 {
			t.Fatalf("%q is read plainly as %+v, and by the parser as %v, %v", text, got, want, err)
		}
		if diff := cmp.Diff(want[0], got); diff != "" || math.Signbit(got.Value) != math.Signbit(want[0].Value) {
			t.Errorf("%q in %s (-parser +plainly):\n%s", text, name, diff)
		}
	})
	for _, text := range []string{"20.153 mm", "-30 mm", "0 mm", "-0.0 mm"} {
		if _, ok := plainly(text, Context{Unit: mustLookup("mm")}); !ok {
			t.Errorf("%q is not plain", text)
		}
	}
}
