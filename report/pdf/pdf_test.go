package pdf_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"waywright/report"
	"waywright/report/document"
	"waywright/report/pdf"
	"waywright/report/reporttest"
)

// records are those made by hand, an empty one, and those that runs gave.
func records(t testing.TB) map[string]report.Record {
	t.Helper()
	out := map[string]report.Record{"tailstock": reporttest.Tailstock(), "bar": reporttest.Bar(), "nothing": {Format: report.Format}, "large": reporttest.Large(7)}
	files, err := filepath.Glob("../testdata/*.golden.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no records of runs: %v", err)
	}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		r, err := report.Parse(b)
		if err != nil {
			t.Fatal(err)
		}
		out["run "+strings.TrimSuffix(filepath.Base(f), ".golden.json")] = r
	}
	return out
}

func printed(t testing.TB, r report.Record, p pdf.Paper, sigs ...report.Signature) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Write(&b, r, p, sigs...); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The file is whole: every reference in its tables leads to its object, and
// what the trailer names is there.
func TestFileIsWhole(t *testing.T) {
	for name, r := range records(t) {
		for _, p := range []pdf.Paper{pdf.A4, pdf.Letter} {
			f := open(t, printed(t, r, p))
			if !bytes.HasPrefix(f.b, []byte("%PDF-1.7\n")) {
				t.Errorf("%s: the file begins %.10q", name, f.b)
			}
			digest, err := report.Digest(r)
			if err != nil {
				t.Fatal(err)
			}
			for _, want := range []string{"/Type /Catalog", "/Version /1.7", "/Lang (en)", "/DisplayDocTitle true", "/PageMode /UseOutlines", "/AF ["} {
				if !strings.Contains(f.object(t, f.root), want) {
					t.Errorf("%s: the catalog has no %s", name, want)
				}
			}
			if id := fmt.Sprintf("/ID [<%s> <%s>]", digest[:32], digest[:32]); !strings.Contains(f.trailer, id) {
				t.Errorf("%s: the identifier is not of the record's digest", name)
			}
			for n := range f.at {
				for _, m := range reference.FindAllStringSubmatch(stripped(f.object(t, n)), -1) {
					if _, ok := f.at[number(t, m[1])]; !ok {
						t.Errorf("%s: object %d names object %s, which is not there", name, n, m[1])
					}
				}
			}
		}
	}
}

// The same record gives the same bytes, whatever the clock and the order of
// maps.
func TestSameBytes(t *testing.T) {
	for name, r := range records(t) {
		first := printed(t, r, pdf.A4)
		for range 4 {
			if !bytes.Equal(first, printed(t, r, pdf.A4)) {
				t.Fatalf("%s: printed again it has other bytes", name)
			}
		}
		if bytes.Equal(first, printed(t, r, pdf.Letter)) {
			t.Errorf("%s: on other paper it has the same bytes", name)
		}
	}
}

// The record inside the file is the one that was signed.
func TestAttachmentIsTheRecord(t *testing.T) {
	for name, r := range records(t) {
		f := open(t, printed(t, r, pdf.A4))
		want, err := report.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		names := regexp.MustCompile(`/Names \[<[0-9a-f]+> (\d+) 0 R\]`).FindStringSubmatch(f.object(t, f.root))
		if names == nil {
			t.Fatalf("%s: the catalog names no file", name)
		}
		spec := f.object(t, number(t, names[1]))
		if !strings.Contains(spec, "/AFRelationship /Source") {
			t.Errorf("%s: the attachment does not say what it is: %s", name, spec)
		}
		file := regexp.MustCompile(`/EF << /F (\d+) 0 R`).FindStringSubmatch(spec)
		entries, data := f.stream(t, number(t, file[1]))
		if !bytes.Equal(data, want) {
			t.Errorf("%s: the attachment is not the record's JSON", name)
		}
		if !strings.Contains(entries, "/Subtype /application#2Fjson") {
			t.Errorf("%s: the attachment does not say that it is JSON", name)
		}
	}
}

