package direction

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The phrases are those that procedures of the trade use for results and
// amounts; the opposites are common practice.
var phrases = []struct{ words, want string }{
	{"towards the operator", "away from the operator"},
	{"away from the operator", "towards the operator"},
	{"towards you", "away from you"},
	{"free end towards the operator", "free end away from the operator"},
	{"nose end away from the operator", "nose end towards the operator"},
	{"away", "towards"},
	{"larger at the tailstock end", "larger at the headstock end"},
	{"larger at the free end", "smaller at the free end"},
	{"larger at the tailstock end than at the headstock end", "larger at the headstock end than at the tailstock end"},
	{"towards the headstock", "towards the tailstock"},
	{"towards the rear", "towards the front"},
	{"free end high", "free end low"},
	{"bar up", "bar down"},
	{"fatter at the far station", "thinner at the far station"},
	{"far station hangs lower", "far station hangs higher"},
	{"end fatter than the middle", "end thinner than the middle"},
	{"fat", "thin"},
	{"rising", "falling"},
	{"rises towards the tailstock", "falls towards the tailstock"},
	{"front way low at the far end", "front way high at the far end"},
	{"crowned", "hollow"},
	{"concave", "convex"},
	{"raise the front foot", "lower the front foot"},
	{"lower the front foot", "raise the front foot"},
	{"needle goes in", "needle goes out"},
	{"nearer to you", "further from you"},
	{"further from the wall", "nearer to the wall"},
	{"Towards the operator", "Away from the operator"},
	{"rising, then level", "falling, then level"},
	{"leans to the left", "leans to the right"},
	{"clockwise, seen from the tailstock", "anticlockwise, seen from the tailstock"},
}

func TestOpposite(t *testing.T) {
	for _, tt := range phrases {
		got, ok := Opposite(tt.words)
		if !ok || got != tt.want {
			t.Errorf("Opposite(%q) = %q, %v; want %q", tt.words, got, ok, tt.want)
		}
	}
}

// Turning twice gives the words back, wherever one word of a pair has one
// partner.
func TestOppositeTwice(t *testing.T) {
	for _, tt := range phrases {
		once, _ := Opposite(tt.words)
		got, ok := Opposite(once)
		if !ok || got != tt.words {
			t.Errorf("Opposite(%q) = %q, %v; want %q", once, got, ok, tt.words)
		}
	}
}

func TestOppositeRefuses(t *testing.T) {
	for _, words := range []string{"", "never below nothing", "always above", "in the level plane", "shim under the nose-end pads", "scrape off the pads", "…", "<script>"} {
		if got, ok := Opposite(words); ok {
			t.Errorf("Opposite(%q) = %q; want none", words, got)
		}
	}
}

// Any text may stand in a procedure: what is turned differs from it, and only
// in words.
func TestOppositeOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.OneOf(rapid.String(), rapid.Map(rapid.SliceOf(rapid.SampledFrom(strings.Fields(
			"towards away from the operator, high low (in) out Larger at tailstock end nearer to lower"))),
			func(ws []string) string { return strings.Join(ws, " ") })).Draw(t, "words")
		got, ok := Opposite(words)
		if ok && (got == words || got == "") {
			t.Fatalf("Opposite(%q) = %q", words, got)
		}
		if !ok && got != "" {
			t.Fatalf("Opposite(%q) = %q, false", words, got)
		}
	})
}
