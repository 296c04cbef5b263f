// Package html makes a page of a record: one file that needs nothing else, to
// read on a screen of any width, in the light or the dark, and to print.
//
// The page is made from the record, and the signatures beside it, alone: its
// words are those of [waywright/report/document]. Every text in it is escaped
// by where it stands. Pictures are inline SVG, each with its sentence and with
// its numbers in a table.
package html

import (
	_ "embed" // template and style
	"fmt"
	"html/template"
	"io"

	"waywright/report"
	"waywright/report/document"
)

var (
	//go:embed page.tmpl.html
	pageSource string
	//go:embed style.css
	styleSource string

	pageTemplate = template.Must(template.New("page").Parse(pageSource))
)

// Write writes the page of the record, with the signatures that stand beside
// it.
func Write(w io.Writer, r report.Record, sigs ...report.Signature) error {
	d, err := document.Of(r, sigs...)
	if err != nil {
		return err
	}
	return Render(w, d)
}

// Render writes a document as a page.
func Render(w io.Writer, d document.Document) error {
	var b writer // nothing is written of a page that cannot be finished
	err := pageTemplate.Execute(&b.Buffer, struct {
		document.Document
		Style template.CSS
	}{d, template.CSS(styleSource)}) //nolint:gosec // our own style
	if err != nil {
		return fmt.Errorf("html: %w", err)
	}
	b.page(d)
	_, err = w.Write(b.Bytes())
	return err
}
