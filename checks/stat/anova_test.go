package stat

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"waywright/checks/internal/published"
)

// TestStRDVariance holds the analysis of variance against the sets of the NIST
// Statistical Reference Datasets, and prints the digits that agree. How many
// double precision can reach was found independently; a tenth of a digit is
// left for rounding. The hardest sets are limited by what their readings lose
// in binary.
func TestStRDVariance(t *testing.T) {
	type row struct {
		DoF       int `json:"df"`
		SS, MS, F string
	}
	var sets map[string]struct {
		Kind, File string
		N, Groups  int
		Lines      [2]int `json:"data_lines"`
		Certified  struct {
			Between, Within row
			RSquared        string `json:"r_squared"`
			Residual        string `json:"residual_sd"`
		}
		Reached struct {
			F         float64
			SSBetween float64 `json:"ss_between"`
			SSWithin  float64 `json:"ss_within"`
		} `json:"float64_digits_reached"`
	}
	published.Read(t, "nist_strd/certified.json", &sets)
	done := 0
	var names []string
	for name := range sets {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		set := sets[name]
		if set.Kind != "anova" {
			continue
		}
		done++
		groups, n := grouped(t, "nist_strd/"+set.File, set.Lines)
		if n != set.N || len(groups) != set.Groups {
			t.Fatalf("%s: read %d values in %d groups, want %d in %d", name, n, len(groups), set.N, set.Groups)
		}
		v, source, c := OneWay(groups...), "NIST StRD "+name, set.Certified
		if v.BetweenDoF != c.Between.DoF || v.WithinDoF != c.Within.DoF {
			t.Errorf("%s: degrees of freedom %d, %d; want %d, %d", name, v.BetweenDoF, v.WithinDoF, c.Between.DoF, c.Within.DoF)
		}
		published.Agree(t, source, "sum of squares between", v.Between, published.Number(t, c.Between.SS), set.Reached.SSBetween-0.1)
		published.Agree(t, source, "sum of squares within", v.Within, published.Number(t, c.Within.SS), set.Reached.SSWithin-0.1)
		// In one set two-pass sums came by chance nearer than exact arithmetic on the
		// readings in binary does: no more than that is asked for.
		f := published.Number(t, c.Between.F)
		published.Agree(t, source, "F", v.F, f, min(set.Reached.F, published.Digits(exactF(groups), f))-0.1)
		published.Agree(t, source, "R squared", v.RSquared(), published.Number(t, c.RSquared), set.Reached.F-0.2)
		published.Agree(t, source, "residual", v.Residual(), published.Number(t, c.Residual), set.Reached.SSWithin-0.1)
	}
	if done != 8 {
		t.Errorf("%d sets, want 8", done)
	}
}

// exactF is the F of the readings as they are held in binary, worked out with
// 300 bits.
func exactF(groups [][]float64) float64 {
	num := func(x float64) *big.Float { return new(big.Float).SetPrec(300).SetFloat64(x) }
	mean := func(groups ...[]float64) *big.Float {
		sum, n := num(0), 0
		for _, g := range groups {
			for _, x := range g {
				sum.Add(sum, num(x))
			}
			n += len(g)
		}
		return sum.Quo(sum, num(float64(n)))
	}
	grand, between, within, n := mean(groups...), num(0), num(0), 0
	for _, g := range groups {
		m := mean(g)
		d := num(0).Sub(m, grand)
		between.Add(between, d.Mul(d, d).Mul(d, num(float64(len(g)))))
		for _, x := range g {
			d := num(0).Sub(num(x), m)
			within.Add(within, d.Mul(d, d))
		}
		n += len(g)
	}
	between.Mul(between, num(float64(n-len(groups))))
	within.Mul(within, num(float64(len(groups)-1)))
	f, _ := between.Quo(between, within).Float64()
	return f
}

