package draw

import (
	"math"
	"slices"
	"strings"
)

// A cell of a terminal holds two dots across and four down.
const (
	dotsAcross = 2
	dotsDown   = 4
	noDots     = 0x2800 // the cell without a dot
)

var dotBits = [dotsDown][dotsAcross]rune{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}

// Letters are the shapes of dots in a terminal.
var Letters = map[Shape]rune{
	Round: 'o', Cross: 'x', Diamond: '?', Square: '#', Triangle: '^', Ring: '@', ArrowOut: '>', ArrowIn: '<',
}

// Terminal draws the picture in letters and in dots of braille, cols cells wide
// and rows high; with no rows it is as high as its width asks for. Limits are
// dotted, what was fitted is in strokes, dots are [Letters]. What fills and what
// only guides the eye is left out, and so is lettering that has no room: the
// picture's [Numbers] say what it shows. Lines end without blanks.
//
// It is noise to who listens, and to a terminal without such letters: there it
// is not to be shown.
func Terminal(p Picture, cols, rows int) []string {
	if cols < 1 || !(p.W > 0) || !(p.H > 0) {
		return nil
	}
	if rows < 1 {
		rows = max(1, int(math.Round(p.H/p.W*float64(cols)*0.47))) // a cell is about twice as high as wide
	}
	s := newSheet(p, cols, rows)
	for _, m := range p.Marks {
		s.lines(m)
	}
	for _, m := range p.Marks {
		if d, ok := m.(Dot); ok {
			s.dot(d)
		}
	}
	for _, strong := range []bool{true, false} {
		for _, m := range p.Marks {
			if l, ok := m.(Label); ok && l.Class.Look().Bold == strong {
				s.label(l)
			}
		}
	}
	return s.text()
}

// sheet is a terminal's part that is drawn on.
type sheet struct {
	cols, rows int
	sx, sy     float64 // cells for each pixel
	bits       []rune
	signs      []rune
}

func newSheet(p Picture, cols, rows int) *sheet {
	return &sheet{
		cols: cols, rows: rows, sx: float64(cols) / p.W, sy: float64(rows) / p.H,
		bits: make([]rune, cols*rows), signs: make([]rune, cols*rows),
	}
}

func (s *sheet) lines(m Mark) {
	switch m := m.(type) {
	case Line:
		ps := m.Points
		if m.Closed {
			ps = append(slices.Clone(ps), ps[0])
		}
		s.run(ps, m.Class)
	case Curve:
		s.run(m.Points, m.Class)
	case Rect:
		if m.Class == Doubt {
			s.run([]Point{{m.X, m.Y + m.H/2}, {m.X + m.W, m.Y + m.H/2}}, m.Class)
			return
		}
		s.run([]Point{{m.X, m.Y}, {m.X + m.W, m.Y}, {m.X + m.W, m.Y + m.H}, {m.X, m.Y + m.H}, {m.X, m.Y}}, m.Class)
	}
}

// dashes are how many dots of a line are drawn, out of how many.
var dashes = map[Class][2]int{Limit: {1, 3}, Fitted: {4, 6}, Trace2: {3, 5}, Trace3: {1, 2}, Soft: {1, 3}, Dashed: {3, 5}, Dotted: {1, 2}}

func (s *sheet) run(ps []Point, class Class) {
	if class == Band || class == Grid || class == Tip {
		return
	}
	dash, ok := dashes[class]
	if !ok {
		dash = [2]int{1, 1}
	}
	n := 0
	for i := 1; i < len(ps); i++ {
		a, b := ps[i-1], ps[i]
		x0, y0, x1, y1 := a.X*s.sx*dotsAcross, a.Y*s.sy*dotsDown, b.X*s.sx*dotsAcross, b.Y*s.sy*dotsDown
		steps := int(math.Ceil(math.Max(math.Abs(x1-x0), math.Abs(y1-y0))))
		steps = min(steps, 4*(s.cols*dotsAcross+s.rows*dotsDown))
		for k := range steps + 1 {
			t := float64(k) / float64(max(steps, 1))
			if n%dash[1] < dash[0] {
				s.put(x0+t*(x1-x0), y0+t*(y1-y0))
			}
			n++
		}
	}
}

func (s *sheet) put(x, y float64) {
	i, j := int(math.Floor(x)), int(math.Floor(y))
	i, j = min(max(i, 0), s.cols*dotsAcross-1), min(max(j, 0), s.rows*dotsDown-1)
	s.bits[j/dotsDown*s.cols+i/dotsAcross] |= dotBits[j%dotsDown][i%dotsAcross]
}

func (s *sheet) cell(x, y float64) (col, row int) {
	return min(max(int(x*s.sx), 0), s.cols-1), min(max(int(y*s.sy), 0), s.rows-1)
}

func (s *sheet) dot(d Dot) {
	sign, ok := Letters[d.Shape]
	if !ok {
		sign = Letters[Round]
	}
	col, row := s.cell(d.X, d.Y)
	s.signs[row*s.cols+col] = sign
}

// label writes a line of lettering at its place, or a cell or two beside it, or
// not at all.
func (s *sheet) label(l Label) {
	text := []rune(clean(l.Text))
	switch {
	case len(text) == 0:
		return
	case len(text) > s.cols:
		text = append(text[:s.cols-1], '…')
	}
	x, y := l.X*s.sx, (l.Y-4.5)*s.sy // the middle of the letters
	col := int(math.Round(x))
	switch l.Anchor {
	case Middle:
		col = int(math.Round(x - float64(len(text))/2))
	case End:
		col = int(math.Round(x)) - len(text)
	}
	col = min(max(col, 0), s.cols-len(text))
	row := min(max(int(y), 0), s.rows-1)
	for _, off := range [][2]int{{0, 0}, {1, 0}, {-1, 0}, {2, 0}, {-2, 0}, {0, 1}, {0, -1}} {
		if c, r := col+off[0], row+off[1]; s.free(c, r, len(text)) {
			copy(s.signs[r*s.cols+c:], text)
			s.blank(c-1, r)
			s.blank(c+len(text), r)
			return
		}
	}
}

// free tells whether there is room for n letters, and a blank on either side.
func (s *sheet) free(col, row, n int) bool {
	if col < 0 || row < 0 || row >= s.rows || col+n > s.cols {
		return false
	}
	for c := max(col-1, 0); c < min(col+n+1, s.cols); c++ {
		beside := c < col || c == col+n
		if sign := s.signs[row*s.cols+c]; sign != 0 && !(beside && sign == ' ') {
			return false
		}
	}
	return true
}

// blank keeps a cell beside lettering free.
func (s *sheet) blank(col, row int) {
	if i := row*s.cols + col; col >= 0 && col < s.cols && s.signs[i] == 0 {
		s.signs[i] = ' '
	}
}

func (s *sheet) text() []string {
	out := make([]string, s.rows)
	for r := range s.rows {
		var b strings.Builder
		for c := range s.cols {
			switch sign, bits := s.signs[r*s.cols+c], s.bits[r*s.cols+c]; {
			case sign != 0:
				b.WriteRune(sign)
			case bits != 0:
				b.WriteRune(noDots + bits)
			default:
				b.WriteByte(' ')
			}
		}
		out[r] = strings.TrimRight(b.String(), " ")
	}
	return out
}
