package draw

import (
	"cmp"
	"slices"
	"strings"
)

// Course is a course of work from top to bottom: boxes below one another, beside
// them what is done instead, and lines that lead on, past or back. It is as wide
// as a sheet of paper is, so that it can be read there.
type Course struct {
	Title, Desc string
	Alt         string // what it shows, for who cannot see it; Desc where there is nothing
	Boxes       []Row
	Routes      []Route
	Key         []Key
}

// Row is a box of the course, with the boxes beside it.
type Row struct {
	Box
	Follows bool // an arrow leads from the box above to this one
	Beside  []Box
	If      string // what stands at the arrow to those
}

// Route is a line that leads from one box to another further up or down, left of
// the boxes or, with Right, between them and those beside.
type Route struct {
	From, To int // places of rows
	Beside   int // which of the boxes beside From it leaves, from 1; 0: the row's own
	Right    bool
	Class    Class
}

// back tells whether it leads up.
func (w Route) back() bool { return w.To <= w.From }

// Sizes of a course, in pixels. Together they are less than a sheet of A4 is
// wide at 96 pixels in an inch.
const (
	courseWide = 330.0 // a box with others beside it
	aloneWide  = 560.0 // a box without
	besideWide = 250.0
	rowGap     = 24.0
	aloneGap   = 14.0  // between rows where nothing stands beside them
	aloneLines = 250.0 // there a line that fits stands right of the first, from here on
	besideGap  = 10.0
	laneWide   = 11.0 // between two lines that run side by side
	laneGap    = 16.0 // between them and boxes
	trunkGap   = 14.0 // from a box to the line that leads to those beside it
	ifGap      = 44.0 // room for the words at that line
	portTop    = 13.0 // from the top of a box to the first line that ends there
)

// Draw lays the course out.
func (c Course) Draw() Picture {
	l := c.lay()
	l.assign()
	l.place()
	return c.paint(l)
}

// courseBox is a box where it is put.
type courseBox struct {
	x, y, w, h  float64
	head, lines []string
	inline      bool // the only line stands right of the first
	class       Class
}

func (b courseBox) bottom() float64 { return b.y + b.h }
func (b courseBox) right() float64  { return b.x + b.w }

// courseRow is a row where it is put.
type courseRow struct {
	courseBox
	beside []courseBox
	high   float64
}

// bus is a line that several ways share: those to one box, or from one box.
type bus struct {
	right, gather bool // gather: they lead to one box
	hub           int  // that box
	class         Class
	ways          []Route
	first, last   int // rows over which it runs
	lane          int // from the boxes outward, from 0
	x             float64
}

type course struct {
	rows     []courseRow
	buses    []*bus
	lanes    [2]int // left and right of the boxes
	left     float64
	wide     float64
	anywhere bool // something stands beside the boxes
}

// lay breaks the texts into lines, and gathers the ways.
func (c Course) lay() *course {
	l := &course{wide: aloneWide}
	for _, r := range c.Boxes {
		l.anywhere = l.anywhere || len(r.Beside) > 0
	}
	if l.anywhere {
		l.wide = courseWide
	}
	for _, r := range c.Boxes {
		row := courseRow{courseBox: laidBox(r.Box, l.wide)}
		if !l.anywhere {
			row.onOneLine()
		}
		row.high = row.h
		below := 0.0
		for i, b := range r.Beside {
			x := laidBox(b, besideWide)
			if i > 0 {
				below += besideGap
			}
			x.y = below
			below += x.h
			row.beside = append(row.beside, x)
		}
		row.high = max(row.high, below)
		l.rows = append(l.rows, row)
	}
	for _, w := range c.Routes {
		l.join(w)
	}
	return l
}

func laidBox(b Box, wide float64) courseBox {
	x := courseBox{w: wide, class: cmp.Or(b.Class, Plain)}
	x.head = wrapWide(b.Head, Strong, wide-2*boxPad)
	for _, line := range b.Lines {
		x.lines = append(x.lines, wrapWide(line, Small, wide-2*boxPad)...)
	}
	x.h = float64(len(x.head)+len(x.lines))*lineHigh + 2*boxPad - 4
	return x
}

