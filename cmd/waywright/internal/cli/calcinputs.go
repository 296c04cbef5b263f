package cli

import (
	"fmt"
	"math"

	"waywright/checks"
	"waywright/checks/catalogue"
	"waywright/checks/montecarlo"
	"waywright/checks/stat"
)

// inputFunc is a function of calc that writes an input with its uncertainty.
// Procedures have none of them: there what is uncertain is read with an
// instrument.
type inputFunc struct {
	catalogue.Func
	least, most int // arguments; most is −1 where there may be any number
	args        func(n int) []role
	// build makes the input of the numbers of its arguments, all in base units,
	// the place among them where it is one. What it returns as wrong is said to
	// follow the call, and where is the argument that it is about.
	build func(x []float64) (in shaped, where int, wrong string)
}

// role is what an argument is.
type role uint8

const (
	rolePlace role = iota // of the input's kind; the first may itself be uncertain
	roleWidth             // of the kind of differences of the input
	rolePlain             // a number without unit
)

// shaped is an input: its middle, and the error about it.
type shaped struct {
	mid   float64 // of arguments that are the place of something; of a width alone 0
	u     float64 // standard uncertainty for the linear way
	dof   float64 // 0 stands for no end of them
	shape *montecarlo.Source
	name  string // of the distribution
}

