package engine

import (
	"testing"
	"time"

	"waywright/procedures"
)

// Journals from before it was asked about: an overdue calibration is said when
// the instrument is named; one that ends on the day itself is not overdue.
func TestMeasureRule20OverdueInstrument(t *testing.T) {
	s := New(NewPlan(&procedures.Procedure{}))
	at := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	for due, want := range map[string]string{
		"2026-03-01": "Instrument gauge: L-2. Kept. Its calibration ended 2026-03-01. The record says so.",
		"2026-03-02": "Instrument gauge: L-2. Kept.",
		"":           "Instrument gauge: L-2. Kept.",
	} {
		got := s.kept(s, Event{Time: at, Data: Bound{Name: "gauge", ID: "L-2", Due: due}})
		if len(got) != 1 || got[0].Text != want {
			t.Errorf("due %q: %v, want %q", due, got, want)
		}
	}
}
