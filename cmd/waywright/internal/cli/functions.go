package cli

import (
	_ "embed" // the page's template
	"html/template"
	"io"
	"slices"
	"strings"

	"waywright/checks/catalogue"
)

//go:embed functions.tmpl.html
var functionsText string

var functionsPage = template.Must(template.New("functions").Parse(functionsText))

// referenceTheme is a chapter of the reference page.
type referenceTheme struct {
	Name, ID  string
	Functions []referenceFunction
}

// referenceFunction is an entry of the reference page.
type referenceFunction struct {
	Name, Call, Doc, Gives, Signs, Source string
	Params                                []referenceParam
	Tables                                []referenceTable
	Example, Want, ExampleSource          string
}

type referenceParam struct {
	Name, Kind, Doc string
	Optional        bool
}

type referenceTable struct {
	Source string
	Memory bool // its figures are from memory
}

// writeReference writes the reference page of all functions: one file that
// needs no other.
func writeReference(w io.Writer) error {
	themes := make([]referenceTheme, len(catalogue.Themes()))
	n := 0
	for i, name := range catalogue.Themes() {
		themes[i] = referenceTheme{Name: name, ID: "theme-" + strings.ReplaceAll(strings.ToLower(strings.ReplaceAll(name, ",", "")), " ", "-")}
		for _, f := range catalogue.All() {
			if f.Theme == name {
				themes[i].Functions = append(themes[i].Functions, entry(f))
				n++
			}
		}
	}
	return functionsPage.Execute(w, struct {
		Themes []referenceTheme
		Count  int
	}{themes, n})
}

// referencePage prints the page.
func (a *app) referencePage(list, asJSON bool) error {
	switch {
	case !list:
		return cannot("--html goes with --list: waywright calc --list --html > functions.html")
	case asJSON:
		return cannot("--html and --json are two forms of one list: leave one out")
	}
	return writeReference(a.Out)
}

// tables says where values come from that were looked up.
func (a *app) tables(sources []string) {
	for _, s := range sources {
		a.printf("%s", fill("Values from "+s, "", 78))
	}
}

// cites are the sources of all that the formulas of a sheet look up.
func (s *sheet) cites() []string {
	var out []string
	for _, c := range s.cells {
		for _, source := range c.prog.Cites() {
			if !slices.Contains(out, source) {
				out = append(out, source)
			}
		}
	}
	return out
}

func entry(f *catalogue.Func) referenceFunction {
	r := referenceFunction{
		Name: f.Name, Call: f.Signature(), Doc: capital(f.Doc), Gives: f.Gives(), Signs: f.Signs, Source: f.Source,
		Example: f.Example.Expr, Want: f.Example.Want, ExampleSource: f.Example.Source,
	}
	kinds := f.Kinds()
	for i, p := range f.Params {
		r.Params = append(r.Params, referenceParam{p.Name, kinds[i], p.Doc, p.Optional})
	}
	for _, s := range f.Tables {
		r.Tables = append(r.Tables, referenceTable{s, strings.Contains(s, "from memory")})
	}
	return r
}
