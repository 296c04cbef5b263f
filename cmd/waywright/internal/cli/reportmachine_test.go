package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"waywright/report"
)

const spacerPlan = `overhaul "spacers" {
  title    = "A spacer and a washer"
  machine  = "any"
  revision = "1"
}
task "first" {
  procedure = "spacer"
  renew     = days(90)
}
task "second" {
  procedure = "washer"
  after     = [task.first]
}
`

// A machine's record over half a year: rejected, measured again, signed,
// measured once more, and then out of date. What is missing is told each time,
// and each value names the run that it is from.
func TestRecordOfAMachineOverTime(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	procedure := strings.Replace(spacer, "if_failed = [concession]", "test      = \"spacer_size\"\n    if_failed = [reject]", 1)
	write("book/procedures/spacer.hcl", procedure)
	write("book/procedures/washer.hcl", strings.ReplaceAll(strings.ReplaceAll(procedure, `"spacer"`, `"washer"`), "spacer_size", "washer_size"))
	write("book/procedures/spacers.hcl", spacerPlan)
	write("answers/bad", "operator = Ana Ruiz\nthickness = 20.03 mm\nsize = reject because it is too thick\n")
	write("answers/good", "operator = Ana Ruiz\nthickness = 20.012 mm\n")
	write("answers/begun", "operator = Ana Ruiz\n")
	write("answers/better", "operator = Ana Ruiz\nthickness = 20.005 mm\n")
	on := func(day string, want int, args ...string) string {
		t.Helper()
		at, err := time.Parse(time.DateOnly, day)
		if err != nil {
			t.Fatal(err)
		}
		var out, told strings.Builder
		env := map[string]string{"WAYWRIGHT_LOGBOOK": filepath.Join(dir, "book"), "HOME": dir}
		in, err := os.Open(filepath.Join(dir, "answers", "bad")) // never read
		if err != nil {
			t.Fatal(err)
		}
		defer in.Close()
		code := Main(args, Streams{In: in, Out: &out, Err: &told, Now: func() time.Time { return at.Add(9 * time.Hour) }, Env: func(k string) string { return env[k] }})
		if code != want {
			t.Fatalf("%s: waywright %s: exit code %d, want %d\n%s%s", day, strings.Join(args, " "), code, want, out.String(), told.String())
		}
		return out.String()
	}
	measure := func(day, answers string, want int) {
		t.Helper()
		on(day, want, "run", "spacer", "--machine", "press-1", "--answers", filepath.Join(dir, "answers", answers))
	}
	sign := func(day, run string) {
		t.Helper()
		on(day, done, "sign", run, "--as", "fitter", "--name", "Ana Ruiz", "--yes")
		on(day, done, "sign", run, "--as", "inspector", "--name", "Ben Osei", "--yes")
	}
	type line struct{ Left, Found, Said string } // runs, and the value as left
	check := func(day, text string, missing []string, tests ...line) {
		t.Helper()
		var w report.Whole
		if err := json.Unmarshal([]byte(on(day, done, "report", "--machine", "press-1", "--json")), &w); err != nil {
			t.Fatal(err)
		}
		var lacks []string
		for _, m := range w.Missing {
			lacks = append(lacks, strings.TrimSpace(m.Word()+" "+m.What+": "+m.Why+" "+m.Run))
		}
		var lines []line
		for _, x := range w.Tests {
			left, _ := w.Joined(x.Record)
			l := line{Left: left.Run, Found: left.Run}
			if x.FoundIn > 0 {
				found, _ := w.Joined(x.FoundIn)
				l.Found = found.Run
			}
			if x.Test.Found != nil {
				l.Said = x.Test.Found.Said
			}
			lines = append(lines, l)
		}
		if w.Text != text {
			t.Errorf("%s: %s, want %s", day, w.Text, text)
		}
		if d := cmp.Diff(missing, lacks); d != "" {
			t.Errorf("%s: missing (-want +got):\n%s", day, d)
		}
		if d := cmp.Diff(tests, lines); d != "" {
			t.Errorf("%s: tests (-want +got):\n%s", day, d)
		}
	}
	const title, second = "A spacer is 20 mm thick", "MISSING task second of spacers: it is not begun yet"
	measure("2026-01-10", "bad", no)
	rejected := "REJECTED " + title + ": it was rejected, and no run since was accepted spacer-press-1"
	check("2026-01-11", "NOT WHOLE", []string{rejected, second})

	measure("2026-01-12", "good", paused)
	check("2026-01-12", "NOT WHOLE", []string{rejected,
		"NOT SIGNED " + title + ": all is settled, and not signed by: fitter, inspector spacer-press-1.2", second})

	sign("2026-01-13", "spacer-press-1.2")
	check("2026-01-14", "NOT WHOLE", []string{second}, line{"spacer-press-1.2", "spacer-press-1.2", "20.012 mm"})

	measure("2026-01-20", "better", paused)
	sign("2026-01-20", "spacer-press-1.3")
	check("2026-01-21", "NOT WHOLE", []string{second}, line{"spacer-press-1.3", "spacer-press-1.2", "20.005 mm"})
	check("2026-06-01", "NOT WHOLE", []string{"OUT OF DATE task first of spacers: it was due again on 2026-04-20 spacer-press-1.3", second},
		line{"spacer-press-1.3", "spacer-press-1.2", "20.005 mm"})

	// A signed record stands until what corrects it is signed by everybody.
	correcting := "BEING CORRECTED " + title + ": its record is being corrected by run spacer-press-1.4, which is not signed by everybody yet spacer-press-1.3"
	on("2026-01-22", done, "amend", "spacer-press-1.3", "thickness", "20.006 mm", "--because", "misread", "--new-record")
	stands := line{"spacer-press-1.3", "spacer-press-1.2", "20.005 mm"}
	check("2026-01-22", "NOT WHOLE", []string{correcting, second}, stands)
	page := on("2026-01-22", done, "report", "--machine", "press-1", "--html")
	if n := strings.Count(page, "being corrected by run spacer-press-1.4"); n < 2 {
		t.Errorf("the page says %d times that the record is being corrected; want it at the test and at the record", n)
	}
	on("2026-01-23", done, "sign", "spacer-press-1.4", "--as", "fitter", "--name", "Ana Ruiz", "--yes")
	check("2026-01-23", "NOT WHOLE", []string{correcting, second}, stands)
	on("2026-01-24", done, "sign", "spacer-press-1.4", "--as", "inspector", "--name", "Ben Osei", "--yes")
	check("2026-01-24", "NOT WHOLE", []string{second}, line{"spacer-press-1.4", "spacer-press-1.2", "20.006 mm"})

	// Runs that were begun and left are one line.
	for _, day := range []string{"2026-01-25", "2026-01-26", "2026-01-27"} {
		measure(day, "begun", paused)
	}
	check("2026-01-27", "NOT WHOLE", []string{
		"UNDER WAY " + title + ": 3 of its runs are not ended: spacer-press-1.7, spacer-press-1.6, spacer-press-1.5 spacer-press-1.7", second},
		line{"spacer-press-1.4", "spacer-press-1.2", "20.006 mm"})
}
