package engine_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"waywright/checks/response"
	"waywright/engine"
	"waywright/engine/enginetest"
)

func corr(t *testing.T, name string) {
	t.Helper()
	enginetest.Run(t, "../testdata/scenarios/corr-"+name+".txt", load)
}

func TestRule33TheFirstFromTheLeft(t *testing.T)       { corr(t, "33-first") }
func TestRule33WordsForEverySign(t *testing.T)         { corr(t, "33-signs") }
func TestRule33LostInTheDoubt(t *testing.T)            { corr(t, "33-lost") }
func TestRule34FurtherTakesTwice(t *testing.T)         { corr(t, "34-again") }
func TestRule36PlannedByTheGain(t *testing.T)          { corr(t, "36-gain") }
func TestRule37SomethingBetween(t *testing.T)          { corr(t, "37-between") }
func TestRule38JudgedBeforeTheCut(t *testing.T)        { corr(t, "38-moved") }
func TestRule38TheNeedleReversed(t *testing.T)         { corr(t, "38-words") }
func TestRule38TwiceTheWrongWay(t *testing.T)          { corr(t, "38-twice") }
func TestRule38PartUndoneStrong(t *testing.T)          { corr(t, "38-part") }
func TestRule38EveryRowOfTheResponses(t *testing.T)    { corr(t, "38-rows") }
func TestRule39AttemptsSpentNameUpstream(t *testing.T) { corr(t, "38-part") }
func TestRule39NothingToTryNamesUpstream(t *testing.T) { corr(t, "39-elsewhere") }

const railAt40 = `begin rail
height = 50
prepare = yes
clamped = yes
omit
high = 40 40
mark = all
`

const readAgain = `
prepare = yes
clamped = yes
`

// The amount that was planned stays what it was, whatever is amended later;
// what was known before is told anew.
func TestRule36PlannedStays(t *testing.T) {
	r := enginetest.Play(t, railAt40+`
		level = shift
		omit
		amend high 1 41 because a slip of the pen
		shift.moved = 40 down`+readAgain+`
		high = 0 0`, load)
	cs := r.State().Corrections()
	if len(cs) != 1 {
		t.Fatalf("%d corrections, want 1", len(cs))
	}
	c := cs[0]
	if got := c.Planned * 1000; math.Abs(got+40) > 1e-9 {
		t.Errorf("planned %.3f µm, want -40: what was worked out when it was chosen", got)
	}
	// By hand: 40.5 before, 0 after, -40 planned.
	if got := c.Response.Finding.Rho; math.Abs(got-40.5/40) > 1e-9 {
		t.Errorf("response %.4f, want %.4f", got, 40.5/40)
	}
}

// A slip in what was read after a correction is mended with the words it led to.
func TestRule37TheWordsFollowAnAmendment(t *testing.T) {
	r := enginetest.Play(t, railAt40+`
		shift.moved = 40 down`+readAgain+`
		high = 80 80`, load)
	if q := r.Next(); q.Name != "shift.nudge" {
		t.Fatalf("asked %s, want the test of the needle", q.Name)
	}
	for _, take := range []int{1, 2} {
		if _, ref, err := r.Say(engine.Input{Verb: engine.Amend, Name: "high", Take: take, Text: "8", Reason: "a nought too many"}); ref != nil || err != nil {
			t.Fatal(ref, err)
		}
	}
	if w := r.State().Corrections()[0].Response.Finding.Word; w != response.AsExpected {
		t.Errorf("word %s, want %s", w, response.AsExpected)
	}
	if q := r.Next(); q.Name == "shift.nudge" {
		t.Error("the needle is still to be tested")
	}
}

// The ledger adds what was planned, place by place and way by way.
func TestRule40Ledger(t *testing.T) {
	r := enginetest.Play(t, `begin corr-ways
		omit
		high.0 = 20 30 20
		omit
		ends = 0
		scrape = yes
		high.0 = 0 12 0
		ends = 0
		true = shim
		shim = yes
		high.0 = 0 30 0
		ends = 0
		true = shim
		shim = yes`, load)
	type line struct {
		Place, Way    string
		Amount, Total float64 // µm
	}
	want := []line{
		{"strip at 0", "scrape off", 20, 20}, {"strip at 100", "scrape off", 30, 30}, {"strip at 200", "scrape off", 20, 20},
		{"strip", "shim from under the strip", 12, 12}, {"strip", "shim from under the strip", 30, 42},
	}
	got := r.State().Ledger()
	if len(got) != len(want) {
		t.Fatalf("%d lines, want %d: %+v", len(got), len(want), got)
	}
	for i, l := range got {
		w := want[i]
		if l.Place != w.Place || l.Way != w.Way || math.Abs(l.Amount*1000-w.Amount) > 1e-6 || math.Abs(l.Total*1000-w.Total) > 1e-6 {
			t.Errorf("line %d: %s %s %.3f, in all %.3f; want %+v", i+1, l.Place, l.Way, l.Amount*1000, l.Total*1000, w)
		}
	}
}

