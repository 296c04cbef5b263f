package pdf_test

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"waywright/report/document"
	"waywright/report/pdf"
)

// written is a document with every kind of field, and more of them than a sheet
// has room for.
func written() document.Document {
	line := func(s string) document.Line { return document.Line{{Text: s}} }
	var many, few []document.Field
	for i := range 60 {
		many = append(many, document.Field{No: fmt.Sprintf("18b.%d", i+1), Line: line(fmt.Sprintf("at %d mm", 50*i)),
			Rooms: []document.Room{{Head: "↓"}, {Head: "↑", Unit: "µm"}}})
	}
	takes := make([]document.Room, 10)
	for i := range takes {
		takes[i].Head = fmt.Sprint(i + 1)
	}
	few = append(few,
		document.Field{No: "1", Line: line("Day"), Rooms: []document.Room{{Kind: document.Words}}},
		document.Field{No: "12b.3.4", Line: line("A place with a name that goes over more than one line of the column that it has"), Under: []document.Line{line("and more to know of it")}, Rooms: []document.Room{{Unit: "µm/m"}}},
		document.Field{No: "13", Line: line("Ten takes"), Rooms: takes},
		document.Field{No: "14", Line: line("A choice"), Rooms: []document.Room{{Kind: document.Ticks, Words: strings.Fields("one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen")}}},
		document.Field{Line: line("A sum"), Rooms: []document.Room{{Kind: document.Sum, Lines: 3}, {Unit: "mm"}}},
		document.Field{No: "15", Line: line("What was seen"), Rooms: []document.Room{{Kind: document.Words, Lines: 4}}})
	return document.Document{Title: "Work sheet", Subject: "trial", Digest: strings.Repeat("0", 64), Short: "00000000", Language: "en", End: "END", Parts: []document.Part{
		{ID: "few", Title: "Few", Blocks: []document.Block{document.Fields{Rows: few}}},
		{ID: "many", Title: "Many", Blocks: []document.Block{document.Fields{Rows: many}}},
	}}
}

const mm = 72 / 25.4

// Room to write is real: a value has 18 mm by 8 at least, a box to tick 4, and
// none is cut off at an edge or at the foot of a sheet.
func TestRoomToWrite(t *testing.T) {
	box := regexp.MustCompile(`(?m)^([0-9.-]+) ([0-9.-]+) ([0-9.-]+) (-?[0-9.]+) re S$`)
	for _, paper := range []pdf.Paper{pdf.A4, pdf.Letter} {
		var b bytes.Buffer
		if err := pdf.Render(&b, written(), paper); err != nil {
			t.Fatal(err)
		}
		values, ticks := 0, 0
		for i, s := range open(t, b.Bytes()).sheets(t) {
			for _, m := range box.FindAllStringSubmatch(s.content, -1) {
				x, y, w, h := decimal(t, m[1]), decimal(t, m[2]), decimal(t, m[3]), -decimal(t, m[4])
				switch {
				case w >= 18*mm && h >= 8*mm:
					values++
				case w >= 4*mm && h >= 4*mm && w < 6*mm:
					ticks++
				default:
					t.Errorf("%s, sheet %d: a box of %.1f by %.1f mm", paper, i+1, w/mm, h/mm)
				}
				if x < 47 || x+w > s.wide()-47 || y > s.high()-30 || y-h < 30 {
					t.Errorf("%s, sheet %d: a box at %.0f, %.0f of %.0f by %.0f goes over the edge", paper, i+1, x, y, w, h)
				}
			}
		}
		if values != 2*60+1+10+1 || ticks != 17 {
			t.Errorf("%s: %d boxes for values and %d to tick, want %d and 17", paper, values, ticks, 2*60+1+10+1)
		}
	}
}

// Numbers stand in their order, down each column.
func TestFieldsStandInOrder(t *testing.T) {
	var b bytes.Buffer
	if err := pdf.Render(&b, written(), pdf.A4); err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range open(t, b.Bytes()).sheets(t) {
		for _, text := range s.body() {
			if strings.HasPrefix(text, "18b.") {
				got = append(got, text)
			}
		}
	}
	for i, no := range got {
		if want := fmt.Sprintf("18b.%d", i+1); no != want {
			t.Fatalf("number %d is %s, want %s", i+1, no, want)
		}
	}
	if len(got) != 60 {
		t.Errorf("%d numbers, want 60", len(got))
	}
}

// What is of no run has no attachment, and the same words have the same bytes.
func TestSheetWithoutARecord(t *testing.T) {
	var first []byte
	for range 2 {
		var b bytes.Buffer
		if err := pdf.Render(&b, written(), pdf.A4); err != nil {
			t.Fatal(err)
		}
		f := open(t, b.Bytes())
		if root := f.object(t, f.root); strings.Contains(root, "/AF") || strings.Contains(root, "/EmbeddedFiles") {
			t.Error("a record is attached")
		}
		if first != nil && !bytes.Equal(first, b.Bytes()) {
			t.Error("the same words have other bytes")
		}
		first = b.Bytes()
	}
}
