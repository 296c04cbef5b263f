package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// drill is a logbook with the plan of a drill, and one such machine.
func drill(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	plans := os.DirFS(filepath.Join("..", "..", "testdata", "procedures", "overhaul"))
	if err := os.CopyFS(filepath.Join(dir, "logbook", "procedures"), plans); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "logbook", "machines.hcl"), []byte("machine \"drill-2\" {\n  class = \"bench drill\"\n}\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	return dir
}

// On a terminal a task is chosen by its number. Out of order it wants a
// reason, without one nothing is begun.
func TestOverhaulAsksByNumber(t *testing.T) {
	dir := drill(t)
	runs := func() int {
		es, _ := os.ReadDir(filepath.Join(dir, "logbook", "runs"))
		return len(es)
	}
	ask := []string{"overhaul", "bench-drill", "--plain"}
	screen := strings.ReplaceAll(typed(t, dir, ask, []string{"", "7", "2", "", "quill", "0", "0"}), "\r", "")
	for _, want := range []string{
		"Which now? Its number, or 0 for none.", "I read 7. Type a number from 0 to 4.",
		"Not due now: it waits for table.", "Not due now: it waits for spindle; whether it is needed is not",
		"Nothing was begun. Which now? 0 for none.",
	} {
		if !strings.Contains(screen, want) {
			t.Errorf("the screen does not say %q:\n%s", want, screen)
		}
	}
	if n := runs(); n != 0 {
		t.Errorf("%d runs were begun; want none", n)
	}

	screen = typed(t, dir, ask, []string{"2", "the table is away"})
	if !strings.Contains(screen, "Who is at the machine?") {
		t.Errorf("it does not begin:\n%s", screen)
	}
	b, err := os.ReadFile(filepath.Join(dir, "logbook", "runs", "drill-spindle-drill-2", "journal.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	if want := `"overhaul":"bench-drill","task":"spindle","waits":["it waits for table"],"because":"the table is away"`; !strings.Contains(string(b), want) {
		t.Errorf("the journal has no %s:\n%s", want, b)
	}

	// The plan says what was passed over, and why. It is gone on with by the same
	// number, and needs no reason again.
	screen = strings.ReplaceAll(typed(t, dir, ask, []string{"0"}), "\r", "")
	if want := "Still to be done before it: table.\n    It was begun all the same, because: the table is away."; !strings.Contains(screen, want) {
		t.Errorf("the screen does not say %q:\n%s", want, screen)
	}
	screen = typed(t, dir, ask, []string{"2"})
	if !strings.Contains(screen, "Run drill-spindle-drill-2: ") || !strings.Contains(screen, "Nothing was answered yet.") || runs() != 1 {
		t.Errorf("it is not gone on with, %d runs:\n%s", runs(), screen)
	}
}
