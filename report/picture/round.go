package picture

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"waywright/report"
	"waywright/report/draw"
)

// dial is a turn whose places are named by where they lie.
type dial struct {
	seen  string
	words [4]string // at the top, right, bottom and left of the picture
	at    map[string]float64
}

// The dials. The machine stands before the operator with the headstock at the
// left: who looks from the tailstock at the headstock has the front at the
// left. From above, the operator stands below.
var dials = []dial{
	{
		"seen from the tailstock, looking at the headstock", [4]string{"top", "rear", "bottom", "front, operator's side"},
		map[string]float64{"top": 0, "up": 0, "rear": 90, "back": 90, "bottom": 180, "underside": 180, "down": 180, "front": 270},
	},
	{
		"seen from above", [4]string{"rear", "right", "front, operator's side", "left"},
		map[string]float64{"rear": 0, "back": 0, "right": 90, "front": 180, "left": 270},
	},
}

// dialOf returns the dial that three or more keys are places of.
func dialOf(keys []string) (dial, bool) {
	for _, d := range dials {
		n, used := 0, map[float64]bool{}
		for _, k := range keys {
			a, ok := d.at[strings.ToLower(k)]
			if ok && !used[a] {
				used[a] = true
				n++
			}
		}
		if n == len(keys) && n >= 3 {
			return d, true
		}
	}
	return dial{}, false
}

// valuesRound draws the values of a test that lie round a turn.
func (v view) valuesRound(title string) (draw.Polar, bool) {
	t := v.t
	p := draw.Polar{Title: title, Unit: t.Elements[0].Value.Unit, Lo: math.Inf(-1), Hi: math.Inf(1)}
	if f := t.Found; f != nil {
		p.Out = f.Positive
	}
	var keys []string
	for _, e := range t.Elements {
		keys = append(keys, e.Key)
	}
	d, named := dialOf(keys)
	if t.Along != "angle" && !named || !sameLimits(t.Elements) {
		return p, false
	}
	seen := ""
	if named {
		p.Words, p.Bare, seen = d.words, true, ", "+d.seen
	}
	for _, e := range t.Elements {
		a := draw.Around{Y: e.Value.Value, U: doubt(e.U), Shape: shape(e.Verdict)}
		switch {
		case named:
			a.Angle = d.at[strings.ToLower(e.Key)]
		case e.At != nil:
			a.Angle = e.At.Value
		default:
			return p, false
		}
		p.Values = append(p.Values, a)
	}
	p.Lo, p.Hi = lower(t.Elements[0].Lower), upper(t.Elements[0].Upper)
	for _, x := range v.working() {
		if x.Circle != nil && t.Along == "angle" {
			p.Circle = circle(*x.Circle)
		}
	}
	p.Desc = fmt.Sprintf("%d values round a turn%s, each with its doubt, against the limits %s. The deviation is drawn far larger than life.%s %s",
		len(p.Values), seen, t.Allowed.Said, circleSaid(p.Circle), strings.Replace(marksSaid, "upright ", "", 1))
	return p, true
}

func sameLimits(es []report.Element) bool {
	for _, e := range es {
		if lower(e.Lower) != lower(es[0].Lower) || upper(e.Upper) != upper(es[0].Upper) {
			return false
		}
	}
	return true
}

// circle is a fitted circle with its high spot named.
func circle(c report.Circle) *draw.Circle {
	out := &draw.Circle{Mean: c.Mean.Value, Amplitude: c.Eccentricity.Value}
	if c.High != nil {
		out.High = c.High.Value
		out.Text = fmt.Sprintf("high spot at %s; centre off by %s", c.High.WithUnit(), c.Eccentricity.WithUnit())
	}
	return out
}

func circleSaid(c *draw.Circle) string {
	switch {
	case c == nil:
		return ""
	case c.Text == "":
		return " The broken line is the circle of least squares."
	}
	return " The broken line is the circle of least squares; a triangle and a spoke mark its " + c.Text + "."
}

