package document_test

import (
	"io"
	"testing"

	"waywright/report"
	"waywright/report/document"
	"waywright/report/reporttest"
)

// Whatever stands in the record of a machine that somebody hands over, it is
// refused or becomes a document; what is written of it is read back the same.
func FuzzWhole(f *testing.F) {
	r := reporttest.Tailstock()
	b, err := report.Marshal(r)
	if err != nil {
		f.Fatal(err)
	}
	w, err := report.Join("lathe-2", []report.RunIssue{{Run: "a", Issue: report.Issue{Record: r, JSON: b}}}, []report.Missing{{Kind: report.MissNever, What: "x", Why: "y"}})
	if err != nil {
		f.Fatal(err)
	}
	if b, err = report.MarshalWhole(w); err != nil {
		f.Fatal(err)
	}
	f.Add(b)
	f.Add([]byte(`{"format":"waywright machine record 1","tests":[{"record":7,"found_in":-1,"spoilt":true,"test":{"no":1}}],"missing":[{"kind":"?"}]}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		w, err := report.ParseWhole(b)
		if err != nil {
			return
		}
		d, err := document.OfWhole(w)
		if err != nil {
			return
		}
		if err := document.WritePlain(io.Discard, d); err != nil {
			t.Fatal(err)
		}
		again, err := report.ParseWhole(d.JSON)
		if err != nil {
			t.Fatalf("what was written cannot be read: %v", err)
		}
		if back, err := report.MarshalWhole(again); err != nil || string(back) != string(d.JSON) {
			t.Fatalf("read back it is another one, %v", err)
		}
	})
}
