package draw

import "math"

// Level is a bed seen along its length: how its height runs, and below it, over
// the same stations, how it leans across. The range of the leaning is its twist.
type Level struct {
	Title, Desc string
	Across      string // what runs from left to right, with its unit
	Heights     []Series
	HeightUnit  string
	Refs        []Ref  // of the heights
	High, Low   string // what plus and minus mean of a height
	Leans       []Series
	LeanUnit    string
	Over, Under string // what plus and minus mean of a leaning
	Twist       string // what the range of the leaning is called, with its value; may be empty
}

const levelHigh = 190.0

// Draw returns the picture: one plot for what there is of both, one station
// above the other.
func (l Level) Draw() Picture {
	var plots []Plot
	if len(l.Heights) > 0 {
		plots = append(plots, Plot{Across: l.Across, Unit: l.HeightUnit, Up: l.High, Down: l.Low, Joined: true, low: levelHigh, Refs: l.Refs,
			Name: l.Heights[0].Name, Values: l.Heights[0].Values, Others: l.Heights[1:]})
	}
	if len(l.Leans) > 0 {
		plots = append(plots, Plot{Across: l.Across, Unit: l.LeanUnit, Up: l.Over, Down: l.Under, Joined: true, low: levelHigh,
			Name: l.Leans[0].Name, Values: l.Leans[0].Values, Others: l.Leans[1:], Bracket: l.bracket()})
	}
	if len(plots) == 0 {
		plots = []Plot{{}}
	}
	return Stack(l.Title, l.Desc, l.aligned(plots)...)
}

// aligned draws plots over the same stations, with the same room at their
// sides.
func (l Level) aligned(plots []Plot) []Picture {
	from, to := l.stations()
	left, right := 0.0, 0.0
	for _, p := range plots {
		if rows := p.rows(); len(rows) > 0 {
			x, _ := p.scales(rows, levelHigh)
			left, right = math.Max(left, x.a), math.Max(right, plotW-x.b)
		}
	}
	var out []Picture
	for _, p := range plots {
		p.from, p.to, p.left, p.right = from, to, left, right
		out = append(out, p.Draw())
	}
	return out
}

func (l Level) stations() (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, list := range [][]Series{l.Heights, l.Leans} {
		for _, s := range list {
			for _, v := range s.Values {
				from, to = reach(from, to, v.At)
			}
		}
	}
	return from, to
}

func (l Level) bracket() *Bracket {
	if l.Twist == "" {
		return nil
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, s := range l.Leans {
		for _, v := range s.Values {
			lo, hi = reach(lo, hi, v.Y)
		}
	}
	return &Bracket{Lo: lo, Hi: hi, Text: l.Twist}
}