// inputFuncs are the functions that write an input, in the order of the help.
var inputFuncs = []*inputFunc{
	{
		Func: catalogue.Func{Name: "about",
			Doc: "A value and its expanded uncertainty U, as certificates and people state them: normal, u = U/k. With degrees of freedom it is Student's t.",
			Params: []catalogue.Param{
				{Name: "x", Doc: "the value, or an expression that may have inputs of its own"}, {Name: "U", Doc: "the expanded uncertainty, without sign"},
				{Name: "k", Doc: "the coverage factor; 2 where it is not written", Optional: true}, {Name: "dof", Doc: "degrees of freedom; without them u counts as well known", Optional: true},
			},
			Source:  "JCGM 100:2008, 4.3.3; JCGM 101:2008, 6.4.7 and 6.4.9.7",
			Example: catalogue.Example{Expr: "about(mm(50.000623), um(0.075), 3, 18)", Want: "u = 25 nm with 18 degrees of freedom", Source: "JCGM 100:2008, H.1.3.1"}},
		least: 2, most: 4, args: roles(rolePlace, roleWidth, rolePlain, rolePlain),
		build: func(x []float64) (shaped, int, string) {
			k, dof := 2.0, 0.0
			if len(x) > 2 {
				k = x[2]
			}
			if len(x) > 3 {
				if dof = x[3]; !(dof > 0) {
					return shaped{}, 3, "degrees of freedom are above nought"
				}
			}
			if !(k > 0) {
				return shaped{}, 2, "a coverage factor is above nought, such as 2"
			}
			return gaussian(x[0], x[1]/k, dof)
		},
	},
	{
		Func: catalogue.Func{Name: "normal",
			Doc: "A value and its standard uncertainty u, normal.",
			Params: []catalogue.Param{{Name: "x", Doc: "the value"}, {Name: "u", Doc: "the standard uncertainty, without sign"},
				{Name: "dof", Doc: "degrees of freedom of u for the linear way; drawn it is normal all the same", Optional: true}},
			Source:  "JCGM 101:2008, 6.4.7",
			Example: catalogue.Example{Expr: "normal(kelvin(-0.1), kelvin(0.2))", Want: "u = 0.2 K", Source: "JCGM 101:2008, 9.5, Table 10"}},
		least: 2, most: 3, args: roles(rolePlace, roleWidth, rolePlain),
		build: func(x []float64) (shaped, int, string) {
			in, where, wrong := gaussian(x[0], x[1], 0)
			if len(x) > 2 {
				if in.dof = x[2]; !(in.dof > 0) {
					return shaped{}, 2, "degrees of freedom are above nought"
				}
				in.shape = source(montecarlo.Normal(0, in.u))
			}
			return in, where, wrong
		},
	},
	{
		Func: catalogue.Func{Name: "student",
			Doc: "A value and the standard deviation s of it, known with some degrees of freedom: Student's t, scaled and shifted. Of the mean of n takes s is s/√n.",
			Params: []catalogue.Param{{Name: "x", Doc: "the value"}, {Name: "s", Doc: "the standard deviation of x, without sign"},
				{Name: "dof", Doc: "degrees of freedom"}},
			Source:  "JCGM 101:2008, 6.4.9; JCGM 100:2008, G.3",
			Example: catalogue.Example{Expr: "student(nm(215), nm(13)/sqrt(5), 24)", Want: "u = 5.8 nm with 24 degrees of freedom", Source: "JCGM 100:2008, H.1.3.2"}},
		least: 3, most: 3, args: roles(rolePlace, roleWidth, rolePlain),
		build: func(x []float64) (shaped, int, string) {
			if !(x[2] > 0) {
				return shaped{}, 2, "degrees of freedom are above nought"
			}
			return gaussian(x[0], x[1], x[2])
		},
	},
	{
		Func: catalogue.Func{Name: "takes",
			Doc:     "Repeated observations of one thing: their mean, with s/√n and n − 1 degrees of freedom. What the takes have in common, such as the instrument's step and its error, is an input of its own.",
			Params:  []catalogue.Param{{Name: "x1", Doc: "the first take"}, {Name: "x2", Doc: "the second take"}, {Name: "…", Doc: "all others", Optional: true}},
			Source:  "JCGM 100:2008, 4.2; JCGM 101:2008, 6.4.9.2",
			Example: catalogue.Example{Expr: "takes(mm(20.011), mm(20.013), mm(20.012))", Want: "20.012 mm, u = 0.58 µm with 2 degrees of freedom", Source: "derived here: s = 1 µm, s/√3"}},
		least: 2, most: -1, args: func(n int) []role { return make([]role, n) },
		build: func(x []float64) (shaped, int, string) {
			return gaussian(stat.Mean(x), stat.StandardError(x), float64(len(x)-1))
		},
	},
	{
		Func: catalogue.Func{Name: "rectangular",
			Doc: "Anything between two limits, all alike likely: u is the half width by √3. Of one argument it is that half width, about nought. With degrees of freedom the limits themselves are only known so well; drawn it is then curvilinear_trapezoid with d = half width/√(2·dof).",
			Params: []catalogue.Param{{Name: "lo", Doc: "the lower limit"}, {Name: "hi", Doc: "the upper limit"},
				{Name: "dof", Doc: "degrees of freedom, ½·(relative doubt of u)⁻²", Optional: true}},
			Source:  "JCGM 100:2008, 4.3.7 and G.4.2; JCGM 101:2008, 6.4.2",
			Example: catalogue.Example{Expr: "rectangular(kelvin(-0.05), kelvin(0.05), 2)", Want: "u = 0.029 K with 2 degrees of freedom", Source: "JCGM 100:2008, H.1.3.6"}},
		least: 1, most: 3, args: inLimits(rolePlain),
		build: func(x []float64) (shaped, int, string) {
			mid, a, wrong := halves(x)
			in := shaped{mid: mid, u: a / math.Sqrt(3), shape: source(montecarlo.Rectangular(-a, a)), name: "rectangular"}
			if len(x) > 2 {
				if in.dof = x[2]; !(in.dof >= 0.5) {
					return shaped{}, 2, "degrees of freedom of limits are a half or more: at a half the limits may lie anywhere up to twice as far"
				}
				if a > 0 {
					in.shape = source(montecarlo.CurvilinearTrapezoid(-a, a, a/math.Sqrt(2*in.dof)))
				}
			}
			return in, 1, wrong
		},
	},
	{
		Func: catalogue.Func{Name: "triangular",
			Doc:     "Between two limits, likelier towards the middle: u is the half width by √6. Of one argument it is that half width, about nought.",
			Params:  []catalogue.Param{{Name: "lo", Doc: "the lower limit"}, {Name: "hi", Doc: "the upper limit"}},
			Source:  "JCGM 100:2008, 4.3.9; JCGM 101:2008, 6.4.5",
			Example: catalogue.Example{Expr: "triangular(um(-6), um(6))", Want: "u = 2.4 µm", Source: "derived here: 6/√6"}},
		least: 1, most: 2, args: inLimits(),
		build: func(x []float64) (shaped, int, string) {
			mid, a, wrong := halves(x)
			return shaped{mid: mid, u: a / math.Sqrt(6), shape: source(montecarlo.Triangular(-a, a)), name: "triangular"}, 1, wrong
		},
	},
	{
		Func: catalogue.Func{Name: "arcsine",
			Doc:     "What swings evenly between two limits, such as the temperature of a room: U-shaped, u is the half width by √2. Of one argument it is that half width, about nought.",
			Params:  []catalogue.Param{{Name: "lo", Doc: "the lower limit"}, {Name: "hi", Doc: "the upper limit"}},
			Source:  "JCGM 101:2008, 6.4.6; JCGM 100:2008, H.1.3.4",
			Example: catalogue.Example{Expr: "arcsine(kelvin(-0.5), kelvin(0.5))", Want: "u = 0.35 K", Source: "JCGM 100:2008, H.1.3.4"}},
		least: 1, most: 2, args: inLimits(),
		build: func(x []float64) (shaped, int, string) {
			mid, a, wrong := halves(x)
			return shaped{mid: mid, u: a / math.Sqrt2, shape: source(montecarlo.Arcsine(-a, a)), name: "arcsine"}, 1, wrong
		},
	},
	{
		Func: catalogue.Func{Name: "trapezoid",
			Doc: "Between two limits, alike likely over the middle and less towards the limits: u² is a²·(1 + top²)/6 with a the half width.",
			Params: []catalogue.Param{{Name: "lo", Doc: "the lower limit"}, {Name: "hi", Doc: "the upper limit"},
				{Name: "top", Doc: "width of the flat top over that of the base, 0 to 1: β of the GUM"}},
			Source:  "JCGM 100:2008, 4.3.9; JCGM 101:2008, 6.4.4",
			Example: catalogue.Example{Expr: "trapezoid(um(-6), um(6), 0.5)", Want: "u = 2.7 µm", Source: "derived here: 6·√(1.25/6)"}},
		least: 3, most: 3, args: inLimits(rolePlain),
		build: func(x []float64) (shaped, int, string) {
			mid, a, wrong := halves(x)
			top := x[2]
			if !(top >= 0 && top <= 1) {
				return shaped{}, 2, "the top is a share of the base, from 0 (triangular) to 1 (rectangular). Limits that are known to ±d are curvilinear_trapezoid(lo, hi, d)"
			}
			return shaped{mid: mid, u: a * math.Sqrt((1+top*top)/6), shape: source(montecarlo.Trapezoid(-a, a, top)), name: "trapezoidal"}, 1, wrong
		},
	},
	{
		Func: catalogue.Func{Name: "curvilinear_trapezoid",
			Doc: "Anything between two limits that are themselves only known to ±d each, the middle being known: u² is (hi − lo)²/12 + d²/9.",
			Params: []catalogue.Param{{Name: "lo", Doc: "the lower limit"}, {Name: "hi", Doc: "the upper limit"},
				{Name: "d", Doc: "how far off either limit may be, without sign; at most half of hi − lo"}},
			Source:  "JCGM 101:2008, 6.4.3",
			Example: catalogue.Example{Expr: "curvilinear_trapezoid(9.9, 10.1, 0.05)", Want: "u = 0.060", Source: "JCGM 101:2008, 6.4.3.4"}},
		least: 3, most: 3, args: inLimits(roleWidth),
		build: func(x []float64) (shaped, int, string) {
			mid, a, wrong := halves(x)
			d := x[2]
			if wrong == "" && !(d >= 0 && d <= a) {
				return shaped{}, 2, "the limits may be off by nought to half of their distance"
			}
			in := shaped{mid: mid, u: math.Sqrt(a*a/3 + d*d/9), shape: source(montecarlo.CurvilinearTrapezoid(-a, a, d)), name: "curvilinear trapezoid"}
			if a == 0 {
				in.shape = nil
			}
			return in, 1, wrong
		},
	},
}

