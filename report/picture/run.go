package picture

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"waywright/report"
	"waywright/report/draw"
)

// mostLanes is how many tests have a line of their own in a timeline.
const mostLanes = 12

// OfRun returns the pictures of a run as a whole.
func OfRun(r report.Record) []draw.Picture {
	if len(r.Sittings) == 0 {
		return nil
	}
	t := draw.Timeline{Title: "What happened when", Spans: "sittings"}
	for _, s := range r.Sittings {
		t.Sittings = append(t.Sittings, draw.Span{From: clock(s.From), To: clock(s.To), Text: fmt.Sprint(s.N)})
	}
	t.Lanes = append(t.Lanes, readLane(r), correctionLane(r))
	t.Lanes = append(t.Lanes, testLanes(r)...)
	t.Desc = "The sittings, and in them what was read, corrected and judged; time in which nothing happened is left out, and how much stands below. " +
		"Of readings a round mark counts, a ring was measured again, a cross could not be used; a triangle is a correction; of tests a round mark is PASS, a cross FAIL, a diamond CANNOT TELL."
	return []draw.Picture{called("timeline", t.Draw(), timeNumbers(r))}
}

// clock reads a time of a record; it is zero where it cannot be read.
func clock(s string) time.Time {
	t, err := time.Parse(time.RFC3339, s)
	if err != nil {
		return time.Time{}
	}
	return t.UTC()
}

func readLane(r report.Record) draw.Lane {
	l := draw.Lane{Name: "readings"}
	shapes := map[string]draw.Shape{"used": draw.Round, "stale": draw.Ring, "void": draw.Cross, "broken": draw.Cross}
	for _, rd := range r.Readings {
		if s, ok := shapes[rd.State]; ok {
			l.Events = append(l.Events, draw.Moment{At: clock(rd.From.Time), Shape: s})
		}
	}
	return l
}

// corrections are when corrections were reported, once each.
func corrections(r report.Record) []time.Time {
	var out []time.Time
	seen := map[int]bool{}
	for _, t := range r.Tests {
		for _, a := range t.Attempts {
			if a.Way == nil || a.Way.Correction == nil || a.Way.Correction.Reported == nil {
				continue
			}
			if at := *a.Way.Correction.Reported; !seen[at.Entry] {
				seen[at.Entry] = true
				out = append(out, clock(at.Time))
			}
		}
	}
	slices.SortStableFunc(out, func(a, b time.Time) int { return a.Compare(b) })
	return out
}

func correctionLane(r report.Record) draw.Lane {
	l := draw.Lane{Name: "corrections"}
	for _, at := range corrections(r) {
		l.Events = append(l.Events, draw.Moment{At: at, Shape: draw.Triangle})
	}
	return l
}

func judged(verdict string) bool {
	return slices.Contains([]string{report.Pass, report.Fail, report.Undecided}, verdict)
}

func testLanes(r report.Record) []draw.Lane {
	var out []draw.Lane
	all := draw.Lane{Name: "tests"}
	for _, t := range r.Tests {
		l := draw.Lane{Name: fmt.Sprintf("%d %s", t.No, t.Title)}
		for _, a := range t.Attempts {
			if judged(a.Verdict) {
				l.Events = append(l.Events, draw.Moment{At: clock(a.At.Time), Shape: shape(a.Verdict)})
			}
		}
		all.Events = append(all.Events, l.Events...)
		if len(l.Events) > 0 {
			out = append(out, l)
		}
	}
	if len(out) > mostLanes {
		return []draw.Lane{all}
	}
	return out
}

// timeNumbers are the sittings, with what was done in each.
func timeNumbers(r report.Record) draw.Numbers {
	n := draw.Numbers{Head: []string{"Sitting", "By", "From", "To", "Readings", "Corrections", "Verdicts"}}
	for _, s := range r.Sittings {
		from, to := clock(s.From), clock(s.To)
		in := func(t time.Time) bool { return !t.IsZero() && !t.Before(from) && !t.After(to) }
		readings, corrected := 0, 0
		for _, rd := range r.Readings {
			if rd.State != "unmeasured" && in(clock(rd.From.Time)) {
				readings++
			}
		}
		for _, at := range corrections(r) {
			if in(at) {
				corrected++
			}
		}
		n.Rows = append(n.Rows, []string{fmt.Sprint(s.N), s.Operator, hour(from), hour(to), fmt.Sprint(readings), fmt.Sprint(corrected), verdictsIn(r, in)})
	}
	return n
}

func verdictsIn(r report.Record, in func(time.Time) bool) string {
	counts := map[string]int{}
	var words []string
	for _, t := range r.Tests {
		for _, a := range t.Attempts {
			if judged(a.Verdict) && in(clock(a.At.Time)) {
				if counts[a.Word] == 0 {
					words = append(words, a.Word)
				}
				counts[a.Word]++
			}
		}
	}
	slices.Sort(words)
	for i, w := range words {
		words[i] = fmt.Sprintf("%d %s", counts[w], w)
	}
	return strings.Join(words, ", ")
}

func hour(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format("2 Jan 2006, 15:04")
}
