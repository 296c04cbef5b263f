package rehearse_test

import (
	"testing"

	"waywright/engine/rehearse"
)

// The acceptance of a good lathe is one sitting: at most 90 answers.
func TestAcceptanceIsOneSitting(t *testing.T) {
	const most = 90
	plan := fromLibrary(t, "lathe/lathe-acceptance")
	r := first(plan)
	for _, e := range rehearse.Seeds(plan, r, r.Seeds, 2, nil) {
		if e.Failure != nil || e.Outcome != "accepted" || e.Answers > most {
			t.Errorf("rehearsal %q, seed %d: %s after %d answers, want accepted after at most %d", r.Name, e.Seed, e.Outcome, e.Answers, most)
		}
	}
}
