package formula_test

import (
	"math"
	"slices"
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
	yesNo  = value.TruthType()
	screws = value.Key{Name: "screw", Count: true}
)

func unit(name string) *quantity.Unit {
	u, err := quantity.Lookup(name)
	if err != nil {
		panic(err)
	}
	return &u
}

var givens = &compile.Scope{Names: map[formula.Space]map[string]compile.Symbol{
	formula.Given: {
		"span": {Type: length, Unit: unit("mm")}, "over": {Type: length, Unit: unit("um")},
		"tight": {Type: value.KeyedType(screws, yesNo)}, "ready": {Type: yesNo},
		"screw": {Type: value.CountType()}, "place": {Type: value.TextType()},
		"air": {Type: value.PointType(), Unit: unit("celsius")},
	},
	formula.Reading: {"takes": {Type: value.TakesType(length), Unit: unit("um")}},
}}

func program(t *testing.T, src string) *formula.Program {
	t.Helper()
	e, diags := hclsyntax.ParseExpression([]byte(src), "x", hcl.InitialPos)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	p, diags := compile.Expr(e, []byte(src), givens, compile.Any(""))
	if p == nil {
		t.Fatalf("%s: %v", src, diags)
	}
	return p
}

type env map[string]value.Value

func (e env) Value(r formula.Ref) value.Value {
	if v, ok := e[r.String()]; ok {
		return v
	}
	return value.NotYet()
}

func TestConst(t *testing.T) {
	p := formula.Const(value.Num(0.02), length)
	if v, ok := p.Static(); !ok || !value.Equal(v, value.Num(0.02)) || !p.Type().Equal(length) {
		t.Errorf("Const: %v, %v, %v", v, ok, p.Type())
	}
	if got := p.Words(nil); got != "0.02 mm" {
		t.Errorf("words %q", got)
	}
	if p.Refs() != nil || p.Used(nil) != nil || p.Source() != "" {
		t.Errorf("a constant has refs %v, uses %v, is written %q", p.Refs(), p.Used(nil), p.Source())
	}
}

func TestStatic(t *testing.T) {
	if v, ok := program(t, "um(20) * 300 / 200").Static(); !ok || v.Num != 0.03 {
		t.Errorf("a formula without names: %v, %v", v, ok)
	}
	if _, ok := program(t, "um(20) * given.screw").Static(); ok {
		t.Error("a formula with a name is static")
	}
	if v, ok := program(t, "[for v in [mm(1), mm(2)] : v * 2]").Static(); !ok || v.Elems[1].Num != 4 {
		t.Errorf("a for over written elements: %v, %v", v, ok)
	}
}

func TestFrame(t *testing.T) {
	p := program(t, "given.ready && given.tight[given.screw] ? given.span / given.over : reading.takes / given.over")
	e := env{
		"given.ready": value.Bool(true), "given.screw": value.Num(2), "given.span": value.Num(250), "given.over": value.Num(0.5),
		"given.tight":   value.KeyedOf([]string{"1", "2"}, []value.Value{value.Bool(false), value.Bool(true)}),
		"reading.takes": value.TakesOf(1, 2, 3),
	}
	f := p.Frame(e)
	at := func(name string) int {
		return slices.IndexFunc(p.Refs(), func(r formula.Ref) bool { return r.String() == name })
	}
	check := func(what string, want float64, state value.State) {
		t.Helper()
		if x, s := f.Num(); x != want || s != state {
			t.Errorf("%s: %v, %v, want %v, %v", what, x, s, want, state)
		}
	}
	check("as given", 500, value.Present)
	f.SetNum(at("given.over"), 0.25)
	check("half the divisor", 1000, value.Present)
	f.SetNum(at("given.screw"), 1)
	check("another screw: the takes' mean", 8, value.Present)
	f.Set(at("reading.takes"), value.TakesOf(5))
	check("another take", 20, value.Present)
	f.SetNum(at("given.over"), 0)
	check("nothing below the line", 0, value.Absent)
	f.SetNum(at("given.over"), math.NaN())
	check("no number", 0, value.Absent)
	f.Set(at("given.over"), value.NotYet())
	check("not yet", 0, value.Missing)
	f.SetNum(at("given.over"), 5)
	check("answered", 1, value.Present)
	if v := f.Eval(); !value.Equal(v, value.Num(1)) {
		t.Errorf("Eval %v", v)
	}
	if v := p.Eval(e); v.Num != 500 {
		t.Errorf("the frame changed the environment: %v", v)
	}
}

