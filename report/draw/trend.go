package draw

import (
	"math"
	"time"
)

// Trend is a value found again and again over months or years, with its doubt;
// several series are told apart by their shapes and lines.
type Trend struct {
	Title, Desc string
	Unit        string
	Up, Down    string  // what plus and minus mean, in words; may be empty
	Lo, Hi      float64 // limits, ±Inf where there is none
	Series      []TrendSeries
}

// TrendSeries is one machine, or one place, over time.
type TrendSeries struct {
	Name   string
	Values []Dated
}

// Dated is a value on a day.
type Dated struct {
	At   time.Time
	Y    float64
	U    float64 // reach of the doubt either way; 0 where there is none
	Note string
}

// seriesShapes tell series apart.
var seriesShapes = [...]Shape{Round, Square, Triangle, Ring}

// Draw returns the picture.
func (t Trend) Draw() Picture {
	p := Plot{Title: t.Title, Desc: t.Desc, Unit: t.Unit, Up: t.Up, Down: t.Down, Joined: true, Across: "day"}
	first, last := time.Time{}, time.Time{}
	for i, s := range t.Series {
		row := Series{Name: s.Name}
		for _, d := range s.Values {
			if d.At.IsZero() || !isFinite(d.Y) {
				continue
			}
			if first.IsZero() || d.At.Before(first) {
				first = d.At
			}
			if d.At.After(last) {
				last = d.At
			}
			row.Values = append(row.Values, Val{At: days(d.At), Y: d.Y, U: d.U, Lo: t.Lo, Hi: t.Hi, Shape: seriesShapes[i%len(seriesShapes)], Note: d.Note})
		}
		p.Others = append(p.Others, row)
	}
	if len(p.Others) > 0 {
		p.Name, p.Values, p.Others = p.Others[0].Name, p.Others[0].Values, p.Others[1:]
	}
	p.Ticks = dayTicks(first, last)
	return p.Draw()
}

// days counts a time in days.
func days(t time.Time) float64 { return float64(t.Unix()) / 86400 }

// dayTicks are the beginnings of years, months or days, six or so.
func dayTicks(first, last time.Time) []Tick {
	if first.IsZero() {
		return []Tick{}
	}
	first, last = first.UTC(), last.UTC()
	switch span := last.Sub(first).Hours() / 24; {
	case span > 3*366:
		return stepTicks(first, last, int(math.Ceil(span/365/6)), 0, 0, "2006")
	case span > 75:
		months := 1
		for _, months = range []int{1, 2, 3, 6, 12} {
			if span/30/float64(months) <= 7 {
				break
			}
		}
		return stepTicks(first, last, 0, months, 0, "Jan 2006")
	default:
		return stepTicks(first, last, 0, 0, max(1, int(math.Ceil(span/6))), "2 Jan")
	}
}

func stepTicks(first, last time.Time, years, months, step int, layout string) []Tick {
	at := time.Date(first.Year(), first.Month(), first.Day(), 0, 0, 0, 0, time.UTC)
	switch {
	case years > 0:
		at = time.Date(first.Year(), 1, 1, 0, 0, 0, 0, time.UTC)
	case months > 0:
		at = time.Date(first.Year(), first.Month()-(first.Month()-1)%time.Month(months), 1, 0, 0, 0, 0, time.UTC)
	}
	out := []Tick{}
	for ; !at.After(last.AddDate(0, 0, 1)) && len(out) < 40; at = at.AddDate(years, months, step) {
		out = append(out, Tick{days(at), at.Format(layout)})
	}
	return out
}
