package checks

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"waywright/checks/internal/published"
)

// readTableG2 returns the rows of the published table of t factors and the
// coverage probabilities of its columns, as exact as the table means them:
// 68.27, 95.45 and 99.73 % stand for 1, 2 and 3 σ.
func readTableG2(t *testing.T) (rows [][]string, head []float64) {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "testdata", "published", "gum", "t_factors_table_G2.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err = csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	exact := map[string]float64{
		"68.27": math.Erf(1 / math.Sqrt2), "95.45": math.Erf(2 / math.Sqrt2), "99.73": math.Erf(3 / math.Sqrt2),
	}
	for _, h := range rows[0][1:] {
		h = strings.TrimPrefix(h, "p")
		p, ok := exact[h]
		if !ok {
			p = published.Number(t, h) / 100
		}
		head = append(head, p)
	}
	return rows[1:], head
}

func TestStudentEdges(t *testing.T) {
	for _, tt := range []struct{ got, want float64 }{
		{TCDF(0, 3), 0.5}, {TCDF(math.Inf(1), 3), 1}, {TCDF(math.Inf(-1), 0), 0},
		{TCDF(1, 1), 0.75}, // Cauchy: 1/2 + atan(1)/π
		{TQuantile(0.75, 1), 1}, {TQuantile(0.5, 7), 0}, {TQuantile(1, 7), math.Inf(1)}, {TQuantile(0, 7), math.Inf(-1)},
		{TQuantile(0.975, 1e7), TQuantile(0.975, 0)},
	} {
		if tt.got != tt.want && !(math.Abs(tt.got-tt.want) < 1e-6) {
			t.Errorf("got %g, want %g", tt.got, tt.want)
		}
	}
	for _, x := range []float64{TCDF(math.NaN(), 3), TCDF(1, -1), TQuantile(1.1, 3), TQuantile(0.5, math.NaN())} {
		if !math.IsNaN(x) {
			t.Errorf("got %g, want NaN", x)
		}
	}
}
