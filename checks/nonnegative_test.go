package checks

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

func nonNegative(value, lo, hi, u, bias float64, r Rule) Request {
	q := Within(value, lo, hi, u, 0, r)
	q.NonNegative, q.Bias = true, bias
	return q
}

// By the rule's own formulas, with T = 10, u = 1 and b = 1: Φ(1.645) = 0.95.
func TestMeasureRule15Decisions(t *testing.T) {
	phi := func(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
	for _, tt := range []struct {
		lo, hi, value float64
		rule          Rule
		want          Verdict
		p             float64
		bound         Bound
	}{
		{0, 10, 8.3, Guarded, Pass, phi(1.7), AtLeast},
		{0, 10, 8.4, Guarded, Undecided, phi(1.6), AtLeast},
		{0, 10, 8.3, Strict, Undecided, phi(1.7), AtLeast},
		{0, 10, 10.5, Guarded, Undecided, phi(1.5), AtMost},  // outside, but not without the bias
		{0, 10, 11.7, Guarded, Undecided, phi(0.3), AtMost},  // would fail as read
		{0, 10, 13.6, Guarded, Undecided, phi(-1.6), AtMost}, // 11.6 without twice the bias
		{0, 10, 13.7, Guarded, Fail, phi(-1.7), AtMost},
		{0, 10, 13.7, Strict, Undecided, phi(-1.7), AtMost},
		{0, 10, 14.1, Strict, Fail, phi(-2.1), AtMost},
		{0, 10, 10, Simple, Pass, phi(0), AtLeast},
		{0, 10, 10.01, Simple, Fail, phi(1.99), AtMost},
		// Nought is a bound: nothing is lost below it, and a limit below it is none.
		{0, 10, 0.1, Guarded, Pass, phi(9.9), AtLeast},
		{-1, 10, 0, Guarded, Pass, phi(10), AtLeast},
		{math.Inf(-1), 10, 0.1, Guarded, Pass, phi(9.9), AtLeast},
		// A limit above nought, the other way round: passes without twice the bias.
		{5, inf, 8.7, Guarded, Pass, phi(1.7), AtLeast},
		{5, inf, 8.6, Guarded, Undecided, phi(1.6), AtLeast},
		{5, inf, 3.3, Guarded, Fail, phi(-1.7), AtMost},
		{5, inf, 3.4, Guarded, Undecided, phi(-1.6), AtMost},
		// A zone so narrow that the value lies above it as read and below without
		// the bias: it cannot be told, however small P is.
		{9, 9.1, 10, Guarded, Undecided, math.NaN(), AtMost},
	} {
		q := nonNegative(tt.value, tt.lo, tt.hi, 1, 1, tt.rule)
		d := Decide(q)
		if d.Verdict != tt.want || d.PBound != tt.bound || math.Abs(d.P-tt.p) > 1e-9 {
			t.Errorf("Decide(%g in %g..%g, u = 1, b = 1, %v) = %v with p %.4f (bound %d), want %v with %.4f (%d)",
				tt.value, tt.lo, tt.hi, tt.rule, d.Verdict, d.P, d.PBound, tt.want, tt.p, tt.bound)
		}
		risk := map[Verdict]float64{Pass: 1 - d.P, Fail: d.P}[d.Verdict]
		if d.Risk != risk {
			t.Errorf("%g in %g..%g: risk %g, want %g", tt.value, tt.lo, tt.hi, d.Risk, risk)
		}
	}
	if d := Decide(nonNegative(0.3, 0, 10, 0, 0, Guarded)); d.Verdict != Pass || d.P != 1 || d.PBound != Exact {
		t.Errorf("known exactly: %+v, want a pass", d)
	}
	if d := Decide(nonNegative(0.3, 0, 10, 1, math.NaN(), Guarded)); d.Verdict != Undecided || !math.IsNaN(d.P) {
		t.Errorf("a bias of NaN: %+v, want undecided", d)
	}
	// The limit, not half the zone, is the measure of what is too coarse.
	if d := Decide(nonNegative(3, 0, 10, 1, 0.1, Simple)); d.TooCoarse {
		t.Error("u = 1 under a limit of 10 is called too coarse")
	}
}

// A small p keeps its digits: Φ(−10) = 7.619853e-24 (tables of the normal
// distribution).
func TestMeasureRule15SmallP(t *testing.T) {
	if d := Decide(nonNegative(22, 0, 10, 1, 1, Guarded)); math.Abs(d.P/7.619853e-24-1) > 1e-6 || d.Verdict != Fail {
		t.Errorf("10 u beyond without the bias: %+v, want a fail with p 7.62e-24", d)
	}
}

// Without a bias the rule is the ordinary one, and with more of it neither
// passes nor fails become easier.
func TestMeasureRule15Ordered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hi, y := rapid.Float64Range(0.1, 10).Draw(t, "T"), rapid.Float64Range(0, 20).Draw(t, "y")
		u := rapid.Float64Range(0.01, 5).Draw(t, "u")
		b := rapid.Float64Range(0, 5).Draw(t, "b")
		r := rapid.SampledFrom([]Rule{Simple, Guarded, Strict}).Draw(t, "rule")
		plain := Decide(Within(y, math.Inf(-1), hi, u, 0, r))
		if none := Decide(nonNegative(y, 0, hi, u, 0, r)); none.Verdict != plain.Verdict || none.P != plain.P {
			t.Fatalf("no bias: %+v, plain %+v", none, plain)
		}
		d := Decide(nonNegative(y, 0, hi, u, b, r))
		if (d.Verdict == Pass) != (plain.Verdict == Pass) {
			t.Fatalf("bias %g: %v, as read %v", b, d.Verdict, plain.Verdict)
		}
		if d.Verdict == Fail && plain.Verdict != Fail {
			t.Fatalf("bias %g fails what passes or cannot be told as read", b)
		}
		if d.PBound == AtMost && d.P < plain.P || d.PBound != AtMost && d.P != plain.P || d.Risk < 0 || d.Risk > 1 {
			t.Fatalf("bias %g: %+v, as read %+v", b, d, plain)
		}
	})
}

