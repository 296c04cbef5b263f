package html

import "waywright/report/document"

// fields lists what is to be written down by hand. A page is not written on:
// rooms stand as signs.
func (w *writer) fields(f document.Fields) {
	w.tag("<dl class=\"facts\">\n")
	for _, r := range f.Rows {
		w.tag("<div><dt>")
		w.text(r.No + "  ")
		w.line(r.Line)
		w.tag("</dt><dd>")
		w.lines(r.Under, "line")
		for _, x := range r.Rooms {
			w.within(`<span class="line">`, x.String(), "</span>")
		}
		w.tag("</dd></div>\n")
	}
	w.tag("</dl>\n")
}
