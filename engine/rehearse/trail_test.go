package rehearse_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"waywright/engine"
	"waywright/engine/rehearse"
	"waywright/procedures"
	"waywright/procedures/library"
)

// A failure lists the last answers, each with the line of the rehearsal that
// states it and that of the procedure that asks it; mistakes on purpose are named.
func TestRule50FailureHasItsTrail(t *testing.T) {
	plan := plate(t, "  mistake \"wrong_way\" { of = correction.screw }", "    rounds = { screw = 1 }")
	_, e := rehearse.Played(plan, first(plan), 1)
	f := e.Failure
	if f == nil || f.Kind != rehearse.WrongRounds {
		t.Fatalf("failure %+v", f)
	}
	src := string(plan.Procedure().Files[0].Bytes)
	line := func(at int) string { l, _, _ := strings.Cut(src[at:], "\n"); return strings.TrimSpace(l) }
	if n := len(f.Last); n < 5 || f.Last[n-1].N != f.Answer || f.Last[n-1].Question != f.Question || f.Last[n-1].Text != f.Typed {
		t.Fatalf("answer %d, %s = %s, after %+v", f.Answer, f.Question, f.Typed, f.Last)
	}
	var asked []string
	for i, a := range f.Last {
		if i > 0 && a.N <= f.Last[i-1].N {
			t.Errorf("answer %d after %d", a.N, f.Last[i-1].N)
		}
		asked = append(asked, line(a.Asked.Start.Byte))
		if strings.HasPrefix(a.Question, "height.") && !strings.HasPrefix(line(a.From.Start.Byte), "height = each.foot") && !strings.HasPrefix(line(a.From.Start.Byte), "answer { height") {
			t.Errorf("%s is stated at %s: %q", a.Question, a.From, line(a.From.Start.Byte))
		}
	}
	for _, want := range []string{`reading "height" {`, "moved {"} {
		if !slices.Contains(asked, want) {
			t.Errorf("asked at %q, want %q among them", asked, want)
		}
	}
	if !slices.Equal(f.Mistakes, []string{"wrong_way at screw, number 1"}) || !slices.Equal(f.Rounds, []string{"screw twice"}) {
		t.Errorf("mistakes %q, rounds %q", f.Mistakes, f.Rounds)
	}
}

// A mistake that the run never came to is said to be one.
func TestRule50MistakeThatNeverCame(t *testing.T) {
	plan := plate(t, "  mistake \"half\" {\n    of  = correction.screw\n    nth = 3\n  }", "    rounds = { screw = 2 }")
	_, e := rehearse.Played(plan, first(plan), 1)
	if f := e.Failure; f == nil || !slices.Equal(f.Mistakes, []string{"half at screw, number 3: it never came to that"}) {
		t.Errorf("failure %+v", f)
	}
}

// Every mistake on purpose is made and found out in a procedure that ships.
func TestRule50EveryMistakeIsRehearsed(t *testing.T) {
	made := map[procedures.MistakeKind]bool{}
	for _, name := range library.Procedures() {
		plan := fromLibrary(t, name)
		for _, r := range plan.Procedure().Rehearsals {
			if len(r.Mistakes) == 0 {
				continue
			}
			plain := *r
			plain.Mistakes = nil
			s, with := rehearse.Played(plan, r, 1)
			honest, without := rehearse.Played(plan, &plain, 1)
			if with.Failure != nil {
				t.Errorf("%s, %s: %s", name, r.Name, with.Failure.Sentence())
			}
			if reflect.DeepEqual(s.Events(), honest.Events()) && reflect.DeepEqual(with.Said, without.Said) {
				t.Errorf("%s, %s: with its mistakes it is what it is without", name, r.Name)
			}
			for _, m := range r.Mistakes {
				made[m.Kind] = true
			}
		}
	}
	for _, k := range []procedures.MistakeKind{procedures.WrongWay, procedures.Half, procedures.Undone, procedures.Reversed, procedures.Swapped, procedures.SlipTurn} {
		if !made[k] {
			t.Errorf("no procedure that ships rehearses %q", k)
		}
	}
}

// varied are procedures of the library that between them have profiles, tables
// of keys, turns, rounds of correction, drawn errors and waits; all of them would
// take minutes.
var varied = []string{
	"lathe/tailstock-by-test-cut", "lathe/headstock-align", "lathe/headstock-holddown", "lathe/lathe-level-twist", "lathe/lathe-bed-wear",
	"lathe/tail-height", "lathe/lap-bar", "lathe/two-collar", "references/ref-square-reversal",
}

// A state that goes on by itself is what a copy of it becomes, event by event,
// and tells the same effects.
func TestAdvanceIsWith(t *testing.T) {
	for _, name := range varied {
		plan := fromLibrary(t, name)
		for _, r := range plan.Procedure().Rehearsals {
			s, _ := rehearse.Played(plan, r, 2)
			copied, own := engine.New(plan.Unread()), engine.New(plan.Unread())
			for _, ev := range s.Events() {
				next, err := copied.With(ev)
				if err != nil {
					t.Fatal(err)
				}
				said, err := own.Advance(ev)
				if err != nil {
					t.Fatal(err)
				}
				if want := engine.Effects(copied, next); len(said) != len(want) {
					t.Fatalf("%s, %s, event %d: %d effects, want %d", name, r.Name, ev.N, len(said), len(want))
				}
				copied = next
				if a, b := own.Next(ev.Time), copied.Next(ev.Time); a.Kind != b.Kind || a.Name != b.Name || len(a.Ways) != len(b.Ways) {
					t.Fatalf("%s, %s, event %d: asks %s, want %s", name, r.Name, ev.N, a.Name, b.Name)
				}
			}
			if own.Outcome() != copied.Outcome() {
				t.Errorf("%s, %s: %s, want %s", name, r.Name, own.Outcome(), copied.Outcome())
			}
		}
	}
}
