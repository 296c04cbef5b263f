package datamap

import (
	"strings"

	"waywright/report/draw"
)

// Picture draws the map. Results that stand on other results have a column
// further right.
func (m Map) Picture() draw.Picture {
	deep := 0
	for _, n := range m.Nodes {
		deep = max(deep, n.depth)
	}
	column := func(n Node) int {
		switch n.Kind {
		case Reading, Given:
			return 0
		case Result:
			return 1 + n.depth
		case Gate:
			return 2 + deep
		case Correction:
			return 3 + deep
		}
		return 4 + deep
	}
	g := draw.Graph{
		Title: m.Title,
		Desc:  "What depends on what: what is read and given, what is worked out of it, what that is held against, what is done where it fails, and what is to be measured again then.",
		Heads: make([]string, 5+deep),
		Key: []draw.Key{
			{Class: draw.Flow, Text: "is used for"},
			{Class: draw.Dashed, Text: "where this is not passed, that is done"},
			{Class: draw.Dotted, Text: "spoils that: it is to be worked or measured again"},
		},
	}
	g.Heads[0], g.Heads[1], g.Heads[2+deep], g.Heads[3+deep], g.Heads[4+deep] = "Read and given", "Worked out", "Held against limits", "Corrections", "Spoilt by them"
	for _, n := range m.Nodes {
		b := draw.Box{Column: column(n), Head: n.Title, Lines: []string{n.Name}, Class: draw.Plain}
		switch n.Kind {
		case Given:
			b.Class = draw.Soft
		case Gate:
			b.Class = draw.Heavy
			b.Lines = append(b.Lines, n.Note)
		case Other:
			b.Class = draw.Soft
		}
		if b.Head == "" {
			b.Head = n.Name
		}
		g.Boxes = append(g.Boxes, b)
	}
	for _, l := range m.Links {
		g.Arrows = append(g.Arrows, draw.Arrow{From: l.From, To: l.To, Class: [...]draw.Class{"", draw.Flow, draw.Dashed, draw.Dotted}[l.Kind]})
	}
	return g.Draw()
}

// Line is a line of the map as text: a heading, a thing, or what stands under
// it.
type Line struct {
	Indent int // 0 a heading, 1 a thing, 2 what is said of it
	Text   string
}

// Lines returns the map as text: each thing with what it comes from, and with
// what comes of it.
func (m Map) Lines() []Line {
	var out []Line
	add := func(indent int, text string) { out = append(out, Line{indent, text}) }
	for _, part := range []struct {
		head string
		is   []Kind
	}{{"READ AND GIVEN", []Kind{Reading, Given}}, {"WORKED OUT", []Kind{Result}}, {"HELD AGAINST LIMITS", []Kind{Gate}}, {"CORRECTIONS", []Kind{Correction}}} {
		headed := false
		for i, n := range m.Nodes {
			if n.Kind != part.is[0] && n.Kind != part.is[len(part.is)-1] {
				continue
			}
			if !headed {
				add(0, part.head)
				headed = true
			}
			title := n.Name
			if n.Title != "" {
				title += ": " + n.Title
			}
			add(1, title)
			for _, x := range []struct {
				word string
				list []string
			}{
				{"from ", m.before(i, Feeds)}, {"used for ", m.behind(i, Feeds)},
				{"for ", m.before(i, Leads)}, {"if not: ", m.behind(i, Leads)}, {"spoils ", m.behind(i, Spoils)},
			} {
				if len(x.list) > 0 {
					add(2, x.word+strings.Join(x.list, ", "))
				}
			}
			if n.Note != "" {
				add(2, n.Note)
			}
		}
	}
	return out
}

func (m Map) before(to int, kind LinkKind) []string {
	var out []string
	for _, l := range m.Links {
		if l.To == to && l.Kind == kind {
			out = append(out, m.Nodes[l.From].Name)
		}
	}
	return out
}

func (m Map) behind(from int, kind LinkKind) []string {
	var out []string
	for _, l := range m.Links {
		if l.From == from && l.Kind == kind {
			out = append(out, m.Nodes[l.To].Name)
		}
	}
	return out
}
