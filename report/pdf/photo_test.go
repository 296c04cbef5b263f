package pdf_test

import (
	"bytes"
	"testing"

	"waywright/report"
	"waywright/report/document"
	"waywright/report/pdf"
	"waywright/report/reporttest"
)

// The small pictures are in the file byte for byte, each once, and the file has
// the same bytes each time.
func TestPhotographs(t *testing.T) {
	r, files := reporttest.Photographed()
	b, err := report.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	d, err := document.OfIssue(report.Issue{Record: r, JSON: b, Evidence: files})
	if err != nil {
		t.Fatal(err)
	}
	var first bytes.Buffer
	if err := pdf.Render(&first, d, pdf.A4); err != nil {
		t.Fatal(err)
	}
	open(t, first.Bytes())
	shown := 0
	for _, p := range d.Parts {
		for _, x := range p.Blocks {
			if photo, ok := x.(document.Photo); ok && photo.Image != nil {
				shown++
				if n := bytes.Count(first.Bytes(), photo.Image.JPEG); n != 1 {
					t.Errorf("%s is in the file %d times", photo.Name, n)
				}
			}
		}
	}
	if shown != 2 {
		t.Errorf("%d pictures, want 2", shown)
	}
	for range 3 {
		var again bytes.Buffer
		if err := pdf.Render(&again, d, pdf.A4); err != nil || !bytes.Equal(first.Bytes(), again.Bytes()) {
			t.Fatalf("printed again it has other bytes, %v", err)
		}
	}
}
