package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// At a terminal a run that lies open is told, and it is asked what becomes of it.
func TestRunThatLiesOpenIsAskedAbout(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "spacer.hcl"), []byte(spacerFile), 0o600); err != nil {
		t.Fatal(err)
	}
	run := []string{"run", "spacer.hcl", "--machine", "press-1", "--plain"}
	first := typed(t, dir, run, []string{"Ana Ruiz", "pause"})
	if strings.Contains(first, "not ended") {
		t.Errorf("the first run:\n%s", first)
	}
	for _, tt := range []struct {
		name  string
		typed []string
		said  []string
		runs  string
	}{
		{"nothing now", []string{"?", "nine", "0"}, []string{"One run of this procedure on press-1 is not ended:", "spacer-press-1, last worked on", "by Ana Ruiz; it waits for:",
			"accepts and rejects nothing", `I read "nine". Type 0, 1, 2 or 3.`}, "spacer-press-1"},
		{"go on", []string{"1", "1", "pause"}, []string{"Run spacer-press-1:", "Who is at the machine?"}, "spacer-press-1"},
		{"another", []string{"2", "Ana Ruiz", "pause"}, []string{"Run spacer-press-1.2:"}, "spacer-press-1 spacer-press-1.2"},
		{"close both, and think better of it", []string{"3", "0", "0"}, []string{"2 runs of this procedure on press-1 are not ended:", "close all 2 for good", "Nothing was closed."}, "spacer-press-1 spacer-press-1.2"},
		{"close both", []string{"3", "7", "2", "Ana Ruiz", "pause"}, []string{"The reason is wanted in words", "Abandoned: spacer-press-1.", "Abandoned: spacer-press-1.2.", "Run spacer-press-1.3:"},
			"spacer-press-1.3"},
	} {
		screen := strings.ReplaceAll(typed(t, dir, run, tt.typed), "\r", "")
		flat := strings.Join(strings.Fields(screen), " ")
		for _, want := range tt.said {
			if !strings.Contains(flat, want) {
				t.Errorf("%s: it does not say %q:\n%s", tt.name, want, screen)
			}
		}
		out, err := command(dir, "logbook").Output()
		if err != nil {
			t.Fatal(err)
		}
		var runs []string
		for _, line := range strings.Split(string(out), "\n") {
			if strings.HasPrefix(line, "spacer-") {
				runs = append([]string{line}, runs...)
			}
		}
		got := strings.Fields(strings.Join(runs, " "))
		if len(got) != len(strings.Fields(tt.runs)) || !strings.Contains(tt.runs, got[0]) {
			t.Errorf("%s: the logbook has %v, want %s", tt.name, got, tt.runs)
		}
	}
}
