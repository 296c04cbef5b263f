package uncert

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// micrometer is DIN 863 as common practice has it, in µm: 1 µm read, limit of
// error 4 µm, one take scatters 1 µm, half a millimetre a turn.
var micrometer = Instrument{Name: "micrometer", Kind: "outside micrometer", Resolution: 1, Error: 4, HasError: true,
	Repeatability: 1, Turn: 500}

// mustNew makes a model of observations with one instrument.
func mustNew(t testing.TB, in Instrument, os []Observation, ss ...Source) *Model {
	t.Helper()
	m, err := New([]Instrument{in}, os, ss)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.6g, want %.6g ± %g", what, got, want, tol)
	}
}

// lineOf returns the budget's line of that kind; there must be exactly one.
func lineOf(t *testing.T, r Result, k Kind) Line {
	t.Helper()
	var found []Line
	for _, l := range r.Budget {
		if l.Kind == k {
			found = append(found, l)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%d lines of %v in %+v, want 1", len(found), k, r.Budget)
	}
	return found[0]
}

func takes(v ...float64) Observation {
	o := Observation{ID: "r", Takes: v}
	for _, x := range v {
		o.Value += x / float64(len(v))
	}
	return o
}

// Two sources on two readings, by hand: a shared one of u = 3 enters a sum
// twice and a difference not at all; own ones of u = 4 add in squares.
func TestMeasureRule1SharedSources(t *testing.T) {
	bare := Instrument{Name: "bare", HasError: true, HasZero: true}
	m := mustNew(t, bare, []Observation{{ID: "a"}, {ID: "b"}},
		Source{ID: "common", U: 3, On: []Effect{{"a", 1}, {"b", 1}}},
		Source{ID: "of a", U: 4, On: []Effect{{"a", 1}}},
		Source{ID: "of b", U: 4, On: []Effect{{"b", 1}}})
	near(t, "u(a)", m.U()[0], 5, 1e-12)
	near(t, "u(a + b)", m.Combine([]float64{1, 1}).Std, math.Sqrt(36+32), 1e-12)
	diff := m.Combine(Less([]float64{1, 0}, []float64{0, 1}))
	near(t, "u(a − b)", diff.Std, math.Sqrt(32), 1e-12)
	for _, l := range diff.Budget {
		if l.Source == "common" {
			t.Errorf("the common source stands in the budget of a difference: %+v", l)
		}
	}
}

// Pooling by hand: s0 = 1 with ν0 = 8 and three takes of variance 4 give
// (8·1 + 2·4)/10 = 1.6 with ν = 10; a mean of three has 1.6/3.
func TestMeasureRule2Pooled(t *testing.T) {
	in := Instrument{Name: "m", Repeatability: 1, HasError: true, HasZero: true}
	m := mustNew(t, in, []Observation{takes(-2, 0, 2)})
	r := m.Combine([]float64{1})
	near(t, "u", r.Std, math.Sqrt(1.6/3), 1e-12)
	near(t, "ν", r.DoF, 10, 1e-9)
	near(t, "k", r.K, 2.228, 0.001) // t(0.975, 10)
	near(t, "U", r.U, r.K*r.Std, 0)

	in.RepeatabilityDoF = 2
	r = mustNew(t, in, []Observation{takes(-2, 0, 2)}).Combine([]float64{1})
	near(t, "u with ν0 = 2", r.Std, math.Sqrt(2.5/3), 1e-12) // (2·1 + 2·4)/4
	near(t, "ν with ν0 = 2", r.DoF, 4, 1e-9)

	in.Repeatability, in.RepeatabilityDoF = 0, 0
	m = mustNew(t, in, []Observation{takes(-2, 0, 2)})
	r = m.Combine([]float64{1})
	near(t, "u without s0", r.Std, 2/math.Sqrt(3), 1e-12)
	near(t, "ν without s0", r.DoF, 2, 1e-9)
	want := []Note{{Kind: RepeatabilityUnknown, Instrument: "m", DoF: 2}}
	if d := cmp.Diff(want, m.Notes()); d != "" {
		t.Errorf("notes (-want +got):\n%s", d)
	}
}

// Readings pool only with the same instrument and the same pool.
func TestMeasureRule2PoolsApart(t *testing.T) {
	in := Instrument{Name: "m", HasError: true, HasZero: true}
	a, b := takes(-1, 1), takes(-3, 3)
	a.ID, a.Pool, b.ID, b.Pool = "a", "first step", "b", "first step"
	together := mustNew(t, in, []Observation{a, b}).Combine([]float64{1, 0})
	near(t, "u(a) pooled", together.Std, math.Sqrt(10.0/2), 1e-12) // (2 + 18)/2, two takes
	b.Pool = "second step"
	alone := mustNew(t, in, []Observation{a, b}).Combine([]float64{1, 0})
	near(t, "u(a) alone", alone.Std, 1, 1e-12)
	near(t, "ν alone", alone.DoF, 1, 1e-9)
	b.Pool, b.Instrument = "first step", 1
	m, err := New([]Instrument{in, in}, []Observation{a, b}, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "u(a) beside another instrument", m.Combine([]float64{1, 0}).Std, 1, 1e-12)
}

// F(0.99; 2, 8) = 8.649 (tables of the F distribution): three takes may
// scatter up to 2.94 s0.
func TestMeasureRule2SpreadTooLarge(t *testing.T) {
	in := Instrument{Name: "m", Repeatability: 1, HasError: true, HasZero: true}
	fine := takes(-2.93, 0, 2.93)
	wild := takes(-2.95, 0, 2.95)
	fine.ID, wild.ID = "fine", "wild"
	if n := mustNew(t, in, []Observation{fine}).Notes(); len(n) != 0 {
		t.Errorf("notes of a spread of 2.93 s0: %+v, want none", n)
	}
	m := mustNew(t, in, []Observation{fine, wild})
	want := []Note{{Kind: SpreadTooLarge, ID: "wild", Instrument: "m", Spread: 2.95, Expected: 1}}
	if d := cmp.Diff(want, m.Notes(), cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })); d != "" {
		t.Errorf("notes (-want +got):\n%s", d)
	}
	r := m.Combine([]float64{0, 1})
	near(t, "u(wild)", r.Std, 2.95/math.Sqrt(3), 1e-9)
	near(t, "ν(wild)", r.DoF, 2, 1e-9)
	r = m.Combine([]float64{1, 0})
	near(t, "u(fine)", r.Std, math.Sqrt((8+2*2.93*2.93)/10/3), 1e-9) // the wild one is not in the pool
}

