package catalogue

import (
	"waywright/checks/quantity"
	"waywright/checks/stat"
	"waywright/checks/value"
	"waywright/checks/ways"
)

// scraping are the functions of scraped surfaces.
func scraping() []*Func {
	return []*Func{
		generic(Func{
			Name: "scrape_stripes", Doc: "how many passes of the scraper each station gets, so that a profile comes to the wanted one but for its height; metal only comes off",
			Params: []Param{
				{Name: "p", Doc: "heights now, a profile"},
				{Name: "target", Doc: "the heights wanted, a profile at the same stations; one height where it is to be flat"},
				{Name: "bite", Doc: "what one pass takes off, 2 to 5 µm in finishing"},
			},
			Source:  "height above the wanted one, less the least of these, over bite, to the nearest whole pass; common practice",
			Example: Example{"first(scrape_stripes(along([mm(0), mm(100), mm(200)], [um(12), um(6), um(0)]), um(0), um(3)))", "4", "derived here"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				e, err := profileOf(0, ts[0])
				if err == nil && (e.Kind != value.Number || e.Dim != quantity.Length) {
					err = wanted(0, ts[0], value.ProfileType(value.NumberType(quantity.Length)))
				}
				if err == nil && ts[1].Kind == value.Profile {
					_, err = twoProfiles(ts[:2])
				} else if err == nil {
					err = length("target", "").check(1, ts[1])
				}
				if err == nil {
					err = length("bite", "").check(2, ts[2])
				}
				return value.ProfileType(value.CountType()), err
			},
			Eval: func(a []value.Value) value.Value {
				if a[2].Num <= 0 {
					return absent("the bite must be above nothing")
				}
				if len(a[0].Elems) == 0 {
					return absent("there are no values")
				}
				target := a[1]
				if target.Kind == value.Number {
					target = value.Map(func(value.Value) value.Value { return a[1] }, a[0])
				}
				at, p, q, why := together(a[0], target)
				if why != "" {
					return value.AbsentFor(why)
				}
				n := ways.Passes(p, q, a[2].Num)
				for _, x := range n {
					if !(x <= most) {
						return absent("more than %d passes: the bite is far too small for these heights", most)
					}
				}
				return value.ProfileOf(at, value.Nums(n...))
			},
		}, false),
		generic(Func{
			Name: "spots", Doc: "bearing spots to a square of 25 mm, the mean of several frames; least(counts) is the poorest of them",
			Params: []Param{
				{Name: "counts", Doc: "spots counted in each frame, three or more: repeated takes, values by key or a list", Takes: true},
				{Name: "frame", Doc: "side of the frame, 25 mm if left out; an inch holds 3 % more", Optional: true},
			},
			Source: "counts · (25 mm/frame)²; common practice", Example: Example{"spots([18, 22, 20])", "20", "definition"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				e, err := sample(0, ts[0])
				if err == nil && (e.Kind != value.Number || e.Dim != quantity.Ratio) {
					err = wantedWords(0, ts[0], "counts are wanted, without a unit")
				}
				if err == nil && len(ts) > 1 {
					err = length("frame", "").check(1, ts[1])
				}
				return value.NumberType(quantity.Ratio), err
			},
			Eval: evalSpots,
		}, false),
		generic(Func{
			Name: "bearing", Doc: "share of a surface that bears, from a grid laid over the frame",
			Params: []Param{{Name: "hits", Doc: "cells, or crossings, that are marked"}, {Name: "cells", Doc: "how many there are in all"}},
			Source: "hits/cells; common practice", Example: Example{"bearing(43, 100)", "0.43", "definition"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				for i, t := range ts {
					if err := ratio("", "").check(i, t); err != nil {
						return value.Type{}, err
					}
				}
				return value.NumberType(quantity.Ratio), nil
			},
			Eval: func(a []value.Value) value.Value {
				hits, cells := a[0].Num, a[1].Num
				switch {
				case cells <= 0:
					return absent("there are no cells")
				case hits < 0 || hits > cells:
					return absent("%g cells of %g cannot be marked", hits, cells)
				}
				return number(hits / cells)
			},
		}, false),
	}
}

func evalSpots(a []value.Value) value.Value {
	x := numbersOf(a[0])
	scale := 1.0
	if len(a) > 1 {
		if a[1].Num <= 0 {
			return absent("the frame must be above nothing")
		}
		scale = 25 / a[1].Num * (25 / a[1].Num)
	}
	if len(x) == 0 {
		return absent("there are no counts")
	}
	for _, n := range x {
		if n < 0 {
			return absent("%g spots cannot be counted", n)
		}
	}
	return number(stat.Mean(x) * scale)
}
