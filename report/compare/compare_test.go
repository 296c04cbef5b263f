package compare_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"waywright/report"
	"waywright/report/compare"
	"waywright/report/reporttest"
)

// One of a story: the set-over of a tailstock on lathe-2, over years.
type said struct {
	machine, day string
	y, u         float64 // µm; u = 0: none is stated
	dof          float64
	found        float64 // as found, where it was corrected; 0: as left
	limit        float64
	change       func(*report.Record)
}

const digest = "1111111111111111111111111111111111111111111111111111111111111111"

func micro(x float64) *report.Number {
	return &report.Number{Value: x, Unit: "µm", Code: "um", Text: strings.ReplaceAll(fmt.Sprintf("%.1f", x), "-", "−")}
}

func finding(y, u, dof float64) *report.Finding {
	f := &report.Finding{Value: micro(y), Said: fmt.Sprintf("%.1f µm", y), Positive: "towards the operator", Negative: "away from the operator", Exact: u == 0}
	if u > 0 {
		f.U, f.K = micro(2*u), 2
		if !math.IsInf(dof, 0) {
			f.DoF = dof
		}
	}
	return f
}

func record(n int, s said) compare.Input {
	if s.machine == "" {
		s.machine = "lathe-2"
	}
	if s.limit == 0 {
		s.limit = 13
	}
	if s.dof == 0 {
		s.dof = math.Inf(1)
	}
	at := func(entry int, hour int) report.Stamp {
		return report.Stamp{Entry: entry, Time: fmt.Sprintf("%sT%02d:00:00Z", s.day, hour)}
	}
	allowed := report.Allowed{Lower: micro(-s.limit), Upper: micro(s.limit), Said: fmt.Sprintf("up to %.0f µm, either way", s.limit)}
	left := finding(s.y, s.u, s.dof)
	t := report.Test{
		No: 1, Name: "in_line", Title: "Tailstock in line", Of: "result.offset", Verdict: report.Pass, Word: "PASS", Found: left, Allowed: allowed,
		Working: []string{"offset"}, Givens: []string{"span"}, Instruments: []string{"indicator#3"}, Readings: []string{"line#5"},
	}
	first := report.Attempt{N: 1, At: at(10, 8), AsFound: true, Verdict: report.Pass, Word: "PASS", Found: left, Allowed: allowed, Instruments: t.Instruments, Stands: true}
	t.AsFound = report.AsFound{Read: true, Said: left.Said, Found: left, Verdict: report.Pass, Word: "PASS"}
	t.Attempts = []report.Attempt{first}
	if s.found != 0 {
		before := finding(s.found, s.u, s.dof)
		reported := at(12, 9)
		first.Found, first.Stands, first.Verdict, first.Word = before, false, report.Fail, "FAIL"
		first.Way = &report.Way{Name: "set_over", Correction: &report.Correction{Name: "set_over", Reported: &reported}}
		t.AsFound = report.AsFound{Read: true, Said: before.Said, Found: before, Verdict: report.Fail, Word: "FAIL"}
		t.Attempts = []report.Attempt{first, {N: 2, At: at(20, 10), Verdict: report.Pass, Word: "PASS", Found: left, Allowed: allowed, Stands: true}}
	}
	r := report.Record{
		Format: report.Format, Number: fmt.Sprintf("%s-%s-%d", s.machine, s.day, n), Title: "Tailstock in line",
		Outcome:   report.Outcome{Word: report.Accepted, Text: "ACCEPTED"},
		Procedure: report.Procedure{Name: "tailstock", Revision: "1", Digest: digest},
		Machine:   report.Machine{ID: s.machine, Class: "centre lathe"},
		Journal:   report.Journal{Head: fmt.Sprintf("%064x", n)},
		Begun:     at(1, 7), Last: at(30, 12),
		Givens:      []report.Given{{Name: "span", Text: "240 mm", Number: &report.Number{Value: 240, Unit: "mm", Code: "mm", Text: "240"}}},
		Instruments: []report.Instrument{{ID: "indicator#3", Name: "indicator", Kind: "dial indicator", Number: fmt.Sprintf("I-%d", n)}},
		Results:     []report.Result{{Name: "offset", Formula: "reading.far - reading.near"}},
		Tests:       []report.Test{t},
	}
	if s.change != nil {
		s.change(&r)
	}
	return compare.Input{Name: fmt.Sprintf("run-%d", n), Record: r}
}