// F(0.99; 1, 8) = 11.26 (tables of the F distribution): of a level that scatters
// by 2 and is read to 5, two takes may lie √(2·11.26·(4 + 25/12)) = 11.7 apart.
// Two steps are 10, and rounding makes them easily; without it they would count
// as scatter of 7.1, known with one degree of freedom.
func TestMeasureRule2RoundingIsNoScatter(t *testing.T) {
	in := Instrument{Name: "level", Repeatability: 2, Resolution: 5, HasError: true, HasZero: true}
	near, far := takes(115, 125), takes(115, 130)
	near.ID, far.ID = "near", "far"
	m := mustNew(t, in, []Observation{near, far})
	if n := m.Notes(); len(n) != 1 || n[0].Kind != SpreadTooLarge || n[0].ID != "far" {
		t.Errorf("notes: %+v, want that of the takes 15 apart alone", n)
	}
	for _, tt := range []struct {
		takes []float64
		want  bool
	}{{[]float64{115, 125}, false}, {[]float64{115, 130}, true}} {
		if got := Scatters(in, tt.takes); got != tt.want {
			t.Errorf("%v scatter: %v, want %v", tt.takes, got, tt.want)
		}
	}
}

func TestMeasureRule3Resolution(t *testing.T) {
	in := Instrument{Name: "m", Resolution: 6, HasError: true, HasZero: true}
	step := 6 / math.Sqrt(12)
	r := mustNew(t, in, []Observation{takes(5, 5, 5)}).Combine([]float64{1})
	near(t, "u of equal takes", r.Std, step, 1e-12) // never 0, never less by √3
	if !math.IsInf(r.DoF, 1) {
		t.Errorf("ν of equal takes = %g, want ∞", r.DoF)
	}
	in.Repeatability = 1 // 1/√3 is less than the step's 1.73
	near(t, "u of three takes", mustNew(t, in, []Observation{takes(5, 5, 5)}).Combine([]float64{1}).Std, step, 1e-12)
	in.Repeatability = 4
	r = mustNew(t, in, []Observation{takes(2, 5, 8)}).Combine([]float64{1})
	near(t, "u of scattered takes", r.Std, math.Sqrt((8*16+2*9)/10.0/3), 1e-12)
	near(t, "ν of scattered takes", r.DoF, 10, 1e-9)
	// A single take has both.
	r = mustNew(t, in, []Observation{{ID: "r", Value: 5}}).Combine([]float64{1})
	near(t, "u of one take", r.Std, math.Sqrt(16+3), 1e-12)
	near(t, "ν of one take", r.DoF, 8*19*19/(16.0*16), 1e-9)
}

