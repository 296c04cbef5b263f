package compile_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/diagnose"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
	"waywright/procedures/source"
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

func TestRule2HyphenIsPartOfAName(t *testing.T) {
	refuses{
		{"result.taper-given.span", compile.BlanksAtMinus, "taper-given", "Put blanks round the minus: result.taper - given.span."},
		{"table.lathe.level-table.lathe.level", compile.BlanksAtMinus, "level-table", "blanks round the minus"},
		{"moved-amount", compile.BlanksAtMinus, "moved-amount", "moved - amount"},
		{"reading.diameter.far-reading.diameter.near", compile.BlanksAtMinus, "far-reading", "blanks round the minus"},
	}.check(t)
	gives{{"result.taper - reading.slack", "0.044 mm"}, {"result.taper -reading.slack", "0.044 mm"}}.check(t)
}

func TestRule3NamesBelowAreNotUsed(t *testing.T) {
	refuses{
		{"result.later * 2", compile.NotHere, "result.later", "result.later stands further down; a step uses only what is written above it."},
	}.check(t)
}

func TestRule4Spaces(t *testing.T) {
	refuses{
		{"given.spam", compile.UnknownName, "spam", "Is span meant?"},
		{"given.taper", compile.UnknownName, "taper", "there is result.taper"},
		{"span", compile.UnknownName, "span", "Write given.span."},
		{"givn.span", compile.UnknownName, "givn", "Is given meant?"},
		{"given", compile.UnknownName, "given", "needs the label"},
		{"nonsense.x", compile.UnknownName, "nonsense", "between quotation marks"},
		{"table.lathe", compile.UnknownName, "table.lathe", "table.lathe.level"},
		{"table.lathe.lvel", compile.UnknownName, "lvel", "lathe.level"},
		{"step.cut", compile.NotAValue, "step.cut", "step.cut is a step"},
		{"gate.level", compile.NotAValue, "gate.level", "is a gate"},
		{"hidden.gap", compile.UnknownName, "gap", "There is no hidden.gap."},
		{"machine.test_bar.length", compile.NotHere, "machine", "stands only in `from`"},
		{`accepted["lathe-level-twist"].result.twist`, compile.NotHere, "accepted", "from = accepted"},
		{"abs + mm(1)", compile.UnknownName, "abs", "is a function"},
	}.check(t)
}

func TestRule4MachineAndAcceptedTakeTheTypeThatIsWanted(t *testing.T) {
	sc := bench()
	sc.Machine, sc.Accepted = true, true
	sc.AcceptedResults = func(p string) (map[string]compile.Symbol, bool) {
		return map[string]compile.Symbol{"twist": {Type: ratio, Unit: unit("um/m")}}, p == "lathe-level-twist"
	}
	for _, tt := range []struct {
		src  string
		want compile.Want
		typ  value.Type
		ref  formula.Ref
	}{
		{"machine.test_bar.length", compile.InUnit(*unit("mm"), ""), length, formula.Ref{Space: formula.Machine, Name: "test_bar.length"}},
		{"machine.name", compile.Text(""), value.TextType(), formula.Ref{Space: formula.Machine, Name: "name"}},
		{"machine.swing > mm(300)", compile.Truth(""), length, formula.Ref{Space: formula.Machine, Name: "swing"}},
		{"um(20) < machine.swing - given.span", compile.Truth(""), length, formula.Ref{Space: formula.Machine, Name: "swing"}},
		{"machine.gap_bed && given.span > mm(1)", compile.Truth(""), value.TruthType(), formula.Ref{Space: formula.Machine, Name: "gap_bed"}},
		{"given.span > mm(300) ? machine.a : machine.b", compile.InUnit(*unit("mm"), ""), length, formula.Ref{Space: formula.Machine, Name: "a"}},
		{`accepted["lathe-level-twist"].result.twist`, compile.InUnit(*unit("um/m"), ""), ratio, formula.Ref{Space: formula.Accepted, Name: "lathe-level-twist.twist"}},
		{`accepted["not-here"].result.loss > um(20)`, compile.Truth(""), length, formula.Ref{Space: formula.Accepted, Name: "not-here.loss"}},
	} {
		p := must(t, tt.src, sc, tt.want)
		if got, ok := p.RefType(tt.ref); !ok || !got.Equal(tt.typ) {
			t.Errorf("%s: type of %v = %v, %v, want %v", tt.src, tt.ref, got, ok, tt.typ)
		}
	}
	for src, want := range map[string]string{
		`accepted["lathe-level-twist"].result.twst`:          "F002 [twst] The procedure lathe-level-twist has no result twst. Is twist meant?",
		`accepted["lathe-level-twist"].gate.twist`:           "F002 [accepted[\"lathe-level-twist\"].gate.twist] A value",
		`machine.a * machine.b`:                              "F026 [machine.a] Nothing here says of what dimension machine.a is.",
		`abs(machine.a) > mm(1)`:                             "F026 [machine.a]",
		`accepted["lathe-level-twist"].result.twist > mm(1)`: "F009 [mm(1)]",
	} {
		_, diags := compile.Expr(parse(t, src), []byte(src), sc, compile.Any(""))
		if got := told(src, diags); len(diags) != 1 || !strings.HasPrefix(got, want) {
			t.Errorf("%s:\n got %s\nwant %s…", src, got, want)
		}
	}
}