// grouped reads "group value" lines, the groups in the order of the file.
func grouped(t *testing.T, name string, lines [2]int) (groups [][]float64, n int) {
	t.Helper()
	b, err := os.ReadFile(published.Path(name))
	if err != nil {
		t.Fatal(err)
	}
	where := map[string]int{}
	for _, line := range strings.Split(string(b), "\n")[lines[0]-1 : lines[1]] {
		f := strings.Fields(line)
		g, ok := where[f[0]]
		if !ok {
			g = len(groups)
			where[f[0]], groups = g, append(groups, nil)
		}
		groups[g] = append(groups[g], published.Number(t, f[1]))
		n++
	}
	return groups, n
}

// TestPublishedVariance holds the sums against JCGM 100:2008, H.5, whose table
// gives the mean and the standard deviation of five readings of each day: five
// readings are made that have these.
func TestPublishedVariance(t *testing.T) {
	var file struct {
		Inputs struct {
			K     int       `json:"K_per_day"`
			Means []string  `json:"daily_mean_V"`
			SD    []float64 `json:"within_day_sd_uV"`
		}
		Published []published.Entry
	}
	published.Read(t, "gum/h5_anova.json", &file)
	var days [][]float64
	for i, m := range file.Inputs.Means {
		mean, sd := published.Number(t, m), file.Inputs.SD[i]*1e-6
		day := make([]float64, file.Inputs.K)
		for k := range day { // −2, −1, 0, 1, 2 have a standard deviation of √2.5
			day[k] = mean + sd*(float64(k)-2)/math.Sqrt(2.5)
		}
		days = append(days, day)
	}
	v := OneWay(days...)
	if v.BetweenDoF != 9 || v.WithinDoF != 40 {
		t.Fatalf("degrees of freedom %d, %d; want 9, 40", v.BetweenDoF, v.WithinDoF)
	}
	for quantity, got := range map[string]float64{
		"F(9,40)": v.F, "sb = s(Vjk)": v.Residual() * 1e6, "sa": math.Sqrt(v.Between/9) * 1e6,
	} {
		if want, tol := published.Find(t, file.Published, quantity).Number(t); math.Abs(got-want) > tol {
			t.Errorf("%s = %v, want %v ± %v (JCGM 100:2008, H.5)", quantity, got, want, tol)
		}
	}
}

// TestVarianceProperties: shifting all readings or turning their order changes
// nothing; a scale multiplies the sums by its square; the sums add up to that
// of all readings about their mean.
func TestVarianceProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(2, 5).Draw(t, "groups")
		shift := rapid.Float64Range(-300, 300).Draw(t, "shift")
		var a, b [][]float64
		var all []float64
		for range k {
			g := rapid.SliceOfN(rapid.Float64Range(-1, 1), 2, 6).Draw(t, "group")
			a, all = append(a, g), append(all, g...)
			h := make([]float64, len(g))
			for i := range g {
				h[len(g)-1-i] = 2*g[i] + shift
			}
			b = append([][]float64{h}, b...)
		}
		v, w := OneWay(a...), OneWay(b...)
		total := Stdev(all) * Stdev(all) * float64(len(all)-1)
		for what, d := range map[string]float64{
			"between":  w.Between - 4*v.Between,
			"within":   w.Within - 4*v.Within,
			"together": v.Between + v.Within - total,
		} {
			if math.Abs(d) > 1e-11*(1+total) {
				t.Fatalf("%s differs by %v", what, d)
			}
		}
	})
	if v := OneWay(); !math.IsNaN(v.F) {
		t.Errorf("of nothing: %+v", v)
	}
	if v := OneWay([]float64{1}, []float64{2}); !math.IsNaN(v.F) && !math.IsInf(v.F, 1) {
		t.Errorf("one reading each: %+v", v)
	}
}

