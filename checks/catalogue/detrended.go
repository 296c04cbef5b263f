package catalogue

import (
	"waywright/checks/form"
	"waywright/checks/value"
)

// detrended are the functions that take a line off a profile, or a plane off
// heights.
func detrended() []*Func {
	const three = "along([mm(0), mm(100), mm(200)], [um(0), um(3), um(3)])"
	return []*Func{
		levelled(Func{
			Name: "detrended", Doc: "a profile less its least-squares line, or heights over a plane less the least-squares plane",
			Source:  "linear least squares",
			Example: Example{"first(detrended(" + three + "))", "-0.0005 mm", "derived here"},
		}, form.LeastSquares),
		levelled(Func{
			Name: "from_zone", Doc: "a profile less the middle line of its least zone, or heights over a plane less the middle plane of theirs",
			Source:  "the line or plane of least range, exact",
			Example: Example{"first(from_zone(" + three + "))", "-0.00075 mm", "derived here: the zone is 1.5 µm wide"},
		}, form.MinimumZone),
	}
}

func levelled(f Func, method form.Method) *Func {
	f.Params = []Param{{Name: "p", Doc: "a profile, or heights over a plane"}}
	f.Signs = "plus as the values are"
	f.Check = func(ts []value.Type) (value.Type, *ArgError) {
		if ts[0].Kind == value.Net {
			return ts[0], nil
		}
		e, err := profileOf(0, ts[0])
		return value.ProfileType(asDiff(e)), err
	}
	f.Eval = func(a []value.Value) value.Value {
		if a[0].Kind == value.Net {
			d, err := form.Levelled(a[0].X, a[0].Y, a[0].Z, method)
			if err != nil {
				return undefined(err)
			}
			return value.NetOf(a[0].X, a[0].Y, d)
		}
		at, v := inOrder(a[0])
		d, err := form.Detrended(at, v, method)
		if err != nil {
			return undefined(err)
		}
		p := value.ProfileOf(at, value.Nums(d...))
		return zip(func(v []value.Value) value.Value { return v[1] }, a[0], p) // in the order of the readings
	}
	f.Over = overLevelled(method)
	return generic(f, false)
}
