package pdf

import (
	"fmt"

	"codeberg.org/go-pdf/fpdf"

	"waywright/report/document"
)

// painter paints sheets.
type painter struct {
	f     *fpdf.Fpdf
	l     *layout
	links map[string]int

	face   *face
	size   float64
	dashed bool
}

// begin is called on each new sheet, on which nothing is set.
func (p *painter) begin() {
	p.face, p.size = nil, 0
	p.f.SetDashPattern(nil, 0)
	p.dashed = false
	p.reset()
}

// reset goes back to black after a picture.
func (p *painter) reset() {
	p.f.SetDrawColor(0, 0, 0)
	p.f.SetFillColor(0, 0, 0)
	p.dash(nil, 1)
}

func (p *painter) dash(pattern []float64, k float64) {
	if len(pattern) == 0 {
		if p.dashed {
			p.f.SetDashPattern(nil, 0)
			p.dashed = false
		}
		return
	}
	scaled := make([]float64, len(pattern))
	for i, x := range pattern {
		scaled[i] = k * x
	}
	p.f.SetDashPattern(scaled, 0)
	p.dashed = true
}

func (p *painter) text(x, y float64, s string, f *face, size float64) {
	if p.face != f || p.size != size {
		p.f.SetFont(f.family, f.style, size)
		p.face, p.size = f, size
	}
	p.f.Text(x, y, s)
}

// text puts a piece of a line on the sheet, with its base at y.
func (s *sheet) text(x, y float64, t piece) {
	s.ops = append(s.ops, func(p *painter) {
		text := t.text
		to, known := p.l.targets[t.ref]
		if t.page {
			text = "page ?"
			if known {
				text = fmt.Sprintf("page %d", to.page)
			}
		}
		if text == "" {
			return
		}
		p.text(x, y, text, t.face, t.size)
		if known {
			p.f.Link(x, y-t.size, t.w, t.size*1.25, p.links[t.ref])
		}
	})
}

// rule draws a line.
func (s *sheet) rule(x1, y1, x2, y2, width float64) {
	s.ops = append(s.ops, func(p *painter) {
		p.f.SetLineWidth(width)
		p.f.Line(x1, y1, x2, y2)
	})
}

// hair draws the thinnest line, level and grey: it only guides the eye.
func (s *sheet) hair(x1, y, x2 float64) {
	s.ops = append(s.ops, func(p *painter) {
		p.f.SetDrawColor(hairGrey, hairGrey, hairGrey)
		p.f.SetLineWidth(hair)
		p.f.Line(x1, y, x2, y)
		p.f.SetDrawColor(0, 0, 0)
	})
}

const hairGrey = 130

// mostRunning is how many lines the number of a record, or the name of a
// machine, has at the edge of a sheet.
const mostRunning = 3

// runningLines breaks what stands at the head and foot of every sheet.
func (l *layout) runningLines(d document.Document) {
	st := style{size: small}
	of := document.Line{{Text: d.Title + " No. "}, {Text: d.Number, Strong: true}}
	if d.Number == "" { // it is of no run
		of = document.Line{{Text: d.Title + ": "}, {Text: d.Subject, Strong: true}}
	}
	number := wrap(l.spans(of, st), l.wide(false)-150)
	item := wrap(l.spans(document.Line{{Text: d.Item}}, st), l.wide(false)-150)
	l.number, l.item = atMost(number), atMost(item)
	if len(l.item) == 0 {
		l.item = make([]textLine, 1)
	}
}

func atMost(lines []textLine) []textLine { return lines[:min(len(lines), mostRunning)] }

// edges paints head and foot of a sheet: which record, which page of how many,
// which machine, how its digest begins, and whether it is a draft.
func (l *layout) edges(p *painter, d document.Document, n int) {
	s := l.sheets[n-1]
	right := s.w - side
	for i, t := range l.number {
		l.running(p, t, edge+float64(i)*small*leading)
	}
	base := edge + small*1.02
	l.atRight(p, fmt.Sprintf("page %d of %d", n, len(l.sheets)), right, base)
	line := l.top() - gap + 3
	p.f.SetLineWidth(hair)
	p.f.Line(side, line, right, line)
	foot := l.bottom(s.lying) + gap
	p.f.Line(side, foot-3, right, foot-3)
	for i, t := range l.item {
		l.running(p, t, foot+float64(i)*small*leading)
	}
	l.atRight(p, "digest "+d.Short, right, foot+small*1.02)
	if d.Draft {
		l.draft(p, s.w, foot)
	}
}

func (l *layout) running(p *painter, t textLine, y float64) {
	for _, x := range t.pieces {
		p.text(side+x.x, y+small*1.02, x.text, x.face, x.size)
	}
}

func (l *layout) atRight(p *painter, s string, x, y float64) {
	f := l.faces.plain
	p.text(x-f.width(s, small), y, s, f, small)
}

// draft says at the foot of a sheet that nothing may be concluded from it.
func (l *layout) draft(p *painter, wide, foot float64) {
	const word, size = "DRAFT", 12.0
	w := l.faces.bold.width(word, size)
	x := (wide - w) / 2
	p.text(x, foot+size*0.95, word, l.faces.bold, size)
	p.f.SetLineWidth(1)
	p.f.Rect(x-6, foot-0.5, w+12, size+3, "D")
}
