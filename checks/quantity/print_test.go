package quantity

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestFormat(t *testing.T) {
	tests := []struct {
		v        float64 // base units
		unit     string
		decimals int
		want     string
	}{
		{0.003, "mm", 3, "0.003 mm"},
		{0.003, "um", 0, "3 µm"},
		{0.003, "um", 1, "3.0 µm"},
		{-0.029, "mm", 3, "-0.029 mm"},
		{31.84652, "inch", 4, "1.2538 in"},
		{31.84652, "mm", 3, "31.847 mm"},
		{0.02794, "thou", 1, "1.1 thou"},
		{0.00508, "tenth_thou", 0, "2 tenths of a thou"},
		{20, "celsius", 1, "20.0 °C"},
		{20, "fahrenheit", 1, "68.0 °F"},
		{5, "fahrenheit_degree", 0, "9 °F"},
		{2, "kelvin", 0, "2 K"},
		{math.Pi, "deg", 0, "180°"},
		{math.Pi / 648000 * 12, "arcsec", 0, "12″"},
		{math.Pi / 10800 * 12, "arcmin", 1, "12.0′"},
		{0.8, "%", 0, "80 %"},
		{2e-5, "um/m", 0, "20 µm/m"},
		{2e-5, "1", 6, "0.000020"},
		{50000, "N", 0, "50 N"},
		{2e7, "newton_metre", 0, "20 N·m"},
		{10 * math.Pi / 648000 / 1000, "arcsec/m", 0, "10″/m"},
		// Halves go away from nought, alike in every unit.
		{0.0025, "mm", 3, "0.003 mm"},
		{0.0025, "um", 0, "3 µm"},
		{-0.0025, "um", 0, "-3 µm"},
		// There is no minus nought.
		{-0.0004, "mm", 3, "0.000 mm"},
		{math.Copysign(0, -1), "mm", 0, "0 mm"},
		{-4, "mm", -1, "0 mm"},
		// Tens and hundreds.
		{1234.5, "mm", -1, "1230 mm"},
		{1250, "mm", -2, "1300 mm"},
		// What is not a number stays words.
		{math.NaN(), "mm", 3, "not a number"},
		{math.Inf(1), "mm", 3, "no limit above"},
		{math.Inf(-1), "mm", 3, "no limit below"},
	}
	for _, tt := range tests {
		if got := Format(tt.v, mustLookup(tt.unit), tt.decimals); got != tt.want {
			t.Errorf("Format(%v, %s, %d) = %q, want %q", tt.v, tt.unit, tt.decimals, got, tt.want)
		}
	}
	if got, want := Number(-0.0291, mustLookup("mm"), 3), "-0.029"; got != want {
		t.Errorf("Number = %q, want %q", got, want)
	}
	page := Style{Minus: TrueMinus, Point: ","}
	if got, want := page.Format(-0.0291, mustLookup("mm"), 3), "−0,029 mm"; got != want {
		t.Errorf("Format = %q, want %q", got, want)
	}
}

func TestPlain(t *testing.T) {
	tests := []struct {
		v    float64
		unit string
		want string
	}{
		{0.003, "um", "3 µm"},
		{20.0113, "mm", "20.0113 mm"},
		{math.Nextafter(0.3, 1), "mm", "0.30000000000000004 mm"},
		{0.00762, "tenth_thou", "3 tenths of a thou"},
		{20, "fahrenheit", "68 °F"},
		{0, "um", "0 µm"},
		{1e-9, "mm", "0.000000001 mm"},
		{-2e-5, "um/m", "-20 µm/m"},
		{math.Inf(1), "mm", "no limit above"},
	}
	for _, tt := range tests {
		if got := Plain(tt.v, mustLookup(tt.unit)); got != tt.want {
			t.Errorf("Plain(%v, %s) = %q, want %q", tt.v, tt.unit, got, tt.want)
		}
	}
}

