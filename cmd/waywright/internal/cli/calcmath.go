package cli

import (
	"fmt"
	"math"

	"waywright/checks/catalogue"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/procedures/formula/compile"
)

// plainFuncs are functions of plain mathematics that calc has beside those of
// procedures, where every formula has a name and a source of its own.
var plainFuncs = []*catalogue.Func{
	powered("square", "The number times itself.", catalogue.Example{Expr: "square(mm(3))", Want: "9 mm²"},
		func(d quantity.Dim) (quantity.Dim, bool) { return d.Pow(2), true }, func(x float64) float64 { return x * x }),
	powered("sqrt", "The square root.", catalogue.Example{Expr: "sqrt(mm(4)*mm(9))", Want: "6 mm"},
		func(d quantity.Dim) (quantity.Dim, bool) { return d.Root() }, math.Sqrt),
	plainFunc("exp", "e to the power of a number.", catalogue.Example{Expr: "exp(1)", Want: "2.718282"}, quantity.Ratio, quantity.Ratio, math.Exp),
	plainFunc("ln", "The natural logarithm.", catalogue.Example{Expr: "ln(10)", Want: "2.302585"}, quantity.Ratio, quantity.Ratio, math.Log),
	plainFunc("log10", "The logarithm to base 10.", catalogue.Example{Expr: "log10(1000)", Want: "3"}, quantity.Ratio, quantity.Ratio, math.Log10),
	plainFunc("sin", "The sine of an angle.", catalogue.Example{Expr: "sin(deg(30))", Want: "0.5"}, quantity.Angle, quantity.Ratio, math.Sin),
	plainFunc("cos", "The cosine of an angle.", catalogue.Example{Expr: "cos(deg(60))", Want: "0.5"}, quantity.Angle, quantity.Ratio, math.Cos),
	plainFunc("asin", "The angle of a sine.", catalogue.Example{Expr: "asin(0.5)", Want: "30°"}, quantity.Ratio, quantity.Angle, math.Asin),
	plainFunc("acos", "The angle of a cosine.", catalogue.Example{Expr: "acos(0.5)", Want: "60°"}, quantity.Ratio, quantity.Angle, math.Acos),
	power(),
	coverageFactor(),
}

// calcFuncs are the functions that an expression of calc may call.
func calcFuncs() compile.Funcs {
	out := compile.Funcs{}
	for _, f := range catalogue.All() {
		out[f.Name] = f
	}
	for _, f := range plainFuncs {
		out[f.Name] = f
	}
	return out
}

// lookup returns a function of calc, with an input function as it is described.
func lookup(name string) (*catalogue.Func, bool) {
	for _, f := range plainFuncs {
		if f.Name == name {
			return f, true
		}
	}
	if f := inputNamed(name); f != nil {
		return &f.Func, true
	}
	return catalogue.Lookup(name)
}

// powered is a function of one number whose dimension follows from its
// argument's.
func powered(name, doc string, ex catalogue.Example, dim func(quantity.Dim) (quantity.Dim, bool), f func(float64) float64) *catalogue.Func {
	return numeric(catalogue.Func{Name: name, Doc: doc, Example: ex, Params: []catalogue.Param{{Name: "x", Doc: "the number"}}},
		func(args []value.Type) (value.Type, *catalogue.ArgError) {
			d, ok := dim(args[0].Dim)
			if !ok {
				return value.Type{}, &catalogue.ArgError{Arg: 0, What: "is " + args[0].String() + ", which has no root: write a number, or an area"}
			}
			return value.NumberType(d), nil
		}, func(x []float64) float64 { return f(x[0]) })
}

// plainFunc is a function from one dimension to another.
func plainFunc(name, doc string, ex catalogue.Example, from, to quantity.Dim, f func(float64) float64) *catalogue.Func {
	return numeric(catalogue.Func{Name: name, Doc: doc, Example: ex, Params: []catalogue.Param{{Name: "x", Doc: from.String()}}},
		func(args []value.Type) (value.Type, *catalogue.ArgError) {
			if args[0].Dim != from {
				return value.Type{}, &catalogue.ArgError{Arg: 0, What: fmt.Sprintf("is %s, but %s is wanted: write %s", args[0], from, wanted(from))}
			}
			return value.NumberType(to), nil
		}, func(x []float64) float64 { return f(x[0]) })
}

