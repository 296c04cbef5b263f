package catalogue

import (
	"fmt"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
)

// literals are the functions that write a number with its unit. What units
// there are, package quantity says.
func literals() []*Func {
	var fs []*Func
	for _, l := range quantity.Literals() {
		fs = append(fs, literal(l))
	}
	return fs
}

func literal(l quantity.Literal) *Func {
	u, t := l.Unit, value.NumberType(l.Unit.Dim)
	if u.Point {
		t = value.PointType()
	}
	return generic(Func{
		Name:    l.Name,
		Params:  []Param{{Name: "number", Doc: "a plain number"}},
		Doc:     l.Doc,
		Source:  "definition of the unit",
		Example: Example{fmt.Sprintf("%s(1)", l.Name), inBase(u), "definition of the unit"},
		Check: func(args []value.Type) (value.Type, *ArgError) {
			if args[0].Kind != value.Number || args[0].Dim != quantity.Ratio {
				return value.Type{}, wantedWords(0, args[0], "a plain number is wanted")
			}
			return t, nil
		},
		Eval: func(args []value.Value) value.Value { return like(t, u.Base(args[0].Num)) },
	}, false)
}

// inBase writes one of a unit in the unit that its dimension is shown in:
// "0.001 mm".
func inBase(u quantity.Unit) string {
	name, one := "celsius", u.Base(1) // a point is held in °C
	if !u.Point {
		name, one = u.Dim.Default().Name, u.Dim.Default().Of(one)
	}
	return strings.TrimSuffix(fmt.Sprintf("%.10g %s", one, name), " 1")
}
