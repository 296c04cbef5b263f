package engine_test

import (
	"strings"
	"testing"

	"waywright/engine"
	"waywright/engine/enginetest"
)

// A caution that is skipped on purpose wants a reason, is kept as skipped with
// it, and stands in the way of signing by its name.
func TestRule23SkippedWithAReason(t *testing.T) {
	plan, err := load("post")
	if err != nil {
		t.Fatal(err)
	}
	r, err := enginetest.Begin(plan, engine.Begun{})
	if err != nil {
		t.Fatal(err)
	}
	say := func(text, reason string) *engine.Refusal {
		t.Helper()
		_, ref, err := r.Say(engine.Input{Text: text, Reason: reason})
		if err != nil {
			t.Fatal(err)
		}
		return ref
	}
	say("50 mm", "")
	say("none", "")
	say("0", "")
	if q := r.Next(); q.Kind != engine.AskClear {
		t.Fatalf("asked %s, want the cautions", q.Name)
	}
	if ref := say("skip", ""); ref == nil || ref.Code != "reason" {
		t.Fatalf("skipped without a reason: %+v", ref)
	}
	if ref := say("skip", "the guard is at the welder's"); ref != nil {
		t.Fatal(ref)
	}
	var kept engine.Cleared
	for _, e := range r.Events() {
		if d, ok := e.Data.(engine.Cleared); ok {
			kept = d
		}
	}
	if !kept.Skipped || kept.Reason != "the guard is at the welder's" {
		t.Errorf("kept %+v", kept)
	}
	for _, text := range []string{"yes", "yes", "0", "0", "all", "50"} {
		if ref := say(text, ""); ref != nil {
			t.Fatalf("%s: %+v", text, ref)
		}
	}
	ref := say("A. Fitter", "")
	if ref == nil || !strings.Contains(ref.Wrong, "Clamp the post: caution hands (the guard is at the welder's)") {
		t.Errorf("signed with a skipped caution: %+v", ref)
	}
	// What makes it good is said before anybody tries, and again when they do.
	const mend = "Work the step again with its cautions: disturb clamp because REASON."
	if q := r.Next(); q.Why != mend || ref.Mend != mend {
		t.Errorf("the question says %q, the refusal %q; want %q", q.Why, ref.Mend, mend)
	}
}

// Where several steps were worked without their cautions, each is named.
func TestRule23SkippedStepsAreNamed(t *testing.T) {
	plan := inline(t, `
caution "hands" {
  text   = "Hands away."
  hazard = "crushing"
  source = "shop rule"
}
step "cut" {
  title   = "Cut"
  caution = [caution.hands]
  confirm "cut_done" { ask = "Cut" }
}
step "turn" {
  title   = "Turn"
  caution = [caution.hands]
  spindle = "turning"
  confirm "turned" { ask = "Turned" }
}`)
	r := played(t, plan, "omit\ncut_done = yes\nomit\nturned = yes")
	want := "Work the steps again with their cautions, each by: disturb STEP because REASON. The steps are cut, turn."
	if q := r.Next(); q.Kind != engine.AskSign || q.Why != want {
		t.Errorf("%s says %q, want %q", q.Name, q.Why, want)
	}
	r = played(t, plan, "omit\ncut_done = yes\nomit\nturned = yes\ndisturb cut because skipped\ncut.clear = yes\ncut_done = yes")
	if q := r.Next(); q.Why != "Work the step again with its cautions: disturb turn because REASON." {
		t.Errorf("%s says %q", q.Name, q.Why)
	}
}
