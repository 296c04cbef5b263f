package picture

import (
	"fmt"
	"slices"
	"strings"

	"waywright/checks/form"
	"waywright/checks/stat"
	"waywright/report"
	"waywright/report/draw"
)

// profiles draws the profiles behind a test that judges their form: with the
// line, or the zone, that the form is counted from. What stands in another
// picture is left out.
func (v view) profiles() []draw.Picture {
	if len(v.t.Elements) > 0 {
		return nil
	}
	var out []draw.Picture
	for _, x := range v.working() {
		if v.levels(x) {
			continue
		}
		for _, row := range runsIn(x) {
			if !row.round() && len(row.y) > 1 {
				out = append(out, v.profile(x, row))
			}
		}
	}
	return out
}

func (v view) profile(x report.Result, row run) draw.Picture {
	p := draw.Plot{Title: row.name, Up: x.Positive, Down: x.Negative, Unit: row.unit, Across: "station, " + row.at[0].Unit, Joined: true}
	lo, hi := infinite()
	for i, y := range row.y {
		p.Values = append(p.Values, draw.Val{At: row.at[i].Value, Y: y.Value, U: doubt(row.u[i]), Lo: lo, Hi: hi, Shape: draw.Round})
	}
	p.Desc = fmt.Sprintf("%d values along the stations, joined by a line.", len(row.y)) + doubtSaid(row)
	if method, ok := v.formOf(x.Name); ok {
		var said string
		if p.Refs, said = lines(row, method); said != "" {
			p.Desc += " " + said
		}
	}
	return called("profile", p.Draw(), rowNumbers("Station", "Value", []run{row}))
}

// formOf is the method by which a result behind the test counts the form of the
// profile of that name.
func (v view) formOf(profile string) (form.Method, bool) {
	label, _, _ := strings.Cut(profile, ".")
	for _, x := range v.working() {
		_, args, ok := strings.Cut(x.Formula, "straightness(")
		if !ok || !strings.Contains(args, "result."+label) && !strings.Contains(args, "reading."+label) {
			continue
		}
		for _, m := range []form.Method{form.EndPoints, form.MinimumZone, form.LeastSquares} {
			if strings.Contains(args, `"`+string(m)+`"`) {
				return m, true
			}
		}
	}
	return "", false
}

// lines are those that a form is counted from, and what they are.
func lines(row run, method form.Method) (refs []draw.Ref, said string) {
	at, y := row.sorted()
	n := len(at) - 1
	if n < 1 {
		return nil, ""
	}
	if method == form.EndPoints {
		return []draw.Ref{{X0: at[0], Y0: y[0], X1: at[n], Y1: y[n], Text: "through the ends"}}, "The broken line runs through the values at the ends."
	}
	left, err := form.Detrended(at, y, method)
	if err != nil {
		return nil, ""
	}
	a, b := y[0]-left[0], y[n]-left[n]
	words := map[form.Method]string{form.MinimumZone: "the least zone", form.LeastSquares: "the zone along the line of least squares"}[method]
	for i, off := range []float64{left[stat.WhereLeast(left)], left[stat.WhereLeast(left)] + stat.Spread(left)} {
		r := draw.Ref{X0: at[0], Y0: a + off, X1: at[n], Y1: b + off}
		if i == 0 {
			r.Text = words
		}
		refs = append(refs, r)
	}
	return refs, "The broken lines are " + words + "."
}

// sorted are the row's numbers in the order of the stations.
func (r run) sorted() (at, y []float64) {
	order := make([]int, len(r.at))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, k int) int {
		switch d := r.at[i].Value - r.at[k].Value; {
		case d < 0:
			return -1
		case d > 0:
			return 1
		}
		return 0
	})
	for _, i := range order {
		at, y = append(at, r.at[i].Value), append(y, r.y[i].Value)
	}
	return at, y
}

// rowNumbers are rows as a table, a column to a row where they stand at the
// same places.
func rowNumbers(head, value string, rows []run) draw.Numbers {
	doubted := slices.ContainsFunc(rows, run.doubted)
	n := draw.Numbers{Head: []string{head, value}}
	if len(rows) > 1 {
		n.Head = []string{"Of", head, value}
	}
	if doubted {
		n.Head = append(n.Head, "Give or take")
	}
	for _, r := range rows {
		for i := range r.y {
			line := []string{r.at[i].WithUnit(), r.y[i].WithUnit()}
			if len(rows) > 1 {
				line = append([]string{r.name}, line...)
			}
			if doubted {
				line = append(line, withUnit(r.u[i]))
			}
			n.Rows = append(n.Rows, line)
		}
	}
	return n
}

// doubtSaid says what the upright lines are, where there are any.
func doubtSaid(rows ...run) string {
	if slices.ContainsFunc(rows, run.doubted) {
		return " An upright line is the doubt of a value."
	}
	return ""
}

// read draws what was read along stations or round a turn.
func (v view) read() []draw.Picture {
	var out []draw.Picture
	for _, rd := range v.readings() {
		if v.inclinedReading(rd) {
			continue // stands in the picture of the level
		}
		if ps := v.roundReading(rd); len(ps) > 0 {
			out = append(out, ps...)
			continue
		}
		out = append(out, v.alongReading(rd)...)
	}
	return out
}

func (v view) alongReading(rd report.Reading) []draw.Picture {
	rows := slices.DeleteFunc(runsOf(rd), func(r run) bool { return len(r.y) < 3 })
	if len(rows) == 0 || len(rows) > len(shapes) {
		return nil
	}
	p := draw.Plot{Title: rd.Title + ", as read", Unit: rd.Unit, Up: rd.Positive, Down: against(rd.Positive), Joined: true, Across: "station, " + rows[0].at[0].Unit}
	list := seriesOf(rows)
	p.Name, p.Values, p.Others = list[0].Name, list[0].Values, list[1:]
	n := 0
	for _, r := range rows {
		n += len(r.y)
	}
	p.Desc = fmt.Sprintf("%d readings, joined by a line.", n)
	if len(rows) > 1 {
		p.Desc = fmt.Sprintf("%d readings in %d rows, each joined by a line of its own.", n, len(rows))
	}
	if method, ok := v.formOf(rd.Name); ok && len(rows) == 1 {
		refs, said := lines(rows[0], method)
		p.Refs, p.Desc = refs, strings.TrimSpace(p.Desc+" "+said)
	}
	return []draw.Picture{called("reading", p.Draw(), rowNumbers("Station", "Reading", rows))}
}

// shapes tell rows apart.
var shapes = [...]draw.Shape{draw.Round, draw.Square, draw.Triangle, draw.Ring}

func seriesOf(rows []run) []draw.Series {
	lo, hi := infinite()
	var out []draw.Series
	for i, r := range rows {
		s := draw.Series{Name: r.name}
		for k, y := range r.y {
			s.Values = append(s.Values, draw.Val{At: r.at[k].Value, Y: y.Value, U: doubt(r.u[k]), Lo: lo, Hi: hi, Shape: shapes[i%len(shapes)]})
		}
		out = append(out, s)
	}
	return out
}