func of(t testing.TB, says ...said) compare.Comparison {
	t.Helper()
	var in []compare.Input
	for i, s := range says {
		in = append(in, record(i+1, s))
	}
	c, err := compare.Of(in...)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// told is a comparison's differences in short.
func told(c compare.Comparison) (out []string) {
	for _, t := range c.Tests {
		for _, d := range t.Differences {
			out = append(out, fmt.Sprintf("%s to %s: %s", d.From, d.To, d.Said))
		}
		for _, d := range t.Drifts {
			out = append(out, "drift of "+d.Machine+": "+d.Said)
		}
		out = append(out, t.Cannot...)
		if t.Limits != "" {
			out = append(out, t.Limits)
		}
		out = append(out, t.Notes...)
	}
	return out
}

func TestDifferences(t *testing.T) {
	for _, tt := range []struct {
		name string
		says []said
		want []string
	}{
		{"before and after", []said{{day: "2025-03-01", y: 9, u: 1}, {day: "2025-03-09", y: 2, u: 1}},
			[]string{"A as left to B as left: differs by 7.0 µm (away from the operator), give or take 2.8 µm"}},
		{"given in the other order", []said{{day: "2025-03-09", y: 2, u: 1}, {day: "2025-03-01", y: 9, u: 1}},
			[]string{"A as left to B as left: differs by 7.0 µm (away from the operator), give or take 2.8 µm"}},
		{"not more than its doubt", []said{{day: "2025-03-01", y: 2.7, u: 1}, {day: "2025-03-09", y: 0, u: 1}},
			[]string{"A as left to B as left: no difference shown: changed by 2.7 µm, doubt 2.8 µm"}},
		// t(0.975, 4) = 2.776, Table G.2 of JCGM 100:2008; two alike have 8: 2.306.
		{"few degrees of freedom", []said{{day: "2025-03-01", y: 3.2, u: 1, dof: 4}, {day: "2025-03-09", y: 0, u: 1, dof: 4}},
			[]string{"A as left to B as left: no difference shown: changed by 3.2 µm, doubt 3.3 µm"}},
		{"what a year did is told from what the work did", []said{{day: "2024-03-01", y: 1, u: 1}, {day: "2025-03-01", found: 9, y: 0, u: 1}},
			[]string{
				"A as left to B as found: differs by 8.0 µm (towards the operator), give or take 2.8 µm",
				"A as left to B as left: no difference shown: changed by 1.0 µm, doubt 2.8 µm",
			}},
		{"what is worked on is held against what stood before", []said{{day: "2024-03-01", y: 1, u: 1}, {day: "2025-03-01", found: 9, y: 0, u: 1, change: func(r *report.Record) {
			r.Tests[0].Found, r.Tests[0].Verdict, r.Tests[0].Attempts = nil, report.Open, r.Tests[0].Attempts[:1]
		}}}, []string{"A as left to B as found: differs by 8.0 µm (towards the operator), give or take 2.8 µm", "Not judged in B."}},
		{"two machines stay as they were given", []said{{machine: "lathe-9", day: "2025-03-09", y: 2, u: 1}, {day: "2025-03-01", found: 40, y: 9, u: 1}},
			[]string{"A as left to B as left: differs by 7.0 µm (towards the operator), give or take 2.8 µm"}},
		{"other limits", []said{{day: "2025-03-01", y: 1, u: 1}, {day: "2025-03-09", y: 1, u: 1, limit: 20}},
			[]string{"A as left to B as left: no difference shown: changed by 0.0 µm, doubt 2.8 µm", "The limits differ: A up to 13 µm, either way; B up to 20 µm, either way."}},
		{"no doubt stated", []said{{day: "2025-03-01", y: 1}, {day: "2025-03-09", y: 1.5, u: 1}},
			[]string{"A as left to B as left: no difference shown: changed by 0.5 µm, doubt 2.0 µm", "No doubt is stated for A as left: it counts as exact."}},
		{"an inch run", []said{{day: "2025-03-01", y: 9, u: 1}, {day: "2025-03-09", y: 2, u: 1, change: func(r *report.Record) {
			f := r.Tests[0].Found
			f.Value = &report.Number{Value: 2 / 25.4, Unit: "thou", Code: "[mil_i]", Text: "0.079"}
			f.U = &report.Number{Value: 2 / 25.4, Unit: "thou", Code: "[mil_i]", Text: "0.079"}
		}}}, []string{"A as left to B as left: differs by 7.0 µm (away from the operator), give or take 2.8 µm"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if d := cmp.Diff(tt.want, told(of(t, tt.says...))); d != "" {
				t.Errorf("(−want +got)\n%s", d)
			}
		})
	}
}

func TestWhatCannotBeCompared(t *testing.T) {
	for _, tt := range []struct {
		name   string
		change func(*report.Record)
		want   []string
	}{
		{"another formula", func(r *report.Record) {
			r.Procedure.Digest, r.Procedure.Revision, r.Results[0].Formula = "22", "2", "(reading.far - reading.near) / 2"
		}, []string{"offset is worked out in another way: reading.far - reading.near in A, (reading.far - reading.near) / 2 in B."}},
		{"something else is judged", func(r *report.Record) { r.Procedure.Digest, r.Tests[0].Of = "22", "abs(result.offset)" },
			[]string{"It is worked out in another way: result.offset in A, abs(result.offset) in B."}},
		{"another revision, the same formula", func(r *report.Record) { r.Procedure.Digest, r.Procedure.Revision = "22", "2" },
			[]string{"A as left to B as left: no difference shown: changed by 1.0 µm, doubt 2.8 µm", "The procedure's files changed between A and B, revision 1 and revision 2; what this test is worked out from reads the same."}},
		{"another length", func(r *report.Record) { r.Givens[0].Text, r.Givens[0].Number.Value = "200 mm", 200 },
			[]string{"Not measured alike: span is 240 mm in A, 200 mm in B."}},
		{"a length that hardly differs", func(r *report.Record) { r.Givens[0].Text, r.Givens[0].Number.Value = "241 mm", 241 },
			[]string{"A as left to B as left: no difference shown: changed by 1.0 µm, doubt 2.8 µm"}},
		{"another kind of value", func(r *report.Record) {
			f := r.Tests[0].Found
			f.Value.Unit, f.Value.Code, f.U.Unit, f.U.Code = "″", "''", "″", "''"
		}, []string{"A and B are not of one kind: µm in A, ″ in B."}},
		{"a unit of nobody", func(r *report.Record) { r.Tests[0].Found.Value.Unit, r.Tests[0].Found.Value.Code = "el", "el" },
			[]string{"B as left: no number that can be compared (2.0 µm)."}},
		{"plus the other way", func(r *report.Record) { r.Tests[0].Found.Positive = "away from the operator" },
			[]string{"Plus does not mean the same: “towards the operator” in A, “away from the operator” in B."}},
		{"not measured", func(r *report.Record) {
			t := &r.Tests[0]
			t.Found, t.Verdict, t.Word, t.Why, t.Attempts, t.AsFound = nil, report.NotMeasured, "NOT MEASURED", "boss in the way", nil, report.AsFound{Said: "not read"}
		}, []string{"Not measured in B: boss in the way."}},
		{"no such test", func(r *report.Record) { r.Tests[0].Name = "other" }, []string{"B has no such test.", "A has no such test."}},
		{"no number", func(r *report.Record) {
			r.Tests[0].Found = &report.Finding{Said: "it is so", Holds: "yes", Exact: true}
		}, []string{"It asks whether something is so, and has no number to compare."}},
		{"one name for other records, another procedure", func(r *report.Record) { r.Tests[0].Name, r.Procedure.Name = "other", "survey" },
			[]string{"B has no such test.", "A has no such test."}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := told(of(t, said{day: "2025-03-01", y: 1, u: 1}, said{day: "2025-03-09", y: 2, u: 1, change: tt.change}))
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Errorf("(−want +got)\n%s", d)
			}
		})
	}
}

