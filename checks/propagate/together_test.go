package propagate

import (
	"fmt"
	"testing"

	"waywright/checks/uncert"
)

// read makes a model of readings of one setting of an indicator that scatters
// by 0.1, and whose zero is out by up to zero; f is made of what they are.
func read(t *testing.T, readings []float64, zero float64, form Form, f func(y []float64) float64) Problem {
	t.Helper()
	in := uncert.Instrument{
		Name: "indicator", Kind: "dial", Resolution: 1e-6, HasError: true, Repeatability: 0.1, RepeatabilityDoF: 50, Zero: zero, HasZero: true, Turn: 1000,
	}
	var obs []uncert.Observation
	for i, y := range readings {
		obs = append(obs, uncert.Observation{ID: fmt.Sprint("x", i), Value: y, Pool: "one"})
	}
	m, err := uncert.New([]uncert.Instrument{in}, obs, nil)
	if err != nil {
		t.Fatal(err)
	}
	p := problem(t, normals(len(readings)), form, func(x []float64) float64 {
		y := make([]float64, len(readings))
		for i := range y {
			y[i] = readings[i] + x[i]
		}
		return f(y)
	})
	p.Model = m
	return p
}

// Derived here: the zero of an indicator moves all readings of a turn alike, so
// their range does not know of it, also where several readings are equal. By
// single inputs it would seem to: of three equal readings at the top each counts
// half, together 3/2, and the one at the foot 1.
func TestMeasureRule15ACommonZeroIsInNoRange(t *testing.T) {
	form := Form{Kinked: true, NonNegative: true}
	extent := func(y []float64) float64 {
		return max(y[0], y[1], y[2], y[3]) - min(y[0], y[1], y[2], y[3])
	}
	readings := []float64{1, 1, 1, 0}
	alone := solve(t, read(t, readings, 0, form, extent))
	shared := solve(t, read(t, readings, 20, form, extent))
	if alone.Drawn == nil || alone.Drawn.Why != Kink {
		t.Fatalf("alone %+v", alone.Drawn)
	}
	near(t, "u with a zero in common", shared.Std, alone.Std, 0.01)
}

// Where nothing bends, source by source and input by input are one.
func TestTogetherIsTheLinearWayOfAStraightFormula(t *testing.T) {
	p := read(t, []float64{1, 2, 4}, 0.7, Form{}, func(y []float64) float64 { return 3*y[0] - y[1] + 0.5*y[2] })
	s := newSolver(p)
	near(t, "together", s.together(0), s.m.Std(s.central(0)), 1e-9)
}