// JCGM 100:2008, 7.2.2 and 7.2.6: the uncertainty has at most two significant
// figures and the estimate is rounded to agree with it. The first case is the
// end gauge of H.1, the second the mass of 7.2.2; the rest are of our own.
func TestMeasureRule19Rounded(t *testing.T) {
	tests := []struct {
		y, U   float64 // base units
		unit   string
		ys, Us string
	}{
		{50.000838, 0.000093, "mm", "50.000838", "0.000093"},
		{0.10002147, 0.00079, "kg", "0.10002", "0.00079"},
		{0.04512, 0.0066, "mm", "0.0451", "0.0066"},
		{0.04512, 0.0066, "um", "45.1", "6.6"},
		{0.04512, 0.00995, "mm", "0.045", "0.010"},   // 0.0100 would be three figures
		{0.04512, 0.00994, "mm", "0.0451", "0.0099"}, //
		{0.04512, 0.0995, "mm", "0.05", "0.10"},
		{1234.5, 123, "mm", "1230", "120"},
		{1234.5, 995, "mm", "1200", "1000"},
		{-0.0004, 0.012, "mm", "0.000", "0.012"},
		{20.04, 0.5, "celsius", "20.04", "0.50"},
		{20, 0.5, "fahrenheit", "68.00", "0.90"}, // the difference of 0.5 K has no offset
		{0.0451, 0, "mm", "0.0451", "0"},
		{0.0451, math.NaN(), "mm", "0.0451", "0"},
	}
	for _, tt := range tests {
		ys, Us := Rounded(tt.y, tt.U, mustLookup(tt.unit))
		if ys != tt.ys || Us != tt.Us {
			t.Errorf("Rounded(%v, %v, %s) = %s, %s; want %s, %s", tt.y, tt.U, tt.unit, ys, Us, tt.ys, tt.Us)
		}
	}
}

func TestMeasureRule19RoundedToTheSamePlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := anyUnit().Draw(t, "unit")
		U := u.Difference().Base(math.Pow(10, rapid.Float64Range(-7, 4).Draw(t, "log U")))
		y := u.Base(rapid.Float64Range(-1e5, 1e5).Draw(t, "y"))
		ys, Us := Rounded(y, U, u)
		place := tenTo(-RoundedDecimals(U, u))
		off := new(big.Rat).Sub(ratio(ys), u.exact().of(decimal(y)))
		if off.Abs(off).Cmp(times(place, ratio("0.5"))) > 0 {
			t.Fatalf("Rounded(%v, %v, %s) = %s, %s: not to the nearest %s", y, U, u.Name, ys, Us, place.RatString())
		}
		n := over(ratio(Us), place)
		if !n.IsInt() || n.Cmp(ratio("10")) < 0 || n.Cmp(ratio("99")) > 0 {
			t.Fatalf("Rounded(%v, %v, %s): U is printed %s, to the place %s", y, U, u.Name, Us, place.RatString())
		}
	})
}

func TestDecimals(t *testing.T) {
	tests := []struct {
		unit string
		step float64 // base units
		want int
	}{
		{"mm", 0.001, 3},
		{"mm", 0.0005, 4},
		{"mm", 0.01, 2},
		{"mm", 0.25, 2},
		{"mm", 0.125, 3},
		{"mm", 0.012, 3},
		{"mm", 1, 0},
		{"mm", 25, 0},
		{"um", 0.001, 0},
		{"um", 0.0005, 1},
		{"inch", 0.00254, 4},   // 0.0001 inch
		{"inch", 0.0127, 4},    // 0.0005 inch
		{"mm", 0.00254, 3},     // 0.0001 inch in mm
		{"inch", 0.01, 4},      // 0.01 mm in inches: 0.00039
		{"thou", 0.001, 2},     // 1 µm is 0.039 thou
		{"fahrenheit", 0.5, 1}, // half a kelvin is 0.9 °F
		{"um/m", 2e-5, 0},
		{"mm", 0, 3},
		{"mm", math.NaN(), 3},
	}
	for _, tt := range tests {
		if got := Decimals(mustLookup(tt.unit), tt.step); got != tt.want {
			t.Errorf("Decimals(%s, %v) = %d, want %d", tt.unit, tt.step, got, tt.want)
		}
	}
}

// Neighbouring readings of an instrument never print alike.
func TestDecimalsTellStepsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := anyUnit().Draw(t, "unit")
		step := math.Pow(10, rapid.Float64Range(-6, 2).Draw(t, "log step"))
		n := rapid.IntRange(-1000, 1000).Draw(t, "steps")
		a, b := Natural(float64(n)*step, u, step), Natural(float64(n+1)*step, u, step)
		if a == b {
			t.Fatalf("%d and %d steps of %v both print %s", n, n+1, step, a)
		}
	})
}

