package rehearse_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
	"waywright/engine/rehearse"
	"waywright/procedures"
	"waywright/procedures/hclfile"
)

// bow is a bar that is read at one place and straightened until it lies
// within 5 µm. What follows it are rehearsals, and what else a test wants.
const bow = `
procedure "bow" {
  title    = "Bow of a bar"
  machine  = "any"
  revision = "1"
  purpose  = "Straighten a bar."
  decision = "guarded"
}
instrument "dial" {
  kind          = "dial indicator"
  resolution    = um(0.5)
  error         = um(1)
  repeatability = um(0.5)
  turn          = um(200)
}
step "read" {
  title = "Read the bow"
  confirm "clean" { ask = "Is the bar clean?" }
  wait "cool" { at_least = minutes(10) }
  reading "height" {
    ask      = "Middle of the bar: height"
    unit     = "um"
    repeat   = 3
    with     = instrument.dial
    positive = "bar high in the middle"
    range    = [um(-500), um(500)]
  }
  gate "straight" {
    title     = "Straight enough"
    of        = reading.height
    within    = plus_minus(um(5))
    source    = "a test"
    if_failed = [correction.press, concession]
  }
}
correction "press" {
  title    = "Press the middle"
  amount   = -mean(reading.height)
  unit     = "um"
  positive = "up"
  negative = "down"
  attempts = 3
  moved {
    ask  = "Middle: movement, plus up"
    with = instrument.dial
  }
  should_change {
    result = result.bow
    by     = amount
  }
}
signoff "fitter" { title = "Done by" }
signoff "inspector" {
  title    = "Accepted by"
  concedes = true
}
`

// withResult names what press should change.
func withResult(src string) string {
	return strings.Replace(src, "  gate \"straight\" {", "  result \"bow\" {\n    title    = \"Bow\"\n    value    = mean(reading.height)\n    unit     = \"um\"\n    positive = \"high in the middle\"\n  }\n  gate \"straight\" {", 1)
}

// parse reads a procedure; mistakes in it fail the test.
func parse(t testing.TB, src string) *engine.Plan {
	t.Helper()
	l, ds := hclfile.Parse(hclfile.Source{FS: fstest.MapFS{"p.hcl": {Data: []byte(src)}}, Path: "p.hcl"})
	for _, d := range ds {
		if d.Code[0] != 'W' {
			t.Fatalf("%s: %s: %s\n%s", d.Subject, d.Summary, d.Detail, src)
		}
	}
	return engine.NewPlan(l.Procedure).WithTrials(fewTrials)
}

// bar is the procedure with one rehearsal of it.
func bar(t testing.TB, rehearsal string) *engine.Plan {
	t.Helper()
	return parse(t, withResult(bow)+"rehearsal \"r\" {\n"+rehearsal+"\n}\n")
}

func first(plan *engine.Plan) *procedures.Rehearsal { return plan.Procedure().Rehearsals[0] }

// ends plays one seed and wants it to end as it says.
func ends(t *testing.T, plan *engine.Plan, seed int) (*engine.State, rehearse.Ended) {
	t.Helper()
	s, e := rehearse.Played(plan, first(plan), seed)
	if e.Failure != nil {
		t.Fatalf("seed %d: %s\n%+v", seed, e.Failure.Sentence(), *e.Failure)
	}
	return s, e
}

// typed lists what was typed for a reading or given, and for movements.
func typed(s *engine.State, name string) []string {
	var out []string
	for _, ev := range s.Events() {
		switch d := ev.Data.(type) {
		case engine.Answered:
			if d.Name != name {
				continue
			}
			for _, k := range d.Takes {
				out = append(out, k.Typed)
			}
			if d.Word != "" {
				out = append(out, d.Word)
			}
		case engine.Reported:
			if d.Correction+".moved" == name && d.Moved != nil {
				out = append(out, d.Moved.Typed)
			}
		}
	}
	return out
}

// What is not stated: a confirmation is yes, a wait is over, moved is as
// planned, there is one seed.
func TestRule49WhatIsNotStated(t *testing.T) {
	plan := bar(t, `  hidden { bow = um(30) }
  answer { height = hidden.bow }
  reacts "press" { bow = hidden.bow + moved }
  ends {
    outcome = "accepted"
    rounds  = { press = 1 }
  }`)
	if n := first(plan).Seeds; n != 1 {
		t.Errorf("%d seeds, want 1", n)
	}
	s, _ := ends(t, plan, 1)
	if got := typed(s, "clean"); got[0] != "yes" {
		t.Errorf("the confirmation is answered %v, want yes", got)
	}
	if w := s.Waits(); len(w) != 2 || w[0].How != "over" {
		t.Errorf("waits %+v, want two that are over", w)
	}
	if got, want := typed(s, "press.moved"), []string{"-30 um"}; !cmp.Equal(got, want) {
		t.Errorf("moved %v, want %v as planned", got, want)
	}
}

