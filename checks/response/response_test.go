package response

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.6g, want %.6g ± %g", what, got, want, tol)
	}
}

// ratios is a correction with these ρ and κ, u_ρ and u_κ: planned 1, expected 1.
func ratios(rho, kappa, uRho, uKappa float64) Input {
	return Input{Planned: 1, Moved: kappa, UMoved: uKappa, HasMoved: true,
		ExpectedPlanned: 1, ExpectedMoved: kappa, Change: rho, UChange: uRho}
}

func blind(rho, uRho float64) Input {
	return Input{Planned: 1, ExpectedPlanned: 1, Change: rho, UChange: uRho}
}

// Every row of the table, in each band's middle and at its edges. The edges
// with u = 0.02: minus below −0.15, then 0.15, 0.75, 1.3. Pairs that no row names
// are unclear, but where as much came as was moved.
func TestTable(t *testing.T) {
	values := map[Band][]float64{
		BandMinus: {-2, -1, -0.3, -0.151}, BandNought: {-0.149, 0, 0.149}, BandPart: {0.151, 0.5, 0.749},
		BandOne: {0.751, 1, 1.299}, BandOver: {1.301, 1.7, 3},
	}
	table := map[[2]Band]Word{
		{BandOne, BandOne}: AsExpected, {BandMinus, BandMinus}: WrongWay, {BandMinus, BandOne}: WrongSign,
		{BandOne, BandMinus}: Reversed, {BandNought, BandOne}: Undone, {BandNought, BandNought}: NotMoved,
		{BandPart, BandPart}: Part, {BandPart, BandOne}: Weak, {BandOver, BandOne}: Strong,
	}
	seen := map[Word]bool{}
	for rho, rhos := range values {
		for kappa, kappas := range values {
			want, named := table[[2]Band{rho, kappa}]
			if !named {
				want = Unclear
			}
			for _, r := range rhos {
				for _, k := range kappas {
					want := want
					if u := 0.02 * math.Hypot(1, r/k) / math.Abs(k); !named && kappa != BandNought && u < 0.25 && r/k > 0.75 && r/k <= 1.3 {
						want = map[Band]Word{BandMinus: WrongWay, BandPart: Part, BandOver: TooFar}[kappa]
					}
					f := Analyse(ratios(r, k, 0.02, 0.02))
					seen[f.Word] = true
					if f.Word != want || f.Tell != TellCause {
						t.Errorf("ρ = %g, κ = %g: %s at %d, want %s (%v, %v)", r, k, f.Word, f.Tell, want, rho, kappa)
					}
					if f.SomethingElse != (want == Strong && r > 2) {
						t.Errorf("ρ = %g, κ = %g: something else %v", r, k, f.SomethingElse)
					}
				}
			}
		}
	}
	if len(seen) != 11 {
		t.Errorf("%d words came, want all 11 of the table", len(seen))
	}
}

// Where as much came as was moved, only the movement was not what was asked.
func TestRule38AsMuchCameAsWasMoved(t *testing.T) {
	for _, tt := range []struct {
		rho, kappa, u float64
		want          Word
	}{
		{2.01, 2, 0.02, TooFar},
		{1.25, 1.35, 0.02, TooFar},
		{1.4, 2, 0.02, Unclear}, // a gain of 0.7
		{3, 2, 0.02, Unclear},   // of 1.5
		{2, 2, 0.6, Better},     // too small to tell a cause
		{1, 0.1, 0.02, Unclear}, // the needle shows nothing: no gain
		{0.8, 0.72, 0.02, Part}, // moved three quarters, and three quarters came
		{0.9, 0.66, 0.02, Unclear},
		{-0.149, -0.16, 0.02, WrongWay},
		{-2, 2, 0.02, Unclear}, // against the needle
	} {
		f := Analyse(ratios(tt.rho, tt.kappa, tt.u, 0.02))
		if f.Word != tt.want {
			t.Errorf("ρ = %g, κ = %g, u = %g: %s, want %s", tt.rho, tt.kappa, tt.u, f.Word, tt.want)
		}
	}
	if f := Analyse(ratios(2.01, 2, 0.02, 0.02)); NextGain(1, f) != f.Gain || math.Abs(f.Gain-1) > 0.01 {
		t.Errorf("the gain is %g, and the next %g; want about 1", f.Gain, NextGain(1, f))
	}
}