// A test that other records know by name is one test in two procedures.
func TestLastingNames(t *testing.T) {
	lasting := func(name, procedure string) func(*report.Record) {
		return func(r *report.Record) {
			r.Tests[0].Name, r.Tests[0].Lasting, r.Procedure.Name = name, "tailstock-line", procedure
		}
	}
	got := told(of(t, said{day: "2025-03-01", y: 1, u: 1, change: lasting("in_line", "tailstock")}, said{day: "2025-03-09", y: 2, u: 1, change: lasting("other", "survey")}))
	want := []string{
		"A as left to B as left: no difference shown: changed by 1.0 µm, doubt 2.8 µm",
		"A and B are of two procedures, tailstock and survey; the test has one name in both.",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(−want +got)\n%s", d)
	}
}

// What one instrument errs by in both is counted in full: its doubt is rather
// too large, and that is said. Where it is known to work the opposite way in
// the two, what it gives is added up: (1 + 1) µm here, 1.96 · 2 µm.
func TestOneInstrumentInBoth(t *testing.T) {
	with := func(sensitivity float64, certificate string) func(*report.Record) {
		return func(r *report.Record) {
			i := &r.Instruments[0]
			i.Number, i.CertificateNo = "I-7", certificate
			r.Tests[0].Doubt = []report.Doubt{{Source: "I-7, its own error", U: *micro(1), Share: 1, Sensitivity: sensitivity}}
		}
	}
	for _, tt := range []struct {
		first, second func(*report.Record)
		u             string
		shared        []string
	}{
		{with(1, "K-1"), with(1, "K-1"), "2.8", []string{"I-7"}},
		{with(1, "K-1"), with(-1, "K-1"), "3.9", []string{"I-7"}},
		{with(1, "K-1"), with(-1, "K-2"), "2.8", nil},
	} {
		c := of(t, said{day: "2025-03-01", y: 1, u: 1, change: tt.first}, said{day: "2025-03-09", y: 2, u: 1, change: tt.second})
		d := c.Tests[0].Differences[0]
		if diff := cmp.Diff(tt.shared, d.Shared); d.U.Text != tt.u || diff != "" {
			t.Errorf("U = %s, want %s; shared (−want +got) %s", d.U.Text, tt.u, diff)
		}
	}
}

