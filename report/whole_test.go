package report_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"waywright/report"
	"waywright/report/reporttest"
)

// issued is a record as it is handed out.
func issued(t *testing.T, run string, r report.Record) report.RunIssue {
	t.Helper()
	b, err := report.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	return report.RunIssue{Run: run, Issue: report.Issue{Record: r, JSON: b}}
}

// later is the tailstock's record as another procedure measured it again, a
// month on.
func later() report.Record {
	r := reporttest.Tailstock()
	r.Number, r.Title, r.Procedure.Name = "lathe-2-acceptance", "Acceptance", "acceptance"
	r.Begun.Time, r.Last.Time = "2026-12-03T08:00:00Z", "2026-12-03T12:00:00Z"
	t := &r.Tests[0]
	t.Found.Said, t.AsFound.Said = "2.0 µm larger at the headstock end", "not read"
	return r
}

// Tests of two records are one where they have the same lasting name: the newer
// value stands, beside what the older record found first.
func TestJoinByTest(t *testing.T) {
	w, err := report.Join("lathe-2", []report.RunIssue{issued(t, "b", later()), issued(t, "a", reporttest.Tailstock())}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(w.Tests) != 1 || w.Counts.Agreed != 1 || w.Word != report.Accepted || w.Text != "ACCEPTED" {
		t.Fatalf("%d tests, %+v, %s", len(w.Tests), w.Counts, w.Text)
	}
	x := w.Tests[0]
	if x.Record != 2 || x.FoundIn != 1 || w.Records[0].Run != "a" || w.Records[1].Run != "b" {
		t.Errorf("the test is of record %d, as found in %d; records %q, %q", x.Record, x.FoundIn, w.Records[0].Run, w.Records[1].Run)
	}
	if got := x.Test.Found.Said; got != "2.0 µm larger at the headstock end" {
		t.Errorf("as left: %q", got)
	}
	if got := x.Test.AsFound.Said; got != reporttest.Tailstock().Tests[0].AsFound.Said {
		t.Errorf("as found: %q", got)
	}
	// Without the name that lasts, the same gate of two procedures is two tests.
	a, b := reporttest.Tailstock(), later()
	a.Tests[0].Lasting, b.Tests[0].Lasting = "", ""
	if w, err = report.Join("lathe-2", []report.RunIssue{issued(t, "a", a), issued(t, "b", b)}, nil); err != nil || len(w.Tests) != 2 {
		t.Errorf("%d tests, %v, want 2", len(w.Tests), err)
	}
}

// What is missing, is spoilt, is not signed or falls short keeps a whole from
// being accepted.
func TestJoinNotWhole(t *testing.T) {
	good := reporttest.Tailstock()
	spoilt := good.SpoiltSince([]report.Spoilt{{Said: "run 9 moved the head", Time: "2026-12-01T08:00:00Z", Run: "9"}})
	unsigned := reporttest.Tailstock()
	unsigned.Roles[1].Signed = ""
	failed := reporttest.Tailstock()
	failed.Tests[0].Verdict = report.Fail
	conceded := reporttest.Tailstock()
	conceded.Tests[0].Verdict, conceded.Tests[0].Concession = report.Undecided, &report.Concession{No: 1, State: "granted"}
	for _, tt := range []struct {
		name    string
		list    []report.RunIssue
		missing []report.Missing
		text    string
		why     string
	}{
		{"whole", []report.RunIssue{issued(t, "a", good)}, nil, "ACCEPTED", ""},
		{"conceded", []report.RunIssue{issued(t, "a", conceded)}, nil, "ACCEPTED WITH 1 CONCESSION", ""},
		{"nothing", nil, nil, "NOT WHOLE", ""},
		{"missing", []report.RunIssue{issued(t, "a", good)}, []report.Missing{{Kind: report.MissRejected, What: "Headstock", Why: "it was rejected"}}, "NOT WHOLE", "it was rejected"},
		{"spoilt", []report.RunIssue{issued(t, "a", spoilt)}, nil, "NOT WHOLE", "it does not hold any more: run 9 moved the head"},
		{"unsigned", []report.RunIssue{issued(t, "a", unsigned)}, nil, "NOT WHOLE", "its record is a draft: Accepted by: not signed."},
		{"failed", []report.RunIssue{issued(t, "a", failed)}, nil, "NOT WHOLE", ""},
	} {
		w, err := report.Join("lathe-2", tt.list, tt.missing)
		if err != nil {
			t.Fatal(err)
		}
		why := ""
		for _, m := range w.Missing {
			if m.Kind != report.MissCaution { // one of its instruments was overdue
				why += m.Why
			}
		}
		if w.Text != tt.text || why != tt.why {
			t.Errorf("%s: %s, %q, want %s, %q", tt.name, w.Text, why, tt.text, tt.why)
		}
	}
}

// A whole is written and read back as it is; the same records give the same
// number.
func TestWholeReadBack(t *testing.T) {
	list := []report.RunIssue{issued(t, "a", reporttest.Tailstock()), issued(t, "bar", reporttest.Bar()), issued(t, "b", later())}
	w, err := report.Join("lathe-2", list, []report.Missing{{Kind: report.MissNever, What: "x", Why: "y"}})
	if err != nil {
		t.Fatal(err)
	}
	b, err := report.MarshalWhole(w)
	if err != nil {
		t.Fatal(err)
	}
	back, err := report.ParseWhole(b)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(w, back, cmpopts.EquateEmpty()); d != "" {
		t.Errorf("read back (−want +got):\n%s", d)
	}
	again, err := report.Join("lathe-2", list, []report.Missing{{Kind: report.MissNever, What: "x", Why: "y"}})
	if err != nil || again.Number != w.Number || !strings.HasPrefix(w.Number, "lathe-2-whole-20261203-") {
		t.Errorf("number %q, then %q, %v", w.Number, again.Number, err)
	}
	for _, bad := range []string{"", "{}", `{"format":"waywright record 1"}`, string(b) + "{}"} {
		if _, err := report.ParseWhole([]byte(bad)); err == nil {
			t.Errorf("ParseWhole(%.40q) took it", bad)
		}
	}
}

// As found is from the earliest record that read it, also where a newer one of
// the same procedure stands in its place; as left never is.
func TestJoinAsFoundIsTheEarliest(t *testing.T) {
	old, newer := reporttest.Tailstock(), later()
	newer.Procedure.Name = old.Procedure.Name
	newer.Tests[0].AsFound = report.AsFound{Said: "not read"}
	gone := old.Tests[0]
	gone.No, gone.Name, gone.Lasting, gone.Title = 2, "only_then", "", "Only the old procedure had it"
	old.Tests = append(old.Tests, gone)
	first := issued(t, "first", old)
	first.Replaced = "second"
	w, err := report.Join("lathe-2", []report.RunIssue{issued(t, "second", newer), first}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(w.Tests) != 1 || w.Tests[0].Record != 2 || w.Tests[0].FoundIn != 1 || !w.Tests[0].Test.AsFound.Read || w.Tests[0].Test.Change != nil {
		t.Errorf("tests %+v", w.Tests)
	}
	if w.Records[0].Replaced != "second" || w.Records[1].Replaced != "" {
		t.Errorf("replaced by %q, %q", w.Records[0].Replaced, w.Records[1].Replaced)
	}
	want := []report.Missing{
		{Kind: report.MissNever, What: "Only the old procedure had it", Why: "the record that took the place of its own does not have it", Run: "first"},
		{Kind: report.MissCaution, What: "Acceptance", Why: "I-2 was used after its calibration had ended on 2026-10-03", Run: "second"},
	}
	if d := cmp.Diff(want, w.Missing); d != "" {
		t.Errorf("missing (-want +got):\n%s", d)
	}
}

// What was spoilt since counts as nothing, and no older value takes its place;
// a test that was left out measured nothing anew.
func TestJoinSpoiltCountsAsNothing(t *testing.T) {
	spoilt := later().SpoiltSince([]report.Spoilt{{Said: "run 9 moved the head", Time: "2026-12-10T08:00:00Z", Run: "9"}})
	w, err := report.Join("lathe-2", []report.RunIssue{issued(t, "a", reporttest.Tailstock()), issued(t, "b", spoilt)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if w.Spoilt != 1 || w.Counts.Pass != 0 || w.Counts.Agreed != 1 || !w.Tests[0].Spoilt || w.Tests[0].Record != 2 || w.Word != report.NotDecided {
		t.Errorf("%d spoilt, %+v, %+v", w.Spoilt, w.Counts, w.Tests[0])
	}
	left := later()
	left.Tests[0].Verdict, left.Tests[0].Found = report.NotApplied, nil
	if w, err = report.Join("lathe-2", []report.RunIssue{issued(t, "a", reporttest.Tailstock()), issued(t, "b", left)}, nil); err != nil {
		t.Fatal(err)
	}
	if w.Tests[0].Record != 1 || w.Counts.Pass != 1 {
		t.Errorf("of record %d, %+v; want the older one, which passed", w.Tests[0].Record, w.Counts)
	}
}
