package engine_test

import (
	"testing"
	"time"

	"waywright/engine"
	"waywright/procedures"
)

func TestPeriod(t *testing.T) {
	for d, want := range map[time.Duration]string{
		time.Second: "1 second", 90 * time.Second: "90 seconds", time.Minute: "1 minute", 90 * time.Minute: "90 minutes",
		2 * time.Hour: "2 hours", 24 * time.Hour: "1 day", 36 * time.Hour: "36 hours", 60 * 24 * time.Hour: "60 days",
		30*time.Minute + time.Nanosecond: "30 minutes", 0: "0s",
	} {
		if got := engine.Period(d); got != want {
			t.Errorf("Period(%v) = %q; want %q", d, got, want)
		}
	}
}

// What a step established is told with the reason for which it ended to hold,
// in the history too.
func TestRule32ExpiredSaysWhy(t *testing.T) {
	p, err := load("cooling")
	if err != nil {
		t.Fatal(err)
	}
	at := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	s := engine.New(engine.NewPlan(p.Procedure()))
	n := 0
	say := func(data ...engine.Data) {
		t.Helper()
		for _, d := range data {
			n++
			if s, err = s.With(engine.Event{N: n, Time: at, By: "A", Data: d}); err != nil {
				t.Fatal(err)
			}
		}
	}
	taken := func(name string) engine.Answered {
		return engine.Answered{Name: name, Takes: []engine.Taken{{Typed: "1", Value: 1, Unit: "um"}}}
	}
	say(engine.Begun{Procedure: "cooling", Machine: engine.Machine{ID: "m"}}, engine.Sat{Operator: "A"}, engine.Bound{Name: "comparator"},
		taken("ring"), engine.Cleared{Name: "warm.clear", Cautions: []string{"rotating"}, Spindle: "turning"}, engine.Waited{Name: "run", How: "over"})
	for _, tt := range []struct {
		after time.Duration
		want  string
	}{
		{30 * time.Minute, ""}, // it is good for so long
		{30*time.Minute + time.Second, "Warm the spindle: it is good for 30 minutes, and that was over 1 second ago"},
		{2 * time.Hour, "Warm the spindle: it is good for 30 minutes, and that was over 1 hour ago"},
	} {
		q := s.Next(at.Add(tt.after))
		if q.Expired != tt.want {
			t.Errorf("after %v: Expired = %q; want %q", tt.after, q.Expired, tt.want)
		}
		// It is asked as what it is: of its own step, with the spindle as that has it.
		if step := q.Step.Title; tt.want != "" && (step != "Warm the spindle" || q.Spindle != procedures.Turning) {
			t.Errorf("after %v: it stands in step %q, spindle %v; want its own step", tt.after, step, q.Spindle)
		}
	}
	at = at.Add(2 * time.Hour)
	say(engine.Waited{Name: "run", How: "over"})
	waits := s.Waits()
	if len(waits) != 2 || !waits[0].Stale || waits[1].Stale {
		t.Errorf("Waits() = %+v; want the old one stale, the new one not", waits)
	}
	if got := s.Next(at).Expired; got != "" {
		t.Errorf("warm again, it is still said: %q", got)
	}
}
