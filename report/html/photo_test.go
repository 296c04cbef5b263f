package html_test

import (
	"bytes"
	"strings"
	"testing"

	"waywright/report"
	"waywright/report/document"
	"waywright/report/html"
	"waywright/report/reporttest"
)

// A photograph stands in the page itself, with words for who does not see it,
// and what could not be shown says why.
func TestPhotographs(t *testing.T) {
	r, files := reporttest.Photographed()
	r.Evidence[0].Caption = `"dial" <at> zero`
	b, err := report.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	d, err := document.OfIssue(report.Issue{Record: r, JSON: b, Evidence: files})
	if err != nil {
		t.Fatal(err)
	}
	var page bytes.Buffer
	if err := html.Render(&page, d); err != nil {
		t.Fatal(err)
	}
	s := page.String()
	for _, want := range []string{
		`<div class="photo" id="photo-1"><img alt="Photo 1: &#34;dial&#34; &lt;at&gt; zero." width="480" height="300" src="data:image/jpeg;base64,/9j/`,
		`<a href="#photo-1">&#34;dial&#34; &lt;at&gt; zero</a>`, "its hash does not agree", "no small picture is made of a file of this kind",
		"the place (GPS), the maker&#39;s own data",
	} {
		if !strings.Contains(s, want) {
			t.Errorf("%s is not in the page", want)
		}
	}
	if n := strings.Count(s, "<img "); n != 2 {
		t.Errorf("%d pictures, want 2", n)
	}
	if strings.Contains(strings.ReplaceAll(s, "data:image/jpeg", ""), " src=\"http") {
		t.Error("the page asks for something")
	}
}
