package compile_test

import (
	"strings"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
)

var (
	length = value.NumberType(quantity.Length)
	angle  = value.NumberType(quantity.Angle)
	ratio  = value.NumberType(quantity.Ratio)
	count  = value.CountType()
)

func unit(name string) *quantity.Unit {
	u, err := quantity.Lookup(name)
	if err != nil {
		panic(err)
	}
	return &u
}

func words(name string, w ...string) value.Key { return value.Key{Name: name, Words: w} }

// bench is a scope with something of every kind in it. A headstock is held
// down by screws that are tightened to half and full torque; a bar is read at
// two stations, in two seatings, at two angles, and along its length.
func bench() *compile.Scope {
	screws := value.Key{Name: "screw", Count: true}
	ends := words("station", "near", "far")
	turned := value.KeyedType(words("angle", "0", "180"), length)
	return &compile.Scope{Names: map[formula.Space]map[string]compile.Symbol{
		formula.Given: {
			"span":    {Type: length, Unit: unit("mm")},
			"pads":    {Type: length, Unit: unit("mm")},
			"screws":  {Type: count},
			"slope":   {Type: ratio, Unit: unit("um/m")},
			"lean":    {Type: angle, Unit: unit("arcsec")},
			"place":   {Type: value.TextType()},
			"end":     {Type: value.KeyedType(screws, value.TextType("nose", "rear"))},
			"broken":  {}, // its own definition is wrong
			"ambient": {Type: value.PointType(), Unit: unit("celsius")},
		},
		formula.Reading: {
			"top":      {Type: value.KeyedType(screws, value.KeyedType(words("torque", "half", "full"), length)), Unit: unit("um")},
			"slack":    {Type: length, Unit: unit("um")},
			"takes":    {Type: value.TakesType(length), Unit: unit("mm")},
			"diameter": {Type: value.KeyedType(ends, value.TakesType(length)), Unit: unit("mm")},
			"front":    {Type: value.KeyedType(words("seat", "marked", "turned"), value.KeyedType(ends, turned)), Unit: unit("um")},
			"bar":      {Type: value.ProfileType(value.TakesType(length)), Unit: unit("um")},
			"round":    {Type: value.TurnType(length), Unit: unit("um")},
			"mark":     {Type: value.TextType("large", "small", "all")},
			"part":     {Type: ratio, Unit: unit("%")},
			"warm":     {Type: value.PointType(), Unit: unit("celsius")},
			"cold":     {Type: value.PointType(), Unit: unit("celsius")},
			"here":     {Type: length, Unit: unit("um"), Round: true},
		},
		formula.Result: {
			"taper":  {Type: length, Unit: unit("um")},
			"moves":  {Type: value.KeyedType(screws, length), Unit: unit("um")},
			"puller": {Type: count},
			"form":   {Type: value.ProfileType(length), Unit: unit("um")},
			"later":  {Type: length, Unusable: "stands further down; a step uses only what is written above it"},
		},
		formula.Each: {
			"screw":   {Type: count},
			"station": {Type: value.TextType("near", "far")},
			"angle":   {Type: value.TextType("0", "180")},
		},
		formula.Table: {
			"lathe.level": {Type: length, Unit: unit("um")},
		},
	}}
}

// values is an environment for tests.
type values map[string]value.Value

func (v values) Value(r formula.Ref) value.Value {
	if x, ok := v[r.String()]; ok {
		return x
	}
	return value.NotYet()
}