func TestRule5OwnWords(t *testing.T) {
	refuses{
		{"amount * 2", compile.NotHere, "amount", "amount stands only in should_change and in reacts."},
		{"attempt == 1", compile.NotHere, "attempt", "attempt stands only in reacts."},
	}.check(t)
	sc := bench()
	sc.Names[formula.Own] = map[string]compile.Symbol{"amount": {Type: length}, "attempt": {Type: count}}
	p := must(t, "attempt == 1 ? -amount : amount", sc, compile.Number(quantity.Length, ""))
	v := p.Eval(values{"attempt": value.Num(1), "amount": value.Num(2)})
	if !value.Equal(v, value.Num(-2)) {
		t.Errorf("first attempt: %v, want -2", v)
	}
}

func TestRule5ForVariables(t *testing.T) {
	refuses{
		{"[for span, v in result.moves : v]", compile.ForVariable, "span", "span is the label of given.span already"},
		{"[for k, reading in result.moves : mm(1)]", compile.ForVariable, "reading", "word for a kind of value"},
		{"[for k, step in result.moves : mm(1)]", compile.ForVariable, "step", "word for a step"},
		{"[for k, moved in result.moves : mm(1)]", compile.ForVariable, "moved", "a word of corrections"},
		{"[for k, k in result.moves : mm(1)]", compile.ForVariable, "k", "the other variable"},
		{"[for n, a in reading.top : mean({for n, b in a : n => b})]", compile.ForVariable, "n", "the for around it"},
	}.check(t)
	gives{{"[for n, a in reading.top : greatest({for m, b in a : m => b * n})]", "0.006 mm, 0.004 mm, 0.018 mm"}}.check(t)
}

func TestRule6ElementsAndBranchesAreOfOneKindAndDimension(t *testing.T) {
	refuses{
		{"[mm(1), deg(1)]", compile.MixedElements, "deg(1)", "mm(1), is a length; another, deg(1), is an angle"},
		{"{1 = mm(1), 2 = celsius(20)}", compile.MixedElements, "celsius(20)", "is a temperature"},
		{"[mm(1), true]", compile.MixedElements, "true", "true or false"},
		{"given.span > mm(1) ? mm(1) : deg(1)", compile.MixedBranches, "deg(1)", "One branch, mm(1), is a length"},
		{"given.span > mm(1) ? result.moves : mm(1)", compile.MixedBranches, "mm(1)", "keyed by screw"},
		{"given.span ? mm(1) : mm(2)", compile.WrongOperand, "given.span", "true or false"},
		{"[]", compile.MixedElements, "[]", "at least one"},
		{"{near = mm(1), near = mm(2)}", compile.DoubleKey, "near", "twice"},
		{"{1 = mm(1), near = mm(2)}", compile.WrongKey, "{1 = mm(1), near = mm(2)}", "of one sort"},
		{"{(given.span) = mm(1)}", compile.WrongKey, "(given.span)", "as it stands"},
	}.check(t)
	gives{
		{"[mm(1), um(500)]", "1 mm, 0.5 mm"},
		{"{1 = um(0), 2 = um(6)}", "1 0 mm, 2 0.006 mm"},
		{"{near = um(1), \"180\" = um(2)}.near", "0.001 mm"},
		{"given.span > mm(300) ? reading.takes : mm(7)", "7 mm"}, // takes and a number agree
		{"[reading.takes, mm(1)]", "24.998 mm, 1 mm"},
	}.check(t)
}

func TestRule7TakesStandForTheirMean(t *testing.T) {
	gives{
		{"reading.takes", "24.998 mm"},
		{"reading.takes + um(2)", "25 mm"},
		{"reading.diameter.far - reading.diameter.near", "0.006 mm"}, // 30.007 − 30.001
		{"reading.diameter", "near 30.001 mm, far 30.007 mm"},
		{"mean(reading.diameter)", "30.004 mm"},
		{"reading.takes > mm(24.997) && reading.takes < mm(24.999)", "yes"},
		{"reading.bar - mean(reading.bar)", "-0.000333 mm, 0.00167 mm, -0.00133 mm"}, // means 25.001 25.003 25
		{"spread(reading.bar)", "0.003 mm"},                                       // of the means: a profile of takes is not takes
		{"spread(reading.takes)", "0.004 mm"},
		{"count(reading.takes)", "3"},
		{"greatest(reading.takes)", "25 mm"},
		{"spread(reading.diameter.far)", "0.006 mm"},
		{"[for k, v in reading.diameter : spread(v)]", "0.002 mm, 0.006 mm"},
		{"abs(-reading.takes)", "24.998 mm"},
	}.check(t)
	p := must(t, "reading.takes", bench(), compile.Number(quantity.Length, ""))
	if p.Type().Kind != value.Number || p.Eval(measured()).Kind != value.Number {
		t.Errorf("takes in the place of a number: %v", p.Type())
	}
}

