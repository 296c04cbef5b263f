package document_test

import (
	"bytes"
	"image/jpeg"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/report"
	"waywright/report/document"
	"waywright/report/reporttest"
)

func photographed(t testing.TB, change func(hash string, b []byte) []byte) document.Document {
	t.Helper()
	r, files := reporttest.Photographed()
	b, err := report.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	i := report.Issue{Record: r, JSON: b, Evidence: files}
	if change != nil {
		i.Evidence = func(hash string) []byte { return change(hash, files(hash)) }
	}
	d, err := document.OfIssue(i)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func photosIn(d document.Document) []document.Photo {
	var out []document.Photo
	for _, p := range d.Parts {
		for _, b := range p.Blocks {
			if x, ok := b.(document.Photo); ok {
				out = append(out, x)
			}
		}
	}
	return out
}

// The words of the parts that only a record with photographs or with remarks
// under a heading has.
func TestWordsOfPhotographs(t *testing.T) {
	d := photographed(t, nil)
	whole := text(t, d)
	d.Parts = slices.DeleteFunc(d.Parts, func(p document.Part) bool {
		return !slices.Contains([]string{"metal", "others", "again", "evidence"}, p.ID)
	})
	got := text(t, d)
	const golden = "testdata/photographs.golden.txt"
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	for _, want := range []string{"\nPhoto 1\n  Indicator at B, dial at zero\n", "\nDeviations that are meant\n  Bed 0.01 mm high in the middle"} {
		if !strings.Contains(whole, want) {
			t.Errorf("%q is not in the record", want)
		}
	}
}

func text(t testing.TB, d document.Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := document.WritePlain(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestPhotographsAreShownSmall(t *testing.T) {
	ps := photosIn(photographed(t, nil))
	if len(ps) != 4 {
		t.Fatalf("%d photographs, want 4", len(ps))
	}
	for i, size := range [][2]int{{480, 300}, {192, 480}} {
		img := ps[i].Image
		if img == nil {
			t.Fatalf("photograph %d is not shown", i+1)
		}
		c, err := jpeg.DecodeConfig(bytes.NewReader(img.JPEG))
		if err != nil || c.Width != size[0] || c.Height != size[1] || img.Width != c.Width || img.Height != c.Height {
			t.Errorf("photograph %d: %+v, %v, said to be %d × %d; want %v", i+1, c, err, img.Width, img.Height, size)
		}
		if len(img.JPEG) > 40_000 {
			t.Errorf("photograph %d has %d bytes", i+1, len(img.JPEG))
		}
	}
	if ps[2].Image != nil || ps[3].Image != nil {
		t.Error("a scan, or a file that is not there, is shown")
	}
	if got := ps[0].Image.Says; got != "Photo 1: Indicator at B, dial at zero." {
		t.Errorf("it says %q", got)
	}
	if d := cmp.Diff(photographed(t, nil), photographed(t, nil)); d != "" {
		t.Errorf("made twice it differs: %s", d)
	}
}

// A file that is not the one that was kept is not shown, whatever it is.
func TestAnotherFileIsNotShown(t *testing.T) {
	_, files := reporttest.Photographed()
	r, _ := reporttest.Photographed()
	other := files(r.Evidence[1].File.SHA256)
	for name, change := range map[string]func(string, []byte) []byte{
		"gone":    func(string, []byte) []byte { return nil },
		"another": func(string, []byte) []byte { return append([]byte(nil), other[:len(other)-1]...) },
	} {
		for i, p := range photosIn(photographed(t, change)) {
			if p.Image != nil {
				t.Errorf("%s: photograph %d is shown", name, i+1)
			}
			if s := p.Facts.Rows[1].Lines[0].String(); !strings.Contains(s, "its hash does not agree") {
				t.Errorf("%s: photograph %d says %q", name, i+1, s)
			}
		}
	}
}
