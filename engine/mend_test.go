package engine_test

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"

	"waywright/checks"
	"waywright/checks/response"
	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
)

// inline reads a procedure that a test writes itself: what stands in it, after
// a head that is the same for all.
func inline(t testing.TB, body string) *engine.Plan {
	t.Helper()
	src := `procedure "inline" {
  title    = "Inline"
  machine  = "any"
  revision = "1"
  purpose  = "Test one thing."
  decision = "guarded"
}
instrument "gauge" {
  kind          = "lever indicator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(0.5)
  turn          = mm(0.2)
  zero          = um(20)
}
` + body + `
signoff "fitter" { title = "Carried out by" }
signoff "inspector" { title = "Accepted by" }
`
	l, diags := hclfile.Parse(hclfile.Source{FS: fstest.MapFS{"inline.hcl": {Data: []byte(src)}}, Path: "inline.hcl"})
	if diags.HasErrors() {
		t.Fatalf("inline procedure: %v", diags)
	}
	return engine.NewPlan(l.Procedure)
}

// played plays a script on a plan.
func played(t testing.TB, p *engine.Plan, script string) *enginetest.Runner {
	t.Helper()
	return enginetest.Play(t, "begin inline\n"+script, func(string) (*engine.Plan, error) { return p, nil })
}

// rail plays a script on the rail, up to its first failed gate when off tells
// how high it stands.
func rail(t testing.TB, off, more string) *enginetest.Runner {
	t.Helper()
	return enginetest.Play(t, "begin rail\nheight = 50\nprepare = yes\nclamped = yes\nomit\nhigh = "+off+" "+off+"\n"+more, load)
}

func say(t testing.TB, r *enginetest.Runner, in engine.Input) []engine.Notice {
	t.Helper()
	notices, refusal, err := r.Say(in)
	if err != nil || refusal != nil {
		t.Fatalf("%+v at %s: %+v %v", in, r.Next().Name, refusal, err)
	}
	return notices
}

func gate(t testing.TB, s *engine.State, name string) engine.Judgement {
	t.Helper()
	for _, j := range s.Judgements() {
		if j.Name == name {
			return j
		}
	}
	t.Fatalf("there is no gate %s", name)
	return engine.Judgement{}
}

// A movement is amended like any answer: the question about it goes, and what
// it did is told anew.
func TestRule43AmendAMovement(t *testing.T) {
	r := rail(t, "80", "mark = all\nlevel = shift\nomit\nshift.moved = -30")
	if q := r.Next(); q.Kind != engine.AskMove {
		t.Fatalf("after 30 of 80 µm %s is asked", q.Name)
	}
	amend := engine.Input{Verb: engine.Amend, Name: "shift.moved", Text: "-80 um", Reason: "mistyped"}
	say(t, r, amend)
	if q := r.Next(); q.Name != "prepare" {
		t.Errorf("after the amendment %s is asked, want prepare", q.Name)
	}
	amend.Text = "80 um"
	say(t, r, amend)
	if q := r.Next(); q.Kind != engine.AskMove || q.Move.Left != -0.16 {
		t.Errorf("typed the wrong way, %s is asked: %+v", q.Name, q.Move)
	}
	say(t, r, engine.Input{Text: "carry_on"})
	for _, text := range []string{"yes", "yes", "0 0"} {
		say(t, r, engine.Input{Text: text})
	}
	if w := r.State().Corrections()[0].Response.Finding.Word; w != response.Reversed {
		t.Errorf("moved +80, changed −80: %s, want reversed", w)
	}
	amend.Text = "-80"
	say(t, r, amend)
	c := r.State().Corrections()[0]
	if c.Response.Finding.Word != response.AsExpected || c.Moved[0].Way != "down" {
		t.Errorf("moved −80, changed −80: %s, moved %s", c.Response.Finding.Word, c.Moved[0].Way)
	}
	if q := r.Next(); q.Kind != engine.AskReading {
		t.Errorf("then %s is asked: nothing is wrong with the needle", q.Name)
	}
	if a := r.State().Amendable(1)[0]; a.Name != "high" {
		t.Errorf("the last that can be amended is %+v", a)
	}
	for name, want := range map[string]string{"shift.moved": "Rail: movement after clamping, plus up", "nothing": "", "": ""} {
		if got := r.State().Asked(name); got != want {
			t.Errorf("%q was the answer to %q, want %q", name, got, want)
		}
	}
	var both []string
	for _, a := range r.State().Amendments() {
		both = append(both, a.Was+" to "+a.To)
	}
	if d := cmp.Diff([]string{"-30 µm to -80 µm", "-80 µm to 80 µm", "80 µm to -80 µm"}, both); d != "" {
		t.Errorf("both values stay in the record (-want +got):\n%s", d)
	}
}

