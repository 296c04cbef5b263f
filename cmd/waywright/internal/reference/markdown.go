package reference

import (
	"fmt"
	"html"
	"html/template"
	"regexp"
	"strconv"
	"strings"
)

// Piece is a part of a text: a heading, a paragraph, a list, a table or a
// block of code. The texts of the reference are written in a small part of
// Markdown.
type Piece struct {
	Kind  string   // h2, h3, p, ul, ol, table, code
	Text  string   // of a heading, a paragraph, code
	Lines []string // of a list or table
	Info  Info     // of code
}

// Info is what stands behind the fence of a block of code.
type Info struct {
	Lang  string // hcl, text, console
	File  string // the whole of this file
	In    string // a part of this file: its blocks take the place of those with their names
	Below string // new blocks come below this one
	Code  int    // of console: what the command ends with
}

var (
	fence   = regexp.MustCompile("^```(.*)$")
	bullet  = regexp.MustCompile(`^- `)
	ordinal = regexp.MustCompile(`^\d+\. `)
	attr    = regexp.MustCompile(`(file|in|below|code)=("(?:[^"\\]|\\.)*"|\S+)`)
)

// pieces takes a text apart.
func pieces(text string) []Piece {
	var out []Piece
	lines := strings.Split(text, "\n")
	for i := 0; i < len(lines); {
		line := lines[i]
		switch {
		case strings.TrimSpace(line) == "":
			i++
		case fence.MatchString(line):
			p := Piece{Kind: "code", Info: info(fence.FindStringSubmatch(line)[1])}
			for i++; i < len(lines) && lines[i] != "```"; i++ {
				p.Text += lines[i] + "\n"
			}
			i++
			out = append(out, p)
		case strings.HasPrefix(line, "# "):
			out = append(out, Piece{Kind: "h2", Text: line[2:]})
			i++
		case strings.HasPrefix(line, "## "):
			out = append(out, Piece{Kind: "h3", Text: line[3:]})
			i++
		case bullet.MatchString(line), ordinal.MatchString(line):
			kind, mark := "ul", bullet
			if ordinal.MatchString(line) {
				kind, mark = "ol", ordinal
			}
			var items []string
			for ; i < len(lines) && strings.TrimSpace(lines[i]) != ""; i++ {
				if mark.MatchString(lines[i]) {
					items = append(items, mark.ReplaceAllString(lines[i], ""))
				} else {
					items[len(items)-1] += " " + strings.TrimSpace(lines[i])
				}
			}
			out = append(out, Piece{Kind: kind, Lines: items})
		case strings.HasPrefix(line, "|"):
			p := Piece{Kind: "table"}
			for ; i < len(lines) && strings.HasPrefix(lines[i], "|"); i++ {
				p.Lines = append(p.Lines, lines[i])
			}
			out = append(out, p)
		default:
			var para []string
			for ; i < len(lines) && strings.TrimSpace(lines[i]) != "" && !fence.MatchString(lines[i]); i++ {
				para = append(para, lines[i])
			}
			out = append(out, Piece{Kind: "p", Text: strings.Join(para, " ")})
		}
	}
	return out
}

func info(s string) Info {
	in := Info{Lang: strings.Fields(s + " text")[0]}
	for _, m := range attr.FindAllStringSubmatch(s, -1) {
		v := m[2]
		if u, err := strconv.Unquote(v); err == nil {
			v = u
		}
		switch m[1] {
		case "file":
			in.File = v
		case "in":
			in.In = v
		case "below":
			in.Below = v
		case "code":
			_, _ = fmt.Sscan(v, &in.Code) // a test looks at the codes
		}
	}
	return in
}

// heading is a heading of a text, for the table of contents.
type heading struct{ ID, Title string }

// render writes a text as HTML. The names of its headings begin with prefix.
func render(text, prefix string) (out template.HTML, heads []heading) {
	var b strings.Builder
	files := map[string]string{} // as far as the text has come
	for _, p := range pieces(text) {
		switch p.Kind {
		case "h2":
			// the chapter's own heading is the page's
		case "h3":
			h := heading{prefix + "-" + slug(p.Text), p.Text}
			heads = append(heads, h)
			fmt.Fprintf(&b, "<h3 id=%q>%s</h3>\n", h.ID, inline(p.Text))
		case "p":
			fmt.Fprintf(&b, "<p>%s</p>\n", inline(p.Text))
		case "ul", "ol":
			fmt.Fprintf(&b, "<%s>\n", p.Kind)
			for _, l := range p.Lines {
				fmt.Fprintf(&b, "<li>%s</li>\n", inline(l))
			}
			fmt.Fprintf(&b, "</%s>\n", p.Kind)
		case "table":
			table(&b, p.Lines)
		case "code":
			b.WriteString(code(p, files[p.Info.In]))
			switch in := p.Info; {
			case in.File != "":
				files[in.File] = p.Text
			case in.In != "": // a test holds that all of it can be put in
				if text, err := Put(files[in.In], p.Text, in.Below); err == nil {
					files[in.In] = text
				}
			}
		}
	}
	return template.HTML(b.String()), heads
}