// roundReading draws a reading round a turn: at angles, at keys that are
// angles, or at keys that say where they lie.
func (v view) roundReading(rd report.Reading) []draw.Picture {
	var out []draw.Picture
	for _, row := range angleRows(rd) {
		if len(row.y) < 3 {
			continue
		}
		p := draw.Polar{Title: row.name + ", as read", Unit: rd.Unit, Out: rd.Positive, Lo: math.Inf(-1), Hi: math.Inf(1), Words: row.dial.words, Bare: row.dial.seen != "", Turning: rd.Turning}
		n := draw.Numbers{Head: []string{"Angle", "Reading"}}
		for i, y := range row.y {
			p.Values = append(p.Values, draw.Around{Angle: row.angles[i], Y: y.Value, Shape: draw.Round})
			n.Rows = append(n.Rows, []string{row.places[i], y.WithUnit()})
		}
		if rd.Circle != nil {
			p.Circle = circle(*rd.Circle)
			n.Rows = append(n.Rows, circleRows(*rd.Circle)...)
		}
		seen := ""
		if row.dial.seen != "" {
			seen, n.Head[0] = ", "+row.dial.seen, "Place"
		}
		if rd.Turning != "" {
			seen += ", angles " + rd.Turning
		}
		p.Desc = fmt.Sprintf("%d readings round a turn%s, drawn far larger than life.%s", len(p.Values), seen, circleSaid(p.Circle))
		v.ring(&p, rd)
		out = append(out, called("reading", p.Draw(), n))
	}
	return out
}

func circleRows(c report.Circle) [][]string {
	rows := [][]string{{"circle, mean", c.Mean.WithUnit()}, {"centre off by", c.Eccentricity.WithUnit()}}
	if c.High != nil {
		rows = append(rows, []string{"high spot at", c.High.WithUnit()})
	}
	return rows
}

// ring draws what a limit of run-out asks: a ring as wide as the limit, as far
// inside the greatest reading as outside the least. All readings lie in it
// where the run-out is within its limit.
func (v view) ring(p *draw.Polar, rd report.Reading) {
	label, _, _ := strings.Cut(rd.Name, ".")
	hi := v.t.Allowed.Upper
	if hi == nil || hi.Unit != rd.Unit || lower(v.t.Allowed.Lower) > 0 {
		return
	}
	for _, x := range v.working() {
		if strings.ReplaceAll(x.Formula, " ", "") != "runout(reading."+label+")" {
			continue
		}
		least, most := math.Inf(1), math.Inf(-1)
		for _, a := range p.Values {
			least, most = math.Min(least, a.Y), math.Max(most, a.Y)
		}
		p.Lo, p.Hi = (least+most-hi.Value)/2, (least+most+hi.Value)/2
		p.Desc += " The ring between the limits is as wide as the run-out allowed."
	}
}

// angleRow is a row of readings round a turn.
type angleRow struct {
	name   string
	angles []float64
	places []string
	y      []report.Number
	dial   dial
}

func angleRows(rd report.Reading) []angleRow {
	var out []angleRow
	byKey := len(rd.Keys) > 0 && rd.Keys[len(rd.Keys)-1] == "angle"
	for _, row := range runsOf(rd) {
		if !row.round() {
			return nil
		}
		a := angleRow{name: row.name, y: row.y}
		for _, at := range row.at {
			a.angles, a.places = append(a.angles, at.Value), append(a.places, at.WithUnit())
		}
		out = append(out, a)
	}
	if len(out) > 0 {
		return out
	}
	for _, p := range rd.Places {
		y := placeValue(p)
		if y == nil || p.At != nil || p.Pass != "" || len(p.Keys) == 0 {
			continue
		}
		last := len(p.Keys) - 1
		name := strings.Join(append([]string{rd.Title}, p.Keys[:last]...), ", ")
		if len(out) == 0 || out[len(out)-1].name != name {
			out = append(out, angleRow{name: name})
		}
		r := &out[len(out)-1]
		r.places, r.y = append(r.places, p.Keys[last]), append(r.y, *y)
	}
	var kept []angleRow
	for _, r := range out {
		if r.lie(byKey) {
			kept = append(kept, r)
		}
	}
	return kept
}

// lie works out at which angles the keys of a row lie.
func (r *angleRow) lie(angles bool) bool {
	if d, ok := dialOf(r.places); ok {
		r.dial = d
		for _, k := range r.places {
			r.angles = append(r.angles, d.at[strings.ToLower(k)])
		}
		return true
	}
	if !angles {
		return false
	}
	for i, k := range r.places {
		x, err := strconv.ParseFloat(k, 64)
		if err != nil || math.Abs(x) > 1e6 {
			return false
		}
		r.angles, r.places[i] = append(r.angles, x), k+"°"
	}
	return true
}
