package prompt

import (
	"os"
	"strings"
	"testing"
	"time"

	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
	"waywright/engine/drive"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
)

// kept keeps events in memory.
type kept struct{ events []engine.Event }

func (k *kept) Next() int { return len(k.events) + 1 }
func (k *kept) Append(ev ...engine.Event) error {
	k.events = append(k.events, ev...)
	return nil
}

// newRun is a run at which nobody has sat down yet.
func newRun(t *testing.T, name string) (*drive.Session, Options) {
	t.Helper()
	l, diags := hclfile.Parse(hclfile.Source{FS: os.DirFS("../../../../testdata/procedures/design"), Path: name + ".hcl"})
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	at := enginetest.Start
	s := drive.New(engine.New(engine.NewPlan(l.Procedure)), &kept{}, func() time.Time { at = at.Add(time.Second); return at })
	if _, err := s.Record(engine.Begun{Procedure: l.Procedure.Name, Machine: engine.Machine{ID: "lathe-2"}}); err != nil {
		t.Fatal(err)
	}
	return s, Options{Voice: voice.Voice{Title: l.Procedure.Title, Machine: "lathe-2"}}
}

// A test is left out before anybody sits down, by number; later it is not offered.
func TestTestIsLeftOutAtTheFirstQuestion(t *testing.T) {
	s, opts := newRun(t, "headstock-align")
	said := play(s, opts, "*", "9", "?", "1", "12", "B. Buyer", "the bed is ground next year", "A. Fitter", "*", "*")
	out := s.State().LeftOut()
	if len(out) != 1 || out[0].Agreed != "B. Buyer" || out[0].Because != "the bed is ground next year" {
		t.Fatalf("left out %+v\n%s", out, said)
	}
	for _, want := range []string{"Which test is not measured", "What is read for it alone is not asked", "I read 12. That is not a name.", "Left out by agreement with B. Buyer:"} {
		if !strings.Contains(said, want) {
			t.Errorf("it does not say %q:\n%s", want, said)
		}
	}
	s, opts = newRun(t, "headstock-align")
	name := s.State().LeavesOut()[0].Word
	if said := play(s, opts, "*", "leave a test out", "no such test", name, "B. Buyer", "the bed is ground next year"); len(s.State().LeftOut()) != 1 {
		t.Errorf("a test is not left out by its name:\n%s", said)
	}
	if strings.Count(said, "leave a test out") != 1 {
		t.Errorf("it is offered once the work has begun:\n%s", said)
	}
}

// A name that was mistyped is put right from the list of answers, and a run is
// closed for good by word.
func TestNameIsAmendedAndTheRunAbandoned(t *testing.T) {
	s, opts := newRun(t, "tailstock-by-test-cut")
	said := play(s, opts, "Tmo Acker", "300", "*", "2", "2", "Tom Acker", "1", "abandon", "12", "1")
	if got := s.State().Operator(); got != "Tom Acker" {
		t.Errorf("at the machine: %s\n%s", got, said)
	}
	if x := s.State().Abandoned(); x == nil || x.Reason != "begun by mistake" || x.By != "Tom Acker" {
		t.Errorf("abandoned %+v\n%s", x, said)
	}
	if !strings.Contains(said, "ABANDONED.") || !strings.Contains(said, "was Tmo Acker, mistyped") {
		t.Errorf("it says\n%s", said)
	}
}

// What is asked in between stays open when it is explained; Enter alone says what
// leaves it.
func TestPageStaysWhenItIsExplained(t *testing.T) {
	s, opts := newRun(t, "tailstock-by-test-cut")
	said := play(s, opts, "A", "32", "?", "", "*", "?")
	want := []string{"I read 32 mm. Expected 80 mm to 1500 mm.", "What for:", "I read 32 mm. Expected 80 mm to 1500 mm.", "type it again", "Type one of the numbers; * goes"}
	for _, w := range want {
		i := strings.Index(said, w)
		if i < 0 {
			t.Fatalf("it does not say %q in its place:\n%s", w, said)
		}
		said = said[i+len(w):]
	}
}

// A long list is shown by eight, and the number of "more" never chooses.
func TestLongListsAreShownByEight(t *testing.T) {
	s, opts := newRun(t, "tailstock-by-test-cut")
	tk, _ := newTalk(s, opts)
	var labels []string
	for i := range 20 {
		labels = append(labels, "choice "+string(rune('a'+i)))
	}
	picked := -1
	tk.choose(page{screen: lines("Which?"), pick: func(i int) reply { picked = i; return tk.again() }}, labels, 0)
	for _, step := range []struct {
		typed   string
		options int
		picked  int
	}{{"9", 9, -1}, {"9", 4, -1}, {"5", 4, -1}, {"4", 0, 19}} {
		tk.enter(step.typed)
		n := 0
		if tk.page != nil {
			n = len(tk.page.options)
		}
		if n != step.options || picked != step.picked {
			t.Errorf("after %s: %d options, picked %d; want %d, %d", step.typed, n, picked, step.options, step.picked)
		}
	}
}
