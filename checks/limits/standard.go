package limits

import (
	_ "embed" // the table of limits
	"math"
	"slices"
	"strconv"

	"waywright/checks/internal/table"
)

//go:embed limits.csv
var limitsText string

var standard = readRows()

// row is a row of the table, its figures read.
type row struct {
	standard, test, grade string
	a, b, c               float64 // µm, µm/mm, µm/mm²
	per, lo, hi, step     float64 // mm; hi is infinite where there is none
	note, source          string
}

func readRows() []row {
	t := table.Parse(limitsText)
	var out []row
	for _, r := range t.Rows {
		x := row{
			standard: r["standard"], test: r["test"], grade: r["grade"],
			a: figure(r["a"], 0), b: figure(r["b"], 0), c: figure(r["c"], 0),
			per: figure(r["per"], 0), lo: figure(r["lo"], 0), hi: figure(r["hi"], math.Inf(1)), step: figure(r["step"], 0),
			note: r["note"], source: t.Source(r),
		}
		out = append(out, x)
	}
	return out
}

func figure(s string, empty float64) float64 {
	if s == "" {
		return empty
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic("limits: the table has " + strconv.Quote(s) + " for a figure")
	}
	return x
}

// Limit is a limit of a standard.
type Limit struct {
	Value  float64 // mm
	Per    float64 // mm, the length it is stated for; 0 where it is not stated for one
	Note   string  // which way it may be off, and what its size is
	Source string  // in words, also whether it is from memory
}

// Standard returns the limit that a standard has for a test in a grade, for
// that size in mm; ok tells whether there is one. Where the limit depends on
// no size, the size does not matter.
func Standard(standardName, test, grade string, size float64) (l Limit, ok bool) {
	for _, r := range standard {
		if r.standard != standardName || r.test != test || r.grade != grade {
			continue
		}
		if r.sized() && !(size > r.lo && size <= r.hi) {
			continue
		}
		x := size
		if r.step > 0 {
			x = r.step * math.Ceil(x/r.step*(1-1e-12))
		}
		um := r.a
		if r.sized() {
			um += x * (r.b + x*r.c)
		}
		return Limit{Value: um / 1000, Per: r.per, Note: r.note, Source: r.source}, true
	}
	return Limit{}, false
}

// sized tells whether a row depends on a size.
func (r row) sized() bool { return r.b != 0 || r.c != 0 || r.lo > 0 || !math.IsInf(r.hi, 1) }

// Sized tells whether a limit depends on a size.
func Sized(standardName, test, grade string) bool {
	return slices.ContainsFunc(standard, func(r row) bool {
		return r.standard == standardName && r.test == test && r.grade == grade && r.sized()
	})
}

// SourcesOf returns where the limits of a test in a grade are from.
func SourcesOf(standardName, test, grade string) []string {
	return each(func(r row) (string, bool) {
		return r.source, r.standard == standardName && r.test == test && r.grade == grade
	})
}

// Sources returns where the limits of a standard are from, each once.
func Sources(standardName string) []string {
	return each(func(r row) (string, bool) { return r.source, r.standard == standardName })
}

// Standards lists the standards that [Standard] knows.
func Standards() []string { return each(func(r row) (string, bool) { return r.standard, true }) }

// Tests lists the tests of a standard.
func Tests(standardName string) []string {
	return each(func(r row) (string, bool) { return r.test, r.standard == standardName })
}

// Grades lists the grades of a test.
func Grades(standardName, test string) []string {
	return each(func(r row) (string, bool) { return r.grade, r.standard == standardName && r.test == test })
}

// each lists what f gives for rows, once each, in the order of the table.
func each(f func(row) (string, bool)) []string {
	var out []string
	for _, r := range standard {
		if s, ok := f(r); ok && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}