// JCGM 100:2008, F.2.2.1: a step of a has a standard uncertainty of 0.29 a.
func TestMeasureRule3Published(t *testing.T) {
	r := mustNew(t, Instrument{Name: "m", Resolution: 1, HasError: true, HasZero: true},
		[]Observation{takes(5, 5)}).Combine([]float64{1})
	near(t, "u of a step of 1", r.Std, 0.29, 0.005)
}

func TestMeasureRule4Zero(t *testing.T) {
	level := Instrument{Name: "level", Kind: "machine level", HasError: true, Zero: 3 * math.Sqrt(3), HasZero: true}
	tests := []struct {
		name string
		b    Observation
		sens []float64
		want float64 // u from the zero, 3 by itself
	}{
		{"one reading", Observation{}, []float64{1, 0}, 3},
		{"difference", Observation{}, []float64{-1, 1}, 0},
		{"sum", Observation{}, []float64{1, 1}, 6},
		{"mean of a reversal", Observation{Turned: true}, []float64{0.5, 0.5}, 0},
		{"half difference of a reversal is the zero", Observation{Turned: true}, []float64{0.5, -0.5}, 3},
		{"difference over a new zero", Observation{Setting: "second"}, []float64{-1, 1}, 3 * math.Sqrt2},
		{"moved", Observation{Moved: true}, []float64{0, 1}, 0},
	}
	for _, tt := range tests {
		tt.b.ID = "b"
		m := mustNew(t, level, []Observation{{ID: "a"}, tt.b})
		near(t, "u of "+tt.name, m.Combine(tt.sens).Std, tt.want, 1e-12)
	}
	// Not known: as doubtful as the indication, limit E.
	level.HasZero, level.Zero, level.Error = false, 0, math.Sqrt(3)
	r := mustNew(t, level, []Observation{{ID: "a"}}).Combine([]float64{1})
	near(t, "unknown zero", lineOf(t, r, Zero).U, 1, 1e-12)
	near(t, "indication", lineOf(t, r, Indication).U, 1, 1e-12)
}

// Twist is the range of cross readings of a level that always stands the same
// way round: its zero drops out of the difference of any two.
func TestMeasureRule4LevelTwist(t *testing.T) {
	level := Instrument{Name: "level", Kind: "machine level", Resolution: 0.02, Error: 0.02, HasError: true, Zero: 1, HasZero: true}
	m := mustNew(t, level, []Observation{{ID: "head", Value: 0.30}, {ID: "tail", Value: 0.38}})
	r := m.Combine([]float64{-1, 1})
	for _, l := range r.Budget {
		if l.Kind == Zero {
			t.Errorf("the level's zero stands in the budget of twist: %+v", l)
		}
	}
	// More than a division apart: both indications independent, both steps.
	near(t, "u(twist)", r.Std, math.Sqrt(2*0.02*0.02/3+2*0.02*0.02/12), 1e-12)
}

func TestMeasureRule5Indication(t *testing.T) {
	at := func(v float64) Observation { return Observation{ID: "r", Value: v} }
	in := Instrument{Name: "m", Error: math.Sqrt(3), HasError: true, HasZero: true, Turn: 500}
	diff := []float64{-1, 1}
	for _, tt := range []struct {
		name     string
		distance float64
		want     float64
	}{
		{"same place", 0, 0},
		{"a tenth of a turn", 50, math.Sqrt(2 * 0.1)},
		{"half a turn", 250, 1},
		{"a turn", 500, math.Sqrt2},
		{"further", 5000, math.Sqrt2},
	} {
		m := mustNew(t, in, []Observation{at(20000), at(20000 + tt.distance)})
		near(t, tt.name, m.Combine(diff).Std, tt.want, 1e-9)
	}
	// A reversed level: its scale ran from −v, so equal recorded values of plus
	// and minus are what lies in one place, and its error drops out of the mean.
	a, b := at(40), at(-40)
	b.Turned = true
	near(t, "mean of a reversal", mustNew(t, in, []Observation{a, b}).Combine([]float64{0.5, 0.5}).Std, 0, 1e-9)
	// Another setting is independent.
	b = at(40)
	b.Setting = "second"
	near(t, "another setting", mustNew(t, in, []Observation{a, b}).Combine(diff).Std, math.Sqrt2, 1e-9)
}

