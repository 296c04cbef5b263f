package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/creack/pty"
)

// typed runs the program on a terminal and types a line at each prompt. It
// returns what stood on the terminal before the last prompt, or at the end.
func typed(t *testing.T, dir string, args []string, lines []string) string {
	t.Helper()
	c := command(dir, args...)
	f, err := pty.Start(c)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { f.Close(); c.Process.Kill(); c.Wait() }()
	var all bytes.Buffer
	for i := 0; ; {
		b := make([]byte, 1)
		if _, err := f.Read(b); err != nil {
			return all.String() // the program has ended
		}
		all.Write(b)
		if !bytes.HasSuffix(all.Bytes(), []byte("\n> ")) {
			continue
		}
		if i == len(lines) {
			return all.String()
		}
		if _, err := f.WriteString(lines[i] + "\r"); err != nil {
			t.Fatalf("%v after\n%s", err, all.String())
		}
		i++
	}
}

// An instrument is entered from questions. What cannot stand is refused at
// once, and the question stays.
func TestNewInstrumentFromQuestions(t *testing.T) {
	dir := t.TempDir()
	screen := typed(t, dir, []string{"new", "instrument"}, []string{
		"no good", "M-3", "", "outside micrometer", "25 mm", "0 to 25 mm", "1", "1 um", "4 um", "not known", "1.2 um", "11", "0,5 mm",
		"K-0611", "May", "2026-03-02", "the county gauge room", "1.1 um", "0.5", "2.13", "2027-03-02", "", "",
		"last spring", "2025-11-03 new spindle nut, by Anna Brook",
	})
	for _, want := range []string{
		"I read no good. An id is made of", "I read nothing, and this is needed.", `I read 1. "1" has no unit.`,
		"does not say from where to where", "The factor k is a number from 1 to 10", "I read last spring.",
		"I read May. That is no day.", "M-3 is entered in logbook/instruments.hcl",
	} {
		if !strings.Contains(strings.ReplaceAll(screen, "\r", ""), want) {
			t.Errorf("the screen does not say %q:\n%s", want, screen)
		}
	}
	b, err := os.ReadFile(filepath.Join(dir, "logbook", "instruments.hcl"))
	if err != nil {
		t.Fatal(err)
	}
	want := `instrument "M-3" {
  kind              = "outside micrometer"
  range             = [mm(0), mm(25)]
  resolution        = um(1)
  error             = um(4)
  repeatability     = um(1.2)
  repeatability_dof = 10
  turn              = mm(0.5)
  certificate       = "K-0611"
  uncertainty       = um(1.1)
  coverage          = 2.13
  calibrated        = "2026-03-02"
  calibrated_by     = "the county gauge room"
  due               = "2027-03-02"

  history {
    day  = "2025-11-03"
    what = "new spindle nut"
    by   = "Anna Brook"
  }
}
`
	if !strings.HasSuffix(string(b), "\n\n"+want) {
		t.Errorf("instruments.hcl is\n%s\nwant at its end\n%s", b, want)
	}
}

// Where the logbook does not know the machine, a person is asked for it, and
// it is entered.
func TestRunAsksForTheMachine(t *testing.T) {
	dir := t.TempDir()
	screen := typed(t, dir, []string{"run", "lathe/tailstock-by-test-cut", "--plain"}, []string{"my lathe", "lathe-1"})
	if !regexp.MustCompile(`(?s)has no centre lathe yet.*I read my lathe\. A name is one word: type my-lathe\..*lathe-1 is entered.*Who is at the machine\?`).MatchString(screen) {
		t.Errorf("the screen is\n%s", screen)
	}
	screen = typed(t, dir, []string{"run", "lathe/tailstock-by-test-cut", "--plain"}, nil)
	if !strings.Contains(screen, "Machine: lathe-1, the only centre lathe in logbook") {
		t.Errorf("the second time the screen is\n%s", screen)
	}
}
