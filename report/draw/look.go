package draw

// Tone is one of the few tones that a picture is drawn in. What they are on
// paper or on a screen, by day or by night, is up to who paints.
type Tone string

// The tones.
const (
	None  Tone = ""
	Ink   Tone = "ink"   // that of the text
	Faint Tone = "faint" // of text of less weight, of lines that only guide the eye
	Edge  Tone = "edge"  // of frames
	Mark1 Tone = "mark"  // of what was measured
	Bound Tone = "limit" // of limits
	Zone  Tone = "band"  // of the zone between them
	Soft1 Tone = "soft"  // of boxes
	Paper Tone = "paper" // of the ground
)

// Look is how a class is painted. Lines of two classes differ in width or in
// dashes, never in tone alone.
type Look struct {
	Fill, Stroke Tone
	Width        float64   // of the stroke, in pixels
	Dash         []float64 // strokes and gaps, in pixels
	Size         float64   // of lettering, in pixels
	Bold         bool
}

var looks = map[Class]Look{
	Band:   {Fill: Zone},
	Limit:  {Stroke: Bound, Width: 2},
	Axis:   {Stroke: Ink, Width: 1},
	Grid:   {Stroke: Faint, Width: 0.6},
	Trace:  {Stroke: Mark1, Width: 1.2},
	Trace2: {Stroke: Mark1, Width: 1.4, Dash: []float64{6, 3}},
	Trace3: {Stroke: Mark1, Width: 1.6, Dash: []float64{1.5, 3}},
	Fitted: {Stroke: Ink, Width: 1.2, Dash: []float64{7, 3, 1.5, 3}},
	Doubt:  {Stroke: Mark1, Width: 1.4},
	Value:  {Fill: Mark1, Stroke: Paper, Width: 1},
	Fold:   {Fill: Paper, Stroke: Ink, Width: 1},
	Text:   {Fill: Ink, Size: 13},
	Strong: {Fill: Ink, Size: 13, Bold: true},
	Small:  {Fill: Faint, Size: 12},
	Head:   {Fill: Ink, Size: 15, Bold: true},
	Plain:  {Fill: Soft1, Stroke: Edge, Width: 1},
	Soft:   {Fill: Paper, Stroke: Edge, Width: 1, Dash: []float64{3, 3}},
	Heavy:  {Fill: Paper, Stroke: Ink, Width: 2.2},
	Flow:   {Stroke: Edge, Width: 1.3},
	Dashed: {Stroke: Ink, Width: 1.3, Dash: []float64{7, 4}},
	Dotted: {Stroke: Ink, Width: 1.6, Dash: []float64{1.5, 3.5}},
	Tip:    {Fill: Ink},
}

// Look is how marks of the class are painted. A [Rect] of the class [Doubt] is
// filled, at about half its strength; a [Dot] is painted by its [Dot.Look].
func (c Class) Look() Look {
	if l, ok := looks[c]; ok {
		return l
	}
	return Look{Stroke: Ink, Width: 1, Size: 13}
}

// Look is how the dot is painted: a cross is a line, the open shapes have the
// ground inside, the others are filled.
func (d Dot) Look() Look {
	switch d.Shape {
	case Cross:
		return Look{Stroke: Mark1, Width: 2.4}
	case Diamond, Ring:
		return Look{Fill: Paper, Stroke: Mark1, Width: 2}
	}
	return d.Class.Look()
}

// DotRadius is the radius of a round dot; the other shapes are about as large.
const DotRadius = 4

// Outline returns the lines that a dot is drawn by, and whether they are
// closed. A round dot and a ring have none: they are circles of [DotRadius].
func (d Dot) Outline() (lines [][]Point, closed bool) {
	const r = DotRadius
	at := func(dx, dy float64) Point { return Point{d.X + dx, d.Y + dy} }
	switch d.Shape {
	case Cross:
		return [][]Point{{at(-r, -r), at(r, r)}, {at(-r, r), at(r, -r)}}, false
	case Diamond:
		return [][]Point{{at(0, -r-1), at(r+1, 0), at(0, r+1), at(-r-1, 0)}}, true
	case Square:
		return [][]Point{{at(-r, -r), at(r, -r), at(r, r), at(-r, r)}}, true
	case Triangle:
		return [][]Point{{at(-r-1, r), at(0, -r-1), at(r+1, r)}}, true
	case ArrowOut:
		return [][]Point{{at(-r, -r), at(r, 0), at(-r, r)}}, true
	case ArrowIn:
		return [][]Point{{at(r, -r), at(-r, 0), at(r, r)}}, true
	}
	return nil, true
}
