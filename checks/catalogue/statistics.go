package catalogue

import (
	"math"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/stat"
	"waywright/checks/value"
)

// statistics are the functions about how well values are known.
func statistics() []*Func {
	return []*Func{
		scalar{
			Func: Func{
				Name: "t_factor", Doc: "by how many standard uncertainties a value may be off, to either side, at a level of confidence",
				Source:  "Student's t distribution; JCGM 100:2008, G.3 and Table G.2",
				Example: Example{"t_factor(10, percent(95))", "2.23", "JCGM 100:2008, Table G.2"},
			},
			args:  []arg{ratio("dof", "degrees of freedom, need not be whole").above(), ratio("level", "such as percent(95)").above()},
			gives: quantity.Ratio,
			domain: func(a []float64) string {
				return unless(a[1] < 1, "the level of confidence lies between nothing and 100 %")
			},
			f: func(a []float64, _ string) float64 { return checks.TQuantile((1+a[1])/2, a[0]) },
		}.build(),
		generic(Func{
			Name: "welch_satterthwaite", Doc: "degrees of freedom of a sum of independent contributions",
			Params: []Param{
				{Name: "u", Doc: "standard uncertainty that each contributes, a list, or values by key"},
				{Name: "dof", Doc: "degrees of freedom of each, as many; a great number where it is well known"},
			},
			Source:  "JCGM 100:2008, G.4.1",
			Example: Example{"welch_satterthwaite([um(3), um(4)], [9, 16])", "25", "derived here: 625/(81/9 + 256/16)"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				e, err := sample(0, ts[0])
				if err == nil && e.Kind != value.Number {
					err = wantedWords(0, ts[0], "numbers are wanted")
				}
				if err == nil {
					e, err = sample(1, ts[1])
				}
				if err == nil && (e.Kind != value.Number || e.Dim != quantity.Ratio) {
					err = wantedWords(1, ts[1], "plain numbers are wanted")
				}
				return value.NumberType(quantity.Ratio), err
			},
			Eval: func(a []value.Value) value.Value {
				u, dof := numbersOf(a[0]), numbersOf(a[1])
				if len(u) != len(dof) || len(u) == 0 {
					return absent("there are %d uncertainties and %d degrees of freedom", len(u), len(dof))
				}
				some := false
				for i := range u {
					some = some || u[i] != 0
					if u[i] < 0 || dof[i] <= 0 {
						return absent("uncertainties are not below nothing, degrees of freedom are above it")
					}
				}
				if !some {
					return absent("all uncertainties are nothing")
				}
				return number(stat.EffectiveDoF(u, dof))
			},
		}, false),
		generic(Func{
			Name: "differs", Doc: "whether two rows of readings differ by more than their scatter and the step of the instrument explain, at 95 %",
			Params: []Param{
				{Name: "a", Doc: "repeated takes, or a list, of two at least", Takes: true},
				{Name: "b", Doc: "the same, of another thing or after a change", Takes: true},
				{Name: "step", Doc: "step of the instrument; nothing if left out", Optional: true},
			},
			Source:  "|mean a − mean b| > t · u with the degrees of freedom of Welch and Satterthwaite (JCGM 100:2008, G.4.1); each mean is known no better than step/√12",
			Example: Example{"differs([um(3), um(5), um(4)], [um(12), um(14), um(13)], um(1))", "yes", "derived here: 9 µm beside 2.3 µm"},
			Check:   checkDiffers, Eval: evalDiffers,
		}, false),
		generic(Func{
			Name: "repeatability", Doc: "where the scatter of a gauge comes from: standard deviations of one person's readings of one part, between people, between people from part to part, and between parts",
			Params: []Param{{Name: "table", Doc: "readings by person, then by part, then take by take: values by three keys, or by two with a list in each; as many takes everywhere"}},
			Source: "two-way analysis of variance, crossed, with random effects; a component that comes out below nothing is nothing",
			Example: Example{
				"repeatability({ ann = { p = [um(1), um(3)], q = [um(9), um(11)] }, bob = { p = [um(1), um(3)], q = [um(9), um(11)] } }).repeatability",
				"0.001414 mm", "derived here: each pair scatters by √2 µm, and both people agree",
			},
			Check: checkGauge, Eval: evalGauge,
		}, false),
		generic(Func{
			Name: "correlation", Doc: "how far two rows of values go together, from −1 to 1",
			Params: []Param{{Name: "x", Doc: "a list, a profile, a turn or values by key"}, {Name: "y", Kind: "as x", Doc: "the same at the same places"}},
			Signs:  "plus is both rising together", Source: "JCGM 100:2008, C.3.6",
			Example: Example{"correlation([um(1), um(2), um(3)], [um(2), um(4), um(6)])", "1", "definition"},
			Check: func(ts []value.Type) (value.Type, *ArgError) {
				for i, t := range ts {
					if _, err := sample(i, t); err != nil {
						return value.Type{}, err
					}
				}
				_, err := zipTypes(ts, func(ts []value.Type) (value.Type, *ArgError) { return ts[0], nil })
				return value.NumberType(quantity.Ratio), err
			},
			Eval: evalCorrelation,
		}, false),
	}
}

