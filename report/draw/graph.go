package draw

import (
	"math"
	"slices"
	"strings"
	"unicode/utf8"
)

// The classes of a graph.
const (
	Plain  Class = "box"    // a box
	Soft   Class = "soft"   // a box that is set back
	Heavy  Class = "heavy"  // a box that stands out
	Head   Class = "head"   // heading of a column
	Small  Class = "small"  // the lines below the first of a box
	Flow   Class = "flow"   // an arrow
	Dashed Class = "dashed" // an arrow of another kind
	Dotted Class = "dotted" // and of a third
	Tip    Class = "tip"    // point of an arrow
)

// Graph is boxes joined by arrows, in columns from left to right. Arrows lead
// to columns further right; others are left out.
type Graph struct {
	Title, Desc string
	Heads       []string // over the columns; "" for none
	Boxes       []Box
	Arrows      []Arrow
	Key         []Key // what the arrows mean
}

// Box is a box of a graph.
type Box struct {
	Column int
	Head   string
	Lines  []string
	Class  Class
}

// Arrow joins two boxes, by their places in the list.
type Arrow struct {
	From, To int
	Class    Class
}

// Key says what a class of arrows means.
type Key struct {
	Class Class
	Text  string
}

// Sizes of a graph, in pixels.
const (
	lineHigh  = 16.0
	boxPad    = 8.0
	boxGap    = 14.0 // between boxes of a column
	columnGap = 64.0
	margin    = 16.0
	headHigh  = 30.0
	perSign   = 7.4 // a letter of the first line of a box, on average
	perSmall  = 6.2 // of the others
	perHead   = 8.6 // of a heading
	passHigh  = 6.0 // room for an arrow on its way past a column
	tipLong   = 7.0
	boxSigns  = 27 // letters in a line of a box
)

// cell is a box, or an arrow on its way past a column, where it is put.
type cell struct {
	box   int // −1: an arrow on its way
	head  []string
	lines []string
	h, y  float64
	left  []*cell // joined with it in the column to the left
	right []*cell
}

func (c *cell) middle() float64 { return c.y + c.h/2 }

// Draw lays the graph out: in each column so that few arrows cross and that
// boxes stand beside what they are joined with.
func (g Graph) Draw() Picture {
	l := g.layers()
	l.order()
	l.place()
	return g.paint(l)
}

// layers is a graph whose arrows lead from each column to the next.
type layers struct {
	columns [][]*cell
	ways    [][]*cell // of each arrow, from its box to its box; nil where it is left out
}

func (g Graph) layers() *layers {
	n := len(g.Heads)
	for _, b := range g.Boxes {
		n = max(n, b.Column+1)
	}
	l := &layers{columns: make([][]*cell, n)}
	cells := make([]*cell, len(g.Boxes))
	for i, b := range g.Boxes {
		c := &cell{box: i, head: wrap(b.Head, boxSigns)}
		for _, line := range b.Lines {
			c.lines = append(c.lines, wrap(line, boxSigns+2)...)
		}
		c.h = float64(len(c.head)+len(c.lines))*lineHigh + 2*boxPad
		cells[i] = c
		l.columns[b.Column] = append(l.columns[b.Column], c)
	}
	for _, a := range g.Arrows {
		from, to := g.Boxes[a.From].Column, g.Boxes[a.To].Column
		if from >= to {
			l.ways = append(l.ways, nil)
			continue
		}
		way := []*cell{cells[a.From]}
		for at := from + 1; at < to; at++ {
			pass := &cell{box: -1, h: passHigh}
			l.columns[at] = append(l.columns[at], pass)
			way = append(way, pass)
		}
		way = append(way, cells[a.To])
		for i := 1; i < len(way); i++ {
			way[i-1].right = append(way[i-1].right, way[i])
			way[i].left = append(way[i].left, way[i-1])
		}
		l.ways = append(l.ways, way)
	}
	return l
}

