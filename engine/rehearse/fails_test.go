package rehearse_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/engine/rehearse"
)

// A rehearsal that fails says at which answer, with what values, what was
// wanted and what came.
func TestRule50Failures(t *testing.T) {
	const machine = "  hidden { bow = um(30) }\n  answer { height = hidden.bow }\n  reacts \"press\" { bow = hidden.bow + moved }\n"
	for _, tt := range []struct {
		name, rehearsal string
		kind            rehearse.FailureKind
		sentence        string
		at              string // the text that stands at the place
		answer          string // the question and what was typed
		hidden, said    []string
	}{
		{
			"the outcome", machine + "  ends { outcome = \"rejected\" }", rehearse.WrongOutcome,
			"It ends accepted, not rejected.", `outcome = "rejected"`, "inspector = the inspector", []string{"bow = 0 mm"}, []string{"press: as_expected"},
		},
		{
			"not decided never", machine + "  ends { outcome = \"not_decided\" }", rehearse.WrongOutcome,
			"It ends accepted, not not decided.", `outcome = "not_decided"`, "inspector = the inspector", []string{"bow = 0 mm"}, []string{"press: as_expected"},
		},
		{
			"more rounds than stated", machine + "  ends {\n    outcome = \"accepted\"\n    rounds  = { press = 0 }\n  }", rehearse.WrongRounds,
			"press was reported once, not never.", "press =", "press.moved = -30 um", []string{"bow = 0 mm"}, nil,
		},
		{
			"more rounds than at most", strings.Replace(machine, "+ moved", "+ moved / 4", 1) + "  ends {\n    outcome = \"accepted\"\n    rounds  = { press = at_most(1) }\n  }", rehearse.WrongRounds,
			"press was reported twice, not at most once.", "press =", "press.moved = -45 um", []string{"bow = 0.0113 mm"}, []string{"press: weak"},
		},
		{
			"fewer rounds than stated", machine + "  ends {\n    outcome = \"accepted\"\n    rounds  = { press = at_least(2) }\n  }", rehearse.WrongRounds,
			"press was reported once, not at least twice.", "press =", "inspector = the inspector", []string{"bow = 0 mm"}, []string{"press: as_expected"},
		},
		{
			"words that did not come", machine + "  ends {\n    outcome = \"accepted\"\n    said    = { press = [\"wrong_way\"] }\n  }", rehearse.NotSaid,
			"Of press was said: as_expected. Wanted, in this order: wrong_way.", "press =", "inspector = the inspector", []string{"bow = 0 mm"}, []string{"press: as_expected"},
		},
		{
			"words in another order", strings.Replace(machine, "{ bow = hidden.bow + moved }", "{\n    moved = attempt == 1 ? -amount : amount\n    bow   = hidden.bow + moved\n  }", 1) +
				"  ends {\n    outcome = \"accepted\"\n    said    = { press = [\"as_expected\", \"wrong_way\"] }\n  }", rehearse.NotSaid,
			"Of press was said: wrong_way, as_expected. Wanted, in this order: as_expected, wrong_way.", "press =", "inspector = the inspector", []string{"bow = 0 mm"}, []string{"press: wrong_way, as_expected"},
		},
		{
			"a reading of which nothing was said", machine + "  ends {\n    outcome = \"accepted\"\n    said    = { height = [\"turn\"] }\n  }", rehearse.NotSaid,
			"Of height was said: nothing. Wanted, in this order: turn.", "height =", "inspector = the inspector", []string{"bow = 0 mm"}, []string{"press: as_expected"},
		},
		{
			"an answer without a value", "  hidden { bow = um(30) }\n  answer { height = hidden.bow / (hidden.bow - um(30)) * um(1) }\n  ends { outcome = \"accepted\" }", rehearse.NoAnswer,
			"The answer to height cannot be worked out: ", "height =", "height = ", []string{"bow = 0.03 mm"}, nil,
		},
		{
			"no for ever", "  answer {\n    height = um(0)\n    clean  = false\n  }\n  ends { outcome = \"accepted\" }", rehearse.Endless,
			"There is no end: clean is asked again and again.", "rehearsal \"r\"", "clean = ", nil, nil,
		},
	} {
		t.Run(tt.name, func(t *testing.T) {
			plan := bar(t, tt.rehearsal)
			_, e := rehearse.Played(plan, first(plan), 1)
			f := e.Failure
			if f == nil {
				t.Fatalf("it holds, with %v said %v", e.Rounds, e.Said)
			}
			if f.Kind != tt.kind || !strings.HasPrefix(f.Sentence(), tt.sentence) {
				t.Errorf("%s: %q, want %s: %q", f.Kind, f.Sentence(), tt.kind, tt.sentence)
			}
			src := string(plan.Procedure().Files[0].Bytes)
			if at := src[f.At.Start.Byte:]; !strings.HasPrefix(at, tt.at) && !strings.HasPrefix(strings.Join(strings.Fields(at), " "), tt.at) {
				t.Errorf("it points at %s: %.40q, want %q", f.At, at, tt.at)
			}
			if got := f.Question + " = " + f.Typed; got != tt.answer {
				t.Errorf("at answer %d, %q, want %q", f.Answer, got, tt.answer)
			}
			last := f.Last[len(f.Last)-1]
			if last.N > f.Answer || f.Answer-last.N > 1 || f.From.Start.Line == 0 || f.Outcome == "" {
				t.Errorf("the last answer is %+v, stated at %s, the run %s", last, f.From, f.Outcome)
			}
			if diff := cmp.Diff(tt.hidden, f.Hidden); diff != "" {
				t.Errorf("hidden (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.said, f.Said); diff != "" {
				t.Errorf("said (-want +got):\n%s", diff)
			}
			if f.Seed != 1 || f.Answer == 0 {
				t.Errorf("seed %d, answer %d", f.Seed, f.Answer)
			}
			if f.Kind == rehearse.WrongOutcome && (len(f.Gates) != 1 || !strings.HasPrefix(f.Gates[0], "straight: pass, 0.0 ± ")) {
				t.Errorf("gates %q", f.Gates)
			}
		})
	}
}

// An answer that the engine does not take fails the rehearsal, with what was
// said of it: a choice that is none cannot be written, a count out of its
// range can.
func TestRule50RefusedAnswers(t *testing.T) {
	src := "given \"feet\" {\n  ask   = \"Feet: how many?\"\n  count = true\n  range = [2, 4]\n}\n" + strings.Replace(withResult(bow), "within    = plus_minus(um(5))", "within    = plus_minus(um(5) * given.feet)", 1)
	plan := parse(t, src+"rehearsal \"r\" {\n  answer {\n    feet   = 9\n    height = um(0)\n  }\n  ends { outcome = \"accepted\" }\n}\n")
	_, e := rehearse.Played(plan, first(plan), 1)
	if f := e.Failure; f == nil || f.Kind != rehearse.Refused || !strings.HasPrefix(f.Sentence(), "The answer 9 to feet is not taken. I read 9. Expected 2 to 4.") {
		t.Errorf("failure %+v", f)
	}
}

// Values that only seem odd are read again, and kept with a reason when they
// are the same again.
func TestRule50OddValuesAreKept(t *testing.T) {
	plan := bar(t, "  answer { height = um(600) }\n  ends {\n    outcome = \"conceded\"\n    said    = { height = [\"range\", \"range\"] }\n  }")
	s, _ := ends(t, plan, 1)
	for _, set := range s.Readings() {
		for _, k := range set.Takes {
			if k.Odd == "" || k.Reason != "read again, and the same" {
				t.Errorf("take %s is kept as odd %q because %q", k.Typed, k.Odd, k.Reason)
			}
		}
	}
}

// What was reached and what was not is told with its place.
func TestCoverage(t *testing.T) {
	src := strings.Replace(withResult(bow), "  title    = \"Press the middle\"\n", "  title    = \"Press the middle\"\n  when     = result.bow > um(0)\n", 1)
	cover := func(rehearsals string) rehearse.Coverage {
		plan := parse(t, src+rehearsals)
		seen := rehearse.NewSeen()
		for _, r := range plan.Procedure().Rehearsals {
			for _, e := range rehearse.Seeds(plan, r, r.Seeds, 1, nil) {
				if e.Failure != nil {
					t.Fatalf("%s: %s", r.Name, e.Failure.Sentence())
				}
				seen.Add(e.Seen)
			}
		}
		return rehearse.Cover(plan.Procedure(), seen)
	}
	whats := func(c rehearse.Coverage) []string {
		var out []string
		for _, m := range c.Missing {
			if m.At.Start.Line == 0 {
				t.Errorf("%s has no place", m.What)
			}
			out = append(out, m.What)
		}
		return out
	}
	good := "rehearsal \"good\" {\n  answer { height = um(0) }\n  ends { outcome = \"accepted\" }\n}\n"
	c := cover(good)
	if diff := cmp.Diff([]string{
		"gate straight was never seen to fail", "gate straight was never seen undecided",
		"from gate straight the way press was never taken", "from gate straight the way concession was never taken",
		"correction press was never carried out", "the condition of press was never true",
	}, whats(c)); diff != "" {
		t.Errorf("after a good bar (-want +got):\n%s", diff)
	}
	if want := (rehearse.GateSeen{Name: "straight", Pass: true}); c.Gates[0] != want {
		t.Errorf("gate %+v, want %+v", c.Gates[0], want)
	}
	c = cover(good + `rehearsal "bent up" {
  hidden { bow = um(30) }
  answer { height = hidden.bow }
  reacts "press" { bow = hidden.bow + moved }
  ends { outcome = "accepted" }
}
rehearsal "bent down" {
  answer { height = -um(30) }
  ends { outcome = "conceded" }
}
rehearsal "at the limit" {
  answer { height = -um(5) }
  ends { outcome = "conceded" }
}
`)
	if got := whats(c); len(got) > 0 {
		t.Errorf("after all of them there is left: %v", got)
	}
	if c.Corrections[0].N != 1 || !c.Branches[0].True || !c.Branches[0].False {
		t.Errorf("corrections %+v, conditions %+v", c.Corrections, c.Branches)
	}
}

// Numbers are typed as an instrument shows them, without exponents.
func TestDecimal(t *testing.T) {
	for x, want := range map[float64]string{
		0: "0", 20.153: "20.153", 20.011000000000003: "20.011", -0.0005: "-0.0005", 1e-9: "0.000000001", 1234567: "1234567", 0.1 + 0.2: "0.3",
	} {
		if got := rehearse.Decimal(x); got != want {
			t.Errorf("decimal(%v) = %q, want %q", x, got, want)
		}
	}
}
