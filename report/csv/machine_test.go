package csv_test

import (
	"bytes"
	"testing"

	"waywright/report"
	"waywright/report/csv"
	"waywright/report/reporttest"
)

// What a machine's record lacks stands first; each row names run, record and
// digest.
func TestMachine(t *testing.T) {
	issue := func(run, replaced string, r report.Record) report.RunIssue {
		b, err := report.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		return report.RunIssue{Run: run, Replaced: replaced, Issue: report.Issue{Record: r, JSON: b}}
	}
	newer := reporttest.Tailstock()
	newer.Number, newer.Last.Time = "newer", "2026-12-03T12:00:00Z"
	newer.Tests[0].AsFound = report.AsFound{Said: "not read"}
	spoilt := reporttest.Bar().SpoiltSince([]report.Spoilt{{Said: "dropped", Time: "2026-12-10T08:00:00Z", Run: "x"}})
	w, err := report.Join("lathe-2", []report.RunIssue{issue("first", "second", reporttest.Tailstock()), issue("second", "", newer), issue("bar", "", spoilt)},
		[]report.Missing{{Kind: report.MissNever, What: "task bed of plan", Why: "it is not begun yet"}})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := csv.Machine(&b, w, csv.Options{}); err != nil {
		t.Fatal(err)
	}
	rows := sheet(t, b.String(), ',')
	if rows[0]["state"] != "spoilt_run" || rows[0]["run"] != "bar" || rows[0]["why"] == "" {
		t.Errorf("the first row is %v", rows[0])
	}
	var digest = map[string]string{}
	for _, j := range w.Records {
		digest[j.Run] = j.SHA256
	}
	states := map[string]int{}
	for _, r := range rows {
		states[r["state"]]++
		if r["machine_record"] != w.Number {
			t.Errorf("a row of %q", r["machine_record"])
		}
		if r["state"] == "holds" {
			for column, want := range map[string]string{
				"run": "second", "record": "newer", "record_sha256": digest["second"], "as_found_run": "first", "as_found_record_sha256": digest["first"],
				"as_found": "45.0", "as_left": "-1.0", "unit": "µm", "verdict": "PASS", "no": "6",
			} {
				if r[column] != want {
					t.Errorf("%s is %q, want %q", column, r[column], want)
				}
			}
		}
	}
	if states["holds"] != 1 || states["missing"] != 1 || states["spoilt"] == 0 || states["caution"] == 0 {
		t.Errorf("rows %v", states)
	}
}
