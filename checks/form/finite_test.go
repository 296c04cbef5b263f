package form

import (
	"errors"
	"math"
	"slices"
	"strings"
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

// TestHighAtNoughtDegrees: a turn that is high at nought degrees says 0 and
// not a whole turn, whichever way the last figure was rounded.
func TestHighAtNoughtDegrees(t *testing.T) {
	for _, n := range []int{3, 4, 5, 7, 8, 12, 36, 360} {
		for _, e := range []float64{0.001, 3, 1e6} {
			angles, r := make([]float64, n), make([]float64, n)
			for i := range angles {
				angles[i] = 2 * math.Pi * float64(i) / float64(n)
				r[i] = 5 + e*math.Cos(angles[i])
			}
			if _, high, err := Eccentricity(angles, r); err != nil || high < 0 || high > 1e-9 {
				t.Errorf("%d angles, eccentricity %v: high at %v, %v; want 0", n, e, high, err)
			}
		}
	}
	for _, y := range []float64{0, -1e-13, -5e-324, math.Copysign(0, -1)} {
		if _, a := polar(1, y); a != 0 {
			t.Errorf("polar(1, %v) is at %v, want 0", y, a)
		}
	}
	if _, a := polar(1, -1e-6); math.Abs(a-(2*math.Pi-1e-6)) > 1e-12 {
		t.Errorf("a direction just below nought is at %v", a)
	}
}

// TestNoLobes: it is the number of lobes that is wrong, not that of angles.
func TestNoLobes(t *testing.T) {
	for _, n := range []int{0, -1} {
		_, err := Lobes([]float64{0, 1, 2, 3, 4, 5}, make([]float64, 6), n)
		if want := "the number of lobes begins at 1"; err == nil || !strings.HasSuffix(err.Error(), want) {
			t.Errorf("%d lobes: %v, want … %s", n, err, want)
		}
	}
}
