package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
)

// Timeline is what happened in a run, and when. Hours and days in which nothing
// happened are folded away.
type Timeline struct {
	Title, Desc string
	Spans       string // what the spans are: sittings
	Sittings    []Span
	Lanes       []Lane
}

// Span is a stretch of time with a word.
type Span struct {
	From, To time.Time
	Text     string
}

// Lane is what happened of one kind.
type Lane struct {
	Name   string
	Events []Moment
}

// Moment is one thing that happened.
type Moment struct {
	At    time.Time
	Shape Shape
}

const (
	laneHigh  = 22.0
	laneTop   = 12.0
	laneLine  = 14.0  // a second line of a name
	laneNames = 140.0 // room for their names, where these need no more
	mostNames = 200.0
	foldWide  = 12.0
	foldAfter = 3 * time.Hour // without anything
)

// Draw returns the picture. Without any time it says so.
func (t Timeline) Draw() Picture {
	c := t.clock()
	rows := t.rows(c)
	base := laneTop
	for _, r := range rows {
		base += r.high
	}
	pic := Picture{W: plotW, H: base + 46, Title: t.Title, Desc: t.Desc}
	if len(c.pieces) == 0 {
		pic.Marks = []Mark{Label{X: plotW / 2, Y: pic.H / 2, Text: "nothing happened yet", Anchor: Middle, Class: Text}}
		return pic
	}
	pic.Marks = slices.Concat(ground(rows, c, base), t.spans(c), t.lanes(rows, c), c.days(base), c.hours(base), c.folds(base))
	return pic
}

// laneRow is a lane, or that of the sittings, where it is put.
type laneRow struct {
	names   []string // the name, in two lines where it is long
	y, high float64  // its middle
}

func (t Timeline) rows(c clock) []laneRow {
	names := []string{t.Spans}
	for _, l := range t.Lanes {
		names = append(names, l.Name)
	}
	var out []laneRow
	y := laneTop
	for _, n := range names {
		lines := wrapWide(n, Text, c.names-10)
		if len(lines) > 2 {
			lines = []string{lines[0], shortened(strings.Join(lines[1:], " "), lettering, c.names-10)}
		}
		high := laneHigh
		if len(lines) > 1 {
			high += laneLine
		}
		out = append(out, laneRow{lines, y + high/2, high})
		y += high
	}
	return out
}

// piece is a stretch of time that is drawn, between folds.
type piece struct {
	from, to time.Time
	a, b     float64 // its places
}

type clock struct {
	pieces []piece
	names  float64 // room at the left
}

// clock divides the time at stretches in which nothing happens.
func (t Timeline) clock() clock {
	c := clock{names: t.nameRoom()}
	list := t.stretches()
	if len(list) == 0 {
		return c
	}
	cur := list[0]
	for _, s := range list[1:] {
		if s.From.Sub(cur.To) > foldAfter {
			c.pieces = append(c.pieces, piece{from: cur.From, to: cur.To})
			cur = s
			continue
		}
		if s.To.After(cur.To) {
			cur.To = s.To
		}
	}
	c.pieces = append(c.pieces, piece{from: cur.From, to: cur.To})
	c.place()
	return c
}

