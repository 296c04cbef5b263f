package fit

import (
	"math"
	"os"
	"strings"
	"testing"

	"waywright/checks/internal/published"
)

// regression is a set of the NIST Statistical Reference Datasets.
type regression struct {
	Kind, File string
	N          int
	Lines      [2]int `json:"data_lines"`
	Certified  struct {
		Parameters map[string]struct{ Estimate, SD string }
		ResidualSD string `json:"residual_sd"`
	}
	Reached struct {
		Estimate float64 `json:"estimate_min"`
		SD       float64 `json:"sd_of_estimate_min"`
		Residual float64 `json:"residual_sd"`
	} `json:"float64_digits_reached"`
}

func (r regression) read(t *testing.T) (y []float64, x [][]float64) {
	t.Helper()
	b, err := os.ReadFile(published.Path("nist_strd/" + r.File))
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(b), "\n")[r.Lines[0]-1 : r.Lines[1]] {
		f := strings.Fields(line)
		y = append(y, published.Number(t, f[0]))
		x = append(x, nil)
		for _, s := range f[1:] {
			x[len(x)-1] = append(x[len(x)-1], published.Number(t, s))
		}
	}
	if len(y) != r.N {
		t.Fatalf("%s: read %d points, want %d", r.File, len(y), r.N)
	}
	return y, x
}

// shapes returns the columns of the fit: those of the file, or the powers of
// its only one.
func shapes(x [][]float64, powers int) (out [][]float64) {
	for k := range max(powers, len(x[0])) {
		col := make([]float64, len(x))
		for i := range x {
			if powers > 0 {
				col[i] = math.Pow(x[i][0], float64(k+1))
			} else {
				col[i] = x[i][k]
			}
		}
		out = append(out, col)
	}
	return out
}

// TestStRD holds the least squares against the linear regression sets of the
// NIST Statistical Reference Datasets and prints the digits that agree (log
// relative error). How many double precision can reach was found independently
// by Householder QR; half a digit is left for another way of working. Standard
// deviations come from the coefficients, which are sums over the readings.
func TestStRD(t *testing.T) {
	var sets map[string]regression
	published.Read(t, "nist_strd/certified.json", &sets)
	const slack = 0.5
	for _, tt := range []struct {
		name   string
		powers int
		rank   int
	}{{"Norris", 1, 1}, {"Longley", 0, 6}, {"Wampler1", 5, 5}, {"Wampler3", 5, 5}, {"Wampler5", 5, 5}, {"Filip", 10, 10}} {
		set := sets[tt.name]
		y, x := set.read(t)
		cols := shapes(x, tt.powers)
		m := NewModel(len(y), cols...)
		if m.Rank() != tt.rank {
			t.Errorf("%s: rank %d, want %d", tt.name, m.Rank(), tt.rank)
			continue
		}
		source := "NIST StRD " + tt.name
		var squares float64
		for _, e := range m.Residuals(y) {
			squares += e * e
		}
		s := math.Sqrt(squares / float64(len(y)-len(cols)-1))
		sure := published.Number(t, set.Certified.ResidualSD)
		if sure > 0 {
			published.Agree(t, source, "residual sd", s, sure, set.Reached.Residual-slack)
		}
		constant, coef := m.Coefficients(y)
		ofConstant, of := perReading(m, len(y))
		for k, got := range append([]float64{constant}, coef...) {
			name := "B" + string(rune('0'+k))
			if k == 10 {
				name = "B10"
			}
			p := set.Certified.Parameters[name]
			published.Agree(t, source, name, got, published.Number(t, p.Estimate), set.Reached.Estimate-slack)
			c := ofConstant
			if k > 0 {
				c = of[k-1]
			}
			if sure > 0 {
				published.Agree(t, source, "sd of "+name, s*norm(c), published.Number(t, p.SD), set.Reached.SD-slack)
			}
		}
	}
}

// perReading returns what each reading contributes to the constant and to the
// coefficient of each shape.
func perReading(m *Model, n int) (constant []float64, coef [][]float64) {
	constant, coef = make([]float64, n), make([][]float64, m.shapes)
	for k := range coef {
		coef[k] = make([]float64, n)
	}
	for i := range n {
		one := make([]float64, n)
		one[i] = 1
		c, cs := m.Coefficients(one)
		constant[i] = c
		for k, v := range cs {
			coef[k][i] = v
		}
	}
	return constant, coef
}

// TestStRDNoIntercept fits a line through nought: with every point there is
// also its mirror image, so that the constant is nought by itself. All sums
// double.
func TestStRDNoIntercept(t *testing.T) {
	var sets map[string]regression
	published.Read(t, "nist_strd/certified.json", &sets)
	set := sets["NoInt1"]
	y, rows := set.read(t)
	x := shapes(rows, 1)[0]
	for i := range set.N {
		x, y = append(x, -x[i]), append(y, -y[i])
	}
	m := NewModel(len(y), x)
	constant, coef := m.Coefficients(y)
	if math.Abs(constant) > 1e-12 {
		t.Errorf("constant %g, want 0", constant)
	}
	s := norm(m.Residuals(y)) / math.Sqrt(2*float64(set.N-1))
	_, of := perReading(m, len(y))
	published.Agree(t, "NIST StRD NoInt1", "B1", coef[0], published.Number(t, set.Certified.Parameters["B1"].Estimate), set.Reached.Estimate-0.5)
	published.Agree(t, "NIST StRD NoInt1", "residual sd", s, published.Number(t, set.Certified.ResidualSD), set.Reached.Residual-0.5)
	published.Agree(t, "NIST StRD NoInt1", "sd of B1", s*norm(of[0])*math.Sqrt2, published.Number(t, set.Certified.Parameters["B1"].SD), set.Reached.SD-0.5)
}