func TestNatural(t *testing.T) {
	tests := []struct {
		v    float64
		unit string
		step float64
		want string
	}{
		{20.0113, "mm", 0.001, "20.011 mm"},
		{0.03, "mm", 0.01, "0.03 mm"},
		{31.84652, "inch", 0.00254, "1.2538 in"},
		{0.0291, "mm", 0, "0.029 mm"},
		{0.0291, "um", 0, "29.1 µm"},
		{2e-5, "um/m", 0, "20.0 µm/m"},
		{2e-5, "mm/m", 0, "0.0200 mm/m"},
	}
	for _, tt := range tests {
		if got := Natural(tt.v, mustLookup(tt.unit), tt.step); got != tt.want {
			t.Errorf("Natural(%v, %s, %v) = %q, want %q", tt.v, tt.unit, tt.step, got, tt.want)
		}
	}
}

func TestEnoughDigits(t *testing.T) {
	tests := []struct {
		name   string
		y      float64
		unit   string
		least  int
		limits []float64
		want   int
	}{
		{"far from the limit", 0.045, "mm", 3, []float64{0.017}, 3},
		{"just above", 0.01704, "mm", 3, []float64{0.017}, 5},
		{"just below", 0.01699, "mm", 3, []float64{0.017}, 5},
		{"at the limit", 0.017, "mm", 3, []float64{0.017}, 3},
		{"a limit with no end", 0.0167, "mm", 3, []float64{0.05 / 3}, 5},
		{"more digits may print alike again", 0.4999, "mm", 1, []float64{0.5001}, 4},
		{"between two limits", 0.0169, "mm", 3, []float64{-0.017, 0.017}, 4},
		{"no limit on one side", 0.0169, "mm", 3, []float64{math.Inf(-1), 0.017}, 4},
		{"the last bits prove nothing", math.Nextafter(0.3, 1), "mm", 3, []float64{0.3}, 3},
		{"beside nought", 1e-9, "mm", 3, []float64{0}, 9},
		{"in another unit", 0.01704, "um", 0, []float64{0.017}, 2},
		{"not a number", math.NaN(), "mm", 3, []float64{0.017}, 3},
	}
	for _, tt := range tests {
		if got := EnoughDigits(tt.y, mustLookup(tt.unit), tt.least, tt.limits...); got != tt.want {
			t.Errorf("%s: EnoughDigits(%v, %s, %d, %v) = %d, want %d", tt.name, tt.y, tt.unit, tt.least, tt.limits, got, tt.want)
		}
	}
}

func TestEnoughDigitsNeverContradict(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := anyUnit().Draw(t, "unit")
		limit := rapid.Float64Range(-100, 100).Draw(t, "limit")
		y := limit + math.Pow(10, rapid.Float64Range(-12, 1).Draw(t, "log off"))*float64(rapid.SampledFrom([]int{-1, 1}).Draw(t, "side"))
		least := rapid.IntRange(-2, 6).Draw(t, "least")
		d := EnoughDigits(y, u, least, limit)
		if d < least || d > 30 {
			t.Fatalf("%d decimals, at least %d were wanted", d, least)
		}
		py, _ := new(big.Rat).SetString(Number(y, u, d))
		pl, _ := new(big.Rat).SetString(Number(limit, u, d))
		if y != limit && math.Abs(y-limit) > 1e-13*math.Abs(limit) && py.Cmp(pl) != decimal(y).Cmp(decimal(limit)) {
			t.Fatalf("%v and %v print as %s and %s %s", y, limit, Number(y, u, d), Number(limit, u, d), u.Name)
		}
	})
}

func TestSexagesimal(t *testing.T) {
	tests := []struct {
		seconds  float64
		decimals int
		want     string
	}{
		{5176, 0, "1°26′16″"}, {5176.26, 1, "1°26′16.3″"}, {-5176, 0, "-1°26′16″"},
		{3599.96, 1, "1°0′0.0″"}, {0, 0, "0°0′0″"}, {-0.2, 0, "0°0′0″"}, {59.4, 0, "0°0′59″"},
	}
	sec := mustLookup("arcsec")
	for _, tt := range tests {
		got := Sexagesimal(sec.Base(tt.seconds), tt.decimals)
		if got != tt.want {
			t.Errorf("Sexagesimal of %v″ = %s, want %s", tt.seconds, got, tt.want)
		}
		back, err := ParseOne(got, Context{Unit: sec})
		if half := 0.5 * math.Pow10(-tt.decimals); err != nil || math.Abs(sec.Of(back.Value)-tt.seconds) > half+1e-9 {
			t.Errorf("ParseOne(%q) = %v″, %v; want %v", got, sec.Of(back.Value), err, tt.seconds)
		}
	}
}

// anyUnit draws a named unit or a compound.
func anyUnit() *rapid.Generator[Unit] {
	units := Units()
	for _, name := range compounds {
		units = append(units, mustLookup(name))
	}
	return rapid.SampledFrom(units)
}

