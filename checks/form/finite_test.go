package form

import (
	"errors"
	"math"
	"slices"
	"testing"

	"waywright/checks/fit"
)

// TestNothingThatIsNotFinite: no number that is none, and no sum that runs
// over, comes out as a result.
func TestNothingThatIsNotFinite(t *testing.T) {
	at := []float64{0, 1, 2, 3, 4}
	angles := []float64{0, 0.4 * math.Pi, 0.8 * math.Pi, 1.2 * math.Pi, 1.6 * math.Pi}
	x, y := []float64{0, 1, 0, 1, 3}, []float64{0, 0, 1, 1, 2}
	good := []float64{1, 2, 0, 5, 3}
	first := func(a, b float64, err error) (float64, error) { return max(a, b), err }
	lines := []Method{LeastSquares, MinimumZone, EndPoints}
	circles := []Method{LeastSquares, MinimumZone, Circumscribed, Inscribed}
	type measure func(where, v []float64) (float64, error)
	type named struct {
		name  string
		where []float64
		f     measure
	}
	var all []named
	for _, m := range lines {
		all = append(all, named{"straightness " + string(m), at, func(w, v []float64) (float64, error) { return Straightness(w, v, m) }})
	}
	for _, m := range lines[:2] {
		all = append(all, named{"flatness " + string(m), x, func(w, v []float64) (float64, error) { return Flatness(w, y, v, m) }})
		all = append(all, named{"detrended " + string(m), at, func(w, v []float64) (float64, error) { return sum(Detrended(w, v, m)) }})
	}
	for _, m := range circles {
		all = append(all, named{"roundness " + string(m), angles, func(w, v []float64) (float64, error) { return Roundness(w, v, m) }})
	}
	all = append(all, named{"bow", at, Bow}, named{"line", at, func(w, v []float64) (float64, error) {
		l, err := FitLine(w, v)
		return l.X + l.Y + l.Slope, err
	}}, named{"eccentricity", angles, func(w, v []float64) (float64, error) { return first(Eccentricity(w, v)) }},
		named{"lobes", angles, func(w, v []float64) (float64, error) { return Lobes(w, v, 2) }})
	for _, c := range all {
		if got, err := c.f(c.where, good); err != nil || !finite(got) {
			t.Errorf("%s of good values: %v, %v", c.name, got, err)
		}
		for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
			for i := range good {
				for name, in := range map[string][2][]float64{"value": {c.where, set(good, i, bad)}, "place": {set(c.where, i, bad), good}} {
					var u *fit.Undefined
					if got, err := c.f(in[0], in[1]); !errors.As(err, &u) || u.Why == "" {
						t.Errorf("%s, %s %d is %v: %v, %v", c.name, name, i+1, bad, got, err)
					}
				}
			}
		}
		for _, v := range [][]float64{{1e308, -1e308, 1e308, -1e308, 1e308}, {-1.7e308, 1.7e308, 0, 1.7e308, 0}} {
			if got, err := c.f(c.where, v); err == nil && !finite(got) {
				t.Errorf("%s of %v: %v without an error", c.name, v, got)
			}
		}
	}
	if _, err := Straightness([]float64{0, 1, 2}, []float64{1, math.NaN(), 2}, MinimumZone); err == nil || err.Error() != "fit: value 2 is not a number that can be counted with" {
		t.Errorf("%v", err)
	}
}

func set(x []float64, i int, v float64) []float64 {
	x = slices.Clone(x)
	x[i] = v
	return x
}

func sum(x []float64, err error) (float64, error) {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s, err
}
