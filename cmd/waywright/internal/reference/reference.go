// Package reference writes the reference of the language as one page: how a
// procedure is written, every block and attribute, every function, every code
// of a diagnostic, the units, and the words of outcomes. It is made from what
// the program itself reads by, so that it cannot say anything else.
package reference

import (
	"bytes"
	_ "embed" // the page
	"fmt"
	"html"
	"html/template"
	"io"
	"strings"

	"waywright/checks/catalogue"
	"waywright/checks/quantity"
	"waywright/procedures/explain"
	"waywright/procedures/hclfile/schema"
)

var (
	//go:embed text/language.md
	language string
	//go:embed text/formulas.md
	formulas string
	//go:embed text/typing.md
	typing string
	//go:embed page.tmpl.html
	pageText string
	//go:embed style.css
	style string
)

var templates = template.Must(template.New("page").Funcs(template.FuncMap{
	"style":  func() template.CSS { return template.CSS(style) },
	"inline": func(s string) template.HTML { return template.HTML(inline(s)) },
	"text":   capitalSentence,
	"wrong":  func(p explain.Page) template.HTML { return example(p.Wrong, false) },
	"mended": func(p explain.Page) template.HTML { return example(p.Mended, true) },
}).Parse(pageText))

// page is what the template shows.
type page struct {
	Version   string
	Tutorial  chapter
	Language  chapter
	Formulas  chapter
	Typing    chapter
	Files     []fileKind
	Roots     []schema.Root
	WaysOut   []schema.WayOut
	Units     []unit
	Themes    []theme
	Functions int
	Words     []wordList
	Codes     []codeGroup
	Count     int // of codes
}

// chapter is a text with its headings.
type chapter struct {
	Title string
	HTML  template.HTML
	Heads []heading
}

func chapterOf(text, prefix string) chapter {
	c := chapter{Title: strings.TrimPrefix(firstLine(text), "# ")}
	c.HTML, c.Heads = render(text, prefix)
	return c
}

func firstLine(s string) string {
	line, _, _ := strings.Cut(s, "\n")
	return line
}

// unit is a unit that has a name.
type unit struct{ Name, Symbol, What, Literal string }

func units() []unit {
	literals := map[string]string{}
	for _, l := range quantity.Literals() {
		literals[l.Unit.Name] = l.Name
	}
	var out []unit
	for _, u := range quantity.Units() {
		x := unit{Name: u.Name, Symbol: u.Symbol, What: u.What()}
		if l := literals[u.Name]; l != "" {
			x.Literal = l + "(…)"
		}
		out = append(out, x)
	}
	return out
}

// codeGroup are the codes of one kind.
type codeGroup struct {
	ID, Title, Doc string
	Pages          []explain.Page
}

func codes() ([]codeGroup, int) {
	out := []codeGroup{
		{ID: "codes-e", Title: "Errors", Doc: "A file with an error cannot be used."},
		{ID: "codes-f", Title: "Errors in formulas", Doc: "So are these; they are about what stands inside an expression."},
		{ID: "codes-w", Title: "Warnings", Doc: "A file with a warning can be used; a careful author would look. One that is meant to stay is answered by a comment on its line with its code and a reason: # W604: a finer indicator comes in spring."},
	}
	n := 0
	for _, p := range explain.All() {
		i := strings.IndexByte("EFW", p.Code[0])
		out[i].Pages = append(out[i].Pages, p)
		n++
	}
	return out, n
}

// example writes the files of an example, the lines that matter marked. A mark
// is a sign too, for who prints it or does not see colours.
func example(e explain.Example, mended bool) template.HTML {
	var b strings.Builder
	class := ""
	if mended {
		class = ` class="new"`
	}
	if e.Named() {
		fmt.Fprintf(&b, "<pre tabindex=\"0\"><code>waywright proofread %s</code></pre>", html.EscapeString(e.Path))
	}
	for _, f := range e.Files {
		lines := f.Shown()
		if len(lines) == 0 {
			continue
		}
		if f.Name != "example.hcl" || len(e.Files) > 1 {
			fmt.Fprintf(&b, "<figcaption>%s</figcaption>", html.EscapeString(f.Name))
		}
		b.WriteString(`<pre tabindex="0"><code>`)
		for _, l := range lines {
			if text := html.EscapeString(l.Text); mended && l.Differ || !mended && l.Marked {
				fmt.Fprintf(&b, "<mark%s>%s</mark>\n", class, text)
			} else {
				fmt.Fprintf(&b, "<span class=\"pad\">%s</span>\n", text)
			}
		}
		b.WriteString("</code></pre>")
	}
	return template.HTML(b.String())
}

// Write writes the whole page.
func Write(w io.Writer, version string) error {
	p := page{
		Version:  version,
		Tutorial: chapterOf(tutorial, "tutorial"), Language: chapterOf(language, "language"),
		Formulas: chapterOf(formulas, "formulas"), Typing: chapterOf(typing, "typing"),
		Files: files(), Roots: schema.Roots(), WaysOut: schema.WaysOut(), Units: units(), Words: words(),
	}
	p.Themes, p.Functions = themes()
	p.Codes, p.Count = codes()
	return run(w, "reference", p)
}

// WriteFunctions writes a page of the functions alone.
func WriteFunctions(w io.Writer, version string) error {
	p := page{Version: version}
	p.Themes, p.Functions = themes()
	return run(w, "functions-page", p)
}

// run writes a page whole or not at all.
func run(w io.Writer, name string, p page) error {
	var b bytes.Buffer
	if err := templates.ExecuteTemplate(&b, name, p); err != nil {
		return err
	}
	_, err := w.Write(b.Bytes())
	return err
}

// theme is a chapter of functions.
type theme struct {
	Name, ID  string
	Functions []function
}

// function is an entry of the page.
type function struct {
	Name, Call, Doc, Gives, Signs, Source string
	Params                                []param
	Tables                                []looked
	Example, Want, ExampleSource          string
}

type param struct {
	Name, Kind, Doc string
	Optional        bool
}

// looked is a table that a function looks values up in.
type looked struct {
	Source string
	Memory bool // its figures are from memory
}

func themes() (out []theme, n int) {
	for _, name := range catalogue.Themes() {
		t := theme{Name: name, ID: "theme-" + slug(name)}
		for _, f := range catalogue.All() {
			if f.Theme == name {
				t.Functions = append(t.Functions, functionOf(f))
				n++
			}
		}
		out = append(out, t)
	}
	return out, n
}

func functionOf(f *catalogue.Func) function {
	r := function{
		Name: f.Name, Call: f.Signature(), Doc: capitalSentence(f.Doc), Gives: f.Gives(), Signs: f.Signs, Source: f.Source,
		Example: f.Example.Expr, Want: f.Example.Want, ExampleSource: f.Example.Source,
	}
	kinds := f.Kinds()
	for i, p := range f.Params {
		r.Params = append(r.Params, param{p.Name, kinds[i], p.Doc, p.Optional})
	}
	for _, s := range f.Tables {
		r.Tables = append(r.Tables, looked{s, strings.Contains(s, "from memory")})
	}
	return r
}

// capitalSentence begins with a capital and ends with a full stop.
func capitalSentence(s string) string {
	if s == "" {
		return s
	}
	s = strings.ToUpper(s[:1]) + s[1:]
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}
