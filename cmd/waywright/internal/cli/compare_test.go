package cli_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"waywright/cmd/waywright/internal/cli"
)

var update = flag.Bool("update", false, "write the golden files anew")

// years is a logbook in which the tailstock of lathe-4 was looked at in three
// years: set over in the first, and found wandering off since.
func years(t *testing.T) (book string) {
	t.Helper()
	book = filepath.Join(t.TempDir(), "logbook")
	demo := filepath.Join("..", "..", "..", "..", "testdata", "demo")
	if err := os.CopyFS(book, os.DirFS(filepath.Join(demo, "logbook"))); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(filepath.Join(demo, "wrong-way-first.answers"))
	if err != nil {
		t.Fatal(err)
	}
	first, _, ok := strings.Cut(string(whole), "# 0.100 mm towards the operator is asked for.")
	if !ok {
		t.Fatal("the demo's answers are not as they were")
	}
	looked := func(tailstock string) string {
		return strings.NewReplacer("24,962 24,962 24,961", tailstock).Replace(first) + "fitter = Ines Brandt\ninspector = Tom Acker\n"
	}
	for _, x := range []struct{ day, answers string }{
		{"2024-03-04", string(whole)},
		{"2025-03-10", looked("24.819 24.818 24.819")},
		{"2026-03-02", looked("24.824 24.824 24.825")},
	} {
		file := filepath.Join(t.TempDir(), "answers")
		if err := os.WriteFile(file, []byte(x.answers), 0o666); err != nil {
			t.Fatal(err)
		}
		at, err := time.Parse(time.DateOnly, x.day)
		if err != nil {
			t.Fatal(err)
		}
		if code, out, errs := called(t, at, "run", "lathe/tailstock-by-test-cut", "--logbook", book, "--answers", file); code != 0 {
			t.Fatalf("the run of %s ended with %d\n%s\n%s", x.day, code, out, errs)
		}
	}
	return book
}

// called calls the program on a day.
func called(t *testing.T, at time.Time, args ...string) (code int, out, errs string) {
	t.Helper()
	in, err := os.Open(os.DevNull)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	var o, e bytes.Buffer
	code = cli.Main(args, cli.Streams{In: in, Out: &o, Err: &e, Now: func() time.Time { return at.Add(9 * time.Hour) }, Env: func(string) string { return "" }})
	return code, o.String(), e.String()
}

// What the terminal shows of three years, whole: what differs stands first,
// every line fits.
func TestCompareYears(t *testing.T) {
	book := years(t)
	const run = "tailstock-by-test-cut-lathe-4"
	code, out, errs := called(t, time.Now(), "compare", run, run+".2", run+".3", "--logbook", book)
	if code != 0 || errs != "" {
		t.Fatalf("ended with %d: %s", code, errs)
	}
	golden := filepath.Join("testdata", "compare-years.golden.txt")
	if *update {
		if err := os.WriteFile(golden, []byte(out), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), out); d != "" {
		t.Errorf("(−want +got)\n%s", d)
	}
	for _, l := range strings.Split(out, "\n") {
		if n := len([]rune(l)); n > 79 {
			t.Errorf("a line has %d columns: %s", n, l)
		}
	}
}
