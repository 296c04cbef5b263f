package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"waywright/checks/elastic"
	"waywright/checks/limits"
	"waywright/checks/quantity"
	"waywright/checks/turning"
	"waywright/checks/value"
)

// tables are the functions that look values up in standard tables.
func tables() []*Func {
	return []*Func{standardTaper(), standardLimit()}
}

func standardTaper() *Func {
	series := turning.TaperSeries()
	f := Func{
		Name: "standard_taper", Doc: "a standard taper: its ratio, half-angle, diameters at the gauge line and at the small end of the plug, the length between these, and the source",
		Params: []Param{
			{Name: "series", Doc: list(series)},
			{Name: "size", Doc: "its number; 4.5 for 4½"},
		},
		Source:  "tables of tapers; what a table does not state is not there",
		Example: Example{`standard_taper("morse", 3).half_angle`, "1.4377 deg", "1°26′16″ in tables that reproduce ISO 296"},
		Cite: func(a []value.Value) string {
			if len(a) < 2 {
				return ""
			}
			t, _ := turning.StandardTaper(a[0].Text, a[1].Num)
			return t.Source
		},
		Check: func(ts []value.Type) (value.Type, *ArgError) {
			err := oneOf(0, ts[0], series)
			if err == nil && (ts[1].Kind != value.Number || ts[1].Dim != quantity.Ratio) {
				err = wanted(1, ts[1], value.CountType())
			}
			return value.ObjectType(
				value.Part{Name: "ratio", Type: value.NumberType(quantity.Ratio)},
				value.Part{Name: "half_angle", Type: value.NumberType(quantity.Angle)},
				value.Part{Name: "gauge_diameter", Type: value.NumberType(quantity.Length)},
				value.Part{Name: "small_diameter", Type: value.NumberType(quantity.Length)},
				value.Part{Name: "length", Type: value.NumberType(quantity.Length)},
				value.Part{Name: "source", Type: value.TextType()},
			), err
		},
		Eval: func(a []value.Value) value.Value {
			t, ok := turning.StandardTaper(a[0].Text, a[1].Num)
			if !ok {
				sizes := fmt.Sprint(turning.TaperSizes(a[0].Text))
				return absent("there is no %s taper %g here; there are %s", strings.ReplaceAll(a[0].Text, "_", " "), a[1].Num, strings.Trim(sizes, "[]"))
			}
			stated := func(x float64, what string) value.Value {
				if x == 0 {
					return absent("the table does not state the %s of this taper", what)
				}
				return number(x)
			}
			return value.ObjectOf([]string{"ratio", "half_angle", "gauge_diameter", "small_diameter", "length", "source"}, []value.Value{
				number(t.Ratio), number(turning.HalfAngle(t.Ratio)), stated(t.GaugeDiameter, "gauge diameter"),
				stated(t.SmallDiameter, "small diameter"), stated(t.Length, "length"), value.Str(t.Source),
			})
		},
	}
	for _, s := range series {
		for _, size := range turning.TaperSizes(s) {
			t, _ := turning.StandardTaper(s, size)
			f.Tables = append(f.Tables, t.Source)
		}
	}
	f.Tables = once(f.Tables)
	return generic(f, false)
}

func standardLimit() *Func {
	standards := limits.Standards()
	f := Func{
		Name: "standard_limit", Doc: "a limit of a standard, the length that it is stated for, what to mind, and the source; scaled(…) takes it to another length",
		Params: []Param{
			{Name: "standard", Doc: list(standards)},
			{Name: "test", Kind: "a word", Doc: testsInWords()},
			{Name: "grade", Kind: "a word", Doc: gradesInWords()},
			{Name: "size", Doc: "the size that the limit goes by, where it does: length of a blade, diagonal of a plate, distance between centres", Optional: true},
		},
		Source:  "tables of standard limits",
		Example: Example{`standard_limit("din_875", "squareness", "0", mm(100)).limit`, "0.007 mm", "DIN 875-1, table in an extract on a public page"},
		Cite: func(a []value.Value) string {
			if len(a) < 3 {
				return ""
			}
			return strings.Join(once(limits.SourcesOf(a[0].Text, a[1].Text, a[2].Text)), "; ")
		},
		Check: checkLimit,
		Eval:  evalLimit,
	}
	for _, s := range standards {
		f.Tables = append(f.Tables, limits.Sources(s)...)
	}
	f.Tables = once(f.Tables)
	return generic(f, false)
}