// Two collars 0.03 mm apart, read three times each with E = 4 µm: u of the
// taper by hand. Indication 2·(1 − 0.94)·16/3 = 0.64, takes 2·1/3.
// Independent indications would add 2·16/3 = 10.67 to the same takes: 3.4 µm.
func TestMeasureRule5TwoCollars(t *testing.T) {
	near1 := Observation{ID: "near", Value: 25000, Takes: []float64{24999, 25000, 25001}}
	far := Observation{ID: "far", Value: 25030, Takes: []float64{25029, 25030, 25031}}
	r := mustNew(t, micrometer, []Observation{near1, far}).Combine([]float64{-1, 1})
	near(t, "from indication", lineOf(t, r, Indication).Share*r.Std*r.Std, 0.64, 1e-9)
	near(t, "u(taper)", r.Std, math.Sqrt(0.64+2.0/3), 1e-9)
	far.Setting = "after a new zero"
	m := mustNew(t, micrometer, []Observation{near1, far})
	r = m.Combine([]float64{-1, 1})
	var indication float64
	for _, l := range r.Budget {
		if l.Kind != Zero {
			indication += l.Share * r.Std * r.Std
		}
	}
	near(t, "u(taper), independent", math.Sqrt(indication), 3.4, 0.05)
}

func TestMeasureRule5Certificate(t *testing.T) {
	in := Instrument{Name: "m", Error: 4, HasError: true, CertU: 1.2, HasZero: true}
	m := mustNew(t, in, []Observation{{ID: "r"}})
	near(t, "U/2", m.U()[0], 0.6, 1e-12)
	in.CertK = 3
	near(t, "U/3", mustNew(t, in, []Observation{{ID: "r"}}).U()[0], 0.4, 1e-12)
	// No error stated: the step stands for it.
	in = Instrument{Name: "m", Resolution: 10, HasZero: true}
	r := mustNew(t, in, []Observation{{ID: "r"}}).Combine([]float64{1})
	near(t, "E = a", lineOf(t, r, Indication).U, 10/math.Sqrt(3), 1e-12)
}

// A movement of 18 µm on a dial of 10 µm steps, no error stated: the step
// once, indication 2·(18/1000)·10²/3.
func TestMeasureRule5Moved(t *testing.T) {
	dial := Instrument{Name: "indicator", Kind: "dial indicator on the tailstock barrel", Resolution: 0.010}
	m := mustNew(t, dial, []Observation{{ID: "moved", Value: 0.018, Moved: true}})
	near(t, "u(moved)", m.U()[0], math.Sqrt(0.010*0.010/12+2*0.018*0.010*0.010/3), 1e-12)
	dial.Repeatability = 0.001
	m = mustNew(t, dial, []Observation{{ID: "moved", Value: 0.018, Moved: true}})
	r := m.Combine([]float64{1})
	near(t, "scatter twice", lineOf(t, r, Takes).Sensitivity, math.Sqrt2, 1e-12)
	near(t, "step once", lineOf(t, r, Resolution).Sensitivity, 1, 1e-12)
	near(t, "the other way", mustNew(t, dial, []Observation{{ID: "moved", Value: -0.018, Moved: true, Turned: true}}).U()[0], r.Std, 1e-12)
}

func TestMeasureRule5UnknownKind(t *testing.T) {
	in := Instrument{Name: "m", Kind: "home-made gauge", Error: math.Sqrt(3), HasError: true, HasZero: true}
	m := mustNew(t, in, []Observation{{ID: "a", Value: 1}, {ID: "b", Value: 1.01}})
	near(t, "difference as if independent", m.Combine([]float64{-1, 1}).Std, math.Sqrt2, 1e-12)
	near(t, "sum as if alike", m.Combine([]float64{1, 1}).Std, 2, 1e-12)
	want := []Note{{Kind: RepeatabilityUnknown, Instrument: "m"}, {Kind: ReachUnknown, Instrument: "m"}}
	if d := cmp.Diff(want, m.Notes()); d != "" {
		t.Errorf("notes (-want +got):\n%s", d)
	}
}