// onOneLine puts the only line of a box beside its first, where it has room
// there.
func (b *courseBox) onOneLine() {
	if len(b.head) != 1 || len(b.lines) != 1 || (Label{Text: b.head[0], Class: Strong}).Width() > aloneLines-2*boxPad ||
		(Label{Text: b.lines[0], Class: Small}).Width() > b.w-aloneLines-boxPad {
		return
	}
	b.inline = true
	b.h -= lineHigh
}

// wrapWide breaks a text into lines of a width: at blanks, and inside a word
// only where it has no room on a line of its own. Further lines of a text that
// begins with blanks are set in as far.
func wrapWide(s string, class Class, width float64) []string {
	body := strings.TrimLeft(s, " ")
	indent := s[:len(s)-len(body)]
	fits := func(t string) bool { return (Label{Text: t, Class: class}).Width() <= width }
	var out []string
	line := indent
	for _, w := range strings.Fields(body) {
		if line != indent && !fits(line+" "+w) {
			out, line = append(out, line), indent
		}
		for !fits(line + w) {
			rs := []rune(w)
			n := len(rs) - 1
			for n > 1 && !fits(line+string(rs[:n])) {
				n--
			}
			if n < 1 {
				break
			}
			out, w = append(out, line+string(rs[:n])), string(rs[n:])
		}
		if line != indent {
			line += " "
		}
		line += w
	}
	if strings.TrimSpace(line) != "" {
		out = append(out, line)
	}
	return out
}

// join puts a way onto the line that it shares with others.
func (l *course) join(w Route) {
	n := len(l.rows)
	if w.From < 0 || w.To < 0 || w.From >= n || w.To >= n || w.Beside > len(l.rows[w.From].beside) || w.Beside > 0 && !w.Right {
		return
	}
	gather, hub := w.back(), w.From
	if gather {
		hub = w.To
	}
	for _, b := range l.buses {
		if b.right == w.Right && b.class == w.Class && b.gather == gather && b.hub == hub {
			b.ways = append(b.ways, w)
			b.first, b.last = min(b.first, w.From, w.To), max(b.last, w.From, w.To)
			return
		}
	}
	l.buses = append(l.buses, &bus{right: w.Right, class: w.Class, gather: gather, hub: hub, ways: []Route{w}, first: min(w.From, w.To), last: max(w.From, w.To)})
}

// assign gives every bus a lane: the short ones run next to the boxes, so that
// few lines cross.
func (l *course) assign() {
	order := slices.Clone(l.buses)
	slices.SortStableFunc(order, func(a, b *bus) int {
		return cmp.Or(cmp.Compare(a.last-a.first, b.last-b.first), cmp.Compare(a.first, b.first))
	})
	for i, b := range order {
		for taken := true; taken; {
			taken = false
			for _, o := range order[:i] {
				if o.right == b.right && o.lane == b.lane && o.first <= b.last && b.first <= o.last {
					taken = true
				}
			}
			if taken {
				b.lane++
			}
		}
		side := 0
		if b.right {
			side = 1
		}
		l.lanes[side] = max(l.lanes[side], b.lane+1)
	}
}

// place gives every box and lane its place; y counts from the first row.
func (l *course) place() {
	l.left = margin
	if l.lanes[0] > 0 {
		l.left += float64(l.lanes[0]-1)*laneWide + laneGap
	}
	lanes := l.left + l.wide + laneGap // right of the boxes
	if l.anywhere {
		lanes += trunkGap + ifGap
	}
	beside := lanes
	if l.lanes[1] > 0 {
		beside += float64(l.lanes[1]-1)*laneWide + laneGap
	}
	gap := rowGap
	if !l.anywhere {
		gap = aloneGap
	}
	y := 0.0
	for i := range l.rows {
		r := &l.rows[i]
		r.x, r.y = l.left, y
		for k := range r.beside {
			r.beside[k].x = beside
			r.beside[k].y += y
		}
		y += r.high + gap
	}
	for _, b := range l.buses {
		b.x = l.left - laneGap - float64(b.lane)*laneWide
		if b.right {
			b.x = lanes + float64(b.lane)*laneWide
		}
	}
}