func source(s montecarlo.Source) *montecarlo.Source { return &s }

func roles(rs ...role) func(int) []role { return func(n int) []role { return rs[:n] } }

// inLimits are those of an input, or its half width alone, and what follows them.
func inLimits(more ...role) func(int) []role {
	return func(n int) []role {
		if n == 1 {
			return []role{roleWidth}
		}
		return append([]role{rolePlace, rolePlace}, more...)[:n]
	}
}

// halves returns middle and half width of limits.
func halves(x []float64) (mid, a float64, wrong string) {
	if len(x) == 1 {
		return 0, x[0], ""
	}
	if a = (x[1] - x[0]) / 2; a < 0 {
		return 0, 0, "the lower limit stands first"
	}
	return x[0] + a, a, ""
}

// gaussian is a normal error, or Student's where its u is known with some
// degrees of freedom.
func gaussian(mid, u, dof float64) (shaped, int, string) {
	in := shaped{mid: mid, u: u, dof: dof, name: "normal"}
	if dof > 0 {
		in.name = "t, " + checks.FreedomSaid(fmt.Sprintf("%.4g", dof))
	}
	return in, 1, ""
}

func inputNamed(name string) *inputFunc {
	for _, f := range inputFuncs {
		if f.Name == name {
			return f
		}
	}
	return nil
}

// counted says what is wrong with the number of arguments.
func (f *inputFunc) counted(n int) string {
	switch {
	case n >= f.least && (f.most < 0 || n <= f.most):
		return ""
	case f.Name == "takes":
		return "takes are two or more: one alone says nothing of how they scatter. Write takes(x1, x2), or about(x, U)"
	case f.least == f.most:
		return fmt.Sprintf("%s has %s. Write %s", f.Name, plural(f.least, "argument"), f.Signature())
	}
	return fmt.Sprintf("%s has %d to %d arguments. Write %s", f.Name, f.least, f.most, f.Signature())
}
