package checks

import "testing"

func TestFreedomSaid(t *testing.T) {
	for in, want := range map[string]string{
		"1": "1 degree of freedom", "2": "2 degrees of freedom", "1.5": "1.5 degrees of freedom", "11": "11 degrees of freedom",
	} {
		if got := FreedomSaid(in); got != want {
			t.Errorf("FreedomSaid(%q) = %q, want %q", in, got, want)
		}
	}
}
