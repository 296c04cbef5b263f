// Package explain has a page for every code of a diagnostic: why it matters,
// a procedure that earns it with what is then said, and the same procedure
// mended. The pages are files beside this one; a test proofreads all of them.
package explain

import (
	"embed"
	"strings"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/proofread"
)

//go:embed pages/*.txt
var pages embed.FS

// Page explains a code.
type Page struct {
	diagnose.Entry
	Wrong  Example
	Mended Example
	Said   []string // what is said of the wrong one, under this code; once each
}

// Example is a procedure and what stands beside it.
type Example struct {
	Path  string // what is proofread
	Files []File
}

// File is a file of an example.
type File struct {
	Name  string
	Lines []Line
}

// Line is a line of an example.
type Line struct {
	Text   string // as it is shown: what is very long is cut
	Marked bool   // it earns the code
	Differ bool   // it is not in the other example
	Hidden bool   // it belongs to the file and is not shown

	full string // as it stands in the file
}

// Shown returns the lines to show. A line with … alone stands for lines that
// are left out between others.
func (f File) Shown() []Line {
	var out []Line
	gap := false
	for _, l := range f.Lines {
		if l.Hidden {
			gap = true
			continue
		}
		if gap && len(out) > 0 && strings.TrimSpace(out[len(out)-1].Text) != "…" {
			out = append(out, Line{Text: indent(l.Text) + "…"})
		}
		gap = false
		out = append(out, l)
	}
	return out
}

func indent(s string) string { return s[:len(s)-len(strings.TrimLeft(s, " "))] }

// Text returns the bytes of the file.
func (f File) Text() []byte {
	var b strings.Builder
	for _, l := range f.Lines {
		b.WriteString(l.full + "\n")
	}
	return []byte(b.String())
}

// Named tells whether the example is the name of a file, and not what stands in
// one.
func (e Example) Named() bool { return e.Files[0].Name != e.Path || len(e.Files[0].Shown()) == 0 }

// Proofread proofreads the example.
func (e Example) Proofread() proofread.Result {
	return proofread.File(hclfile.Source{FS: e.folder(), Path: e.Path})
}

// Of returns the page of a code; ok tells whether there is such a code.
func Of(code string) (p Page, ok bool) {
	entry, ok := diagnose.Explain(code)
	if !ok {
		return Page{}, false
	}
	text, err := pages.ReadFile("pages/" + code + ".txt")
	if err != nil {
		panic("explain: " + code + " has no page")
	}
	p = Page{Entry: entry}
	p.Wrong, p.Mended = parse(string(text))
	for _, d := range p.Wrong.Proofread().Diagnostics {
		if d.Code == code && !seen(p.Said, d.Detail) {
			p.Said = append(p.Said, d.Detail)
		}
	}
	return p, true
}

func seen(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// All returns the pages of all codes, in their order.
func All() []Page {
	var out []Page
	for _, c := range diagnose.Codes() {
		p, _ := Of(c)
		out = append(out, p)
	}
	return out
}
