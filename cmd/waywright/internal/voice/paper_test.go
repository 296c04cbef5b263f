package voice

import (
	"testing"
	"time"

	"waywright/checks"
	"waywright/engine"
	"waywright/procedures"
)

// Whether a sheet goes on at a gate is asked with each answer once.
func TestSheetGoesOnIsAskedOnce(t *testing.T) {
	q := engine.Question{Kind: engine.AskSheet, Sheet: true, Ask: "Does it go on?", Choices: []engine.Choice{{Word: "yes", Label: "so"}, {Word: "no", Label: "not so"}},
		Gate: &engine.Judgement{Gate: &procedures.Gate{}, Verdict: checks.Fail, Holds: true}}
	a := Voice{}.Ask(q, 1, time.Time{})
	if len(a.Options) != 2 || a.Options[0].Word != "yes" || a.Options[1].Word != "no" {
		t.Errorf("asked with %+v; want yes and no", a.Options)
	}
}
