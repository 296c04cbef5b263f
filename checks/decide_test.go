package checks

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

var inf = math.Inf(1)

// Derived here: T = 0.020, u = 0.0025 accepts up to 0.0150 with a guard of 2 u
// and up to 0.0159 with 1.645 u.
func TestMeasureRule12Rules(t *testing.T) {
	tests := []struct {
		rule  Rule
		value float64
		want  Verdict
	}{
		{Simple, 0.0200, Pass},
		{Simple, 0.02001, Fail},
		{Guarded, 0.0158, Pass},
		{Guarded, 0.0159, Undecided}, // 1.64 u, a hair too near
		{Guarded, 0.0240, Undecided},
		{Guarded, 0.0242, Fail},
		{Strict, 0.0150, Pass},
		{Strict, 0.0151, Undecided},
		{Strict, 0.0249, Undecided},
		{Strict, 0.0251, Fail},
		{NoRule, 0.0158, Pass},
		{NoRule, 0.0160, Undecided},
	}
	for _, tt := range tests {
		if got := Decide(Within(tt.value, -inf, 0.020, 0.0025, inf, tt.rule)); got.Verdict != tt.want {
			t.Errorf("Decide(%g ≤ 0.020, u = 0.0025, %v) = %v with p %g, want %v", tt.value, tt.rule, got.Verdict, got.P, tt.want)
		}
	}
	for _, tt := range []struct {
		rule Rule
		want float64
	}{{Guarded, 0.0159}, {Strict, 0.0150}, {Simple, 0.0200}} {
		_, to, ok := PassZone(-inf, 0.020, 0.0025, inf, tt.rule)
		if !ok || math.Abs(to-tt.want) > 0.00005 {
			t.Errorf("PassZone(≤ 0.020, u = 0.0025, %v) = %.5f, %v, want %.4f", tt.rule, to, ok, tt.want)
		}
	}
}

// By definition of Student's distribution: one and two-sided factors of JCGM
// 100:2008, Table G.2 (90 % two-sided is 95 % one-sided).
func TestMeasureRule12FewDegreesOfFreedom(t *testing.T) {
	for _, tt := range []struct{ dof, want float64 }{{1, 6.31}, {4, 2.13}, {8, 1.86}, {50, 1.68}, {inf, 1.645}, {0, 1.645}} {
		if got := Guard(Guarded, 1, tt.dof); math.Abs(got-tt.want) > 0.005 {
			t.Errorf("Guard(guarded, 1, ν = %g) = %.4f, want %.3f", tt.dof, got, tt.want)
		}
	}
	q := Within(-2, -inf, 0, 1, 4, Guarded) // 2 u inside: passes if u is known, not at ν = 4
	if got := Decide(q).Verdict; got != Undecided {
		t.Errorf("2 u inside at ν = 4: %v, want undecided", got)
	}
	q.AtHi.DoF = inf
	if got := Decide(q).Verdict; got != Pass {
		t.Errorf("2 u inside at ν = ∞: %v, want pass", got)
	}
}

func TestMeasureRule12TooCoarse(t *testing.T) {
	tests := []struct {
		lo, hi, u float64
		rule      Rule
		want      bool
	}{
		{-inf, 0.020, 0.0025, Simple, false}, // exactly an eighth
		{-inf, 0.020, 0.0026, Simple, true},
		{-0.020, 0.020, 0.0025, Simple, false},
		{0, 0.020, 0.0013, Simple, true}, // half the zone is 0.010
		{0.5, inf, 0.07, Simple, true},
		{-inf, 0, 1, Simple, false}, // a limit of nought is no measure
		{-inf, inf, 1, Simple, false},
		{-inf, 0.020, 0.0026, Guarded, false},
	}
	for _, tt := range tests {
		if got := Decide(Within(0.001, tt.lo, tt.hi, tt.u, inf, tt.rule)).TooCoarse; got != tt.want {
			t.Errorf("TooCoarse(%g..%g, u = %g, %v) = %v, want %v", tt.lo, tt.hi, tt.u, tt.rule, got, tt.want)
		}
	}
}

func TestMeasureRule13NothingCanPass(t *testing.T) {
	for _, tt := range []struct {
		width float64
		rule  Rule
		want  bool
	}{
		{3.919, Guarded, false}, {3.921, Guarded, true},
		{4.54, Strict, false}, {4.56, Strict, true}, // Φ(2.274) = 0.9885
		{0.1, Simple, true},
	} {
		from, to, ok := PassZone(0, tt.width, 1, inf, tt.rule)
		if ok != tt.want {
			t.Errorf("PassZone(0..%g u, %v) = %g, %g, %v, want %v", tt.width, tt.rule, from, to, ok, tt.want)
		}
	}
	if got := Decide(Within(1.9, 0, 3.8, 1, inf, Guarded)).Verdict; got != Undecided {
		t.Errorf("middle of a zone of 3.8 u: %v, want undecided", got)
	}
	// Never failed in the middle, however wide u is.
	if d := Decide(Within(1, 0, 2, 100, inf, Guarded)); d.Verdict != Undecided || d.P > 0.05 {
		t.Errorf("middle of a zone of 0.02 u: %v with p %g, want undecided with a small p", d.Verdict, d.P)
	}
}

