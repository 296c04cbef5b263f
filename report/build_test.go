package report_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
	"waywright/report"
)

// The flag is that of enginetest, which rewrites scenarios with it.
func updating() bool { return flag.Lookup("update").Value.String() == "true" }

var runs = []string{"tailstock", "headstock", "lap-bar", "rejected", "unmeasured"}

func load(name string) (*engine.Plan, error) {
	l, diags := hclfile.Parse(hclfile.Source{FS: os.DirFS("../testdata/procedures/design"), Path: name + ".hcl"})
	if diags.HasErrors() {
		return nil, fmt.Errorf("%s: %v", name, diags)
	}
	return engine.NewPlan(l.Procedure), nil
}

// played holds the runs, which the tests only look at.
var played = map[string]*enginetest.Runner{}

func play(t testing.TB, name string) *enginetest.Runner {
	t.Helper()
	if r := played[name]; r != nil {
		return r
	}
	script, err := os.ReadFile(filepath.Join("testdata", "runs", name+".txt"))
	if err != nil {
		t.Fatal(err)
	}
	played[name] = enginetest.Play(t, string(script), load)
	return played[name]
}

var head = strings.Repeat("0123456789abcdef", 4)

func build(t testing.TB, name string) report.Record {
	t.Helper()
	s := beforeSeal(t, play(t, name).State())
	return report.Build(s, head, s.Len())
}

