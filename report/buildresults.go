package report

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/engine"
)

// doubt is the budget of a judgement, the greatest part first. What gives
// less than a thousandth of the variance is left out.
func (b *builder) doubt(j engine.Judgement) []Doubt {
	u := b.unit(j.Unit).Difference()
	lines := slices.Clone(j.Budget)
	sort.SliceStable(lines, func(i, k int) bool { return steady(lines[i].Share) > steady(lines[k].Share) })
	var out []Doubt
	for _, l := range lines {
		given := math.Abs(l.Sensitivity) * l.U
		n := number(given, u, placesFor(given, u))
		if n == nil || l.Share < 0.001 {
			continue
		}
		d := Doubt{Source: doubtSource(l), U: *n, Share: steady(l.Share)}
		if !math.IsInf(l.DoF, 0) && !math.IsNaN(l.DoF) {
			d.DoF = steady(l.DoF)
		}
		out = append(out, d)
	}
	return out
}

// doubtSource says in words what a source of uncertainty is.
func doubtSource(l uncert.Line) string {
	what := map[uncert.Kind]string{
		uncert.Takes: "takes vary", uncert.Resolution: "smallest step", uncert.Zero: "zero", uncert.Indication: "indication",
		uncert.Drift: "drift", uncert.Temperature: "temperature", uncert.Given: "given",
	}[l.Kind]
	if what == "" {
		what = l.Kind.String()
	}
	name := strings.TrimSpace(l.Source)
	// A source of a setting is named by the instrument and the setting, which
	// begins with the instrument's name in the procedure.
	if first, setting, ok := strings.Cut(name, " "); ok && strings.Contains(setting, first) {
		name = setting
	}
	return capital(strings.TrimSuffix(what+": "+name, ": "))
}

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
	case value.Profile, value.Turn, value.Keyed, value.List:
		x.Profile = b.points(v, u, "")
	}
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
		if n := number(e.Num, u, quantity.Usual(u)); n != nil && e.State == value.Present && (e.Kind == value.Number || e.Kind == value.Point) {
			out = append(out, Point{Key: key, At: pos, Value: *n})
		}
	}
	return out
}
