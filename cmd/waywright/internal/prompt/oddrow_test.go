package prompt

import (
	"strings"
	"testing"

	"waywright/engine"
)

// taken lists the numbers that a run has kept, as they were typed.
func taken(s *engine.State) string {
	var out []string
	gone := map[int]bool{}
	for _, ev := range s.Events() {
		if w, ok := ev.Data.(engine.Withdrawn); ok {
			gone[w.Of] = true
		}
	}
	for _, ev := range s.Events() {
		if a, ok := ev.Data.(engine.Answered); ok && strings.HasSuffix(a.Name, "stock_end") && !gone[ev.N] {
			for _, k := range a.Takes {
				out = append(out, k.Typed)
			}
		}
	}
	return strings.Join(out, " ")
}

// The good ones of a row stand, and the odd one alone is read again; what was
// typed behind it follows it.
func TestOddOneOfARowIsReadAgainAlone(t *testing.T) {
	for _, tt := range []struct {
		name  string
		typed []string
		want  string
		said  string
	}{
		{"the last", []string{"20.011 20.012 20.111", "1", "20.012"}, "20.011 20.012 20.012", "take 3 again, alone: the others stand"},
		{"one in the middle", []string{"20.011 20.111 20.012", "1", "20.010"}, "20.011 20.010 20.012", "added after it: 20.012"},
		{"the first", []string{"20.111 20.012 20.012", "1", "20.010"}, "20.010 20.012 20.012", "Take 1 of the row  20.111  20.012  20.012"},
		{"the first, odd again", []string{"20.111 20.012 20.012", "1", "20.112"}, "20.112", "Take 2 of the row"},
		{"kept with a reason", []string{"20.011 20.111 20.012", "3", "1"}, "20.011 20.111 20.012", "because measured afresh"},
		{"all again", []string{"20.011 20.012 20.111", "2"}, "", "take 1 of 3"},
		{"asked why in between", []string{"20.011 20.012 20.111", "?", "1", "?", "20.012"}, "20.011 20.012 20.012", ""},
		{"typed anew in its place", []string{"20.011 20.012 20.111", "20.011 20.012 20.011"}, "20.011 20.012 20.011", ""},
		{"taken back instead", []string{"20.011 20.111 20.012", "1", "back"}, "", "is not kept: 20.012"},
		{"a note in between", []string{"20.011 20.111 20.012", "1", "note oily", "20.010"}, "20.011 20.010 20.012", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := begin(t, "tailstock-by-test-cut")
			got := play(r, options(r), append(toMeasure[:8:8], tt.typed...)...)
			if all := taken(r.State()); all != tt.want {
				t.Errorf("kept %q, want %q", all, tt.want)
			}
			if !strings.Contains(strings.Join(strings.Fields(got), " "), strings.Join(strings.Fields(tt.said), " ")) {
				t.Errorf("it is not said: %s\n%s", tt.said, got)
			}
		})
	}
}

// From a pipe a line that fits no choice ends the sitting: nobody is there to mend
// it, and what comes behind it was meant for later questions.
func TestPipeEndsAtALineThatFitsNothing(t *testing.T) {
	for _, tt := range []struct {
		name  string
		typed []string
		kept  string
		ended bool
	}{
		{"a menu", []string{"*", "20.012", "20.011"}, "", true},
		{"a word at a menu", []string{"*", "pitch", "20.011"}, "", true},
		{"a reason", []string{"20.011 20.012 20.111", "3", "20.012", "20.011"}, "", true},
		{"an odd row, typed anew", []string{"20.011 20.012 20.111", "20.011 20.012 20.012"}, "20.011 20.012 20.012", false},
		{"help in between", []string{"*", "?", "*", "20.011"}, "20.011", false},
		{"an empty line", []string{"*", "", "*", "20.011"}, "20.011", false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := begin(t, "tailstock-by-test-cut")
			var out strings.Builder
			in := strings.Join(append(toMeasure[:8:8], tt.typed...), "\n") + "\n"
			result, err := Plain(strings.NewReader(in), &out, r, options(r))
			if err != nil || !result.Paused {
				t.Fatalf("%+v, %v", result, err)
			}
			if got := taken(r.State()); got != tt.kept {
				t.Errorf("kept %q, want %q", got, tt.kept)
			}
			if ended := result.Reason == "a line answered nothing that was asked"; ended != tt.ended {
				t.Errorf("it ended because %s\n%s", result.Reason, out.String())
			}
		})
	}
}