func TestRule38WithoutMoved(t *testing.T) {
	for rho, want := range map[float64]Word{-1: WrongWay, -0.3: WrongWay, 0: Undone, 0.5: Weak, 1: AsExpected, 1.7: Strong} {
		f := Analyse(blind(rho, 0.02))
		if f.Word != want || f.BothCauses != (want == WrongWay) || f.HasMoved || f.GainKnown {
			t.Errorf("ρ = %g without moved: %+v, want %s", rho, f, want)
		}
	}
	if f := Analyse(ratios(-1, -1, 0.02, 0.02)); f.BothCauses {
		t.Error("with moved read, wrong way names both causes")
	}
}

// Derived here: a bar of 300 mm between centres, collars 250 mm apart, taper
// 0.030; a set-over of m takes 2·m·l/L off it, and 0.018 takes all.
func TestRule38SetOver(t *testing.T) {
	takesOff := func(m float64) float64 { return -2 * m * 250 / 300 }
	for _, tt := range []struct {
		after, moved float64
		rho          float64
		word         Word
	}{
		{0.001, 0.018, 0.97, AsExpected},
		{0.0595, -0.018, -0.98, WrongWay},
		{0.0595, 0.018, -0.98, WrongSign},
		{0.015, 0.009, 0.50, Part},
		{0.015, 0.018, 0.50, Weak},
		{-0.020, 0.018, 1.67, Strong},
		{0.030, 0.018, 0, Undone},
		{0.030, 0.001, 0, NotMoved},
		{0.001, -0.018, 0.97, Reversed},
		{0.001, 0.009, 0.97, Unclear},
	} {
		f := Analyse(Input{Planned: 0.018, Moved: tt.moved, UMoved: 0.0005, HasMoved: true,
			ExpectedPlanned: takesOff(0.018), ExpectedMoved: takesOff(tt.moved),
			Change: tt.after - 0.030, UChange: 0.001})
		near(t, "ρ", f.Rho, tt.rho, 0.005)
		near(t, "κ", f.Kappa, tt.moved/0.018, 1e-12)
		if f.Word != tt.word {
			t.Errorf("taper 0.030 to %g, moved %g: %s, want %s", tt.after, tt.moved, f.Word, tt.word)
		}
	}
}

func TestGain(t *testing.T) {
	// A machine of gain 0.5 moved 0.9 of what was planned: ρ = 0.45.
	in := Input{Planned: 20, Moved: 18, UMoved: 0.5, HasMoved: true, ExpectedPlanned: -40, ExpectedMoved: -36, Change: -18, UChange: 2}
	f := Analyse(in)
	near(t, "ρ", f.Rho, 0.45, 1e-12)
	near(t, "u(ρ)", f.URho, 0.05, 1e-12)
	near(t, "κ", f.Kappa, 0.9, 1e-12)
	near(t, "u(κ)", f.UKappa, 0.025, 1e-12)
	near(t, "γ = ρ/κ", f.Gain, f.Rho/f.Kappa, 1e-12)
	near(t, "u(γ)", f.UGain, math.Sqrt(2*2+0.5*0.5*1*1)/36, 1e-12) // u(m) = 2·0.5
	if !f.GainKnown || f.CheckSign {
		t.Errorf("%+v: want a known gain and no check of the sign", f)
	}
	in.UMoved = 4.6 // u(m) = 9.2, |m| = 36 is under 4 u(m)
	if f := Analyse(in); f.GainKnown || f.Gain != 0 || f.UGain != 0 {
		t.Errorf("moved too little to tell: gain %g ± %g, known %v", f.Gain, f.UGain, f.GainKnown)
	}
	in.UMoved, in.UChange = 0.5, 9.1 // u(γ) = 0.254
	if f := Analyse(in); f.GainKnown || f.Gain == 0 {
		t.Errorf("gain %g ± %g, known %v, want it unknown", f.Gain, f.UGain, f.GainKnown)
	}
}

