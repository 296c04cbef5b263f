package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// asked is a question by the unit it is in; "/inch" behind it makes an inch
// run.
func asked(unit string) Context {
	name, inch := strings.CutSuffix(unit, " /inch")
	return Context{
		Unit: mustLookup(name), Inch: inch, Division: 0.01,
		Plus: []string{"towards the operator"}, Minus: []string{"away from the operator"},
	}
}

func TestParseOneValue(t *testing.T) {
	tests := []struct {
		in, text string
		want     float64 // base units
		unit     string
		has      bool
	}{
		// As people type them in a metric run.
		{"mm", "20.011", 20.011, "mm", false},
		{"mm", "0.003mm", 0.003, "mm", true},
		{"mm", "3 µm", 0.003, "um", true},
		{"mm", "3 μm", 0.003, "um", true}, // the Greek letter
		{"mm", "3um", 0.003, "um", true},
		{"mm", "3 UM", 0.003, "um", true},
		{"mm", ".1 thou", 0.00254, "thou", true},
		{"mm", "0.1thou", 0.00254, "thou", true},
		{"mm", "1/64 in", 0.396875, "inch", true},
		{"mm", "1/64in", 0.396875, "inch", true},
		{"mm", "1 1/2 in", 38.1, "inch", true},
		{"mm", "1-1/2 in", 38.1, "inch", true},
		{"mm", "-1-1/2 in", -38.1, "inch", true},
		{"mm", `1 1/2"`, 38.1, "inch", true},
		{"mm", `5' 6"`, 66 * 25.4, "inch", true},
		{"mm", "1/2", 0.5, "mm", false},
		{"mm", "0,17", 0.17, "mm", false},
		{"mm", ",5", 0.5, "mm", false},
		{"mm", "5.", 5, "mm", false},
		{"mm", "1,234", 1.234, "mm", false},
		{"mm", "+3", 3, "mm", false},
		{"mm", "-1", -1, "mm", false},
		{"mm", "−1", -1, "mm", false}, // U+2212
		{"mm", "–1", -1, "mm", false}, // U+2013
		{"mm", "-0", 0, "mm", false},
		{"mm", "2.5e-3", 0.0025, "mm", false},
		{"mm", "1.5E+01 mm", 15, "mm", true},
		{"mm", "1.5e−1", 0.15, "mm", false},
		{"mm", "5 div", 0.05, "div", true},
		{"mm", "3 divisions", 0.03, "div", true},
		{"mm", "-2.5div", -0.025, "div", true},
		{"mm", "2 tenths of a thou", 0.00508, "tenth_thou", true},
		{"mm", "2 tenth thou", 0.00508, "tenth_thou", true},
		{"mm", "2 tenth_thou", 0.00508, "tenth_thou", true},
		{"mm", "  3.2  ", 3.2, "mm", false},
		{"mm", "3\u00a0mm", 3, "mm", true},
		{"um", "3", 0.003, "um", false},
		// In an inch run.
		{"mm /inch", "1.2538", 31.84652, "inch", false},
		{"mm /inch", "31.847 mm", 31.847, "mm", true},
		{"mm /inch", "1.2 tenths", 0.003048, "tenth_thou", true},
		{"mm /inch", "2 mil", 0.0508, "thou", true},
		{"mm /inch", "1/8", 3.175, "inch", false},
		{"um /inch", "1.1", 0.02794, "thou", false},
		{"um/m /inch", "0.5", 1e-3 / 24, "thou/foot", false},
		{"celsius /inch", "20", 20, "celsius", false},
		// Angles.
		{"arcsec", `1°26'16"`, math.Pi * 5176 / 648000, "arcsec", true},
		{"arcsec", `1°26′16″`, math.Pi * 5176 / 648000, "arcsec", true},
		{"arcsec", `1° 26' 16"`, math.Pi * 5176 / 648000, "arcsec", true},
		{"arcsec", `1 deg 26 arcmin 16 arcsec`, math.Pi * 5176 / 648000, "arcsec", true},
		{"arcsec", `-1°26'16,5"`, -math.Pi * 5176.5 / 648000, "arcsec", true},
		{"arcsec", `26' 16"`, math.Pi * 1576 / 648000, "arcsec", true},
		{"arcsec", `26’ 16”`, math.Pi * 1576 / 648000, "arcsec", true},
		{"arcsec", `16''`, math.Pi * 16 / 648000, "arcsec", true},
		{"arcsec", `1°16"`, math.Pi * 3616 / 648000, "arcsec", true},
		{"arcsec", "26 minutes", math.Pi * 1560 / 648000, "arcmin", true},
		{"arcsec", "12", math.Pi * 12 / 648000, "arcsec", false},
		{"deg", "180", math.Pi, "deg", false},
		{"deg", "2 mrad", 0.002, "mrad", true},
		// Slopes.
		{"um/m", "20", 2e-5, "um/m", false},
		{"um/m", "0.02 mm/m", 2e-5, "mm/m", true},
		{"um/m", "0.02mm / m", 2e-5, "mm/m", true},
		{"um/m", "0.02 mm per m", 2e-5, "mm/m", true},
		{"um/m", "0.03 mm/300 mm", 1e-4, "mm/300mm", true},
		{"um/m", "0.0005 in/ft", 0.0005 / 12, "inch/foot", true},
		{"%", "80", 0.8, "%", false},
		{"%", "80 %", 0.8, "%", true},
		{"1", "0.5", 0.5, "1", false},
		// Temperatures.
		{"celsius", "20", 20, "celsius", false},
		{"celsius", "68 °F", 20, "fahrenheit", true},
		{"celsius", "68F", 20, "fahrenheit", true},
		{"celsius", "-40 °F", -40, "fahrenheit", true},
		{"celsius", "20.5 °C", 20.5, "celsius", true},
		{"celsius", "20,5C", 20.5, "celsius", true},
		{"kelvin", "2", 2, "kelvin", false},
		{"kelvin", "2 °C", 2, "kelvin", true},
		{"kelvin", "9 °F", 5, "fahrenheit_degree", true},
		// The rest.
		{"min", "1 h 30 min", 5400, "min", true},
		{"min", "1h30min", 5400, "min", true},
		{"min", "90 s", 90, "s", true},
		{"N", "2.5 kN", 2.5e6, "kN", true},
		{"N", "10 lb", 44482.216152605, "lbf", true},
		{"kg", "10 lb", 4.5359237, "lb", true},
		{"newton_metre", "20 Nm", 2e7, "newton_metre", true},
		{"newton_metre", "20 N.m", 2e7, "newton_metre", true},
		{"mm2", "3 cm²", 300, "cm2", true},
		{"um/m/K", "11.5 µm/(m·K)", 11.5e-6, "um/m/kelvin", true},
	}
	for _, tt := range tests {
		got, err := ParseOne(tt.text, asked(tt.in))
		if err != nil {
			t.Errorf("%s: ParseOne(%q): %v", tt.in, tt.text, err)
			continue
		}
		want := Typed{Text: strings.Trim(tt.text, " "), Value: tt.want, HasUnit: tt.has}
		unit := got.Unit.Name
		got.Unit = Unit{}
		// Turned angles differ in the last bit: the expected value is rounded
		// more than once.
		if d := cmp.Diff(want, got, cmp.Comparer(near)); d != "" || unit != tt.unit {
			t.Errorf("%s: ParseOne(%q), in %s, want %s (-want +got)\n%s", tt.in, tt.text, unit, tt.unit, d)
		}
	}
}

