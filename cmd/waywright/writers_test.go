package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// While one program has a run open, another can read it and cannot go on with
// it; it is told who has it.
func TestTwoWriters(t *testing.T) {
	dir := shop(t)
	p := &turner{}
	first := start(t, dir, "run", "lathe/tailstock-by-test-cut")
	p.work(first, 3, true)
	journal := filepath.Join(dir, "logbook", "runs", runOfDemo, "journal.jsonl")
	before, err := os.ReadFile(journal)
	if err != nil {
		t.Fatal(err)
	}

	second := start(t, dir, "resume", runOfDemo)
	if code := second.end(); code != 2 || !strings.Contains(second.stderr(), "is open for writing by process") {
		t.Errorf("a second writer: exit code %d\n%s", code, second.stderr())
	}
	amend := command(dir, "amend", runOfDemo, "span", "250", "--because", "mistyped")
	if out, _ := amend.CombinedOutput(); amend.ProcessState.ExitCode() != 2 || !bytes.Contains(out, []byte("is open for writing by process")) {
		t.Errorf("amending meanwhile: exit code %d, %s", amend.ProcessState.ExitCode(), out)
	}
	list := command(dir, "logbook")
	if out, err := list.Output(); err != nil || !bytes.Contains(out, []byte("not decided")) {
		t.Errorf("reading meanwhile: %v, %s", err, out)
	}
	if after, err := os.ReadFile(journal); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the journal changed from outside: %v", err)
	}

	// Another run on the same machine is no second writer.
	other := start(t, dir, "run", "lathe/tailstock-by-test-cut")
	if q := other.next(); q.Name != "operator" {
		t.Errorf("another run asks %q; want operator", q.Name)
	}

	first.kill()
	third := start(t, dir, "resume", runOfDemo)
	if q := third.next(); q.Name != "operator" {
		t.Errorf("after the first writer is gone, resume asks %q; want operator", q.Name)
	}
}

// Two programs that begin a run at the same time get a folder each.
func TestRunsBegunTogether(t *testing.T) {
	dir := shop(t)
	var all []*child
	for range 8 {
		all = append(all, start(t, dir, "run", "lathe/tailstock-by-test-cut"))
	}
	for _, c := range all {
		if q := c.next(); q.Name != "operator" {
			t.Errorf("a run asks %q first; want operator", q.Name)
		}
		if code := c.end(); code != 3 {
			t.Errorf("exit code %d\n%s", code, c.stderr())
		}
	}
	runs, err := os.ReadDir(filepath.Join(dir, "logbook", "runs"))
	if err != nil || len(runs) != len(all) {
		t.Fatalf("%d runs were begun, and there are %v, %v", len(all), runs, err)
	}
}