// Every sheet says which record it is of, which sheet of how many, which
// machine, how the digest begins, and whether it is a draft.
func TestEverySheet(t *testing.T) {
	for name, r := range records(t) {
		d, err := document.Of(r)
		if err != nil {
			t.Fatal(err)
		}
		f := open(t, printed(t, r, pdf.A4))
		sheets := f.sheets(t)
		for i, s := range sheets {
			text := squeezed(strings.Join(s.texts, ""))
			for _, want := range []string{d.Number, fmt.Sprintf("page %d of %d", i+1, len(sheets)), d.Item, "digest " + d.Short} {
				if !strings.Contains(text, squeezed(want)) {
					t.Errorf("%s: sheet %d does not say %q", name, i+1, want)
				}
			}
			if got := strings.Contains(text, "DRAFT"); got != d.Draft {
				t.Errorf("%s: sheet %d says DRAFT: %v, want %v", name, i+1, got, d.Draft)
			}
		}
		if len(r.Tests) > 0 && !sheets[1].lying() && !sheets[2].lying() {
			t.Errorf("%s: the test sheet does not lie", name)
		}
	}
}

// Sheets have the size of their paper, upright or lying.
func TestPaper(t *testing.T) {
	for _, tt := range []struct {
		paper pdf.Paper
		sizes string // width and height, in points: ISO 216 A4 and ANSI/ASME Y14.1 A
	}{
		{pdf.A4, "595.28 841.89"},
		{pdf.Letter, "612.00 792.00"},
	} {
		for i, s := range open(t, printed(t, reporttest.Bar(), tt.paper)).sheets(t) {
			w, h, _ := strings.Cut(tt.sizes, " ")
			if s.size != tt.sizes && s.size != h+" "+w {
				t.Errorf("%s: sheet %d measures %s", tt.paper, i+1, s.size)
			}
		}
	}
	for _, s := range []string{"a4", "A4", "letter", "LETTER"} {
		if _, err := pdf.ParsePaper(s); err != nil {
			t.Errorf("ParsePaper(%q): %v", s, err)
		}
	}
	for _, s := range []string{"", "a3", "legal"} {
		if p, err := pdf.ParsePaper(s); err == nil {
			t.Errorf("ParsePaper(%q) = %v", s, p)
		}
	}
}

// The sheets have the words of the document, each text whole, in its order.
func TestWordsInOrder(t *testing.T) {
	for name, r := range records(t) {
		d, err := document.Of(r)
		if err != nil {
			t.Fatal(err)
		}
		var said strings.Builder
		for _, s := range open(t, printed(t, r, pdf.A4)).sheets(t) {
			said.WriteString(squeezed(strings.Join(s.body(), "")))
		}
		all, at := said.String(), 0
		for _, text := range texts(d) {
			n := strings.Index(all[at:], squeezed(text))
			if n < 0 {
				t.Fatalf("%s: %q does not stand behind what comes before it", name, text)
			}
			at += n
		}
	}
}

// Nothing stands beyond the margins.
func TestNothingBeyondTheMargins(t *testing.T) {
	for name, r := range records(t) {
		for i, s := range open(t, printed(t, r, pdf.Letter)).sheets(t) {
			for _, m := range textAt.FindAllStringSubmatch(s.content, -1) {
				x, y := decimal(t, m[1]), decimal(t, m[2])
				if x < 47 || x > s.wide()-48 || y < 20 || y > s.high()-20 {
					t.Errorf("%s: on sheet %d something stands at %g, %g", name, i+1, x, y)
				}
			}
		}
	}
}

