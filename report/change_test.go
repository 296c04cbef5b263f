package report_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"waywright/report"
)

// Each attempt is held against the one before, and what is left against what
// was found; what is printed says the same as the figures behind it.
func TestHonestDifferenceInTheRecord(t *testing.T) {
	shown, noise := 0, 0
	hold := func(where string, c *report.Change) {
		by, u := math.Abs(read(t, c.By.Text)), 0.0
		if c.U != nil {
			u = read(t, c.U.Text)
		}
		if c.Shown != (by > u) || c.Shown == strings.Contains(c.Said, "no difference shown") || !strings.Contains(c.Said, c.U.WithUnit()) {
			t.Errorf("%s: %+v", where, *c)
		}
		if c.Shown {
			shown++
		} else {
			noise++
		}
	}
	for _, name := range runs {
		for _, x := range build(t, name).Tests {
			var before *report.Attempt
			for i := range x.Attempts {
				a := &x.Attempts[i]
				if a.Found == nil || a.Found.Value == nil {
					continue
				}
				if (before != nil) != (a.Change != nil) {
					t.Errorf("%s, %s: attempt %d is held against another, or not: %v", name, x.Name, a.N, a.Change)
				} else if before != nil {
					hold(name+", "+x.Name, a.Change)
					if a.Change.Attempt != before.N {
						t.Errorf("%s, %s: attempt %d is held against %d, want %d", name, x.Name, a.N, a.Change.Attempt, before.N)
					}
				}
				before = a
			}
			if c := x.Change; c != nil {
				hold(name+", "+x.Name+" as left", c)
				first, last := x.Attempts[0], x.Attempts[len(x.Attempts)-1]
				if c.Where == "" && math.Abs(last.Found.Value.Value-first.Found.Value.Value-c.By.Value) > 1e-6 {
					t.Errorf("%s, %s: differs by %v, want %v less %v", name, x.Name, c.By.Value, last.Found.Value.Value, first.Found.Value.Value)
				}
			}
		}
	}
	if shown == 0 || noise == 0 {
		t.Errorf("%d differences shown and %d not: the runs hold nothing of one of them", shown, noise)
	}
}

func read(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.ReplaceAll(text, "−", "-"), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// The doubt of each value of a profile is that with which a gate judges it,
// where one does.
func TestDoubtOfAProfileIsThatOfItsGate(t *testing.T) {
	r := build(t, "lap-bar")
	compared := 0
	for _, test := range r.Tests {
		for _, name := range test.Working {
			for _, x := range r.Results {
				if x.Name != name || len(x.Profile) != len(test.Elements) || len(x.Profile) == 0 {
					continue
				}
				for i, p := range x.Profile {
					e := test.Elements[i]
					if p.U == nil || e.U == nil || math.Abs(p.U.Value-e.U.Value) > 0.05*e.U.Value { // each is rounded to figures of its own
						t.Errorf("%s at %s: %v, the gate has %v", name, p.At.WithUnit(), p.U, e.U)
					}
					compared++
				}
			}
		}
	}
	if compared == 0 {
		t.Error("nothing was compared")
	}
}
