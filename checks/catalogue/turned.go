package catalogue

import (
	"math"

	"waywright/checks/quantity"
	"waywright/checks/turning"
)

// turned are the functions of package turning.
func turned() []*Func {
	taper := length("taper", "diameter at the far station less that at the near one")
	centres := length("centres", "length of the bar between its centres").above()
	span := length("span", "distance between the stations").above()
	large := length("large", "diameter at the large end")
	small := length("small", "diameter at the small end")
	over := length("length", "distance along the axis between these diameters").above()
	travel := length("travel", "how far the top slide runs").above()
	ratioOf := ratio("ratio", "change of diameter for each length")
	return []*Func{
		scalar{
			Func: Func{
				Name: "set_over", Doc: "how far to move the tailstock so that a bar between centres turns parallel",
				Signs: "plus is towards the operator", Source: "taper/2 · centres/span; common practice",
				Example: Example{"set_over(um(30), mm(300), mm(250))", "0.018 mm", "derived here"},
			},
			args: []arg{taper, centres, span}, gives: quantity.Length,
			f: func(a []float64, _ string) float64 { return turning.SetOver(a[0], a[1], a[2]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "set_over_for_taper", Doc: "how far to set the tailstock over to turn a taper on purpose",
				Signs: "plus is towards the operator, which makes the tailstock end small", Source: "centres · (large − small)/(2 · length); common practice",
				Example: Example{"set_over_for_taper(inch(2.5), inch(2), inch(6), inch(9))", "0.375 in", "F. D. Jones, Turning and Boring, p. 81"},
			},
			args: []arg{large, small, over, centres}, gives: quantity.Length,
			f: func(a []float64, _ string) float64 { return turning.SetOverForTaper(a[0], a[1], a[2], a[3]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "taper_after", Doc: "taper to be expected once the tailstock has moved",
				Signs: "plus is larger at the far station", Source: "taper − 2 · moved · span/centres; common practice",
				Example: Example{"taper_after(um(30), mm(0.018), mm(300), mm(250))", "0.000 mm", "derived here"},
			},
			args: []arg{taper, length("moved", "movement of the tailstock, plus towards the operator"), centres, span}, gives: quantity.Length,
			f: func(a []float64, _ string) float64 { return turning.TaperAfter(a[0], a[1], a[2], a[3]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "response", Doc: "what share of the planned change of taper was seen: 1 as planned, 0 nothing",
				Signs: "minus is the wrong way", Source: "(before − after)/(2 · planned · span/centres); common practice",
				Example: Example{"response(um(30), um(15), mm(0.018), mm(300), mm(250))", "0.5", "derived here"},
			},
			args: []arg{
				length("before", "diameter at the far station less that at the near one"), length("after", "the same after the move"),
				length("planned", "movement asked for, plus towards the operator").not0(), centres, span,
			}, gives: quantity.Ratio,
			f: func(a []float64, _ string) float64 { return turning.Response(a[0], a[1], a[2], a[3], a[4]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "kappa", Doc: "what share of a planned move was made; response over this is the gain of the machine",
				Signs: "minus is the wrong way", Source: "moved/planned; definition",
				Example: Example{"kappa(mm(0.009), mm(0.018))", "0.5", "definition"},
			},
			args:  []arg{length("moved", "movement made, as the indicator shows it"), length("planned", "movement asked for").not0()},
			gives: quantity.Ratio,
			f:     func(a []float64, _ string) float64 { return turning.Kappa(a[0], a[1]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "taper_per_length", Doc: "change of diameter for each length",
				Signs: "plus when large is the larger", Source: "definition",
				Example: Example{"taper_per_length(inch(3), inch(2), inch(12)) * inch(12)", "1 in", "US Navy training manual 14345, set-over example"},
			},
			args: []arg{large, small, over}, gives: quantity.Ratio,
			f: func(a []float64, _ string) float64 { return turning.TaperPerLength(a[0], a[1], a[2]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "half_angle", Doc: "angle between a taper's side and its axis",
				Signs: "plus as the ratio is", Source: "atan(ratio/2)",
				Example: Example{"half_angle(1 / 20.020)", "1.4307 deg", "1°25′50″ for Morse taper 2, after tables that reproduce ISO 296"},
			},
			args: []arg{ratioOf}, gives: quantity.Angle,
			f: func(a []float64, _ string) float64 { return turning.HalfAngle(a[0]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "angle_from_collars", Doc: "half-angle of a taper from two diameters",
				Signs: "plus when large is the larger", Source: "atan((large − small)/(2 · span))",
				Example: Example{"angle_from_collars(mm(26), mm(24), mm(100))", "0.5729 deg", "atan(0.01), derived here"},
			},
			args: []arg{large, small, span}, gives: quantity.Angle,
			f: func(a []float64, _ string) float64 { return turning.AngleFromCollars(a[0], a[1], a[2]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "collar_difference", Doc: "difference of diameters that two collars show at a half-angle",
				Signs: "plus as the angle is", Source: "2 · span · tan(angle)",
				Example: Example{"collar_difference(half_angle(0.05), mm(20))", "1 mm", "definition of a taper of 1 in 20"},
			},
			args: []arg{angle("angle", "half-angle of the taper"), span}, gives: quantity.Length,
			f: func(a []float64, _ string) float64 { return turning.CollarDifference(a[0], a[1]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "swing", Doc: "how far to swing the top slide, read at a radius from its pivot; with a half-angle, the advance of the cross slide that does it",
				Signs: "plus is steeper", Source: "radius · angle_error/cos(half_angle); derived here",
				Example: Example{"swing(mm(80), arcsec(40))", "0.0155 mm", "derived here"},
			},
			args: []arg{
				length("radius", "from the pivot to the place where the swing is read"),
				angle("angle_error", "by how much to steepen"),
				angle("half_angle", "half-angle of the taper, where the cross slide is advanced with the tool touching a collar").or(0),
			}, gives: quantity.Length,
			f: func(a []float64, _ string) float64 { return turning.Swing(a[0], a[1], a[2]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "slide_offset", Doc: "change that an indicator shows when the top slide runs along a true parallel bar",
				Signs: "plus as the angle is", Source: "travel · sin(angle)",
				Example: Example{"slide_offset(half_angle(0.05020), mm(50))", "1.2546 mm", "derived here, for Morse taper 3"},
			},
			args: []arg{angle("angle", "setting of the top slide"), travel}, gives: quantity.Length,
			f: func(a []float64, _ string) float64 { return turning.SlideOffset(a[0], a[1]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "angle_from_offset", Doc: "setting of the top slide from the change that an indicator shows",
				Signs: "plus as the offset is", Source: "asin(offset/travel)",
				Example: Example{"angle_from_offset(mm(25), mm(50))", "30 deg", "sin 30° is a half"},
			},
			args: []arg{length("offset", "change of the reading"), travel}, gives: quantity.Angle,
			domain: func(a []float64) string {
				return unless(math.Abs(a[0]) <= a[1], "the reading cannot change by more than the travel")
			},
			f: func(a []float64, _ string) float64 { return turning.AngleFromOffset(a[0], a[1]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "blue_angle", Doc: "by how much two tapers differ in half-angle, from how far the blue marked",
				Signs: "the amount alone: the end that marked gives the way; at the large end the plug is too steep", Source: "film/(fraction · length); derived here",
				Example: Example{"blue_angle(um(2.5), percent(50), mm(60)) * 2 * mm(60) / radian(1)", "0.010 mm", "derived here"},
			},
			args: []arg{
				length("film", "thickness of the blue").above(),
				ratio("fraction", "share of the length that marked").above(),
				length("length", "length that should bear").above(),
			}, gives: quantity.Angle,
			f: func(a []float64, _ string) float64 { return turning.BlueAngle(a[0], a[1], a[2]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "seat_shift", Doc: "how much further a taper goes into its socket for a change of diameter",
				Signs: "plus is further in, for a smaller plug or a larger socket", Source: "diameter_change/ratio",
				Example: Example{"seat_shift(um(5), 1 / 20)", "0.1 mm", "derived here"},
			},
			args: []arg{length("diameter_change", "by how much the plug is smaller, or the socket larger"), ratioOf.not0()}, gives: quantity.Length,
			f: func(a []float64, _ string) float64 { return turning.SeatShift(a[0], a[1]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "yaw_from_collars", Doc: "slope of the spindle's axis against the carriage's travel, level plane, from the taper of a bar held in the chuck alone",
				Signs: "plus is the free end towards the operator", Source: "(2 · tool_height · roll − taper)/(2 · span); derived here",
				Example: Example{"yaw_from_collars(um(-10), mm(150), 0, mm(100)) * mm(300)", "0.01 mm", "derived here"},
			},
			args: []arg{
				length("taper", "diameter at the free end less that at the headstock, without twice the tool spring"), span,
				ratio("roll", "change of the carriage's roll over the span, plus when the front way is low at the free end"),
				length("tool_height", "height of the tool above the ways"),
			}, gives: quantity.Ratio,
			f: func(a []float64, _ string) float64 { return turning.YawFromCollars(a[0], a[1], a[2], a[3]) },
		}.build(),
	}
}