func (t Timeline) stretches() []Span {
	var list []Span
	for _, s := range t.Sittings {
		if s.From.IsZero() || s.To.Before(s.From) {
			continue
		}
		list = append(list, s)
	}
	for _, l := range t.Lanes {
		for _, m := range l.Events {
			if !m.At.IsZero() {
				list = append(list, Span{From: m.At, To: m.At})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Span) int { return cmp.Or(a.From.Compare(b.From), a.To.Compare(b.To)) })
	return list
}

// nameRoom is the room that the names at the left need, to about half of the
// picture.
func (t Timeline) nameRoom() float64 {
	room := laneNames
	for _, l := range t.Lanes {
		room = math.Max(room, TextWidth(l.Name, lettering)+11)
	}
	return math.Min(room, mostNames)
}

// place shares the width among the pieces: half of it alike, half by how long
// they last, so that a short sitting can still be seen.
func (c clock) place() {
	n := float64(len(c.pieces))
	fold := math.Min(foldWide, 0.3*(plotW-c.names-right)/n)
	room := plotW - c.names - right - fold*(n-1)
	var all float64
	for _, p := range c.pieces {
		all += p.to.Sub(p.from).Seconds()
	}
	x := c.names
	for i, p := range c.pieces {
		share := 1 / n
		if all > 0 {
			share = 0.5/n + 0.5*p.to.Sub(p.from).Seconds()/all
		}
		c.pieces[i].a, c.pieces[i].b = x, x+room*share
		x += room*share + fold
	}
}

// at is the place of a time.
func (c clock) at(t time.Time) float64 {
	for _, p := range c.pieces {
		if t.After(p.to) {
			continue
		}
		pad := math.Min(6, (p.b-p.a)/4)
		if p.to.Equal(p.from) {
			return (p.a + p.b) / 2
		}
		share := t.Sub(p.from).Seconds() / p.to.Sub(p.from).Seconds()
		return p.a + pad + math.Max(share, 0)*(p.b-p.a-2*pad)
	}
	return c.pieces[len(c.pieces)-1].b
}

func ground(rows []laneRow, c clock, base float64) []Mark {
	var ms []Mark
	for _, r := range rows {
		for k, n := range r.names {
			y := r.y + 4 + (float64(k)-float64(len(r.names)-1)/2)*laneLine
			ms = append(ms, Label{X: 4, Y: y, Text: n, Anchor: Start, Class: Text})
		}
		for _, p := range c.pieces {
			ms = append(ms, Line{Points: []Point{{p.a, r.y}, {p.b, r.y}}, Class: Grid})
		}
	}
	for _, p := range c.pieces {
		ms = append(ms, Line{Points: []Point{{p.a, base}, {p.b, base}}, Class: Axis})
	}
	return ms
}

func (t Timeline) spans(c clock) []Mark {
	var ms []Mark
	for _, s := range t.Sittings {
		if s.From.IsZero() || s.To.Before(s.From) {
			continue
		}
		a, b := c.at(s.From), c.at(s.To)
		if b-a < 4 {
			a, b = (a+b)/2-2, (a+b)/2+2
		}
		ms = append(ms, Rect{X: a, Y: laneTop + 3, W: b - a, H: laneHigh - 6, Class: Plain})
		if s.Text != "" && TextWidth(s.Text, lettering)+6 <= b-a {
			ms = append(ms, Label{X: (a + b) / 2, Y: laneTop + laneHigh/2 + 4.5, Text: s.Text, Anchor: Middle, Class: Text})
		}
	}
	return ms
}

func (t Timeline) lanes(rows []laneRow, c clock) []Mark {
	var ms []Mark
	for i, l := range t.Lanes {
		y := rows[i+1].y
		for _, m := range l.Events {
			if !m.At.IsZero() {
				ms = append(ms, Dot{X: c.at(m.At), Y: y, Shape: m.Shape, Class: Value})
			}
		}
	}
	return ms
}

// days letters each piece with its day, where there is room.
func (c clock) days(base float64) []Mark {
	var ms []Mark
	taken := math.Inf(-1)
	year := 0
	for _, p := range c.pieces {
		text := p.from.Format("2 Jan")
		if p.from.Year() != year {
			text = p.from.Format("2 Jan 2006")
		}
		l := Label{X: (p.a + p.b) / 2, Y: base + 17, Text: text, Anchor: Middle, Class: Text}
		w := l.Width()
		l.X = math.Min(math.Max(l.X, c.names+w/2), plotW-2-w/2)
		if l.X-w/2 < taken+5 {
			continue
		}
		taken, year = l.X+w/2, p.from.Year()
		ms = append(ms, l)
	}
	return ms
}

// hours letters the ends of a time that is in one piece.
func (c clock) hours(base float64) []Mark {
	p := c.pieces[0]
	from, to := p.from.Format("15:04"), p.to.Format("15:04")
	if len(c.pieces) > 1 || from == to || p.from.Format(time.DateOnly) != p.to.Format(time.DateOnly) {
		return nil
	}
	day := TextWidth(p.from.Format("2 Jan 2006"), lettering)
	if p.b-p.a < day+2*TextWidth("00:00", lettering)+16 {
		return nil
	}
	return []Mark{
		Label{X: p.a, Y: base + 17, Text: from, Anchor: Start, Class: Text},
		Label{X: p.b, Y: base + 17, Text: to, Anchor: End, Class: Text},
	}
}

// folds marks where time is left out, and how much where there is room.
func (c clock) folds(base float64) []Mark {
	var ms []Mark
	taken := math.Inf(-1)
	for i := 1; i < len(c.pieces); i++ {
		a, b := c.pieces[i-1].b, c.pieces[i].a
		x, w := (a+b)/2, (b-a)/2
		ms = append(ms, Line{Points: []Point{{x - w*0.7, base + 4}, {x - w*0.1, base - 4}, {x + w*0.1, base + 4}, {x + w*0.7, base - 4}}, Class: Fold})
		l := Label{X: x, Y: base + 33, Text: lasted(c.pieces[i].from.Sub(c.pieces[i-1].to)), Anchor: Middle, Class: Small}
		if from, to := l.span(); from > math.Max(taken+6, c.names-30) && to < plotW {
			taken = to
			ms = append(ms, l)
		}
	}
	if len(ms) > 0 {
		ms = append(ms, Label{X: 4, Y: base + 33, Text: "left out", Anchor: Start, Class: Small})
	}
	return ms
}

// lasted is a long time in whole hours or days.
func lasted(d time.Duration) string {
	n, unit := math.Round(d.Hours()), "hour"
	if d >= 36*time.Hour {
		n, unit = math.Round(d.Hours()/24), "day"
	}
	if n != 1 {
		unit += "s"
	}
	return fmt.Sprintf("%.0f %s", n, unit)
}