// What was signed is not amended: a correction is a record of its own.
func TestAmendmentUnderASignature(t *testing.T) {
	r := rail(t, "0", "mark = all\nfitter = A. Fitter")
	amend := engine.Input{Verb: engine.Amend, Name: "high", Take: 1, Text: "1", Reason: "misread"}
	if _, refusal, err := r.Say(amend); err != nil || refusal == nil || !strings.Contains(refusal.Mend, "a new record") {
		t.Errorf("an amendment under a signature: %+v, %v; want it refused, with the way", refusal, err)
	}
	if q := r.Next(); q.Name != "inspector" {
		t.Errorf("%s is asked, want the inspector's signature", q.Name)
	}
	say(t, r, engine.Input{Text: "B. Inspector"})
	if q := r.Next(); q.Kind != engine.End || q.Outcome != engine.Accepted {
		t.Fatalf("%s, %s", q.Name, q.Outcome)
	}
	for _, in := range []engine.Input{
		{Verb: engine.Amend, Name: "high", Text: "500", Reason: "misread"},
		{Verb: engine.Disturb, Name: "look", Reason: "knocked"}, {Verb: engine.Pause}, {Verb: engine.Back}, {Text: "yes"},
	} {
		if _, refusal, err := r.Say(in); refusal == nil || refusal.Code != "done" && refusal.Code != "sealed" || err != nil {
			t.Errorf("%+v on a closed run: %+v %v", in, refusal, err)
		}
	}
}

// A hold point is released before anything in its step, a gate too.
func TestRule23HoldPointBeforeAGate(t *testing.T) {
	p := inline(t, `
step "look" {
  title = "Look"
  reading "high" {
    ask      = "Rail: reading"
    unit     = "um"
    with     = instrument.gauge
    positive = "high"
    range    = [um(-100), um(100)]
  }
}
step "judge" {
  title      = "Judge"
  hold_point = signoff.inspector
  gate "level" {
    title     = "Level"
    of        = reading.high
    within    = plus_minus(um(50))
    source    = "shop rule"
    if_failed = [reject]
  }
}`)
	r := played(t, p, "omit\nhigh = 90")
	if q := r.Next(); q.Kind != engine.AskRelease || q.Name != "judge.release" {
		t.Fatalf("%s is asked before the hold point", q.Name)
	}
	say(t, r, engine.Input{Text: "B. Inspector"})
	if q := r.Next(); q.Kind != engine.AskWay {
		t.Errorf("then %s is asked", q.Name)
	}
}