func TestMeasureRule15PassZone(t *testing.T) {
	if from, to, ok := nonNegative(0, 0, 10, 1, 1, Guarded).PassZone(); !ok || from != 0 || math.Abs(to-8.355) > 0.001 {
		t.Errorf("PassZone = %g, %g, %v, want 0, 8.355", from, to, ok)
	}
	if from, to, ok := nonNegative(0, 5, inf, 1, 1, Guarded).PassZone(); !ok || math.Abs(from-8.645) > 0.001 || to != inf {
		t.Errorf("PassZone = %g, %g, %v, want from 8.645", from, to, ok)
	}
	if _, to, ok := nonNegative(0, 0, 1.6, 1, 1, Guarded).PassZone(); ok {
		t.Errorf("under 1.645 u up to %g passes, want nothing", to)
	}
}

// Drawn probabilities stand in the place of Student's distribution.
func TestMeasureRule11Drawn(t *testing.T) {
	for _, tt := range []struct {
		value, lo, hi, below, above float64
		rule                        Rule
		want                        Verdict
		p                           float64
	}{
		{0.5, 0, 1, 0.02, 0.02, Guarded, Pass, 0.96},
		{0.5, 0, 1, 0.03, 0.03, Guarded, Undecided, 0.94},
		{0.5, 0, 1, 0.6, 0.4, Guarded, Undecided, 0}, // inside is never failed
		{1.5, 0, 1, 0, 0.96, Guarded, Fail, 0.04},
		{1.5, 0, 1, 0, 0.96, Strict, Undecided, 0.04},
		{0.5, math.Inf(-1), 1, 1, 0.01, Guarded, Pass, 0.99}, // there is no limit below
		{0.5, 0, inf, 0.01, 1, Strict, Pass, 0.99},
		{1.5, 0, 1, 0.7, 0.7, Guarded, Fail, 0}, // trials without a result are on both sides
		{1, 0, 1, 0, 0.6, Simple, Pass, 0.4},
	} {
		q := Within(tt.value, tt.lo, tt.hi, 1, 0, tt.rule)
		q.Drawn = &Drawn{Below: tt.below, Above: tt.above}
		if d := Decide(q); d.Verdict != tt.want || math.Abs(d.P-tt.p) > 1e-12 || d.PBound != Exact {
			t.Errorf("Decide(%g in %g..%g, drawn %g and %g, %v) = %+v, want %v with p %g", tt.value, tt.lo, tt.hi, tt.below, tt.above, tt.rule, d, tt.want, tt.p)
		}
	}
	q := Within(0.5, 0, 1, 1, 0, Guarded)
	q.Drawn = &Drawn{Below: math.NaN()}
	if d := Decide(q); d.Verdict != Undecided || !math.IsNaN(d.P) {
		t.Errorf("shares of NaN: %+v, want undecided", d)
	}
}

func TestMeasureRule16Level(t *testing.T) {
	for _, tt := range []struct {
		value float64
		rule  Rule
		once  Verdict
		again Verdict
	}{
		{-1.7, Guarded, Pass, Undecided}, {-2, Guarded, Pass, Pass}, {1.7, Guarded, Fail, Undecided}, {2, Guarded, Fail, Fail},
		{-1.7, NoRule, Pass, Undecided}, {-1.7, Strict, Undecided, Undecided}, {-2, Strict, Pass, Pass}, {-0.1, Simple, Pass, Pass},
	} {
		q := Within(tt.value, math.Inf(-1), 0, 1, 0, tt.rule)
		once := Decide(q)
		q.Again = true
		again := Decide(q)
		if once.Verdict != tt.once || again.Verdict != tt.again {
			t.Errorf("%g u beyond, %v: %v, and read again %v; want %v and %v", tt.value, tt.rule, once.Verdict, again.Verdict, tt.once, tt.again)
		}
		if tt.rule == Guarded && math.Abs(q.Guard(again.Side)-1.9954) > 0.0001 { // Φ(1.9954) = 0.977
			t.Errorf("guard %g, want 1.9954", q.Guard(again.Side))
		}
		if again.Rule != once.Rule {
			t.Errorf("reading again changes the rule to %v", again.Rule)
		}
	}
}

