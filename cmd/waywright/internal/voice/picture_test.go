package voice

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/formula"
)

func bar(t testing.TB) engine.Judgement {
	t.Helper()
	um, err := quantity.Lookup("um")
	if err != nil {
		t.Fatal(err)
	}
	j := engine.Judgement{Title: "One size along the bar", Verdict: checks.Fail, Value: 0.004, U: 0.001, Lo: -0.002, Hi: 0.002, Unit: um, Positive: "fat", Element: "100",
		Gate: &procedures.Gate{Of: formula.Const(value.Value{}, value.Type{Kind: value.Profile})}}
	for i, y := range []float64{0.001, 0.002, 0.004, 0.0005, -0.001} {
		v := checks.Pass
		if y > 0.003 {
			v = checks.Fail
		}
		j.Elements = append(j.Elements, engine.Element{Key: []string{"0", "50", "100", "150", "200"}[i], At: float64(i) * 50, Value: y, U: 0.001, Lo: -0.002, Hi: 0.002, Verdict: v})
	}
	return j
}

func hasDots(rows []string) bool {
	return strings.ContainsFunc(strings.Join(rows, ""), func(r rune) bool { return r >= 0x2800 && r <= 0x28FF })
}

// A picture never stands alone: without it the same is said in figures.
func TestShapeIsDrawnAndListed(t *testing.T) {
	j := bar(t)
	for _, tt := range []struct {
		name string
		v    Voice
		dots bool
	}{
		{"60 columns", Voice{}, true}, {"40 columns", Voice{Width: 40}, true}, {"narrow", Voice{Width: 30}, false},
		{"bare", Voice{Bare: true}, false}, {"large", Voice{Large: true}, false},
	} {
		rows := tt.v.Lay(tt.v.Shape(j))
		if got := hasDots(rows); got != tt.dots {
			t.Errorf("%s: drawn %v, want %v:\n%s", tt.name, got, tt.dots, strings.Join(rows, "\n"))
		}
		text := strings.Join(strings.Fields(strings.Join(rows, " ")), " ")
		for _, want := range []string{"0 mm: 1", "100 mm: 4", "200 mm: -1.0 µm"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is not said:\n%s", tt.name, want, text)
			}
		}
		for _, r := range rows {
			if utf8.RuneCountInString(r) > tt.v.columns() {
				t.Errorf("%s: a line of %d signs: %q", tt.name, utf8.RuneCountInString(r), r)
			}
		}
	}
	// The one that fails is a cross, above the line of the upper limit.
	rows := Voice{}.Lay(Voice{}.Shape(j))
	cross, limit := -1, -1
	for i, r := range rows[:pictureRows] {
		if strings.Contains(r, "x") {
			cross = i
		}
		if strings.Contains(r, "limit") && limit < 0 {
			limit = i
		}
	}
	if cross < 0 || limit < 0 || cross >= limit {
		t.Errorf("the cross is in row %d, the upper limit in row %d:\n%s", cross, limit, strings.Join(rows, "\n"))
	}
}

func TestAttemptsAreDrawnAndListed(t *testing.T) {
	um, err := quantity.Lookup("um")
	if err != nil {
		t.Fatal(err)
	}
	var list []engine.Attempt
	for i, y := range []float64{0.045, 0.091, 0.001} {
		v := []checks.Verdict{checks.Fail, checks.Fail, checks.Pass}[i]
		list = append(list, engine.Attempt{Judgement: engine.Judgement{Verdict: v, Value: y, U: 0.007, Lo: math.Inf(-1), Hi: 0.013, Unit: um, Positive: "larger at the tailstock end"}})
	}
	if s := (Voice{}).Attempts(list[:1]); len(s) != 0 {
		t.Errorf("one attempt is drawn: %v", s)
	}
	for _, bare := range []bool{false, true} {
		v := Voice{Bare: bare}
		rows := v.Lay(v.Attempts(list))
		if hasDots(rows) == bare {
			t.Errorf("bare %v:\n%s", bare, strings.Join(rows, "\n"))
		}
		text := strings.Join(strings.Fields(strings.Join(rows, " ")), " ")
		for _, want := range []string{"1 FAIL: 45.0 µm larger at the TAILSTOCK end, give or take 7.0 µm", "3 PASS: 1.0 µm larger at the tailstock end, give or take 7.0 µm"} {
			if !strings.Contains(text, want) {
				t.Errorf("bare %v: %q is not said:\n%s", bare, want, text)
			}
		}
	}
}
