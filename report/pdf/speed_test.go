package pdf_test

import (
	"bytes"
	"testing"

	"waywright/report"
	"waywright/report/document"
	"waywright/report/html"
	"waywright/report/pdf"
	"waywright/report/reporttest"
)

// A record of sixty tests and forty profiles is not larger than 3 MB as a PDF.
func TestSizeOfALargeRecord(t *testing.T) {
	var b bytes.Buffer
	if err := pdf.Write(&b, reporttest.Large(60), pdf.A4); err != nil {
		t.Fatal(err)
	}
	if b.Len() > 3<<20 {
		t.Errorf("the file has %d bytes, want at most 3 MB", b.Len())
	}
}

// All forms of a large record, from the record itself: to be held against two
// seconds.
func BenchmarkForms(b *testing.B) {
	r := reporttest.Large(60)
	for b.Loop() {
		if _, err := report.Marshal(r); err != nil {
			b.Fatal(err)
		}
		d, err := document.Of(r)
		if err != nil {
			b.Fatal(err)
		}
		var page, sheets bytes.Buffer
		if err := html.Render(&page, d); err != nil {
			b.Fatal(err)
		}
		if err := pdf.Render(&sheets, d, pdf.A4); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(page.Len()), "html-bytes")
		b.ReportMetric(float64(sheets.Len()), "pdf-bytes")
	}
}
