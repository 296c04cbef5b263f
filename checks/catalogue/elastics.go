package catalogue

import (
	"math"

	"waywright/checks/elastic"
	"waywright/checks/form"
	"waywright/checks/quantity"
)

const newton = 1000 // kg·mm/s², the base unit of force

// elastics are the functions of package elastic.
func elastics() []*Func {
	at := length("at", "where along the bar, counted from the hold")
	free := length("length", "free length of the bar").above()
	support := length("length", "length of the bar").above()
	material := arg{name: "material", doc: "what it is made of", words: elastic.Materials()}
	return []*Func{
		scalar{
			Func: Func{
				Name: "bar_sag", Doc: "how far a round steel bar held at one end hangs down by its own weight",
				Signs: "plus is down: add it to a rise that was measured on the bar", Source: "beam equation, steel of 210 kN/mm² and 7.85 kg/dm³",
				Example: Example{"bar_sag(mm(30), mm(300), mm(300))", "0.0066 mm", "2·ρ·g·L⁴/(E·d²), textbook formula from memory"},
			},
			args: []arg{length("diameter", "diameter of the bar").above(), free, at}, gives: quantity.Length,
			domain: func(a []float64) string { return onBar(a[2], a[1]) },
			f:      func(a []float64, _ string) float64 { return elastic.BarSag(a[0], a[1], a[2]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "tube_sag", Doc: "how far a round steel tube held at one end hangs down by its own weight",
				Signs: "plus is down: add it to a rise that was measured on the bar", Source: "beam equation, steel of 210 kN/mm² and 7.85 kg/dm³",
				Example: Example{"tube_sag(mm(40), mm(30), mm(300), mm(300))", "0.0024 mm", "textbook formula from memory"},
			},
			args: []arg{length("outer", "outer diameter").above(), length("inner", "inner diameter"), free, at}, gives: quantity.Length,
			domain: func(a []float64) string {
				if a[1] < 0 || a[1] >= a[0] {
					return "the inner diameter must be below the outer one"
				}
				return onBar(a[3], a[2])
			},
			f: func(a []float64, _ string) float64 { return elastic.TubeSag(a[0], a[1], a[2], a[3]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "supported_sag", Doc: "how far a round steel bar or tube that lies on supports at both ends hangs down by its own weight",
				Signs: "plus is down", Source: "beam equation, steel of 210 kN/mm² and 7.85 kg/dm³",
				Example: Example{"supported_sag(mm(25), mm(500), mm(250))", "0.0076 mm", "5·w·L⁴/(384·E·I), textbook formula from memory"},
			},
			args: []arg{
				length("diameter", "outer diameter of the bar").above(), length("length", "length between the supports").above(),
				length("at", "where along the bar, counted from a support"), length("inner", "inner diameter of a tube").or(0),
			}, gives: quantity.Length,
			domain: func(a []float64) string {
				if a[3] < 0 || a[3] >= a[0] {
					return "the inner diameter must be below the outer one"
				}
				return onBar(a[2], a[1])
			},
			f: func(a []float64, _ string) float64 { return elastic.SupportedSag(a[0], a[3], a[1], a[2]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "rig_sag", Doc: "sag of an indicator rig, on the radius",
				Signs: "plus is down", Source: "half the reading under a stiff mandrel, zeroed on top, with its sign turned; common practice",
				Example: Example{"rig_sag(um(-40))", "0.020 mm", "derived here"},
			},
			args: []arg{length("turned_over", "reading underneath, zeroed on top")}, gives: quantity.Length,
			f: func(a []float64, _ string) float64 { return elastic.RigSag(a[0]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "tool_spring", Doc: "how far the cut pushes the free end of a steel bar held at one end; the diameter gets larger by twice that",
				Signs: "plus is away from the tool", Source: "beam equation F·l³/(3·E·I), steel of 210 kN/mm²",
				Example: Example{"tool_spring(newton(1), mm(200), mm(20))", "0.0016 mm", "textbook formula from memory"},
			},
			args: []arg{
				{name: "force", doc: "radial force of the cut", dim: quantity.Force, unit: newton},
				length("overhang", "from the hold to the tool").above(),
				length("diameter", "diameter of the bar").above(),
			}, gives: quantity.Length,
			f: func(a []float64, _ string) float64 { return elastic.ToolSpring(a[0], a[1], a[2]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "airy", Doc: "how far from each end to support a bar so that its end faces stay parallel",
				Source:  "G. B. Airy: the supports stand length/√3 apart",
				Example: Example{"airy(mm(1000))", "211.3 mm", "0.211 of the length, in public notes on Airy points"},
			},
			args: []arg{support}, gives: quantity.Length,
			f: func(a []float64, _ string) float64 { return elastic.Airy(a[0]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "bessel", Doc: "how far from each end to support a bar so that bending shortens it least",
				Source:  "F. W. Bessel, worked out here from the beam equation",
				Example: Example{"mm(1020) - 2 * bessel(mm(1020))", "571 mm", "supports of the prototype metre, in a public article"},
			},
			args: []arg{support}, gives: quantity.Length,
			f: func(a []float64, _ string) float64 { return elastic.Bessel(a[0]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "growth", Doc: "how much longer a length gets when it warms",
				Signs: "plus is longer", Source: "length · rise · coefficient, the coefficient from JCGM 100:2008 and handbook tables, which differ by several per cent",
				Tables: expansionSources(), Cite: citeMaterial(2),
				Example: Example{`growth(mm(100), kelvin(100), "mild_steel")`, "0.117 mm", "public handbook table"},
			},
			args: []arg{length("length", "the length"), {name: "rise", doc: "by how much it warms", dim: quantity.TempDiff}, material}, gives: quantity.Length, lift: true, expands: true,
			f: func(a []float64, word string) float64 {
				k, _ := elastic.Expansion(word)
				return elastic.Growth(a[0], a[1], k+a[3])
			},
		}.build(),
		scalar{
			Func: Func{
				Name: "at_20", Doc: "what a length, true at a temperature, is at 20 °C",
				Source: "length/(1 + coefficient · (temperature − 20 °C)), reference temperature as JCGM 100:2008, H.1 has it",
				Tables: expansionSources(), Cite: citeMaterial(2),
				Example: Example{`at_20(mm(300.0345), celsius(30), "steel")`, "300.0000 mm", "derived here: 11.5 µm for each metre and kelvin"},
			},
			args: []arg{length("length", "the length"), {name: "temperature", doc: "its temperature", point: true}, material}, gives: quantity.Length, lift: true, expands: true,
			f: func(a []float64, word string) float64 {
				k, _ := elastic.Expansion(word)
				return elastic.At20(a[0], a[1], k+a[3])
			},
		}.build(),
		scalar{
			Func: Func{
				Name: "cooling_time", Doc: "an estimate of how long a long steel bar takes to cool in air: measure the drift to know",
				Source:  "ρ·c·d/(4·film) · ln(from/to), steel of 7.85 kg/dm³ and 475 J/(kg·K); textbook formula from memory",
				Example: Example{"cooling_time(mm(25), kelvin(10), kelvin(1))", "89 min", "derived here, for still air"},
			},
			args: []arg{
				length("diameter", "diameter of the bar").above(),
				arg{name: "from", doc: "by how much it is warmer than the air now", dim: quantity.TempDiff}.above(),
				arg{name: "to", doc: "by how much it may be warmer", dim: quantity.TempDiff}.above(),
				arg{name: "film", doc: "how well the air takes heat, newton(10)/(m(1)*seconds(1)*kelvin(1)) if left out, 10 W/(m²·K): still air; in the draught of a fan about 25", dim: filmDim}.above().or(10),
			}, gives: quantity.Time,
			domain: func(a []float64) string { return unless(a[2] <= a[1], "it would have to get warmer") },
			f:      func(a []float64, _ string) float64 { return elastic.CoolingTime(a[0], a[1], a[2], a[3]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "lead_error", Doc: "by how much a nut travelled too far for its turns",
				Signs: "plus is too far", Source: "travel − turns · pitch; definition",
				Example: Example{"lead_error(mm(60.02), 30, mm(2))", "0.02 mm", "definition"},
			},
			args: []arg{length("travel", "how far the nut went"), ratio("turns", "turns of the screw"), length("pitch", "travel of one turn")}, gives: quantity.Length, lift: true,
			f: func(a []float64, _ string) float64 { return elastic.LeadError(a[0], a[1], a[2]) },
		}.build(),
		ofProfile(Func{
			Name: "cyclic", Doc: "range of the lead errors within a turn of a screw, less their least-squares line",
			Source:  "common practice: twelve places within one pitch",
			Example: Example{"cyclic(along([mm(0), mm(1), mm(2), mm(3)], [um(0), um(3), um(0), um(3)]))", "0.0036 mm", "derived here"},
			Over:    overProfile(func(at []float64) func([]float64) float64 { return rangeAlong(at, form.LeastSquares) }),
		}, form.Cyclic),
		scalar{
			Func: Func{
				Name: "lever", Doc: "what a lever indicator should have read, its lever standing at an angle to the surface",
				Signs: "plus as the reading is", Source: "reading · cos(angle)/cos(calibrated)",
				Example: Example{"lever(mm(0.2), deg(60))", "0.100 mm", "factor 0.50 at 60°, a maker's catalogue of 2019"},
			},
			args: []arg{
				length("reading", "what it reads"), angle("angle", "between lever and surface"),
				angle("calibrated", "the angle at which it reads true").or(0),
			}, gives: quantity.Length, lift: true,
			domain: func(a []float64) string {
				return unless(math.Abs(a[1]) < math.Pi/2 && math.Abs(a[2]) < math.Pi/2, "a lever stands at less than 90° to the surface")
			},
			f: func(a []float64, _ string) float64 { return elastic.Lever(a[0], a[1], a[2]) },
		}.build(),
		scalar{
			Func: Func{
				Name: "backlash", Doc: "lost motion between readings at one place, come to from either side",
				Source: "|forward − back|", Example: Example{"backlash(mm(0.12), mm(0.05))", "0.07 mm", "definition"},
			},
			args: []arg{length("forward", "reading when come to going forward"), length("back", "reading when come to going back")}, gives: quantity.Length, lift: true,
			f: func(a []float64, _ string) float64 { return elastic.Backlash(a[0], a[1]) },
		}.build(),
	}
}

// filmDim is the dimension of a film coefficient, W/(m²·K).
var filmDim = quantity.Dim{Mass: 1, Time: -3, Temp: -1}

// onBar says where a place does not lie on the bar. The two lengths may have
// been worked out in two ways, hence the allowance.
func onBar(at, length float64) string {
	return unless(at >= 0 && at <= length*(1+1e-9), "the place lies beyond the ends of the bar")
}
