package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Contour is heights over a field, drawn as lines of equal height.
type Contour struct {
	Title, Desc string
	Unit        string // of the heights
	Along       string // what runs from left to right, with its unit
	Heights     []Height
}

// Height is a height at a place, x to the right and y up.
type Height struct{ X, Y, Z float64 }

// The field is drawn as wide as a plot, and so high as its sides ask for.
const (
	fieldRoom = 26.0 // below and beside, for words
	mostHigh  = 380.0
)

// Draw returns the picture: between neighbouring places the heights are taken
// to run straight. The lines carry their heights; the highest and the lowest
// place are marked. Heights that are not finite are left out.
func (c Contour) Draw() Picture {
	pic := Picture{W: plotW, H: plotH, Title: c.Title, Desc: c.Desc}
	hs := c.usable()
	if len(hs) < 3 || flatField(hs) {
		pic.Marks = []Mark{Label{X: plotW / 2, Y: plotH / 2, Text: "too few heights for a picture", Anchor: Middle, Class: Text}}
		return pic
	}
	x, y := fieldScales(hs)
	pic.H = y.a + fieldRoom
	at := make([]Point, len(hs))
	for i, h := range hs {
		at[i] = Point{x.at(h.X), y.at(h.Y)}
	}
	levels, decimals := fieldLevels(hs)
	pic.Marks = slices.Concat(frame(x, y), contourLines(hs, at, levels, decimals, x, y), c.stations(at), c.extremes(hs, at, decimals))
	words := "lines of equal height, " + c.Unit
	if c.Along != "" {
		words = c.Along + "; " + words
	}
	pic.Marks = append(pic.Marks, Label{X: plotW / 2, Y: pic.H - 6, Text: words, Anchor: Middle, Class: Text})
	return pic
}

func (c Contour) usable() []Height {
	var out []Height
	for _, h := range c.Heights {
		if isFinite(h.X) && isFinite(h.Y) && isFinite(h.Z) {
			out = append(out, h)
		}
	}
	return out
}

// flatField tells whether all places lie on one line.
func flatField(hs []Height) bool {
	a := hs[0]
	far := slices.MaxFunc(hs, func(p, q Height) int {
		return cmp.Compare(math.Hypot(p.X-a.X, p.Y-a.Y), math.Hypot(q.X-a.X, q.Y-a.Y))
	})
	size := math.Hypot(far.X-a.X, far.Y-a.Y)
	for _, h := range hs {
		if math.Abs((far.X-a.X)*(h.Y-a.Y)-(far.Y-a.Y)*(h.X-a.X)) > 1e-6*size*size {
			return false
		}
	}
	return true
}

func fieldScales(hs []Height) (x, y scale) {
	x0, x1, y0, y1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, h := range hs {
		x0, x1 = reach(x0, x1, h.X)
		y0, y1 = reach(y0, y1, h.Y)
	}
	k := (plotW - 2*fieldRoom) / (x1 - x0) // pixels for each unit, both ways alike
	k = math.Min(k, mostHigh/(y1-y0))
	w, h := k*(x1-x0), k*(y1-y0)
	left := (plotW - w) / 2
	return scale{x0, x1, left, left + w}, scale{y0, y1, fieldRoom + h, fieldRoom}
}

func frame(x, y scale) []Mark {
	return []Mark{Line{Points: []Point{{x.a, y.a}, {x.b, y.a}, {x.b, y.b}, {x.a, y.b}}, Closed: true, Class: Axis}}
}

// fieldLevels are the round heights that lines are drawn at.
func fieldLevels(hs []Height) (levels []float64, decimals int) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, h := range hs {
		lo, hi = reach(lo, hi, h.Z)
	}
	if hi <= lo {
		return nil, 3
	}
	return ticks(lo, hi, 10)
}

// contourLines draws a line for each level through the triangles between
// neighbouring places, and writes the level where its longest piece lies.
func contourLines(hs []Height, at []Point, levels []float64, decimals int, x, y scale) []Mark {
	var lines, words []Mark
	triangles := triangulate(at)
	for _, level := range levels {
		var longest [2]Point
		for _, t := range triangles {
			p, ok := crossing(hs, at, t, level)
			if !ok {
				continue
			}
			lines = append(lines, Line{Points: p[:], Class: Trace})
			if span(p) > span(longest) {
				longest = p
			}
		}
		if span(longest) > 0 {
			l := Label{X: (longest[0].X + longest[1].X) / 2, Y: (longest[0].Y+longest[1].Y)/2 + 4,
				Text: figure(level, decimals), Anchor: Middle, Class: Strong}
			half := l.Width()/2 + 3 // it stands inside the frame, whole
			l.X = math.Min(math.Max(l.X, x.a+half), x.b-half)
			l.Y = math.Min(math.Max(l.Y, y.b+lettering+1), y.a-4)
			words = append(words, l)
		}
	}
	return append(lines, words...)
}