// A gate in a step that does not apply is not applied, whatever it judges.
func TestRule25GateInAStepThatDoesNotApply(t *testing.T) {
	p := inline(t, `
given "kind" {
  ask    = "Ways: which form?"
  choose = ["vee", "flat"]
}
step "look" {
  title = "Look"
  reading "high" {
    ask      = "Rail: reading"
    unit     = "um"
    with     = instrument.gauge
    positive = "high"
    range    = [um(-100), um(100)]
  }
}
step "judge" {
  title = "Judge"
  when  = given.kind == "vee"
  result "off" {
    title    = "Off"
    value    = reading.high * 2
    unit     = "um"
    positive = "high"
  }
  gate "level" {
    title     = "Level"
    of        = reading.high
    within    = plus_minus(um(50))
    source    = "shop rule"
    if_failed = [reject]
  }
}
step "after" {
  title = "After"
  gate "twice" {
    title     = "Twice level"
    of        = result.off
    within    = plus_minus(um(50))
    source    = "shop rule"
    if_failed = [reject]
  }
}`)
	r := played(t, p, "kind = flat\nomit\nhigh = 90")
	for _, name := range []string{"level", "twice"} {
		if j := gate(t, r.State(), name); j.Verdict != checks.NotApplied || j.Why != "step judge does not apply" {
			t.Errorf("%s: %s, %q", name, j.Verdict, j.Why)
		}
	}
	if q := r.Next(); q.Kind != engine.AskSign {
		t.Errorf("%s is asked", q.Name)
	}
}

const pair = `
step "look" {
  title = "Look"
  reading "left" {
    ask      = "Left: reading"
    unit     = "um"
    with     = instrument.gauge
    positive = "high"
    range    = [um(-100), um(100)]
  }
  reading "right" {
    ask      = "Right: reading"
    unit     = "um"
    with     = instrument.gauge
    positive = "high"
    range    = [um(-100), um(100)]
  }
  gate "alike" {
    title     = "Both alike"
    of        = reading.right - reading.left
    within    = plus_minus(um(50))
    decision  = "simple"
    source    = "shop rule"
    if_failed = [reject]
  }
}`

// The zero is common to what one setting read, and to nothing else: it ends
// with the instrument in the hand, also when that comes back.
func TestRule22AnotherInstrumentIsAnotherZero(t *testing.T) {
	p := inline(t, pair)
	u := func(between ...engine.Data) float64 {
		r := played(t, p, "instrument.gauge = L-1\nleft = 10")
		for _, d := range between {
			if _, err := r.Record(d); err != nil {
				t.Fatal(err)
			}
		}
		say(t, r, engine.Input{Name: "right", Text: "12"})
		return gate(t, r.State(), "alike").U
	}
	one := u()
	other := u(engine.Bound{Name: "gauge", ID: "L-2"})
	back := u(engine.Bound{Name: "gauge", ID: "L-2"}, engine.Bound{Name: "gauge", ID: "L-1"})
	sat := u(engine.Paused{}, engine.Sat{Operator: "A. Fitter"})
	// A zero of 20 µm is 11.5 as a standard uncertainty, and twice there makes
	// 16.3, with k = 2 about 32. Shared it cancels: derived here.
	if one > 0.003 || other < 0.030 || back < 0.030 || sat < 0.030 {
		t.Errorf("U: one setting %.4f, another instrument %.4f, the same again %.4f, a new sitting %.4f mm", one, other, back, sat)
	}
}

// A reading counts with the figures of the instrument it was taken with.
func TestReadingKeepsItsInstrument(t *testing.T) {
	p := inline(t, pair)
	r := played(t, p, "omit\nleft = 10\nright = 12")
	before := gate(t, r.State(), "alike").U
	if _, err := r.Record(engine.Bound{Name: "gauge", ID: "L-9", Unit: "um", Error: 40, Repeatability: 30, Resolution: 10}); err != nil {
		t.Fatal(err)
	}
	if after := gate(t, r.State(), "alike").U; after != before {
		t.Errorf("U was %g; with another instrument in the hand now it is %g", before, after)
	}
}