func beforeSeal(t testing.TB, s *engine.State) *engine.State {
	t.Helper()
	s, err := s.BeforeSeal()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func marshal(t testing.TB, r report.Record) []byte {
	t.Helper()
	b, err := report.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The records are what goes to a buyer: read the difference before it goes in.
func TestBuildGolden(t *testing.T) {
	for _, name := range runs {
		got := marshal(t, build(t, name))
		golden := filepath.Join("testdata", name+".golden.json")
		if updating() {
			if err := os.WriteFile(golden, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(string(want), string(got)); d != "" {
			t.Errorf("%s (−want +got):\n%s", name, d)
		}
	}
}

// A run may be stopped anywhere: whatever was said so far makes a record that
// keeps to the schema, comes back from its JSON, and is a draft until it is
// decided.
func TestBuildAtEveryEvent(t *testing.T) {
	schema := compile(t)
	for _, name := range runs {
		r := play(t, name)
		events := r.Events()
		for n := 1; n <= len(events); n++ {
			if name != "tailstock" && n%4 != 1 && n != len(events) {
				continue // one run at every event, the longer ones at every fourth
			}
			s, err := engine.Fold(r.Plan, events[:n])
			if err != nil {
				t.Fatal(err)
			}
			issue, err := report.NewIssue(s, func(int) string { return head }, n)
			if err != nil {
				t.Fatal(err)
			}
			rec, b := issue.Shown(), issue.JSON
			if err := validate(t, schema, b); err != nil {
				t.Fatalf("%s after event %d: %v", name, n, err)
			}
			if back, err := report.Parse(b); err != nil || !bytes.Equal(marshal(t, back), b) {
				t.Fatalf("%s after event %d: it does not come back from its JSON (%v)", name, n, err)
			}
			if undecided := s.Outcome() == engine.NotDecided; rec.Outcome.Draft != undecided || undecided && len(rec.Outcome.Open) == 0 {
				t.Fatalf("%s after event %d: draft %v, outcome %v, open %q", name, n, rec.Outcome.Draft, s.Outcome(), rec.Outcome.Open)
			}
			c := rec.Outcome.Counts
			if c.Pass+c.Fail+c.Undecided+c.NotMeasured+c.Open != c.Agreed || c.Agreed+c.NotApplied != len(rec.Tests) {
				t.Fatalf("%s after event %d: the counts %+v do not add up to %d tests", name, n, c, len(rec.Tests))
			}
		}
	}
}

// The same journal gives the same bytes, whoever folds it.
func TestSameJournalSameBytes(t *testing.T) {
	for _, name := range runs {
		r := play(t, name)
		s, err := engine.Fold(r.Plan, r.Events())
		if err != nil {
			t.Fatal(err)
		}
		a := marshal(t, report.Build(r.State(), head, s.Len()))
		b := marshal(t, report.Build(s, head, s.Len()))
		c := marshal(t, report.Build(s, head, s.Len()))
		if !bytes.Equal(a, b) || !bytes.Equal(b, c) {
			t.Errorf("%s: three makings differ:\n%s", name, cmp.Diff(string(a), string(b)))
		}
	}
}

// What is written names only what is in it.
func TestReferencesInARecordHold(t *testing.T) {
	for _, name := range runs {
		r := build(t, name)
		ids := map[string]bool{}
		unique := func(id string) {
			if ids[id] {
				t.Errorf("%s: %s stands twice", name, id)
			}
			ids[id] = true
		}
		for _, x := range r.Readings {
			unique(x.ID)
		}
		for _, x := range r.Instruments {
			unique(x.ID)
		}
		known := func(where string, list ...string) {
			for _, id := range list {
				if id != "" && !ids[id] {
					t.Errorf("%s: %s names %s, which is not in the record", name, where, id)
				}
			}
		}
		for _, x := range r.Readings {
			known(x.ID, x.Instrument)
		}
		for _, x := range r.Tests {
			known(x.Name, x.Readings...)
			known(x.Name, x.Instruments...)
			for _, a := range x.Attempts {
				known(x.Name, a.Readings...)
				known(x.Name, a.Instruments...)
			}
			for _, w := range x.Working {
				if _, ok := r.Result(w); !ok {
					t.Errorf("%s: %s is worked out from %s, which is not in the record", name, x.Name, w)
				}
			}
		}
	}
}

// The story of the run called tailstock: typed the wrong way round, found out
// by the needle, mended. Every part of it stays in the record.
func TestAttemptsAreAllKept(t *testing.T) {
	r := build(t, "tailstock")
	test := r.Tests[0]
	var got []string
	for _, a := range test.Attempts {
		s := a.Word + " " + a.Found.Said
		if a.Way != nil && a.Way.Correction != nil {
			c := a.Way.Correction
			s += "; asked " + c.Asked[0].Said + "; typed " + c.Movements[0].Typed + "; moved " + c.Moved.Said + "; " + c.Response.Word
		}
		got = append(got, s)
	}
	// By hand, with taper = change of diameter over the span and the tailstock
	// moved by taper/2 · centres/span (derived here): 45/2 · 300/200 = 33.75 µm;
	// the second amount is 91/2 · 300/200 = 68.25 µm divided by the gain 46/45.33.
	want := []string{
		"FAIL 45.0 µm larger at the tailstock end; asked 0.034 mm towards the operator; typed 0.034 towards; moved 0.034 mm away from the operator; wrong_way",
		"FAIL 91.0 µm larger at the tailstock end; asked 0.067 mm towards the operator; typed -0.07; moved 0.07 mm towards the operator; as_expected",
		"PASS 1.0 µm larger at the headstock end",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("attempts (−want +got):\n%s", d)
	}
	if f := test.AsFound; !f.Read || f.Word != "FAIL" || f.Said != "45.0 µm larger at the tailstock end" {
		t.Errorf("as found: %+v", f)
	}
	if n := len(r.Amendments); n != 1 || r.Amendments[0].From != "32.347 mm" || r.Amendments[0].To != "31.847 mm" {
		t.Errorf("amendments: %+v", r.Amendments)
	}
	if n := len(r.Withdrawals); n != 1 || r.Withdrawals[0].Said != "31.893" {
		t.Errorf("withdrawals: %+v", r.Withdrawals)
	}
	if len(r.Notes) != 1 || len(r.Sittings) != 2 || r.Outcome.Text != "ACCEPTED" {
		t.Errorf("notes %v, sittings %v, outcome %v", r.Notes, r.Sittings, r.Outcome)
	}
}

// A set in which something moved is kept, and said to be void; the sets that
// were turned because the needle read reversed say so.
func TestVoidAndTurnedSetsAreKept(t *testing.T) {
	r := build(t, "headstock")
	void, turned := 0, 0
	for _, x := range r.Readings {
		if x.State == "void" {
			void++
			if x.Drift == nil || x.Drift.Moved.Text != "4" || x.Drift.Allowed.Text != "2" {
				t.Errorf("drift of the void set: %+v", x.Drift)
			}
			for _, test := range r.Tests {
				for _, id := range test.Readings {
					if id == x.ID {
						t.Errorf("%s stands on the void set", test.Name)
					}
				}
			}
		}
		if x.Turned {
			turned++
			if x.Places[0].Takes[0].Typed != strings.TrimSuffix(flipped(x.Places[0].Takes[0].Text), " ") {
				t.Errorf("%s: typed %s, counts as %s", x.ID, x.Places[0].Takes[0].Typed, x.Places[0].Takes[0].Text)
			}
		}
	}
	if void != 1 || turned != 4 {
		t.Errorf("%d void sets and %d turned ones, want 1 and 4", void, turned)
	}
}

func flipped(text string) string {
	if s, ok := strings.CutPrefix(text, "−"); ok {
		return s
	}
	return "-" + text
}

// A plane that is first judged after a correction of the other was still read
// before it: the first sweep reads both.
func TestAsFoundIsTheFirstSweep(t *testing.T) {
	r := build(t, "headstock")
	for _, test := range r.Tests {
		if !test.AsFound.Read || !test.Attempts[0].AsFound {
			t.Errorf("%s: as found %+v", test.Name, test.AsFound)
		}
	}
}

func TestNothingReadBeforeTheWork(t *testing.T) {
	for _, test := range build(t, "unmeasured").Tests {
		if test.AsFound.Read || test.AsFound.Said != "not read" {
			t.Errorf("%s: as found %+v", test.Name, test.AsFound)
		}
		if test.Verdict != report.NotMeasured || test.Why != "the dog covers the collar" {
			t.Errorf("%s: %s, %q", test.Name, test.Verdict, test.Why)
		}
	}
}

func TestOutcomes(t *testing.T) {
	for name, want := range map[string]string{
		"tailstock": "ACCEPTED", "lap-bar": "ACCEPTED WITH 1 CONCESSION", "rejected": "REJECTED", "headstock": "NOT DECIDED", "unmeasured": "NOT DECIDED",
	} {
		s := play(t, name).State()
		i, err := report.NewIssue(s, func(int) string { return head }, s.Len())
		if err != nil {
			t.Fatal(err)
		}
		if got := i.Shown().Outcome.Text; got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
	if o := build(t, "rejected").Outcome; o.Reason != "the base is cracked" || o.By == nil || o.By.By != "A. Fitter" {
		t.Errorf("rejection: %+v", o)
	}
}

// What a record must not hold.
func TestNotInARecord(t *testing.T) {
	for _, name := range runs {
		s := strings.ToLower(string(marshal(t, build(t, name))))
		for _, word := range []string{"certified", "guarantee", "n/a", "score", "nan", "inf\"", "/home", "testdata", `\u00`} {
			if strings.Contains(s, word) {
				t.Errorf("%s holds %q", name, word)
			}
		}
	}
}

// Every number is printed in digits that read back as the number, to the
// place printed.
func TestPrintedDigitsAreTheNumber(t *testing.T) {
	for _, name := range runs {
		var doc any
		if err := json.Unmarshal(marshal(t, build(t, name)), &doc); err != nil {
			t.Fatal(err)
		}
		n := 0
		walk(doc, func(m map[string]any) {
			text, ok := m["text"].(string)
			x, isNumber := m["value"].(float64)
			if !ok || !isNumber || m["ucum"] == nil {
				return
			}
			n++
			var shown float64
			if _, err := fmt.Sscanf(strings.Replace(text, "−", "-", 1), "%g", &shown); err != nil {
				t.Errorf("%s: %q is no number: %v", name, text, err)
			}
			_, decimals, _ := strings.Cut(text, ".")
			half := 0.5 * math.Pow(10, -float64(len(decimals)))
			if decimals == "" {
				half *= math.Pow(10, float64(len(text)-len(strings.TrimRight(text, "0"))))
			}
			if math.Abs(shown-x) > half*(1+1e-6) {
				t.Errorf("%s: %v is printed as %q", name, x, text)
			}
		})
		if n < 10 {
			t.Errorf("%s: %d numbers looked at", name, n)
		}
	}
}

func walk(doc any, see func(map[string]any)) {
	switch d := doc.(type) {
	case map[string]any:
		see(d)
		for _, v := range d {
			walk(v, see)
		}
	case []any:
		for _, v := range d {
			walk(v, see)
		}
	}
}

// The number of a record is made of what it is a record of; another head is
// another record.
func TestRecordNumber(t *testing.T) {
	s := play(t, "rejected").State()
	a := report.Build(s, head, s.Len()).Number
	if want := "lathe-2-tailstock-by-test-cut-20260302-01234567"; a != want {
		t.Errorf("number %s, want %s", a, want)
	}
	if b := report.Build(s, strings.Repeat("f", 64), s.Len()).Number; a == b {
		t.Errorf("two heads give one number, %s", a)
	}
}

// Where a machine stands and whose it is stay out of the record.
func TestPrivateEntriesStayOut(t *testing.T) {
	p, err := load("tailstock-by-test-cut")
	if err != nil {
		t.Fatal(err)
	}
	r, err := enginetest.Begin(p, engine.Begun{Machine: engine.Machine{ID: "Lathe Nº 2/b", Serial: "1180", Text: map[string]string{
		"maker": "not marked", "address": "3 Mill Lane", "owner.name": "J. Doe", "place": "back shed"}}})
	if err != nil {
		t.Fatal(err)
	}
	rec := report.Build(r.State(), head, 2)
	if d := cmp.Diff([]report.Fact{{Name: "maker", Text: "not marked"}}, rec.Machine.Facts); d != "" {
		t.Errorf("facts (−want +got):\n%s", d)
	}
	if want := "lathe-nº-2-b-tailstock-by-test-cut-20260302-01234567"; rec.Number != want {
		t.Errorf("number %q, want %q", rec.Number, want)
	}
}