// A wait for readings of which nothing is said is over; one that is answered is
// read until two agree.
func TestRule49Waits(t *testing.T) {
	until := strings.Replace(bow, "wait \"cool\" { at_least = minutes(10) }", "wait \"cool\" {\n    until {\n      ask   = \"Bar: height\"\n      unit  = \"um\"\n      with  = instrument.dial\n      every = minutes(5)\n      agree = um(1)\n      takes = 4\n    }\n  }", 1)
	for _, tt := range []struct {
		name, answer string
		readings     []string
		how          string
	}{
		{"not stated", "", nil, "stated"},
		{"that agree", "    cool = um(100) / each.take\n", []string{"100 um", "50 um", "33.5 um", "25 um"}, "short"},
		{"at once", "    cool = um(3)\n", []string{"3 um", "3 um"}, "over"},
	} {
		plan := parse(t, withResult(until)+"rehearsal \"r\" {\n  answer {\n    height = um(0)\n"+tt.answer+"  }\n  ends { outcome = \"accepted\" }\n}\n")
		s, _ := ends(t, plan, 1)
		w := s.Waits()
		if len(w) != 1 || w[0].How != tt.how {
			t.Errorf("%s: waits %+v, want one that is %s", tt.name, w, tt.how)
		}
		if got := typed(s, "cool"); !cmp.Equal(got, tt.readings) {
			t.Errorf("%s: read %v, want %v", tt.name, got, tt.readings)
		}
	}
}

// The first grade stands where none is stated, another where it is.
func TestRule49Grade(t *testing.T) {
	src := strings.Replace(withResult(bow), "plus_minus(um(5))", "plus_minus(table.limits.bow)", 1) +
		"table \"limits\" {\n  title  = \"Limits\"\n  grades = [\"fine\", \"coarse\"]\n  row \"bow\" {\n    title  = \"Bow\"\n    values = { fine = um(5), coarse = um(50) }\n    source = \"a test\"\n  }\n}\n"
	for _, tt := range []struct{ stated, want, outcome string }{
		{"", "fine", "conceded"}, {"  grade = \"coarse\"\n", "coarse", "accepted"},
	} {
		plan := parse(t, src+"rehearsal \"r\" {\n"+tt.stated+"  answer { height = um(30) }\n  ends { outcome = \""+tt.outcome+"\" }\n}\n")
		s, _ := ends(t, plan, 1)
		if got := s.Grade(); got != tt.want {
			t.Errorf("stated %q: grade %q, want %q", tt.stated, got, tt.want)
		}
	}
}

// An answer also gives what comes from an accepted run.
func TestRule49FromAnAcceptedRun(t *testing.T) {
	src := "given \"twist\" {\n  title = \"Twist of the bed\"\n  unit  = \"um\"\n  from  = accepted[\"level\"].result.twist\n}\n" +
		strings.Replace(withResult(bow), "plus_minus(um(5))", "plus_minus(um(5) + abs(given.twist))", 1)
	plan := parse(t, src+"rehearsal \"r\" {\n  answer {\n    twist  = um(40)\n    height = um(30)\n  }\n  ends { outcome = \"accepted\" }\n}\n")
	s, _ := ends(t, plan, 1)
	if f := s.Givens(); len(f) != 1 || math.Abs(f[0].Value.Num-0.040) > 1e-12 || f[0].From == "" {
		t.Errorf("given %+v, want 40 µm from a run", f)
	}
}

// Answers are evaluated when asked, with normal noise a take, rounded to the
// resolution.
func TestRule49NoiseAndRounding(t *testing.T) {
	plan := bar(t, `  seeds = 300
  noise { height = um(0.7) }
  answer { height = um(2.2) }
  ends {
    outcome = "accepted"
    rounds  = { press = at_most(3) }
  }`)
	var sum, squares float64
	n := 0
	for seed := 1; seed <= 300; seed++ {
		s, _ := rehearse.Played(plan, first(plan), seed)
		for _, v := range typed(s, "height")[:3] {
			var x float64
			if _, err := fmt.Sscanf(v, "%g um", &x); err != nil {
				t.Fatal(err)
			}
			if x*2 != math.Round(x*2) {
				t.Fatalf("seed %d: %q is no whole number of steps of 0.5 µm", seed, v)
			}
			sum, squares, n = sum+x, squares+x*x, n+1
		}
	}
	mean := sum / float64(n)
	sd := math.Sqrt(squares/float64(n) - mean*mean)
	// Rounding to 0.5 adds 0.5²/12 to the variance (Sheppard).
	if want := math.Sqrt(0.7*0.7 + 0.25/12); math.Abs(mean-2.2) > 0.1 || math.Abs(sd-want) > 0.06 {
		t.Errorf("of %d takes mean %.3f, standard deviation %.3f; want 2.2, %.3f", n, mean, sd, want)
	}
}

