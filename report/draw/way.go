package draw

import (
	"slices"
	"strings"
)

// Way shows which way is plus, as a small drawing beside the words for both
// ways: an arrow upward, one towards the operator as seen from above, one
// towards a head, a bar that is larger at one end, a line that bends. Words
// that name none of these have a plain scale.
type Way struct {
	Plus, Minus string // in words; Minus may be empty
	Desc        string
}

const (
	wayWide  = 320.0
	wayGlyph = 84.0
	wayHigh  = 66.0
)

// Draw returns the picture.
func (w Way) Draw() Picture {
	pic := Picture{Name: "way", W: wayWide, H: wayHigh, Title: "Which way is plus", Desc: w.Desc}
	kind, against := wayOf(w.Plus)
	pic.Marks = append(pic.Marks, kind.draw(against)...)
	const chars, line = 24, 15.0
	x := wayGlyph + 14
	say := func(y float64, sign, words string, class Class) float64 {
		lines := wrap(words, chars)
		pic.Marks = append(pic.Marks, Label{X: x, Y: y, Text: sign, Anchor: Start, Class: Strong})
		for _, s := range lines {
			pic.Marks = append(pic.Marks, Label{X: x + 16, Y: y, Text: s, Anchor: Start, Class: class})
			y += line
		}
		return y
	}
	y := say(16, "+", w.Plus, Strong)
	if w.Minus != "" {
		y = say(y+3, "−", w.Minus, Text)
	}
	if kind.seen != "" {
		y += 3
		pic.Marks = append(pic.Marks, Label{X: x + 16, Y: y, Text: kind.seen, Anchor: Start, Class: Small})
		y += line
	}
	pic.H = max(pic.H, y-6)
	return pic
}

// wayKind is what a way is drawn as.
type wayKind struct {
	seen  string   // from where one looks
	words []string // that name plus as it is drawn
	turns []string // that name the other way
	glyph func(against bool) []Mark
}

func (k wayKind) draw(against bool) []Mark { return k.glyph(against) }

// wayKinds, by the order in which their words are looked for.
var wayKinds = []wayKind{
	{words: []string{"larger tailstock", "bigger tailstock", "fatter tailstock"}, turns: []string{"larger headstock", "bigger headstock", "fatter headstock"}, glyph: taperGlyph},
	{words: []string{"crowned", "convex", "proud", "high middle"}, turns: []string{"hollow", "concave", "low middle"}, glyph: bowGlyph},
	{seen: "seen from above", words: []string{"towards operator", "towards front"}, turns: []string{"away operator", "towards rear", "towards back"}, glyph: planGlyph},
	{words: []string{"up", "upwards", "high", "higher", "rises", "rising", "raised", "raise", "above", "falls less"},
		turns: []string{"down", "downwards", "low", "lower", "falls", "falling", "drops", "hangs", "below"}, glyph: uprightGlyph},
	{seen: "seen from the front", words: []string{"towards tailstock", "right"}, turns: []string{"towards headstock", "left"}, glyph: alongGlyph},
	{glyph: scaleGlyph},
}

// wayOf finds what a way is drawn as, from its words.
func wayOf(plus string) (k wayKind, against bool) {
	words := strings.FieldsFunc(strings.ToLower(plus), func(r rune) bool { return !('a' <= r && r <= 'z') })
	has := func(list []string) bool {
		return slices.ContainsFunc(list, func(s string) bool {
			for _, w := range strings.Fields(s) {
				if !slices.Contains(words, w) {
					return false
				}
			}
			return true
		})
	}
	for _, k := range wayKinds {
		switch {
		case len(k.words) == 0, has(k.words):
			return k, false
		case has(k.turns):
			return k, true
		}
	}
	return wayKinds[len(wayKinds)-1], false
}

// arrow is a line with a tip at its end.
func arrow(a, b Point, class Class) []Mark {
	const r = 5.0
	ms := []Mark{Line{Points: []Point{a, b}, Class: class}}
	switch {
	case a.X == b.X && b.Y < a.Y:
		return append(ms, Line{Points: []Point{{b.X - r, b.Y + 2*r}, {b.X, b.Y}, {b.X + r, b.Y + 2*r}}, Closed: true, Class: Tip})
	case a.X == b.X:
		return append(ms, Line{Points: []Point{{b.X - r, b.Y - 2*r}, {b.X, b.Y}, {b.X + r, b.Y - 2*r}}, Closed: true, Class: Tip})
	case b.X < a.X:
		return append(ms, Line{Points: []Point{{b.X + 2*r, b.Y - r}, {b.X, b.Y}, {b.X + 2*r, b.Y + r}}, Closed: true, Class: Tip})
	}
	return append(ms, Line{Points: []Point{{b.X - 2*r, b.Y - r}, {b.X, b.Y}, {b.X - 2*r, b.Y + r}}, Closed: true, Class: Tip})
}

