package checks

import (
	"math"
	"math/rand/v2"
	"testing"

	"waywright/checks/internal/published"
)

// conformity reads a file of testdata/published/conformity: its figures and its
// inputs.
func conformity(t *testing.T, name string) (*published.Sheet, func(input string) float64) {
	t.Helper()
	var f struct{ Inputs map[string]string }
	published.Read(t, "conformity/"+name, &f)
	return published.ReadSheet(t, "conformity/"+name), func(input string) float64 {
		t.Helper()
		return published.Number(t, f.Inputs[input])
	}
}

// JCGM 106:2012, 7.3.3, examples 1 and 2.
func TestMeasureRule11ProbabilityAtOneLimit(t *testing.T) {
	pub, in := conformity(t, "zener_upper_limit.json")
	d := Decide(Within(in("estimate_V"), -inf, in("TU_V"), in("u_V"), inf, Guarded))
	pub.Hold(t, "pc", d.P)
	pub.Hold(t, "z", d.Margin/in("u_V"))
	pub.Whole(t)
	if d.Verdict != Undecided || d.Side != Upper {
		t.Errorf("zener: %v at side %d, want undecided at the upper limit", d.Verdict, d.Side)
	}

	pub, in = conformity(t, "container_lower_limit.json")
	d = Decide(Within(in("estimate_kPa"), in("TL_kPa"), inf, in("u_kPa"), inf, Guarded))
	pub.Hold(t, "pc", d.P)
	pub.Hold(t, "z", d.Margin/in("u_kPa"))
	pub.Whole(t)
	if d.Verdict != Pass || d.Side != Lower {
		t.Errorf("container: %v at side %d, want pass at the lower limit", d.Verdict, d.Side)
	}
}

func TestMeasureRule11Table1(t *testing.T) {
	pub, _ := conformity(t, "table1.json")
	for _, pc := range []string{"0.80", "0.90", "0.95", "0.99", "0.999"} {
		pub.Hold(t, "z for pc = "+pc, TQuantile(published.Number(t, pc), inf))
	}
	pub.Whole(t)
}

// JCGM 106:2012, 7.6, 7.7 and A.3.
func TestMeasureRule11TwoLimits(t *testing.T) {
	pub, _ := conformity(t, "capability_index.json")
	// Cm = T/(4 u) = 1, so T = 4 with u = 1; y is (value − TL)/T.
	pub.Hold(t, "Cm = 1: pc at y = 0.45", Decide(Within(0.45*4, 0, 4, 1, inf, Guarded)).P)
	for k, name := range map[float64]string{1: "P(k=1)", 2: "P(k=2)", 3: "P(k=3)"} {
		pub.Hold(t, name, Decide(Within(0, -k, k, 1, inf, Guarded)).P)
	}
	// A zone of 16 u is the narrowest with Cm ≥ 4. Our own measure of coarse, an
	// eighth of half the zone, is the same.
	narrowest := 0.0
	for u := 1.0; !Decide(Within(0, -8, 8, u, inf, Simple)).TooCoarse; u += 1e-6 {
		narrowest = 16 / u
	}
	pub.HoldTo(t, "Cm >= 4 means um <= T/", narrowest, 0.001)
	pub.Whole(t)
}

// JCGM 106:2012, 8.3.3, example 1: a driver is fined when the speed is over
// 100 km/h with a probability of 0.999; u is 2 % of the speed.
func TestMeasureRule11GuardedRejection(t *testing.T) {
	pub, in := conformity(t, "speed_guarded_rejection.json")
	limit, must := in("v0_km_h"), in("required_probability")
	v := limit
	for Decide(Within(v, -inf, limit, in("relative_u")*v, inf, Guarded)).P > 1-must {
		v += 0.001
	}
	pub.Hold(t, "vmax", v)
	pub.Hold(t, "z", TQuantile(must, inf))
	pub.Whole(t)
}

// JCGM 106:2012, 8.3.2 and Figure 10. The zone of rejection is from memory
// (see SOURCES.md there).
func TestMeasureRule12Zones(t *testing.T) {
	pub, _ := conformity(t, "iso14253_1_zones.json")
	var f struct {
		Vectors []struct {
			TL, TU, U, Y, Zone string
		} `json:"boundary_vectors"`
	}
	published.Read(t, "conformity/iso14253_1_zones.json", &f)
	names := map[string]Verdict{"acceptance": Pass, "uncertainty": Undecided, "rejection": Fail}
	num := func(s string) float64 { return published.Number(t, s) }
	for _, v := range f.Vectors {
		if v.Y == "-1" || v.Y == "11" {
			continue // on the edge of rejection, which this rule counts as rejected
		}
		got := Decide(Within(num(v.Y), num(v.TL), num(v.TU), num(v.U)/2, inf, Strict)).Verdict
		if want := names[v.Zone]; got != want {
			t.Errorf("Decide(%s in %s..%s, U = %s, strict) = %v, want %v", v.Y, v.TL, v.TU, v.U, got, want)
		}
	}
	pass, _ := Level(Strict)
	pub.Hold(t, "maximum probability of accepting a non-conforming item at the acceptance limit", 100*(1-pass))
	pub.HoldTo(t, "guard band as multiple of u", Guard(Strict, 1, inf), 0.005) // Φ(1.995) = 0.977, the 2.3 % of the row above
	pub.Whole(t)
}