func TestScalarsAllocateNothing(t *testing.T) {
	p := program(t, "given.span > mm(100) && !given.ready ? given.span / given.over * 2 - 1 : -given.screw % 3")
	f := p.Frame(env{"given.span": value.Num(250), "given.over": value.Num(0.5), "given.ready": value.Bool(false)})
	if n := testing.AllocsPerRun(100, func() { f.Num() }); n != 0 {
		t.Errorf("%v allocations in an evaluation", n)
	}
}

// What comes from outside may not be of the kind that was promised: a
// machine's entry is written by hand.
func TestInputsOfTheWrongKind(t *testing.T) {
	for _, tt := range []struct {
		v    value.Value
		want value.State
	}{
		{value.Str("twelve"), value.Absent},
		{value.Celsius(20), value.Absent},
		{value.Num(math.Inf(1)), value.Absent},
		{value.Num(math.NaN()), value.Absent},
		{value.TakesOf(1, 3), value.Present}, // stand for their mean
		{value.TakesOf(), value.Absent},
	} {
		e := env{"given.span": tt.v}
		p := program(t, "given.span * 2")
		if v := p.Eval(e); v.State != tt.want || v.State == value.Absent && v.Why == "" || v.State == value.Present && v.Num != 4 {
			t.Errorf("%+v gives %+v, want state %v", tt.v, v, tt.want)
		}
		if v := program(t, "given.span").Eval(e); v.State != tt.want || v.Kind != value.Number {
			t.Errorf("%+v alone gives %+v, want state %v", tt.v, v, tt.want)
		}
		if _, s := p.Frame(e).Num(); s != tt.want {
			t.Errorf("%+v in a frame gives %v, want %v", tt.v, s, tt.want)
		}
	}
}

func TestTruthsByKey(t *testing.T) {
	e := env{
		"given.tight": value.KeyedOf([]string{"1", "2"}, []value.Value{value.Bool(false), value.Bool(true)}),
		"given.ready": value.Bool(true), "given.screw": value.Num(1),
	}
	for src, want := range map[string]bool{
		"given.tight[2] && !given.tight[1]":                                true,
		"given.tight[given.screw]":                                         false,
		"given.tight[1] == given.ready":                                    false,
		"given.tight[1] != given.ready":                                    true,
		"(given.ready ? given.tight[2] : false) || given.tight[1]":         true,
		"count([for n, ok in given.tight : n if ok]) == 1":                 true,
		"count([for n, ok in given.tight : n if !(ok || n > 1)]) == 1":     true,
		"first([for n, ok in given.tight : !ok && given.ready])":           true,
		"given.ready ? given.tight[2] && !given.tight[1] : given.ready":    true,
		"last({for n, ok in given.tight : n => ok ? given.ready : false})": true,
	} {
		if v := program(t, src).Eval(e); v.State != value.Present || v.Kind != value.Truth || v.Truth != want {
			t.Errorf("%s = %+v, want %v", src, v, want)
		}
	}
	if v := program(t, "given.tight[given.screw + 2]").Eval(e); v.State != value.Absent {
		t.Errorf("a key that is not there gives %+v", v)
	}
}

// Only what the branches taken use counts, in the turns of a for too.
func TestUsedInFor(t *testing.T) {
	p := program(t, "[for n, ok in given.tight : n == 1 ? given.span : given.over if ok || given.ready]")
	keys := []string{"1", "2"}
	for _, tt := range []struct {
		first, second bool
		want          string
	}{
		{true, true, "given.tight given.span given.over"},
		{true, false, "given.tight given.ready given.span"},
		{false, false, "given.tight given.ready"},
	} {
		e := env{"given.tight": value.KeyedOf(keys, []value.Value{value.Bool(tt.first), value.Bool(tt.second)}), "given.ready": value.Bool(false)}
		var got []string
		for _, r := range p.Used(e) {
			got = append(got, r.String())
		}
		want := strings.Fields(tt.want)
		slices.Sort(want)
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("%v, %v: used %v, want %v", tt.first, tt.second, got, want)
		}
	}
}

