package html

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html"
	"strconv"
	"strings"

	"waywright/report/document"
	"waywright/report/draw"
)

// writer writes elements. Text goes through text, or into an attribute in
// double quotes through attribute; nothing else that is written comes from a
// record, but pictures, which escape their own lettering.
type writer struct{ bytes.Buffer }

func (w *writer) tag(s string)  { w.WriteString(s) }
func (w *writer) text(s string) { w.WriteString(html.EscapeString(s)) }

// within writes text inside an element.
func (w *writer) within(open, s, end string) {
	w.tag(open)
	w.text(s)
	w.tag(end)
}

// attribute is a text as an attribute's value.
func attribute(s string) string { return `"` + html.EscapeString(s) + `"` }

func (w *writer) page(d document.Document) {
	w.tag(`<body` + draftClass(d.Draft) + `>
<a class="skip" href="#outcome">To the outcome</a>
<header>
`)
	w.within("<h1>", d.Title, "</h1>\n")
	w.blocks(d.Head)
	w.tag("</header>\n\n<main>\n")
	for i, p := range d.Parts {
		w.part(p, d.Draft)
		if i == 0 {
			w.contents(d)
		}
	}
	w.tag("</main>\n<footer>")
	w.within(`<p class="end">`, d.End, "</p>")
	w.within("<p>", "No. "+d.Number+" · "+d.Short, "</p>")
	w.tag("</footer>\n</body>\n</html>\n")
}

func draftClass(draft bool) string {
	if draft {
		return ` class="is-draft"`
	}
	return ""
}

func (w *writer) part(p document.Part, draft bool) {
	class := ""
	if p.Form != document.Flowing {
		class = ` class="` + strings.ReplaceAll(string(p.Form), "_", "-") + `"`
	}
	fmt.Fprintf(w, `<section id=%s%s aria-labelledby=%s>`+"\n", attribute(p.ID), class, attribute("h-"+p.ID))
	fmt.Fprintf(w, `<h2 id=%s>`, attribute("h-"+p.ID))
	w.text(p.Title)
	if draft {
		w.tag(` <span class="draft">Draft</span>`)
	}
	w.tag("</h2>\n")
	w.blocks(p.Blocks)
	w.tag("</section>\n\n")
}

func (w *writer) contents(d document.Document) {
	w.tag("<nav aria-labelledby=\"h-contents\">\n<h2 id=\"h-contents\">Contents</h2>\n<ol>\n")
	for _, p := range d.Parts {
		fmt.Fprintf(w, `<li><a href=%s>`, attribute("#"+p.ID))
		w.text(p.Title)
		w.tag("</a>")
		if ts := p.Tests(); len(ts) > 0 {
			w.tag("<ol>")
			for _, t := range ts {
				fmt.Fprintf(w, `<li value="%d"><a href=%s>`, t.No, attribute("#"+t.ID))
				w.text(t.Title)
				w.tag("</a>")
				w.within(` <span class="word">`, t.Word, "</span></li>")
			}
			w.tag("</ol>")
		}
		w.tag("</li>\n")
	}
	w.tag("</ol>\n</nav>\n\n")
}

func (w *writer) blocks(bs []document.Block) {
	for _, b := range bs {
		w.block(b)
	}
}

func (w *writer) block(b document.Block) {
	switch b := b.(type) {
	case document.Paragraph:
		w.paragraph(b)
	case document.Heading:
		level := strconv.Itoa(b.Level)
		w.within("<h"+level+">", b.Text, "</h"+level+">\n")
	case document.Facts:
		w.facts(b)
	case document.List:
		w.list(b)
	case document.Table:
		w.table(b)
	case document.Figure:
		w.figure(b)
	case document.Photo:
		w.photo(b)
	case document.Command:
		w.within(`<pre class="command"><code>`, strings.Join(b.Lines, "\n"), "</code></pre>\n")
	case document.Test:
		w.test(b)
	case document.Fields:
		w.fields(b)
	case document.Ink:
		w.within(`<p class="ink">`, b.Text, "</p>\n")
	default:
		panic(fmt.Sprintf("html: unknown block %T", b))
	}
}