func TestRule8AnIndexIsAKey(t *testing.T) {
	gives{
		{"reading.top[2].full", "0.009 mm"}, // screw 2, which was taken third
		{"reading.top[3].half", "0.001 mm"},
		{"result.moves[result.puller]", "0.005 mm"},
		{"reading.top[each.screw].full", "0.009 mm"},
		{"given.end[result.puller] == \"nose\"", "yes"},
		{"reading.front.marked.near.180", "0.002 mm"}, // as an answers file has it
		{`reading.front["marked"]["near"]["180"]`, "0.002 mm"},
		{"reading.front[\"marked\"][each.station][each.angle]", "0.024 mm"},
		{"last(reading.top).full - reading.slack", "0.008 mm"},
		{"first(reading.top).full", "0.002 mm"}, // screw 3 was taken first
	}.check(t)
	refuses{
		{"[mm(1), mm(2)][1]", compile.NoPositions, "[1]", "Write first("},
		{"reading.bar[1]", compile.NoPositions, "[1]", "at(reading.bar, mm(…))"},
		{"reading.takes[1]", compile.NoPositions, "[1]", "The takes stand for their mean"},
		{"given.span[1]", compile.NoPositions, "[1]", "is a length"},
		{"reading.top[\"2\"]", compile.WrongKey, "[\"2\"]", "Write [2]"},
		{"reading.top.far", compile.WrongKey, "far", "taken by number"},
		{"reading.top[0]", compile.WrongKey, "[0]", "1, 2, 3 …; 0 is none"},
		{"reading.top[1.5]", compile.WrongKey, "[1.5]", "1.5 is none"},
		{"reading.top[2].ful", compile.WrongKey, "ful", "has no key ful; it has half and full. Is full meant?"},
		{"reading.front.marked.near[180]", compile.WrongKey, "[180]", `Write ["180"].`},
		{"reading.front.marked.near.90", compile.WrongKey, ".90", "it has 0 and 180"},
		{"reading.top[given.span]", compile.WrongKey, "given.span", "whole numbers, but given.span is a length"},
		{"reading.diameter[result.puller]", compile.WrongKey, "result.puller", "are words (near and far)"},
		{"reading.diameter[each.angle]", compile.WrongKey, "each.angle", "only the keys near and far"},
	}.check(t)
	p := must(t, "result.moves[result.puller + 5]", bench(), compile.Any(""))
	if v := p.Eval(measured()); v.State != value.Absent || !strings.Contains(v.Why, "7") {
		t.Errorf("a key that is not there gives %v %q, want absent and the key", v.State, v.Why)
	}
}

func TestRule9For(t *testing.T) {
	gives{
		{"{for n, r in reading.top : n => r.full - reading.slack}", "3 0.001 mm, 1 0.003 mm, 2 0.008 mm"},
		{"{for n, v in result.moves : n => hypot(v, reading.top[n].full)}[1]", "0.00447 mm"}, // √(2² + 4²) = 4.47 µm
		{"{for n, g in result.moves : n => n == 2 ? g - um(1) : g}", "3 0.001 mm, 1 0.002 mm, 2 0.004 mm"},
		{"[for v in result.moves : v * 2]", "0.002 mm, 0.004 mm, 0.01 mm"},
		{"[for z, v in result.form : z]", "0 mm, 50 mm, 100 mm"},
		{"{for z, v in result.form : z => v * 2}", "-0.002 mm, 0.004 mm, -0.002 mm"},
		{"[for k, v in reading.round : k]", "0″, 206264.8″, 412529.6″"},
		{"[for n, v in result.moves : v if n > 1]", "0.001 mm, 0.005 mm"},
		{"[for v in [mm(1), mm(2)] : v + mm(1)]", "2 mm, 3 mm"},
		{"[for k, v in reading.diameter : k]", "near, far"},
	}.check(t)
	if p := must(t, "{for z, v in result.form : z => v * 2}", bench(), compile.Any("")); p.Type().Kind != value.Profile {
		t.Errorf("a for with keys over a profile is %v, want a profile", p.Type())
	}
	refuses{
		{"{for n, v in result.moves : n + 1 => v}", compile.ForKey, "n + 1", "{for n, v in result.moves : n => …}"},
		{"{for v in result.moves : v => v}", compile.ForKey, "v", "{for k, v in result.moves : k => …}"},
		{"{for v in [mm(1)] : v => v}", compile.ForKey, "v", "no keys to keep"},
		{"[for k, v in [mm(1)] : v]", compile.NoPositions, "[", "which has no keys"},
		{"[for v in given.span : v]", compile.NoElements, "given.span", "is a length"},
		{"[for v in reading.takes : v]", compile.NoElements, "reading.takes", "takes of a length"},
		{"{for k, v in result.moves : k => v...}", compile.NotUsed, "v", "one value"},
		{"reading.top[*].full", compile.NotUsed, "[*]", "[for v in"},
		{"mean(reading.top)", compile.WrongArg, "reading.top", "one key alone"},
	}.check(t)
}