// measured is a set of values for bench.
func measured() values {
	byTorque := func(half, full float64) value.Value {
		return value.KeyedOf([]string{"half", "full"}, value.Nums(half, full))
	}
	byAngle := func(a, b float64) value.Value {
		return value.KeyedOf([]string{"0", "180"}, value.Nums(a, b))
	}
	bySpot := func(near, far value.Value) value.Value {
		return value.KeyedOf([]string{"near", "far"}, []value.Value{near, far})
	}
	return values{
		"given.span":    value.Num(250),
		"given.pads":    value.Num(220),
		"given.screws":  value.Num(3),
		"given.slope":   value.Num(20e-6),
		"given.lean":    value.Num(1e-4),
		"given.place":   value.Str("bay 2"),
		"given.end":     value.KeyedOf([]string{"1", "2", "3"}, []value.Value{value.Str("nose"), value.Str("nose"), value.Str("rear")}),
		"given.ambient": value.Celsius(20),
		"reading.top": value.KeyedOf([]string{"3", "1", "2"}, []value.Value{
			byTorque(0.001, 0.002), byTorque(0.003, 0.004), byTorque(0.005, 0.009)}),
		"reading.slack":    value.Num(0.001),
		"reading.takes":    value.TakesOf(24.996, 24.998, 25.000),
		"reading.diameter": bySpot(value.TakesOf(30, 30.002), value.TakesOf(30.004, 30.010)),
		"reading.front": value.KeyedOf([]string{"marked", "turned"}, []value.Value{
			bySpot(byAngle(0, 0.002), byAngle(0.020, 0.024)),
			bySpot(byAngle(0.001, 0.001), byAngle(0.021, 0.023))}),
		"reading.bar":       value.ProfileOf([]float64{0, 50, 100}, []value.Value{value.TakesOf(25, 25.002), value.TakesOf(25.003), value.TakesOf(25)}),
		"reading.round":     value.TurnOf([]float64{0, 1, 2}, value.Nums(0, 0.002, 0.001)),
		"reading.mark":      value.Str("all"),
		"reading.warm":      value.Celsius(20.4),
		"reading.cold":      value.Celsius(20.1),
		"reading.here":      value.Num(0.007),
		"result.taper":      value.Num(0.045),
		"result.moves":      value.KeyedOf([]string{"3", "1", "2"}, value.Nums(0.001, 0.002, 0.005)),
		"result.puller":     value.Num(2),
		"result.form":       value.ProfileOf([]float64{0, 50, 100}, value.Nums(-0.001, 0.002, -0.001)),
		"each.screw":        value.Num(2),
		"each.station":      value.Str("far"),
		"each.angle":        value.Str("180"),
		"table.lathe.level": value.Num(0.015),
	}
}

// parse parses an expression that is good HCL.
func parse(t *testing.T, src string) hclsyntax.Expression {
	t.Helper()
	e, diags := hclsyntax.ParseExpression([]byte(src), "test.hcl", hcl.InitialPos)
	if diags.HasErrors() {
		t.Fatalf("%s: %v", src, diags)
	}
	return e
}

// must compiles an expression that is right.
func must(t *testing.T, src string, sc *compile.Scope, w compile.Want) *formula.Program {
	t.Helper()
	p, diags := compile.Expr(parse(t, src), []byte(src), sc, w)
	if diags.HasErrors() || p == nil {
		t.Fatalf("%s: program %v, %s", src, p, told(src, diags))
	}
	return p
}

// told shows diagnostics as tests have them: code, what is underlined, detail.
func told(src string, diags hcl.Diagnostics) string {
	var lines []string
	for _, d := range diags {
		under := "nothing"
		if d.Subject != nil && d.Subject.CanSliceBytes([]byte(src)) {
			under = string(d.Subject.SliceBytes([]byte(src)))
		}
		code, _ := d.Extra.(compile.Code)
		lines = append(lines, string(code)+" ["+under+"] "+d.Detail)
	}
	return strings.Join(lines, "\n")
}

// gives is a table of expressions and what a text shows for them.
type gives []struct{ src, want string }

func (g gives) check(t *testing.T) {
	t.Helper()
	for _, tt := range g {
		p := must(t, tt.src, bench(), compile.Any(""))
		if got := formula.Show(p.Eval(measured()), p.Type(), nil); got != tt.want {
			t.Errorf("%s = %q, want %q", tt.src, got, tt.want)
		}
	}
}

// refuses is a table of expressions with the code, the piece underlined and a
// part of the detail that each earns.
type refuses []struct {
	src   string
	code  compile.Code
	under string
	says  string
}

func (r refuses) check(t *testing.T) {
	t.Helper()
	for _, tt := range r {
		p, diags := compile.Expr(parse(t, tt.src), []byte(tt.src), bench(), compile.Any("the value"))
		if len(diags) != 1 || p != nil {
			t.Errorf("%s: program %v, %d diagnostics, want none and one\n%s", tt.src, p, len(diags), told(tt.src, diags))
			continue
		}
		got := told(tt.src, diags)
		if want := string(tt.code) + " [" + tt.under + "] "; !strings.HasPrefix(got, want) || !strings.Contains(got, tt.says) {
			t.Errorf("%s:\n got %s\nwant %s… %s …", tt.src, got, want, tt.says)
		}
	}
}