func TestCheckSign(t *testing.T) {
	for _, tt := range []struct {
		rho, kappa, u float64
		want          bool
	}{
		{-1, 1, 0.02, true}, {1, -1, 0.02, true}, {-1, -1, 0.02, false}, {1, 1, 0.02, false}, {0, 1, 0.02, false},
		{-0.14, 1, 0.02, false}, {-0.16, 1, 0.02, true}, {-0.3, 1, 0.15, false}, {-0.5, 1, 0.15, true},
	} {
		if f := Analyse(ratios(tt.rho, tt.kappa, tt.u, 0.02)); f.CheckSign != tt.want {
			t.Errorf("ρ = %g ± %g, κ = %g: check the sign %v, want %v", tt.rho, tt.u, tt.kappa, f.CheckSign, tt.want)
		}
	}
}

func TestTell(t *testing.T) {
	for _, tt := range []struct {
		p, u float64
		want Tell
	}{
		{1.99, 1, TellNothing}, {2, 1, TellDirection}, {-4.99, 1, TellDirection}, {5, 1, TellCause}, {-5, 1, TellCause},
		{0, 0, TellNothing}, {1, 0, TellCause}, {math.NaN(), 1, TellNothing}, {1, math.NaN(), TellNothing},
	} {
		if got := CanTell(tt.p, tt.u); got != tt.want {
			t.Errorf("CanTell(%g, %g) = %v, want %v", tt.p, tt.u, got, tt.want)
		}
	}
	for _, tt := range []struct {
		rho, u float64
		want   Word
		tell   Tell
	}{
		{0.9, 0.4, Better, TellDirection}, {0.7, 0.4, NoDifference, TellDirection}, {-0.9, 0.4, Worse, TellDirection},
		{-0.7, 0.4, NoDifference, TellDirection}, {0, 0.4, NoDifference, TellDirection},
		{1, 0.6, NoDifference, TellNothing}, {-3, 0.6, Worse, TellNothing},
	} {
		if f := Analyse(blind(tt.rho, tt.u)); f.Word != tt.want || f.Tell != tt.tell || f.Neighbour != "" {
			t.Errorf("ρ = %g ± %g: %s (%v), neighbour %q, want %s (%v)", tt.rho, tt.u, f.Word, f.Tell, f.Neighbour, tt.want, tt.tell)
		}
	}
	// The movement too must be plain before a cause is named.
	if f := Analyse(ratios(1, 1, 0.02, 0.21)); f.Tell != TellDirection || f.Word != Better {
		t.Errorf("planned under 5 u(moved): %s (%v), want better (1)", f.Word, f.Tell)
	}
}

func TestNeighbour(t *testing.T) {
	for _, tt := range []struct {
		rho, kappa, u float64
		word, beside  Word
	}{
		{1, 1, 0.1, AsExpected, ""},
		{0.80, 1, 0.1, AsExpected, Weak},
		{0.70, 1, 0.1, Weak, AsExpected},
		{1.25, 1, 0.1, AsExpected, Strong},
		{0.20, 1, 0.1, Weak, Undone},
		{0.10, 1, 0.1, Undone, Weak},
		{-0.30, 1, 0.1, WrongSign, Undone}, // the edge is at −0.25
		{-0.20, 1, 0.1, Undone, WrongSign},
		{0.50, 0.70, 0.1, Part, Weak},
		{0.80, 0.72, 0.1, Part, AsExpected}, // as much came as was moved
		{0.78, 0.70, 0.1, Part, AsExpected},
		{0.80, 0.50, 0.1, Unclear, Part},
		{0.10, 0.20, 0.1, Unclear, Part},
		{1, 0.80, 0.1, AsExpected, ""}, // across the edge lies no named cause
		{0.79, 0.79, 0.1, AsExpected, Weak},
	} {
		f := Analyse(ratios(tt.rho, tt.kappa, tt.u, tt.u))
		if f.Word != tt.word || f.Neighbour != tt.beside {
			t.Errorf("ρ = %g, κ = %g, u = %g: %s beside %q, want %s beside %q", tt.rho, tt.kappa, tt.u, f.Word, f.Neighbour, tt.word, tt.beside)
		}
	}
}