// TestGauge: people and parts that are known come back, on average over many
// drawn tables.
func TestGauge(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 1))
	want := Components{Repeatability: 1, Reproducibility: 2, Interaction: 1.5, Parts: 5}
	const tables, people, parts, takes = 300, 8, 12, 3
	var e, o, p, i total
	for range tables {
		byPart := make([]float64, parts)
		for j := range byPart {
			byPart[j] = want.Parts * rng.NormFloat64()
		}
		table := make([][][]float64, people)
		for k := range table {
			person := want.Reproducibility * rng.NormFloat64()
			for j := range parts {
				both, cell := want.Interaction*rng.NormFloat64(), make([]float64, takes)
				for m := range cell {
					cell[m] = 250 + byPart[j] + person + both + want.Repeatability*rng.NormFloat64()
				}
				table[k] = append(table[k], cell)
			}
		}
		c, ok := Gauge(table)
		if !ok {
			t.Fatal("a whole table is refused")
		}
		e.add(square(c.Repeatability) / tables)
		o.add(square(c.Reproducibility) / tables)
		p.add(square(c.Parts) / tables)
		i.add(square(c.Interaction) / tables)
	}
	for what, c := range map[string][2]float64{
		"repeatability": {e.value(), want.Repeatability}, "people": {o.value(), want.Reproducibility},
		"parts": {p.value(), want.Parts}, "interaction": {i.value(), want.Interaction},
	} {
		if got := math.Sqrt(c[0]); math.Abs(got/c[1]-1) > 0.06 {
			t.Errorf("%s comes out as %.3f on average, want %.3f", what, got, c[1])
		}
	}
}

func TestGaugeRefuses(t *testing.T) {
	cell := []float64{1, 2}
	whole := [][][]float64{{cell, cell}, {cell, cell}}
	if _, ok := Gauge(whole); !ok {
		t.Error("two of each are refused")
	}
	for name, table := range map[string][][][]float64{
		"none": nil, "one person": whole[:1], "one part": {{cell}, {cell}}, "one take": {{{1}, {1}}, {{1}, {1}}},
		"a cell is short": {{cell, cell}, {cell, {1}}}, "a part is missing": {{cell, cell}, {cell}},
	} {
		if _, ok := Gauge(table); ok {
			t.Errorf("%s: not refused", name)
		}
	}
}

// TestCompare: by hand. Means 2 and 5 of three readings each that scatter by
// 1, so that u = √(1/3 + 1/3) with four degrees of freedom.
func TestCompare(t *testing.T) {
	d := Compare([]float64{1, 2, 3}, []float64{4, 5, 6}, 0)
	if math.Abs(d.Value+3) > 1e-15 || math.Abs(d.U-math.Sqrt(2.0/3)) > 1e-15 || math.Abs(d.DoF-4) > 1e-12 {
		t.Errorf("Compare = %+v", d)
	}
	// Readings that do not scatter are known no better than the step.
	d = Compare([]float64{1, 1}, []float64{2, 2}, 0.6)
	if want := 0.6 / math.Sqrt(6); math.Abs(d.U-want) > 1e-15 || !math.IsInf(d.DoF, 1) {
		t.Errorf("Compare = %+v, want u %v", d, want)
	}
	if r := Correlation([]float64{1, 1}, []float64{1, 2}); !math.IsNaN(r) {
		t.Errorf("correlation with what does not vary: %v", r)
	}
}

// TestScipy compares with what scipy gives; see testdata/crosscheck.
func TestScipy(t *testing.T) {
	var file struct {
		Made   map[string]string `json:"made_by"`
		Groups []struct {
			Groups [][]float64
			F      float64
			T      float64 `json:"welch_t"`
			DoF    float64 `json:"welch_dof"`
		}
		Lines []struct {
			At, Values  []float64
			Correlation float64
		}
	}
	published.Read(t, "../crosscheck/values.json", &file)
	source := fmt.Sprint("scipy ", file.Made["scipy"])
	for _, g := range file.Groups {
		published.Agree(t, source, "F", OneWay(g.Groups...).F, g.F, 8) // scipy's sums lose some figures about 25 mm
		d := Compare(g.Groups[0], g.Groups[1], 0)
		published.Agree(t, source, "Welch's t", d.Value/d.U, g.T, 9)
		published.Agree(t, source, "Welch's degrees of freedom", d.DoF, g.DoF, 9)
	}
	for _, l := range file.Lines {
		published.Agree(t, source, "correlation", Correlation(l.At, l.Values), l.Correlation, 12)
	}
	if len(file.Groups) < 3 || len(file.Lines) < 5 {
		t.Error("little was compared")
	}
}
