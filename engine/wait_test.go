package engine_test

import (
	"testing"
	"time"

	"waywright/engine"
	"waywright/engine/enginetest"
)

// Nothing is answered before the first wait of a procedure that begins with one:
// it counts from when somebody sat down to it.
func TestRule41WaitBeforeAnyAnswer(t *testing.T) {
	plan := inline(t, `
step "rest" {
  title = "Rest"
  wait "cool" {
    why      = "it is warm"
    at_least = minutes(10)
  }
  confirm "cold" { ask = "Cold to the hand" }
}`)
	for _, script := range []string{"", "wait 4m", "wait 4m\npause\nwait 3m\nomit"} {
		r := played(t, plan, script)
		q := r.Next()
		if q.Name != "cool" || q.Wait == nil || !q.Wait.Over.Equal(q.Wait.From.Add(10*time.Minute)) || q.Wait.From.Sub(enginetest.Start).Abs() > time.Minute {
			t.Fatalf("after %q %q is asked, of %+v", script, q.Name, q.Wait)
		}
		if _, ref := r.State().Reply(q.Wait.Over.Add(-time.Second), engine.Input{Text: "over"}); ref == nil {
			t.Errorf("after %q it is over a second before its time", script)
		}
		if _, ref := r.State().Reply(q.Wait.Over, engine.Input{Text: "over"}); ref != nil {
			t.Errorf("after %q it is not over when its time has passed: %+v", script, ref)
		}
	}
}
