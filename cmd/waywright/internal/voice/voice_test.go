package voice

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"waywright/engine"
)

// Every word stays, in its order, and no row is wider than the screen.
func TestLayKeepsWordsAndWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOf(rapid.StringMatching(`[a-zµ0-9.]{1,25}`)).Draw(t, "words"), " ")
		v := Voice{Width: rapid.IntRange(16, 80).Draw(t, "width"), Large: rapid.Bool().Draw(t, "large")}
		rows := v.Lay(Screen{{Text: text, Hang: rapid.IntRange(0, 12).Draw(t, "hang")}})
		for _, r := range rows {
			if utf8.RuneCountInString(r) > v.columns() {
				t.Fatalf("%q is wider than %d", r, v.columns())
			}
		}
		squeeze := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if got := squeeze(strings.Join(rows, "")); got != squeeze(text) {
			t.Fatalf("%q became %q", text, rows)
		}
	})
}

func TestNumberAndUnitStayTogether(t *testing.T) {
	got := Voice{Width: 20}.Lay(Screen{{Text: "Found now, by hand " + hold("1.5 µm") + " high"}})
	if diff := cmp.Diff([]string{"Found now, by hand", "1.5 µm high"}, got); diff != "" {
		t.Error(diff)
	}
}

func TestPolar(t *testing.T) {
	for _, tt := range []struct{ positive, plus, minus string }{
		{"free end high", "high", "low"},
		{"free end towards the operator", "towards you", "away from you"},
		{"bar nearer to the operator", "nearer to you", "further from you"},
		{"larger at the tailstock end", "larger at the tailstock end", "larger at the headstock end"},
		{"fat", "fat", "thin"},
		{"front high: the head has nodded forward", "high", "low"},
		{"free end high, seen from the front", "high", "low"},
		{"never below nothing", "", ""},
		{"blue", "", ""},
	} {
		plus, minus, ok := polar(tt.positive)
		if plus != tt.plus || minus != tt.minus || ok != (tt.plus != "") {
			t.Errorf("polar(%q) = %q, %q, %v; want %q, %q", tt.positive, plus, minus, ok, tt.plus, tt.minus)
		}
	}
}

func TestMark(t *testing.T) {
	for in, want := range map[string]string{
		"Headstock-end collar: diameter":               "HEADSTOCK-END collar: diameter",
		"Diameter, tailstock-end collar":               "Diameter, TAILSTOCK-END collar",
		"Front, near, mark up":                         "FRONT, NEAR, mark UP",
		"the nearest of the shopfronts":                "the nearest of the shopfronts",
		"Indicator on top, far station, spindle at 0°": "Indicator on TOP, FAR station, spindle at 0°",
	} {
		if got := Mark(in); got != want {
			t.Errorf("Mark(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestYou(t *testing.T) {
	for in, want := range map[string]string{
		"towards the operator":        "towards you",
		"AWAY FROM THE OPERATOR":      "AWAY FROM YOU",
		"The operator's side":         "Your side",
		"larger at the headstock end": "larger at the headstock end",
	} {
		if got := You(in); got != want {
			t.Errorf("You(%q) = %q, want %q", in, got, want)
		}
	}
}

// A move is one of whole divisions: nothing finer is shown.
func TestDivisions(t *testing.T) {
	for d, want := range map[float64]int{0.2: 0, 0.49: 0, 0.5: 1, 1: 1, -2.9: 3, 2.28: 2, 2.5: 3, 2.7: 3, 17: 17} {
		if got := divisions(d); got != want {
			t.Errorf("divisions(%g) = %d, want %d", d, got, want)
		}
	}
}

func TestCountdownAndDuration(t *testing.T) {
	for d, want := range map[time.Duration]string{
		500 * time.Millisecond: "1 s", 59 * time.Second: "59 s", 60 * time.Second: "1 min", 65 * time.Second: "1 min 5 s", 5 * time.Minute: "5 min", 119 * time.Minute: "1 h 59 min",
	} {
		if got := countdown(d); got != want {
			t.Errorf("countdown(%v) = %q, want %q", d, got, want)
		}
	}
	for d, want := range map[time.Duration]string{9 * 24 * time.Hour: "9 days", 5 * time.Hour: "5 hours", 90 * time.Second: "90 seconds", 5 * time.Minute: "5 minutes"} {
		if got := duration(d); got != want {
			t.Errorf("duration(%v) = %q, want %q", d, got, want)
		}
	}
}

// The number that goes on is the one the front end says.
func TestGoOnIsWhereItIsSaid(t *testing.T) {
	for _, kind := range []engine.Kind{engine.AskClear, engine.AskConfirm, engine.AskDone} {
		for n := 1; n <= 2; n++ {
			a := Voice{}.Ask(engine.Question{Kind: kind, Ask: "All so?"}, n, now)
			yes := 1 // a plain yes stands still
			if kind == engine.AskClear {
				yes = n
			}
			if len(a.Options) != 2 || a.Options[yes-1].Word != "yes" || a.Options[2-yes].Word == "yes" {
				t.Errorf("%s, %d: %+v", kind, n, a.Options)
			}
		}
	}
}

// A limit that stands alone says in words which way it holds.
func TestAllowed(t *testing.T) {
	inf := math.Inf(1)
	mm := unit(t, "mm")
	for _, tt := range []struct {
		positive string
		lo, hi   float64
		want     string
	}{
		{"free end high", 0, 0.016, "0 to 0.016 mm high, never low"},
		{"free end high", -0.016, 0, "0 to 0.016 mm low, never high"},
		{"free end towards the operator", 0, 0.012, "0 to 0.012 mm towards you, never away"},
		{"larger at the tailstock end", -0.013, 0.013, "0.013 mm, either end"},
		{"high", -0.013, 0.013, "0.013 mm, either way"},
		{"high", -0.002, 0.013, "0.002 mm low to 0.013 mm high"},
		{"high", 0.002, 0.013, "0.002 to 0.013 mm high"},
		{"high", -0.013, -0.002, "0.002 to 0.013 mm low"},
		{"end fatter than the middle", -0.001, inf, "0.001 mm thinner at most"},
		{"high", 0, inf, "never low"},
		{"high", -inf, 0, "never high"},
		{"high", -inf, 0.02, "0.02 mm high or less"},
		{"never below nothing", -inf, 0.003, "up to 0.003 mm"},
		{"", 0.5, 0.9, "0.5 to 0.9 mm"},
		{"", 0.5, inf, "0.5 mm or more"},
		{"high", -inf, inf, ""},
	} {
		f := Voice{}.figures(engine.Judgement{Value: 0.005, U: 0.0012, Lo: tt.lo, Hi: tt.hi, Unit: mm, Positive: tt.positive})
		if got := strings.ReplaceAll(f.allowed(), hard, " "); got != tt.want {
			t.Errorf("%q, %g to %g: %q, want %q", tt.positive, tt.lo, tt.hi, got, tt.want)
		}
	}
}

// A plot never leaves its rows, whatever the values.
func TestPlotHoldsAnything(t *testing.T) {
	odd := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0}))
	rapid.Check(t, func(t *rapid.T) {
		y := rapid.SliceOfN(odd, 0, 20).Draw(t, "y")
		at := rapid.SliceOfN(rapid.Float64Range(-1e6, 1e6), 0, 20).Draw(t, "at")
		width := rapid.IntRange(0, 60).Draw(t, "width")
		for _, row := range Plot(at, y, width) {
			if utf8.RuneCountInString(row) != width {
				t.Fatalf("%q is not %d wide", row, width)
			}
		}
	})
}

