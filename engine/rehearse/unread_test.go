package rehearse_test

import (
	"testing"

	"waywright/checks"
	"waywright/engine"
	"waywright/engine/rehearse"
)

// A run that nobody reads is the same run: folded again by the plan that is
// read, every gate is judged alike and the outcome is the same. Of a gate whose
// verdict is plain no errors are drawn there, so its doubt is the linear one; of
// one decided simply there is none.
func TestUnreadRunsAreTheSame(t *testing.T) {
	spared, drawn := 0, 0
	for _, name := range varied {
		plan := fromLibrary(t, name)
		for _, r := range plan.Procedure().Rehearsals {
			s, _ := rehearse.Played(plan, r, 3)
			read, err := engine.Fold(plan, s.Events())
			if err != nil {
				t.Fatalf("%s, %s: %v", name, r.Name, err)
			}
			if got, want := s.Outcome(), read.Outcome(); got != want {
				t.Errorf("%s, %s: %s unread, %s read", name, r.Name, got, want)
			}
			was := s.Judgements()
			for i, j := range read.Judgements() {
				w := was[i]
				if w.Drawn != nil {
					drawn++
				}
				same := w.Value == j.Value || w.Element != j.Element // of many another one may decide
				if w.Verdict == j.Verdict && same && w.Drawn == nil && (j.Drawn != nil || j.Rule == checks.Simple) {
					spared++
					continue
				}
				if w.Verdict != j.Verdict || w.Value != j.Value || w.U != j.U || w.P != j.P {
					t.Errorf("%s, %s, gate %s: %s, %v ± %v, p %v unread; %s, %v ± %v, p %v read", name, r.Name, j.Name,
						w.Verdict, w.Value, w.U, w.P, j.Verdict, j.Value, j.U, j.P)
				}
			}
		}
	}
	if spared == 0 {
		t.Errorf("no gate was spared drawing its errors, %d were drawn", drawn)
	}
}

// What a rehearsal listens to is what is told anyway: of all notices those
// about corrections and void sets, in their order.
func TestEffectsAreNotices(t *testing.T) {
	plan := plate(t, "  mistake \"wrong_way\" { of = correction.screw }", "")
	s, _ := ends(t, plan, 1)
	now := engine.New(plan)
	heard := 0
	for _, ev := range s.Events() {
		after, err := now.With(ev)
		if err != nil {
			t.Fatal(err)
		}
		var want []string
		for _, n := range engine.Notices(now, after, ev.Time) {
			if n.Kind == engine.Answers || n.Kind == engine.SetVoid {
				want = append(want, string(n.Kind)+" "+n.Name)
			}
		}
		got := engine.Effects(now, after)
		if len(got) != len(want) {
			t.Fatalf("event %d: %d effects, want %v", ev.N, len(got), want)
		}
		for i, n := range got {
			heard++
			if w := string(n.Kind) + " " + n.Name; w != want[i] {
				t.Errorf("event %d: %s, want %s", ev.N, w, want[i])
			}
		}
		now = after
	}
	if heard < 2 {
		t.Errorf("%d effects were heard, want those of two corrections", heard)
	}
}
