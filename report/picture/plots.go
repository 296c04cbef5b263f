package picture

import (
	"fmt"
	"strings"

	"waywright/report"
	"waywright/report/draw"
)

// values draws the values of a test over many of them against their limits.
func values(t report.Test) []draw.Picture {
	if len(t.Elements) == 0 {
		return nil
	}
	p := draw.Plot{
		Title: t.Title + ": the values against their limits", Across: placeWord(t.Along),
		Joined: t.Along == "station" || t.Along == "angle", Even: t.Along == "key" || t.Along == "",
	}
	if f := t.Found; f != nil {
		p.Up, p.Down = f.Positive, f.Negative
	}
	numbers := draw.Numbers{Head: []string{capital(placeWord(t.Along)), "Value", "Give or take", "Allowed", "Verdict"}}
	for _, e := range t.Elements {
		v := draw.Val{Label: e.Key, Y: e.Value.Value, U: doubt(e.U), Lo: lower(e.Lower), Hi: upper(e.Upper), Shape: shape(e.Verdict)}
		if e.At != nil {
			v.At = e.At.Value
			p.Across = placeWord(t.Along) + ", " + e.At.Unit
		}
		p.Unit = e.Value.Unit
		p.Values = append(p.Values, v)
		numbers.Rows = append(numbers.Rows, []string{place(e.Key, e.At), e.Said, withUnit(e.U), bounds(e.Lower, e.Upper), e.Word})
	}
	p.Desc = fmt.Sprintf("%d values in a row, each with its doubt, against the limits %s. %s", len(t.Elements), t.Allowed.Said, marksSaid)
	return []draw.Picture{named("values", p.Draw(), numbers)}
}

// attempts draws how the attempts came to their limits.
func attempts(t report.Test) []draw.Picture {
	p := draw.Plot{Title: fmt.Sprintf("Test %d: the attempts against the limits", t.No), Across: "attempt", Even: true}
	numbers := draw.Numbers{Head: []string{"Attempt", "Found", "Give or take", "Allowed", "Verdict"}}
	for _, a := range t.Attempts {
		f := a.Found
		if f == nil || f.Value == nil {
			continue
		}
		p.Unit, p.Up, p.Down = f.Value.Unit, f.Positive, f.Negative
		p.Values = append(p.Values, draw.Val{Label: fmt.Sprint(a.N), Y: f.Value.Value, U: doubt(f.U),
			Lo: lower(a.Allowed.Lower), Hi: upper(a.Allowed.Upper), Shape: shape(a.Verdict)})
		numbers.Rows = append(numbers.Rows, []string{fmt.Sprint(a.N), f.Said, withUnit(f.U), bounds(a.Allowed.Lower, a.Allowed.Upper), a.Word})
	}
	if len(p.Values) < 2 {
		return nil
	}
	p.Desc = fmt.Sprintf("The results of %d attempts, one after the other, each with its doubt, against the limits. %s", len(p.Values), marksSaid)
	return []draw.Picture{named("attempts", p.Draw(), numbers)}
}

// read draws the readings along stations or round a turn that a test stands on.
func read(r report.Record, t report.Test) []draw.Picture {
	var out []draw.Picture
	for _, id := range t.Readings {
		if rd, ok := r.Reading(id); ok {
			out = append(out, reading(rd)...)
		}
	}
	return out
}

func reading(rd report.Reading) []draw.Picture {
	p := draw.Plot{Title: rd.Title + ", as read", Unit: rd.Unit, Up: rd.Positive, Joined: true, Across: "station"}
	if n := len(rd.Keys); n > 0 {
		p.Across = rd.Keys[n-1]
	}
	numbers := draw.Numbers{Head: []string{capital(p.Across), "Reading"}}
	for _, x := range rd.Places {
		if x.At == nil || x.Pass != "" || len(x.Keys) > 1 {
			continue
		}
		y := placeValue(x)
		if y == nil {
			continue
		}
		p.Across = strings.TrimSuffix(strings.SplitN(p.Across, ",", 2)[0]+", "+x.At.Unit, ", ")
		p.Values = append(p.Values, draw.Val{At: x.At.Value, Y: y.Value, Lo: lower(nil), Hi: upper(nil), Shape: draw.Round})
		numbers.Rows = append(numbers.Rows, []string{x.At.WithUnit(), y.WithUnit()})
	}
	if len(p.Values) < 3 {
		return nil
	}
	p.Desc = fmt.Sprintf("%d readings, joined by a line.", len(p.Values))
	return []draw.Picture{named("reading", p.Draw(), numbers)}
}

// placeValue is what a place reads: the mean of its takes, or the last one.
func placeValue(p report.Place) *report.Number {
	if p.Mean != nil || len(p.Takes) == 0 {
		return p.Mean
	}
	return p.Takes[len(p.Takes)-1].Number
}

// surfaces draws the heights of surfaces behind a test as lines of equal
// height.
func surfaces(r report.Record, t report.Test) []draw.Picture {
	var out []draw.Picture
	for _, name := range t.Working {
		for _, x := range r.Results {
			if x.Name == name && len(x.Heights) > 0 {
				out = append(out, surface(x))
			}
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
	return named("contour", c.Draw(), numbers)
}

func named(name string, p draw.Picture, n draw.Numbers) draw.Picture {
	p.Name, p.Numbers = name, n
	return p
}

// place is the head of a value's row: its key, or its station.
func place(key string, at *report.Number) string {
	if at != nil {
		return at.WithUnit()
	}
	return key
}

func placeWord(along string) string {
	if along == "" || along == "key" {
		return "place"
	}
	return along
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
