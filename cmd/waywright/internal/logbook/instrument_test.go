package logbook

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
)

// All that the shop knows of an instrument goes into the register, and from
// there into the run, in the unit that it was written in.
func TestInstrumentFromQuestionsToRun(t *testing.T) {
	b := made(t)
	err := b.AddInstrument(NewInstrument{
		ID: "M-9", Kind: "outside micrometer", Range: "1 to 2 inch", Takes: "15", Coverage: "2,13", Certificate: "K-0611",
		Calibrated: "2026-02-16", CalibratedBy: "the county gauge room", Due: "2027-02-16", Maker: "Brook and Sons", Serial: "44120",
		Sizes:   []NewSize{{"resolution", "0.0001 inch"}, {"error", "0.00015 inch"}, {"zero", "0 inch"}, {"repeatability", "1.27 um"}, {"uncertainty", "0.05 thou"}},
		History: "2026-01-20 dropped, then set again, by Anna Brook; 2024-06-01 bought new",
	})
	if err != nil {
		t.Fatal(err)
	}
	real, err := b.Instruments()
	if err != nil || len(real) != 1 {
		t.Fatalf("Instruments = %v, %v; want one", real, err)
	}
	h := real[0].History
	if len(h) != 2 || h[0].What != "bought new" || h[1].What != "dropped, then set again" || h[1].By != "Anna Brook" {
		t.Errorf("history is %+v", h)
	}
	want := engine.Bound{
		Name: "mic", ID: "M-9", What: "outside micrometer", Unit: "inch", Reads: []float64{1, 2}, Resolution: 0.0001, Error: 0.00015,
		HasZero: true, Repeatability: 0.00005, RepeatabilityDoF: 14, CertU: 0.00005, CertK: 2.13, Certificate: "K-0611",
		Calibrated: "2026-02-16", CalibratedBy: "the county gauge room", Due: "2027-02-16", Maker: "Brook and Sons", Serial: "44120",
	}
	if d := cmp.Diff(want, Bound("mic", real[0])); d != "" {
		t.Errorf("Bound (-want +got):\n%s", d)
	}
}

// What cannot be entered leaves the register as it was.
func TestInstrumentRefused(t *testing.T) {
	b := made(t)
	before, err := os.ReadFile(filepath.Join(b.Dir, "instruments.hcl"))
	if err != nil {
		t.Fatal(err)
	}
	sizes := []NewSize{{"resolution", "1um"}}
	for want, in := range map[string]NewInstrument{
		"does not say from where to where": {Range: "25 mm"},
		"has no unit":                      {Range: "0 to 25"},
		"lower end stands first":           {Range: "25 to 0 mm"},
		"range: ":                          {Range: "0 to 25 mm to 50 mm"},
		"the factor k is a number":         {Coverage: "0.5", Sizes: []NewSize{{"resolution", "1um"}, {"uncertainty", "1um"}}},
		"coverage belongs to":              {Coverage: "2"},
		"how many takes":                   {Takes: "1"},
		"there is no repeatability":        {Takes: "5"},
		"write the day and what was done":  {History: "last spring, a fall"},
	} {
		in.ID, in.Kind = "M-1", "micrometer"
		if in.Sizes == nil {
			in.Sizes = sizes
		}
		if err := b.AddInstrument(in); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("AddInstrument(%+v) = %v; want %q", in, err, want)
		}
	}
	after, err := os.ReadFile(filepath.Join(b.Dir, "instruments.hcl"))
	if err != nil || string(after) != string(before) {
		t.Errorf("the register has changed (%v):\n%s", err, after)
	}
}

func TestSpanText(t *testing.T) {
	for typed, want := range map[string]string{
		"0 to 25 mm": "[mm(0), mm(25)]", "0-25mm": "[mm(0), mm(25)]", "25 – 50 mm": "[mm(25), mm(50)]", "0..1 inch": "[inch(0), inch(1)]",
		"-0.1 to 0.1 mm": "[mm(-0.1), mm(0.1)]", "-0,1 - +0,1 mm": "[mm(-0.1), mm(0.1)]", "0 um to 2 mm": "[um(0), mm(2)]",
		"-20 to 20 um/m": "[um(-20) / m(1), um(20) / m(1)]",
	} {
		if got, err := spanText(typed); err != nil || got != want {
			t.Errorf("spanText(%q) = %q, %v; want %q", typed, got, err, want)
		}
	}
	for _, typed := range []string{"", "25", "to", "0 to", "to 25 mm", "0 to 25", "a to b", "0 to 25 furlongs"} {
		if got, err := spanText(typed); err == nil {
			t.Errorf("spanText(%q) = %q; want an error", typed, got)
		}
	}
}
