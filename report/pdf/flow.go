package pdf

import (
	"waywright/report/document"
)

// box is a stretch of a sheet that is not broken.
type box struct {
	h      float64
	before float64 // room above, but at the head of a sheet
	over   float64 // width of a line in that room
	hair   float64 // length of a hairline above, but at the head of a sheet
	keep   bool    // stays with the next one
	head   *box    // stands again above this one where it begins a sheet
	id     string  // by which others point here
	mark   *mark   // entry of the outline
	fresh  bool    // begins a sheet
	lying  bool    // on a sheet that lies
	draw   func(s *sheet, x, y float64)
}

// mark is an entry of the outline that readers show beside the sheets.
type mark struct {
	title string
	level int
	page  int // from 1
	y     float64
}

// sheet is a sheet of paper with what is painted on it.
type sheet struct {
	w, h  float64
	lying bool
	ops   []func(*painter)
}

type target struct {
	page int
	y    float64
}

// layout is a document on its sheets.
type layout struct {
	paper   Paper
	faces   faces
	sheets  []*sheet
	targets map[string]target
	order   []string // of the targets
	marks   []mark
	photos  []document.Image // shown on the sheets
	missing bool             // some letter is not in the fonts
	item    []textLine
	number  []textLine
	first   float64 // size of letters on page one

	y     float64
	empty bool // nothing stands on the newest sheet
}

const (
	side   = 48.0 // margins
	edge   = 28.0 // from the paper's edge to the lines at head and foot
	gap    = 14.0 // between those lines and the text
	small  = 9.5  // size of letters; nothing is smaller
	large  = 11.0 // of page one, where it fits one sheet
	least  = 10.0 // of page one, where it would not
	column = 12.0 // between columns
)

// size returns the width and height of a sheet.
func (l *layout) size(lying bool) (w, h float64) {
	w, h = l.paper.size()
	if lying {
		return h, w
	}
	return w, h
}

// wide is the room from margin to margin.
func (l *layout) wide(lying bool) float64 {
	w, _ := l.size(lying)
	return w - 2*side
}

func (l *layout) top() float64 { return edge + float64(len(l.number))*small*leading + gap }

func (l *layout) bottom(lying bool) float64 {
	_, h := l.size(lying)
	return h - edge - float64(len(l.item))*small*leading - gap
}

// place puts boxes on sheets.
func (l *layout) place(boxes []box) {
	for i := 0; i < len(boxes); i++ {
		b := boxes[i]
		l.turn(b, l.together(boxes[i:]))
		if !l.empty {
			l.y += b.before
		}
		s := l.sheets[len(l.sheets)-1]
		if b.over > 0 && !l.empty {
			s.rule(side, l.y-4, side+l.wide(s.lying), l.y-4, b.over)
		}
		if b.hair > 0 && !l.empty {
			s.hair(side, l.y, side+b.hair)
		}
		if l.empty && b.head != nil {
			b.head.draw(s, side, l.y)
			l.y += b.head.h
		}
		if b.id != "" {
			if _, twice := l.targets[b.id]; !twice {
				l.targets[b.id] = target{len(l.sheets), l.y}
				l.order = append(l.order, b.id)
			}
		}
		if b.mark != nil {
			m := *b.mark
			m.page, m.y = len(l.sheets), l.y
			l.marks = append(l.marks, m)
		}
		b.draw(s, side, l.y)
		l.y += b.h
		l.empty = false
	}
}

// together is the height of the first box with all that stay with it.
func (l *layout) together(boxes []box) float64 {
	h := 0.0
	for i, b := range boxes {
		if i > 0 {
			h += b.before
		}
		h += b.h
		if !b.keep {
			break
		}
	}
	return h
}

// turn begins a new sheet where the box wants one, or where what stays
// together does not fit any more.
func (l *layout) turn(b box, high float64) {
	if len(l.sheets) == 0 {
		l.begin(b.lying)
		return
	}
	s := l.sheets[len(l.sheets)-1]
	room := l.bottom(s.lying) - l.y - b.before
	whole := l.bottom(s.lying) - l.top()
	switch {
	case b.lying != s.lying || b.fresh && !l.empty:
		l.begin(b.lying)
	case l.empty:
	case high > room && high <= whole, b.h > room:
		l.begin(b.lying)
	}
}

func (l *layout) begin(lying bool) {
	w, h := l.size(lying)
	if n := len(l.sheets); n > 0 && l.empty {
		l.sheets = l.sheets[:n-1]
	}
	l.sheets = append(l.sheets, &sheet{w: w, h: h, lying: lying})
	l.y, l.empty = l.top(), true
}

// lay puts a document on sheets.
func lay(d document.Document, p Paper) (*layout, error) {
	fs, err := loadFaces()
	if err != nil {
		return nil, err
	}
	l := &layout{paper: p, faces: fs, targets: map[string]target{}}
	l.runningLines(d)
	boxes := l.pageOne(d)
	for i, part := range d.Parts {
		if i > 0 {
			boxes = append(boxes, l.part(part)...)
		}
	}
	boxes = append(boxes, l.end(d)...)
	l.place(boxes)
	return l, nil
}

// pageOne lays out the head and the first part: in the letters of page one, or
// in a little smaller ones where only these stand on one sheet.
func (l *layout) pageOne(d document.Document) []box {
	for l.first = large; l.first >= least; l.first -= 0.5 {
		boxes := l.head(d)
		if len(d.Parts) > 0 {
			boxes = append(boxes, l.part(d.Parts[0])...)
		}
		if l.tighten(boxes) {
			return boxes
		}
	}
	l.first = large // it runs over
	boxes := l.head(d)
	if len(d.Parts) > 0 {
		boxes = append(boxes, l.part(d.Parts[0])...)
	}
	return boxes
}

// tighten takes from the room between the boxes of page one, where that lets
// them stand on one sheet: not more than half of it. It tells whether they do.
func (l *layout) tighten(boxes []box) bool {
	high, between := 0.0, 0.0
	for i, b := range boxes {
		if high += b.h; i > 0 {
			between += b.before
		}
	}
	over := high + between - (l.bottom(false) - l.top())
	if over <= 0 || over > between/2 {
		return over <= 0
	}
	for i := range boxes {
		boxes[i].before *= 1 - over/between - 1e-6
	}
	return true
}
