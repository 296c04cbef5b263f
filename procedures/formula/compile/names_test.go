package compile_test

import (
	"strings"
	"testing"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
)

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
		{"{0 = mm(1)}", compile.WrongKey, "0", "whole number from 1 on"},
		{"{1.5 = mm(1)}", compile.WrongKey, "1.5", "whole number from 1 on"},
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
		{"spread(reading.bar)", "0.003 mm"},                                          // of the means: a profile of takes is not takes
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
