package reference_test

import (
	"bytes"
	"encoding/xml"
	"html"
	"io"
	"strings"
	"sync"
	"testing"

	"waywright/checks/catalogue"
	"waywright/checks/quantity"
	"waywright/cmd/waywright/internal/reference"
	"waywright/procedures/explain"
	"waywright/procedures/hclfile/schema"
	"waywright/procedures/register"
)

// written writes the page once for all tests.
var written = sync.OnceValues(write)

func write() (string, error) {
	var b bytes.Buffer
	err := reference.Write(&b, "0.1.0")
	return b.String(), err
}

func whole(t testing.TB) string {
	t.Helper()
	page, err := written()
	if err != nil {
		t.Fatal(err)
	}
	return page
}

// entry returns the text of an article.
func entry(t testing.TB, page, id string) string {
	t.Helper()
	_, rest, ok := strings.Cut(page, `<article id="`+id+`">`)
	if !ok {
		t.Errorf("%s is not on the page", id)
		return ""
	}
	rest, _, _ = strings.Cut(rest, "</article>")
	return html.UnescapeString(rest)
}

func has(t testing.TB, what, text string, want ...string) {
	t.Helper()
	for _, w := range want {
		if !strings.Contains(text, w) {
			t.Errorf("%s: the page does not say %q", what, w)
		}
	}
}

// Both pages have every function with its parameters, sign, source and example.
func TestEveryFunction(t *testing.T) {
	var b bytes.Buffer
	if err := reference.WriteFunctions(&b, "0.1.0"); err != nil {
		t.Fatal(err)
	}
	for _, page := range []string{b.String(), whole(t)} {
		wellFormed(t, page)
		for _, f := range catalogue.All() {
			want := []string{f.Signature(), f.Source, f.Example.Expr, f.Example.Want, f.Example.Source, f.Signs}
			for i, p := range f.Params {
				want = append(want, p.Name, p.Doc, f.Kinds()[i])
			}
			has(t, f.Name, entry(t, page, f.Name), append(want, f.Tables...)...)
		}
	}
}

// The page has every block with its attributes, their forms, words and
// examples, and its example.
func TestEveryBlock(t *testing.T) {
	page := whole(t)
	kinds := append(schema.Files(), schema.Registers()...)
	files := map[*schema.Block]bool{}
	for _, k := range kinds {
		files[k] = true
	}
	for _, b := range schema.All() {
		id := "block-" + strings.Trim(strings.NewReplacer(" ", "-", "_", "-", "(", "", ")", "", "'", "-").Replace(b.Heading()), "-")
		text := html.UnescapeString(page)
		if !files[b] {
			text = entry(t, page, id)
			has(t, b.Heading(), text, strings.TrimRight(b.Example(), "\n"))
		}
		has(t, b.Heading(), text, b.Doc)
		for _, a := range b.Attrs {
			has(t, b.Heading()+"."+a.Name, text, "<code>"+a.Name+"</code>", a.Doc, a.Form.String(), a.Default, a.Name+" = "+a.Example)
			has(t, b.Heading()+"."+a.Name, text, a.Means...)
		}
	}
}

// The page has every code with what is said, why, and the mend.
func TestEveryCode(t *testing.T) {
	page := whole(t)
	for _, p := range explain.All() {
		text := entry(t, page, p.Code)
		has(t, p.Code, text, p.Summary, p.Why, p.Mend, p.Said[0])
		if n := strings.Count(text, "<mark>"); n == 0 && !p.Wrong.Named() {
			t.Errorf("%s: no line is marked", p.Code)
		}
	}
}

// The page has every unit, every first word of names, and every word that may
// end if_failed.
func TestUnitsAndNames(t *testing.T) {
	page := html.UnescapeString(whole(t))
	for _, u := range quantity.Units() {
		has(t, u.Name, page, "<li><code>"+u.Name+"</code>")
	}
	for _, r := range schema.Roots() {
		has(t, r.Name, page, "<dt><code>"+r.Name+"</code></dt><dd>"+r.Doc)
	}
	for _, k := range register.Sizes() {
		name := k.Path[strings.LastIndexByte(k.Path, '.')+1:]
		if schema.Machine.Attr(name) == nil { // those are attributes, with words of their own
			has(t, k.Path, page, "<dt><code>"+name+"</code></dt>", k.Doc[1:])
		}
	}
	for _, w := range schema.WaysOut() {
		has(t, w.Name, page, "<dt><code>"+w.Name+"</code></dt><dd>"+w.Doc)
	}
}

// wellFormed holds that a page is well formed, needs no other file, and that
// no name that it points to is missing or stands twice.
func wellFormed(t testing.TB, page string) {
	t.Helper()
	ids := map[string]bool{}
	var links []string
	d := xml.NewDecoder(strings.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		if e.Name.Local == "link" || e.Name.Local == "script" {
			t.Errorf("the page needs a %s", e.Name.Local)
		}
		for _, a := range e.Attr {
			switch a.Name.Local {
			case "id":
				if ids[a.Value] {
					t.Errorf("the name %q stands twice", a.Value)
				}
				ids[a.Value] = true
			case "href":
				links = append(links, a.Value)
			case "src":
				t.Errorf("the page needs %q", a.Value)
			}
		}
	}
	for _, l := range links {
		if !strings.HasPrefix(l, "#") || !ids[l[1:]] {
			t.Errorf("the page points to %q", l)
		}
	}
	if len(links) < 50 {
		t.Errorf("only %d links", len(links))
	}
	for _, outside := range []string{"http://", "https://", "url(", "@import"} {
		if strings.Contains(page, outside) {
			t.Errorf("the page names something outside: %s", outside)
		}
	}
}

// The same program writes the same page.
func TestSamePage(t *testing.T) {
	again, err := write()
	if err != nil || again != whole(t) {
		t.Errorf("two pages differ, %v", err)
	}
}