// pair draws the whole arrow of plus and the broken one of minus, with their
// signs.
func pair(mid, plus, minus Point, dx, dy float64) []Mark {
	ms := append(arrow(mid, plus, Axis), arrow(mid, minus, Dotted)...)
	return append(ms,
		Label{X: plus.X + dx, Y: plus.Y + dy, Text: "+", Anchor: Middle, Class: Head},
		Label{X: minus.X + dx, Y: minus.Y + dy, Text: "−", Anchor: Middle, Class: Head})
}

func swapped(against bool, a, b Point) (plus, minus Point) {
	if against {
		return b, a
	}
	return a, b
}

func uprightGlyph(against bool) []Mark {
	plus, minus := swapped(against, Point{42, 4}, Point{42, 62})
	ms := []Mark{Line{Points: []Point{{10, 28}, {74, 28}, {74, 38}, {10, 38}}, Closed: true, Class: Plain}}
	return append(ms, pairFrom(Point{42, 28}, Point{42, 38}, plus, minus, 12)...)
}

// pairFrom begins the upper arrow at one edge of a part, the lower at the other.
func pairFrom(top, bottom, plus, minus Point, dx float64) []Mark {
	from := func(p Point) Point {
		if p.Y < top.Y {
			return top
		}
		return bottom
	}
	ms := append(arrow(from(plus), plus, Axis), arrow(from(minus), minus, Dotted)...)
	sign := func(p Point, s string) Label {
		y := p.Y + 12
		if p.Y > bottom.Y {
			y = p.Y - 2
		}
		return Label{X: p.X + dx, Y: y, Text: s, Anchor: Middle, Class: Head}
	}
	return append(ms, sign(plus, "+"), sign(minus, "−"))
}

// planGlyph is seen from above: the operator stands below.
func planGlyph(against bool) []Mark {
	plus, minus := swapped(against, Point{34, 48}, Point{34, 2})
	ms := []Mark{
		Line{Points: []Point{{4, 20}, {64, 20}, {64, 29}, {4, 29}}, Closed: true, Class: Plain},
		// Head and shoulders.
		Line{Points: []Point{{58, 63}, {61, 55}, {79, 55}, {82, 63}}, Closed: true, Class: Plain},
		Dot{X: 70, Y: 50, Shape: Ring, Class: Value},
	}
	return append(ms, pairFrom(Point{34, 20}, Point{34, 29}, plus, minus, 12)...)
}

func heads() []Mark {
	return []Mark{
		Line{Points: []Point{{2, 14}, {18, 14}, {18, 58}, {2, 58}}, Closed: true, Class: Plain},
		Line{Points: []Point{{70, 26}, {82, 26}, {82, 58}, {70, 58}}, Closed: true, Class: Plain},
		Line{Points: []Point{{0, 58}, {84, 58}}, Class: Axis},
		Label{X: 10, Y: 52, Text: "H", Anchor: Middle, Class: Small},
		Label{X: 76, Y: 52, Text: "T", Anchor: Middle, Class: Small},
	}
}

// alongGlyph is seen from the front: the headstock is at the left.
func alongGlyph(against bool) []Mark {
	plus, minus := swapped(against, Point{66, 40}, Point{22, 40})
	return append(heads(), pair(Point{44, 40}, plus, minus, 0, -9)...)
}

func taperGlyph(against bool) []Mark {
	left, right := 4.0, 11.0
	plus, minus := Point{62, 26}, Point{26, 26}
	if against {
		left, right, plus, minus = right, left, minus, plus
	}
	return append(heads(),
		Line{Points: []Point{{18, 40 - left}, {70, 40 - right}, {70, 40 + right}, {18, 40 + left}}, Closed: true, Class: Heavy},
		Label{X: plus.X, Y: plus.Y - 4, Text: "+", Anchor: Middle, Class: Head},
		Label{X: minus.X, Y: minus.Y - 4, Text: "−", Anchor: Middle, Class: Head})
}

func bowGlyph(against bool) []Mark {
	up, down := []Point{{6, 34}, {42, 14}, {78, 34}}, []Point{{6, 34}, {42, 54}, {78, 34}}
	plus, minus := Point{42, 12}, Point{42, 64}
	if against {
		up, down, plus, minus = down, up, Point{42, 64}, Point{42, 12}
	}
	return []Mark{
		Line{Points: []Point{{6, 34}, {78, 34}}, Class: Grid},
		Curve{Points: up, Class: Flow}, Curve{Points: down, Class: Dotted},
		Label{X: plus.X + 14, Y: plus.Y, Text: "+", Anchor: Middle, Class: Head},
		Label{X: minus.X + 14, Y: minus.Y, Text: "−", Anchor: Middle, Class: Head},
	}
}

func scaleGlyph(bool) []Mark {
	ms := []Mark{Line{Points: []Point{{42, 24}, {42, 44}}, Class: Axis}}
	return append(ms, pair(Point{42, 34}, Point{74, 34}, Point{10, 34}, 0, -10)...)
}