func TestNothingExpected(t *testing.T) {
	f := Analyse(Input{Change: 3, UChange: 1})
	if f.Word != NoDifference || f.Tell != TellNothing || f.Rho != 0 || f.GainKnown {
		t.Errorf("nothing expected: %+v", f)
	}
	if g := NextGain(0.7, f); g != 0.7 {
		t.Errorf("gain after nothing expected = %g, want it kept", g)
	}
	for _, in := range []Input{
		{Planned: 1, ExpectedPlanned: 1, Change: math.NaN(), UChange: 0.1}, {Planned: math.Inf(1), ExpectedPlanned: 1},
	} {
		if f := Analyse(in); f.Word != Unclear || f.Tell != TellNothing || math.IsNaN(f.Rho) {
			t.Errorf("Analyse(%+v) = %+v, want it unclear", in, f)
		}
	}
}

func TestJudgeMove(t *testing.T) {
	for _, tt := range []struct {
		planned, moved, u float64
		want              Move
	}{
		{20, -20, 1, Move{Kappa: -1, UKappa: 0.05, Band: BandMinus, Plain: true, Left: 40}},
		{-20, -20, 1, Move{Kappa: 1, UKappa: 0.05, Band: BandOne, Plain: true}},
		{20, 1, 1, Move{Kappa: 0.05, UKappa: 0.05, Band: BandNought, Plain: true, Left: 19}},
		{20, 10, 1, Move{Kappa: 0.5, UKappa: 0.05, Band: BandPart, Plain: true, Left: 10}},
		{20, 30, 1, Move{Kappa: 1.5, UKappa: 0.05, Band: BandOver, Plain: true, Left: -10}},
		{20, 15.5, 1, Move{Kappa: 0.775, UKappa: 0.05, Band: BandOne, Plain: true, Left: 4.5, Neighbour: BandPart, HasNeighbour: true}},
		{20, -20, 4, Move{Kappa: -1, UKappa: 0.2, Band: BandMinus, Plain: true, Left: 40}},
		{20, -20, 4.1, Move{Kappa: -1, UKappa: 0.205, Band: BandMinus, Left: 40}},
		{0, 3, 1, Move{Left: -3}},
		{20, 20, 0, Move{Kappa: 1, Band: BandOne, Plain: true}},
	} {
		got := JudgeMove(tt.planned, tt.moved, tt.u)
		if d := cmp.Diff(tt.want, got, cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })); d != "" {
			t.Errorf("JudgeMove(%g, %g, %g) (-want +got):\n%s", tt.planned, tt.moved, tt.u, d)
		}
	}
}

func TestNextGain(t *testing.T) {
	for _, tt := range []struct {
		name   string
		before float64
		in     Input
		want   float64
	}{
		{"the gain found", 1, ratios(0.5, 1, 0.02, 0.02), 0.5},
		{"half moved is not a weak machine", 1, ratios(0.5, 0.5, 0.02, 0.02), 1},
		{"the wrong way is not a negative gain", 1, ratios(-1, -1, 0.02, 0.02), 1},
		{"a weak machine that moved half", 1, ratios(0.25, 0.5, 0.02, 0.02), 0.5},
		{"held below", 1, ratios(0.2, 1, 0.02, 0.02), 0.25},
		{"undone", 0.6, ratios(0.1, 1, 0.02, 0.02), 0.6},
		{"undone, a little the other way", 0.6, ratios(-0.1, 1, 0.02, 0.02), 0.6},
		{"undone at the edge of both bands", 0.6, ratios(0.15, 0.76, 0.02, 0.02), 0.6},
		{"nothing moved", 0.6, ratios(0.1, 0.1, 0.02, 0.001), 0.6},
		{"moved far, and nothing came of it", 0.6, ratios(0.1, 1.6, 0.02, 0.02), 0.6},
		{"held above", 1, ratios(3, 1, 0.02, 0.02), 2},
		{"not known well enough", 0.6, ratios(1, 1, 0.26, 0.02), 0.6},
		{"against the indicator", 0.6, ratios(-1, 1, 0.02, 0.02), 0.6},
		{"without moved", 1, blind(0.7, 0.02), 0.7},
		{"without moved, held below", 1, blind(0.3, 0.02), 0.5},
		{"without moved, held above", 1, blind(3, 0.02), 2},
		{"without moved, no answer", 0.6, blind(0.2, 0.02), 1},
		{"without moved, the wrong way", 0.6, blind(-1, 0.02), 1},
	} {
		near(t, tt.name, NextGain(tt.before, Analyse(tt.in)), tt.want, 1e-12)
	}
}

