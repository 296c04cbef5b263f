package catalogue

import (
	"fmt"
	"testing"

	"waywright/checks/internal/published"
	"waywright/checks/value"
)

// TestScipy compares factors and pads with what scipy gives; see
// testdata/crosscheck. Its linear programs are solved to about nine figures.
func TestScipy(t *testing.T) {
	var file struct {
		Made    map[string]string                 `json:"made_by"`
		Factors []struct{ DoF, Level, T float64 } `json:"t_factors"`
		Pads    []struct {
			Z, X         []float64
			Slope, Total float64
			Shim         bool
		}
	}
	published.Read(t, "../crosscheck/values.json", &file)
	source := fmt.Sprint("scipy ", file.Made["scipy"])
	for _, f := range file.Factors {
		got := eval(t, "t_factor", num(f.DoF), num(f.Level))
		published.Agree(t, source, fmt.Sprintf("t(%v, %v)", f.DoF, f.Level), got.Num, f.T, 8) // scipy gives 1.0000000000134 for t(1, 0.5), which is 1
	}
	for i, p := range file.Pads {
		var keys []string
		var places []value.Value
		for k := range p.Z {
			keys, places = append(keys, fmt.Sprint("pad_", k)), append(places, listed(p.Z[k], p.X[k]))
		}
		way := "remove"
		if p.Shim {
			way = "shim"
		}
		got := eval(t, "pads", num(p.Slope), num(0), value.KeyedOf(keys, places), str(way))
		published.Agree(t, source, fmt.Sprintf("total of pads, case %d", i), got.Index("total").Num, p.Total, 6) // the roll costs 1e-7 of a total
	}
	if len(file.Factors) < 30 || len(file.Pads) < 8 {
		t.Error("little was compared")
	}
}