func near(a, b float64) bool {
	return math.Abs(a-b) <= 2e-16*math.Abs(b) || a == b
}

func TestParseDirections(t *testing.T) {
	you := asked("mm")
	tests := []struct {
		name string
		c    Context
		text string
		want float64
		way  string
	}{
		{"the word", you, "0.03 away", -0.03, "away"},
		{"the other word", you, "0.03 towards", 0.03, "towards"},
		{"the beginning of a word", you, "0.03 toward", 0.03, "toward"},
		{"capitals", you, "0.03 AWAY", -0.03, "AWAY"},
		{"the phrase", you, "0.03 away from the operator", -0.03, "away from the operator"},
		{"the operator is you", you, "0.03 towards you", 0.03, "towards you"},
		{"you, the other way", you, "0.03 away from you", -0.03, "away from you"},
		{"with a unit", you, "30 um away", -0.03, "away"},
		{"with a unit that touches", you, "30um away", -0.03, "away"},
		{"with divisions", you, "3 div towards you", 0.03, "towards you"},
		{"with a fraction", you, "1/2 in away", -12.7, "away"},
		{"with feet and inches", you, "1 ft 2 in away", -14 * 25.4, "away"},
		{"a sign", you, "-0.03", -0.03, ""},
		{"a plus agrees with plus", you, "+0.03 towards", 0.03, "towards"},
		{"plus and minus are always known", Context{Unit: you.Unit}, "0.020 minus", -0.02, "minus"},
		{"plus", Context{Unit: you.Unit}, "0.020 plus", 0.02, "plus"},
		{"only plus is worded", Context{Unit: you.Unit, Plus: []string{"bar towards the operator"}}, "0.02 away", -0.02, "away"},
		{"only plus is worded, up", Context{Unit: you.Unit, Plus: []string{"bar up"}}, "0.02 down", -0.02, "down"},
		{"the words that differ", Context{
			Unit: you.Unit, Plus: []string{"nose end towards the operator"}, Minus: []string{"nose end away from the operator"},
		}, "0.02 nose end away", -0.02, "nose end away"},
		{"long phrases", Context{
			Unit: you.Unit, Plus: []string{"shim under the nose-end pads"},
			Minus: []string{"scrape off the nose-end pads, tapering to nothing at the rear"},
		}, "0.02 scrape", -0.02, "scrape"},
		{"a place is not a direction", Context{Unit: you.Unit, Plus: []string{"higher at the back"}}, "0.02 higher", 0.02, "higher"},
		{"turned with its place", Context{Unit: you.Unit, Plus: []string{"larger at the tailstock end"}}, "0.02 smaller", -0.02, "smaller"},
	}
	for _, tt := range tests {
		got, err := ParseOne(tt.text, tt.c)
		if err != nil {
			t.Errorf("%s: ParseOne(%q): %v", tt.name, tt.text, err)
			continue
		}
		if got.Value != tt.want || got.Way != tt.way || got.Text != tt.text {
			t.Errorf("%s: ParseOne(%q) = %+v, want %v %q", tt.name, tt.text, got, tt.want, tt.way)
		}
	}
}