// "0 to 0.02, rising only": a value on the wrong side of a real zero.
func TestMeasureRule14WrongSide(t *testing.T) {
	for _, tt := range []struct {
		value float64
		want  Verdict
	}{{-0.0030, Undecided}, {-0.0050, Fail}, {0.0010, Undecided}, {0.0050, Pass}, {0.0150, Pass}, {0.0250, Fail}} {
		if got := Decide(Within(tt.value, 0, 0.020, 0.0025, inf, Guarded)).Verdict; got != tt.want {
			t.Errorf("Decide(%g in 0..0.020, u = 0.0025) = %v, want %v", tt.value, got, tt.want)
		}
	}
}

func TestMeasureRule11ExactValues(t *testing.T) {
	for _, tt := range []struct {
		value, p float64
		want     Verdict
	}{{0, 1, Pass}, {0.02, 1, Pass}, {0.020000001, 0, Fail}, {-1e-12, 0, Fail}} {
		for _, r := range []Rule{Simple, Guarded, Strict} {
			if got := Decide(Within(tt.value, 0, 0.02, 0, 0, r)); got.Verdict != tt.want || got.P != tt.p || got.Risk != 0 {
				t.Errorf("Decide(%g in 0..0.02, u = 0, %v) = %+v, want %v with p %g", tt.value, r, got, tt.want, tt.p)
			}
		}
	}
	if d := Decide(Within(5, -inf, inf, 1, inf, Guarded)); d.Verdict != Pass || d.P != 1 || d.Side != NoLimit {
		t.Errorf("without limits: %+v, want a pass", d)
	}
	if d := Decide(Within(5, 3, 1, 0.1, inf, Guarded)); d.Verdict != Fail || d.P != 0 {
		t.Errorf("limits the wrong way round: %+v, want a fail with p 0", d)
	}
	for _, q := range []Request{
		Within(math.NaN(), 0, 1, 0.1, inf, Guarded), Within(0.5, 0, 1, math.NaN(), inf, Simple), Within(0.5, 0, 1, -1, inf, Guarded),
		Within(0.5, math.NaN(), 1, 0.1, inf, Guarded),
	} {
		if d := Decide(q); d.Verdict != Undecided || !math.IsNaN(d.P) {
			t.Errorf("Decide(%+v) = %+v, want undecided with a p of NaN", q, d)
		}
	}
}

// A limit that is scaled by a measured length is known less well than a fixed
// one; only its own term feels it.
func TestMeasureRule11LimitWithUncertainty(t *testing.T) {
	q := Request{Value: 8, Lo: 0, Hi: 10, AtLo: Margin{U: 1}, AtHi: Margin{U: 1}, Rule: Guarded}
	if got := Decide(q).Verdict; got != Pass {
		t.Fatalf("fixed limits: %v, want pass", got)
	}
	q.AtHi.U = 1.5
	d := Decide(q)
	if want := 0.5 * math.Erfc(-2/1.5/math.Sqrt2); math.Abs(d.P-want) > 1e-12 || d.Verdict != Undecided {
		t.Errorf("uncertain limit: %v with p %g, want undecided with %g", d.Verdict, d.P, want)
	}
	if math.Abs(q.Guard(d.Side)-1.645*1.5) > 0.001 {
		t.Errorf("Guard = %g, want that of the upper margin, 2.467", q.Guard(d.Side))
	}
	from, to, ok := q.PassZone()
	if !ok || math.Abs(from-1.645) > 0.001 || math.Abs(to-(10-1.645*1.5)) > 0.001 {
		t.Errorf("PassZone = %g, %g, %v, want 1.645, 7.533", from, to, ok)
	}
}

// A small p keeps its digits: 10 u beyond a limit the normal tail is
// 7.619853e-24 (tables of the normal distribution), with or without another
// limit far away.
func TestMeasureRule11SmallP(t *testing.T) {
	for _, q := range []Request{
		Within(10, -inf, 0, 1, inf, Guarded), Within(10, -100, 0, 1, inf, Guarded), Within(-10, 0, 100, 1, inf, Guarded),
	} {
		if d := Decide(q); math.Abs(d.P/7.619853e-24-1) > 1e-6 || d.Verdict != Fail || d.Risk != d.P {
			t.Errorf("Decide(%+v) = %+v, want a fail with p 7.62e-24", q, d)
		}
	}
	if d := Decide(Within(-3, -inf, 0, 1, inf, Guarded)); math.Abs(d.Risk-0.001349898) > 1e-9 {
		t.Errorf("3 u inside: risk %g, want 0.00135", d.Risk)
	}
}