func TestMeasureRule5Reach(t *testing.T) {
	for _, tt := range []struct {
		kind string
		want float64
		ok   bool
	}{
		{"outside micrometer", 0.5, true},
		{"Depth Micrometer, 0-25", 0.5, true},
		{"dial indicator", 1, true},
		{"dial indicator on the tailstock barrel", 1, true},
		{"plunger indicator", 1, true},
		{"lever indicator", 0.2, true},
		{"lever-type dial gauge", 0.2, true},
		{"dial test indicator", 0.2, true},
		{"machine level", 0.02, true},
		{"bevel protractor", 0, false},
		{"height gauge", 0, false},
		{"", 0, false},
	} {
		got, ok := Reach(tt.kind, 0.02)
		if got != tt.want || ok != tt.ok {
			t.Errorf("Reach(%q) = %g, %v, want %g, %v", tt.kind, got, ok, tt.want, tt.ok)
		}
	}
}

// Two readings that share one s_p of ν = 4 have ν = 4 together, not 8: t(0.95)
// is 2.13, not 1.86 (JCGM 100:2008, Table G.2, 90 % column).
func TestMeasureRule9SharedScatterCountsOnce(t *testing.T) {
	in := Instrument{Name: "m", HasError: true, HasZero: true}
	a, b := takes(-1, 0, 1), takes(9, 10, 11)
	a.ID, b.ID = "a", "b"
	r := mustNew(t, in, []Observation{a, b}).Combine([]float64{-1, 1})
	near(t, "ν", r.DoF, 4, 1e-9)
	near(t, "k", r.K, 2.78, 0.005) // Table G.2, 95 %
	b.Pool = "another step"
	r = mustNew(t, in, []Observation{a, b}).Combine([]float64{-1, 1})
	near(t, "ν of separate scatters", r.DoF, 4, 1e-9) // 2 + 2 with equal u, each ν = 2
	if len(r.Budget) != 2 {
		t.Errorf("budget of separate scatters: %+v, want 2 lines", r.Budget)
	}
}

func TestMeasureRule20SameTakes(t *testing.T) {
	same := []Note{{Kind: SameTakes, ID: "r", Instrument: "m", Expected: 1}}
	for _, tt := range []struct {
		o    Observation
		step float64
		want []Note
	}{
		{takes(3, 3, 3, 3, 3), 1, same},
		{takes(3, 3, 3, 3), 1, nil},
		{takes(3, 3, 3, 3, 4), 1, nil},
		{takes(3, 3, 3, 3, 3), 2, nil}, // s0 is not above half a step: equal takes are to be expected
	} {
		in := Instrument{Name: "m", Resolution: tt.step, Repeatability: 1}
		m := mustNew(t, in, []Observation{tt.o})
		if d := cmp.Diff(tt.want, m.Notes()); d != "" {
			t.Errorf("notes of %v with a step of %g (-want +got):\n%s", tt.o.Takes, tt.step, d)
		}
	}
}

func TestNewRefuses(t *testing.T) {
	nan := math.NaN()
	ok := []Instrument{{Name: "m"}}
	for _, tt := range []struct {
		name string
		in   []Instrument
		os   []Observation
		ss   []Source
		want string
	}{
		{"a negative step", []Instrument{{Name: "m", Resolution: -1}}, nil, nil, `uncert: instrument "m": -1 is negative or not finite`},
		{"an error of NaN", []Instrument{{Name: "m", Error: nan}}, nil, nil, `uncert: instrument "m": NaN is negative or not finite`},
		{"no such instrument", ok, []Observation{{ID: "r", Instrument: 1}}, nil, `uncert: reading "r": there is no instrument 1`},
		{"a take of infinity", ok, []Observation{{ID: "r", Takes: []float64{1, math.Inf(1)}}}, nil, `uncert: reading "r": +Inf is not finite`},
		{"a negative u", ok, nil, []Source{{ID: "s", U: -2}}, `uncert: source "s": u = -2 with 0 degrees of freedom`},
		{"an unknown reading", ok, nil, []Source{{ID: "s", On: []Effect{{"x", 1}}}}, `uncert: source "s" acts on "x", which is no reading here`},
	} {
		_, err := New(tt.in, tt.os, tt.ss)
		if err == nil || err.Error() != tt.want {
			t.Errorf("New with %s: %v, want %q", tt.name, err, tt.want)
		}
	}
}

