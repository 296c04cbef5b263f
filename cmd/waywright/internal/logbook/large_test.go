package logbook

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/hclfile"
	"waywright/report"
	"waywright/report/csv"
	"waywright/report/document"
	"waywright/report/html"
	"waywright/report/pdf"
	"waywright/report/seal"
)

// large writes a procedure of 40 profiles and 60 gates: of each profile how
// straight it is, counted in one of three ways, and of every other one each of
// its places.
func large(t testing.TB) *procedures.Procedure {
	t.Helper()
	var b strings.Builder
	b.WriteString(`
procedure "large" {
  title    = "Forty profiles"
  machine  = "any"
  revision = "1"
  purpose  = "Measure the time that forms take."
  decision = "guarded"
}
instrument "lever" {
  kind          = "lever indicator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(0.5)
  turn          = mm(0.2)
}
signoff "fitter" { title = "Carried out by" }
`)
	for i := range 40 {
		fmt.Fprintf(&b, `
step "s%[1]d" {
  title = "Read line %[1]d"
  reading "r%[1]d" {
    ask      = "Line %[1]d at ${each.station}: reading"
    unit     = "um"
    with     = instrument.lever
    along    = stations(mm(0), mm(600), 13)
    range    = [um(-200), um(200)]
    positive = "high"
  }
  gate "g%[1]d" {
    title     = "Line %[1]d is straight"
    of        = straightness(reading.r%[1]d, "%[2]s")
    at_most   = um(60)
    source    = "shop rule"
    if_failed = [concession]
  }
`, i, []string{"least_squares", "minimum_zone", "end_points"}[i%3])
		if i%2 == 0 {
			fmt.Fprintf(&b, `
  gate "h%[1]d" {
    title     = "Line %[1]d, every place"
    of        = reading.r%[1]d
    within    = plus_minus(um(50))
    source    = "shop rule"
    if_failed = [concession]
  }
`, i)
		}
		b.WriteString("}\n")
	}
	l, ds := hclfile.Parse(hclfile.Source{FS: fstest.MapFS{"large.hcl": {Data: []byte(b.String())}}, Path: "large.hcl"})
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	return l.Procedure
}

// largeRun works the large procedure to its signature, and returns the name of
// the run.
func largeRun(t testing.TB, b Book) string {
	t.Helper()
	clock := now()
	tick := func() time.Time { clock = clock.Add(time.Second); return clock }
	r, err := b.Begin(Start{Procedure: large(t), Machine: engine.Machine{ID: "lathe"}, Program: "bench"}, tick)
	if err != nil {
		t.Fatal(err)
	}
	s := r.Session()
	if _, err := s.Record(engine.Sat{Operator: "Ana"}); err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(1, 60))
	for q := s.Next(); q.Kind != engine.End; q = s.Next() {
		in := engine.Input{Name: q.Name, Text: "yes"}
		switch q.Kind {
		case engine.AskInstrument:
			in.Text = "none"
		case engine.AskReading:
			in.Text = fmt.Sprintf("%d um", rng.IntN(31)-15)
		case engine.AskSign:
			in.Text = "Ana"
		}
		if _, refusal, err := s.Say(in); refusal != nil || err != nil {
			t.Fatalf("at %s: %+v, %v", q.Name, refusal, err)
		}
	}
	r.Now(s.State())
	if err := r.Close(); err != nil {
		t.Fatal(err)
	}
	return r.Name
}

// Runs of the same files have one plan, and a logbook that keeps nothing has one
// for each.
func TestPlansAreKeptByTheirFiles(t *testing.T) {
	b := made(t)
	begin := func(p *procedures.Procedure) string {
		r, err := b.Begin(Start{Procedure: p, Machine: engine.Machine{ID: "lathe"}}, now)
		if err != nil {
			t.Fatal(err)
		}
		if err := r.Close(); err != nil {
			t.Fatal(err)
		}
		return r.Name
	}
	first, second, other := begin(tailstock(t)), begin(tailstock(t)), begin(large(t))
	for _, keeps := range []bool{true, false} {
		if b.Kept = nil; keeps {
			b.Kept = NewKept()
		}
		plans := map[*engine.Plan]bool{}
		for _, name := range []string{first, second, other} {
			r, err := b.Read(name)
			if err != nil {
				t.Fatal(err)
			}
			plans[r.Plan] = true
		}
		if want := map[bool]int{true: 2, false: 3}[keeps]; len(plans) != want {
			t.Errorf("kept %t: three runs of two procedures have %d plans, want %d", keeps, len(plans), want)
		}
	}
}

// BenchmarkLargeRun is the work of a person at the machine: every answer is
// judged, and what it leads to is told.
func BenchmarkLargeRun(b *testing.B) {
	for b.Loop() {
		largeRun(b, made(b))
	}
}

// forms makes all forms of a run that was read.
func forms(r *Run) error {
	i, err := r.Issue()
	if err != nil {
		return err
	}
	d, err := document.OfIssue(i)
	if err != nil {
		return err
	}
	var sheets bytes.Buffer
	for _, write := range []func() error{
		func() error { return html.Render(io.Discard, d) },
		func() error { return pdf.Render(&sheets, d, pdf.A4) },
		func() error { return csv.Tests(io.Discard, i.Shown(), csv.Options{}) },
		func() error { return csv.Readings(io.Discard, i.Shown(), csv.Options{}) },
	} {
		if err := write(); err != nil {
			return err
		}
	}
	if sheets.Len() > 3<<20 {
		return fmt.Errorf("the PDF has %d bytes", sheets.Len())
	}
	return nil
}

// BenchmarkLargeForms makes all forms of a signed run with 60 gates and 40
// profiles, from its sealed record and, as of a draft, from its journal.
func BenchmarkLargeForms(b *testing.B) {
	book := made(b)
	name := largeRun(b, book)
	read := func(b *testing.B) *Run {
		r, err := book.Read(name)
		if err != nil {
			b.Fatal(err)
		}
		return r
	}
	r := read(b)
	if _, err := r.WriteRecord(); err != nil {
		b.Fatal(err)
	}
	b.Run("sealed", func(b *testing.B) {
		for b.Loop() {
			if err := forms(read(b)); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("journal", func(b *testing.B) {
		for b.Loop() {
			r := read(b)
			i, err := report.NewIssue(r.State, seal.Heads(r.Lines()), len(r.Lines()))
			if err != nil || i.Digest() != r.State.Seal().Digest {
				b.Fatal("the journal gives another record", err)
			}
		}
	})
}

// BenchmarkLargeVerify checks the folder of the run, with its record made again
// from the journal.
func BenchmarkLargeVerify(b *testing.B) {
	book := made(b)
	name := largeRun(b, book)
	r, err := book.Read(name)
	if err != nil {
		b.Fatal(err)
	}
	if _, err := r.WriteRecord(); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		f, err := OpenFolder(filepath.Join(book.Dir, "runs", name))
		if err != nil {
			b.Fatal(err)
		}
		if v := seal.Verify(f, seal.Options{Compile: Compile, Program: "bench"}); v.Result() != seal.Holds {
			b.Fatalf("%+v", v.Checks)
		}
	}
}