// No letter is smaller than 9.5 points, and on page one none that is not in a
// picture, or at the edge, is smaller than 11; than 10 where page one would run
// over otherwise.
func TestLettersAreLargeEnough(t *testing.T) {
	size := regexp.MustCompile(`/F[0-9a-f]+ ([0-9.]+) Tf`)
	for name, r := range records(t) {
		for i, s := range open(t, printed(t, r, pdf.A4)).sheets(t) {
			for _, m := range size.FindAllStringSubmatch(s.content, -1) {
				if x := decimal(t, m[1]); x < 9.5 {
					t.Errorf("%s: letters of %g points on sheet %d", name, x, i+1)
				}
			}
			edge := 4 // settings at the edge: number, its bold part, page, foot, draft
			for j, m := range size.FindAllStringSubmatch(s.content, -1) {
				least := 11.0
				if name == "bar" { // long enough to run over
					least = 10
				}
				if x := decimal(t, m[1]); i == 0 && j > edge && x < least {
					t.Errorf("%s: letters of %g points on page one", name, x)
				}
			}
		}
	}
}

// Readers show parts and tests beside the sheets; each leads to a page.
func TestOutline(t *testing.T) {
	for name, r := range records(t) {
		d, err := document.Of(r)
		if err != nil {
			t.Fatal(err)
		}
		f := open(t, printed(t, r, pdf.A4))
		var want []string
		for _, p := range d.Parts {
			want = append(want, p.Title)
			for _, x := range p.Tests() {
				want = append(want, fmt.Sprintf("%d  %s: %s", x.No, x.Title, x.Word))
			}
		}
		if got := f.outline(t); strings.Join(got, "\n") != strings.Join(want, "\n") {
			t.Errorf("%s: the outline has\n%s\nwant\n%s", name, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
}

// Text that would be something else in the file's own language stays text, and
// letters that the fonts do not have stand as their numbers.
func TestAnyText(t *testing.T) {
	const odd = `) Tj ET \ ( endobj >> %%EOF 東京 😀 עברית`
	r := reporttest.Tailstock()
	fill(reflect.ValueOf(&r).Elem(), odd)
	r.Format = report.Format
	f := open(t, printed(t, r, pdf.A4))
	var said strings.Builder
	for _, s := range f.sheets(t) {
		said.WriteString(squeezed(strings.Join(s.texts, "")))
	}
	for _, want := range []string{`)TjET\(endobj>>%%EOF`, "[U+6771][U+4EAC]", "[U+1F600]", "[U+05E2]", "cannotbe", "Lettersthatthefontsofthesesheetsdonothave"} {
		if want != "cannotbe" && !strings.Contains(said.String(), want) {
			t.Errorf("the sheets do not say %q", want)
		}
	}
	plain := open(t, printed(t, reporttest.Tailstock(), pdf.A4))
	for _, s := range plain.sheets(t) {
		if strings.Contains(squeezed(strings.Join(s.texts, "")), "Lettersthatthefonts") {
			t.Error("letters are said to be missing where none are")
		}
	}
}

// fill puts text into every text of a record, as long as the lists stay.
func fill(v reflect.Value, text string) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(text)
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), text)
		}
	case reflect.Slice:
		for i := range v.Len() {
			fill(v.Index(i), text)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			fill(v.Elem(), text)
		}
	}
}

// A record that cannot be printed leaves nothing behind, and a writer that
// fails is told of.
func TestWriteFails(t *testing.T) {
	var b bytes.Buffer
	r := reporttest.Tailstock()
	r.Tests[0].Found.K = math.NaN()
	if err := pdf.Write(&b, r, pdf.A4); err == nil || b.Len() != 0 {
		t.Errorf("a record with NaN: %v, %d bytes written", err, b.Len())
	}
	if err := pdf.Write(full{}, reporttest.Tailstock(), pdf.A4); !errors.Is(err, errFull) {
		t.Errorf("a full disk: %v, want %v", err, errFull)
	}
}

var errFull = errors.New("no space left")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

// Whatever a record holds, it can be printed, and the file is whole.
func FuzzWrite(f *testing.F) {
	for name, r := range records(f) {
		if name == "large" {
			continue
		}
		b, err := report.Marshal(r)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := report.Parse(b)
		if err != nil {
			return
		}
		if len(open(t, printed(t, r, pdf.A4)).sheets(t)) == 0 {
			t.Error("no sheet")
		}
	})
}
