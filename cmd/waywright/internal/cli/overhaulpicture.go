package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/google/renameio/v2"

	"waywright/engine/overhaul"
	"waywright/procedures"
	"waywright/report/draw"
)

// picture draws the plan: a box a task, from top to bottom in the order in which
// they can be done. How a task stands is said in words.
func (s overview) picture() draw.Picture {
	c := draw.Course{
		Title: fmt.Sprintf("%s: %s", s.plan.Title, s.view.Machine),
		Desc:  strings.TrimSpace(fmt.Sprintf("As of %s. %s %s", day(s.view.Now), s.round(), s.progress())),
		Alt:   s.text(),
	}
	for i, t := range s.view.Tasks {
		b := draw.Box{Head: fmt.Sprintf("%d %s: %s", i+1, t.Name, standing(t)), Lines: []string{s.title(t)}, Class: draw.Plain}
		switch t.State {
		case overhaul.Accepted:
			b.Head += " " + day(t.At)
		case overhaul.UnderWay:
			b.Class = draw.Heavy
		case overhaul.Again, overhaul.Rejected:
			if b.Class = draw.Heavy; t.Held() {
				b.Class = draw.Soft
				b.Head += ", waits"
			}
		default:
			if b.Class = draw.Heavy; !t.Ready() {
				b.Class = draw.Soft
			}
		}
		row := draw.Row{Box: b}
		for _, a := range direct(t.Task) {
			from := slices.IndexFunc(s.view.Tasks, func(o overhaul.Task) bool { return o.Task == a })
			if from == i-1 {
				row.Follows = true
				continue
			}
			c.Routes = append(c.Routes, draw.Route{From: from, To: i, Class: draw.Flow})
		}
		c.Boxes = append(c.Boxes, row)
	}
	c.Key = []draw.Key{{Class: draw.Flow, Text: "comes before. A heavy frame: to be worked on now. A broken frame: waits, or is not needed."}}
	for to, t := range s.view.Tasks {
		for _, from := range s.spoilers(t) {
			c.Routes = append(c.Routes, draw.Route{From: from, To: to, Right: true, Class: draw.Dotted})
			if len(c.Key) == 1 {
				c.Key = append(c.Key, draw.Key{Class: draw.Dotted, Text: "spoilt that: something was corrected there since it was measured"})
			}
		}
	}
	return c.Draw()
}

// spoilers are the other tasks in whose runs something was done by which a task
// does not hold any more.
func (s overview) spoilers(t overhaul.Task) (out []int) {
	for i, o := range s.view.Tasks {
		by := func(c overhaul.Cause) bool {
			return c.Kind != overhaul.NewRound && (c.Origin() == o.Run || c.Origin() == o.Accepted)
		}
		if o.Task != t.Task && slices.ContainsFunc(t.Spoilt, by) {
			out = append(out, i)
		}
	}
	return out
}

// direct leaves out of what a task comes after what it comes after by way of
// another one.
func direct(t *procedures.Task) []*procedures.Task {
	var out []*procedures.Task
	for _, a := range t.After {
		if !slices.ContainsFunc(t.After, func(o *procedures.Task) bool { return o != a && comesAfter(o, a) }) {
			out = append(out, a)
		}
	}
	return out
}

func comesAfter(t, earlier *procedures.Task) bool {
	return slices.ContainsFunc(t.After, func(a *procedures.Task) bool { return a == earlier || comesAfter(a, earlier) })
}

// picture writes a picture to a file, or to standard output for "-".
func (a *app) picture(file string, p draw.Picture) error {
	text := draw.File(p)
	if file == "-" {
		_, err := a.Out.Write(text)
		return err
	}
	if err := renameio.WriteFile(file, text, 0o666); err != nil {
		return cannot("the picture cannot be written: %w", err)
	}
	a.printf("%s\n", file)
	return nil
}
