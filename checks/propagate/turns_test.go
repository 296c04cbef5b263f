package propagate

import (
	"math"
	"testing"
)

// Derived here: the angle of a point at (3, 0) whose places are uncertain by
// 0.3 each is uncertain by about 0.1 rad, also where it is nought and a whole
// turn at once. Averaged as if on a line it would be by half a turn.
func TestMeasureRule10AnglesRoundATurn(t *testing.T) {
	p := problem(t, normals(2), Form{Kinked: true, Turns: true}, func(x []float64) float64 {
		return math.Mod(math.Atan2(0.3*x[1], 3+0.3*x[0])+2*math.Pi, 2*math.Pi)
	})
	e := solve(t, p)
	near(t, "angle", e.Value, 0, 1e-9)
	near(t, "u", e.Std, 0.1, 0.005)
	near(t, "bias", e.Drawn.Bias, 0, 0.005)
}
