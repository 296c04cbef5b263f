package rehearse_test

import (
	"strings"
	"testing"

	"waywright/engine/rehearse"
)

// Where the model of the machine and what the procedure expects of it do not
// agree, it is said what to look at, and where both stand.
func TestWhereToLook(t *testing.T) {
	const (
		machine = "  hidden { bow = um(30) }\n  answer { height = hidden.bow }\n"
		ends    = "  ends {\n    outcome = \"accepted\"\n    rounds  = { press = at_most(1) }\n  }"
	)
	for _, tt := range []struct {
		name, rehearsal, said string
		at                    []string // the texts that stand there
	}{
		{"a sign is turned", machine + "  reacts \"press\" { bow = hidden.bow - moved }\n" + ends, "went the other way", []string{`reacts "press"`, "should_change"}},
		{"a factor is missing", machine + "  reacts \"press\" { bow = hidden.bow + moved / 3 }\n" + ends, "by less than should_change says", []string{`reacts "press"`, "should_change"}},
		{"a factor is too many", machine + "  reacts \"press\" { bow = hidden.bow + moved * 3 }\n" + ends, "by more than should_change says", []string{`reacts "press"`, "should_change"}},
		{"another state is changed", "  hidden {\n    bow  = um(30)\n    bend = um(0)\n  }\n  answer { height = hidden.bow }\n  reacts \"press\" { bend = hidden.bend + moved }\n" + ends,
			"nothing changed that is read", []string{`reacts "press"`, "should_change"}},
		{"nothing happens", machine + ends, `there is no reacts "press"`, []string{`correction "press"`}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			plan := bar(t, tt.rehearsal)
			_, e := rehearse.Played(plan, first(plan), 1)
			if e.Failure == nil || len(e.Failure.Looks) == 0 {
				t.Fatalf("it says nothing to look at: %+v", e.Failure)
			}
			l := e.Failure.Looks[0]
			if !strings.Contains(l.Said, tt.said) {
				t.Errorf("it says %q, want %q in it", l.Said, tt.said)
			}
			src := string(plan.Procedure().Files[0].Bytes)
			for i, want := range tt.at {
				if i >= len(l.At) || !strings.HasPrefix(src[l.At[i].Start.Byte:], want) {
					t.Errorf("place %d of %v is not %q", i, l.At, want)
				}
			}
		})
	}
}

// What is made on purpose is meant, and nothing to look at.
func TestAMistakeOnPurposeIsNothingToLookAt(t *testing.T) {
	plan := bar(t, "  hidden { bow = um(30) }\n  answer { height = hidden.bow }\n  reacts \"press\" { bow = hidden.bow + moved }\n"+
		"  mistake \"wrong_way\" { of = correction.press }\n  ends { outcome = \"rejected\" }")
	_, e := rehearse.Played(plan, first(plan), 1)
	if e.Failure == nil || len(e.Failure.Looks) > 0 {
		t.Errorf("%+v", e.Failure)
	}
}
