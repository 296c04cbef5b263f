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
}
