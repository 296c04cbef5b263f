package flowmap

import (
	"fmt"
	"strings"

	"waywright/procedures"
	"waywright/report/draw"
)

// Picture draws the map.
func (f Flow) Picture() draw.Picture {
	c := draw.Course{
		Title: f.Title,
		Desc:  "How the work runs, from top to bottom. A heavy frame is a gate: beside it stands what is done where it is not passed. A broken frame ends there, or points to a box further up.",
		Alt:   f.alt(),
	}
	has := map[draw.Class]bool{}
	for i, p := range f.Parts {
		row := draw.Row{Box: draw.Box{Head: p.head(), Lines: p.Said, Class: draw.Plain}, Follows: i > 0}
		switch p.Kind {
		case Begin, Signed:
			row.Class = draw.Soft
		case Gate:
			row.Class, row.If = draw.Heavy, "if not"
		}
		for _, w := range p.Ways {
			x := draw.Box{Head: w.Title, Lines: w.Said, Class: draw.Plain}
			if w.Seen {
				x.Class, x.Lines = draw.Soft, []string{"as further up"}
			} else if w.Kind != procedures.Correct {
				x.Class = draw.Soft
			}
			row.Beside = append(row.Beside, x)
			if w.Back >= 0 {
				c.Routes = append(c.Routes, draw.Route{From: i, Beside: len(row.Beside), To: w.Back, Right: true, Class: draw.Dotted})
				has[draw.Dotted] = true
			}
			has[draw.Dashed] = true
		}
		if p.Again >= 0 {
			c.Routes = append(c.Routes, draw.Route{From: i, To: p.Again, Class: draw.Dotted})
			has[draw.Dotted] = true
		}
		if p.Past >= 0 {
			c.Routes = append(c.Routes, draw.Route{From: i, To: p.Past, Class: draw.Flow})
		}
		c.Boxes = append(c.Boxes, row)
	}
	c.Key = []draw.Key{{Class: draw.Flow, Text: "goes on; beside a box: past it, where its condition does not hold"}}
	if has[draw.Dashed] {
		c.Key = append(c.Key, draw.Key{Class: draw.Dashed, Text: "where the gate is not passed"})
	}
	if has[draw.Dotted] {
		c.Key = append(c.Key, draw.Key{Class: draw.Dotted, Text: "goes back, and is worked again from there"})
	}
	return c.Draw()
}

// head is the first line of a part's box.
func (p Part) head() string {
	if p.Kind == Work {
		return fmt.Sprintf("%d  %s", p.No, p.Title)
	}
	return p.Title
}

// alt is the map in words, for who cannot see it.
func (f Flow) alt() string {
	var b strings.Builder
	for _, l := range f.Lines() {
		s := strings.TrimRight(l.Text, ".")
		if b.Len() > 0 {
			b.WriteString(". ")
		}
		b.WriteString(s)
	}
	return b.String() + "."
}

// Line is a line of the map as text.
type Line struct {
	Indent int // 0 a part, 1 what is said of it, 2 what is said of a way on from a gate
	Text   string
}

// Lines returns the map as text. Where it goes back it says to which step.
func (f Flow) Lines() []Line {
	var out []Line
	add := func(indent int, text string) { out = append(out, Line{indent, text}) }
	for _, p := range f.Parts {
		if p.Kind == Gate {
			add(1, "GATE "+p.Title)
		} else if p.Kind == More {
			add(1, p.Title+":")
		} else {
			add(0, p.head())
		}
		in := 1
		if p.Kind == Gate || p.Kind == More {
			in = 2
		}
		for _, s := range p.Said {
			add(in, s)
		}
		for i, w := range p.Ways {
			word := "if not: "
			if i > 0 {
				word = "or: "
			}
			s := word + w.Title
			if w.Kind == procedures.Correct {
				s += ", then back to " + f.called(w.Back)
			}
			add(2, s)
			if w.Seen {
				continue
			}
			for _, s := range w.Said {
				add(3, s)
			}
		}
		if p.Again >= 0 {
			add(1, "back to "+f.called(p.Again)+", for the next of "+p.Next)
		}
	}
	return out
}

// called is how a part is spoken of.
func (f Flow) called(i int) string {
	if p := f.Parts[i]; p.No > 0 {
		return fmt.Sprintf("step %d", p.No)
	}
	return f.Parts[i].Title
}
