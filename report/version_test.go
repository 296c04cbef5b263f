package report_test

import (
	"bytes"
	"os"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"waywright/report"
)

// The record of the demonstration as the program wrote it before there were
// signatures by key: a form is read as long as the program is.
func TestAnEarlyRecordIsRead(t *testing.T) {
	b, err := os.ReadFile("testdata/first-record.json")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(report.FirstSchema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("first", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("first")
	if err != nil {
		t.Fatal(err)
	}
	if err := validate(t, s, b); err != nil {
		t.Error(err)
	}
	r, err := report.Parse(b)
	if err != nil {
		t.Fatal(err)
	}
	if r.Number != "lathe-4-tailstock-by-test-cut-20261125-20093ffd" || r.Outcome.Word != report.Accepted || len(r.Tests) != 1 || len(r.Tests[0].Attempts) != 3 {
		t.Errorf("read %q, %s, %d tests", r.Number, r.Outcome.Word, len(r.Tests))
	}
	if y := r.Tests[0].Found.Value; y.Value != 1.166666667 || y.Code != "um" {
		t.Errorf("found %v, want 1.166666667 µm", y)
	}
	if got := r.Readings[1].Places[1].Takes[0].Typed; got != "25.003" {
		t.Errorf("first take on the tailstock-end collar in the second cut: %q, want 25.003", got)
	}
	// What it held then it holds now.
	again, err := report.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(b, again) {
		t.Error("reading and writing it changes its bytes, and a seal over them would be lost")
	}
}
