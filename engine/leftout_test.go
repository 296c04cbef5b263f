package engine_test

import (
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