func (w *writer) paragraph(p document.Paragraph) {
	class := ""
	if p.Style != document.Plain {
		class = ` class="` + string(p.Style) + `"`
	}
	w.tag("<p" + class + ">")
	w.line(p.Line)
	w.tag("</p>\n")
}

func (w *writer) line(l document.Line) {
	for _, r := range l {
		end := ""
		if r.Ref != "" {
			w.tag("<a href=" + attribute("#"+r.Ref) + ">")
			end = "</a>"
		}
		if r.Time != "" {
			w.tag("<time datetime=" + attribute(r.Time) + ">")
			end = "</time>" + end
		}
		if r.Strong {
			w.tag("<strong>")
			end = "</strong>" + end
		}
		if r.Code {
			w.tag("<code>")
			end = "</code>" + end
		}
		w.within("", r.Text, end)
	}
}

func (w *writer) lines(ls []document.Line, class string) {
	for _, l := range ls {
		w.tag(`<span class="` + class + `">`)
		w.line(l)
		w.tag("</span>")
	}
}

func (w *writer) facts(f document.Facts) {
	class := "facts"
	if f.Work {
		class = "facts working"
	}
	w.tag(`<dl class="` + class + `">` + "\n")
	for _, x := range f.Rows {
		w.within("<div><dt>", x.Name, "</dt><dd>")
		if len(x.Lines) == 1 {
			w.line(x.Lines[0])
		} else {
			w.lines(x.Lines, "line")
		}
		w.tag("</dd></div>\n")
	}
	w.tag("</dl>\n")
}

func (w *writer) list(l document.List) {
	open, end := "<ul>", "</ul>\n"
	switch l.Style {
	case document.Ordered:
		open, end = `<ol class="check">`, "</ol>\n"
	case document.Falls:
		open = `<ul class="falls">`
	}
	w.tag(open + "\n")
	for _, x := range l.Items {
		w.tag("<li>")
		if l.Style == document.Falls {
			fmt.Fprintf(w, `<b class="no">%d</b> `, x.No)
		}
		w.line(x.Line)
		w.lines(x.Under, "note")
		w.blocks(x.Blocks)
		w.tag("</li>\n")
	}
	w.tag(end)
}

func (w *writer) test(t document.Test) {
	fmt.Fprintf(w, `<article id=%s aria-labelledby=%s>`+"\n", attribute(t.ID), attribute("h-"+t.ID))
	fmt.Fprintf(w, `<h3 id=%s><span class="no">%d</span> `, attribute("h-"+t.ID), t.No)
	w.within("", t.Title, "</h3>\n")
	w.blocks(t.Blocks)
	w.tag("</article>\n")
}

func (w *writer) figure(f document.Figure) {
	w.tag("<figure>" + draw.SVG(f.Picture, f.ID))
	w.within("<figcaption>", f.Caption, "</figcaption></figure>\n")
	if f.Numbers == nil {
		return
	}
	open := " open"
	if len(f.Numbers.Rows) > mostOpen {
		open = ""
	}
	w.within("<details"+open+"><summary>", f.Numbers.Caption, "</summary>\n")
	w.table(*f.Numbers)
	w.tag("</details>\n")
}

// photo puts a photograph beside what is to be said of it.
func (w *writer) photo(p document.Photo) {
	fmt.Fprintf(w, `<div class="photo" id=%s>`, attribute(p.ID))
	if i := p.Image; i != nil {
		fmt.Fprintf(w, `<img alt=%s width="%d" height="%d" src="data:image/jpeg;base64,%s">`,
			attribute(i.Says), i.Width, i.Height, base64.StdEncoding.EncodeToString(i.JPEG))
	}
	w.facts(p.Facts)
	w.tag("</div>\n")
}

// mostOpen is how many rows the numbers of a picture may have to stand open.
const mostOpen = 30
