// Package html makes a page of a record: one file that needs nothing else, to
// read on a screen of any width, in the light or the dark, and to print.
//
// The page is made from the record alone. Every text in it is escaped by where
// it stands; control characters and marks that turn the direction of writing
// are replaced, so that a name cannot rearrange the page. Pictures are inline
// SVG, each with its sentence and with its numbers in a table.
package html

import (
	"bytes"
	"crypto/sha256"
	_ "embed" // template and style
	"encoding/hex"
	"fmt"
	"html/template"
	"io"

	"waywright/report"
)

var (
	//go:embed page.tmpl.html
	pageSource string
	//go:embed style.css
	styleSource string

	pageTemplate = template.Must(template.New("page").Funcs(template.FuncMap{
		"when": when, "day": day, "lower": lower, "keep": keep,
	}).Parse(pageSource))
)

// Write writes the page of the record.
func Write(w io.Writer, r report.Record) error {
	v, err := newPage(r)
	if err != nil {
		return err
	}
	var b bytes.Buffer // nothing is written of a page that cannot be finished
	if err := pageTemplate.Execute(&b, v); err != nil {
		return fmt.Errorf("html: %w", err)
	}
	_, err = w.Write(b.Bytes())
	return err
}

// page is what the template shows.
type page struct {
	report.Record
	Style    template.CSS
	Digest   string // of the record's JSON
	Short    string // its first eight characters
	People   []string
	Dates    string
	Counts   string
	Falls    []fall
	Closest  []fall
	Left     []report.Test
	State    []string
	Limits   []string
	Sheet    table
	Tests    []detail
	Parts    []part
	Outcomes string // class of the outcome
}

// part is a part of the page after the tests.
type part struct {
	ID, Title string
	Tables    []table
	None      string // said where there is no table
}

func newPage(r report.Record) (*page, error) {
	b, err := report.Marshal(r)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(b)
	if r, err = report.Parse(b); err != nil { // a copy, to be cleaned
		return nil, err
	}
	clean(&r)
	p := &page{Record: r, Style: template.CSS(styleSource), Digest: hex.EncodeToString(sum[:]), Outcomes: r.Outcome.Word}
	p.Short = p.Digest[:8]
	p.pageOne()
	p.Sheet = sheet(r)
	for _, t := range r.Tests {
		p.Tests = append(p.Tests, newDetail(r, t))
	}
	p.Parts = parts(r)
	return p, nil
}
