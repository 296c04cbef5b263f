package stat

import "math"

// Variance is a one-way analysis of variance: how much groups of readings
// differ beside how much the readings of one group do.
type Variance struct {
	Between, Within       float64 // sums of squares, in the square of the unit of the readings
	BetweenDoF, WithinDoF int
	F                     float64 // quotient of the mean squares; infinite where no group scatters
}

// RSquared returns the share of the sum of squares that lies between groups.
func (v Variance) RSquared() float64 { return v.Between / (v.Between + v.Within) }

// Residual returns the standard deviation of one reading within its group.
func (v Variance) Residual() float64 { return math.Sqrt(v.Within / float64(v.WithinDoF)) }

// OneWay returns the analysis of variance of at least two groups, none of them
// empty and one of them of two readings at least; with less the F is no number.
//
// The sums are taken about the means, not as differences of squares, and what
// rounding takes off them is kept: readings that agree in their first seven
// digits lose none of the others.
//
// Source: JCGM 100:2008, H.5.2, for the sums; T. F. Chan, G. H. Golub, R. J.
// LeVeque, The American Statistician 37 (1983), from memory, for the way.
func OneWay(groups ...[]float64) Variance {
	var all []float64
	for _, g := range groups {
		all = append(all, g...)
	}
	if len(all) == 0 {
		return Variance{F: math.NaN()}
	}
	// About a reading instead of nothing: the differences are exact where the
	// readings are alike, and means of small numbers are good to small errors.
	origin := all[0]
	grand := meanFrom(all, origin)
	var between, within total
	for _, g := range groups {
		m := meanFrom(g, origin)
		between.add(float64(len(g)) * (m - grand) * (m - grand))
		var rest total
		for _, x := range g {
			d := (x - origin) - m
			within.add(d * d)
			rest.add(d)
		}
		if r := rest.value(); len(g) > 0 {
			within.add(-r * r / float64(len(g)))
		}
	}
	v := Variance{Between: between.value(), Within: math.Max(0, within.value()), BetweenDoF: len(groups) - 1, WithinDoF: len(all) - len(groups)}
	v.F = (v.Between / float64(v.BetweenDoF)) / (v.Within / float64(v.WithinDoF))
	return v
}

// meanFrom returns how far the mean of readings lies above origin.
func meanFrom(x []float64, origin float64) float64 {
	var t total
	for _, v := range x {
		t.add(v - origin)
	}
	m := t.value() / float64(len(x))
	var rest total
	for _, v := range x {
		rest.add((v - origin) - m)
	}
	return m + rest.value()/float64(len(x))
}

// Components are the standard deviations that the readings of several people
// of several parts come from.
type Components struct {
	Repeatability   float64 // of one person and one part
	Reproducibility float64 // between people
	Interaction     float64 // of people with parts: one reads some parts higher than others do
	Parts           float64 // between parts
}

// Gauge returns the repeatability of all readings of one person, and
// reproducibility, from table[person][part][take]: a crossed analysis of
// variance with two factors, both drawn at random. A component whose estimate
// comes out below nothing is 0.
//
// ok is false unless there are two people, two parts and two takes at least,
// and as many takes everywhere.
//
// Source: the expected mean squares of the two-way crossed model with random
// effects; NIST/SEMATECH e-Handbook of Statistical Methods, 3.2.3.3, from
// memory.
func Gauge(table [][][]float64) (c Components, ok bool) {
	people := len(table)
	if people < 2 || len(table[0]) < 2 || len(table[0][0]) < 2 {
		return c, false
	}
	parts, takes := len(table[0]), len(table[0][0])
	for _, person := range table {
		if len(person) != parts {
			return c, false
		}
		for _, cell := range person {
			if len(cell) != takes {
				return c, false
			}
		}
	}
	o, p, n := float64(people), float64(parts), float64(takes)
	origin := table[0][0][0]
	cells := make([][]float64, people)
	byPerson, byPart := make([]float64, people), make([]float64, parts)
	var grand, within total
	for i, person := range table {
		cells[i] = make([]float64, parts)
		for j, cell := range person {
			m := meanFrom(cell, origin)
			cells[i][j] = m
			byPerson[i] += m / p
			byPart[j] += m / o
			grand.add(m / (o * p))
			for _, x := range cell {
				d := (x - origin) - m
				within.add(d * d)
			}
		}
	}
	all := grand.value()
	var ssO, ssP, ssI total
	for i := range cells {
		ssO.add(p * n * square(byPerson[i]-all))
		for j := range cells[i] {
			ssI.add(n * square(cells[i][j]-byPerson[i]-byPart[j]+all))
		}
	}
	for j := range byPart {
		ssP.add(o * n * square(byPart[j]-all))
	}
	msE := within.value() / (o * p * (n - 1))
	msI := ssI.value() / ((o - 1) * (p - 1))
	msO, msP := ssO.value()/(o-1), ssP.value()/(p-1)
	root := func(v float64) float64 { return math.Sqrt(math.Max(0, v)) }
	return Components{
		Repeatability:   root(msE),
		Interaction:     root((msI - msE) / n),
		Reproducibility: root((msO - msI) / (p * n)),
		Parts:           root((msP - msI) / (o * n)),
	}, true
}

func square(x float64) float64 { return x * x }
