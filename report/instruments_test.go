package report_test

import (
	"fmt"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
	"waywright/report"
)

// hinge is a procedure of the engine's tests.
func hinge(string) (*engine.Plan, error) {
	l, ds := hclfile.Parse(hclfile.Source{FS: os.DirFS("../testdata/procedures/engine"), Path: "hinge.hcl"})
	if ds.HasErrors() {
		return nil, fmt.Errorf("%v", ds)
	}
	return engine.NewPlan(l.Procedure), nil
}

// Measure rule 20: what was insisted on stands in the record with its reason,
// and a record stands by itself: it has all that the shop knew of an
// instrument, in the unit that the register has. An instrument that was
// changed in the middle ends when the next one begins, and each reading names
// its own.
func TestMeasureRule20InstrumentsOfARecord(t *testing.T) {
	r := enginetest.Play(t, `begin hinge
shop {"id":"M-9","what":"outside micrometer","unit":"inch","reads":[1,2],"resolution":0.0001,"error":0.0002,"has_zero":true,"repeatability":0.0001,"repeatability_dof":14,"turn":0.025,"cert_u":0.00005,"cert_k":2.13,"certificate":"K-0611","calibrated":"2025-02-01","calibrated_by":"the county gauge room","due":"2026-02-01","maker":"Brook and Sons","serial":"44120"}
shop {"id":"C-1","what":"vernier caliper","unit":"mm","reads":[0,150],"resolution":0.02,"error":0.03}
pin = 31
instrument.micrometer = M-9 because it is at the gauge room next week
near = 31.001 31.002 31.001
far = 31.006
instrument.micrometer = C-1 because the micrometer was dropped
far = 31.02 31.02 31.02
`, hinge)
	rec := report.Build(r.State(), head, r.State().Len())
	if len(rec.Instruments) != 2 {
		t.Fatalf("%d instruments, want 2", len(rec.Instruments))
	}
	m, c := rec.Instruments[0], rec.Instruments[1]
	type figures struct{ From, To, Resolution, Error, Zero, Repeats, U string }
	got := figures{m.From.WithUnit(), m.To.WithUnit(), m.Resolution.WithUnit(), m.Error.WithUnit(), m.Zero.WithUnit(), m.Repeats.WithUnit(), m.Certificate.WithUnit()}
	want := figures{"1 in", "2 in", "0.0001 in", "0.0002 in", "0 in", "0.0001 in", "0.00005 in"}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("figures of M-9 (−want +got):\n%s", d)
	}
	if m.RepeatsDoF != 14 || m.K != 2.13 || m.CertificateNo != "K-0611" || m.Calibrated != "2025-02-01" || m.CalibratedBy != "the county gauge room" ||
		m.Maker != "Brook and Sons" || m.Serial != "44120" || !m.Overdue || len(m.Odd) != 1 || m.Odd[0].Word() != "OVERDUE" {
		t.Errorf("M-9 is %+v", m)
	}
	if m.Until == nil || *m.Until != c.At || c.Until != nil {
		t.Errorf("M-9 was in the hand until %v, C-1 from %v until %v", m.Until, c.At, c.Until)
	}
	var words []string
	for _, o := range c.Insisted() {
		words = append(words, o.Word())
	}
	if d := cmp.Diff([]string{"WRONG KIND", "TOO COARSE"}, words); d != "" || c.Reason != "the micrometer was dropped" {
		t.Errorf("against C-1 (−want +got), kept because %q:\n%s", c.Reason, d)
	}
	with := map[string]string{}
	for _, rd := range rec.Readings {
		with[rd.Name+", "+rd.State] = rd.Instrument
	}
	if d := cmp.Diff(map[string]string{"near, used": m.ID, "far, broken": m.ID, "far, used": c.ID}, with); d != "" {
		t.Errorf("readings and their instruments (−want +got):\n%s", d)
	}
	if d := cmp.Diff([]string{m.ID, c.ID}, rec.Tests[0].Instruments); d != "" {
		t.Errorf("the test's instruments (−want +got):\n%s", d)
	}
	if err := validate(t, compile(t), marshal(t, rec)); err != nil {
		t.Error(err)
	}
}