// The cautions of a correction that is offered first may be acknowledged at
// the gate: that chooses it, and back takes both back.
func TestRule36CautionsAtTheGate(t *testing.T) {
	plan := fromLibrary(t, "lathe/tailstock-by-test-cut")
	r := enginetest.Play(t, `begin x
centres = 300
span = 250
set_up.clear = yes
true_centre = yes
cut.clear = yes
one_setting = yes
measure.clear = yes
omit
omit
diameter.headstock_end = 20 20 20
diameter.tailstock_end = 20.1 20.101 20.1
diameter.headstock_end.again = 20
pause
sit A. Fitter`, func(string) (*engine.Plan, error) { return plan, nil })
	q := r.Next()
	if q.Kind != engine.AskWay || !slices.Contains(q.Also, "set_over.clear") {
		t.Fatalf("%s is asked, also %v", q.Name, q.Also)
	}
	say(t, r, engine.Input{Name: "set_over.clear", Text: "yes"})
	if q := r.Next(); q.Name != "instrument.indicator" {
		t.Errorf("then %s is asked", q.Name)
	}
	if len(r.State().SkippedClears()) > 0 {
		t.Error("cautions that were acknowledged count as skipped")
	}
	say(t, r, engine.Input{Verb: engine.Back})
	if q := r.Next(); q.Kind != engine.AskWay {
		t.Errorf("after back %s is asked", q.Name)
	}
}

// An amendment holds a set against its closing reading again.
func TestRule20AmendedBeyondTheClosure(t *testing.T) {
	r := enginetest.Play(t, "begin rows\nlength = 100\nplaces = 3\nomit\nstrip.0 = 0 0 0 0 0 0\nstrip.0.again = 1", load)
	notices := say(t, r, engine.Input{Verb: engine.Amend, Name: "strip.0.again", Text: "6", Reason: "mistyped"})
	if !slices.ContainsFunc(notices, func(n engine.Notice) bool { return n.Kind == engine.SetVoid && n.Drift.Moved > 0.0059 }) {
		t.Errorf("nobody is told that the set is void: %+v", notices)
	}
	if q := r.Next(); q.Name != "strip.0" {
		t.Errorf("%s is asked", q.Name)
	}
}

// A needle that reads reversed turns a nought too, and what a nought is
// amended to.
func TestRule22ReversedNoughtAmended(t *testing.T) {
	r := enginetest.Play(t, `begin rows
length = 100
places = 3
omit
strip.0 = 0 0 0 0 0 0
strip.0.again = 0
again_along.0 = 0
again_along.50 = 0
again_along.100 = 0
again_along.100.back = 0
again_along.50.back = 0
again_along.0.back = 0
disc.nudge = minus
disc.0 = 0`, load)
	say(t, r, engine.Input{Verb: engine.Amend, Name: "disc.0", Text: "5", Reason: "misread"})
	for _, set := range r.State().Readings() {
		if set.Name == "disc" && (!set.Turned || set.Takes[0].Value != -0.005) {
			t.Errorf("turned %v, value %g, want −0.005", set.Turned, set.Takes[0].Value)
		}
	}
}

// A confirmation amended to no works its step again, as no does.
func TestRule21ConfirmationAmendedToNo(t *testing.T) {
	r := rail(t, "0", "")
	say(t, r, engine.Input{Verb: engine.Amend, Name: "clamped", Text: "no", Reason: "it was not"})
	if q := r.Next(); q.Name != "clamped" {
		t.Errorf("%s is asked", q.Name)
	}
	if s := r.State().Readings()[0]; s.State != "stale" {
		t.Errorf("what was read is %s", s.State)
	}
}

// Where the machine goes against the indicator, its sign is asked about before
// another amount, also where no cause can be named of so small a change.
func TestNoAmountUntilTheSignIsChecked(t *testing.T) {
	r := rail(t, "14", "mark = all\nlevel = shift\nomit\nshift.moved = -14\nprepare = yes\nclamped = yes\nhigh = 28 28")
	q := r.Next()
	if q.Kind != engine.AskMove || !q.Move.Nudge {
		t.Fatalf("%s is asked, want the test of the needle; %+v", q.Name, r.State().Corrections()[0].Response.Finding)
	}
	if w := q.Response.Finding.Word; w != response.Worse {
		t.Errorf("the word is %s", w)
	}
}

// A movement far beyond what was asked is said at once, as one short of it is.
func TestMovedTooFar(t *testing.T) {
	r := rail(t, "80", "mark = all\nlevel = shift\nomit\nshift.moved = -800")
	if q := r.Next(); q.Kind != engine.AskMove || q.Move.Band != response.BandOver || q.Move.LeftWay != "up" {
		t.Fatalf("%s is asked: %+v", q.Name, q.Move)
	}
}

