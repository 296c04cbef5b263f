package engine_test

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"waywright/checks/response"
	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
)

// with reads a test procedure with some words put in the place of others.
func with(t testing.TB, name string, instead ...string) *engine.Plan {
	t.Helper()
	text, err := os.ReadFile("../testdata/procedures/engine/" + name + ".hcl")
	if err != nil {
		t.Fatal(err)
	}
	source := strings.NewReplacer(instead...).Replace(string(text))
	l, diags := hclfile.Parse(hclfile.Source{FS: fstest.MapFS{name + ".hcl": {Data: []byte(source)}}, Path: name + ".hcl"})
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	return engine.NewPlan(l.Procedure)
}

const againstTheNeedle = railAt40 + `
		shift.moved = 40 down
		prepare = yes
		clamped = yes
		high = 80 80`

// While the needle's sign is not settled no movement is taken, whatever way it
// comes, and the test cannot be left out: a needle that goes nowhere tells nothing.
func TestRule38NothingMovesUntilTheSignIsSettled(t *testing.T) {
	for _, first := range []string{"", "nowhere"} {
		r := enginetest.Play(t, againstTheNeedle, load)
		if first != "" {
			say(t, r, engine.Input{Text: first})
		}
		for _, in := range []engine.Input{
			{Name: "shift.moved", Text: "80 down"}, {Text: "80 down"}, {Name: "level", Text: "shift"}, {Verb: engine.Omit}, {Name: "mark", Text: "all"},
		} {
			if _, refusal, err := r.Say(in); err != nil || refusal == nil {
				t.Errorf("after %q, %+v is taken (%v)", first, in, err)
			}
		}
		if q := r.Next(); q.Name != "shift.nudge" || q.Optional {
			t.Fatalf("after %q %s is asked, optional %v", first, q.Name, q.Optional)
		}
		say(t, r, engine.Input{Text: "plus"})
		if q := r.Next(); q.Name != "mark" {
			t.Errorf("once it is settled %s is asked", q.Name)
		}
	}
}

// A journal from before may say that the test was left out: it is asked for still.
func TestRule38TestLeftOutIsAskedAgain(t *testing.T) {
	s := enginetest.Play(t, againstTheNeedle, load).State()
	s, err := s.With(engine.Event{N: s.Len() + 1, Time: enginetest.Start.Add(time.Hour), By: "A. Fitter",
		Data: engine.MoveJudged{Correction: "shift", How: "nowhere", Skipped: true}})
	if err != nil {
		t.Fatal(err)
	}
	if q := s.Next(enginetest.Start.Add(2 * time.Hour)); q.Name != "shift.nudge" {
		t.Errorf("%s is asked", q.Name)
	}
}

// Nothing is learnt from readings that look as if two places were taken for one
// another: the amount is what the procedure works out.
func TestRule36NothingLearntFromSwappedReadings(t *testing.T) {
	r := enginetest.Play(t, `begin signs
		part = collars
		omit
		collar.headstock = 20.040
		collar.tailstock = 20.000
		set_over.moved = 20 away from the operator
		collar.headstock = 19.900
		collar.tailstock = 19.980`, load)
	q := r.Next()
	if got := r.State().Gains(); len(got) != 0 {
		t.Errorf("learnt: %v", got)
	}
	if q.Response == nil || len(q.Response.Looks) != 1 || q.Response.Looks[0].Kind != engine.Swapped {
		t.Fatalf("%s: %+v", q.Name, q.Response)
	}
	if ad := q.Ways[0].Advice; ad == nil || math.Abs(ad.Amount-0.040) > 1e-9 || ad.Gain != 1 {
		t.Errorf("%+v is advised, want the whole 0.040", q.Ways[0])
	}
}

// A machine that answers three times as much as expected looks as if the places had
// been taken for one another before every move. That is believed once; then its gain
// is learnt, and the amounts become smaller.
func TestRule36SwappedIsBelievedOnce(t *testing.T) {
	r := enginetest.Play(t, "begin signs\npart = collars\nomit\ncollar.headstock = 20.000\ncollar.tailstock = 20.040", load)
	taper := 0.040
	for round := range 3 {
		ad := r.Next().Ways[0].Advice
		if ad == nil {
			break // in line
		}
		want := taper / 2 // half the taper sets it over on this bar
		if round == 2 {
			want /= 2 // a gain of 3, held at 2
		}
		if math.Abs(ad.Amount-want) > 2e-4 {
			t.Errorf("round %d: %.4f is advised at a taper of %.4f, want %.4f", round+1, ad.Amount, taper, want)
		}
		looks := r.Next().Response
		if swapped := looks != nil && len(looks.Looks) > 0 && looks.Looks[0].Kind == engine.Swapped; swapped != (round == 1) {
			t.Errorf("round %d: taken for one another is said %v", round+1, swapped)
		}
		moved := math.Round(ad.Amount*1e3) / 1e3
		way := "towards the operator"
		if moved < 0 {
			way = "away from the operator"
		}
		say(t, r, engine.Input{Name: "set_over.moved", Text: fmt.Sprintf("%.0f um %s", math.Abs(moved)*1e3, way)})
		taper -= 3 * 2 * moved
		say(t, r, engine.Input{Name: "collar.headstock", Text: "20.000"})
		say(t, r, engine.Input{Name: "collar.tailstock", Text: fmt.Sprintf("%.3f", 20+taper), Reason: "as it was read"})
	}
}