func wanted(d quantity.Dim) string {
	if d == quantity.Ratio {
		return "a number without unit"
	}
	return d.Example()
}

func power() *catalogue.Func {
	return numeric(catalogue.Func{Name: "power", Doc: "A plain number to the power of another.", Example: catalogue.Example{Expr: "power(2, 0.5)", Want: "1.414214"},
		Params: []catalogue.Param{{Name: "x", Doc: "the number"}, {Name: "n", Doc: "the exponent"}}},
		func(args []value.Type) (value.Type, *catalogue.ArgError) {
			for i, t := range args {
				if t.Dim != quantity.Ratio {
					return value.Type{}, &catalogue.ArgError{Arg: i, What: "is " + t.String() + ", but a number without unit is wanted; of others there are square(x) and x*x*x"}
				}
			}
			return value.NumberType(quantity.Ratio), nil
		}, func(x []float64) float64 { return math.Pow(x[0], x[1]) })
}

// coverageFactor is the k of a stated probability, for certificates that state
// that and no k.
func coverageFactor() *catalogue.Func {
	f := numeric(catalogue.Func{Name: "coverage_factor", Doc: "The k of an interval that holds a share p: Student's factor, at whole degrees of freedom, or the normal one.",
		Example: catalogue.Example{Expr: "coverage_factor(0.95, 5)", Want: "2.570582", Source: "JCGM 100:2008, Table G.2"},
		Params:  []catalogue.Param{{Name: "p", Doc: "the share, such as 0.95"}, {Name: "dof", Doc: "degrees of freedom; without them it is the normal factor", Optional: true}}},
		func(args []value.Type) (value.Type, *catalogue.ArgError) {
			for i, t := range args {
				if t.Dim != quantity.Ratio {
					return value.Type{}, &catalogue.ArgError{Arg: i, What: "is " + t.String() + ", but a number without unit is wanted"}
				}
			}
			return value.NumberType(quantity.Ratio), nil
		}, func(x []float64) float64 {
			dof := math.Inf(1)
			if len(x) > 1 {
				dof = x[1]
			}
			if !(x[0] > 0 && x[0] < 1 && dof >= 1) {
				return math.NaN()
			}
			return uncert.CoverageAt(x[0], dof)
		})
	f.Source = "JCGM 100:2008, G.3 and Table G.2"
	return f
}

// numeric completes a function of plain numbers.
func numeric(f catalogue.Func, check func([]value.Type) (value.Type, *catalogue.ArgError), num func(x []float64) float64) *catalogue.Func {
	f.Source = "plain mathematics"
	f.Num = num
	f.Check = func(args []value.Type) (value.Type, *catalogue.ArgError) {
		least := len(f.Params)
		if f.Params[least-1].Optional {
			least--
		}
		if len(args) < least || len(args) > len(f.Params) {
			return value.Type{}, &catalogue.ArgError{Arg: -1, What: fmt.Sprintf("has %s: write %s", plural(len(f.Params), "argument"), f.Signature())}
		}
		for i, t := range args {
			if t.Kind != value.Number {
				return value.Type{}, &catalogue.ArgError{Arg: i, What: "is " + t.String() + ", but one number is wanted"}
			}
		}
		return check(args)
	}
	f.Eval = func(args []value.Value) value.Value {
		x := make([]float64, len(args))
		for i, a := range args {
			if a.State != value.Present {
				return a
			}
			x[i] = a.Num
		}
		y := num(x)
		if math.IsNaN(y) || math.IsInf(y, 0) {
			return value.AbsentFor(f.Name + " has no value there")
		}
		return value.Num(y)
	}
	return &f
}
