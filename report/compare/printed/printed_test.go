package printed_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/report"
	"waywright/report/compare"
	"waywright/report/compare/printed"
	"waywright/report/document"
	"waywright/report/html"
	"waywright/report/reporttest"
)

var update = flag.Bool("update", false, "write the golden files anew")

// years are the tailstock's record and what it might have been one and two
// years later; the bar's has nothing in common with them.
func years(t testing.TB) compare.Comparison {
	t.Helper()
	later := func(number, when string, y float64) compare.Input {
		r := reporttest.Tailstock()
		r.Number, r.Last.Time = number, when
		r.Journal.Head = strings.Repeat("ab", 32)
		found := *r.Tests[0].Found
		value := *found.Value
		value.Value = y
		value.Text = fmt.Sprintf("%g", y)
		found.Said = value.Text + " µm " + found.Positive
		found.Value = &value
		r.Tests[0].Found = &found
		as := append([]report.Attempt(nil), r.Tests[0].Attempts...)
		for i := range as {
			as[i].At.Time = when
		}
		r.Tests[0].Attempts = as
		return compare.Input{Name: number, Record: r}
	}
	c, err := compare.Of(
		compare.Input{Name: "first", Record: reporttest.Tailstock()},
		later("second", "2027-11-03T10:00:00Z", 4), later("third", "2028-11-03T10:00:00Z", 9),
		compare.Input{Name: "bar", Record: reporttest.Bar()})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestDocument(t *testing.T) {
	d, err := printed.Of(years(t))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := document.WritePlain(&b, d); err != nil {
		t.Fatal(err)
	}
	golden := filepath.Join("testdata", "years.golden.txt")
	if *update {
		if err := os.WriteFile(golden, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), b.String()); d != "" {
		t.Errorf("(−want +got)\n%s", d)
	}
}

// The page needs nothing else, says what differs before anything, and what a
// record holds of markup is text in it.
func TestPage(t *testing.T) {
	c := years(t)
	c.Tests[0].Title = `<script>alert("x")</script>`
	d, err := printed.Of(c)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := html.Render(&b, d); err != nil {
		t.Fatal(err)
	}
	s := b.String()
	for _, bad := range []string{"<script", "http://", "https://", "\u202e"} {
		if strings.Contains(strings.ReplaceAll(s, "http://www.w3.org/", ""), bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	if n := strings.Count(s, "<svg"); n == 0 {
		t.Error("the page has no picture")
	}
	for _, m := range regexp.MustCompile(`href="#([^"]*)"`).FindAllStringSubmatch(s, -1) {
		if !strings.Contains(s, `id="`+m[1]+`"`) {
			t.Errorf("a link leads to %q, which is not there", m[1])
		}
	}
	if differs, runs := strings.Index(s, "What differs"), strings.Index(s, "The runs that are compared"); differs < 0 || differs > runs {
		t.Errorf("what differs stands at %d, the runs at %d", differs, runs)
	}
}

// Over time there is one zone: where limits differ none is drawn, and what was
// found far off before it was corrected is left to the table; both are said.
func TestPicturesSayWhatTheyLeaveOut(t *testing.T) {
	number := func(x float64) *report.Number {
		return &report.Number{Value: x, Unit: "µm", Code: "um", Text: fmt.Sprint(x)}
	}
	value := func(run, at string, found, left, limit float64) compare.Value {
		entry := func(y float64) *compare.Entry {
			return &compare.Entry{At: at, Said: fmt.Sprint(y), Value: number(y), U: number(1), Verdict: report.Pass, Word: "PASS"}
		}
		return compare.Value{Run: run, State: compare.There, Worked: true, AsFound: entry(found), AsLeft: entry(left), Allowed: &report.Allowed{Upper: number(limit), Said: fmt.Sprint(limit)}}
	}
	caption := func(found, limit float64, limits string) string {
		c := compare.Comparison{
			Runs: []compare.Run{{Letter: "A", Machine: "lathe-2"}, {Letter: "B", Machine: "lathe-2"}},
			Tests: []compare.Test{{Title: "In line", Limits: limits, Values: []compare.Value{
				value("A", "2024-03-01T08:00:00Z", found, 1, 10), value("B", "2025-03-01T08:00:00Z", 5, 2, limit)}}},
		}
		d, err := printed.Of(c)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range d.Parts {
			for _, x := range p.Tests() {
				for _, b := range x.Blocks {
					if f, ok := b.(document.Figure); ok {
						return strings.TrimPrefix(f.Caption, "What was found in each run, with its doubt: In line.")
					}
				}
			}
		}
		return "no picture"
	}
	for _, tt := range []struct {
		found, limit float64
		limits, want string
	}{
		{9, 10, "", ""},
		{90, 10, "", " What was found before it was corrected lies too far off to be drawn; the table has it."},
		{9, 12, "The limits differ.", " The limits are not drawn, because they differ."},
	} {
		if got := caption(tt.found, tt.limit, tt.limits); got != tt.want {
			t.Errorf("found %v, limits 10 and %v: %q, want %q", tt.found, tt.limit, got, tt.want)
		}
	}
}
