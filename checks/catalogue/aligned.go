package catalogue

import (
	"math"

	"waywright/checks/align"
	"waywright/checks/quantity"
)

// aligned are the functions of package align.
func aligned() []*Func {
	pads := length("pads", "distance between the nose-end and the rear pads").above()
	p0 := length("p0", "reading with the spindle at 0°")
	p180 := length("p180", "reading half a turn on")
	off := length("n", "metal taken off one flank")
	vee := angle("angle", "included angle of the vee")
	where := arg{name: "where", doc: "what the tip touches", words: []string{"outside", "bore"}, optional: true}
	delta := length("delta", "reading at the far rim less that at the near one")
	return []*Func{
		scalar{
			Func: Func{
				Name: "axis_slope", Doc: "slope of the spindle's axis against the carriage's travel",
				Signs: "plus is the free end high, or towards the operator", Source: "(far − near − radius_difference + sag_difference)/span; derived here",
				Example: Example{"axis_slope(um(0), um(7.4), mm(300), um(-2), um(2.6)) * mm(300)", "0.0120 mm", "derived here"},
			},
			args: []arg{
				length("near", "mean reading at the near station over spindle angles half a turn apart"),
				length("far", "the same at the far station"),
				length("span", "distance between the stations").above(),
				length("radius_difference", "radius of the bar, far less near"),
				length("sag_difference", "sag of the bar, far less near; nothing in the level plane"),
			}, gives: quantity.Ratio,
			f: func(a []float64, _ string) float64 { return align.AxisSlope(a[0], a[1], a[2], a[3], a[4]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "per_length", Doc: "what a slope amounts to over a length",
				Signs: "plus as the slope is", Source: "slope · length",
				Example: Example{"per_length(um(40) / m(1), mm(300))", "0.012 mm", "definition"},
			},
			args: []arg{ratio("slope", "a slope"), length("length", "the length it is stated for")}, gives: quantity.Length, lift: true,
			f: func(a []float64, _ string) float64 { return a[0] * a[1] },
		}.build(),
		scalar{
			Func: Func{
				Name: "pad_change", Doc: "by how much to move the nose end of a head to bring its slope to a target",
				Signs: "plus is up (shim under the nose-end pads) or towards the operator, as the slope's plus is", Source: "(target − slope) · pads; derived here",
				Example: Example{"pad_change(um(100) / m(1), um(10) / mm(300), mm(220))", "-0.0147 mm", "derived here"},
			},
			args: []arg{
				ratio("slope", "slope of the axis now"), ratio("target", "slope that it should have"), pads,
			}, gives: quantity.Length,
			f: func(a []float64, _ string) float64 { return align.PadChange(a[0], a[1], a[2]) },
		}.build(),
		fitPads(),
		scalar{
			Func: Func{
				Name: "vee_lateral", Doc: "how far a head moves sideways when metal comes off one flank of its vee",
				Signs: "plus is away from the flank that is cut on a raised vee, towards it in a sunk one", Source: "n/(2 · cos(angle/2)); derived here",
				Example: Example{"vee_lateral(um(10), deg(90))", "0.0071 mm", "derived here"},
			},
			args: []arg{off, vee}, gives: quantity.Length,
			domain: aVee,
			f:      func(a []float64, _ string) float64 { return align.VeeLateral(a[0], a[1]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "vee_drop", Doc: "how far a head drops when metal comes off one flank of its vee; off both, twice as far",
				Signs: "plus is down", Source: "n/(2 · sin(angle/2)); derived here",
				Example: Example{"vee_drop(um(10), deg(90))", "0.0071 mm", "derived here"},
			},
			args: []arg{off, vee}, gives: quantity.Length,
			domain: aVee,
			f:      func(a []float64, _ string) float64 { return align.VeeDrop(a[0], a[1]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "pad_gap", Doc: "gap under a pad of the head, from how far the free end moves when its screw is tightened",
				Signs: "plus is a gap; minus means that it is not this pad", Source: "rigid head turning about the other pads; derived here",
				Example: Example{`pad_gap(um(15), mm(220), mm(330), "nose")`, "0.006 mm", "derived here"},
			},
			args: []arg{
				length("shift", `movement of the free end: plus when it falls for "nose", when it rises for "rear"`), pads,
				length("reach", "from the nose-end pads to the free end").above(),
				{name: "end", doc: "which pad is drawn down", words: []string{"nose", "rear"}},
			}, gives: quantity.Length,
			f: func(a []float64, end string) float64 {
				if end == "nose" {
					return align.NoseGap(a[0], a[1], a[2])
				}
				return align.RearGap(a[0], a[1], a[2])
			},
		}.build(),
		scalar{
			Func: Func{
				Name: "sweep_height", Doc: "how much higher the tailstock's axis is than the spindle's",
				Signs: "plus is the tailstock high", Source: "(top − bottom)/2 − sag, in a bore (bottom − top)/2 − sag; derived here",
				Example: Example{"sweep_height(um(60), um(-40), um(20))", "0.030 mm", "derived here"},
			},
			args: []arg{
				length("top", "reading on top"), length("bottom", "reading underneath"),
				length("sag", "sag of the rig, on the radius"), where,
			}, gives: quantity.Length,
			f: func(a []float64, where string) float64 {
				if where == "bore" {
					return align.SweepHeightBore(a[0], a[1], a[2])
				}
				return align.SweepHeight(a[0], a[1], a[2])
			},
		}.build(),
		scalar{
			Func: Func{
				Name: "sweep_lateral", Doc: "how far the tailstock's axis lies towards the operator from the spindle's",
				Signs: "plus is towards the operator", Source: "(front − rear)/2, in a bore (rear − front)/2; derived here",
				Example: Example{`sweep_lateral(um(10), um(-6), "bore")`, "-0.008 mm", "derived here"},
			},
			args: []arg{
				length("front", "reading on the operator's side"), length("rear", "reading on the far side"), where,
			}, gives: quantity.Length,
			f: func(a []float64, where string) float64 {
				if where == "bore" {
					return align.SweepLateral(a[1], a[0])
				}
				return align.SweepLateral(a[0], a[1])
			},
		}.build(),
		scalar{
			Func: Func{
				Name: "facing_slope", Doc: "slope of the cross slide against the face that the spindle turns",
				Signs: "plus is hollow", Source: "delta/diameter; derived here",
				Example: Example{"facing_slope(um(8), mm(120)) * mm(300)", "0.02 mm", "derived here"},
			},
			args: []arg{delta, length("diameter", "distance between the two places").above()}, gives: quantity.Ratio,
			f: func(a []float64, _ string) float64 { return align.FacingSlope(a[0], a[1]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "facing_depth", Doc: "how deep the middle of a faced disc lies below its rim",
				Signs: "plus is hollow", Source: "delta/2; derived here",
				Example: Example{"facing_depth(um(8))", "0.004 mm", "derived here"},
			},
			args: []arg{delta}, gives: quantity.Length,
			f: func(a []float64, _ string) float64 { return align.FacingDepth(a[0]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "tram", Doc: "lean of a vertical spindle against the table",
				Signs: "plus is the top of the head leaning towards a: swing it towards b", Source: "(a − b)/sweep; derived here",
				Example: Example{"tram(um(40), um(0), mm(200)) * mm(300)", "0.060 mm", "derived here"},
			},
			args: []arg{
				length("a", "reading at a"), length("b", "reading at b, half a turn on"),
				length("sweep", "diameter of the sweep").above(),
			}, gives: quantity.Ratio,
			f: func(a []float64, _ string) float64 { return align.Tram(a[0], a[1], a[2]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "bar_axis", Doc: "where the axis lies at a station, free of what the bar is out by",
				Signs: "plus as the readings' plus is", Source: "mean of two readings half a turn apart; common practice",
				Example: Example{"bar_axis(um(12), um(-4))", "0.004 mm", "derived here"},
			},
			args: []arg{p0, p180}, gives: quantity.Length, lift: true,
			f: func(a []float64, _ string) float64 { return align.Mean(a[0], a[1]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "bar_error", Doc: "what the bar is out by at a station",
				Signs: "plus is the bar towards the indicator with the spindle at 0°", Source: "half the difference of two readings half a turn apart; common practice",
				Example: Example{"bar_error(um(12), um(-4))", "0.008 mm", "derived here"},
			},
			args: []arg{p0, p180}, gives: quantity.Length, lift: true,
			f: func(a []float64, _ string) float64 { return align.BarError(a[0], a[1]) },
		}.build(),
	}
}

func aVee(a []float64) string {
	return unless(a[1] > 0 && a[1] < math.Pi, "the included angle of a vee lies between 0 and 180°")
}