// In a row, every value has a unit or none does; blanks or semicolons
// separate, a comma is decimal, a sign touches its number.
func TestRule16Rows(t *testing.T) {
	tests := []struct {
		in, text string
		want     []float64
	}{
		{"um", "0 3 4 6 3 3 1 2", []float64{0, 0.003, 0.004, 0.006, 0.003, 0.003, 0.001, 0.002}},
		{"um", "1um 2um 3um", []float64{0.001, 0.002, 0.003}},
		{"um", "1 um 2 um 3 um", []float64{0.001, 0.002, 0.003}},
		{"um", "1 um; 0.002 mm;3um", []float64{0.001, 0.002, 0.003}},
		{"mm", "20,153 20,152 20,153", []float64{20.153, 20.152, 20.153}},
		{"mm", "20.011; 20.012 ; 20.011;", []float64{20.011, 20.012, 20.011}},
		{"mm", "0 -1 +2 −3", []float64{0, -1, 2, -3}},
		{"mm", "1 div 2 div", []float64{0.01, 0.02}},
		{"mm", "0.03 away 0.02 towards", []float64{-0.03, 0.02}},
		{"mm", "1; 1/2", []float64{1, 0.5}},
		{"mm", "1 1/2 in 2 1/4 in", []float64{38.1, 57.15}},
		{"mm", "1\t2\u00a03", []float64{1, 2, 3}},
		{"arcsec", `10" 12" 1'`, []float64{10, 12, 60}},
		{"arcsec", `1' 5"; 1' 6"`, []float64{65, 66}},
		{"arcsec", `1'5" 1'6"`, []float64{65, 66}},
	}
	for _, tt := range tests {
		c := asked(tt.in)
		got, err := Parse(tt.text, c)
		if err != nil {
			t.Errorf("Parse(%q): %v", tt.text, err)
			continue
		}
		var values []float64
		for _, v := range got {
			if tt.in == "arcsec" {
				v.Value = math.Round(c.Unit.Of(v.Value))
			}
			values = append(values, v.Value)
		}
		if d := cmp.Diff(tt.want, values); d != "" {
			t.Errorf("Parse(%q) (-want +got)\n%s", tt.text, d)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	tests := []struct {
		in, text string
		kind     Trouble
		want     string
	}{
		{"mm", "", Empty, `nothing was typed; type a number in mm, such as 0.02 mm`},
		{"mm", " \t ", Empty, `nothing was typed; type a number in mm, such as 0.02 mm`},
		{"mm", "1.2 tenths", TwoMeanings, `1.2 tenths: "tenths" may mean 0.1 mm or 0.0001 inch; type 0.12 mm or 0.12 thou`},
		{"um", "-3 tenths", TwoMeanings, `-3 tenths: "tenths" may mean 0.1 mm or 0.0001 inch; type -0.3 mm or -0.3 thou`},
		{"mm", "2 mil", TwoMeanings, `2 mil: "mil" may mean 1 mm or 0.001 inch; type 2 mm or 2 thou`},
		{"mm", "2 thousandths", TwoMeanings, `2 thousandths: "thousandths" may mean 0.001 mm or 0.001 inch; type 0.002 mm or 2 thou`},
		{"arcsec", "2 tenths", WrongUnit, `2 tenths: that is a length, but an angle is asked for; type a number in seconds of angle, such as 20"`},
		{"mm", "3 kg", WrongUnit, `3 kg: that is a mass, but a length is asked for; type a number in mm, such as 0.02 mm`},
		{"mm", "5 min", WrongUnit, `5 min: that is a time, but a length is asked for; type a number in mm, such as 0.02 mm`},
		{"mm", "1°26'16\"", WrongUnit, `1°: that is an angle, but a length is asked for; type a number in mm, such as 0.02 mm`},
		{"um/m", "3 um", WrongUnit, `3 um: that is a length, but a ratio is asked for; type a number in µm/m, such as 20 um/m`},
		{"arcsec", "0.02 mm/m", WrongUnit, `0.02 mm/m: that is a ratio, but an angle is asked for; type a number in seconds of angle, such as 20"`},
		{"celsius", "293 K", WrongUnit, `293 K: that is a temperature difference, but a temperature is asked for; type a number in °C, such as 20 C`},
		{"um/m", "0.02/300", NotANumber, `0.02/300: its lengths have no units; type it like 0.02 mm/300 mm`},
		{"mm", "3 mmm", UnknownUnit, `3 mmm: no unit is called "mmm"; type mm if that is meant`},
		{"mm", "3 furlong", UnknownUnit, `3 furlong: no unit is called "furlong"; type a number in mm, such as 0.02 mm`},
		{"mm", "1 2 3 um", MixedUnits, `1 2 3 um: 3 um has a unit, 1 has none; give every value its unit, or none`},
		{"mm", "1 um 2", MixedUnits, `1 um 2: 1 um has a unit, 2 has none; give every value its unit, or none`},
		{"mm", "2 3 1/2 in", MixedUnits, `2 3 1/2 in: 3 1/2 in has a unit, 2 has none; give every value its unit, or none`},
		{"mm", "1 1/2", TwoMeanings, `1 1/2: it may be one value or two; type 1.5, or put a semicolon between two values`},
		{"mm", "--5", NotANumber, `--5: it has two signs; type one sign, or none`},
		{"mm", "+-5", NotANumber, `+-5: it has two signs; type one sign, or none`},
		{"mm", "- 5", Unfinished, `-: a sign stands alone; let the sign touch its number, as in -0.5`},
		{"mm", "-", Unfinished, `-: a sign stands alone; let the sign touch its number, as in -0.5`},
		{"mm", "1.234,5", TwoMeanings, `1.234,5: it has a point and a comma; type one decimal sign and no mark for thousands`},
		{"mm", "1,234.5", TwoMeanings, `1,234.5: it has a point and a comma; type one decimal sign and no mark for thousands`},
		{"mm", "1, 2, 3", NotANumber, `1,: a comma is a decimal sign here; put a blank or a semicolon between two values`},
		{"mm", "24.11.2026", NotANumber, `24.11.2026: it has two decimal signs; type a number in mm, such as 0.02 mm`},
		{"mm", "2026-11-24", NotANumber, `2026-11-24: "-" does not belong in a number; type a number in mm, such as 0.02 mm`},
		{"mm", "24/11/2026", NotANumber, `24/11/2026: it has two strokes; type a number in mm, such as 0.02 mm`},
		{"mm", "11/24", TwoMeanings, `11/24: a fraction without a unit; type 0.45833 mm, if that is meant`},
		{"mm", "1/0 in", NotANumber, `1/0: nothing can be divided by nought; type a number in mm, such as 0.02 mm`},
		{"mm", "1 9/8 in", NotANumber, `1 9/8: its fraction is not below one; type a number in mm, such as 0.02 mm`},
		{"mm", "12:30", NotANumber, `12:30: ":" does not belong in a number; type a number in mm, such as 0.02 mm`},
		{"mm", "1um2um", NotANumber, `1um2um: two values without a blank between them; put a blank or a semicolon between two values`},
		{"mm", "1;;2", NotANumber, `;;: nothing stands between the semicolons; type a number in mm, such as 0.02 mm`},
		{"mm", "hello", NotANumber, `hello: a number must come first; type a number in mm, such as 0.02 mm`},
		{"mm", "away 0.03", NotANumber, `away: a number must come first; type a number in mm, such as 0.02 mm`},
		{"mm", "NaN", NotANumber, `NaN: that is not a reading; type a number in mm, such as 0.02 mm`},
		{"mm", "-Inf", NotANumber, `-Inf: that is not a reading; type a number in mm, such as 0.02 mm`},
		{"mm", "1e400", TooLarge, `1e400: no reading has that many noughts; type a number in mm, such as 0.02 mm`},
		{"m", "3 km", UnknownUnit, `3 km: no unit is called "km"; type a number in m, such as 0.5 m`},
		{"mm", "1e-400", TooLarge, `1e-400: no reading has that many noughts; type a number in mm, such as 0.02 mm`},
		{"mm", strings.Repeat("1", 41), TooLong, strings.Repeat("1", 39) + `…: more figures than any instrument shows; type a number in mm, such as 0.02 mm`},
		{"mm", "0x10", UnknownUnit, `0x: no unit is called "x"; type a number in mm, such as 0.02 mm`},
		{"mm", "٣", NotANumber, `٣: a number must come first; type a number in mm, such as 0.02 mm`},
		{"mm", "1\x002", NotANumber, `there is a character in it that cannot be shown; type a number in mm, such as 0.02 mm`},
		{"mm", "\xff", NotANumber, `there is a character in it that cannot be shown; type a number in mm, such as 0.02 mm`},
		{"arcsec", "1° 75'", NotANumber, `1° 75': 60 or more minutes of angle make the next larger unit; type a number in seconds of angle, such as 20"`},
		{"arcsec", "1.5° 30'", TwoMeanings, `1.5° 30': only the last part may be broken, not 1.5; type a number in seconds of angle, such as 20"`},
		{"arcsec", "1°26", NotANumber, `1°26: two values without a blank between them; put a blank or a semicolon between two values`},
		{"celsius", "5 div", NoDivisions, `5 div: no instrument with divisions is in use here; type a number in °C, such as 20 C`},
		{"mm", "0.03 operator", NoDirection, `0.03 operator: "operator" may be either direction; type 0.03 towards, or 0.03 away`},
		{"mm", "0.03 towards the headstock", NoDirection, `0.03 towards the headstock: "towards the headstock" is neither a unit nor a direction here; type 0.03 towards, or 0.03 away`},
		{"mm", "0.03 mm left", NoDirection, `0.03 mm left: "left" is neither a unit nor a direction here; type 0.03 mm towards, or 0.03 mm away`},
		{"mm", "-30um away", NoDirection, `-30um away: it has a sign and a direction; type 30um towards, or 30um away`},
		{"mm", "-0.03 away", NoDirection, `-0.03 away: it has a sign and a direction; type 0.03 towards, or 0.03 away`},
		{"mm", "+0.03 away", NoDirection, `+0.03 away: it has a sign and a direction; type 0.03 towards, or 0.03 away`},
		{"1", "x", NotANumber, `x: a number must come first; type a plain number, such as 0.5`},
	}
	for _, tt := range tests {
		got, err := Parse(tt.text, asked(tt.in))
		var pe *ParseError
		if !errors.As(err, &pe) {
			t.Errorf("%s: Parse(%q) = %v, %v; want a refusal", tt.in, tt.text, got, err)
			continue
		}
		if err.Error() != tt.want || pe.Kind != tt.kind || got != nil {
			t.Errorf("%s: Parse(%q) = %v, kind %d,\n%v; want kind %d,\n%s", tt.in, tt.text, got, pe.Kind, err, tt.kind, tt.want)
		}
	}
}

func TestParseAnyDimension(t *testing.T) {
	tests := []struct {
		text string
		want float64
		unit string
	}{
		{"500 mm", 500, "mm"}, {"0.02 mm/m", 2e-5, "mm/m"}, {"20 °C", 20, "celsius"}, {"3", 3, "1"},
		{"5 min", 300, "min"}, {`6"`, 152.4, "inch"}, {`1 ft 6"`, 457.2, "inch"},
	}
	for _, tt := range tests {
		got, err := ParseOne(tt.text, Context{Any: true})
		if err != nil || got.Value != tt.want || got.Unit.Name != tt.unit {
			t.Errorf("ParseOne(%q) = %+v, %v; want %v in %s", tt.text, got, err, tt.want, tt.unit)
		}
	}
	if got, err := Parse("2 tenths", Context{Any: true}); err == nil {
		t.Errorf("tenths of anything are %v", got)
	}
}

func TestParseWithoutDivisions(t *testing.T) {
	for _, division := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		_, err := Parse("5 div", Context{Unit: mustLookup("mm"), Division: division})
		var pe *ParseError
		if !errors.As(err, &pe) || pe.Kind != NoDivisions {
			t.Errorf("with a division of %v: %v", division, err)
		}
	}
}

// A finite number whose value in base units is not finite is refused too.
func TestParseOverflow(t *testing.T) {
	got, err := Parse("1e100 div", Context{Unit: mustLookup("mm"), Division: 1e300})
	var pe *ParseError
	if !errors.As(err, &pe) || pe.Kind != TooLarge {
		t.Errorf("got %v, %v; want a refusal", got, err)
	}
}

func TestParseOneRefusesRows(t *testing.T) {
	_, err := ParseOne("1 234.5", asked("mm"))
	const want = "1 234.5: that is 2 values, but one is asked for; type a number in mm, such as 0.02 mm"
	if err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// Where one value is wanted, a whole number and a fraction are one value.
func TestParseOneIsWanted(t *testing.T) {
	for _, tt := range []struct {
		text string
		inch bool
		want float64 // mm
	}{
		{"5 3/8", true, 5.375 * 25.4},
		{"-5 3/8", true, -5.375 * 25.4},
		{"1 1/2", false, 1.5},
		{"1 1/2 in", false, 38.1},
	} {
		c := asked("mm")
		c.Inch, c.One = tt.inch, true
		got, err := Parse(tt.text, c)
		if err != nil || len(got) != 1 || !near(got[0].Value, tt.want) {
			t.Errorf("Parse(%q) = %+v, %v; want %g mm", tt.text, got, err, tt.want)
		}
	}
}

func TestParseTooMuch(t *testing.T) {
	for _, text := range []string{strings.Repeat("1 ", maxValues+1), strings.Repeat("x", maxText+1), strings.Repeat("1 ", maxText)} {
		_, err := Parse(text, asked("mm"))
		var pe *ParseError
		if !errors.As(err, &pe) || pe.Kind != TooLong {
			t.Errorf("%d bytes: %v", len(text), err)
		}
	}
	if got, err := Parse(strings.Repeat("1 ", maxValues), asked("mm")); err != nil || len(got) != maxValues {
		t.Errorf("a long row: %d values, %v", len(got), err)
	}
}

func TestParseErrorSentences(t *testing.T) {
	tests := []struct {
		text string
		want []string
	}{
		{"1.2 tenths", []string{`"Tenths" may mean 0.1 mm or 0.0001 inch.`, "Type 0.12 mm or 0.12 thou."}},
		{"3 kg", []string{"That is a mass, but a length is asked for.", "Type a number in mm, such as 0.02 mm."}},
		{"1 2 um", []string{"2 um has a unit, 1 has none.", "Give every value its unit, or none."}},
	}
	for _, tt := range tests {
		_, err := Parse(tt.text, asked("mm"))
		var pe *ParseError
		if !errors.As(err, &pe) {
			t.Fatalf("Parse(%q): %v", tt.text, err)
		}
		if d := cmp.Diff(tt.want, pe.Sentences()); d != "" {
			t.Errorf("Parse(%q) (-want +got)\n%s", tt.text, d)
		}
	}
}

// The place of the trouble is where the odd character or word begins.
func TestParseErrorPlace(t *testing.T) {
	tests := []struct {
		text, at string
	}{
		{"1 2 x", "x"}, {"20.1 20.2 3 kg", "kg"}, {"1 --5", "--5"}, {"1 2,3.4", ".4"}, {"1 2:3", ":3"},
	}
	for _, tt := range tests {
		_, err := Parse(tt.text, asked("mm"))
		var pe *ParseError
		if !errors.As(err, &pe) {
			t.Fatalf("Parse(%q): %v", tt.text, err)
		}
		if got := tt.text[pe.At:]; got != tt.at {
			t.Errorf("Parse(%q): trouble at %q, want %q", tt.text, got, tt.at)
		}
	}
}