// wrap breaks a text at blanks into lines.
func wrap(s string, signs int) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(s) {
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) > signs {
			out, line = append(out, line), ""
		}
		line = strings.TrimSpace(line + " " + w)
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// order sorts each column by where its neighbours stand, to and fro, and keeps
// the order with the fewest crossings.
func (l *layers) order() {
	best, least := l.copy(), l.crossings()
	for pass := range 12 {
		for i := range l.columns {
			at, side := i, func(c *cell) []*cell { return c.left }
			if pass%2 == 1 {
				at, side = len(l.columns)-1-i, func(c *cell) []*cell { return c.right }
			}
			rank := l.ranks()
			weight := map[*cell]float64{}
			for _, c := range l.columns[at] {
				weight[c] = meanOf(side(c), float64(rank[c]), func(o *cell) float64 { return float64(rank[o]) })
			}
			slices.SortStableFunc(l.columns[at], func(a, b *cell) int { return cmpFloat(weight[a], weight[b]) })
		}
		if n := l.crossings(); n < least {
			best, least = l.copy(), n
		}
	}
	l.columns = best
}

func (l *layers) copy() [][]*cell {
	out := make([][]*cell, len(l.columns))
	for i, c := range l.columns {
		out[i] = slices.Clone(c)
	}
	return out
}

// ranks gives every cell its place in its column.
func (l *layers) ranks() map[*cell]int {
	out := map[*cell]int{}
	for _, column := range l.columns {
		for i, c := range column {
			out[c] = i
		}
	}
	return out
}

func (l *layers) crossings() int {
	rank := l.ranks()
	n := 0
	for _, column := range l.columns {
		var ends [][2]int
		for _, c := range column {
			for _, o := range c.right {
				ends = append(ends, [2]int{rank[c], rank[o]})
			}
		}
		for i, a := range ends {
			for _, b := range ends[:i] {
				if (a[0]-b[0])*(a[1]-b[1]) < 0 {
					n++
				}
			}
		}
	}
	return n
}

// place puts each cell as near to the middle of its neighbours as the others
// of its column leave room for.
func (l *layers) place() {
	for _, column := range l.columns {
		stack(column, make([]float64, len(column)))
	}
	for range 40 {
		for _, column := range l.columns {
			wanted := make([]float64, len(column))
			for i, c := range column {
				near := append(slices.Clone(c.left), c.right...)
				wanted[i] = meanOf(near, c.middle(), (*cell).middle) - c.h/2
			}
			stack(column, wanted)
		}
	}
	top := math.Inf(1)
	for _, column := range l.columns {
		for _, c := range column {
			top = math.Min(top, c.y)
		}
	}
	for _, column := range l.columns {
		for _, c := range column {
			c.y -= top
		}
	}
}

// stack puts the cells of a column in their order where they want to be, as
// near as can be in the least squares: what overlaps is put together, block by
// block, about its mean.
func stack(column []*cell, wanted []float64) {
	type block struct {
		sum  float64 // of the places wanted for its first cell
		n    int
		high float64
	}
	var blocks []block
	offset := 0.0
	offsets := make([]float64, len(column))
	for i, c := range column {
		offsets[i] = offset
		blocks = append(blocks, block{wanted[i] - offset, 1, 0})
		for k := len(blocks); k > 1 && blocks[k-1].sum/float64(blocks[k-1].n) < blocks[k-2].sum/float64(blocks[k-2].n); k = len(blocks) {
			blocks[k-2].sum += blocks[k-1].sum
			blocks[k-2].n += blocks[k-1].n
			blocks = blocks[:k-1]
		}
		offset += c.h + boxGap
	}
	i := 0
	for _, b := range blocks {
		for range b.n {
			column[i].y = b.sum/float64(b.n) + offsets[i]
			i++
		}
	}
}

func meanOf(cells []*cell, none float64, of func(*cell) float64) float64 {
	if len(cells) == 0 {
		return none
	}
	sum := 0.0
	for _, c := range cells {
		sum += of(c)
	}
	return sum / float64(len(cells))
}

func cmpFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
