package csv_test

import (
	"bytes"
	"testing"

	"waywright/report/compare"
	"waywright/report/csv"
	"waywright/report/reporttest"
)

// A value is a row, with the difference from what it was held against; where
// there is none the row says why.
func TestComparison(t *testing.T) {
	later := reporttest.Bar()
	later.Number = "later"
	c, err := compare.Of(compare.Input{Name: "bar", Record: reporttest.Bar()}, compare.Input{Name: "later", Record: later}, compare.Input{Name: "tailstock", Record: reporttest.Tailstock()})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := csv.Comparison(&b, c, csv.Options{}); err != nil {
		t.Fatal(err)
	}
	rows := sheet(t, b.String(), ',')
	find := func(test, run, state string) map[string]string {
		for _, r := range rows {
			if r["test"] == test && r["record"] == run && r["state"] == state {
				return r
			}
		}
		t.Fatalf("no row of %s, %s, %s", test, run, state)
		return nil
	}
	first := reporttest.Bar().Number
	for _, tt := range []struct{ test, run, state, column, want string }{
		{"even", first, "as_found", "value", "2.4"},
		{"even", first, "as_left", "value", "0.7"},
		{"even", first, "as_left", "against", ""},
		{"even", "later", "as_found", "against", runOf(c, first) + " as left"},
		{"even", "later", "as_found", "differs_by", "1.70"},
		{"even", "later", "as_found", "differs_unit", "µm"},
		{"even", "later", "as_found", "real", "yes"},
		{"even", "later", "as_left", "real", "no"},
		{"even", "later", "as_left", "base_value", "0.0007"},
		{"whole", "later", "not_measured", "value", ""},
		{"whole", "later", "not_measured", "real", ""},
		{"even", reporttest.Tailstock().Number, "no_test", "verdict", ""},
	} {
		if got := find(tt.test, tt.run, tt.state)[tt.column]; got != tt.want {
			t.Errorf("%s of %s %s: %s is %q, want %q", tt.test, tt.run, tt.state, tt.column, got, tt.want)
		}
	}
}

func runOf(c compare.Comparison, number string) string {
	for _, r := range c.Runs {
		if r.Number == number {
			return r.Letter
		}
	}
	return ""
}
