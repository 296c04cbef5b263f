// Package draw makes the pictures of a record: a profile against its limits,
// the attempts at a test, a value between its limits. It also makes graphs of
// boxes and arrows, for what depends on what.
//
// A picture is a list of marks on a plane, x to the right and y down, in
// pixels of a page; [SVG] writes one for a page, and [File] one that stands by
// itself. Nothing here knows of a record, and a
// picture says nothing by colour alone: limits are lines with their names,
// verdicts are shapes. The numbers belong in a table beside it.
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

// The classes.
const (
	Band   Class = "band"   // between the limits
	Limit  Class = "limit"  // the limits
	Axis   Class = "axis"   //
	Grid   Class = "grid"   //
	Trace  Class = "trace"  // joins the values
	Doubt  Class = "doubt"  // reach of the uncertainty
	Value  Class = "value"  // a value
	Text   Class = "text"   // lettering
	Strong Class = "strong" // lettering that stands out
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

// The shapes: each verdict has its own.
const (
	Round    Shape = "round"    // inside
	Cross    Shape = "cross"    // outside
	Diamond  Shape = "diamond"  // cannot be told
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
