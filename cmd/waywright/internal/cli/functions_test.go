package cli

import (
	"bytes"
	"encoding/xml"
	"html"
	"io"
	"strings"
	"testing"

	"waywright/checks/catalogue"
)

// TestReferencePage: the page has every function with its parameters, sign,
// source and example, is well formed, needs no other file, and no name that it
// points to is missing.
func TestReferencePage(t *testing.T) {
	var b bytes.Buffer
	if err := writeReference(&b); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	for _, f := range catalogue.All() {
		_, entry, ok := strings.Cut(page, `<article id="`+f.Name+`">`)
		if !ok {
			t.Errorf("%s is not on the page", f.Name)
			continue
		}
		entry, _, _ = strings.Cut(entry, "</article>")
		entry = html.UnescapeString(entry)
		want := []string{f.Signature(), f.Source, f.Example.Expr, f.Example.Want, f.Example.Source, f.Signs}
		for i, p := range f.Params {
			want = append(want, p.Name, p.Doc, f.Kinds()[i])
		}
		for _, w := range append(want, f.Tables...) {
			if !strings.Contains(entry, w) {
				t.Errorf("%s: the page does not say %q", f.Name, w)
			}
		}
	}
	ids := map[string]bool{}
	var links []string
	d := xml.NewDecoder(&b)
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
}