// anyFigures draws a number as a person might type it.
func anyFigures() *rapid.Generator[string] {
	return rapid.StringMatching(`[+-]?([0-9]{1,7}|[0-9]{1,5}[.,][0-9]{1,6}|[.,][0-9]{1,6})(e-?[0-9])?`)
}

// Whatever is typed in any unit, by symbol or by name, is that value exactly,
// and printed in full it is read back as the same number.
func TestTypedIsExactAndPrintsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := anyUnit().Draw(t, "unit")
		c := Context{Unit: u}
		figures := anyFigures().Draw(t, "figures")
		text := rapid.SampledFrom([]string{
			figures + " " + u.Symbol, WithSymbol(figures, u), figures + " " + u.Name,
		}).Draw(t, "text")
		if u.Name == "1" {
			text = figures
		}
		got, err := ParseOne(text, c)
		if err != nil {
			t.Fatalf("ParseOne(%q): %v", text, err)
		}
		v, _ := strconv.ParseFloat(strings.Replace(figures, ",", ".", 1), 64)
		if got.Value != u.Base(v) || got.Unit != u || got.HasUnit != (u.Name != "1") {
			t.Fatalf("ParseOne(%q) = %+v, want %v %s", text, got, u.Base(v), u.Name)
		}
		printed := Plain(got.Value, u)
		again, err := ParseOne(printed, c)
		if err != nil || again.Value != got.Value || again.Unit != u {
			t.Fatalf("%q is %v; printed %q and read back as %+v, %v", text, got.Value, printed, again, err)
		}
	})
}

// Printing rounds once: what was printed and is read back prints the same.
func TestFormatIsAFixedPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := anyUnit().Draw(t, "unit")
		v := u.Base(rapid.Float64Range(-1e6, 1e6).Draw(t, "value"))
		d := rapid.IntRange(-3, 9).Draw(t, "decimals")
		style := rapid.SampledFrom([]Style{{}, {Minus: TrueMinus}, {Point: ","}}).Draw(t, "style")
		s := style.Format(v, u, d)
		back, err := ParseOne(s, Context{Unit: u})
		if err != nil {
			t.Fatalf("ParseOne(%q): %v", s, err)
		}
		if again := style.Format(back.Value, u, d); again != s {
			t.Fatalf("%v prints %q, read back %v prints %q", v, s, back.Value, again)
		}
		if digits := strings.Trim(s[:strings.IndexAny(s+" ", " °′″")], "0.,"); digits == "-" || digits == TrueMinus {
			t.Fatalf("%v prints %q", v, s)
		}
	})
}

// One size is one number, whatever unit it was typed in.
func TestUnitsAgreeExactly(t *testing.T) {
	chains := [][]struct {
		unit  string
		shift int // decimal places from the first
	}{
		{{"mm", 0}, {"um", 3}, {"nm", 6}, {"cm", -1}, {"m", -3}},
		{{"inch", 0}, {"thou", 3}, {"tenth_thou", 4}, {"microinch", 6}},
		{{"1", 0}, {"%", 2}, {"mm/m", 3}, {"um/m", 6}, {"ppm", 6}},
		{{"N", 0}, {"kN", -3}},
	}
	rapid.Check(t, func(t *rapid.T) {
		chain := rapid.SampledFrom(chains).Draw(t, "chain")
		n := rapid.IntRange(-99999, 99999).Draw(t, "n")
		want := math.NaN()
		for i, link := range chain {
			u := mustLookup(link.unit)
			text := strings.TrimSpace(fmt.Sprintf("%de%d %s", n, link.shift-4, u.Symbol))
			got, err := ParseOne(text, Context{Unit: mustLookup(chain[0].unit)})
			if err != nil {
				t.Fatal(err)
			}
			if i == 0 {
				want = got.Value
			}
			if got.Value != want {
				t.Fatalf("%s is %.17g, want %.17g", text, got.Value, want)
			}
		}
	})
}

