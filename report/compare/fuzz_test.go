package compare_test

import (
	"encoding/json"
	"testing"

	"waywright/report"
	"waywright/report/compare"
	"waywright/report/compare/printed"
)

// Records come from elsewhere. Whatever two of them hold, what is told of them
// keeps to the schema and can be printed; and what is called real is more than
// its doubt.
func FuzzOf(f *testing.F) {
	for _, pair := range [][2]said{
		{{day: "2025-03-01", y: 9, u: 1}, {day: "2025-03-09", y: 2, u: 1}},
		{{day: "2024-03-01", y: 1, u: 1, dof: 4}, {machine: "lathe-9", day: "2025-03-01", found: 9, y: 0}},
	} {
		var bs [2][]byte
		for i, s := range pair {
			b, err := json.Marshal(record(i, s).Record) // short, so that much can be tried
			if err != nil {
				f.Fatal(err)
			}
			bs[i] = b
		}
		f.Add(bs[0], bs[1])
	}
	f.Fuzz(func(t *testing.T, x, y []byte) {
		a, errA := report.Parse(x)
		b, errB := report.Parse(y)
		if errA != nil || errB != nil {
			return
		}
		if a.Number == b.Number {
			b.Number += " again"
		}
		c, err := compare.Of(compare.Input{Name: "a", Record: a}, compare.Input{Name: "b", Record: b})
		if err != nil {
			t.Fatal(err)
		}
		for _, test := range c.Tests {
			for _, d := range test.Differences {
				if !d.Own && d.Shown && d.U != nil && (d.By.Value < d.U.Value && d.By.Value > -d.U.Value) {
					t.Errorf("%s: %v is called real with a doubt of %v", test.Name, d.By, d.U)
				}
			}
		}
		out, err := compare.Marshal(c)
		if err != nil || !json.Valid(out) {
			t.Fatalf("%v: %s", err, out)
		}
		if _, err := printed.Of(c); err != nil {
			t.Fatal(err)
		}
	})
}
