package quantity

import "testing"

// A step is told in the zero Unit as if it were none: there is an end to it.
func TestDecimalsOfTheZeroUnit(t *testing.T) {
	if got := Decimals(Unit{}, 1e-6); got != 3 {
		t.Errorf("Decimals of the zero Unit: %d, want 3", got)
	}
}
