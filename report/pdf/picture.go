package pdf

import (
	"waywright/report/document"
	"waywright/report/draw"
)

// scale is how many points a pixel of a picture is: lettering of 12 pixels has
// 9.6 points then.
const scale = 0.8

// figure puts a picture beside its caption, or above it where it is wide.
func (l *layout) figure(f document.Figure, fr frame) []box {
	k := min(scale, fr.wide/max(f.Picture.W, 1))
	w, h := k*f.Picture.W, k*f.Picture.H
	it := l.pictureItem(f.Picture, w)
	st := style{size: fr.size}
	var out []box
	if beside := fr.wide - w - column; beside >= 120 {
		lines := wrap(l.spans(document.Line{{Text: f.Caption}}, st), beside)
		var c flowCell
		c.texts(lines, 0)
		out = []box{{h: max(h, heightOf(c)), before: 10, draw: func(s *sheet, x, y float64) {
			it.draw(s, x, y, w)
			at := y
			for _, t := range c.items {
				t.draw(s, x+w+column, at, beside)
				at += t.h
			}
		}}}
	} else {
		out = []box{{h: h + 3, before: 10, keep: true, draw: func(s *sheet, x, y float64) { it.draw(s, x, y, w) }}}
		out = append(out, l.paragraph(document.Line{{Text: f.Caption}}, st, fr.wide, 0)...)
	}
	if f.Numbers != nil {
		out = append(out, l.table(*f.Numbers, fr)...)
	}
	return out
}

// pictureItem is a picture of that width.
func (l *layout) pictureItem(pic draw.Picture, wide float64) item {
	k := wide / max(pic.W, 1)
	marks := make([]draw.Mark, len(pic.Marks))
	for i, m := range pic.Marks {
		if t, ok := m.(draw.Label); ok {
			f := l.faceOf(t)
			s, whole := f.printable(t.Text)
			l.missing = l.missing || !whole
			t.Text = s
			m = t
		}
		marks[i] = m
	}
	return item{h: k * pic.H, draw: func(s *sheet, x, y, _ float64) {
		s.ops = append(s.ops, func(p *painter) {
			q := pen{p: p, x: x, y: y, k: k}
			for _, m := range marks {
				q.mark(m)
			}
			p.reset()
		})
	}}
}

func (l *layout) faceOf(t draw.Label) *face {
	if t.Class.Look().Bold {
		return l.faces.bold
	}
	return l.faces.plain
}

// pen paints the marks of a picture at its place.
type pen struct {
	p    *painter
	x, y float64
	k    float64
}

func (q pen) at(p draw.Point) (x, y float64) { return q.x + q.k*p.X, q.y + q.k*p.Y }

// tones are the greys of paper, 0 black: colour says nothing in a picture.
var tones = map[draw.Tone]int{
	draw.Ink: 0, draw.Faint: 150, draw.Edge: 60, draw.Mark1: 0, draw.Bound: 0, draw.Zone: 226, draw.Soft1: 240, draw.Paper: 255,
}

func (q pen) mark(m draw.Mark) {
	switch m := m.(type) {
	case draw.Rect:
		look := m.Class.Look()
		if m.Class == draw.Doubt {
			q.p.f.SetFillColor(120, 120, 120)
			q.p.f.Rect(q.x+q.k*m.X, q.y+q.k*m.Y, q.k*m.W, q.k*m.H, "F")
			return
		}
		if how := q.look(look); how != "" {
			q.p.f.Rect(q.x+q.k*m.X, q.y+q.k*m.Y, q.k*m.W, q.k*m.H, how)
		}
	case draw.Line:
		look := m.Class.Look()
		if !m.Closed {
			look.Fill = draw.None
		}
		q.path(m.Points, m.Closed, look)
	case draw.Curve:
		q.curve(m)
	case draw.Dot:
		q.dot(m)
	case draw.Label:
		q.label(m)
	}
}

// look sets the pen, and returns what is to be done with a path.
func (q pen) look(look draw.Look) string {
	how := ""
	if look.Fill != draw.None {
		g := tones[look.Fill]
		q.p.f.SetFillColor(g, g, g)
		how += "F"
	}
	if look.Stroke != draw.None && look.Width > 0 {
		g := tones[look.Stroke]
		q.p.f.SetDrawColor(g, g, g)
		q.p.f.SetLineWidth(q.k * look.Width)
		q.p.dash(look.Dash, q.k)
		how += "D"
	}
	return how
}

func (q pen) path(points []draw.Point, closed bool, look draw.Look) {
	how := q.look(look)
	if how == "" || len(points) < 2 {
		return
	}
	for i, p := range points {
		x, y := q.at(p)
		if i == 0 {
			q.p.f.MoveTo(x, y)
		} else {
			q.p.f.LineTo(x, y)
		}
	}
	if closed {
		q.p.f.ClosePath()
	}
	q.p.f.DrawPath(how)
}

func (q pen) curve(c draw.Curve) {
	how := q.look(c.Class.Look())
	if how == "" || len(c.Points) < 2 {
		return
	}
	for i, p := range c.Points {
		x, y := q.at(p)
		if i == 0 {
			q.p.f.MoveTo(x, y)
			continue
		}
		px, py := q.at(c.Points[i-1])
		half := (x - px) / 2
		q.p.f.CurveBezierCubicTo(px+half, py, x-half, y, x, y)
	}
	q.p.f.DrawPath(how)
}

func (q pen) dot(d draw.Dot) {
	look := d.Look()
	outlines, closed := d.Outline()
	if len(outlines) == 0 {
		if how := q.look(look); how != "" {
			x, y := q.at(draw.Point{X: d.X, Y: d.Y})
			q.p.f.Circle(x, y, q.k*draw.DotRadius, how)
		}
		return
	}
	if !closed {
		look.Fill = draw.None
	}
	for _, o := range outlines {
		q.path(o, closed, look)
	}
}

func (q pen) label(t draw.Label) {
	f := q.p.l.faceOf(t)
	size := t.Class.Look().Size * q.k
	if size == 0 || t.Text == "" {
		return
	}
	x, y := q.at(draw.Point{X: t.X, Y: t.Y})
	switch w := f.width(t.Text, size); t.Anchor {
	case draw.Middle:
		x -= w / 2
	case draw.End:
		x -= w
	}
	q.p.text(x, y, t.Text, f, size)
}
