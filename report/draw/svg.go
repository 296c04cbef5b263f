package draw

import (
	"fmt"
	"html"
	"strconv"
	"strings"
	"unicode"
)

// SVG writes the picture as an svg element to stand in a page. The ids of its
// title and description begin with id, which must be unique in the page and
// hold only letters, figures and hyphens. Colours and lines come from the
// page's style: each mark has the class "d-" and its own.
func SVG(p Picture, id string) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="drawing" viewBox="0 0 %s %s" role="img" aria-labelledby="%s-t %s-d">`,
		num(p.W), num(p.H), id, id)
	fmt.Fprintf(&b, `<title id="%s-t">%s</title><desc id="%s-d">%s</desc>`, id, esc(p.Title), id, esc(p.Desc))
	for _, m := range p.Marks {
		writeMark(&b, m)
	}
	b.WriteString("</svg>")
	return b.String()
}

func writeMark(b *strings.Builder, m Mark) {
	switch m := m.(type) {
	case Rect:
		fmt.Fprintf(b, `<rect class="d-%s" x="%s" y="%s" width="%s" height="%s"/>`,
			m.Class, num(m.X), num(m.Y), num(m.W), num(m.H))
	case Line:
		name := "polyline"
		if m.Closed {
			name = "polygon"
		}
		fmt.Fprintf(b, `<%s class="d-%s" points="%s"/>`, name, m.Class, points(m.Points))
	case Curve:
		fmt.Fprintf(b, `<path class="d-%s" d="%s"/>`, m.Class, bends(m.Points))
	case Label:
		fmt.Fprintf(b, `<text class="d-%s" x="%s" y="%s" text-anchor="%s">%s</text>`,
			m.Class, num(m.X), num(m.Y), m.Anchor, esc(m.Text))
	case Dot:
		writeDot(b, m)
	default:
		panic(fmt.Sprintf("draw: unknown mark %T", m))
	}
}

func writeDot(b *strings.Builder, d Dot) {
	lines, closed := d.Outline()
	name, shape := "polyline", d.Shape
	if closed {
		name = "polygon"
	}
	for _, ps := range lines {
		fmt.Fprintf(b, `<%s class="d-%s d-%s" points="%s"/>`, name, d.Class, shape, points(ps))
	}
	if len(lines) == 0 {
		if shape != Ring {
			shape = Round
		}
		fmt.Fprintf(b, `<circle class="d-%s d-%s" cx="%s" cy="%s" r="%d"/>`, d.Class, shape, num(d.X), num(d.Y), DotRadius)
	}
}

func points(ps []Point) string {
	var b strings.Builder
	for i, p := range ps {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(num(p.X))
		b.WriteByte(',')
		b.WriteString(num(p.Y))
	}
	return b.String()
}

// bends is the path of a curve: between two points the tangents are level, and
// reach half of the way.
func bends(ps []Point) string {
	var b strings.Builder
	for i, p := range ps {
		if i == 0 {
			fmt.Fprintf(&b, "M%s,%s", num(p.X), num(p.Y))
			continue
		}
		q := ps[i-1]
		half := (p.X - q.X) / 2
		fmt.Fprintf(&b, " C%s,%s %s,%s %s,%s", num(q.X+half), num(q.Y), num(p.X-half), num(p.Y), num(p.X), num(p.Y))
	}
	return b.String()
}

// num writes a coordinate to a tenth of a pixel: finer than a printer shows,
// coarser than the last bits in which processors differ.
func num(x float64) string {
	s := strconv.FormatFloat(x, 'f', 1, 64)
	s = strings.TrimSuffix(s, ".0")
	if s == "-0" {
		return "0"
	}
	return s
}

// esc makes text harmless in an element or attribute.
func esc(s string) string { return html.EscapeString(clean(s)) }

// clean puts blanks in the place of control characters, which are not allowed
// in a page at all and would move a terminal's cursor, and of marks that turn
// the direction of writing.
func clean(s string) string {
	s = strings.ToValidUTF8(s, "\uFFFD")
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == '\u2028' || r == '\u2029' {
			return ' '
		}
		return r
	}, s)
}