// A line that falls stands high at the left and low at the right.
func TestPlotShowsTheShape(t *testing.T) {
	rows := Plot([]float64{0, 1}, []float64{3, 0}, 4)
	first, last := []rune(rows[0]), []rune(rows[len(rows)-1])
	if first[0] == '⠀' || first[3] != '⠀' || last[0] != '⠀' || last[3] == '⠀' {
		t.Errorf("got\n%s", strings.Join(rows, "\n"))
	}
}

// A step that is worked again because of a "no" is named once.
func TestRestartNamesItsStepOnce(t *testing.T) {
	n := engine.Notice{Kind: engine.Restart, Titles: []string{"Take the test cut"}, Text: "Measure again: Take the test cut."}
	got := strings.Join(Voice{}.Lay(Voice{}.Told(n)), "\n")
	if want := "No, so once more: take the test cut."; got != want {
		t.Errorf("it says %q, want %q", got, want)
	}
}

// Leaves are no higher than the screen, all that is said is on one of them, in
// order, and what is asked is whole on the last.
func TestLeaves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, most int) Screen {
			var s Screen
			for i := range rapid.IntRange(0, most).Draw(t, name) {
				text := fmt.Sprintf("%s%d and a few more words to fill it", name, i)
				if rapid.IntRange(0, 5).Draw(t, "gap") == 0 {
					text = ""
				}
				s = append(s, Line{Text: text})
			}
			return s
		}
		a := Asked{Head: draw("head", 12), Body: draw("body", 40), Ask: say("What now?"), Options: []Option{{Label: "one"}, {Label: "two"}}}
		rows := rapid.IntRange(8, 40).Draw(t, "rows")
		v := Voice{Width: rapid.IntRange(24, 80).Draw(t, "width")}
		leaves := v.Leaves(a, rows)
		all := ""
		for i, leaf := range leaves {
			if len(leaf) > rows {
				t.Fatalf("leaf %d has %d rows of %d:\n%s", i+1, len(leaf), rows, strings.Join(leaf, "\n"))
			}
			all += strings.Join(leaf, " ") + " "
			if more := strings.Contains(strings.Join(leaf, " "), "There is more"); more != (i < len(leaves)-1) {
				t.Fatalf("leaf %d of %d says that there is more: %v", i+1, len(leaves), more)
			}
		}
		if last := strings.Join(leaves[len(leaves)-1], "\n"); !strings.HasSuffix(last, "What now?\n 1  one\n 2  two") {
			t.Fatalf("the last leaf ends\n%s", last)
		}
		at := 0
		for _, l := range append(append(Screen(nil), a.Head...), a.Body...) {
			word, _, _ := strings.Cut(l.Text, " ")
			n := strings.Index(all[at:], word)
			if n < 0 {
				t.Fatalf("%q is on no leaf, or not in its place:\n%s", word, all)
			}
			at += n
		}
	})
}
