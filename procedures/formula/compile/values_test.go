package compile_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/checks/catalogue"
	"waywright/checks/value"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
)

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

// A function is not asked for what has no value.
func TestRule11FunctionsGetPresentArguments(t *testing.T) {
	sc := bench()
	sc.Funcs = compile.Funcs{"twice": {
		Name:   "twice",
		Params: []catalogue.Param{{Name: "x"}},
		Check:  func(args []value.Type) (value.Type, *catalogue.ArgError) { return args[0], nil },
		Eval: func(args []value.Value) value.Value {
			if args[0].State != value.Present || args[0].Kind != value.Number {
				t.Errorf("called with %+v", args[0])
			}
			return value.Num(2 * args[0].Num)
		},
	}}
	p := must(t, "twice(reading.takes)", sc, compile.Any(""))
	for _, tt := range []struct {
		in    value.Value
		state value.State
	}{
		{value.TakesOf(1, 2), value.Present},
		{value.TakesOf(math.MaxFloat64), value.Absent}, // twice that is no number
		{value.NotYet(), value.Missing},
		{value.AbsentFor("no room"), value.Absent},
	} {
		if v := p.Eval(values{"reading.takes": tt.in}); v.State != tt.state || v.State == value.Absent && v.Why == "" {
			t.Errorf("twice of %+v: %+v, want state %v", tt.in, v, tt.state)
		}
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
		{`"${reading.slack}"`, "1 µm"}, // named: in its unit
		{`"${each.screw == 2 ? reading.slack : result.taper}"`, "1 µm"},
		{`"${each.screw == 2 ? reading.slack : given.span}"`, "0.001 mm"},
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