// JCGM 106:2012, 9.5.3: resistors, made and measured, with a guard band; the
// shares are counted in a million of them. Tolerances are those of the printed
// figures, which counting meets ten times over.
func TestMeasureRule18Resistors(t *testing.T) {
	pub, in := conformity(t, "resistors_global_risk.json")
	r := rand.New(rand.NewPCG(106, 9))
	mean, sd, um := in("process_mean"), in("process_sd"), in("um")
	tl, tu, al, au := in("TL_ohm"), in("TU_ohm"), in("AL"), in("AU")
	var tally Tally
	for range 1_000_000 {
		state := mean + sd*r.NormFloat64()
		read := state + um*r.NormFloat64()
		tally.Add(al <= read && read <= au, tl <= state && state <= tu)
	}
	n := float64(tally.N())
	pub.Hold(t, "pc of process", float64(tally.AcceptedGood+tally.RejectedGood)/n)
	pub.Hold(t, "RC", tally.Consumer().Share())
	pub.Hold(t, "RP", tally.Producer().Share())
	pub.Hold(t, "accepted per 100", 100*float64(tally.AcceptedGood+tally.AcceptedBad)/n)
	pub.Hold(t, "conforming share of rejected", 100*float64(tally.RejectedGood)/float64(tally.RejectedGood+tally.RejectedBad))
	w := in("AL") - in("TL_ohm")
	pub.Hold(t, "guard band w", w)
	pub.Hold(t, "w as multiple of U", w/(2*in("um")))
	pub.Whole(t)

	// To more digits, by integration with scipy.
	var f struct {
		More struct{ RC, RP float64 } `json:"recomputed_to_more_digits"`
	}
	published.Read(t, "conformity/resistors_global_risk.json", &f)
	for name, p := range map[string]struct {
		got  Proportion
		want float64
	}{"consumer": {tally.Consumer(), f.More.RC}, "producer": {tally.Producer(), f.More.RP}} {
		if lo, hi := p.got.Interval(); p.want < lo || p.want > hi {
			t.Errorf("%s's risk %.6f, interval %.6f to %.6f, want it to hold %.6f", name, p.got.Share(), lo, hi, p.want)
		}
	}
}

// JCGM 106:2012, 9.3.2, derived here: with an even spread of states as many
// verdicts are wrong as their specific risks add up to.
func TestMeasureRule17SpecificRiskIsRight(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 9))
	var passes, wrong, risk float64
	for range 200_000 {
		state := 16*r.Float64() - 8
		d := Decide(Within(state+r.NormFloat64(), -3, 3, 1, 0, Guarded))
		if d.Verdict == Undecided {
			continue
		}
		passes++
		risk += d.Risk
		if (d.Verdict == Pass) != (-3 <= state && state <= 3) {
			wrong++
		}
	}
	t.Logf("%.0f verdicts, %.0f wrong, %.0f by their risks", passes, wrong, risk)
	if math.Abs(wrong-risk) > 4*math.Sqrt(risk) {
		t.Errorf("%.0f of %.0f verdicts are wrong, want %.0f by their risks", wrong, passes, risk)
	}
}

// JCGM 100:2008, Table G.2, whole. The entry for ν = 35 at 90 % is printed
// 1.70, where 1.6896 is true.
func TestTQuantileTableG2(t *testing.T) {
	rows, head := readTableG2(t)
	n, least := 0, math.Inf(1)
	for _, row := range rows {
		dof := inf
		if row[0] != "inf" {
			dof = published.Number(t, row[0])
		}
		for i, level := range head {
			if row[0] == "35" && level == 0.90 {
				continue
			}
			tol := 0.005
			if len(row[i+1]) > 4 && row[i+1][1] == '.' {
				tol = 0.0005
			}
			want := published.Number(t, row[i+1])
			got := TQuantile((1+level)/2, dof)
			least = math.Min(least, published.Digits(got, want))
			if math.Abs(got-want) > tol*1.0001 {
				t.Errorf("t(%g %%, ν = %s) = %.5f, want %s", 100*level, row[0], got, row[i+1])
			}
			if back := 2*TCDF(got, dof) - 1; math.Abs(back-level) > 1e-9 {
				t.Errorf("T(%g, ν = %s) = %g, want back %g", got, row[0], back, level)
			}
			n++
		}
	}
	t.Logf("%d entries, at least %.1f digits agree (JCGM 100:2008, Table G.2)", n, least)
	if n != 167 {
		t.Errorf("%d entries were compared, want 167", n)
	}
}