func TestMeasureRule12UnevenMargins(t *testing.T) {
	q := Request{Value: 1, Lo: 0, Hi: 8, AtHi: Margin{U: 0.6}, Rule: Simple}
	if !Decide(q).TooCoarse {
		t.Error("an upper margin of u = 0.6 in a zone of ±4 is not called too coarse")
	}
	// The exact lower limit itself passes.
	q.Rule = Guarded
	if from, _, ok := q.PassZone(); from != 0 || !ok {
		t.Errorf("PassZone begins at %g, %v, want at the exact limit 0", from, ok)
	}
}

func TestPassZoneAgreesWithDecide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Request{
			Lo: rapid.Float64Range(-1, 0).Draw(t, "lo"), Hi: rapid.Float64Range(0, 1).Draw(t, "hi"),
			AtLo: Margin{rapid.Float64Range(0.001, 0.3).Draw(t, "uLo"), rapid.Float64Range(1, 60).Draw(t, "dofLo")},
			AtHi: Margin{rapid.Float64Range(0.001, 0.3).Draw(t, "uHi"), rapid.Float64Range(1, 60).Draw(t, "dofHi")},
			Rule: rapid.SampledFrom([]Rule{Simple, Guarded, Strict}).Draw(t, "rule"),
		}
		from, to, ok := q.PassZone()
		verdict := func(v float64) Verdict { q.Value = v; return Decide(q).Verdict }
		step := (q.Hi - q.Lo) / 500
		for v := q.Lo - step/3; v < q.Hi+step; v += step {
			want := ok && from <= v && v <= to
			if got := verdict(v) == Pass; got != want {
				t.Fatalf("%+v at %g: pass %v, but the zone is %g..%g, %v", q, v, got, from, to, ok)
			}
		}
	})
}

// A value further inside never has a lower p, and the verdicts follow p.
func TestDecideIsOrdered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.Float64Range(1e-6, 10).Draw(t, "u")
		dof := rapid.Float64Range(0.5, 200).Draw(t, "dof")
		a := rapid.Float64Range(-20, 20).Draw(t, "a")
		b := rapid.Float64Range(a, 20).Draw(t, "b")
		r := rapid.SampledFrom([]Rule{Simple, Guarded, Strict}).Draw(t, "rule")
		da, db := Decide(Within(a, -inf, 0, u, dof, r)), Decide(Within(b, -inf, 0, u, dof, r))
		if da.P < db.P-1e-12 {
			t.Fatalf("p(%g) = %g is below p(%g) = %g under a limit of 0", a, da.P, b, db.P)
		}
		if da.Verdict > db.Verdict {
			t.Fatalf("%g is %v but %g is %v under a limit of 0", a, da.Verdict, b, db.Verdict)
		}
		for _, d := range []Decision{da, db} {
			if d.P < 0 || d.P > 1 || d.Risk < 0 || d.Risk > 0.5 {
				t.Fatalf("p %g, risk %g", d.P, d.Risk)
			}
		}
	})
}

func TestMeasureRule19FormatP(t *testing.T) {
	for _, tt := range []struct {
		p    float64
		want string
	}{
		{0.95, "0.950"}, {math.Nextafter(0.95, 0), "0.94"}, {0.9766, "0.976"}, {0.977, "0.977"}, {0.9989, "0.998"},
		{0.999, "0.999"}, {0.99901, "> 0.999"}, {1, "> 0.999"}, {0.92, "0.92"}, {0.929, "0.92"}, {0.5, "0.50"},
		{0.49, "0.49"}, {0.491, "0.50"}, {0.05, "0.050"}, {math.Nextafter(0.05, 1), "0.06"}, {0.0221, "0.023"}, {0.001, "0.001"},
		{0.0009, "< 0.001"}, {0, "< 0.001"}, {0.3, "0.30"}, {math.NaN(), "not known"},
	} {
		if got := FormatP(tt.p); got != tt.want {
			t.Errorf("FormatP(%v) = %q, want %q", tt.p, got, tt.want)
		}
	}
}

// What is printed never stands on the other side of a level than p itself.
func TestMeasureRule19DigitsDoNotContradict(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.OneOf(rapid.Float64Range(0.001, 0.999), rapid.Float64Range(0.9499, 0.9501), rapid.Float64Range(0.0499, 0.0501)).Draw(t, "p")
		printed, err := strconv.ParseFloat(FormatP(p), 64)
		if err != nil {
			t.Fatal(err)
		}
		for _, level := range []float64{0.95, 0.977} {
			if (printed >= level) != (p >= level) || (printed <= 1-level+1e-15) != (p <= 1-level+1e-15) {
				t.Fatalf("%v is printed %v", p, printed)
			}
		}
	})
}

func TestParseRule(t *testing.T) {
	for _, r := range []Rule{Simple, Guarded, Strict} {
		if got, ok := ParseRule(r.String()); !ok || got != r {
			t.Errorf("ParseRule(%q) = %v, %v", r.String(), got, ok)
		}
	}
	if got, ok := ParseRule("lenient"); ok {
		t.Errorf("ParseRule(lenient) = %v, want none", got)
	}
}
