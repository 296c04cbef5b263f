package html_test

import (
	"bytes"
	"strings"
	"testing"

	"waywright/report"
	"waywright/report/html"
	"waywright/report/reporttest"
)

// A record that was made again says on page one that it does not hold any
// more, and one begun out of order says so.
func TestPageOfAnOverhaul(t *testing.T) {
	r := reporttest.Tailstock()
	r.Overhaul, r.Task = "bench-lathe", "tailstock"
	r.OutOfOrder = &report.OutOfOrder{Against: []string{"it waits for headstock", "it waits until 2026-12-01"}, Because: "the saddle is <away>."}
	r.Anew = &report.Anew{Since: "2026-11-20T00:00:00Z", Because: "came back worn."}
	page := func(r report.Record) string {
		var b bytes.Buffer
		if err := html.Write(&b, r); err != nil {
			t.Fatal(err)
		}
		one, _, _ := strings.Cut(b.String(), `<nav `)
		return one
	}
	before, after := page(r), page(r.SpoiltSince([]report.Spoilt{
		{Said: `"Tilt the head" (run headstock-align-lathe-2, 2026-12-01) disturbs it`, Time: "2026-12-01T08:00:00Z", Run: "headstock-align-lathe-2"},
	}))
	for _, want := range []string{
		"bench-lathe, task tailstock",
		"The plan bench-lathe was begun anew with this run, from 20 November 2026 on. Because: came back worn.",
		"BEGUN OUT OF ORDER: it waits for headstock; it waits until 2026-12-01. Because: the saddle is &lt;away&gt;.",
	} {
		if !strings.Contains(before, want) || !strings.Contains(after, want) {
			t.Errorf("page one has no %q", want)
		}
	}
	for _, only := range []string{"IT DOES NOT HOLD ANY MORE", "Tilt the head", "It does not stand so any more."} {
		if strings.Contains(before, only) || !strings.Contains(after, only) {
			t.Errorf("%q belongs to what was spoilt since, and to nothing else", only)
		}
	}
}
