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
	"waywright/procedures/formula/compile"
	"waywright/procedures/source"
)

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
