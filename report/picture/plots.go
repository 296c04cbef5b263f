package picture

import (
	"fmt"

	"waywright/report"
	"waywright/report/draw"
)

// values draws the values of a test over many of them against their limits.
func (v view) values() []draw.Picture {
	t := v.t
	if len(t.Elements) == 0 {
		return nil
	}
	numbers := draw.Numbers{Head: []string{capital(placeWord(t.Along)), "Value", "Give or take", "Allowed", "Verdict"}}
	for _, e := range t.Elements {
		numbers.Rows = append(numbers.Rows, []string{place(e.Key, e.At), e.Said, withUnit(e.U), bounds(e.Lower, e.Upper), e.Word})
	}
	title := t.Title + ": the values against their limits"
	if p, ok := v.valuesRound(title); ok {
		return []draw.Picture{called("values", p.Draw(), numbers)}
	}
	p := draw.Plot{Title: title, Across: placeWord(t.Along), Joined: t.Along == "station" || t.Along == "angle"}
	if f := t.Found; f != nil {
		p.Up, p.Down = f.Positive, f.Negative
	}
	p.Even = true
	for _, e := range t.Elements {
		val := draw.Val{Label: e.Key, Y: e.Value.Value, U: doubt(e.U), Lo: lower(e.Lower), Hi: upper(e.Upper), Shape: shape(e.Verdict)}
		if e.At != nil {
			p.Even, val.At = false, e.At.Value
			p.Across = placeWord(t.Along) + ", " + e.At.Unit
		}
		p.Unit = e.Value.Unit
		p.Values = append(p.Values, val)
	}
	p.Desc = fmt.Sprintf("%d values in a row, each with its doubt, against the limits %s. %s", len(t.Elements), t.Allowed.Said, marksSaid)
	return []draw.Picture{called("values", p.Draw(), numbers)}
}

// attempts draws how the attempts came to their limits.
func (v view) attempts() []draw.Picture {
	t := v.t
	p := draw.Plot{Title: fmt.Sprintf("Test %d: the attempts against the limits", t.No), Across: "attempt", Even: true, Joined: true}
	numbers := draw.Numbers{Head: []string{"Attempt", "Found", "Give or take", "Allowed", "Verdict"}}
	for _, a := range t.Attempts {
		f := a.Found
		if f == nil || f.Value == nil {
			continue
		}
		p.Unit, p.Up, p.Down = f.Value.Unit, f.Positive, f.Negative
		p.Values = append(p.Values, draw.Val{Label: fmt.Sprint(a.N), Y: f.Value.Value, U: doubt(f.U), Note: a.Word,
			Lo: lower(a.Allowed.Lower), Hi: upper(a.Allowed.Upper), Shape: shape(a.Verdict)})
		numbers.Rows = append(numbers.Rows, []string{fmt.Sprint(a.N), f.Said, withUnit(f.U), bounds(a.Allowed.Lower, a.Allowed.Upper), a.Word})
	}
	if len(p.Values) < 2 {
		return nil
	}
	p.Desc = fmt.Sprintf("The results of %d attempts, one after the other, each with its doubt, against the limits. %s", len(p.Values), marksSaid)
	return []draw.Picture{called("attempts", p.Draw(), numbers)}
}

// surfaces draws the heights of surfaces behind a test as lines of equal
// height.
func (v view) surfaces() []draw.Picture {
	var out []draw.Picture
	for _, x := range v.working() {
		if len(x.Heights) > 0 {
			out = append(out, surface(x))
		}
	}
	return out
}

func surface(x report.Result) draw.Picture {
	lo, hi := x.Heights[0].Value, x.Heights[0].Value
	numbers := draw.Numbers{Head: []string{"Place to the right", "Place upward", "Height"}}
	c := draw.Contour{Title: x.Title + ": lines of equal height", Along: "the field as seen from above"}
	for _, h := range x.Heights {
		if h.Value.Value < lo.Value {
			lo = h.Value
		}
		if h.Value.Value > hi.Value {
			hi = h.Value
		}
		c.Heights = append(c.Heights, draw.Height{X: h.X.Value, Y: h.Y.Value, Z: h.Value.Value})
		numbers.Rows = append(numbers.Rows, []string{h.X.WithUnit(), h.Y.WithUnit(), h.Value.WithUnit()})
	}
	c.Unit = hi.Unit
	c.Desc = fmt.Sprintf("Lines of equal height through %d places. The highest is %s, marked by a dot, the lowest %s, marked by a diamond.",
		len(x.Heights), hi.WithUnit(), lo.WithUnit())
	return called("contour", c.Draw(), numbers)
}
