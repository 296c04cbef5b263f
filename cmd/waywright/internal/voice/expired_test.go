package voice_test

import (
	"strings"
	"testing"
	"time"

	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
)

// What is asked again by its age says so above the question.
func TestExpiredIsSaidFirst(t *testing.T) {
	q := engine.Question{Kind: engine.AskConfirm, Name: "oiled", Ask: "Is it oiled?", Step: engine.Place{N: 2, Of: 4, Title: "Oil the ways"}}
	v := voice.Voice{}
	say := func() string {
		var b strings.Builder
		for _, l := range v.Ask(q, 1, time.Time{}).All() {
			b.WriteString(l.Text + "\n")
		}
		return b.String()
	}
	before := say()
	q.Expired = "oil the ways: it is good for 8 hours, and that was over 3 hours ago"
	want := "AGAIN. Oil the ways: it is good for 8 hours, and that was over 3 hours ago."
	if got := say(); !strings.Contains(got, want) || strings.Index(got, want) > strings.Index(got, "Is it oiled?") {
		t.Errorf("the screen is\n%swant in it, above the question: %s", got, want)
	}
	if strings.Contains(before, "AGAIN") {
		t.Errorf("a question that nothing has expired for is\n%s", before)
	}
}
