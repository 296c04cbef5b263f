package uncert

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/stat"

	"waywright/checks"
)

type published struct {
	Quantity  string
	Value     string
	Where     string
	Tolerance string `json:"suggested_tolerance"`
}

type publishedItem struct {
	Published []published
	Items     []struct {
		Name      string
		Published []published
		Inputs    struct {
			T []string `json:"t_degC"`
		}
	}
}

func readPublished(t *testing.T, name string) publishedItem {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "published", "gum", name))
	if err != nil {
		t.Fatal(err)
	}
	var it publishedItem
	if err := json.Unmarshal(b, &it); err != nil {
		t.Fatal(err)
	}
	return it
}

func want(t *testing.T, ps []published, quantity string, got float64) {
	t.Helper()
	for _, p := range ps {
		if p.Quantity != quantity {
			continue
		}
		w, _ := strconv.ParseFloat(p.Value, 64)
		tol := 0.0
		if p.Tolerance != "" {
			tol, _ = strconv.ParseFloat(p.Tolerance, 64)
		}
		if !(math.Abs(got-w) <= tol+1e-9*math.Abs(w)) {
			t.Errorf("%s = %.8g, want %s ± %g (JCGM 100:2008, %s)", quantity, got, p.Value, tol, p.Where)
		}
		return
	}
	t.Fatalf("no published %q", quantity)
}

// The end gauge of JCGM 100:2008, H.1, in nm, with the model
// l = lS + d − lS·(δα·θ + αS·δθ).
func TestMeasureRule9EndGauge(t *testing.T) {
	pub := readPublished(t, "h1_end_gauge.json").Published
	rect := func(half float64) float64 { return half / math.Sqrt(3) }
	comparator := Instrument{Name: "comparator", HasError: true, HasZero: true, Repeatability: 13, RepeatabilityDoF: 24}
	// Five takes whose own spread is 0 would enter the pool of 25 readings; the
	// published pool stands alone, so d is a source with its ν.
	sources := []Source{
		{ID: "lS", U: 75.0 / 3, DoF: 18},
		{ID: "d", U: comparator.Repeatability / math.Sqrt(5), DoF: comparator.RepeatabilityDoF},
		{ID: "d1", U: 10 / 2.57, DoF: 5},
		{ID: "d2", U: 20.0 / 3, DoF: 8},
		{ID: "αS", U: rect(2e-6)},
		{ID: "θ", U: math.Hypot(0.2, 0.5/math.Sqrt2)},
		{ID: "δα", U: rect(1e-6), DoF: 50},
		{ID: "δθ", U: rect(0.05), DoF: 2},
	}
	m := mustNew(t, comparator, nil, sources...)
	x := []float64{50.000623e6, 215, 0, 0, 11.5e-6, -0.1, 0, 0}
	length := func(x []float64) (float64, bool) {
		return x[0] + x[1] + x[2] + x[3] - x[0]*(x[6]*x[5]+x[4]*x[7]), true
	}
	c, undefined := Gradient(length, x, m.U())
	if undefined != nil {
		t.Fatalf("undefined at %v", undefined)
	}
	r := m.Combine(c)
	y, _ := length(x)
	want(t, pub, "l", y/1e6)
	want(t, pub, "uc(l)", r.Std)
	want(t, pub, "uc2(l)", r.Std*r.Std)
	want(t, pub, "veff(l)", r.DoF)
	want(t, pub, "t99(16)", checks.TQuantile(0.995, math.Floor(r.DoF)))
	want(t, pub, "U99", checks.TQuantile(0.995, math.Floor(r.DoF))*r.Std)
	want(t, pub, "u(Delta)", 0.5/math.Sqrt2)
	want(t, pub, "u(theta)", sources[5].U)
	names := map[string]string{"δα": "|c(dalpha)|u(dalpha)", "δθ": "|c(dtheta)|u(dtheta)"}
	shown := 0
	for _, l := range r.Budget {
		if name, ok := names[l.Source]; ok {
			shown++
			want(t, pub, name, math.Abs(l.Sensitivity)*l.U)
		}
	}
	if shown != 2 {
		t.Errorf("%d of the two thermal sources are in the budget", shown)
	}
	only := m.Combine([]float64{0, 1, 1, 1, 0, 0, 0, 0})
	want(t, pub, "u(d)", only.Std)
	want(t, pub, "veff(d)", only.DoF)
}

// JCGM 100:2008, G.4.1, example: a product of three inputs.
func TestMeasureRule9WelchSatterthwaite(t *testing.T) {
	pub := readPublished(t, "g4_welch_satterthwaite.json").Published
	m := mustNew(t, Instrument{}, nil, Source{ID: "a", U: 0.25, DoF: 9}, Source{ID: "b", U: 0.57, DoF: 4}, Source{ID: "c", U: 0.82, DoF: 14})
	product := func(x []float64) (float64, bool) {
		return 100 * (1 + x[0]/100) * (1 + x[1]/100) * (1 + x[2]/100), true
	}
	c, _ := Gradient(product, []float64{0, 0, 0}, m.U())
	r := m.Combine(c)
	want(t, pub, "uc(y)/y", r.Std)
	want(t, pub, "veff", r.DoF)
	// The source has ν = 19.0 from figures that give 18.9987, which rounds down
	// to 18: t is 2.10 then, and U 2.16 instead of 2.15.
	near(t, "k", r.K, 2.10, 0.005)
	want(t, pub, "t95(19)", Coverage(19))
	want(t, pub, "U95/y", r.U)
}

// JCGM 100:2008, 4.4.3: 20 observations of a temperature; 4.3.7 and 4.4.5:
// limits taken as rectangular.
func TestMeasureRule2Clause4(t *testing.T) {
	it := readPublished(t, "clause4_small_examples.json")
	var temps []float64
	for _, s := range it.Items[0].Inputs.T {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		temps = append(temps, x)
	}
	o := Observation{ID: "t", Value: stat.Mean(temps, nil), Takes: temps}
	r := mustNew(t, Instrument{HasError: true, HasZero: true}, []Observation{o}).Combine([]float64{1})
	pub := it.Items[0].Published
	want(t, pub, "mean", o.Value)
	want(t, pub, "s", lineOf(t, r, Takes).U)
	want(t, pub, "s of mean", r.Std)
	near(t, "ν", r.DoF, 19, 1e-9)

	limit := func(half float64) float64 {
		in := Instrument{Error: half, HasError: true, HasZero: true}
		return mustNew(t, in, []Observation{{ID: "r"}}).U()[0]
	}
	for _, item := range it.Items {
		switch item.Name {
		case "rectangular 96..104":
			want(t, item.Published, "u", limit(4))
		case "asymmetric bounds 16.40..16.92":
			want(t, item.Published, "u", limit((16.92-16.40)/2))
		case "voltmeter specification: 14e-6 of reading + 2e-6 of range; reading 0.928571 V, range 1 V":
			want(t, item.Published, "u", limit(14*0.928571+2))
		}
	}
}

// JCGM 100:2008, Table G.2, column 95 %, degrees of freedom rounded down.
func TestMeasureRule9Coverage(t *testing.T) {
	for _, tt := range []struct{ dof, want float64 }{
		{1, 12.71}, {4, 2.78}, {4.99, 2.78}, {5, 2.57}, {5 - 1e-12, 2.57}, {16.7, 2.12}, {100, 1.984},
		{math.Inf(1), 1.960}, {0.6, 12.71},
	} {
		near(t, "Coverage("+strconv.FormatFloat(tt.dof, 'g', -1, 64)+")", Coverage(tt.dof), tt.want, 0.005)
	}
}
