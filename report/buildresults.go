package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures/formula"
)

// results are all results as they stand.
func (b *builder) results() []Result {
	var out []Result
	for _, r := range b.worked {
		x := Result{Name: r.Name, Title: r.Title, Formula: formulaText(r.Result.Value.Source()), Inputs: r.Inputs}
		st, why := r.Value.Worst()
		x.State, x.Why = [...]string{"present", "unmeasured", "absent", "missing"}[st], why
		if x.Title == "" {
			x.Title = strings.ReplaceAll(r.Name, "_", " ")
		}
		x.Title = inRound(x.Title, r.Result.Step, r.Keys)
		if st == value.Present {
			b.resultValue(&x, r)
		}
		out = append(out, x)
	}
	return out
}

func (b *builder) resultValue(x *Result, r engine.ResultValue) {
	v := r.Value.Mean()
	u := quantity.Unit{UCUM: "1", Factor: 1}
	if r.Result.Unit != nil {
		u = b.unit(*r.Result.Unit)
	}
	switch v.Kind {
	case value.Text:
		x.Text = v.Text
	case value.Truth:
		x.Text = map[bool]string{true: "yes", false: "no"}[v.Truth]
	case value.Number, value.Point:
		if r.Result.Unit == nil {
			x.Text = strconv.FormatFloat(steady(v.Num), 'f', -1, 64)
			return
		}
		bigU := 0.0
		if r.HasU {
			bigU = r.U
		}
		positive := b.s.Words(r.Result.Positive, r.Result.Step, r.Keys)
		x.Found = finding(v.Num, bigU, r.K, r.Dof, math.Inf(-1), math.Inf(1), u, senseOf(positive, ""))
	case value.Net:
		x.Heights = heights(v, u)
		b.senses(x, v, r)
	case value.Object:
		x.Text = formula.Show(v, r.Result.Value.Type(), nil)
	case value.Profile, value.Turn, value.Keyed, value.List:
		x.Profile = b.points(v, u, "")
		if len(r.EachU) == len(x.Profile) { // all of them could be printed
			for i, bigU := range r.EachU {
				if bigU > 0 {
					x.Profile[i].U = number(bigU, u.Difference(), quantity.RoundedDecimals(bigU, u))
				}
			}
		}
		b.senses(x, v, r)
		x.Circle = ofTurn(v, u)
	}
}

// heights are those of a surface, each at its place.
func heights(v value.Value, u quantity.Unit) []Height {
	mm := quantity.Length.Default()
	var out []Height
	for i := range v.Z {
		x, y, z := number(v.X[i], mm, 0), number(v.Y[i], mm, 0), number(v.Z[i], u, quantity.Usual(u))
		if x != nil && y != nil && z != nil {
			out = append(out, Height{*x, *y, *z})
		}
	}
	return out
}

// points flattens a collection of numbers.
func (b *builder) points(v value.Value, u quantity.Unit, under string) []Point {
	var out []Point
	for i, e := range v.Elems {
		key := fmt.Sprint(i + 1)
		var pos *Number
		switch v.Kind {
		case value.Keyed:
			key = v.Keys[i]
		case value.Profile, value.Turn:
			pos = b.positionIn(v.Kind, v.At[i])
			if key = ""; pos != nil && under != "" {
				key = pos.WithUnit()
			}
		}
		key = strings.Trim(under+", "+key, ", ")
		e = e.Mean()
		if len(e.Elems) > 0 {
			out = append(out, b.points(e, u, key)...)
			continue
		}
		if n := number(e.Num, u, quantity.ValueDecimals(e.Num, 0, u)); n != nil && e.State == value.Present && (e.Kind == value.Number || e.Kind == value.Point) {
			out = append(out, Point{Key: key, At: pos, Value: *n})
		}
	}
	return out
}
