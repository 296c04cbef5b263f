package quantity

import "testing"

// A dimension of a power that no unit is written with still has a unit.
func TestDefaultOfAnyDimension(t *testing.T) {
	for _, tt := range []struct {
		d            Dim
		symbol, ucum string
	}{
		{Dim{Length: 5, Mass: 5, Time: -10}, "mm⁵·kg⁵/s¹⁰", "mm5.kg5/s10"},
		{Dim{Temp: -12}, "1/K¹²", "1/K12"},
	} {
		u := tt.d.Default()
		if u.Symbol != tt.symbol || u.UCUM != tt.ucum || u.Dim != tt.d || u.Factor != 1 {
			t.Errorf("%s: %+v, want %s", tt.d.Name(), u, tt.symbol)
		}
	}
	for i := range bases { // what is said of the base units holds
		u, err := Lookup(bases[i].unit)
		if err != nil || u.Factor != 1 {
			t.Errorf("%s: %+v, %v", bases[i].unit, u, err)
		}
	}
}