func checkDiffers(ts []value.Type) (value.Type, *ArgError) {
	a, err := sample(0, ts[0])
	if err != nil {
		return a, err
	}
	b, err := sample(1, ts[1])
	if err == nil && (b.Kind != a.Kind || b.Dim != a.Dim) {
		err = wantedWords(1, ts[1], "values like the first ones are wanted")
	}
	if err == nil && len(ts) > 2 {
		if d := asDiff(a); ts[2].Kind != value.Number || ts[2].Dim != d.Dim {
			err = wanted(2, ts[2], d)
		}
	}
	return value.TruthType(), err
}

func evalDiffers(a []value.Value) value.Value {
	x, y, step := numbersOf(a[0]), numbersOf(a[1]), 0.0
	if len(a) > 2 {
		step = math.Abs(a[2].Num)
	}
	if len(x) < 2 || len(y) < 2 {
		return absent("two takes of each are needed to see how they scatter; there are %d and %d", len(x), len(y))
	}
	d := stat.Compare(x, y, step)
	if d.U == 0 {
		return absent("the takes do not scatter at all: give the step of the instrument")
	}
	dof := d.DoF
	if math.IsInf(dof, 1) {
		dof = 0 // the normal distribution
	}
	t := checks.TQuantile(0.975, dof)
	if !isFinite(d.Value) || !isFinite(d.U) || !isFinite(t) {
		return absent(noNumber)
	}
	return value.Bool(math.Abs(d.Value) > t*d.U)
}

var gaugeKeys = []string{"repeatability", "reproducibility", "interaction", "parts"}

func checkGauge(ts []value.Type) (value.Type, *ArgError) {
	t := ts[0]
	const want = "readings by person, then by part, then take by take are wanted"
	for range 2 {
		if t.Kind != value.Keyed {
			return value.Type{}, wantedWords(0, ts[0], want)
		}
		t = *t.Elem
	}
	if !t.Collection() || !single(*t.Elem) {
		return value.Type{}, wantedWords(0, ts[0], want)
	}
	return value.KeyedType(value.Key{Words: gaugeKeys}, asDiff(*t.Elem)), nil
}

func evalGauge(a []value.Value) value.Value {
	var table [][][]float64
	for _, person := range a[0].Elems {
		var cells [][]float64
		for i := range person.Keys {
			part := person
			if len(table) > 0 { // the same parts in the order of the first person
				if i >= len(a[0].Elems[0].Keys) {
					return absent("people have read different parts")
				}
				cell := part.Index(a[0].Elems[0].Keys[i])
				if cell.State != value.Present {
					return absent("people have read different parts")
				}
				cells = append(cells, numbersOf(cell))
				continue
			}
			cells = append(cells, numbersOf(part.Elems[i]))
		}
		table = append(table, cells)
	}
	c, ok := stat.Gauge(table)
	if !ok {
		return absent("two people, two parts and two takes at least are needed, and as many takes everywhere")
	}
	return value.KeyedOf(gaugeKeys, value.Nums(c.Repeatability, c.Reproducibility, c.Interaction, c.Parts))
}

func evalCorrelation(a []value.Value) value.Value {
	var x, y []float64
	v := zip(func(v []value.Value) value.Value {
		x, y = append(x, v[0].Num), append(y, v[1].Num)
		return v[0]
	}, a...)
	if v.State != value.Present {
		return v
	}
	if len(x) < 2 {
		return absent("two pairs of values are needed, there are %d", len(x))
	}
	if stat.Spread(x) == 0 || stat.Spread(y) == 0 {
		return absent("values that are all equal go together with nothing")
	}
	return number(stat.Correlation(x, y))
}
