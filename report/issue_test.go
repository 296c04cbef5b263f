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
