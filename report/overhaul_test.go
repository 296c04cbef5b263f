package report_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"waywright/report"
	"waywright/report/reporttest"
)

// What a run was begun for, and what has spoilt it, keep to the schema and
// come back as they were.
func TestOverhaulInTheRecord(t *testing.T) {
	r := reporttest.Tailstock()
	r.Overhaul, r.Task = "bench-lathe", "tailstock"
	r.OutOfOrder = &report.OutOfOrder{Against: []string{"it waits for headstock"}, Because: "the saddle is away"}
	r.Anew = &report.Anew{Since: "2026-11-20T00:00:00Z", Because: "came back worn"}
	r = r.SpoiltSince([]report.Spoilt{{Said: "the head was tilted", Time: "2026-12-01T08:00:00Z", Run: "headstock-align-lathe-2"}})
	b, err := report.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	s := compile(t)
	if err := validate(t, s, b); err != nil {
		t.Error(err)
	}
	got, err := report.Parse(b)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(r, got, cmpopts.EquateEmpty()); d != "" {
		t.Errorf("(−before +after)\n%s", d)
	}
	r.Spoilt[0].Time = "yesterday"
	if b, _ = report.Marshal(r); validate(t, s, b) == nil {
		t.Error("the schema lets a time pass that is none")
	}
}
