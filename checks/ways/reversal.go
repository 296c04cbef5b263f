package ways

import (
	"fmt"

	"waywright/checks/fit"
)

// SquareError returns by how much a square's blade leans towards the
// indicator over the height travelled, positive towards it. The readings g1
// and g2 are the change of an indicator carried up a column, plunger in
// counting plus, first with the square on one side and then with square and
// indicator turned round to the other: g1 = s + c, g2 = s − c.
func SquareError(g1, g2 float64) float64 { return g1 + (g2-g1)/2 }

// ColumnLean returns by how much the column itself leans towards the first
// side, from the readings of [SquareError].
func ColumnLean(g1, g2 float64) float64 { return (g1 - g2) / 2 }

// EdgeError returns the error of a straightedge at each station, positive
// where the edge stands proud. The reading p was taken along it, flipped at
// the same stations with the edge turned about its long axis and the indicator
// facing the other way: m1 = s + f, m2 = s − f. The line through the ends is
// taken off each reading first, which takes off how the edge was set up.
//
// The error is an [*fit.Undefined] where there are not two stations. Stations
// are in rising order.
func EdgeError(at, p, flipped []float64) ([]float64, error) {
	return halved(at, p, flipped, 1)
}

// SlideError returns the error of the slide that the indicator ran on, from
// the readings of [EdgeError], positive towards the side that the edge first
// stood on.
func SlideError(at, p, flipped []float64) ([]float64, error) {
	return halved(at, p, flipped, -1)
}

func halved(at, p, flipped []float64, sign float64) ([]float64, error) {
	n := len(at) - 1
	if n < 1 {
		return nil, &fit.Undefined{Why: fmt.Sprintf("a line needs two stations, there is %d", len(at))}
	}
	if at[0] == at[n] {
		return nil, &fit.Undefined{Why: "all values lie at one station"}
	}
	out := make([]float64, n+1)
	for i := range out {
		share := (at[i] - at[0]) / (at[n] - at[0])
		m1 := p[i] - p[0] - (p[n]-p[0])*share
		m2 := flipped[i] - flipped[0] - (flipped[n]-flipped[0])*share
		out[i] = (m1 + sign*m2) / 2
	}
	return out, nil
}

// ThreeWay returns the errors of three edges or squares that were held against
// each other two at a time, from the sums a + b, b + c and a + c. Positive is
// proud where the readings' plus is.
func ThreeWay(ab, bc, ac float64) (a, b, c float64) {
	return (ab + ac - bc) / 2, (ab + bc - ac) / 2, (bc + ac - ab) / 2
}

// Passes returns how many passes of a scraper, each taking bite, bring a
// surface at heights p to the wanted ones but for how high it lies: metal only
// comes off, so that the place that lies lowest beside what is wanted there
// gets none. Each number is the nearest whole one.
func Passes(p, target []float64, bite float64) []float64 {
	least := 0.0
	for i := range p {
		if d := p[i] - target[i]; i == 0 || d < least {
			least = d
		}
	}
	out := make([]float64, len(p))
	for i := range p {
		out[i] = roundUp((p[i] - target[i] - least) / bite)
	}
	return out
}