func TestRule10ElementByElement(t *testing.T) {
	gives{
		{"result.form + result.form", "-0.002 mm, 0.004 mm, -0.002 mm"},
		{"result.form - least(result.form)", "0 mm, 0.003 mm, 0 mm"},
		{"result.form * 0.66", "-0.00066 mm, 0.00132 mm, -0.00066 mm"},
		{"-result.form", "0.001 mm, -0.002 mm, 0.001 mm"},
		{"um(2) - result.form", "0.003 mm, 0 mm, 0.003 mm"},
		{"result.moves / reading.slack", "3 1, 1 2, 2 5"},
		{"reading.top - reading.top", "3 half 0 mm, full 0 mm, 1 half 0 mm, full 0 mm, 2 half 0 mm, full 0 mm"},
		{"result.moves - {for n, r in reading.top : n => r.half}", "3 0 mm, 1 -0.001 mm, 2 0 mm"},
		{"result.moves + {1 = um(1), 2 = um(2), 3 = um(3)}", "3 0.004 mm, 1 0.003 mm, 2 0.007 mm"}, // matched by key
		{"reading.round % um(1.5)", "0 mm, 0.0005 mm, 0.001 mm"},
	}.check(t)
	refuses{
		{"result.form + deg(1)", compile.DimMismatch, "deg(1)", "angle"},
		{"result.form + result.moves", compile.WrongOperand, "result.moves", "only equal kinds combine"},
		{"[mm(1)] * 2", compile.WrongOperand, "[mm(1)]", "[for v in [mm(1)] : …]"},
		{"result.form > um(1)", compile.WrongOperand, "result.form", "greatest(result.form)"},
		{"reading.diameter + {near = um(1), fear = um(1)}", compile.WrongKey, "{near = um(1), fear = um(1)}", "near and fear"},
	}.check(t)
	env := measured()
	env["result.form"] = value.ProfileOf([]float64{0, 60, 100}, value.Nums(1, 2, 3))
	v := must(t, "reading.bar - result.form", bench(), compile.Any("")).Eval(env)
	if v.State != value.Absent || !strings.Contains(v.Why, "stations 0, 50, 100 mm are not stations 0, 60, 100 mm") {
		t.Errorf("different stations give %v, %q", v.State, v.Why)
	}
	env["result.form"] = value.ProfileOf([]float64{0, 50, 100}, []value.Value{value.Num(0), value.NotYet(), value.Num(1)})
	v = must(t, "mm(1) / result.form", bench(), compile.Any("")).Eval(env)
	got := []value.State{v.Elems[0].State, v.Elems[1].State, v.Elems[2].State}
	if !slices.Equal(got, []value.State{value.Absent, value.Missing, value.Present}) {
		t.Errorf("states of the elements of mm(1)/form: %v", got)
	}
}