func TestMeasureRule15And16PassZoneAgreesWithDecide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Request{
			Lo: rapid.SampledFrom([]float64{math.Inf(-1), 0, 0.2, 0.5}).Draw(t, "lo"), Hi: rapid.SampledFrom([]float64{0.6, 1, inf}).Draw(t, "hi"),
			AtLo: Margin{rapid.Float64Range(0.001, 0.2).Draw(t, "uLo"), 0}, AtHi: Margin{rapid.Float64Range(0.001, 0.2).Draw(t, "uHi"), 0},
			Rule:        rapid.SampledFrom([]Rule{NoRule, Simple, Guarded, Strict}).Draw(t, "rule"),
			NonNegative: rapid.Bool().Draw(t, "nonNegative"), Bias: rapid.Float64Range(0, 0.2).Draw(t, "bias"),
			Again: rapid.Bool().Draw(t, "again"),
		}
		from, to, ok := q.PassZone()
		for v := 0.0; v < 1.3; v += 0.00501 {
			q.Value = v
			want := ok && from <= v && v <= to
			if got := Decide(q).Verdict == Pass; got != want {
				t.Fatalf("%+v: pass %v, but the zone is %g..%g, %v", q, got, from, to, ok)
			}
		}
	})
}

// What is printed never stands on the other side of any level than the verdict
// does, and is never more sure than p.
func TestMeasureRule19DigitsDoNotContradictVerdicts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		near := rapid.SampledFrom([]float64{0, 0.023, 0.05, 0.5, 0.95, 0.977, 0.999, 1}).Draw(t, "near")
		z := TQuantile(near, 0)
		if math.IsInf(z, 0) {
			z = math.Copysign(4, z)
		}
		z += rapid.OneOf(rapid.Float64Range(-1e-9, 1e-9), rapid.Float64Range(-0.05, 0.05), rapid.Float64Range(-4, 4)).Draw(t, "z")
		b := rapid.SampledFrom([]float64{0, 0.001, 0.5}).Draw(t, "bias")
		q := nonNegative(100-z, 0, 100, 1, b, rapid.SampledFrom([]Rule{Simple, Guarded, Strict}).Draw(t, "rule"))
		q.Again = rapid.Bool().Draw(t, "again")
		d := Decide(q)
		text := FormatBound(d.P, d.PBound)
		switch text {
		case "> 0.999":
			if d.P <= 0.999 {
				t.Fatalf("%v is printed %s", d.P, text)
			}
			return
		case "< 0.001":
			if d.P >= 0.001 {
				t.Fatalf("%v is printed %s", d.P, text)
			}
			return
		}
		printed, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(printed-d.P) > 0.01 || d.PBound == AtLeast && printed > d.P || d.PBound == AtMost && printed < d.P {
			t.Fatalf("%v with bound %d is printed %s", d.P, d.PBound, text)
		}
		if q.Rule == Simple {
			return
		}
		pass, fail := q.level()
		if printed >= pass && d.PBound != AtMost && d.Verdict != Pass || printed < pass && d.Verdict == Pass ||
			printed <= fail && d.PBound != AtLeast && d.Verdict != Fail || printed > fail && d.Verdict == Fail {
			t.Fatalf("%v with p %v (bound %d) is printed %s, levels %g and %g", d.Verdict, d.P, d.PBound, text, pass, fail)
		}
	})
}

func TestMeasureRule19FormatBound(t *testing.T) {
	for _, tt := range []struct {
		p    float64
		b    Bound
		want string
	}{
		{0.9876, AtLeast, "0.987"}, {0.9876, AtMost, "0.988"}, {0.694, AtMost, "0.70"}, {0.694, AtLeast, "0.69"}, {0.694, Exact, "0.69"},
		{0.0221, AtMost, "0.023"}, {0.0221, AtLeast, "0.022"}, {0.9995, AtLeast, "> 0.999"}, {0.9995, AtMost, "1.000"},
		{0.0005, AtMost, "< 0.001"}, {0.0005, AtLeast, "0.000"}, {math.NaN(), AtMost, "not known"}, {0.306, Exact, "0.31"},
	} {
		if got := FormatBound(tt.p, tt.b); got != tt.want {
			t.Errorf("FormatBound(%v, %d) = %q, want %q", tt.p, tt.b, got, tt.want)
		}
	}
}