// One seed gives the same run again, whatever the number of workers; another
// one does not.
func TestRule49Seeds(t *testing.T) {
	plan := bar(t, "  noise { height = um(0.7) }\n  answer { height = um(0) }\n  ends { outcome = \"accepted\" }")
	read := func(seed int) string {
		s, _ := rehearse.Played(plan, first(plan), seed)
		return strings.Join(typed(s, "height"), " ")
	}
	if a, b := read(1), read(1); a != b {
		t.Errorf("seed 1 reads %q, then %q", a, b)
	}
	seen := map[string]bool{}
	for seed := 1; seed <= 20; seed++ {
		seen[read(seed)] = true
	}
	if len(seen) < 10 {
		t.Errorf("20 seeds give %d different runs", len(seen))
	}
	ones, twos := rehearse.Seeds(plan, first(plan), 30, 1, nil), rehearse.Seeds(plan, first(plan), 30, 7, nil)
	for i := range ones {
		if ones[i].Seed != i+1 || twos[i].Seed != i+1 || ones[i].Answers != twos[i].Answers || ones[i].Outcome != twos[i].Outcome {
			t.Errorf("seed %d: %+v by one worker, %+v by seven", i+1, ones[i], twos[i])
		}
	}
}

// The person takes further takes while they are offered, then the first way.
func TestRule50FurtherTakesFirst(t *testing.T) {
	// Most of the doubt is that of the takes, so that more of them can decide.
	src := strings.Replace(strings.Replace(withResult(bow), "error         = um(1)", "error         = um(0.1)", 1), "repeatability = um(0.5)", "repeatability = um(1)", 1)
	for _, tt := range []struct {
		bow, noise string
		last       string
	}{
		{"4.2", "0.5", "again"}, {"4.9", "0.8", "press"},
	} {
		plan := parse(t, src+`rehearsal "r" {
  hidden { bow = um(`+tt.bow+`) }
  noise { height = um(`+tt.noise+`) }
  answer { height = hidden.bow }
  reacts "press" { bow = hidden.bow + moved }
  ends { outcome = "accepted" }
}
`)
		found := false
		for seed := 1; seed <= 50 && !found; seed++ {
			s, e := rehearse.Played(plan, first(plan), seed)
			var ways []string
			for _, ev := range s.Events() {
				if d, ok := ev.Data.(engine.Chosen); ok {
					ways = append(ways, d.Way)
				}
			}
			if len(ways) > 1 && ways[0] == "press" && ways[1] == "again" {
				continue // the second reading was the close one
			}
			found = e.Failure == nil && len(ways) > 0 && ways[0] == "again" && ways[len(ways)-1] == tt.last
		}
		if !found {
			t.Errorf("bow %s: no run takes again first and %s last", tt.bow, tt.last)
		}
	}
}

// Told at once of a wrong move, it carries on and measures; reacts works moved
// out, and what is typed is that, rounded.
func TestRule50CarriesOn(t *testing.T) {
	plan := bar(t, `  hidden { bow = um(30) }
  answer { height = hidden.bow }
  reacts "press" {
    moved = attempt == 1 ? -0.511 * amount : amount
    bow   = hidden.bow + moved
  }
  ends {
    outcome = "accepted"
    rounds  = { press = 2 }
    said    = { press = ["wrong_way", "as_expected"] }
  }`)
	s, _ := ends(t, plan, 1)
	// 0.511 × 30 is 15.33, then −(30 + 15.33) of the rounded reading.
	if got, want := typed(s, "press.moved"), []string{"15.5 um", "-45.5 um"}; !cmp.Equal(got, want) {
		t.Errorf("moved %v, want %v", got, want)
	}
	carried := 0
	for _, ev := range s.Events() {
		if d, ok := ev.Data.(engine.MoveJudged); ok && d.How == "carry_on" {
			carried++
		}
	}
	if carried != 1 {
		t.Errorf("it carried on %d times, want once", carried)
	}
}

// All states are worked out from those before.
func TestRule50StatesFromThoseBefore(t *testing.T) {
	plan := bar(t, `  hidden {
    bow  = um(30)
    next = um(1)
  }
  answer { height = hidden.bow }
  reacts "press" {
    bow  = hidden.next
    next = hidden.bow
  }
  ends {
    outcome = "accepted"
    rounds  = { press = 1 }
  }`)
	s, _ := ends(t, plan, 1)
	got := typed(s, "height")
	if want := []string{"30 um", "30 um", "30 um", "1 um", "1 um", "1 um"}; !cmp.Equal(got, want) {
		t.Errorf("read %v, want %v", got, want)
	}
}

