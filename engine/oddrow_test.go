package engine_test

import (
	"slices"
	"strings"
	"testing"

	"waywright/engine"
	"waywright/engine/enginetest"
)

// Of a row the take is named that strays from the others, wherever it stands; two
// that differ name the later one, as nobody can tell (measure rules 2 and 20).
func TestMeasureRule20NamesTheTakeOfARowThatStrays(t *testing.T) {
	plan := fromLibrary(t, "lathe/tailstock-by-test-cut")
	for _, tt := range []struct {
		row string
		at  int // from 1; 0: nothing is odd
	}{
		{"20.011 20.012 20.011", 0},
		{"20.211 20.012 20.011", 1},
		{"20.011 20.212 20.011", 2},
		{"20.011 20.012 20.211", 3},
		{"20.011 mm 20.212 mm 20.011 mm", 2},
		{"20.011 20.111 20.211", 2}, // no two agree
		{"20.011 20.012 120.011", 3},
	} {
		r, err := enginetest.Begin(plan, engine.Begun{})
		if err != nil {
			t.Fatal(err)
		}
		at := toReading(t, r, "diameter.headstock_end")
		_, got := r.State().Reply(r.Clock, engine.Input{Text: tt.row})
		switch {
		case tt.at == 0 && got != nil:
			t.Errorf("%s at %s: %v", tt.row, at, got)
		case tt.at == 0:
		case got == nil || got.At != tt.at || !got.Keep:
			t.Errorf("%s: %+v, want value %d", tt.row, got, tt.at)
		case len(got.Row) != 3 || !strings.Contains(tt.row, got.Row[tt.at-1]):
			t.Errorf("%s: the row is %q", tt.row, got.Row)
		}
		if tt.at == 0 {
			continue
		}
		kept, ref := r.State().Reply(r.Clock, engine.Input{Text: tt.row, Reason: "it is so"})
		if ref != nil {
			t.Fatalf("%s, with a reason: %v", tt.row, ref)
		}
		if a := kept[0].(engine.Answered); len(a.Takes) != 3 || a.Odd == "" || a.Reason == "" {
			t.Errorf("%s: kept as %+v", tt.row, a)
		}
	}
}

// toReading answers what is asked before a reading, and returns its name.
func toReading(t *testing.T, r *enginetest.Runner, name string) string {
	t.Helper()
	said := map[string]string{"operator": "A. Fitter", "centres": "300", "span": "250", "length": "300", "instrument.micrometer": "none"}
	for range 40 {
		q := r.State().Next(r.Clock)
		if strings.HasPrefix(q.Name, name) && q.Kind == engine.AskReading {
			return q.Name
		}
		text, ok := said[q.Name]
		switch {
		case ok:
		case q.Kind == engine.AskWait:
			text = "stated"
		case slices.ContainsFunc(q.Choices, func(c engine.Choice) bool { return c.Word != "yes" && c.Word != "no" }):
			text = q.Choices[0].Word
		case q.Kind == engine.AskClear, q.Kind == engine.AskConfirm, q.Kind == engine.AskDone:
			text = "yes"
		case q.Kind == engine.AskInstrument:
			text = "none"
		case q.Range != nil:
			text = "300"
		}
		if _, ref, err := r.Say(engine.Input{Text: text, Reason: "so"}); ref != nil || err != nil {
			t.Fatalf("%s (%s) = %q: %v %v", q.Name, q.Kind, text, ref, err)
		}
	}
	t.Fatalf("%s is not asked", name)
	return ""
}

// A further take is held against those before it as well, where an undecided
// gate has asked for it: one that strays would leave the gate less certain than
// it was (measure rules 2, 16 and 20).
func TestMeasureRule20FurtherTakeThatStraysIsAskedAbout(t *testing.T) {
	r, err := enginetest.Begin(fromLibrary(t, "lathe/tailstock-by-test-cut"), engine.Begun{})
	if err != nil {
		t.Fatal(err)
	}
	toReading(t, r, "diameter.headstock_end")
	// 15 µm of taper, where 16.7 are allowed and a taper is known to 2.4.
	for _, text := range []string{"20.000 20.001 20.000", "20.015 20.016 20.015", "20.000", "again"} {
		if _, ref, err := r.Say(engine.Input{Text: text}); ref != nil || err != nil {
			t.Fatalf("%s: %v %v", text, ref, err)
		}
	}
	q := r.State().Next(r.Clock)
	if !q.Further || !strings.HasPrefix(q.Name, "diameter.headstock_end") {
		t.Fatalf("asked is %s, further %v; want a further take at the headstock end", q.Name, q.Further)
	}
	for _, tt := range []struct {
		take string
		odd  bool
	}{{"20.001", false}, {"19.998", false}, {"20.007", true}, {"19.993", true}} {
		_, got := r.State().Reply(r.Clock, engine.Input{Text: tt.take})
		switch {
		case (got != nil) != tt.odd:
			t.Errorf("%s: %+v, want odd %v", tt.take, got, tt.odd)
		case tt.odd && (got.Code != "spread" || !got.Keep):
			t.Errorf("%s: %+v, want a take that may be kept with a reason", tt.take, got)
		}
	}
}
