package compare_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/report"
	"waywright/report/compare"
)

// corrects makes a record the one that corrects another of the same day, whose
// lines up to 30 it took over.
func corrects(number string, more ...func(*report.Record)) func(*report.Record) {
	return func(r *report.Record) {
		r.Supersedes = &report.Supersedes{Number: number, Carried: 30, At: report.Stamp{Entry: 32}}
		r.Last.Entry, r.Last.Time = 40, "2025-03-02T12:00:00Z"
		for _, f := range more {
			f(r)
		}
	}
}

// A record that took over the readings of the one that it corrects is no second
// measurement: what the first left is not held against what both found before
// any work.
func TestTheSameReadingsDifferInNothing(t *testing.T) {
	first := said{day: "2025-03-01", y: 0.6, u: 1, found: 150}
	const number = "lathe-2-2025-03-01-1"
	measured := func(r *report.Record) {
		r.Readings = []report.Reading{{ID: "line#5", From: report.Stamp{Entry: 33}, To: report.Stamp{Entry: 35}}}
	}
	open := func(r *report.Record) { r.Tests[0].Found, r.Tests[0].Verdict = nil, "" }
	for _, tt := range []struct {
		name string
		next said
		word string
		want []string
	}{
		{"as it was", said{y: 0.6, u: 1, found: 150, change: corrects(number)}, compare.Same,
			[]string{"A as left to B as left: the same readings, taken over: the same value"}},
		{"put right", said{y: 0.8, u: 1, found: 150, change: corrects(number)}, compare.Same,
			[]string{"A as left to B as left: the same readings, taken over: put right by 0.2 µm (towards the operator)"}},
		{"corrected again, without the one between", said{y: 0.9, u: 1, found: 150, change: corrects("another")}, compare.Same,
			[]string{"A as left to B as left: the same readings, taken over: put right by 0.3 µm (towards the operator)"}},
		{"measured again", said{y: 0.8, u: 1, found: 150, change: corrects(number, measured)}, compare.NotShown,
			[]string{"A as left to B as left: no difference shown: changed by 0.2 µm, doubt 2.8 µm"}},
		{"not judged", said{y: 0.8, u: 1, found: 150, change: corrects(number, open)}, compare.NotCompared,
			[]string{"Not judged in B."}},
	} {
		tt.next.day = first.day
		c := of(t, first, tt.next)
		if got := c.Tests[0].Word(); got != tt.word {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.word)
		}
		if d := cmp.Diff(tt.want, told(c)); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, d)
		}
		if said := strings.Join(c.Runs[1].But, " "); tt.name == "put right" && said != "It corrects A, and has taken over the readings of it." {
			t.Errorf("%s: of B it says %q", tt.name, said)
		}
	}
}

// A value that was put right counts once in a drift, as it stands now: three
// records, of which one corrects another, are two runs.
func TestACorrectedRecordIsNoRunOfADrift(t *testing.T) {
	a, b, later := said{day: "2025-03-01", y: 1, u: 1}, said{day: "2025-03-01", y: 2, u: 1, change: corrects("lathe-2-2025-03-01-1")}, said{day: "2026-03-01", y: 3, u: 1}
	if c := of(t, a, b, later); len(c.Tests[0].Drifts) != 0 {
		t.Errorf("a drift of two runs: %+v", c.Tests[0].Drifts)
	}
	c := of(t, a, b, later, said{day: "2027-03-01", y: 4, u: 1})
	if d := c.Tests[0].Drifts; len(d) != 1 || d[0].Values != 3 || !strings.Contains(d[0].Said, "1.0 µm") {
		t.Errorf("1 µm a year over three runs, got %+v", d)
	}
}
