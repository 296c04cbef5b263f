package limits

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Vectors that are derived here, in µm. That test charts scale a tolerance,
// round it to a step and set a floor was read in the first pages of
// IS 6040:1993, which follows ISO 1708:1989.
func TestScaled(t *testing.T) {
	for _, tt := range []struct {
		name                                      string
		tolerance, per, length, floor, step, want float64
	}{
		{"15 in 300, over 250", 15, 300, 250, 5, 2, 12},
		{"15 in 300, over 150", 15, 300, 150, 5, 2, 8},
		{"the length it is stated for", 15, 300, 300, 5, 1, 15},
		{"never below the floor", 20, 300, 30, 5, 2, 5},
		{"nor below it by rounding", 20, 300, 75, 5, 2, 5},
		{"half, down to the even step", 25, 300, 300, 0, 10, 20},
		{"half, up to the even step", 35, 300, 300, 0, 10, 40},
		{"no step", 10, 300, 100, 0, 0, 10.0 / 3},
		{"nothing long", 10, 300, 0, 0, 2, 0},
	} {
		if got := Scaled(tt.tolerance, tt.per, tt.length, tt.floor, tt.step); math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

// TestScaledHalves asks that a half is seen as one in millimetres, where
// neither the tolerance nor the step is a binary fraction.
func TestScaledHalves(t *testing.T) {
	for k := range 2000 {
		step := 0.002
		tolerance := (float64(k) + 0.5) * step
		want := float64(k+k%2) * step // the even one of k and k+1
		if got := Scaled(tolerance*300/250, 300, 250, 0, step); math.Abs(got-want) > 1e-12 {
			t.Fatalf("%v rounded to %v is %v, want %v", tolerance, step, got, want)
		}
	}
}

func TestScaledProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tol := rapid.Float64Range(0.001, 0.1).Draw(t, "tolerance")
		length := rapid.Float64Range(0, 2000).Draw(t, "length")
		floor := rapid.Float64Range(0, 0.02).Draw(t, "floor")
		step := rapid.SampledFrom([]float64{0.001, 0.002, 0.005, 0.01}).Draw(t, "step")
		got := Scaled(tol, 300, length, floor, step)
		if got < floor {
			t.Fatalf("%v is below the floor %v", got, floor)
		}
		plain := tol * length / 300
		if got > floor && math.Abs(got-plain) > step/2*(1+1e-6) {
			t.Fatalf("%v is further than half a step %v from %v", got, step, plain)
		}
		if got > floor && math.Abs(got/step-math.Round(got/step)) > 1e-9 {
			t.Fatalf("%v is no whole number of steps of %v", got, step)
		}
	})
}
