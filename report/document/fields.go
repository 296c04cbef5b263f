package document

// Fields are things to be written down by hand, each under its number, with
// room to write.
type Fields struct{ Rows []Field }

// Field is one thing to be written down.
type Field struct {
	No    string // by which it is asked for
	Line  Line   // what is asked
	Under []Line // what to know of it
	Rooms []Room
}

// Room is room to write in, or boxes to tick.
type Room struct {
	Kind  RoomKind
	Head  string   // before it: which take it is for
	Words []string // beside the boxes to tick
	Unit  string   // behind a value
	Lines int      // of what is written out
}

// RoomKind says what is written.
type RoomKind string

// The kinds of room.
const (
	Value RoomKind = ""      // a box for one value
	Ticks RoomKind = "ticks" // boxes to tick, each with its word
	Words RoomKind = "words" // lines to write on
	Sum   RoomKind = "sum"   // room for a sum
)

func (Fields) block() {}

// String is what stands for the room where nothing can be written.
func (r Room) String() string {
	out := ""
	switch r.Kind {
	case Ticks:
		for i, w := range r.Words {
			if i > 0 {
				out += "  "
			}
			out += "[ ] " + w
		}
	case Words, Sum:
		for i := range max(r.Lines, 1) {
			if i > 0 {
				out += " "
			}
			out += "________________________"
		}
	default:
		out = "[        ]"
	}
	if r.Unit != "" {
		out += " " + r.Unit
	}
	if r.Head != "" {
		out = r.Head + ": " + out
	}
	return out
}

func (f Fields) settle() {
	for _, r := range f.Rows {
		settleLine(r.Line)
		settleLines(r.Under)
	}
}

func (p *plainWriter) fields(f Fields) {
	for _, r := range f.Rows {
		p.line(0, r.No+"  "+r.Line.String())
		p.lines(1, r.Under)
		for _, x := range r.Rooms {
			p.line(1, x.String())
		}
	}
}