func span(p [2]Point) float64 { return math.Hypot(p[1].X-p[0].X, p[1].Y-p[0].Y) }

// crossing returns the piece of a line of equal height in a triangle.
func crossing(hs []Height, at []Point, t [3]int, level float64) (p [2]Point, ok bool) {
	n := 0
	for k := range t {
		i, j := t[k], t[(k+1)%3]
		a, b := hs[i].Z, hs[j].Z
		if (a < level) == (b < level) {
			continue
		}
		s := (level - a) / (b - a)
		if n < 2 {
			p[n] = Point{at[i].X + s*(at[j].X-at[i].X), at[i].Y + s*(at[j].Y-at[i].Y)}
		}
		n++
	}
	return p, n == 2
}

// stations marks where the heights were found.
func (c Contour) stations(at []Point) []Mark {
	var out []Mark
	for _, p := range at {
		out = append(out, Rect{X: p.X - 1, Y: p.Y - 1, W: 2, H: 2, Class: Doubt})
	}
	return out
}

// extremes marks the highest and the lowest place.
func (c Contour) extremes(hs []Height, at []Point, decimals int) []Mark {
	var out []Mark
	lo, hi := 0, 0
	for i := range hs {
		if hs[i].Z < hs[lo].Z {
			lo = i
		}
		if hs[i].Z > hs[hi].Z {
			hi = i
		}
	}
	for _, e := range []struct {
		i     int
		word  string
		shape Shape
	}{{hi, "highest", Round}, {lo, "lowest", Diamond}} {
		anchor, dx := Start, 7.0
		if at[e.i].X > plotW/2 {
			anchor, dx = End, -7
		}
		out = append(out, Dot{X: at[e.i].X, Y: at[e.i].Y, Shape: e.shape, Class: Value},
			Label{X: at[e.i].X + dx, Y: at[e.i].Y - 6, Text: fmt.Sprintf("%s %s", e.word, figure(hs[e.i].Z, decimals+1)), Anchor: anchor, Class: Strong})
	}
	return out
}

// triangulate returns triangles between places, no place inside the circle
// round any (B. Delaunay). Places are added one by one to a triangle that holds
// them all; each opens the triangles whose circle it lies in and is joined to
// their rim (A. Bowyer and D. F. Watson, 1981, from memory). Places that stand
// twice are left out.
func triangulate(at []Point) [][3]int {
	n := len(at)
	const far = 1e5
	ps := append(slices.Clone(at), Point{-far, -far}, Point{far, -far}, Point{0, far})
	tris := [][3]int{{n, n + 1, n + 2}}
	for i := range n {
		if slices.Contains(at[:i], at[i]) {
			continue
		}
		var kept [][3]int
		rim := map[[2]int]int{} // edges of the opened triangles, and how often
		for _, t := range tris {
			if !inCircle(ps, t, ps[i]) {
				kept = append(kept, t)
				continue
			}
			for k := range t {
				a, b := t[k], t[(k+1)%3]
				rim[[2]int{min(a, b), max(a, b)}]++
			}
		}
		for _, e := range sortedEdges(rim) {
			if rim[e] == 1 && area(ps, e[0], e[1], i) > 1e-9 {
				kept = append(kept, [3]int{e[0], e[1], i})
			}
		}
		tris = kept
	}
	return slices.DeleteFunc(tris, func(t [3]int) bool { return t[0] >= n || t[1] >= n || t[2] >= n })
}

// sortedEdges is in an order that does not change from run to run.
func sortedEdges(m map[[2]int]int) [][2]int {
	var out [][2]int
	for e := range m {
		out = append(out, e)
	}
	slices.SortFunc(out, func(a, b [2]int) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	return out
}

// area is twice the area of a triangle.
func area(ps []Point, i, j, k int) float64 {
	return math.Abs((ps[j].X-ps[i].X)*(ps[k].Y-ps[i].Y) - (ps[j].Y-ps[i].Y)*(ps[k].X-ps[i].X))
}

// inCircle tells whether a place lies inside the circle round a triangle.
func inCircle(ps []Point, t [3]int, p Point) bool {
	a, b, c := ps[t[0]], ps[t[1]], ps[t[2]]
	ax, ay, bx, by, cx, cy := a.X-p.X, a.Y-p.Y, b.X-p.X, b.Y-p.Y, c.X-p.X, c.Y-p.Y
	turn := (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
	det := (ax*ax+ay*ay)*(bx*cy-cx*by) - (bx*bx+by*by)*(ax*cy-cx*ay) + (cx*cx+cy*cy)*(ax*by-bx*ay)
	if turn < 0 {
		det = -det
	}
	return det > 1e-7
}