// testsInWords lists the tests of every standard.
func testsInWords() string {
	var out []string
	for _, s := range limits.Standards() {
		out = append(out, s+": "+strings.Join(limits.Tests(s), ", "))
	}
	return "one of the standard's tests; " + strings.Join(out, "; ")
}

// gradesInWords lists the grades of every standard.
func gradesInWords() string {
	var out []string
	for _, s := range limits.Standards() {
		var grades []string
		for _, t := range limits.Tests(s) {
			grades = append(grades, limits.Grades(s, t)...)
		}
		out = append(out, s+": "+strings.Join(once(grades), ", "))
	}
	return "one of the test's grades; " + strings.Join(out, "; ")
}

var limitParts = []string{"limit", "per", "note", "source"}

func checkLimit(ts []value.Type) (value.Type, *ArgError) {
	gives := value.ObjectType(
		value.Part{Name: "limit", Type: value.NumberType(quantity.Length)},
		value.Part{Name: "per", Type: value.NumberType(quantity.Length)},
		value.Part{Name: "note", Type: value.TextType()},
		value.Part{Name: "source", Type: value.TextType()},
	)
	if err := oneOf(0, ts[0], limits.Standards()); err != nil {
		return gives, err
	}
	var tests, grades []string
	for _, s := range ts[0].Words {
		for _, t := range limits.Tests(s) {
			tests = append(tests, t)
			if ts[1].Kind == value.Text && (ts[1].Words == nil || slices.Contains(ts[1].Words, t)) {
				grades = append(grades, limits.Grades(s, t)...)
			}
		}
	}
	if err := oneOf(1, ts[1], once(tests)); err != nil {
		return gives, err
	}
	if err := oneOf(2, ts[2], once(grades)); err != nil {
		return gives, err
	}
	if len(ts) > 3 {
		return gives, length("size", "").check(3, ts[3])
	}
	return gives, nil
}

func evalLimit(a []value.Value) value.Value {
	standard, test, grade, size := a[0].Text, a[1].Text, a[2].Text, 0.0
	if len(a) > 3 {
		if size = a[3].Num; size <= 0 {
			return absent("the size must be above nothing")
		}
	} else if limits.Sized(standard, test, grade) {
		return absent("this limit goes by a size: give it as the last argument")
	}
	l, ok := limits.Standard(standard, test, grade, size)
	if !ok {
		return absent("%s has no limit of %s in grade %s for this size", standard, test, grade)
	}
	per := number(l.Per)
	if l.Per == 0 {
		per = absent("this limit is not stated for a length")
	}
	return value.ObjectOf(limitParts, []value.Value{number(l.Value), per, value.Str(l.Note), value.Str(l.Source)})
}

// expansionSources are where the coefficients of expansion are from.
func expansionSources() []string {
	var out []string
	for _, m := range elastic.Materials() {
		out = append(out, elastic.ExpansionSource(m))
	}
	return once(out)
}

// citeMaterial cites the coefficient of the material that an argument names.
func citeMaterial(i int) func([]value.Value) string {
	return func(a []value.Value) string {
		if i >= len(a) {
			return ""
		}
		return elastic.ExpansionSource(a[i].Text)
	}
}

// once returns words without those that stood before.
func once(words []string) []string {
	var out []string
	for _, w := range words {
		if !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}