func TestRule11StatesSpread(t *testing.T) {
	present, missing, absent := value.Num(2), value.NotYet(), value.AbsentFor("not asked")
	unmeasured := value.Value{State: value.Unmeasured, Why: "no room"}
	sc := &compile.Scope{Names: map[formula.Space]map[string]compile.Symbol{formula.Given: {
		"a": {Type: length}, "b": {Type: length}, "yes": {Type: value.TruthType()}, "also": {Type: value.TruthType()},
	}}}
	on, off := value.Bool(true), value.Bool(false)
	for _, tt := range []struct {
		src  string
		env  values
		want value.State
		used string
	}{
		{"given.a + given.b", values{"given.a": present, "given.b": present}, value.Present, "a b"},
		{"given.a + given.b", values{"given.a": absent, "given.b": unmeasured}, value.Absent, "a b"},
		{"given.a + given.b", values{"given.a": absent, "given.b": missing}, value.Missing, "a b"},
		{"given.a * given.b", values{"given.a": unmeasured, "given.b": present}, value.Unmeasured, "a b"},
		{"given.a < given.b", values{"given.a": present, "given.b": absent}, value.Absent, "a b"},
		{"hypot(given.a, given.b)", values{"given.a": absent, "given.b": missing}, value.Missing, "a b"},
		{"given.yes ? given.a : given.b", values{"given.yes": on, "given.a": present, "given.b": missing}, value.Present, "a yes"},
		{"given.yes ? given.a : given.b", values{"given.yes": off, "given.a": present, "given.b": absent}, value.Absent, "b yes"},
		{"given.yes ? given.a : given.b", values{"given.a": present, "given.b": present}, value.Missing, "yes"},
		{"given.yes && given.also", values{"given.yes": off}, value.Present, "yes"},
		{"given.yes && given.also", values{"given.yes": on}, value.Missing, "also yes"},
		{"given.yes || given.also", values{"given.yes": on}, value.Present, "yes"},
		{"given.yes || given.also", values{"given.yes": off, "given.also": absent}, value.Absent, "also yes"},
		{"!given.yes", values{"given.yes": absent}, value.Absent, "yes"},
		{"-given.a", values{"given.a": unmeasured}, value.Unmeasured, "a"},
		{"given.a / given.b", values{"given.a": present, "given.b": value.Num(0)}, value.Absent, "a b"},
		{"given.a % given.b", values{"given.a": present, "given.b": value.Num(0)}, value.Absent, "a b"},
		{"given.a * given.b", values{"given.a": value.Num(1e300), "given.b": value.Num(1e300)}, value.Absent, "a b"},
		{`"${given.a}"`, values{"given.a": missing}, value.Missing, "a"},
		{"least([given.a, given.b])", values{"given.a": present, "given.b": unmeasured}, value.Unmeasured, "a b"},
	} {
		p := must(t, tt.src, sc, compile.Any(""))
		v := p.Eval(tt.env)
		if s, _ := v.Worst(); s != tt.want {
			t.Errorf("%s with %v: state %v, want %v", tt.src, tt.env, s, tt.want)
		}
		if v.State == value.Absent && v.Why == "" {
			t.Errorf("%s with %v: absent without a reason", tt.src, tt.env)
		}
		var names []string
		for _, r := range p.Used(tt.env) {
			names = append(names, r.Name)
		}
		slices.Sort(names)
		if got := strings.Join(names, " "); got != tt.used {
			t.Errorf("%s with %v: used %q, want %q", tt.src, tt.env, got, tt.used)
		}
	}
}

func TestRule11AbsentElementsCountOnlyWhereUsed(t *testing.T) {
	env := measured()
	env["reading.diameter"] = value.KeyedOf([]string{"near", "far"}, []value.Value{value.TakesOf(30), value.AbsentFor("no room")})
	if v := must(t, "reading.diameter.near", bench(), compile.Any("")).Eval(env); v.State != value.Present {
		t.Errorf("the near diameter is %v though only the far one is absent", v.State)
	}
	if v := must(t, "mean(reading.diameter)", bench(), compile.Any("")).Eval(env); v.State != value.Absent || v.Why != "no room" {
		t.Errorf("the mean is %v %q, want absent: no room", v.State, v.Why)
	}
}

// The first screw can be looked at while the last is still to be read.
func TestRule11EndsNeedOnlyThemselves(t *testing.T) {
	env := measured()
	top := env["reading.top"]
	top.Elems = slices.Clone(top.Elems)
	top.Elems[2] = value.NotYet()
	env["reading.top"] = top
	if v := must(t, "first(reading.top).full", bench(), compile.Any("")).Eval(env); !value.Equal(v, value.Num(0.002)) {
		t.Errorf("first: %v", v)
	}
	for _, src := range []string{"last(reading.top).full", "mean({for n, r in reading.top : n => r.full})"} {
		if v := must(t, src, bench(), compile.Any("")).Eval(env); v.State != value.Missing {
			t.Errorf("%s: %v, want missing", src, v.State)
		}
	}
}

func TestRule12ZeroNeedsItsUnit(t *testing.T) {
	refuses{
		{"given.span > 0", compile.ZeroUnit, "0", "Write mm(0)."},
		{"0 < reading.slack", compile.ZeroUnit, "0", "Write um(0)."},
		{"given.lean == 0", compile.ZeroUnit, "0", "Write arcsec(0)."},
		{"result.form + 0", compile.ZeroUnit, "0", "Write um(0)."},
		{"given.span > mm(1) ? given.span : 0", compile.ZeroUnit, "0", "Write mm(0)."},
		{"[um(1), 0]", compile.ZeroUnit, "0", "Write um(0)."},
		{"[0, um(1)]", compile.ZeroUnit, "0", "Write um(0)."},
		{"given.ambient > 0", compile.ZeroUnit, "0", "Write celsius(0)."},
	}.check(t)
	gives{{"given.slope > 0", "yes"}, {"given.screws > 0", "yes"}}.check(t)
}