func table(b *strings.Builder, lines []string) {
	cells := func(line string) []string {
		parts := strings.Split(strings.Trim(line, "|"), " | ")
		for i := range parts {
			parts[i] = strings.TrimSpace(parts[i])
		}
		return parts
	}
	head := cells(lines[0])
	b.WriteString("<table class=\"cards\"><thead><tr>")
	for _, c := range head {
		fmt.Fprintf(b, "<th scope=\"col\">%s</th>", inline(c))
	}
	b.WriteString("</tr></thead><tbody>\n")
	for _, l := range lines[2:] {
		b.WriteString("<tr>")
		for i, c := range cells(l) {
			tag := "td"
			if i == 0 {
				tag = `th scope="row"`
			}
			label := ""
			if i < len(head) {
				label = html.EscapeString(head[i])
			}
			fmt.Fprintf(b, "<%s data-label=%q><div>%s</div></%s>", tag, label, inline(c), strings.Fields(tag)[0])
		}
		b.WriteString("</tr>\n")
	}
	b.WriteString("</tbody></table>\n")
}

// code writes a block of code. Of one that takes the place of another in a
// file, the lines that are new are marked.
func code(p Piece, file string) string {
	where := ""
	switch {
	case p.Info.File != "":
		where = "<figcaption>" + html.EscapeString(p.Info.File) + "</figcaption>"
	case p.Info.Below != "":
		where = "<figcaption>" + html.EscapeString(p.Info.In) + ", new, below <code>" + html.EscapeString(p.Info.Below) + "</code></figcaption>"
	case p.Info.In != "":
		where = "<figcaption>" + html.EscapeString(p.Info.In) + ", in the place of what has its name; + stands before what is new</figcaption>"
	}
	text := html.EscapeString(strings.TrimRight(p.Text, "\n"))
	if p.Info.In != "" && p.Info.Below == "" {
		text = marked(p.Text, file)
	}
	return fmt.Sprintf("<figure class=\"code %s\">%s<pre tabindex=\"0\"><code>%s</code></pre></figure>\n", p.Info.Lang, where, text)
}

// marked writes lines, those that a file does not have marked.
func marked(text, file string) string {
	old := map[string]int{}
	for _, l := range strings.Split(file, "\n") {
		old[l]++
	}
	var b strings.Builder
	for _, l := range strings.Split(strings.TrimRight(text, "\n"), "\n") {
		if old[l]--; old[l] < 0 {
			fmt.Fprintf(&b, "<mark class=\"new\">%s</mark>\n", html.EscapeString(l))
			continue
		}
		fmt.Fprintf(&b, "<span class=\"pad\">%s</span>\n", html.EscapeString(l))
	}
	return b.String()
}

var (
	inCode  = regexp.MustCompile("`([^`]+)`")
	strong  = regexp.MustCompile(`\*\*([^*]+)\*\*`)
	link    = regexp.MustCompile(`\[([^\]]+)\]\((#[^)\s]+)\)`)
	noAscii = regexp.MustCompile(`[^a-z0-9]+`)
)

// inline writes a line of text with its code, links and strong words.
func inline(s string) string {
	var kept []string
	s = inCode.ReplaceAllStringFunc(s, func(m string) string {
		kept = append(kept, "<code>"+html.EscapeString(m[1:len(m)-1])+"</code>")
		return fmt.Sprintf("\x00%d\x00", len(kept)-1)
	})
	s = html.EscapeString(s)
	s = strong.ReplaceAllString(s, "<strong>$1</strong>")
	s = link.ReplaceAllString(s, `<a href="$2">$1</a>`)
	for i, k := range kept {
		s = strings.ReplaceAll(s, fmt.Sprintf("\x00%d\x00", i), k)
	}
	return s
}

// slug makes a name for a place in the page.
func slug(s string) string {
	return strings.Trim(noAscii.ReplaceAllString(strings.ToLower(s), "-"), "-")
}
