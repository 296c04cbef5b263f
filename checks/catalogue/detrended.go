package catalogue

import (
	"waywright/checks/form"
	"waywright/checks/value"
)

// detrended is the function that takes a line off a profile, or a plane off
// heights.
func detrended() *Func {
	words := []string{string(form.LeastSquares), string(form.MinimumZone)}
	return generic(Func{
		Name: "detrended", Doc: "a profile less its least-squares line, or heights over a plane less the least-squares plane; or that of least range, counted from its middle",
		Params: []Param{
			{Name: "p", Doc: "a profile, or heights over a plane"},
			{Name: "from", Doc: list(words) + "; the first if left out", Optional: true},
		},
		Signs: "plus as the values are", Source: "linear least squares, or the line or plane of least range",
		Example: Example{"first(detrended(along([mm(0), mm(100), mm(200)], [um(0), um(3), um(3)])))", "-0.0005 mm", "derived here"},
		Check: func(ts []value.Type) (value.Type, *ArgError) {
			gives := ts[0]
			if ts[0].Kind != value.Net {
				e, err := profileOf(0, ts[0])
				if err != nil {
					return value.Type{}, err
				}
				gives = value.ProfileType(asDiff(e))
			}
			if len(ts) > 1 {
				return gives, oneOf(1, ts[1], words)
			}
			return gives, nil
		},
		Eval: func(a []value.Value) value.Value {
			method := form.LeastSquares
			if len(a) > 1 {
				if !contains(words, a[1].Text) {
					return absent("%q is not one of %s", a[1].Text, list(words))
				}
				method = form.Method(a[1].Text)
			}
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
			same, err := value.Zip(func(v []value.Value) value.Value { return v[1] }, a[0], p) // in the order of the readings
			if err != nil {
				return p
			}
			return same
		},
	}, false)
}
