package cli

import (
	"fmt"
	"math"
	"regexp"
	"testing"

	"waywright/checks/catalogue"
)

// literalIn finds a number with its unit.
var literalIn = regexp.MustCompile(`\b(mm|um|m|inch|deg|radian|arcsec|kelvin|celsius|newton|percent)\((-?[0-9.]+)\)`)

// without are functions whose worked example has nothing that could be off, or
// whose result is no number.
var without = map[string]string{
	"bearing": "counted cells", "count": "a count", "numbered": "a count", "spots": "counted spots",
	"differs": "is yes or no", "between": "a zone", "none_below": "a zone", "plus_minus": "a zone",
	"standard_taper": "looked up", "half_angle": "a ratio that is given", "scrape_stripes": "whole passes, whose slopes are nought between steps",
	"where_greatest": "the place of a reading, which is exact",
}

// TestEveryFunctionCarriesDoubt makes each number of each worked example
// uncertain, one after the other, and works out how well the result is known
// by sensitivities: it always can be, and for every function a number is found
// that the result depends on.
func TestEveryFunctionCarriesDoubt(t *testing.T) {
	for _, f := range catalogue.All() {
		if f.Theme == "Numbers with units" || f.Theme == "" {
			continue
		}
		t.Run(f.Name, func(t *testing.T) {
			most, tried := 0.0, 0
			for _, at := range literalIn.FindAllStringSubmatchIndex(f.Example.Expr, -1) {
				unit, n := f.Example.Expr[at[2]:at[3]], f.Example.Expr[at[4]:at[5]]
				doubt := unit
				if unit == "celsius" {
					doubt = "kelvin"
				}
				expr := f.Example.Expr[:at[0]] + fmt.Sprintf("about(%s(%s), %s(0.001))", unit, n, doubt) + f.Example.Expr[at[1]:]
				a := &app{}
				s, err := a.sheet(expr, nil, nil)
				if err != nil {
					continue // a place where what is uncertain is not taken, as the station of a reading
				}
				if !ofNumbers(s.last().prog.Type()) {
					continue
				}
				w, err := s.solve(how{level: 0.95, digits: 2, straight: true})
				if err != nil {
					t.Errorf("%s: %v", expr, err)
					continue
				}
				for _, e := range w.est {
					if math.IsNaN(e.U) || e.U < 0 {
						t.Errorf("%s: u = %v", expr, e.U)
					}
					tried++
					most = math.Max(most, e.U)
				}
			}
			why, listed := without[f.Name]
			if most == 0 && !listed {
				t.Errorf("the doubt of no number in %s reaches the result (%d tried)", f.Example.Expr, tried)
			}
			if most > 0 && listed && f.Name != "where_greatest" {
				t.Errorf("listed as %q, and the result has a doubt of %v", why, most)
			}
		})
	}
}
