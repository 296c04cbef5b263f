package rehearse

import (
	"testing"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/formula"
)

// A slope is told in its unit, a factor without one.
func TestSlopeIsToldInItsUnit(t *testing.T) {
	ratio := value.Type{Dim: quantity.Ratio}
	for _, tt := range []struct {
		x    float64
		want string
	}{{6e-6, "6 µm/m"}, {-4.5e-5, "-45 µm/m"}, {0.8, "0.8"}, {0, "0"}, {1.2, "1.2"}} {
		v := value.Num(tt.x)
		if got := formula.Show(v, ratio, slope(v, ratio)); got != tt.want {
			t.Errorf("%g is told as %q, want %q", tt.x, got, tt.want)
		}
	}
}