// Values that cannot be negative are read too large by what their errors make
// of them (measure rule 15): where those are not alike, the difference may be
// nothing else.
func TestMeasureRule15BiasIsNoDifference(t *testing.T) {
	drawn := func(bias float64) func(*report.Record) {
		return func(r *report.Record) { r.Tests[0].Method = &report.Method{Name: "drawn", Bias: micro(bias)} }
	}
	for _, tt := range []struct {
		bias  float64
		shown bool
	}{{0.5, true}, {3, false}} {
		c := of(t, said{day: "2025-03-01", y: 1, u: 1, change: drawn(0.5)}, said{day: "2025-03-09", y: 5, u: 1, change: drawn(tt.bias)})
		if d := c.Tests[0].Differences[0]; d.Shown != tt.shown {
			t.Errorf("bias %v and 0.5: %s; want shown %v", tt.bias, d.Said, tt.shown)
		}
	}
}

// Places are held against themselves, and the widest of many is told.
func TestManyPlaces(t *testing.T) {
	profile := func(ys ...float64) func(*report.Record) {
		return func(r *report.Record) {
			t := &r.Tests[0]
			for i, y := range ys {
				e := report.Element{At: &report.Number{Value: float64(100 * i), Unit: "mm", Code: "mm", Text: fmt.Sprint(100 * i)}, Value: *micro(y), U: micro(2)}
				t.Elements = append(t.Elements, e)
			}
			t.Attempts[0].Elements = t.Elements
		}
	}
	got := told(of(t, said{day: "2025-03-01", y: 1, u: 1, change: profile(0, 1, 0)}, said{day: "2025-03-09", y: 8, u: 1, change: profile(1, -3, 8, 4)}))
	want := []string{
		"A as left to B as left: at 200 mm: differs by 8.0 µm (towards the operator), give or take 3.4 µm, for looking at 3 places",
		"A and B have 3 places in common, of 3 and 4.",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(−want +got)\n%s", d)
	}
}

