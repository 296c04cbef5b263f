package draw

import (
	"cmp"
	"slices"
	"unicode/utf8"
)

// paint makes the marks of a graph that is laid out.
func (g Graph) paint(l *layers) Picture {
	pic := Picture{Title: g.Title, Desc: g.Desc}
	left, wide := make([]float64, len(l.columns)), make([]float64, len(l.columns))
	x := margin
	top := margin + lineHigh + 4 + float64(len(g.notes()))*lineHigh + boxGap
	if len(g.Heads) > 0 {
		top += headHigh
	}
	pic.H = top
	for i, column := range l.columns {
		wide[i] = g.columnWide(i, column)
		left[i] = x
		x += wide[i] + columnGap
		for _, c := range column {
			c.y += top
			pic.H = max(pic.H, c.y+c.h)
		}
	}
	pic.W = max(x-columnGap, 0) + margin
	pic = g.over(pic)
	for i, head := range g.Heads {
		if head != "" {
			pic.Marks = append(pic.Marks, Label{X: left[i], Y: top - boxGap, Text: head, Anchor: Start, Class: Head})
		}
	}
	pic.Marks = append(pic.Marks, g.arrows(l, left, wide)...)
	for i, column := range l.columns {
		for _, c := range column {
			if c.box >= 0 {
				pic.Marks = append(pic.Marks, g.box(c, left[i], wide[i])...)
			}
		}
	}
	pic.H += margin
	return g.key(pic)
}

// notes are the lines of the description.
func (g Graph) notes() []string { return wrap(g.Desc, 90) }

// over writes title and description above the picture.
func (g Graph) over(pic Picture) Picture {
	y := margin + lineHigh
	pic.Marks = append(pic.Marks, Label{X: margin, Y: y, Text: g.Title, Anchor: Start, Class: Head})
	pic.W = max(pic.W, 2*margin+textWide(g.Title, perHead))
	for i, s := range g.notes() {
		pic.Marks = append(pic.Marks, Label{X: margin, Y: y + 4 + float64(i+1)*lineHigh, Text: s, Anchor: Start, Class: Small})
		pic.W = max(pic.W, 2*margin+textWide(s, perSmall))
	}
	return pic
}

// textWide is about how wide a text is.
func textWide(s string, per float64) float64 { return float64(utf8.RuneCountInString(s)) * per }

func (g Graph) columnWide(i int, column []*cell) float64 {
	wide := 0.0
	if i < len(g.Heads) {
		wide = textWide(g.Heads[i], perHead)
	}
	for _, c := range column {
		for _, s := range c.head {
			wide = max(wide, textWide(s, perSign)+2*boxPad)
		}
		for _, s := range c.lines {
			wide = max(wide, textWide(s, perSmall)+2*boxPad)
		}
	}
	return wide
}

func (g Graph) box(c *cell, x, wide float64) []Mark {
	class := g.Boxes[c.box].Class
	if class == "" {
		class = Plain
	}
	marks := []Mark{Rect{X: x, Y: c.y, W: wide, H: c.h, Class: class}}
	y := c.y + boxPad + lineHigh - 4
	for _, s := range c.head {
		marks = append(marks, Label{X: x + boxPad, Y: y, Text: s, Anchor: Start, Class: Strong})
		y += lineHigh
	}
	for _, s := range c.lines {
		marks = append(marks, Label{X: x + boxPad, Y: y, Text: s, Anchor: Start, Class: Small})
		y += lineHigh
	}
	return marks
}

// arrows draws the ways. What leaves or reaches a box is spread along its
// side, in the order of the other ends, so that no two ways lie on one another.
func (g Graph) arrows(l *layers, left, wide []float64) []Mark {
	column := map[*cell]int{}
	for i, cells := range l.columns {
		for _, c := range cells {
			column[c] = i
		}
	}
	leaves, reaches := map[*cell][]int{}, map[*cell][]int{}
	for i, way := range l.ways {
		if way != nil {
			leaves[way[0]] = append(leaves[way[0]], i)
			reaches[way[len(way)-1]] = append(reaches[way[len(way)-1]], i)
		}
	}
	port := func(c *cell, list []int, i int, next func(way []*cell) *cell) float64 {
		list = slices.Clone(list)
		slices.SortStableFunc(list, func(a, b int) int {
			return cmp.Compare(next(l.ways[a]).middle(), next(l.ways[b]).middle())
		})
		return c.y + c.h*(float64(slices.Index(list, i))+1)/float64(len(list)+1)
	}
	var out []Mark
	for i, way := range l.ways {
		if way == nil {
			continue
		}
		first, last := way[0], way[len(way)-1]
		at := Point{left[column[first]] + wide[column[first]], port(first, leaves[first], i, func(w []*cell) *cell { return w[1] })}
		points := []Point{at}
		for _, c := range way[1 : len(way)-1] {
			points = append(points, Point{left[column[c]], c.middle()}, Point{left[column[c]] + wide[column[c]], c.middle()})
		}
		end := Point{left[column[last]], port(last, reaches[last], i, func(w []*cell) *cell { return w[len(w)-2] })}
		points = append(points, Point{end.X - tipLong, end.Y})
		class := cmp.Or(g.Arrows[i].Class, Flow)
		out = append(out, Curve{Points: points, Class: class}, tip(end))
	}
	return out
}

// tip is the point of an arrow that ends at p, from the left.
func tip(p Point) Mark {
	return Line{Points: []Point{{p.X - tipLong, p.Y - 3.5}, p, {p.X - tipLong, p.Y + 3.5}}, Closed: true, Class: Tip}
}

// key says below the picture what the arrows mean.
func (g Graph) key(pic Picture) Picture {
	for i, k := range g.Key {
		if i == 0 {
			pic.H += boxGap
		}
		y := pic.H + lineHigh - margin
		pic.Marks = append(pic.Marks,
			Curve{Points: []Point{{margin, y - 4}, {margin + 34, y - 4}}, Class: k.Class}, tip(Point{margin + 34 + tipLong, y - 4}),
			Label{X: margin + 52, Y: y, Text: k.Text, Anchor: Start, Class: Small})
		pic.H += lineHigh + 4
		pic.W = max(pic.W, margin+52+textWide(k.Text, perSmall)+margin)
	}
	return pic
}