func TestRule12AngleAndSlopeDiffer(t *testing.T) {
	refuses{
		{"given.slope == given.lean", compile.DimMismatch, "given.lean", "given.slope is a ratio (µm/m), compared with given.lean, which is an angle (″). An angle becomes a slope with tan(…), a slope an angle with atan(…)."},
		{"given.slope + deg(1)", compile.DimMismatch, "deg(1)", "added to"},
		{"given.span < deg(1)", compile.DimMismatch, "deg(1)", "given.span is a length (mm), compared with deg(1), which is an angle"},
		{"given.span - minutes(1)", compile.DimMismatch, "minutes(1)", "which is a time"},
	}.check(t)
	gives{
		{"tan(deg(45)) > given.slope", "yes"},
		{"given.slope * radian(1) == given.lean", "no"},
		{"atan(1) - deg(45)", "0″"},
	}.check(t)
}

func TestRule12TextIsOneOfItsChoices(t *testing.T) {
	refuses{
		{`reading.mark == "larg"`, compile.NotAChoice, `"larg"`, `Write "large" if that is meant.`},
		{`"none" != reading.mark`, compile.NotAChoice, `"none"`, `"large", "small" or "all"`},
		{"each.station == each.angle", compile.NotAChoice, "each.angle", "never"},
		{"given.end[1] == \"back\"", compile.NotAChoice, `"back"`, `"nose" or "rear"`},
		{"each.angle == 180", compile.WrongOperand, "180", `Write "180" if the word is meant.`},
		{`each.screw == "2"`, compile.WrongOperand, `"2"`, "Write 2 without quotation marks"},
		{`reading.mark > "all"`, compile.WrongOperand, `reading.mark > "all"`, "Write == or !=."},
		{"reading.mark == true", compile.WrongOperand, "true", "Compare values of one kind."},
	}.check(t)
	gives{
		{`reading.mark == "all" ? percent(100) : reading.part`, "1"},
		{`given.place == "bay 2"`, "yes"},
		{`given.place != "bay 2"`, "no"},
	}.check(t)
}

func TestTemperaturesArePoints(t *testing.T) {
	gives{
		{"reading.warm - reading.cold", "0.3 K"},
		{"reading.warm + kelvin(1)", "21.4 °C"},
		{"kelvin(1) + reading.warm", "21.4 °C"},
		{"reading.warm - kelvin(0.4)", "20 °C"},
		{"reading.warm > celsius(20)", "yes"},
		{"(reading.warm - reading.cold) * 2", "0.6 K"},
		{"(reading.warm - celsius(20)) / kelvin(0.1)", "4"},
	}.check(t)
	refuses{
		{"reading.warm + reading.cold", compile.PointSum, "reading.warm + reading.cold", "the sum of two temperatures means nothing"},
		{"reading.warm * 2", compile.PointSum, "reading.warm * 2", "Work with a difference"},
		{"-reading.warm", compile.PointSum, "-reading.warm", "a point on a scale"},
		{"kelvin(1) - reading.warm", compile.PointSum, "kelvin(1) - reading.warm", "is neither"},
		{"reading.warm > kelvin(20)", compile.DimMismatch, "kelvin(20)", "celsius(…)"},
		{"reading.warm + mm(1)", compile.DimMismatch, "mm(1)", "kelvin(…)"},
	}.check(t)
}

func TestRule14TextsShowValuesInTheirUnit(t *testing.T) {
	for _, tt := range []struct{ src, want string }{
		{`"Screw ${each.screw} of ${given.screws}"`, "Screw 2 of 3"},
		{`"overrun ${given.span / 8}, not a quarter"`, "overrun 31.25 mm, not a quarter"},
		{`"${reading.slack}"`, "1 µm"},         // named: in its unit
		{`"${reading.slack * 1}"`, "0.001 mm"}, // any other: the first unit of its dimension
		{`"${reading.top[2].full} at 2"`, "9 µm at 2"},
		{`"${result.moves[result.puller]}"`, "5 µm"},
		{`"${given.lean}"`, "20.6″"},
		{`"${given.slope}"`, "20 µm/m"},
		{`"${reading.warm}"`, "20.4 °C"},
		{`"${reading.warm - reading.cold}"`, "0.3 K"},
		{`"seated ${reading.mark == "all" ? "mark to mark" : "half a turn"}."`, "seated mark to mark."},
		{`"${reading.part}, ${given.span}"`, "…, 250 mm"}, // what is missing shows as …
		{`"${reading.part > percent(1) ? "much" : "little"}"`, "…"},
		{`"at the ${given.end[each.screw]} end"`, "at the nose end"},
		{`"%{ for n, v in result.moves }${n}: ${v}; %{ endfor }"`, "3: 1 µm; 1: 2 µm; 2: 5 µm; "},
		{`"%{ if given.span > mm(300) }long%{ else }short%{ endif }"`, "short"},
		{`"plain"`, "plain"},
		{`""`, ""},
		{`"a $${b} %%{c}"`, "a ${b} %{c}"},
		{`"µm ″ ≤ Ø 🙂"`, "µm ″ ≤ Ø 🙂"},
		{`"${true}"`, "yes"},
		{`"${1 / 3}"`, "0.333333"},
		{`"${um(0.004)}"`, "0.000004 mm"}, // too small for the usual figures
		{`given.place`, "bay 2"},
	} {
		p := must(t, tt.src, bench(), compile.Text(""))
		if got := p.Words(measured()); got != tt.want {
			t.Errorf("%s reads %q, want %q", tt.src, got, tt.want)
		}
		if p.Type().Kind != value.Text {
			t.Errorf("%s is %v, want a text", tt.src, p.Type())
		}
		if v := p.Eval(measured()); v.State == value.Present && v.Text != tt.want {
			t.Errorf("%s = %q, want %q", tt.src, v.Text, tt.want)
		}
	}
}

