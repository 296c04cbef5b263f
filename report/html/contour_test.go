package html

import (
	"strings"
	"testing"

	"waywright/report"
)

// TestContour: a test that is worked out from the heights of a surface has
// their picture and says what they reach from and to.
func TestContour(t *testing.T) {
	um := func(x float64, text string) report.Number {
		return report.Number{Value: x, Unit: "µm", Code: "um", Text: text}
	}
	mm := func(x float64) report.Number { return report.Number{Value: x, Unit: "mm", Code: "mm", Text: "0"} }
	x := report.Result{Name: "heights", Title: "Heights of all stations", Formula: "plate(…)", State: "present"}
	for i, z := range []report.Number{um(0, "0.0"), um(3.2, "3.2"), um(-2.1, "−2.1"), um(1, "1.0")} {
		x.Heights = append(x.Heights, report.Height{X: mm(float64(i%2) * 600), Y: mm(float64(i/2) * 400), Value: z})
	}
	r := report.Record{Results: []report.Result{x}}
	d := newDetail(r, report.Test{No: 7, Title: "Flat", Working: []string{"heights"}})
	if len(d.Working) != 1 || d.Working[0].Value != "4 heights, from −2.1 to 3.2 µm" {
		t.Errorf("working: %+v", d.Working)
	}
	if len(d.Pictures) != 1 || !strings.Contains(string(d.Pictures[0].SVG), `aria-labelledby="t7-heights-1-t`) ||
		!strings.Contains(string(d.Pictures[0].SVG), "highest 3.2") {
		t.Errorf("pictures: %+v", d.Pictures)
	}
	x.Heights = x.Heights[:2]
	r.Results = []report.Result{x}
	if d := newDetail(r, report.Test{No: 7, Working: []string{"heights"}}); len(d.Pictures) != 0 {
		t.Error("two heights have a picture")
	}
}
