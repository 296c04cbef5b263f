package compile_test

import (
	"math"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/value"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
)

func programOf(t *testing.T, src string) *formula.Program {
	t.Helper()
	e, diags := hclsyntax.ParseExpression([]byte(src), "x", hcl.InitialPos)
	if diags.HasErrors() {
		t.Fatalf("%s: %v", src, diags)
	}
	p, diags := compile.Expr(e, []byte(src), bench(), compile.Any("the value"))
	if p == nil || diags.HasErrors() {
		t.Fatalf("%s: %v", src, diags)
	}
	return p
}

// Readings vary, and nothing else does.
func measuredOnly(r formula.Ref) formula.Traits {
	return formula.Traits{Varies: r.Space == formula.Reading, NonNegative: r.Name == "span"}
}

func TestMeasureRule10Traits(t *testing.T) {
	for _, tt := range []struct {
		src            string
		varies, kinked bool
	}{
		{"given.span * 2", false, false},
		{"reading.slack - um(3)", true, false},
		{"reading.diameter.far - reading.diameter.near", true, false},
		{"abs(reading.slack)", true, true},
		{"abs(given.span)", false, false},
		{"greatest(reading.bar)", true, true},
		{`straightness(reading.bar, "minimum_zone")`, true, true},
		{"mean(reading.takes)", true, false},
		{"spread(reading.takes)", true, true},
		{"reading.slack > um(5) ? reading.slack : um(5)", true, true},
		{"given.span > mm(5) ? reading.slack : um(5)", true, false},
		{"um(3) + (reading.slack == um(1) ? um(1) : um(2))", true, true},
		{"[for k, v in result.moves : v]", false, false},
		{"sum([for k, v in reading.top : v.full - v.half])", true, false},
		{"sum([for k, v in reading.top : v.full if v.full > um(3)])", true, true},
		{"sum([for k, v in reading.top : abs(v.full)])", true, true},
		{"result.taper", false, false},
	} {
		got := programOf(t, tt.src).Traits(measuredOnly)
		if got.Varies != tt.varies || got.Kinked != tt.kinked {
			t.Errorf("%s: %+v, want varies %t, kinked %t", tt.src, got, tt.varies, tt.kinked)
		}
	}
}

func TestMeasureRule15Traits(t *testing.T) {
	for _, tt := range []struct {
		src  string
		want bool
	}{
		{"um(3)", true},
		{"-um(3)", false},
		{"reading.slack", false},
		{"abs(reading.slack)", true},
		{"-abs(reading.slack)", false},
		{"abs(reading.slack) - um(1)", false},
		{"abs(reading.slack) + um(1)", true},
		{"abs(reading.slack) * 2", true},
		{"abs(reading.slack) * -2", false},
		{"abs(reading.slack) / given.span", true},
		{"runout(reading.round) / 2", true},
		{"given.span > mm(5) ? spread(reading.takes) : um(0)", true},
		{"given.span > mm(5) ? spread(reading.takes) : reading.slack", false},
		{"greatest([abs(reading.slack), um(2)])", true},
		{"mean([abs(reading.slack), reading.slack])", false},
		{"greatest([for k, v in reading.top : abs(v.full)])", true},
		{"hypot(reading.slack, um(2))", true},
	} {
		if got := programOf(t, tt.src).Traits(measuredOnly).NonNegative; got != tt.want {
			t.Errorf("%s: not negative %t, want %t", tt.src, got, tt.want)
		}
	}
}

func TestApart(t *testing.T) {
	for _, tt := range []struct {
		src, name string
		want      bool
	}{
		{"spread(reading.takes)", "takes", true},
		{"stdev(reading.takes) + reading.slack", "takes", true},
		{"mean(reading.takes)", "takes", false},
		{"reading.takes - mm(20)", "takes", false},
		{"spread(reading.diameter.near)", "diameter", true},
		{"reading.diameter.far - reading.diameter.near", "diameter", false},
		{"spread(reading.bar)", "bar", false},
		{"spread([for k, v in reading.diameter : v])", "diameter", false},
		{"greatest([for k, v in reading.diameter : spread(v)])", "diameter", true},
		{"{for k, v in reading.diameter : k => spread(v)}", "diameter", true},
		{"{for k, v in reading.diameter : k => mean(v)}", "diameter", false},
	} {
		if got := programOf(t, tt.src).Apart(formula.Ref{Space: formula.Reading, Name: tt.name}); got != tt.want {
			t.Errorf("%s: looks at the takes of %s one by one: %t, want %t", tt.src, tt.name, got, tt.want)
		}
	}
}

func TestDivisors(t *testing.T) {
	for _, tt := range []struct {
		src  string
		want []float64
	}{
		{"reading.slack / 2", nil},
		{"reading.slack / given.span", []float64{250}},
		{"um(1) / (given.span - given.pads) + um(1) / given.pads", []float64{30, 220}},
		{"result.moves / given.span", []float64{250}},
		{"[for k, v in result.moves : v / given.span]", []float64{250}},
		{"[for k, v in result.moves : um(1) / v]", nil},
	} {
		p := programOf(t, tt.src)
		var got []float64
		for _, d := range p.Divisors() {
			got = append(got, d.Eval(measured()).Num)
		}
		if len(got) != len(tt.want) {
			t.Errorf("%s: divisors %v, want %v", tt.src, got, tt.want)
			continue
		}
		for i := range got {
			if math.Abs(got[i]-tt.want[i]) > 1e-9 {
				t.Errorf("%s: divisors %v, want %v", tt.src, got, tt.want)
			}
		}
	}
}

// A zone gives its two limits, and a take of a reading may be given beside its
// mean.
func TestEachZonesAndTakes(t *testing.T) {
	p := programOf(t, "between(reading.slack, 3 * reading.slack)")
	b, err := p.Each(measured(), []formula.Slot{{Ref: 0}})
	if err != nil {
		t.Fatal(err)
	}
	if len(b.Leaves()) != 2 {
		t.Fatalf("a zone has %v", b.Leaves())
	}
	out := [][]float64{make([]float64, 2), make([]float64, 2)}
	b.RunEach([][]float64{{1, 2}}, out)
	if out[0][0] != 1 || out[1][0] != 3 || out[0][1] != 2 || out[1][1] != 6 {
		t.Errorf("limits %v, want [[1 2] [3 6]]", out)
	}
	q := programOf(t, "none_below(reading.slack)")
	if b, err = q.Each(measured(), []formula.Slot{{Ref: 0}}); err != nil {
		t.Fatal(err)
	}
	b.RunEach([][]float64{{1, 2}}, out)
	if out[0][1] != 2 || !math.IsInf(out[1][1], 1) {
		t.Errorf("a zone without an upper limit gives %v", out)
	}
	env := measured()
	env["reading.takes"] = value.TakesOf(1, 2, 6)
	both := programOf(t, "spread(reading.takes) + reading.takes")
	if b, err = both.Each(env, []formula.Slot{{Ref: 0, Path: []int{0}}, {Ref: 0, Path: []int{1}}, {Ref: 0, Path: []int{2}}}); err != nil {
		t.Fatal(err)
	}
	one := [][]float64{make([]float64, 1)}
	b.RunEach([][]float64{{1}, {4}, {10}}, one)
	if one[0][0] != 9+5 {
		t.Errorf("spread and mean of 1, 4 and 10 are together %v, want 14", one[0][0])
	}
}