// FuzzParse feeds whatever can be typed. What is taken is finite, of the right
// dimension, and printed in full it is read back as the same row; what is
// refused is refused in one line with a mend.
func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"", "20.011 20.012 20.011", "0,17", "3 µm", ".1 thou", "1.2 tenths", "1/64 in", "1 1/2 in",
		`1°26'16"`, "26' 16\"", "0.02 mm/m", "5 div", "68 °F", "+3", "-1", "−1", "--5", "1.234,5",
		"NaN", "1e400", "1e-400", "0.03 away", "0.03 towards you", "1 2 3 um", "1um;2um;3um;",
		"2026-11-24", "0.03 mm/300 mm", "1h30min", "5/K", "3 um/(m·K", "2 tenths of a thou", "5' 6 1/2\"",
	} {
		for which := range fuzzContexts {
			f.Add(s, uint8(which))
		}
	}
	f.Fuzz(func(t *testing.T, text string, which uint8) {
		c := fuzzContexts[int(which)%len(fuzzContexts)]
		got, err := Parse(text, c)
		if err != nil {
			checkRefusal(t, text, got, err)
			return
		}
		var printed []string
		for _, v := range got {
			if !finite(v.Value) || v.Unit.Dim != c.Unit.Dim || v.Unit.Point != c.Unit.Point {
				t.Fatalf("Parse(%q) takes %+v", text, v)
			}
			if v.Way != "" && !strings.HasSuffix(v.Text, v.Way) {
				t.Fatalf("Parse(%q): way %q of %q", text, v.Way, v.Text)
			}
			s := Plain(v.Value, v.Unit)
			if !v.HasUnit {
				s = Style{NoUnit: true}.Plain(v.Value, v.Unit)
			}
			printed = append(printed, s)
		}
		row := strings.Join(printed, "; ")
		again, err := Parse(row, c)
		if err != nil || len(again) != len(got) {
			t.Fatalf("Parse(%q) prints %q, which reads as %v, %v", text, row, again, err)
		}
		for i := range got {
			if got[i].Value != again[i].Value || got[i].Unit != again[i].Unit || got[i].HasUnit != again[i].HasUnit {
				t.Fatalf("Parse(%q): %+v prints %q and reads back as %+v", text, got[i], printed[i], again[i])
			}
		}
	})
}

var fuzzContexts = []Context{
	asked("mm"), asked("mm /inch"), asked("um"), asked("arcsec"), asked("um/m"), asked("%"),
	asked("celsius"), asked("kelvin"), asked("min"), asked("N"), asked("um/m/K"), {},
}

func checkRefusal(t *testing.T, text string, got []Typed, err error) {
	t.Helper()
	var pe *ParseError
	if !errors.As(err, &pe) || got != nil {
		t.Fatalf("Parse(%q) = %v, %v", text, got, err)
	}
	whole := strings.ContainsFunc(err.Error(), func(r rune) bool { return r < ' ' })
	if pe.Kind == 0 || pe.Wrong == "" || pe.Mend == "" || pe.At < 0 || pe.At > len(text) || whole {
		t.Fatalf("Parse(%q): %+v", text, pe)
	}
	for _, s := range pe.Sentences() {
		if !strings.HasSuffix(s, ".") {
			t.Fatalf("Parse(%q): %q is no sentence", text, s)
		}
	}
}

// FuzzLookup: what is found is found again under its own name and means the
// same; its UCUM code is there.
func FuzzLookup(f *testing.F) {
	for _, s := range append([]string{"µm/m", "mm/300 mm", "N·m", "", "1", "/", "(", "tenths", "mm^9", "m/m/m/m/m/m/m/m/m", nothing}, compounds...) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, name string) {
		u, err := Lookup(name)
		if err != nil {
			if u != (Unit{}) || strings.ContainsFunc(err.Error(), func(r rune) bool { return r < ' ' }) {
				t.Fatalf("Lookup(%q) = %v, %q", name, u, err)
			}
			return
		}
		if !finite(u.Factor) || !(u.Factor > 0) || u.UCUM == "" {
			t.Fatalf("Lookup(%q) = %+v", name, u)
		}
		if again, err := Lookup(u.Name); err != nil || again != u {
			t.Fatalf("Lookup(%q) is %+v; Lookup(%q) is %+v, %v", name, u, u.Name, again, err)
		}
	})
}

// nothing is a unit too small for a float64.
const nothing = "nm^9*nm^9*nm^9*nm^9*nm^9*nm^9*nm^9*nm^9"

// TestTrimNoughts: noughts of a power of ten count, those behind the point do
// not.
func TestTrimNoughts(t *testing.T) {
	for in, want := range map[string]string{
		"1.500": "1.5", "2.000": "2", "100": "100", "0": "0", "-0.020": "-0.02",
		"1.0000000000000000e+20": "1e+20", "1.2676506002282294e+30": "1.2676506002282294e+30", "-2.50e+100": "-2.5e+100",
		"no limit above": "no limit above", "not a number": "not a number",
	} {
		if got := TrimNoughts(in); got != want {
			t.Errorf("TrimNoughts(%q) = %q, want %q", in, got, want)
		}
	}
}
