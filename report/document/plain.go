package document

import (
	"fmt"
	"io"
	"strings"
)

// WritePlain writes the document as plain text: every word of it, in the order
// of reading, a cell of a table to a line under the head of its column.
// Pictures are their captions.
func WritePlain(w io.Writer, d Document) error {
	var p plainWriter
	if d.Draft {
		p.line(0, "DRAFT")
	}
	p.line(0, d.Title)
	p.blocks(d.Head)
	for _, part := range d.Parts {
		p.line(0, "")
		p.line(0, strings.ToUpper(part.Title))
		p.blocks(part.Blocks)
	}
	p.line(0, "")
	p.line(0, d.End)
	number := ""
	if d.Number != "" {
		number = "No. " + d.Number + " · "
	}
	p.line(0, fmt.Sprintf("%s%s · %s", number, d.Item, d.Short))
	_, err := io.WriteString(w, p.b.String())
	return err
}

type plainWriter struct{ b strings.Builder }

func (p *plainWriter) line(in int, s string) {
	p.b.WriteString(strings.TrimRight(strings.Repeat("  ", in)+strings.ReplaceAll(s, "\u00a0", " "), " ") + "\n")
}

func (p *plainWriter) blocks(bs []Block) {
	for _, b := range bs {
		p.block(b)
	}
}

func (p *plainWriter) block(b Block) {
	switch b := b.(type) {
	case Paragraph:
		p.line(0, b.Line.String())
	case Heading:
		p.line(0, "")
		p.line(0, b.Text)
	case Facts:
		for _, f := range b.Rows {
			p.line(0, f.Name)
			p.lines(1, f.Lines)
		}
	case List:
		p.list(b)
	case Table:
		p.table(b)
	case Figure:
		p.line(0, "")
		p.line(0, "Picture: "+b.Caption)
		if b.Numbers != nil {
			p.table(*b.Numbers)
		}
	case Photo:
		p.line(0, "")
		p.block(b.Facts)
	case Command:
		for _, s := range b.Lines {
			p.line(2, s)
		}
	case Test:
		p.line(0, "")
		p.line(0, fmt.Sprintf("%d  %s", b.No, b.Title))
		p.blocks(b.Blocks)
	case Fields:
		p.fields(b)
	case Ink:
		p.line(0, b.Text+" ________________")
	}
}

func (p *plainWriter) lines(in int, ls []Line) {
	for _, l := range ls {
		p.line(in, l.String())
	}
}

func (p *plainWriter) list(l List) {
	for i, x := range l.Items {
		mark := "- "
		switch l.Style {
		case Ordered:
			mark = fmt.Sprintf("%d. ", i+1)
		case Falls:
			mark = fmt.Sprintf("%d  ", x.No)
		}
		p.line(0, mark+x.Line.String())
		p.lines(1, x.Under)
		p.blocks(x.Blocks)
	}
}

func (p *plainWriter) table(t Table) {
	p.line(0, "")
	p.line(0, t.Caption)
	for _, r := range t.Rows {
		if r.Group != "" {
			p.line(0, r.Group)
			continue
		}
		for i, c := range r.Cells {
			if c.Empty() {
				continue
			}
			head := ""
			if i < len(t.Columns) && i > 0 {
				head = t.Columns[i].Head + ": "
			}
			in := min(i, 1) + 1
			p.line(in, head+c.Text)
			for _, n := range c.Notes {
				p.line(in+1, n)
			}
		}
	}
}

// String is the text of the line.
func (l Line) String() string {
	var b strings.Builder
	for _, r := range l {
		b.WriteString(r.Text)
	}
	return b.String()
}