// The drift of a profile is that of the place that drifts most for its doubt:
// 5 µm a year at 100 mm, u 1/√2 µm a year, t(0.9915) = 2.388.
func TestDriftOfManyPlaces(t *testing.T) {
	profile := func(ys ...float64) func(*report.Record) {
		return func(r *report.Record) {
			for i, y := range ys {
				r.Tests[0].Elements = append(r.Tests[0].Elements, report.Element{Key: fmt.Sprint(i), Value: *micro(y), U: micro(2)})
			}
			r.Tests[0].Attempts[0].Elements = r.Tests[0].Elements
		}
	}
	c := of(t, said{day: "2023-03-01", y: 1, u: 1, change: profile(0, 1, 0)}, said{day: "2024-02-29", y: 1, u: 1, change: profile(0, 6, 1)}, said{day: "2025-02-28", y: 1, u: 1, change: profile(1, 11, 2)})
	want := "at 1: 5.0 µm a year (towards the operator), give or take 1.7 µm a year, for looking at 3 places; 3 values over 2.0 years"
	if got := c.Tests[0].Drifts[0].Said; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestDrift(t *testing.T) {
	for _, tt := range []struct {
		name string
		says []said
		want string
	}{
		{"two are too few", []said{{day: "2023-03-01", y: 1, u: 1}, {day: "2024-03-01", y: 9, u: 1}}, ""},
		{"three in a line", []said{{day: "2023-03-01", y: 0, u: 1}, {day: "2024-02-29", y: 5, u: 1}, {day: "2025-02-28", y: 10, u: 1}},
			"drift of lathe-2: 5.0 µm a year (towards the operator), give or take 1.4 µm a year; 3 values over 2.0 years"},
		{"not more than its doubt", []said{{day: "2023-03-01", y: 0, u: 1}, {day: "2024-02-29", y: 1, u: 1}, {day: "2025-02-28", y: 2, u: 1}},
			"drift of lathe-2: no drift shown: 1.0 µm a year, doubt 1.4 µm a year; 3 values over 2.0 years"},
		{"corrected each time", []said{{day: "2023-03-01", y: 0, u: 1}, {day: "2024-02-29", found: 5, y: 0.2, u: 1}, {day: "2025-02-28", found: 5.2, y: -0.1, u: 1}},
			"drift of lathe-2: 5.0 µm a year (towards the operator), give or take 2.0 µm a year; 4 values over 2.0 years, what was corrected taken out"},
		{"further from a line than the doubts", []said{{day: "2023-03-01", y: 0, u: 1}, {day: "2024-02-29", y: 30, u: 1}, {day: "2025-02-28", y: 20, u: 1}},
			"drift of lathe-2: no drift shown: 10 µm a year, doubt 150 µm a year; 3 values over 2.0 years; they lie further from a line than their doubts explain, and the doubt here is from that"},
		{"one day", []said{{day: "2023-03-01", y: 0, u: 1}, {day: "2023-03-01", y: 30, u: 1}, {day: "2023-03-01", y: 20, u: 1}},
			"drift of lathe-2: no drift can be told: all within a day"},
		{"another formula is left out", []said{{day: "2022-03-01", y: 90, u: 1, change: func(r *report.Record) { r.Procedure.Digest, r.Results[0].Formula = "2", "x" }},
			{day: "2023-03-01", y: 0, u: 1}, {day: "2024-02-29", y: 5, u: 1}, {day: "2025-02-28", y: 10, u: 1}},
			"drift of lathe-2: 5.0 µm a year (towards the operator), give or take 1.4 µm a year; 3 values over 2.0 years"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := ""
			for _, s := range told(of(t, tt.says...)) {
				if strings.HasPrefix(s, "drift") {
					got = s
				}
			}
			if got != tt.want {
				t.Errorf("got  %s\nwant %s", got, tt.want)
			}
		})
	}
}

func TestOfRefuses(t *testing.T) {
	one := record(1, said{day: "2025-03-01", y: 1, u: 1})
	if _, err := compare.Of(one); !errors.Is(err, compare.ErrTooFew) {
		t.Errorf("one record: %v", err)
	}
	if _, err := compare.Of(one, one); !errors.Is(err, compare.ErrSame) || !strings.Contains(err.Error(), "run-1") {
		t.Errorf("one record twice: %v", err)
	}
}

// Records made by hand, of which most have nothing in common, and empty ones.
func TestAnyRecords(t *testing.T) {
	in := []compare.Input{{"tailstock", reporttest.Tailstock()}, {"bar", reporttest.Bar()}, {"empty", report.Record{Number: "x"}}, {"other", report.Record{Tests: make([]report.Test, 3)}}}
	c, err := compare.Of(in...)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := compare.Marshal(c); err != nil {
		t.Error(err)
	}
	if len(c.Runs) != 4 || c.Runs[3].Letter != "D" {
		t.Errorf("runs %v", c.Runs)
	}
	later := reporttest.Bar()
	later.Number, later.Last.Time = "later", time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC).Format(time.RFC3339)
	if c, err = compare.Of(in[1], compare.Input{Name: "later", Record: later}); err != nil {
		t.Fatal(err)
	}
	// What the later run found at 100 mm, 2.4 µm, against what the earlier left
	// there, 0.7 µm: t(0.9949, 26) = 2.78 times √2·0.5/2.16.
	want := "at 100 mm: differs by 1.70 µm (fat), give or take 0.91 µm, for looking at 5 places"
	if got := c.Tests[0].Differences[0].Said; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}