// Without a block nothing reacts, and the attempts are used up.
func TestRule50NothingReacts(t *testing.T) {
	plan := bar(t, "  answer { height = um(30) }\n  ends {\n    outcome = \"conceded\"\n    rounds  = { press = 3 }\n    said    = { press = [\"undone\", \"undone\"] }\n  }")
	ends(t, plan, 1)
}

// A mistake is made where it is stated, is said, and what is said of it is
// mended.
func TestRule50Mistakes(t *testing.T) {
	for _, tt := range []struct {
		mistake string
		rounds  string
		said    string
	}{
		{`mistake "wrong_way" { of = correction.press }`, "2", `press = ["wrong_way", "as_expected"]`},
		{`mistake "half" { of = correction.press }`, "2", `press = ["part", "as_expected"]`},
		{`mistake "undone" { of = correction.press }`, "2", `press = ["undone", "as_expected"]`},
		{`mistake "reversed" { of = correction.press }`, "2", `press = ["wrong_sign", "as_expected"]`},
		{`mistake "turn" { of = reading.height }`, "1", `height = ["turn"], press = ["as_expected"]`},
		{"mistake \"wrong_way\" {\n    of  = correction.press\n    nth = 2\n  }\n  mistake \"half\" { of = correction.press }", "3", `press = ["part", "wrong_way", "as_expected"]`},
		{"mistake \"turn\" {\n    of  = reading.height\n    nth = 2\n  }", "1", `height = ["turn"]`},
	} {
		plan := bar(t, `  hidden { bow = um(60) }
  noise { height = um(0.3) }
  answer { height = hidden.bow }
  reacts "press" { bow = hidden.bow + moved }
  `+tt.mistake+`
  ends {
    outcome = "accepted"
    rounds  = { press = `+tt.rounds+` }
    said    = { `+tt.said+` }
  }`)
		for seed := 1; seed <= 10; seed++ {
			if _, e := rehearse.Played(plan, first(plan), seed); e.Failure != nil {
				t.Errorf("%s, seed %d: %s said %v, hidden %v", tt.mistake, seed, e.Failure.Sentence(), e.Said, e.Failure.Hidden)
				break
			}
		}
	}
}

// A turn that slipped at the first take is put right once a later one shows it:
// nothing wrong is kept.
func TestRule50SlipIsAmended(t *testing.T) {
	plan := bar(t, "  answer { height = um(1) }\n  mistake \"turn\" { of = reading.height }\n  ends { outcome = \"accepted\" }")
	s, _ := ends(t, plan, 1)
	a := s.Amendments()
	if len(a) != 1 || a[0].WasTyped != "201 um" || typed(s, "height")[0] != "201 um" {
		t.Errorf("amended %+v after %v, want 201 um to 1 um", a, typed(s, "height"))
	}
	for _, set := range s.Readings() {
		if set.Mean == nil || math.Abs(*set.Mean-0.001) > 1e-12 {
			t.Errorf("the mean is %v, want 1 µm", set.Mean)
		}
	}
}

// Two rows are taken for one another along a profile too.
func TestRule50SwappedStations(t *testing.T) {
	src := `
procedure "line" {
  title    = "Level of a line"
  machine  = "any"
  revision = "1"
  purpose  = "Read a line."
  decision = "simple"
}
step "read" {
  title = "Read the line"
  reading "line" {
    ask   = "Height"
    unit  = "um"
    along = [mm(0), mm(50), mm(100)]
    range = [um(-500), um(500)]
  }
  reading "ends" {
    each "end" { of = ["left", "middle", "right"] }
    ask   = "Height, ${each.end}"
    unit  = "um"
    range = [um(-500), um(500)]
  }
  gate "level" {
    title     = "Level"
    of        = last(reading.line) - first(reading.line) + reading.ends.right - reading.ends.left
    within    = plus_minus(um(500))
    source    = "a test"
    if_failed = [reject]
  }
}
signoff "fitter" { title = "Done by" }
rehearsal "r" {
  answer {
    line = um(10) * each.station / mm(50)
    ends = each.end == "left" ? um(1) : each.end == "middle" ? um(2) : um(3)
  }
  mistake "swapped" { of = reading.line }
  mistake "swapped" { of = reading.ends }
  ends { outcome = "accepted" }
}
`
	s, _ := ends(t, parse(t, src), 1)
	var got []string
	for _, ev := range s.Events() {
		if d, ok := ev.Data.(engine.Answered); ok && len(d.Takes) > 0 {
			got = append(got, d.Name+"="+d.Takes[0].Typed)
		}
	}
	want := []string{"line.0=20 um", "line.50=10 um", "line.100=0 um", "ends.left=3 um", "ends.middle=2 um", "ends.right=1 um"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("read (-want +got):\n%s", diff)
	}
}
