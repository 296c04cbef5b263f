package register_test

import (
	"testing"

	"pgregory.net/rapid"

	"waywright/procedures/register"
)

func TestSameKind(t *testing.T) {
	for _, tt := range []struct {
		real, asked string
		want        bool
	}{
		{"outside micrometer", "micrometer", true},
		{"micrometer", "outside micrometer", true},
		{"Digital outside micrometer", "outside micrometer", true},
		{"digital micrometer", "outside micrometer", true},
		{"outside micrometer 25-50 mm", "outside micrometer", true},
		{"external micrometre", "outside micrometer", true},
		{"inside micrometer", "outside micrometer", false},
		{"depth micrometer", "outside micrometer", false},
		{"dial indicator", "micrometer", false},
		{"dial indicator", "outside micrometer", false},
		{"dial indicator", "dial indicator on the front of the tailstock barrel", true},
		{"dial gauge", "dial indicator", true},
		{"clock", "dial indicator", true},
		{"plunger indicator", "dial indicator", true},
		{"lever indicator", "lever indicator, 0.002 mm", true},
		{"dial test indicator", "lever indicator", true},
		{"DTI", "lever indicator, 0.002 mm", true},
		{"lever-type indicator", "dial indicator", false},
		{"indicator", "lever indicator", true},
		{"dial indicator", "lever indicator", false},
		{"frame level", "precision level, 0.02 mm/m", true},
		{"precision level", "level", true},
		{"level", "micrometer", false},
		{"comparator", "bench comparator with a 0.5 µm indicator", true},
		{"vernier caliper", "outside micrometer", false},
		{"0.01 mm", "0.01 mm", true},
	} {
		if got := register.SameKind(tt.real, tt.asked); got != tt.want {
			t.Errorf("SameKind(%q, %q) = %t, want %t", tt.real, tt.asked, got, tt.want)
		}
	}
}

// An instrument is of its own kind, and the order of the two does not matter.
func TestSameKindIsEven(t *testing.T) {
	words := rapid.SliceOfN(rapid.SampledFrom([]string{"dial", "lever", "test", "indicator", "gauge", "outside", "micrometer", "with", "0.01", "clock", "dti", "µm", ",", "Level", "a"}), 0, 5)
	kind := rapid.Custom(func(t *rapid.T) string {
		s := ""
		for _, w := range words.Draw(t, "words") {
			s += w + " "
		}
		return s
	})
	rapid.Check(t, func(t *rapid.T) {
		a, b := kind.Draw(t, "a"), kind.Draw(t, "b")
		if !register.SameKind(a, a) {
			t.Errorf("%q is not of its own kind", a)
		}
		if register.SameKind(a, b) != register.SameKind(b, a) {
			t.Errorf("SameKind(%q, %q) depends on the order", a, b)
		}
	})
}

func TestAbsolute(t *testing.T) {
	for kind, want := range map[string]bool{
		"outside micrometer": true, "lever micrometer": true, "dial caliper": true, "thermometer": true,
		"dial indicator": false, "DTI": false, "bench comparator with a 0.5 µm indicator": false, "precision level": false, "": true,
	} {
		if got := register.Absolute(kind); got != want {
			t.Errorf("Absolute(%q) = %t, want %t", kind, got, want)
		}
	}
}
