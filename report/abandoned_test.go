package report_test

import (
	"strings"
	"testing"

	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/report"
)

// The record of a run that was abandoned says so, with who and why, and decides
// nothing; a name that was put right stands in it with the one before.
func TestRecordOfAnAbandonedRun(t *testing.T) {
	plan, err := load("tailstock-by-test-cut")
	if err != nil {
		t.Fatal(err)
	}
	r, err := enginetest.Begin(plan, engine.Begun{Machine: engine.Machine{ID: "lathe-2"}})
	if err != nil {
		t.Fatal(err)
	}
	for _, in := range []engine.Input{
		{Text: "300"},
		{Verb: engine.Amend, Name: "operator", Text: "Tom Acker", Reason: "mistyped"},
		{Verb: engine.Note, Text: "a slip"},
		{Verb: engine.Back},
		{Verb: engine.Abandon, Reason: "the lathe was sold"},
	} {
		if _, ref, err := r.Say(in); ref != nil || err != nil {
			t.Fatalf("%+v: %v %v", in, ref, err)
		}
	}
	i, err := report.NewIssue(r.State(), func(int) string { return head }, r.State().Len())
	if err != nil {
		t.Fatal(err)
	}
	if err := validate(t, compile(t), i.JSON); err != nil {
		t.Error(err)
	}
	o := i.Record.Outcome
	if o.Word != report.Abandoned || o.Text != "ABANDONED" || !o.Draft || o.Reason != "the lathe was sold" || o.By == nil || o.By.By != "Tom Acker" || len(o.Open) > 0 {
		t.Errorf("outcome %+v", o)
	}
	if a := i.Record.Amendments; len(a) != 1 || a[0].From != "A. Fitter" || a[0].To != "Tom Acker" || !strings.Contains(a[0].Title, "sitting 1") {
		t.Errorf("amendments %+v", a)
	}
	if s := i.Record.Sittings; len(s) != 1 || s[0].Operator != "Tom Acker" {
		t.Errorf("sittings %+v", s)
	}
	if g := i.Record.Givens; len(g) == 0 || g[0].At.By != "Tom Acker" {
		t.Errorf("answers %+v", g)
	}
	if w := i.Record.Withdrawals; len(w) != 1 || w[0].Said != "a slip" || len(i.Record.Notes) != 0 {
		t.Errorf("taken back %+v, notes %+v", w, i.Record.Notes)
	}
}