// Where no movement is read, what was done of it may be told: the ledger adds
// that, the effect is held against it, and half done is not a machine that
// answers by half.
func TestRule40WhatWasDone(t *testing.T) {
	r := enginetest.Play(t, `begin corr-ways
		omit
		high.0 = 20 30 20
		omit
		ends = 0
		scrape = half
		high.0 = 0 -40 0
		ends = 0
		true = shim
		shim = 30 um
		high.0 = 0 -10 0
		ends = 0`, load)
	type line struct {
		place         string
		amount, total float64 // µm
		planned       bool
	}
	want := []line{{"strip at 0", 10, 10, false}, {"strip at 100", 15, 15, false}, {"strip at 200", 10, 10, false}, {"strip", 30, 30, false}}
	got := r.State().Ledger()
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i, l := range got {
		w := want[i]
		if l.Place != w.place || math.Abs(l.Amount*1000-w.amount) > 1e-9 || math.Abs(l.Total*1000-w.total) > 1e-9 || l.Planned != w.planned {
			t.Errorf("line %d: %+v, want %+v", i, l, w)
		}
	}
	cs := r.State().Corrections()
	f := cs[len(cs)-1].Response.Finding
	if f.Word != response.AsExpected || math.Abs(f.Rho-1) > 1e-6 {
		t.Errorf("30 of 40 was done, and 30 came: %s, response %g", f.Word, f.Rho)
	}
	if g := r.State().Gains()["shim"]; g != 0 && math.Abs(g-1) > 1e-6 {
		t.Errorf("the gain is %g", g)
	}
	if took := cs[len(cs)-1].Took; took == nil || took.Typed != "30 um" || math.Abs(took.Value-0.030) > 1e-12 {
		t.Errorf("%+v was told", took)
	}
}

func TestRule40WhatWasDoneIsRefused(t *testing.T) {
	const at = `begin corr-ways
		omit
		high.0 = 20 30 20
		omit
		ends = 0
		`
	for script, typed := range map[string][]string{
		at:                 {"20 um", "-1", "a bit"}, // an amount a station: all, or half
		at + "true = shim": {"-5 um", "0", "5 mm/m", "3 4", "some"},
	} {
		r := enginetest.Play(t, script, load)
		name := "scrape"
		if script != at {
			name = "shim"
		}
		for _, text := range typed {
			if _, refusal, err := r.Say(engine.Input{Name: name, Text: text}); err != nil || refusal == nil {
				t.Errorf("%s = %s is taken (%v)", name, text, err)
			}
		}
	}
	// An event that says what cannot be.
	s := enginetest.Play(t, at+"true = shim", load).State()
	for _, d := range []engine.Reported{
		{Correction: "shim", Share: -1}, {Correction: "shim", Share: 2}, {Correction: "shim", Share: math.NaN()},
		{Correction: "shim", Took: &engine.Taken{Value: 3, Unit: "deg"}}, {Correction: "shim", Took: &engine.Taken{Value: 0, Unit: "um"}},
	} {
		if _, err := s.With(engine.Event{N: s.Len() + 1, Time: enginetest.Start.Add(time.Hour), Data: d}); err == nil {
			t.Errorf("%+v is taken", d)
		}
	}
}

// A part of what cannot be put back is a first pass, and not a movement that was
// taken back.
func TestFirstPassIsNotAmiss(t *testing.T) {
	plan := with(t, "fine", "  negative = \"down\"\n", "")
	for moved, want := range map[string]string{"20 up": "off", "2 up": "shift.moved", "70 up": "shift.moved"} {
		r := enginetest.Play(t, "begin fine\nomit\noff = -40\nshift.moved = "+moved, func(string) (*engine.Plan, error) { return plan, nil })
		if q := r.Next(); q.Name != want {
			t.Errorf("moved %s: %s is asked, want %s", moved, q.Name, want)
		}
	}
}

// What a correction did is told with how its gate stands now, and whether it was
// read again since.
func TestResponseKnowsHowTheGateStands(t *testing.T) {
	r := enginetest.Play(t, "begin fine\nomit\noff = 40\nshift.moved = 80 down\n- = carry_on\noff = -8", load)
	q := r.Next()
	if q.Response.Verdict != q.Gate.Verdict || q.Response.Reread {
		t.Errorf("%+v beside %s", q.Response, q.Gate.Verdict)
	}
	if q.Ways[0].Kind != engine.WayAfresh {
		t.Errorf("%s is offered first", q.Ways[0].Name)
	}
	say(t, r, engine.Input{Text: "afresh", Reason: "to see"})
	say(t, r, engine.Input{Name: "off", Text: "-8"})
	if q = r.Next(); !q.Response.Reread || q.Ways[0].Kind != engine.WayCorrection {
		t.Errorf("%s is offered first, and read again %v", q.Ways[0].Name, q.Response.Reread)
	}
}
