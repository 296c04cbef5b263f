// Package document holds an acceptance record as it is printed: its words, in
// the order of reading, as headings, paragraphs, tables and pictures. The page,
// the printed sheets and the plain text are all made from it, so that they say
// the same in the same order.
//
// [Of] makes a document from a record, and from the signatures that stand
// beside it, alone. Nothing here knows of fonts, of the width of a sheet or of
// markup: a form decides how a heading looks and where a page ends. Texts are
// free of control characters and of marks that turn the direction of writing.
// A no-break space stands between a figure and its unit.
package document

import "waywright/report/draw"

// Document is a record as it is printed.
type Document struct {
	Title    string // what it is: Record of acceptance
	Number   string // of the record, on every sheet
	Item     string // the machine in few words, on every sheet: serial 1180
	Digest   string // SHA-256 of the record's JSON, hexadecimal
	Short    string // its first eight characters, on every sheet
	Draft    bool   // every sheet says so
	Language string // of the words: en
	Authors  []string
	Subject  string
	Time     string // of the last event, RFC 3339: nothing in a form is newer
	Program  string // that kept the journal
	Head     []Block
	Parts    []Part
	End      string // the last words
	JSON     []byte // the record, to be put into forms that hold files
}

// Part is a part under a heading of its own.
type Part struct {
	ID     string
	Title  string
	Form   Form
	Blocks []Block
}

// Form says what kind of sheet a part wants.
type Form string

// The forms of parts.
const (
	Flowing Form = ""        // goes on where the part before ended
	First   Form = "first"   // the outcome, on page one: larger letters
	Lying   Form = "lying"   // a sheet of its own, wider than high
	Fresh   Form = "fresh"   // begins on a new sheet
	AtOnce  Form = "at_once" // is kept on one sheet
)

// Block is a [Paragraph], [Heading], [Facts], [List], [Table], [Figure],
// [Photo], [Command], [Test], [Fields] or [Ink].
type Block interface{ block() }

// Run is a stretch of text.
type Run struct {
	Text   string
	Strong bool
	Code   bool   // as it is typed at a computer
	Ref    string // id of the part or test that it points to
	Time   string // RFC 3339, where the text says a time
}

// Line is what stands on one line, or on as many as it needs.
type Line []Run

// Style says what a paragraph is.
type Style string

// The styles of paragraphs.
const (
	Plain   Style = ""
	Lead    Style = "lead"    // what the record is of
	Verdict Style = "verdict" // the outcome, or the verdict of a test
	Alarm   Style = "alarm"   // the record does not hold any more
	Before  Style = "before"  // stays with what comes after it
	Holds   Style = "holds"   // for what the record holds
	Numbers Style = "numbers" // the record's number
)

// Paragraph is a paragraph.
type Paragraph struct {
	Style Style
	Line  Line
}

// Heading is a heading inside a part, of level 3 or 4.
type Heading struct {
	Level int
	Text  string
}

// Facts are names with what is to be said of each.
type Facts struct {
	Rows []Fact
	Work bool // the working of a result: formulas, with their values
}

// Fact is a name with its lines.
type Fact struct {
	Name  string
	Lines []Line
}

// List is a list.
type List struct {
	Style ListStyle
	Items []Item
}

// ListStyle says what kind of list it is.
type ListStyle string

// The kinds of lists.
const (
	Bullets ListStyle = ""
	Ordered ListStyle = "ordered" // numbered from 1
	Falls   ListStyle = "falls"   // tests, each under its number
)

// Item is an item of a list: its line, then what stands under it.
type Item struct {
	No     int // of a test
	Line   Line
	Under  []Line
	Blocks []Block // commands and lists inside
}

// Table is a table: the first cell of each row is its head.
type Table struct {
	Caption string
	Columns []Column
	Rows    []Row
	Kind    Kind
}

// Kind says how wide a table is.
type Kind string

// The kinds of tables.
const (
	Cards  Kind = ""       // many words: on a narrow screen each row becomes a card
	Narrow Kind = "narrow" // few narrow columns
	Sheet  Kind = "sheet"  // the test sheet
)

// Column is a column of a table.
type Column struct {
	Head    string
	Figures bool // bare figures, one under the other
}

// Row is a row, or a heading over the rows that follow, which has no cells.
type Row struct {
	Group string
	Cells []Cell
}

// Cell is one cell.
type Cell struct {
	Text    string
	Notes   []string // under the text
	Strong  bool
	Figure  bool // a figure: its line is not broken
	Picture *draw.Picture
	Ref     string // id of a part or test
	Time    string // RFC 3339, where the text is a time
}

// Figure is a picture with what stands under it.
type Figure struct {
	ID      string // unique in the document
	Picture draw.Picture
	Caption string
	Numbers *Table // where they stand in no other table beside it
}

// Photo is a photograph or a scan that was kept, small, with what is to be said
// of it.
type Photo struct {
	ID    string
	Name  string // Photo 7
	Image *Image // nil where it cannot be shown
	Facts Facts
}

// Image is a small picture, as JPEG.
type Image struct {
	JPEG          []byte
	Width, Height int // in points of the picture
	Says          string
}

// Command is what is typed at a computer, line by line.
type Command struct{ Lines []string }

// Test is a test with all that stands behind it.
type Test struct {
	No     int
	ID     string
	Title  string
	Word   string // its verdict
	Blocks []Block
}

// Ink is a line to sign on.
type Ink struct{ Text string }

func (Paragraph) block() {}
func (Heading) block()   {}
func (Facts) block()     {}
func (List) block()      {}
func (Table) block()     {}
func (Figure) block()    {}
func (Photo) block()     {}
func (Command) block()   {}
func (Test) block()      {}
func (Ink) block()       {}

// Empty tells whether there is nothing in the cell.
func (c Cell) Empty() bool { return c.Text == "" && c.Picture == nil && len(c.Notes) == 0 }

// Tests returns the tests of the part.
func (p Part) Tests() []Test {
	var out []Test
	for _, b := range p.Blocks {
		if t, ok := b.(Test); ok {
			out = append(out, t)
		}
	}
	return out
}