// For any readings and sensitivities: shares add to one, u scales with the
// sensitivities, no variance is negative, and the same inputs give the same
// bits.
func TestCombineProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(label string) float64 { return rapid.Float64Range(-10, 10).Draw(t, label) }
		instruments := []Instrument{micrometer, {Name: "dial", Kind: "dial", Resolution: 0.5}, {Name: "odd", Error: 2, Zero: 0, HasZero: true}}
		var os []Observation
		var c, c2 []float64
		for range rapid.IntRange(1, 8).Draw(t, "readings") {
			o := Observation{ID: "r", Value: num("value"), Instrument: rapid.IntRange(0, 2).Draw(t, "instrument"),
				Setting: rapid.SampledFrom([]string{"", "a"}).Draw(t, "setting"), Pool: rapid.SampledFrom([]string{"", "p"}).Draw(t, "pool"),
				Turned: rapid.Bool().Draw(t, "turned"), Moved: rapid.Bool().Draw(t, "moved")}
			for range rapid.IntRange(0, 4).Draw(t, "takes") {
				o.Takes = append(o.Takes, o.Value+num("take")/5)
			}
			os = append(os, o)
			c = append(c, num("c"))
			c2 = append(c2, -3*c[len(c)-1])
		}
		m, err := New(instruments, os, []Source{{ID: "length", U: 0.5}})
		if err != nil {
			t.Fatal(err)
		}
		c, c2 = append(c, 1), append(c2, -3)
		r, again, scaled := m.Combine(c), m.Combine(c), m.Combine(c2)
		if d := cmp.Diff(r, again); d != "" {
			t.Fatalf("the same inputs differ: %s", d)
		}
		var share float64
		for _, l := range r.Budget {
			share += l.Share
			if !(l.Share > 0) || !(l.U > 0) || !(l.DoF > 0) {
				t.Fatalf("line %+v", l)
			}
		}
		if math.Abs(share-1) > 1e-9 || !(r.Std >= 0.5) || !(r.DoF > 0) || !(r.K >= 1.95) {
			t.Fatalf("shares add to %g in %+v", share, r)
		}
		if math.Abs(scaled.Std-3*r.Std) > 1e-9*r.Std || math.Abs(scaled.DoF-r.DoF) > 1e-6*r.DoF && !math.IsInf(r.DoF, 1) {
			t.Fatalf("three times the sensitivities: u %g, ν %g from u %g, ν %g", scaled.Std, scaled.DoF, r.Std, r.DoF)
		}
	})
}

// A given counts with its own sensitivity; an exact one not at all.
func TestRule15Givens(t *testing.T) {
	m := mustNew(t, Instrument{}, nil, Source{ID: "span", U: 0.5, DoF: 5}, Source{ID: "pitch"})
	r := m.Combine([]float64{-2, 7})
	want := []Line{{Kind: Given, Source: "span", U: 0.5, Sensitivity: -2, DoF: 5, Share: 1, On: []int{0}}}
	if d := cmp.Diff(want, r.Budget); d != "" {
		t.Errorf("budget (-want +got):\n%s", d)
	}
	near(t, "u", r.Std, 1, 1e-12)
	near(t, "ν", r.DoF, 5, 1e-9)
	if m.Index("pitch") != 1 || m.ID(0) != "span" || m.Index("length") != -1 || m.Len() != 2 {
		t.Errorf("inputs are numbered %d, %q, %d of %d", m.Index("pitch"), m.ID(0), m.Index("length"), m.Len())
	}
	exact := m.Combine([]float64{0, 7})
	if exact.Std != 0 || exact.U != 0 || len(exact.Budget) != 0 || !math.IsInf(exact.DoF, 1) {
		t.Errorf("of exact inputs: %+v, want u 0", exact)
	}
}

// A drift acts on the readings by the share of the order taken, 4t(1 − t)
// (measure rule 6 will add it): its place is there.
func TestSourceOnReadings(t *testing.T) {
	bare := Instrument{Name: "bare", HasError: true, HasZero: true}
	m := mustNew(t, bare, []Observation{{ID: "a"}, {ID: "b"}, {ID: "c"}},
		Source{ID: "drift", Kind: Drift, U: 2, On: []Effect{{"b", 1}, {"c", 0.5}}})
	if m.Len() != 3 {
		t.Fatalf("%d inputs, want the 3 readings", m.Len())
	}
	r := m.Combine([]float64{1, 1, 1})
	near(t, "u", r.Std, 3, 1e-12)
	if l := lineOf(t, r, Drift); l.Source != "drift" {
		t.Errorf("line %+v", l)
	}
}