// Each verdict is one attempt in the history, with what was done about it.
func TestHistory(t *testing.T) {
	r := enginetest.Play(t, railAt40+`
		shift.moved = 20 down
		- = carry_on`+readAgain+`
		high = 20 20
		mark = all
		shift.moved = 20 down`+readAgain+`
		high = 0 0
		mark = all`, load)
	h := r.State().History("level")
	if len(h) != 3 {
		t.Fatalf("%d attempts, want 3", len(h))
	}
	for i, want := range []struct {
		value float64
		done  bool
		stand bool
	}{{40, true, false}, {20, true, false}, {0, false, true}} {
		a := h[i]
		if math.Abs(a.Value*1000-want.value) > 1e-9 || (a.Correction != nil) != want.done || a.Stands != want.stand {
			t.Errorf("attempt %d: %.3f, correction %v, stands %v; want %+v", i+1, a.Value*1000, a.Correction != nil, a.Stands, want)
		}
	}
	if h[0].Ended != "after: Shift the rail" {
		t.Errorf("the first ended %q", h[0].Ended)
	}
	if got := r.State().History("bears"); len(got) != 3 || !got[2].Stands {
		t.Errorf("history of the other gate: %d attempts", len(got))
	}
}

// What was done at a place so far stands beside the next correction there, also
// once it is chosen.
func TestRule40TotalsAtTheCorrection(t *testing.T) {
	r := enginetest.Play(t, `begin corr-ways
		omit
		high.0 = 20 30 20
		omit
		ends = 0
		scrape = yes
		high.0 = 0 12 0
		ends = 0
		true = shim
		shim = yes
		high.0 = 0 30 0
		ends = 0`, load)
	soFar := func() map[string]float64 {
		out := map[string]float64{}
		for _, w := range r.Next().Ways {
			if w.Name != "shim" {
				continue
			}
			for _, l := range w.Advice.SoFar {
				out[l.Place+", "+l.Way] = math.Round(l.Total*1e6) / 1e3
			}
		}
		return out
	}
	want := map[string]float64{"strip at 0, scrape off": 20, "strip at 100, scrape off": 30, "strip at 200, scrape off": 20, "strip, shim from under the strip": 12}
	if diff := cmp.Diff(want, soFar()); diff != "" {
		t.Errorf("at the gate (-want +got):\n%s", diff)
	}
	say(t, r, engine.Input{Name: "true", Text: "shim"})
	if diff := cmp.Diff(want, soFar()); diff != "" {
		t.Errorf("once it is chosen (-want +got):\n%s", diff)
	}
}

// What a machine answered is told for the next run, and goes into the first
// amount there; what was undone, or moved against the needle, tells nothing.
func TestRule36GainsAreRemembered(t *testing.T) {
	for _, tt := range []struct {
		name, then string
		want       map[string]float64
	}{
		{"half of it", "shift.moved = 40 down" + readAgain + "high = 20 20", map[string]float64{"shift": 0.5}},
		{"half moved, all of that arrived", "shift.moved = 20 down\n- = carry_on" + readAgain + "high = 20 20", map[string]float64{"shift": 1}},
		{"undone", "shift.moved = 40 down" + readAgain + "high = 40 40", map[string]float64{}},
		{"against the needle", "shift.moved = 40 down" + readAgain + "high = 80 80", map[string]float64{}},
		{"against the needle, which reads reversed", "shift.moved = 40 down" + readAgain + "high = 80 80\n- = minus", map[string]float64{"shift": 1}},
		{"nothing told yet", "shift.moved = 40 down", map[string]float64{}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := enginetest.Play(t, railAt40+tt.then, load).State().Gains()
			if diff := cmp.Diff(tt.want, got, cmpopts.EquateApprox(0, 1e-9)); diff != "" {
				t.Errorf("gains (-want +got):\n%s", diff)
			}
		})
	}
	q := enginetest.Play(t, strings.Replace(railAt40, "begin rail", "begin rail gain.shift=0.8", 1), load).Next()
	ad := q.Ways[0].Advice
	if got := ad.Amount * 1000; math.Abs(got+50) > 1e-9 || ad.Remembered != 0.8 {
		t.Errorf("%.3f µm, remembered %g; want 50 down, which is 40 by a gain of 0.8", got, ad.Remembered)
	}
	// Once this run has found its own, that counts.
	r := enginetest.Play(t, strings.Replace(railAt40, "begin rail", "begin rail gain.shift=0.8", 1)+"shift.moved = 50 down"+readAgain+"high = 15 15\nmark = all", load)
	if ad := r.Next().Ways[0].Advice; ad.Remembered != 0 || math.Abs(ad.Gain-0.5) > 1e-9 {
		t.Errorf("remembered %g, gain %g; want what was found now, 25 of 50", ad.Remembered, ad.Gain)
	}
}
