package engine_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"waywright/checks"
	"waywright/engine"
	"waywright/engine/enginetest"
)

// ISO/IEC 17025:2017, 7.8.2.1 n: what was excluded is said. It is agreed before
// the work: after it began, a test that is not taken was not measured.
func TestLeftOutBeforeTheWork(t *testing.T) {
	d := engine.LeftOut{Gate: "level", Because: "it is scraped next week", Agreed: "I. Inspector"}
	plan, err := load("post")
	if err != nil {
		t.Fatal(err)
	}
	begun, err := engine.Fold(plan, []engine.Event{{N: 1, Time: enginetest.Start, Data: engine.Begun{Procedure: "post"}}})
	if err != nil {
		t.Fatal(err)
	}
	s := add(t, begun, d)
	j := judgementOf(t, s, "level")
	if j.Verdict != checks.NotApplied || j.LeftOut == nil || !strings.Contains(j.Why, "with I. Inspector: it is scraped next week") {
		t.Errorf("left out: %v, %q, %+v", j.Verdict, j.Why, j.LeftOut)
	}
	if x := s.LeftOut(); len(x) != 1 || x[0].Agreed != "I. Inspector" || x[0].N != 2 {
		t.Errorf("LeftOut = %+v", x)
	}
	for _, tt := range []struct {
		name string
		s    *engine.State
		d    engine.LeftOut
		want string
	}{
		{"twice", s, d, "left out twice"},
		{"no reason", begun, engine.LeftOut{Gate: "level", Agreed: "I. Inspector"}, "without who agreed to it and why"},
		{"nobody", begun, engine.LeftOut{Gate: "level", Because: "x"}, "without who agreed to it and why"},
		{"no such test", begun, engine.LeftOut{Gate: "square", Because: "x", Agreed: "y"}, `no test "square"`},
		{"after the work began", enginetest.Play(t, settledPost, load).State(), d, "after the work began"},
	} {
		_, err := tt.s.With(engine.Event{N: tt.s.Len() + 1, Time: enginetest.Start, Data: tt.d})
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %q", tt.name, err, tt.want)
		}
	}
}

// A given that only a test uses which is left out is not asked.
func TestGivensOfWhatIsLeftOutAreNotAsked(t *testing.T) {
	for _, tt := range []struct{ procedure, gate, gone string }{
		{"lathe/lathe-baseline", "cross_slide", "diameter"},
		{"lathe/make-bar", "parallel", "centres span"},
		{"lathe/make-bar", "of_size", "leave"},
	} {
		plan := fromLibrary(t, tt.procedure)
		whole, less := givensAsked(t, plan), givensAsked(t, plan, tt.gate)
		var gone []string
		for _, name := range whole {
			if !slices.Contains(less, name) {
				gone = append(gone, name)
			}
		}
		if got := strings.Join(gone, " "); got != tt.gone || len(less) != len(whole)-len(gone) {
			t.Errorf("%s without %s does not ask %q, want %q", tt.procedure, tt.gate, got, tt.gone)
		}
	}
}

// givensAsked lists the givens that a run asks, with tests left out.
func givensAsked(t *testing.T, plan *engine.Plan, out ...string) (names []string) {
	t.Helper()
	r, err := enginetest.Begin(plan, engine.Begun{})
	if err != nil {
		t.Fatal(err)
	}
	events := r.Events()[:1:1]
	for _, gate := range out {
		events = append(events, engine.Event{N: len(events) + 1, Time: enginetest.Start, Data: engine.LeftOut{Gate: gate, Because: "x", Agreed: "y"}})
	}
	s, err := engine.Fold(plan, append(events, engine.Event{N: len(events) + 1, Time: enginetest.Start, Data: engine.Sat{Operator: "A"}}))
	if err != nil {
		t.Fatal(err)
	}
	for q := s.Next(r.Clock); q.Kind == engine.AskGiven || q.Kind == engine.AskGrade || q.Kind == engine.AskInstrument; q = s.Next(r.Clock) {
		text := "as it is"
		switch {
		case q.Kind == engine.AskInstrument:
			text = "none"
		case q.Offer != nil:
			text = "offered"
		case len(q.Choices) > 0:
			text = q.Choices[0].Word
		case q.Count:
			text = fmt.Sprint(math.Ceil(q.Range.From))
		case q.Range != nil:
			text = fmt.Sprintf("%g %s", q.Unit.Of((q.Range.From+q.Range.To)/2), q.Unit.Name)
		case q.Unit != nil:
			text = "1"
		}
		if q.Kind == engine.AskGiven {
			names = append(names, q.Name)
		}
		data, ref := s.Reply(r.Clock, engine.Input{Text: text})
		if ref != nil {
			t.Fatalf("%s = %s: %v", q.Name, text, ref)
		}
		s = add(t, s, data...)
	}
	return names
}
