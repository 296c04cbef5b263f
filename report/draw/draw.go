// Package draw makes the pictures of a record: a profile against its limits,
// a turn with the circle fitted to it, an axis in two planes, a bed's level and
// twist, heights over a field, the attempts at a test, what happened when, a
// value over the years, a value between its limits. It also makes graphs of
// boxes and arrows, for what depends on what.
//
// A picture is a list of marks on a plane, x to the right and y down, in
// pixels of a page. [SVG] writes one for a page, [File] one that stands by
// itself, [Terminal] a reduced form in letters and dots; whoever paints marks
// on something else paints the same picture. Each mark has a [Class], which
// says what it stands for; [Class.Look] says how it is painted, in tones whose
// colours are the painter's. Lettering is measured in DejaVu Sans by
// [TextWidth]. The same values make the same marks, to a tenth of a pixel.
//
// Nothing here knows of a record. A picture says nothing by colour alone:
// limits are lines with their names, verdicts and series are shapes and
// dashes. Values that are not finite are left out. The numbers of a picture
// stand in a table beside it, its [Numbers].
package draw

// Picture is a drawing.
type Picture struct {
	Name    string // what kind of picture it is, in letters and hyphens: values, attempts
	W, H    float64
	Title   string // what it is
	Desc    string // one sentence of what it shows
	Marks   []Mark
	Numbers Numbers // what it shows, in figures
}

// Numbers are the numbers of a picture as a table, as they are printed. The
// first column says what a row is of.
type Numbers struct {
	Head []string
	Rows [][]string
}

// Mark is a [Rect], [Line], [Curve], [Label] or [Dot].
type Mark interface{ mark() }

// Class says what a mark stands for; a style sheet says how it looks.
type Class string

// The classes. Those of graphs stand beside [Graph].
const (
	Band   Class = "band"   // the zone between the limits: filled, behind all else
	Limit  Class = "limit"  // a limit: the heaviest line
	Axis   Class = "axis"   // axes and frames: thin lines
	Grid   Class = "grid"   // lines that guide the eye, fainter than any other
	Trace  Class = "trace"  // joins the values: a whole line
	Trace2 Class = "trace2" // joins those of a second series: broken
	Trace3 Class = "trace3" // and of a third: dotted
	Fitted Class = "fitted" // a line, circle or zone fitted to the values: dash and dot
	Doubt  Class = "doubt"  // reach of the uncertainty: a line with end strokes, or a bar at half strength
	Value  Class = "value"  // a value: a dot, whose shape says the verdict or the series
	Fold   Class = "fold"   // where an axis of time leaves something out
	Text   Class = "text"   // lettering
	Strong Class = "strong" // lettering that stands out: directions, verdicts, numbers
)

// Rect is a filled rectangle.
type Rect struct {
	X, Y, W, H float64
	Class      Class
}

// Line joins points; Closed joins the last to the first and fills.
type Line struct {
	Points []Point
	Closed bool
	Class  Class
}

// Curve joins points by bends that leave and reach each of them level.
type Curve struct {
	Points []Point
	Class  Class
}

// Point is a place on the plane.
type Point struct{ X, Y float64 }

// Anchor says which part of a label stands at its place.
type Anchor string

// The anchors.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// Label is a line of lettering. Y is the baseline.
type Label struct {
	X, Y   float64
	Text   string
	Anchor Anchor
	Class  Class
}

// Shape is the shape of a dot.
type Shape string

// The shapes: each verdict has its own, and so has each series.
const (
	Round    Shape = "round"   // inside
	Cross    Shape = "cross"   // outside
	Diamond  Shape = "diamond" // cannot be told
	Square   Shape = "square"
	Triangle Shape = "triangle"
	Ring     Shape = "ring"     // an open circle
	ArrowOut Shape = "arrow"    // lies further out than the picture, to the right
	ArrowIn  Shape = "arrow_in" // lies further out, to the left
)

// Dot marks a value.
type Dot struct {
	X, Y  float64
	Shape Shape
	Class Class
}

func (Rect) mark()  {}
func (Line) mark()  {}
func (Curve) mark() {}
func (Label) mark() {}
func (Dot) mark()   {}