// inch is an environment of a run that is shown in inches.
type inch struct{ env }

func (inch) Shown(u quantity.Unit) quantity.Unit { return quantity.InRun(u, true) }

func TestRule14WordsInAnInchRun(t *testing.T) {
	e := env{"given.span": value.Num(254), "given.over": value.Num(0.0254), "given.air": value.Celsius(20), "given.place": value.Str("bay 2"), "given.screw": value.Num(3)}
	p := program(t, `"${given.span}, ${given.over}, ${given.span / 2}, ${given.air}, ${given.place}, screw ${given.screw}"`)
	for _, tt := range []struct {
		env  formula.Env
		want string
	}{
		{e, "254 mm, 25.4 µm, 127 mm, 20 °C, bay 2, screw 3"},
		{inch{e}, "10 in, 1 thou, 5 in, 20 °C, bay 2, screw 3"},
	} {
		if got := p.Words(tt.env); got != tt.want {
			t.Errorf("reads %q, want %q", got, tt.want)
		}
	}
}

func TestShow(t *testing.T) {
	for _, tt := range []struct {
		v    value.Value
		t    value.Type
		unit string
		want string
	}{
		{value.Num(0.0125), length, "um", "12.5 µm"},
		{value.Num(0.0125), length, "", "0.0125 mm"},
		{value.Num(-0.02), length, "um", "-20 µm"},
		{value.Num(0), length, "um", "0 µm"},
		{value.Num(1e-9), length, "um", "0.000001 µm"},
		{value.Num(0.6), value.NumberType(quantity.Ratio), "%", "60 %"},
		{value.Num(4), value.CountType(), "", "4"},
		{value.Celsius(20.04), value.PointType(), "celsius", "20 °C"},
		{value.TakesOf(1, 2), value.TakesType(length), "mm", "1.5 mm"},
		{value.ZoneOf(0, 0.02), value.ZoneType(length), "um", "0 µm to 20 µm"},
		{value.ZoneOf(0, math.Inf(1)), value.ZoneType(length), "", "0 mm or more"},
		{value.ZoneOf(math.Inf(-1), -0.02), value.ZoneType(length), "um", "-20 µm or less"},
		{value.ZoneOf(math.Inf(-1), math.Inf(1)), value.ZoneType(length), "", "no limit below or above"},
		{value.Num(1e20), value.NumberType(quantity.Ratio), "", "1e+20"},
		{value.Num(math.Pow(2, 100)), value.NumberType(quantity.Ratio), "", "1.2676506002282294e+30"},
		{value.Num(1e20), length, "", "1e+20 mm"},
		{value.ListOf(value.Num(1), value.NotYet()), value.ListType(length), "", "1 mm, …"},
		{value.KeyedOf([]string{"near"}, value.Nums(1)), value.KeyedType(value.Key{Name: "at"}, length), "", "near 1 mm"},
		{value.Bool(false), yesNo, "", "no"},
		{value.NetOf([]float64{0, 1}, []float64{0, 1}, []float64{0, 1}), value.NetType(quantity.Length), "", "heights of 2 points"},
		{value.AbsentFor("not asked"), length, "", "…"},
	} {
		var u *quantity.Unit
		if tt.unit != "" {
			u = unit(tt.unit)
		}
		if got := formula.Show(tt.v, tt.t, u); got != tt.want {
			t.Errorf("Show(%+v, %v, %q) = %q, want %q", tt.v, tt.t, tt.unit, got, tt.want)
		}
	}
}

func TestRefString(t *testing.T) {
	for r, want := range map[formula.Ref]string{
		{Space: formula.Given, Name: "span"}:        "given.span",
		{Space: formula.Table, Name: "lathe.level"}: "table.lathe.level",
		{Space: formula.Own, Name: "amount"}:        "amount",
		{Space: 99, Name: "x"}:                      "x",
	} {
		if got := r.String(); got != want {
			t.Errorf("%#v reads %q, want %q", r, got, want)
		}
	}
}
