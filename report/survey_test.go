package report_test

import (
	"fmt"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
	"waywright/report"
)

// What is only noted is counted apart, and is nothing that was accepted
// (semantics rule 33).
func TestRule33NotedIsCountedApart(t *testing.T) {
	load := func(name string) (*engine.Plan, error) {
		l, diags := hclfile.Parse(hclfile.Source{FS: os.DirFS("../testdata/procedures/engine"), Path: name + ".hcl"})
		if diags.HasErrors() {
			return nil, fmt.Errorf("%s: %v", name, diags)
		}
		return engine.NewPlan(l.Procedure), nil
	}
	for _, tt := range []struct {
		name, answers, text string
		counts              report.Counts
		short               int
	}{
		{"a survey alone", "whole = no\nomit\nhigh = 90\nrust = none\n", "RECORDED AS FOUND", report.Counts{Noted: 2, NotApplied: 1}, 0},
		{"with a limit that is kept", "whole = yes\nomit\nhigh = 90\nrust = some\nfar.nudge = plus\nfar = 1\n", "ACCEPTED", report.Counts{Agreed: 1, Pass: 1, Noted: 2}, 0},
		{"with a limit that is not", "whole = yes\nomit\nhigh = 90\nrust = some\nfar.nudge = plus\nfar = 30\nend_level = concession because it is old\ninspector.decides = B\nend_level.concession = grant because so agreed\n",
			"ACCEPTED WITH 1 CONCESSION", report.Counts{Agreed: 1, Fail: 1, Conceded: 1, Noted: 2}, 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := enginetest.Play(t, "begin survey\n"+tt.answers, load)
			rec := report.Build(r.State(), head, r.State().Len())
			if rec.Outcome.Text != tt.text {
				t.Errorf("outcome %q, want %q", rec.Outcome.Text, tt.text)
			}
			if d := cmp.Diff(tt.counts, rec.Outcome.Counts); d != "" {
				t.Errorf("counts (−want +got):\n%s", d)
			}
			if got := len(rec.FallsShort()); got != tt.short {
				t.Errorf("%d tests fall short, want %d", got, tt.short)
			}
			if got := rec.AsFound(); len(got) != 2 || got[0].Verdict != report.Fail {
				t.Errorf("as found: %+v, want both noted tests, what is out first", got)
			}
		})
	}
}
