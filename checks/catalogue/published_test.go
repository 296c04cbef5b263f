package catalogue

import (
	"math"
	"testing"

	"waywright/checks/internal/published"
	"waywright/checks/quantity"
)

// TestPublishedLevels holds the crossing between slopes and angles against
// what makers of spirit levels print on public pages.
func TestPublishedLevels(t *testing.T) {
	var file struct{ Published []published.Entry }
	published.Read(t, "workshop/spirit_level.json", &file)
	for quantityName, expr := range map[string]string{
		"0.1 mm/m per 2 mm division": "atan(um(100) / m(1))",
		"5 deg per 2 mm":             "tan(deg(5))",
		"6.5 mm/m":                   "atan(mm(6.5) / m(1))",
		"5/32 in over 24 in":         "inch(5) / 32 / inch(24)",
		"1 arcmin":                   "tan(arcmin(1))",
		"1 arcsec on 100 mm":         "tan(arcsec(1)) * mm(100)",
	} {
		e := published.Find(t, file.Published, quantityName)
		want, tol := e.Number(t)
		u, err := quantity.Lookup(e.Unit)
		if err != nil {
			t.Fatal(err)
		}
		got, err := evaluate(expr)
		if err != nil {
			t.Fatal(err)
		}
		if x := u.Of(got.v.Num); got.t.Dim != u.Dim || math.Abs(x-want) > tol {
			t.Errorf("%s: %s = %v %s, want %v ± %v (%s)", quantityName, expr, x, e.Unit, want, tol, e.Where)
		}
	}
}