func TestTextsArePlain(t *testing.T) {
	refuses{
		{`"a\tb"`, compile.PlainText, `a\tb`, "a tab"},
		{`"a\nb"`, compile.PlainText, `a\nb`, "a line break"},
		{`"bell \u0007"`, compile.PlainText, `bell \u0007`, "U+0007"},
		{`"turned \u202e round ${given.span}"`, compile.PlainText, `turned \u202e round `, "U+202E"},
		{"<<EOT\na\nEOT\n", compile.NotUsed, "<<EOT\na\nEOT", "one line between quotation marks"},
	}.check(t)
}

func TestRule48TableRows(t *testing.T) {
	gives{{"table.lathe.level / 2", "0.0075 mm"}}.check(t)
	p := must(t, "plus_minus(table.lathe.level)", bench(), compile.Want{Kinds: []value.Kind{value.Zone}, Unit: unit("um")})
	if got := p.Refs(); !slices.Equal(got, []formula.Ref{{Space: formula.Table, Name: "lathe.level"}}) {
		t.Errorf("refs %v", got)
	}
}

func TestRoundRefs(t *testing.T) {
	p := must(t, "reading.here + reading.slack + reading.here", bench(), compile.Any(""))
	want := []formula.Ref{{Space: formula.Reading, Name: "here", Round: true}, {Space: formula.Reading, Name: "slack"}}
	if diff := cmp.Diff(want, p.Refs()); diff != "" {
		t.Errorf("refs (-want +got):\n%s", diff)
	}
}

func TestFunctions(t *testing.T) {
	refuses{
		{"hypott(mm(1), mm(2))", compile.UnknownFunc, "hypott", "Is hypot meant?"},
		{"levitate(mm(1))", compile.UnknownFunc, "levitate", "calc --list"},
		{"mm(1, 2)", compile.ArgCount, "mm", "mm has 2 arguments"},
		{"hypot(mm(1), deg(2))", compile.WrongArg, "deg(2)", "is an angle"},
		{"mm(given.span)", compile.WrongArg, "given.span", "a plain number is wanted"},
		{"least([mm(1)]...)", compile.NotUsed, "[mm(1)]", "..."},
		{"mm(1)/0", compile.NoValue, "mm(1)/0", "division by zero"},
		{"null", compile.NotUsed, "null", "`when`"},
		{"1e400", compile.BadNumber, "1e400", "larger"},
	}.check(t)
}

func TestWants(t *testing.T) {
	mm := *unit("mm")
	zone := compile.Want{Kinds: []value.Kind{value.Zone}, Unit: unit("um"), What: "the limit of gate.level"}
	stations := compile.Want{Kinds: []value.Kind{value.List}, Unit: &mm, What: "along"}
	for _, tt := range []struct {
		src  string
		w    compile.Want
		want string
	}{
		{"deg(1)", compile.InUnit(mm, "the range of given.span"), "F022 [deg(1)] deg(1) is an angle, but the range of given.span is a length. Write it as a length, such as mm(20)."},
		{"0", compile.InUnit(mm, "the range of given.span"), "F012 [0] the range of given.span is a length, but 0 alone is a ratio. Write mm(0)."},
		{"5", compile.InUnit(*unit("celsius"), "the range"), "F023 [5] 5 is a whole number, but the range is a temperature. Write celsius(20)."},
		{"kelvin(5)", compile.InUnit(*unit("celsius"), "the range"), "F023 [kelvin(5)] kelvin(5) is a temperature difference, but the range is a temperature. Write celsius(20)."},
		{"celsius(5)", compile.InUnit(*unit("kelvin"), "the limit"), "F023 [celsius(5)] celsius(5) is a temperature, but the limit is a temperature difference. Write kelvin(20)."},
		{"um(5)", zone, "F023 [um(5)] um(5) is a length, but the limit of gate.level is limits of a length. Write plus_minus(um(20)) or between(um(0), um(20))."},
		{"plus_minus(arcsec(5))", zone, "F022 [plus_minus(arcsec(5))]"},
		{"2.5", compile.Count("attempts"), "F023 [2.5] 2.5 need not be a whole number, but attempts is one."},
		{"mm(2)", compile.Count("attempts"), "F022 [mm(2)] mm(2) is a length, but attempts is a whole number."},
		{"given.span", compile.Truth("when"), "F023 [given.span] given.span is a length, but when is true or false. Write a condition, such as given.span > um(…)."},
		{"given.span", compile.Text("title"), "F023 [given.span] given.span is a length, but title is a text. Write it between quotation marks."},
		{"result.moves", compile.InUnit(mm, "the amount"), "F023 [result.moves] result.moves is lengths keyed by screw, but the amount is a length. Write one number, such as mean(result.moves)"},
		{"[deg(1), deg(2)]", stations, "F022 [[deg(1), deg(2)]]"},
		{"given.slope", compile.Number(quantity.Angle, "the lean"), "F022 [given.slope] given.slope is a ratio, but the lean is an angle. An angle becomes a slope with tan(…)"},
	} {
		p, diags := compile.Expr(parse(t, tt.src), []byte(tt.src), bench(), tt.w)
		if got := told(tt.src, diags); p != nil || len(diags) != 1 || !strings.HasPrefix(got, tt.want) {
			t.Errorf("%s:\n got %s\nwant %s…", tt.src, got, tt.want)
		}
	}
	must(t, "stations(mm(0), given.span, given.screws)", bench(), stations)
	must(t, "result.moves", bench(), compile.Want{Unit: unit("um")})
	must(t, "reading.warm - reading.cold", bench(), compile.Want{Unit: unit("kelvin")})
	must(t, "3", bench(), compile.Count(""))
}

