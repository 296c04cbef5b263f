package html_test

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	htmltext "html"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/report"
	"waywright/report/document"
	"waywright/report/html"
	"waywright/report/reporttest"
)

var update = flag.Bool("update", false, "write the golden files anew")

// records are two made by hand, and those that runs gave.
func records(t testing.TB) map[string]report.Record {
	t.Helper()
	out := map[string]report.Record{"tailstock": reporttest.Tailstock(), "bar": reporttest.Bar(), "nothing": {Format: report.Format}}
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

func render(t testing.TB, r report.Record) string {
	t.Helper()
	var b bytes.Buffer
	if err := html.Write(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The pages are what a buyer gets: read the difference before it goes in.
func TestPages(t *testing.T) {
	all := records(t)
	for _, name := range []string{"tailstock", "bar", "run headstock"} {
		got := render(t, all[name])
		golden := filepath.Join("testdata", strings.ReplaceAll(name, " ", "-")+".golden.html")
		if *update {
			if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(string(want), got); d != "" {
			t.Errorf("%s (−want +got):\n%s", name, d)
		}
	}
}

// A page is made from the record alone: from its JSON come the same bytes.
func TestPageOfTheRecordAlone(t *testing.T) {
	for name, r := range records(t) {
		b, err := report.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		back, err := report.Parse(b)
		if err != nil {
			t.Fatal(err)
		}
		if render(t, r) != render(t, back) {
			t.Errorf("%s: the page of the record read back differs", name)
		}
	}
}

func TestPageAsksForNothing(t *testing.T) {
	outside := regexp.MustCompile(`(?i)https?:|src=|@import|url\(|<script|<link|<iframe|<form|javascript:|\son[a-z]+=`)
	for name, r := range records(t) {
		if m := outside.FindString(strings.ReplaceAll(render(t, r), "&lt;script", "")); m != "" {
			t.Errorf("%s: the page holds %q", name, m)
		}
	}
}

// nasty is text that would be something else if it were not escaped: in an
// element, an attribute, a style, a picture or a page box.
const nasty = `"'><script>alert(1)</script></style></title></svg><b title='x" onclick=y>{{.}} \00003c <!-- ]]> ` + "`$&;}* {\u202e\x00\x1f"

// fillText puts text into every text of a record.
func fillText(v reflect.Value, text string) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(text)
	case reflect.Struct:
		for i := range v.NumField() {
			fillText(v.Field(i), text)
		}
	case reflect.Slice:
		if v.Len() == 0 {
			v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		}
		for i := range v.Len() {
			fillText(v.Index(i), text)
		}
	case reflect.Pointer:
		if v.IsNil() {
			v.Set(reflect.New(v.Type().Elem()))
		}
		fillText(v.Elem(), text)
	}
}

func filled(text string) report.Record {
	r := report.Record{Outcome: report.Outcome{Draft: true}, Tests: make([]report.Test, 2)}
	fillText(reflect.ValueOf(&r).Elem(), text)
	r.Format = report.Format
	return r
}

var (
	anyTag    = regexp.MustCompile(`<[^>]*>`)
	tagName   = regexp.MustCompile(`^<[/!]?[a-z0-9A-Z]*`)
	attribute = regexp.MustCompile(` ([a-z-]+)=`)
	quoted    = regexp.MustCompile(`"[^"]*"`)
	styles    = regexp.MustCompile(`(?s)<style>.*?</style>`)
	drawings  = regexp.MustCompile(`(?s)(<svg[^>]*>).*?</svg>`)
)

// skeleton is a page's tags with the names of their attributes. Of a picture
// it has the outermost: which lettering has room in it depends on the text.
func skeleton(page string) []string {
	var out []string
	for _, tag := range anyTag.FindAllString(drawings.ReplaceAllString(page, "$1</svg>"), -1) {
		s := tagName.FindString(tag)
		for _, a := range attribute.FindAllStringSubmatch(quoted.ReplaceAllString(tag, ""), -1) {
			s += " " + a[1]
		}
		out = append(out, s)
	}
	return out
}

// Every text of a record is text in the page, whatever it holds: the page's
// elements and attributes stay what they are with harmless text.
func TestEveryTextIsEscaped(t *testing.T) {
	harmless := skeleton(render(t, filled("x")))
	page := render(t, filled(nasty))
	if d := cmp.Diff(harmless, skeleton(page)); d != "" {
		t.Errorf("elements changed (−harmless +nasty):\n%s", d)
	}
	style := styles.FindString(page)
	if n := strings.Count(style, "</style"); n != 1 {
		t.Errorf("the style ends %d times", n)
	}
	if strings.Contains(style, "alert(1)</script") || strings.Contains(style, `"'>`) {
		t.Error("text breaks out of its string in the style")
	}
	for _, bad := range []string{"\x00", "\x1f", "\u202e", "<script"} {
		if strings.Contains(page, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	if !strings.Contains(page, "&lt;script&gt;alert(1)&lt;/script&gt;") {
		t.Error("the text itself is gone")
	}
}

func TestHeadings(t *testing.T) {
	heading := regexp.MustCompile(`<h([1-6])[ >]`)
	for name, r := range records(t) {
		page := render(t, r)
		last, ones := 0, 0
		for _, m := range heading.FindAllStringSubmatch(page, -1) {
			level, _ := strconv.Atoi(m[1])
			if level > last+1 {
				t.Errorf("%s: a heading of level %d stands under one of level %d", name, level, last)
			}
			if level == 1 {
				ones++
			}
			last = level
		}
		if ones != 1 {
			t.Errorf("%s: %d headings of level 1", name, ones)
		}
		if got := strings.Count(page, "<article"); got != len(r.Tests) {
			t.Errorf("%s: %d tests in detail, want %d", name, got, len(r.Tests))
		}
	}
}

func TestLinksAndIDs(t *testing.T) {
	id := regexp.MustCompile(` id="([^"]*)"`)
	uses := regexp.MustCompile(` (?:href="#|aria-labelledby=")([^"]*)"`)
	for name, r := range records(t) {
		page := render(t, r)
		ids := map[string]bool{}
		for _, m := range id.FindAllStringSubmatch(page, -1) {
			if ids[m[1]] {
				t.Errorf("%s: id %s stands twice", name, m[1])
			}
			ids[m[1]] = true
		}
		for _, m := range uses.FindAllStringSubmatch(page, -1) {
			for _, ref := range strings.Fields(m[1]) {
				if !ids[ref] {
					t.Errorf("%s: #%s is not there", name, ref)
				}
			}
		}
	}
}

// What a person with a screen reader needs: the language, a caption and heads
// to each table, a sentence to each picture.
func TestForEveryReader(t *testing.T) {
	table := regexp.MustCompile(`(?s)<table.*?</table>`)
	picture := regexp.MustCompile(`(?s)<svg.*?</svg>`)
	for name, r := range records(t) {
		page := render(t, r)
		if !strings.Contains(page, `<html lang="en">`) {
			t.Errorf("%s: no language", name)
		}
		for _, x := range table.FindAllString(page, -1) {
			if !strings.Contains(x, "<caption>") || strings.Contains(x, "<caption></caption>") {
				t.Errorf("%s: a table without a caption: %.200s", name, x)
			}
			if strings.Count(x, "<th ") != strings.Count(x, " scope=") || !strings.Contains(x, `scope="col"`) {
				t.Errorf("%s: a table with heads of nothing: %.200s", name, x)
			}
		}
		for _, x := range picture.FindAllString(page, -1) {
			desc := regexp.MustCompile(`<desc[^>]*>([^<]*)</desc>`).FindStringSubmatch(x)
			if !strings.Contains(x, `role="img"`) || !strings.Contains(x, "<title ") || desc == nil || len(desc[1]) < 10 {
				t.Errorf("%s: a picture without a sentence: %.200s", name, x)
			}
		}
	}
}

// The numbers of each picture stand in a table of the same test.
func TestPicturesHaveTheirNumbersInATable(t *testing.T) {
	for name, r := range records(t) {
		page := render(t, r)
		for _, x := range r.Tests {
			_, article, _ := strings.Cut(page, fmt.Sprintf(`<article id="test-%d"`, x.No))
			article, _, _ = strings.Cut(article, "</article>")
			article = anyTag.ReplaceAllString(regexp.MustCompile(`(?s)<svg.*?</svg>`).ReplaceAllString(article, ""), " ")
			article = strings.ReplaceAll(article, "\u00a0", " ")
			for _, e := range x.Elements {
				if !strings.Contains(article, e.Said) {
					t.Errorf("%s: %q of test %d is in the picture alone", name, e.Said, x.No)
				}
			}
			for _, a := range x.Attempts {
				if a.Found != nil && !strings.Contains(article, a.Found.Said) {
					t.Errorf("%s: attempt %d of test %d is in the picture alone", name, a.N, x.No)
				}
			}
		}
	}
}

// Every attempt and every reading that was taken is on the page, the wrong
// ones too.
func TestNothingIsLeftOut(t *testing.T) {
	for name, r := range records(t) {
		page := strings.ReplaceAll(anyTag.ReplaceAllString(render(t, r), " "), "\u00a0", " ")
		for _, rd := range r.Readings {
			for _, p := range rd.Places {
				for _, take := range p.Takes {
					if take.Number != nil && len(rd.Places) < 20 && rd.Name != "room" && !strings.Contains(page, take.Text) {
						t.Errorf("%s: %s of %s is not on the page", name, take.Text, rd.ID)
					}
				}
			}
		}
		for _, a := range r.Amendments {
			if !strings.Contains(page, a.From) || !strings.Contains(page, a.To) || !strings.Contains(page, a.Reason) {
				t.Errorf("%s: amendment %+v is not whole on the page", name, a)
			}
		}
	}
}

// The page has the words of the document, in its order: each line of the plain
// text, without the heads of columns that stand before a cell there.
func TestWordsInOrder(t *testing.T) {
	picture := regexp.MustCompile(`(?s)<svg.*?</svg>|<nav.*?</nav>|<style.*?</style>`)
	squeeze := func(s string) string { return strings.Join(strings.Fields(strings.ReplaceAll(s, "\u00a0", " ")), "") }
	heads := regexp.MustCompile(`^([A-Za-z][^:]{0,40}:(?: |$)|- |[0-9]+\. |[0-9]+  )`)
	for name, r := range records(t) {
		d, err := document.Of(r)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := document.WritePlain(&b, d); err != nil {
			t.Fatal(err)
		}
		all := squeeze(htmltext.UnescapeString(anyTag.ReplaceAllString(picture.ReplaceAllString(render(t, r), ""), "")))
		at := strings.Index(all, squeeze(d.Title))
		for line := range strings.Lines(b.String()) {
			line = strings.TrimSuffix(strings.TrimSpace(line), " ________________")
			whole, bare := squeeze(line), squeeze(heads.ReplaceAllString(line, ""))
			if line == "DRAFT" || isPartTitle(d, line) || strings.HasPrefix(line, "No. "+d.Number+" ·") {
				continue
			}
			n := strings.Index(all[at:], whole)
			if m := strings.Index(all[at:], bare); n < 0 || m >= 0 && m < n {
				n = m
			}
			if n < 0 {
				t.Fatalf("%s: %q does not stand behind what comes before it", name, line)
			}
			at += n
		}
	}
}

func isPartTitle(d document.Document, line string) bool {
	return slices.ContainsFunc(d.Parts, func(p document.Part) bool { return strings.ToUpper(p.Title) == line })
}

func TestDraftIsSaidEverywhere(t *testing.T) {
	heads := regexp.MustCompile(`<h2 [^>]*>([^<]*)(<span class="draft">)?`)
	for name, r := range records(t) {
		page := render(t, r)
		want := r.Outcome.Draft || r.Outcome.Word != report.Rejected && slices.ContainsFunc(r.Roles, func(x report.Role) bool { return x.Signed == "" })
		if got := strings.Contains(page, `@top-right { content: "DRAFT" }`); got != want {
			t.Errorf("%s: DRAFT on each printed page: %v", name, got)
		}
		for _, m := range heads.FindAllStringSubmatch(page, -1) {
			if m[1] != "Contents" && (m[2] != "") != want {
				t.Errorf("%s: draft beside %q: %v", name, m[1], m[2] != "")
			}
		}
	}
}

// What falls short stands before what shines.
func TestFallsShortComesFirst(t *testing.T) {
	page := render(t, reporttest.Bar())
	short, close := strings.Index(page, "What is not as the limits ask"), strings.Index(page, "Closest to their limits")
	if short < 0 || close < short {
		t.Errorf("what falls short at %d, what is closest at %d", short, close)
	}
	var at []int
	for _, title := range []string{"FAIL</strong>", "NOT MEASURED</strong>", "CANNOT TELL</strong>"} {
		at = append(at, strings.Index(page, title))
	}
	if !slices.IsSorted(at) || at[0] < 0 {
		t.Errorf("failed, not measured and undecided tests stand at %v", at)
	}
}

// Words that a record does not use, and the minus of a keyboard, which is read
// aloud as a hyphen.
func TestNotOnAPage(t *testing.T) {
	words := regexp.MustCompile(`(?i)certified|guarantee|conforms to|\bscore|\bgrade [A-F]\b|\bN/A\b|\bOK\b|!`)
	hyphen := regexp.MustCompile(`(?:^|[\s(])-[0-9]`)
	code := regexp.MustCompile(`(?s)<code.*?</code>`)
	for name, r := range records(t) {
		page := anyTag.ReplaceAllString(code.ReplaceAllString(styles.ReplaceAllString(render(t, r), ""), ""), "\n")
		if m := words.FindString(strings.ReplaceAll(page, "DOCTYPE", "")); m != "" {
			t.Errorf("%s: the page says %q", name, m)
		}
		if m := hyphen.FindString(page); m != "" {
			t.Errorf("%s: the page has a hyphen for a minus: %q", name, m)
		}
	}
}

// A record that cannot be written leaves nothing behind, and a writer that
// fails is told of.
func TestWriteFails(t *testing.T) {
	var b bytes.Buffer
	r := reporttest.Tailstock()
	r.Tests[0].Found.K = math.NaN()
	if err := html.Write(&b, r); err == nil || b.Len() != 0 {
		t.Errorf("a record with NaN: %v, %d bytes written", err, b.Len())
	}
	if err := html.Write(full{}, reporttest.Tailstock()); !errors.Is(err, errFull) {
		t.Errorf("a full disk: %v, want %v", err, errFull)
	}
}

var errFull = errors.New("no space left")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

// Light and dark, text stands out from its ground by 4.5 to 1 or more.
//
// Source: WCAG 2.1, 1.4.3, and its definitions of contrast ratio and relative
// luminance.
func TestContrast(t *testing.T) {
	css, err := os.ReadFile("style.css")
	if err != nil {
		t.Fatal(err)
	}
	variable := regexp.MustCompile(`--([a-z]+): (#[0-9a-f]{3,6});`)
	schemes := regexp.MustCompile(`(?s):root \{.*?\}`).FindAllString(string(css), -1)
	if len(schemes) != 3 {
		t.Fatalf("%d schemes, want light, dark and print", len(schemes))
	}
	for i, s := range schemes {
		v := map[string]string{}
		for _, m := range variable.FindAllStringSubmatch(s, -1) {
			v[m[1]] = m[2]
		}
		for _, pair := range [][2]string{{"ink", "paper"}, {"soft", "paper"}, {"link", "paper"}, {"ink", "tint"}, {"ink", "band"}, {"mark", "band"}} {
			if got := contrast(luminance(t, v[pair[0]]), luminance(t, v[pair[1]])); got < 4.5 {
				t.Errorf("scheme %d: %s on %s is %.1f to 1", i, pair[0], pair[1], got)
			}
		}
		// Lines that carry meaning: 3 to 1 (1.4.11).
		if got := contrast(luminance(t, v["limit"]), luminance(t, v["band"])); got < 3 {
			t.Errorf("scheme %d: a limit on its band is %.1f to 1", i, got)
		}
	}
}

func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	h := strings.TrimPrefix(hex, "#")
	if len(h) == 3 {
		h = string([]byte{h[0], h[0], h[1], h[1], h[2], h[2]})
	}
	var sum float64
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(h[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatalf("colour %q: %v", hex, err)
		}
		c := float64(n) / 255
		if c <= 0.03928 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

func contrast(a, b float64) float64 { return (math.Max(a, b) + 0.05) / (math.Min(a, b) + 0.05) }

// On paper nothing is smaller than 9.5 points.
func TestPrintIsLargeEnough(t *testing.T) {
	css, err := os.ReadFile("style.css")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`(?:font-size: |font: (?:bold )?)([0-9.]+)pt`).FindAllStringSubmatch(string(css), -1) {
		if size, _ := strconv.ParseFloat(m[1], 64); size < 9.5 {
			t.Errorf("lettering of %s points", m[1])
		}
	}
	_, print, ok := strings.Cut(string(css), "@media print")
	if !ok || !strings.Contains(print, "html { font-size: 9.5pt;") || !strings.Contains(print, ".first { font-size: 11pt; }") {
		t.Error("the sizes of print are not stated")
	}
}