// The words of a correction stay as they read when it was chosen, though what
// they are made from is stale.
func TestWordsOfACorrectionStay(t *testing.T) {
	r := enginetest.Play(t, "begin rows\nlength = 100\nplaces = 3\nomit\nstrip.0 = 0 0 40 40 0 0\nstrip.0.again = 0\nscrape = yes", load)
	c := r.State().Corrections()[0]
	if got := strings.Join(c.Do, " "); got != "Scrape most at 50 mm." {
		t.Errorf("told: %s", got)
	}
	l := r.State().Ledger()
	if len(l) != 1 || l[0].Place != "strip at 50" || l[0].Amount != 0.04 || l[0].Way != "to scrape off" {
		t.Errorf("ledger: %+v", l)
	}
}

// Divisions are typed as they are counted, and kept in a unit that can be read
// without the instrument.
func TestRule16DivisionsKept(t *testing.T) {
	r := rail(t, "3 div", "mark = all")
	if j := gate(t, r.State(), "level"); j.Value != 0.003 {
		t.Errorf("3 divisions of 1 µm are %g mm", j.Value)
	}
	if got := r.State().Readings()[0].Takes[0]; got.Typed != "3 div" || got.Unit.Name != "um" {
		t.Errorf("kept as %q in %s", got.Typed, got.Unit.Name)
	}
}

// One station that could not be read leaves a gate not measured where the rest
// pass, and failed where another fails (semantics rule 26).
func TestRule26OneStationNotMeasured(t *testing.T) {
	for _, tt := range []struct {
		at   string
		want checks.Verdict
		key  string
	}{{"0", checks.NotMeasured, "50"}, {"40", checks.Fail, "100"}} {
		r := enginetest.Play(t, "begin rows\nlength = 100\nplaces = 3\nomit\nstrip.0 = 0\nstrip.0 = 0\ncannot strip.50 because a bolt is there\nstrip.100 = "+
			tt.at+"\nstrip.100 = "+tt.at+"\nstrip.0.again = 0", load)
		if j := gate(t, r.State(), "even"); j.Verdict != tt.want || j.Element != tt.key {
			t.Errorf("100 at %s µm: %s at %s, want %s at %s", tt.at, j.Verdict, j.Element, tt.want, tt.key)
		}
	}
}

// A wait that is asked again because what it brought about has ended by age
// counts from that end, not from the answer before.
func TestRule41WaitAgainAfterItsAge(t *testing.T) {
	p := inline(t, `
step "warm" {
  title    = "Warm it"
  lasting  = true
  good_for = minutes(30)
  wait "run" {
    why      = "it is cold"
    at_least = minutes(20)
  }
}
step "look" {
  title = "Look"
  needs = [step.warm]
  reading "high" {
    ask      = "Rail: reading"
    unit     = "um"
    with     = instrument.gauge
    positive = "high"
    range    = [um(-100), um(100)]
  }
  gate "level" {
    title     = "Level"
    of        = reading.high
    within    = plus_minus(um(50))
    source    = "shop rule"
    if_failed = [reject]
  }
}`)
	r := played(t, p, "wait 20m\nrun = over\nomit\nwait 40m")
	q := r.Next()
	if q.Name != "run" || q.Wait.Over.Sub(r.Clock).Round(time.Minute) != 10*time.Minute {
		t.Fatalf("after 40 minutes %s is asked, over in %v", q.Name, q.Wait.Over.Sub(r.Clock))
	}
	if _, refusal, _ := r.Say(engine.Input{Text: "over"}); refusal == nil {
		t.Error("the wait was taken for over")
	}
	r.Clock = r.Clock.Add(11 * time.Minute)
	say(t, r, engine.Input{Text: "over"})
	if q := r.Next(); q.Name != "high" {
		t.Errorf("then %s is asked", q.Name)
	}
}
