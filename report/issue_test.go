package report_test

import (
	"bytes"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
	"waywright/report"
)

func issue(t testing.TB, s *engine.State) report.Issue {
	t.Helper()
	i, err := report.NewIssue(s, func(int) string { return head }, s.Len())
	if err != nil {
		t.Fatal(err)
	}
	return i
}

// What is signed does not change by being signed: the record has the same bytes
// before the first signature, after it and after the last.
func TestSignaturesDoNotEnterTheSignedBytes(t *testing.T) {
	r := play(t, "tailstock")
	events := r.Events()
	seal := slices.IndexFunc(events, func(e engine.Event) bool { _, ok := e.Data.(engine.Sealed); return ok })
	if seal < 0 || len(events)-seal < 3 {
		t.Fatalf("a seal at %d of %d events; want one with two signatures behind it", seal, len(events))
	}
	fold := func(n int) *engine.State {
		s, err := engine.Fold(r.Plan, events[:n])
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	want := marshal(t, report.Build(fold(seal), head, seal))
	for n := seal + 1; n <= len(events); n++ {
		i := issue(t, fold(n))
		if !bytes.Equal(i.JSON, want) {
			t.Errorf("after event %d the sealed record is\n%s", n, cmp.Diff(string(want), string(i.JSON)))
		}
		all := n == len(events)
		if got := i.Shown().Outcome; got.Draft == all || (got.Word == report.Accepted) != all {
			t.Errorf("after event %d it is shown as %s, draft %v", n, got.Text, got.Draft)
		}
	}
	i := issue(t, r.State())
	list := report.SignaturesOf(r.State(), i)
	if len(list.Signatures) != 2 || len(list.Missing) != 0 || list.SHA256 != i.Digest() || list.Sealed.Entry != seal+1 {
		t.Errorf("signatures: %+v", list)
	}
	b, err := report.MarshalSignatures(list)
	if err != nil {
		t.Fatal(err)
	}
	back, err := report.ParseSignatures(b)
	if d := cmp.Diff(list, back); err != nil || !strings.Contains(string(b), `"missing": []`) || !cmp.Equal(list.Signatures, back.Signatures) {
		t.Errorf("signatures.json comes back as %v\n%s", err, d)
	}
}

// A sealed record is taken as it stands where its bytes are those of the seal,
// and reads as the one that the journal gives.
func TestSealedIssueIsThatOfTheJournal(t *testing.T) {
	events := slices.Clone(play(t, "tailstock").Events())
	plan := play(t, "tailstock").Plan
	seal := slices.IndexFunc(events, func(e engine.Event) bool { _, ok := e.Data.(engine.Sealed); return ok })
	fold := func(digest string) *engine.State {
		events[seal].Data = engine.Sealed{Digest: digest}
		s, err := engine.Fold(plan, events)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	want := issue(t, fold(""))
	got, ok := report.SealedIssue(fold(want.Digest()), want.JSON)
	if !ok || !got.Sealed || !bytes.Equal(marshal(t, got.Record), want.JSON) || got.Shown().Outcome.Word != report.Accepted {
		t.Errorf("taken as it stands: %t\n%s", ok, cmp.Diff(want.Signatures, got.Signatures))
	}
	other := bytes.Replace(want.JSON, []byte(`"pass"`), []byte(`"fail"`), 1)
	for what, ok := range map[string]bool{
		"other bytes":      is(report.SealedIssue(fold(want.Digest()), other)),
		"another seal":     is(report.SealedIssue(fold(strings.Repeat("0", 64)), want.JSON)),
		"no seal":          is(report.SealedIssue(engine.New(plan), want.JSON)),
		"nothing to stand": is(report.SealedIssue(fold(want.Digest()), nil)),
	} {
		if ok {
			t.Errorf("%s: taken for the sealed record", what)
		}
	}
}

func is(_ report.Issue, ok bool) bool { return ok }

// A record of the first form, with its signatures inside, stays readable.
func TestFirstFormStaysReadable(t *testing.T) {
	b, err := os.ReadFile("testdata/format-1.json")
	if err != nil {
		t.Fatal(err)
	}
	r, err := report.Parse(b)
	if err != nil {
		t.Fatal(err)
	}
	if again := marshal(t, r); !bytes.Equal(again, b) {
		t.Errorf("it is written again as\n%s", cmp.Diff(string(b), string(again)))
	}
	shown := report.Issue{Record: r, JSON: b}.Shown()
	if shown.Outcome.Draft || shown.Outcome.Word != report.Accepted || shown.Roles[1].Signed != "B. Osei" || shown.Roles[1].How != report.ByName {
		t.Errorf("it is shown as %+v, signed %+v", shown.Outcome, shown.Roles)
	}
}