func TestRule36NextAmount(t *testing.T) {
	bad := Analyse(ratios(-1, 1, 0.02, 0.02))
	good := Analyse(ratios(0.5, 1, 0.02, 0.02))
	for _, tt := range []struct {
		name string
		in   Step
		want Next
	}{
		{"first", Step{Own: 18, Gain: 1, Change: -30, UChange: 2}, Next{Amount: 18, Gain: 1}},
		{"no gain yet", Step{Own: 18, Change: -30, UChange: 2}, Next{Amount: 18, Gain: 1}},
		{"weak machine", Step{Own: -18, Gain: 0.5, Change: 30, UChange: 2, Last: &good}, Next{Amount: -36, Gain: 0.5}},
		{"never beyond twice", Step{Own: 18, Gain: 0.3, Change: 30, UChange: 2}, Next{Amount: 36, Gain: 0.3, Held: true}},
		{"strong machine", Step{Own: 18, Gain: 1.8, Change: 30, UChange: 2}, Next{Amount: 10, Gain: 1.8}},
		{"a remembered gain is held too", Step{Own: 18, Gain: 9, Change: 30, UChange: 2}, Next{Amount: 9, Gain: 2}},
		{"against the indicator", Step{Own: 18, Gain: 1, Change: 30, UChange: 2, Last: &bad}, Next{Gain: 1, First: CheckSign}},
		{"once the wrong way", Step{Own: 18, Gain: 1, Change: 30, UChange: 2, WrongWays: 1}, Next{Amount: 18, Gain: 1}},
		{"twice the wrong way", Step{Own: 18, Gain: 1, Change: 30, UChange: 2, WrongWays: 2}, Next{Gain: 1, First: NudgeCheck}},
		{"lost in the noise", Step{Own: 1, Gain: 1, Change: 3.9, UChange: 2}, Next{Gain: 1, First: Limit}},
	} {
		if d := cmp.Diff(tt.want, NextAmount(tt.in)); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, d)
		}
	}
}

// Turning the signs of amounts, of results, or the unit of either, changes
// neither the word nor the size of the next amount, and no number is ever NaN.
func TestAnalyseProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(label string) float64 { return rapid.Float64Range(-100, 100).Draw(t, label) }
		in := Input{Planned: num("planned"), Moved: num("moved"), UMoved: math.Abs(num("uMoved")) / 20, HasMoved: rapid.Bool().Draw(t, "has"),
			Change: num("change"), UChange: math.Abs(num("uChange")) / 20}
		by := num("by")
		in.ExpectedPlanned, in.ExpectedMoved = by*in.Planned, by*in.Moved
		f := Analyse(in)
		known := false
		for _, w := range Words() {
			known = known || f.Word == w
		}
		if !known {
			t.Fatalf("%+v: word %q", in, f.Word)
		}
		for _, x := range []float64{f.Rho, f.URho, f.Kappa, f.UKappa, f.Gain, f.UGain} {
			if math.IsNaN(x) {
				t.Fatalf("NaN in %+v from %+v", f, in)
			}
		}
		other := in
		other.Planned, other.Moved = -in.Planned, -in.Moved // the other sign of amount
		other.Change, other.UChange = -4*in.Change, 4*in.UChange
		other.ExpectedPlanned, other.ExpectedMoved = -4*in.ExpectedPlanned, -4*in.ExpectedMoved
		g := Analyse(other)
		if f.Word != g.Word || f.Neighbour != g.Neighbour || f.GainKnown != g.GainKnown || f.CheckSign != g.CheckSign {
			t.Fatalf("%+v gives %+v, turned and scaled %+v", in, f, g)
		}
		own := num("own")
		n := NextAmount(Step{Own: own, Gain: NextGain(1, f), Change: 10, UChange: 1, Last: &f})
		if n.Amount*own < 0 || math.Abs(n.Amount) > 2*math.Abs(own) || n.First == Nothing && own != 0 && math.Abs(n.Amount) < 0.499*math.Abs(own) {
			t.Fatalf("own %g gives %+v", own, n)
		}
	})
}
