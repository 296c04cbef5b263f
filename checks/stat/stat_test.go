package stat

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"waywright/checks/internal/published"
)

// TestStRD holds mean and standard deviation against the univariate sets of
// the NIST Statistical Reference Datasets, and prints the digits that agree
// (log relative error, as NIST counts them). How many digits double precision
// can reach was found independently; a tenth of a digit is left for rounding.
func TestStRD(t *testing.T) {
	var sets map[string]struct {
		Kind, File string
		First      int `json:"first_data_line"`
		N          int
		Certified  struct {
			Mean  string
			Stdev string `json:"sd_n_minus_1"`
		}
		Reached struct{ Mean, SD float64 } `json:"float64_digits_reached"`
	}
	published.Read(t, "nist_strd/certified.json", &sets)
	done := 0
	for name, set := range sets {
		if set.Kind != "univariate" {
			continue
		}
		done++
		x := column(t, "nist_strd/"+set.File, set.First)
		if len(x) != set.N {
			t.Fatalf("%s: read %d values, want %d", name, len(x), set.N)
		}
		source := "NIST StRD " + name
		published.Agree(t, source, "mean", Mean(x), published.Number(t, set.Certified.Mean), set.Reached.Mean-0.1)
		published.Agree(t, source, "standard deviation", Stdev(x), published.Number(t, set.Certified.Stdev), set.Reached.SD-0.1)
		if want := Stdev(x) / math.Sqrt(float64(len(x))); StandardError(x) != want {
			t.Errorf("%s: standard error %v, want %v", name, StandardError(x), want)
		}
	}
	if done != 6 {
		t.Errorf("%d univariate sets, want 6", done)
	}
}

func column(t *testing.T, name string, first int) (x []float64) {
	t.Helper()
	f, err := os.Open(published.Path(name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	line := 0
	for s := bufio.NewScanner(f); s.Scan(); {
		if line++; line < first || strings.TrimSpace(s.Text()) == "" {
			continue
		}
		r, err := csv.NewReader(strings.NewReader(strings.TrimSpace(s.Text()))).Read()
		if err != nil {
			t.Fatal(err)
		}
		v, err := strconv.ParseFloat(r[len(r)-1], 64)
		if err != nil {
			t.Fatalf("%s line %d: %v", name, line, err)
		}
		x = append(x, v)
	}
	return x
}

// TestPublishedTakes holds the statistics of 20 takes against JCGM 100:2008,
// 4.4.3.
func TestPublishedTakes(t *testing.T) {
	var file struct {
		Items []struct {
			Inputs struct {
				T []string `json:"t_degC"`
			}
			Published []published.Entry
		}
	}
	published.Read(t, "gum/clause4_small_examples.json", &file)
	var x []float64
	for _, s := range file.Items[0].Inputs.T {
		x = append(x, published.Number(t, s))
	}
	pub := published.NewSheet("JCGM 100:2008", file.Items[0].Published)
	pub.Hold(t, "mean", Mean(x))
	pub.Hold(t, "s", Stdev(x))
	pub.Hold(t, "s of mean", StandardError(x))
	pub.Whole(t)
}

// TestShifted asks that moving the indicator's zero changes no spread, and
// that order does not matter.
func TestShifted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.SliceOfN(rapid.Float64Range(-1, 1), 2, 30).Draw(t, "x")
		shift := rapid.Float64Range(-100, 100).Draw(t, "shift")
		y := make([]float64, len(x))
		for i := range x {
			y[len(x)-1-i] = x[i] + shift
		}
		for name, d := range map[string]float64{
			"stdev":  Stdev(y) - Stdev(x),
			"spread": Spread(y) - Spread(x),
			"mean":   Mean(y) - Mean(x) - shift,
		} {
			if math.Abs(d) > 1e-12 {
				t.Fatalf("%s changes by %v", name, d)
			}
		}
		if x[WhereGreatest(x)]-x[WhereLeast(x)] != Spread(x) {
			t.Fatal("spread is not greatest less least")
		}
	})
}

func TestFirstOfEqual(t *testing.T) {
	x := []float64{1, 3, 0, 3, 0}
	if WhereGreatest(x) != 1 || WhereLeast(x) != 2 {
		t.Errorf("greatest at %d, least at %d; want 1, 2", WhereGreatest(x), WhereLeast(x))
	}
}

// TestPublishedStdevOfStdev holds how widely the standard deviation of n
// readings scatters, as a share of what it is on average, against JCGM
// 100:2008, Table E.1, by drawing readings. A per cent is the last figure of
// the table.
func TestPublishedStdevOfStdev(t *testing.T) {
	pub := published.ReadSheet(t, "gum/table_e1.json")
	r := rand.New(rand.NewPCG(5, 1))
	for _, n := range []int{2, 3, 4, 5, 10, 20, 30, 50} {
		s, x := make([]float64, 20_000), make([]float64, n)
		for i := range s {
			for k := range x {
				x[k] = 25 + 0.001*r.NormFloat64()
			}
			s[i] = Stdev(x)
		}
		pub.HoldTo(t, fmt.Sprint("n = ", n), 100*Stdev(s)/Mean(s), 1)
	}
	pub.Whole(t)
}