// One wrong part does not hide another, and causes no further words.
func TestAllMistakesAreReported(t *testing.T) {
	src := `(given.spam + deg(1)) * hypott(1) + (reading.top["2"] > given.broken ? mm(1) + deg(1) : step.x)`
	_, diags := compile.Expr(parse(t, src), []byte(src), bench(), compile.Any(""))
	var got []string
	for _, d := range diags {
		got = append(got, string(d.Extra.(compile.Code)))
	}
	slices.Sort(got)
	want := []string{"F002", "F005", "F006", "F009", "F015"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("codes (-want +got):\n%s\n%s", diff, told(src, diags))
	}
	// A use of a name that is wrong itself is not told again.
	p, diags := compile.Expr(parse(t, "given.broken + deg(1)"), nil, bench(), compile.Any(""))
	if p != nil || len(diags) != 0 {
		t.Errorf("a use of a broken name: %v, %v", p, diags)
	}
}

func TestDeepExpressions(t *testing.T) {
	for _, tt := range []struct{ name, src string }{
		{"sum", "1" + strings.Repeat(" + 1", 10000)},
		{"parentheses", strings.Repeat("(", 5000) + "1" + strings.Repeat(")", 5000)},
		{"minus", strings.Repeat("-", 5000) + "1"},
		{"tuples", strings.Repeat("[", 2000) + "1" + strings.Repeat("]", 2000)},
		{"conditions", strings.Repeat("true ? 1 : ", 2000) + "1"},
	} {
		p, diags := compile.Expr(parse(t, tt.src), []byte(tt.src), bench(), compile.Any(""))
		if p != nil || len(diags) != 1 || diags[0].Extra != compile.TooDeep {
			t.Errorf("%s: program %v, %v; want one %s", tt.name, p != nil, diags, compile.TooDeep)
		}
	}
	must(t, "1"+strings.Repeat(" + 1", 200), bench(), compile.Any(""))
}

func TestEveryCodeIsExplained(t *testing.T) {
	if got := compile.Codes(); len(got) != 28 || got[0] != "F001" || got[27] != "F028" {
		t.Errorf("codes %v", got)
	}
	seen := map[string]compile.Code{}
	for _, c := range compile.Codes() {
		if c.Summary() == "" || c.Explain() == "" {
			t.Errorf("%s is not explained", c)
		}
		if other, ok := seen[c.Summary()]; ok {
			t.Errorf("%s and %s have one summary", c, other)
		}
		seen[c.Summary()] = c
		if e, ok := diagnose.Explain(string(c)); !ok || e.Summary != c.Summary() {
			t.Errorf("%s is %q here, but %q where codes are explained", c, c.Summary(), e.Summary)
		}
	}
}

func TestSourceAndPlace(t *testing.T) {
	file := []byte("value = given.span + mm(1) # of the bed")
	e, diags := hclsyntax.ParseExpression(file[8:26], "bed.hcl", hcl.Pos{Line: 7, Column: 9, Byte: 8})
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	p, diags := compile.Expr(e, file, bench(), compile.Any(""))
	if p == nil {
		t.Fatal(diags)
	}
	if got := p.Source(); got != "given.span + mm(1)" {
		t.Errorf("source %q", got)
	}
	want := source.Range{File: "bed.hcl", Start: source.Pos{Line: 7, Column: 9, Byte: 8}, End: source.Pos{Line: 7, Column: 27, Byte: 26}}
	if diff := cmp.Diff(want, p.At()); diff != "" {
		t.Errorf("place (-want +got):\n%s", diff)
	}
}
