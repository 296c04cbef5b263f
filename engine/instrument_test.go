package engine_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
)

func TestMeasureRule13TooCoarseInstrument(t *testing.T) { scenario(t, "measure-13-coarse") }
func TestMeasureRule20UnsuitedInstrument(t *testing.T)  { scenario(t, "measure-20-instruments") }
func TestMeasureRule20ChangeOfInstrument(t *testing.T)  { scenario(t, "measure-20-changed") }

// A journal from before the register had ranges and certificates is read as it
// was, and one written now comes back whole.
func TestInstrumentEventsStayReadable(t *testing.T) {
	old := `{"name":"micrometer","id":"M-7","what":"outside micrometer","unit":"um","resolution":1,"error":4,"repeatability":1,"turn":500,"cert_u":1.6,"cert_k":2,"due":"2028-02-16","reason":"the only one"}`
	want := engine.Bound{Name: "micrometer", ID: "M-7", What: "outside micrometer", Unit: "um", Resolution: 1, Error: 4, Repeatability: 1, Turn: 500,
		CertU: 1.6, CertK: 2, Due: "2028-02-16", Reason: "the only one"}
	got, err := engine.Decode("instrument", []byte(old))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(engine.Data(want), got); d != "" {
		t.Errorf("an old line (−want +got):\n%s", d)
	}
	kind, line, err := engine.Encode(got)
	if err != nil || kind != "instrument" || string(line) != old {
		t.Errorf("it is written again as %s, %v", line, err)
	}
	want.Reads, want.Zero, want.HasZero, want.RepeatabilityDoF = []float64{0, 25000}, 0, true, 14
	want.Certificate, want.Calibrated, want.CalibratedBy, want.Maker, want.Serial = "K-1", "2026-02-16", "Halm Gauges", "Brook", "7"
	want.Odd = []engine.Oddity{{What: "coarse", Said: "Too coarse."}}
	_, line, err = engine.Encode(want)
	if err != nil {
		t.Fatal(err)
	}
	if got, err = engine.Decode("instrument", line); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(engine.Data(want), got); d != "" {
		t.Errorf("a new line (−want +got):\n%s", d)
	}
}
