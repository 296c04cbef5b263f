package draw

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// courseSample has one of everything: boxes beside others, a way back, a way
// past, and one that is gone once more.
func courseSample() Course {
	return Course{
		Title: "A rail", Desc: "How the work runs.", Alt: "Set, read, and shift where it is not level.",
		Boxes: []Row{
			{Box: Box{Head: "Stated before", Lines: []string{"height"}, Class: Soft}},
			{Box: Box{Head: "1 Set to nothing", Lines: []string{"only where it is loose; otherwise past it"}}, Follows: true},
			{Box: Box{Head: "2 Read the rail", Lines: []string{"once for each end: left, right"}}, Follows: true},
			{Box: Box{Head: "The rail is level", Lines: []string{"up to 10 µm, either way"}, Class: Heavy}, Follows: true, If: "if not", Beside: []Box{
				{Head: "Shift the rail", Lines: []string{"one way: up", "the other: down", "at most 3 times"}},
				{Head: "Rejected", Class: Soft},
			}},
			{Box: Box{Head: "The record is sealed", Class: Soft}, Follows: true},
		},
		Routes: []Route{{From: 1, To: 2}, {From: 2, To: 2, Class: Dotted}, {From: 3, Beside: 1, To: 1, Right: true, Class: Dotted}},
		Key:    []Key{{Class: Flow, Text: "goes on"}, {Class: Dotted, Text: "goes back"}},
	}
}

func anyCourse(t *rapid.T) Course {
	words := rapid.SampledFrom([]string{"Read the bar", "Axis rises, never falls", "a", "headstock-holddown, tail-height, two-collar, tailstock-by-test-cut", strings.Repeat("long", 40), ""})
	box := func() Box {
		return Box{Head: words.Draw(t, "head"), Lines: rapid.SliceOfN(words, 0, 4).Draw(t, "lines"), Class: rapid.SampledFrom([]Class{"", Heavy, Soft}).Draw(t, "class")}
	}
	var c Course
	n := rapid.IntRange(0, 12).Draw(t, "rows")
	for i := range n {
		r := Row{Box: box(), Follows: i > 0, If: "if not"}
		for range rapid.IntRange(0, 3).Draw(t, "beside") {
			r.Beside = append(r.Beside, box())
		}
		c.Boxes = append(c.Boxes, r)
	}
	for range rapid.IntRange(0, 12).Draw(t, "routes") {
		at := rapid.IntRange(-1, n)
		c.Routes = append(c.Routes, Route{From: at.Draw(t, "from"), To: at.Draw(t, "to"), Beside: rapid.IntRange(0, 3).Draw(t, "beside"),
			Right: rapid.Bool().Draw(t, "right"), Class: rapid.SampledFrom([]Class{Flow, Dotted}).Draw(t, "class")})
	}
	return c
}

// No box of a course lies on another, no line runs through one, no lettering
// runs out of its own, and nothing lies outside the picture.
func TestCourseHasRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCourse(t)
		if bad := clashes(c.Draw()); len(bad) > 0 {
			t.Fatalf("%s", strings.Join(bad, "\n"))
		}
	})
	if bad := clashes(courseSample().Draw()); len(bad) > 0 {
		t.Errorf("%s", strings.Join(bad, "\n"))
	}
}

// clashes lists what is in the way of something else.
func clashes(p Picture) []string {
	var boxes []Rect
	var out []string
	for _, m := range p.Marks {
		if r, ok := m.(Rect); ok {
			boxes = append(boxes, r)
		}
	}
	in := func(r Rect, x, y float64) bool {
		return x > r.X+0.5 && x < r.X+r.W-0.5 && y > r.Y+0.5 && y < r.Y+r.H-0.5
	}
	for i, a := range boxes {
		if a.X < 0 || a.Y < 0 || a.X+a.W > p.W || a.Y+a.H > p.H {
			out = append(out, fmt.Sprintf("%v lies outside %g × %g", a, p.W, p.H))
		}
		for _, b := range boxes[:i] {
			if a.X < b.X+b.W && b.X < a.X+a.W && a.Y < b.Y+b.H && b.Y < a.Y+a.H {
				out = append(out, fmt.Sprintf("%v lies on %v", a, b))
			}
		}
	}
	for _, m := range p.Marks {
		switch m := m.(type) {
		case Line:
			for k := 1; k < len(m.Points); k++ {
				a, b := m.Points[k-1], m.Points[k]
				for s := range 101 {
					x, y := a.X+(b.X-a.X)*float64(s)/100, a.Y+(b.Y-a.Y)*float64(s)/100
					if x < 0 || y < 0 || x > p.W || y > p.H {
						out = append(out, fmt.Sprintf("a line to %v lies outside", b))
						break
					}
					for _, r := range boxes {
						if in(r, x, y) {
							out = append(out, fmt.Sprintf("a line from %v to %v runs through %v", a, b, r))
						}
					}
				}
			}
		case Label:
			from, to := m.span()
			for _, r := range boxes {
				if in(r, m.X, m.Y-3) && (to > r.X+r.W || from < r.X) {
					out = append(out, fmt.Sprintf("%q runs out of its box", m.Text))
				}
				if !in(r, m.X, m.Y-3) && in(r, to, m.Y-3) {
					out = append(out, fmt.Sprintf("%q runs into a box", m.Text))
				}
			}
		}
	}
	return out
}

// A way back ends in an arrow at its box; so does a way past. Each arrow from
// box to box is drawn.
func TestCourseLeadsWhereItSays(t *testing.T) {
	p := courseSample().Draw()
	box := map[string]Rect{}
	var last Rect
	tips := map[Point]bool{}
	for _, m := range p.Marks {
		switch m := m.(type) {
		case Rect:
			last = m
		case Label:
			if _, ok := box[m.Text]; !ok {
				box[m.Text] = last
			}
		case Line:
			if m.Class == Tip {
				tips[m.Points[1]] = true
			}
		}
	}
	at := func(x float64, r Rect) (n int) {
		for p := range tips {
			if p.X == x && p.Y > r.Y && p.Y < r.Y+r.H {
				n++
			}
		}
		return n
	}
	set, read := box["1 Set to nothing"], box["2 Read the rail"]
	if n := at(set.X+set.W, set); n != 1 {
		t.Errorf("%d arrows reach the step that is gone back to from the right", n)
	}
	if n := at(read.X, read); n != 2 { // past the step before it, and once more
		t.Errorf("%d arrows reach the second step from the left, want 2", n)
	}
	for _, name := range []string{"Shift the rail", "Rejected"} {
		if n := at(box[name].X, box[name]); n != 1 {
			t.Errorf("%d arrows reach %q", n, name)
		}
	}
	if !reflect.DeepEqual(p, courseSample().Draw()) {
		t.Error("the same course is drawn in two ways")
	}
}
