// Package pdf prints a record on sheets of paper, as a PDF file.
//
// The words are those of [waywright/report/document], in their order; this
// package decides where a line and a sheet end. The fonts are embedded, as far
// as their letters are used; pictures are lines and areas, not dots; the text
// can be searched and copied. Every sheet says which record it is of, of which
// machine, how many there are, and DRAFT while nothing may be concluded. The
// record's JSON is inside the file as an attachment.
//
// The same document on the same paper gives the same bytes: the dates are those
// of the record, the identifier is its digest. The file is not tagged, and no
// conformance to a profile of PDF is claimed; page one names the page that is
// fit for screen readers.
//
// Lengths are in points of 1/72 inch, y down from the upper edge.
package pdf

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"waywright/report"
	"waywright/report/document"
)

// Paper is a size of paper.
type Paper string

// The sizes of paper.
const (
	A4     Paper = "A4"
	Letter Paper = "Letter"
)

// ParsePaper returns the paper that somebody names.
func ParsePaper(s string) (Paper, error) {
	for _, p := range []Paper{A4, Letter} {
		if strings.EqualFold(s, string(p)) {
			return p, nil
		}
	}
	return "", fmt.Errorf("pdf: no paper %q: there are A4 and Letter", s)
}

// size is that of a sheet that stands upright.
func (p Paper) size() (w, h float64) {
	if p == Letter {
		return 612, 792
	}
	return 595.28, 841.89
}

// Write prints the record on A4, or on the paper that is named, with the
// signatures that stand beside it.
func Write(w io.Writer, r report.Record, p Paper, sigs ...report.Signature) error {
	d, err := document.Of(r, sigs...)
	if err != nil {
		return err
	}
	return Render(w, d, p)
}

// Render prints a document.
func Render(w io.Writer, d document.Document, p Paper) error {
	l, err := lay(d, p)
	if err != nil {
		return err
	}
	b, err := l.print(d)
	if err != nil {
		return err
	}
	if b, err = finish(b, d, l); err != nil {
		return err
	}
	_, err = w.Write(b)
	return err
}

// print paints the sheets.
func (l *layout) print(d document.Document) ([]byte, error) {
	wide, high := l.paper.size()
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: fpdf.SizeType{Wd: wide, Ht: high}})
	f.SetCatalogSort(true)
	f.SetCompression(true)
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	at := stampOf(d.Time)
	f.SetCreationDate(at)
	f.SetModificationDate(at)
	for _, x := range l.faces.all() {
		f.AddUTF8FontFromBytes(x.family, x.style, slices.Clone(x.ttf)) // what it is given it writes into
	}
	p := &painter{f: f, l: l, links: map[string]int{}}
	for _, id := range l.order {
		t := l.targets[id]
		p.links[id] = f.AddLink()
		f.SetLink(p.links[id], t.y, t.page)
	}
	for i, s := range l.sheets {
		turn := "P"
		if s.lying {
			turn = "L"
		}
		f.AddPageFormat(turn, fpdf.SizeType{Wd: wide, Ht: high})
		p.begin()
		l.edges(p, d, i+1)
		for _, op := range s.ops {
			op(p)
		}
	}
	var b bytes.Buffer
	if err := f.Output(&b); err != nil {
		return nil, fmt.Errorf("pdf: %w", err)
	}
	return b.Bytes(), nil
}
