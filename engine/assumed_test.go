package engine_test

import (
	"math"
	"strings"
	"testing"

	"waywright/engine"
	"waywright/engine/enginetest"
)

// What no accepted run has may be agreed on, with its doubt; an accepted run that
// is there comes first (semantics rule 45).
func TestRule45Assumed(t *testing.T) {
	plan := fromLibrary(t, "lathe/lathe-acceptance")
	const name = "radius"
	whole := engine.Assumed{Name: name, Value: 3, Unit: "um", U: 1, Because: "the bar is new", Agreed: "Tom Acker"}
	fold := func(begun engine.Begun, d engine.Assumed) (*engine.State, error) {
		r, err := enginetest.Begin(plan, begun)
		if err != nil {
			t.Fatal(err)
		}
		ev := r.Events()[:1:1]
		return engine.Fold(plan, append(ev, engine.Event{N: 2, Time: enginetest.Start, Data: d}))
	}
	for _, tt := range []struct {
		name   string
		change func(*engine.Assumed)
		want   string
	}{
		{"it is asked", func(d *engine.Assumed) { d.Name = "bridge" }, "bridge is asked"},
		{"there is none", func(d *engine.Assumed) { d.Name = "no" }, `no "no"`},
		{"a unit of another kind", func(d *engine.Assumed) { d.Unit = "deg" }, "does not fit"},
		{"no unit", func(d *engine.Assumed) { d.Unit = "x" }, "x"},
		{"no reason", func(d *engine.Assumed) { d.Because = "" }, "without who agreed"},
		{"nobody agreed", func(d *engine.Assumed) { d.Agreed = "" }, "without who agreed"},
		{"no number", func(d *engine.Assumed) { d.Value = math.NaN() }, "cannot be assumed"},
		{"a doubt below nothing", func(d *engine.Assumed) { d.U = -1 }, "cannot be assumed"},
	} {
		d := whole
		tt.change(&d)
		if _, err := fold(engine.Begun{}, d); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v; want %q", tt.name, err, tt.want)
		}
	}
	offered := func(begun engine.Begun) engine.Question {
		s, err := fold(begun, whole)
		if err != nil {
			t.Fatal(err)
		}
		if s, err = s.With(engine.Event{N: 3, Time: enginetest.Start, Data: engine.Sat{Operator: "Ana"}}); err != nil {
			t.Fatal(err)
		}
		said := map[string]string{"grade": "normal", "bridge": "200", "span": "250", "bar_diameter": "30", "barrel": "100", "between": "300", "collars": "150"}
		for range 20 {
			q := s.Next(enginetest.Start)
			if q.Name == name {
				return q
			}
			data, ref := s.Reply(enginetest.Start, engine.Input{Name: q.Name, Text: said[q.Name]})
			if ref != nil {
				t.Fatalf("%s: %v", q.Name, ref)
			}
			for _, d := range data {
				if s, err = s.With(engine.Event{N: s.Len() + 1, Time: enginetest.Start, Data: d}); err != nil {
					t.Fatal(err)
				}
			}
		}
		t.Fatal("it is not asked")
		return engine.Question{}
	}
	if q := offered(engine.Begun{}); q.Offer == nil || !q.OfferOnly || math.Abs(q.Offer.Value-3e-3) > 1e-12 || math.Abs(q.Offer.U-1e-3) > 1e-12 || q.Offer.From != "an assumption agreed with Tom Acker" {
		t.Errorf("offered %+v", q.Offer)
	}
	run := engine.AcceptedValue{Name: "ref-test-bar.radius_difference", Value: -1, Unit: "um", U: 0.5, Run: "bar-1", Day: "2026-03-02"}
	if q := offered(engine.Begun{Accepted: []engine.AcceptedValue{run}}); q.Offer == nil || q.Offer.Run != "bar-1" || math.Abs(q.Offer.Value+1e-3) > 1e-12 {
		t.Errorf("with an accepted run offered %+v", q.Offer)
	}
}
