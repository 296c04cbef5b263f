package html

import (
	"fmt"

	"waywright/report/document"
	"waywright/report/draw"
)

// table writes a table. On a narrow screen each row of a table of many words
// becomes a card whose cells carry the heads of their columns. Roles are said,
// because a style that turns rows into cards would take them away.
func (w *writer) table(t document.Table) {
	div, class := `<div class="scroll"`, "cards"
	switch {
	case t.Kind == document.Sheet:
		div = `<div class="scroll wide"`
	case t.Kind == document.Narrow:
		class = "plain"
		if len(t.Columns) > mostStill {
			div += ` tabindex="0" role="region" aria-label=` + attribute(t.Caption)
		}
	}
	w.tag(div + ">\n" + `<table role="table" class="` + class + `">` + "\n")
	w.within("<caption>", t.Caption, "</caption>\n")
	w.tag(`<thead role="rowgroup"><tr role="row">`)
	for _, c := range t.Columns {
		w.within(`<th role="columnheader" scope="col"`+figures(c)+`>`, c.Head, "</th>")
	}
	w.tag("</tr></thead>\n" + `<tbody role="rowgroup">`)
	for i, r := range t.Rows {
		if r.Group == "" {
			w.row(t, r)
			continue
		}
		if i > 0 {
			w.tag(`</tbody><tbody role="rowgroup">`)
		}
		fmt.Fprintf(w, "\n"+`<tr role="row" class="group"><th role="rowheader" scope="rowgroup" colspan="%d">`, len(t.Columns))
		w.within("", r.Group, "</th></tr>")
	}
	w.tag("\n</tbody></table></div>\n")
}

// mostStill is how many columns a narrow table may have and never need to
// scroll.
const mostStill = 4

func figures(c document.Column) string {
	if c.Figures {
		return ` class="r"`
	}
	return ""
}

func (w *writer) row(t document.Table, r document.Row) {
	w.tag("\n" + `<tr role="row">`)
	for i, c := range r.Cells {
		var column document.Column
		if i < len(t.Columns) {
			column = t.Columns[i]
		}
		class := ""
		switch {
		case c.Empty():
			class = ` class="none"`
		case column.Figures:
			class = ` class="n r"`
		case c.Figure:
			class = ` class="n"`
		}
		open, end := `<td role="cell"`, "</div></td>"
		if i == 0 {
			open, end = `<th role="rowheader" scope="row"`, "</div></th>"
		}
		w.tag(open + ` data-label=` + attribute(column.Head) + class + `><div>`)
		w.cell(c)
		w.tag(end)
	}
	w.tag("</tr>")
}

func (w *writer) cell(c document.Cell) {
	if c.Picture != nil {
		w.tag(draw.SVG(*c.Picture, c.Picture.Name))
	}
	if c.Text != "" {
		w.line(document.Line{{Text: c.Text, Strong: c.Strong, Ref: c.Ref, Time: c.Time}})
	}
	class := "line"
	if c.Text != "" {
		class = "note"
	}
	for _, n := range c.Notes {
		w.within(`<span class="`+class+`">`, n, "</span>")
	}
}
