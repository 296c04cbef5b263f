package quantity

import "testing"

func TestShort(t *testing.T) {
	um, mm := mustLookup("um"), mustLookup("mm")
	for _, tt := range []struct {
		x    float64
		u    Unit
		want string
	}{
		{0.009166666666666668, um, "9.16667 µm"},
		{-0.009166666666666668, um, "-9.16667 µm"},
		{1.0 / 3, mm, "0.333333 mm"},
		{1000.0 / 3, mm, "333.333 mm"},
		{0.0311, mm, "0.0311 mm"},
		{123456.7891, mm, "123457 mm"},
		{123456.789, mm, "123456.789 mm"},
		{0, mm, "0 mm"},
		{25.4 / 3, mm, "8.46667 mm"},
	} {
		if got := Short(tt.x, tt.u); got != tt.want {
			t.Errorf("Short(%v, %s) = %q, want %q", tt.x, tt.u.Name, got, tt.want)
		}
	}
}
