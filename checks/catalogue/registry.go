package catalogue

import (
	"slices"
	"strings"
)

// functions is every function, sorted by name. It is made once and never
// changed.
var functions = register([]theme{
	{"Readings and numbers", slices.Concat(samples(), ordered(), arithmetic())},
	{"Form of lines, planes and turns", slices.Concat(profiles(), detrended(), turns(), plates())},
	{"References proved by turning them round", reversals()},
	{"Levels and ways", levels()},
	{"Turning and tapers", turned()},
	{"Spindle, headstock, tailstock", aligned()},
	{"Weight, heat and instruments", elastics()},
	{"Scraping and blue", scraping()},
	{"Limits and standard tables", slices.Concat(tolerances(), tables())},
	{"How well values are known", statistics()},
	{units, literals()},
})

// units is the theme of the functions that write numbers with their unit.
const units = "Numbers with units"

// theme is what some functions are about.
type theme struct {
	name      string
	functions []*Func
}

// Themes lists what the functions are about, in the order of a reference.
func Themes() []string {
	return []string{
		"Readings and numbers", "Form of lines, planes and turns", "References proved by turning them round", "Levels and ways",
		"Turning and tapers", "Spindle, headstock, tailstock", "Weight, heat and instruments", "Scraping and blue",
		"Limits and standard tables", "How well values are known", units,
	}
}

func register(themes []theme) []*Func {
	var all []*Func
	for _, t := range themes {
		for _, f := range t.functions {
			f.Theme = t.name
			f.Kinked, f.KinkedIn = slices.Contains(kinked, f.Name), kinkedIn[f.Name]
			f.NonNegative = slices.Contains(nonNegative, f.Name)
			f.KeepsSign = slices.Contains(keepsSign, f.Name)
			f.Turns = f.Name == "high_spot"
			if t.name == units { // nought on the scales of these two is no bound
				f.KeepsSign = !slices.Contains([]string{"celsius", "fahrenheit"}, f.Name)
			}
			all = append(all, f)
		}
	}
	slices.SortFunc(all, func(a, b *Func) int { return strings.Compare(a.Name, b.Name) })
	for i := 1; i < len(all); i++ {
		if all[i].Name == all[i-1].Name {
			panic("catalogue: " + all[i].Name + " is registered twice")
		}
	}
	return all
}

// All returns every function, sorted by name.
func All() []*Func { return slices.Clone(functions) }

// Lookup returns the function with that name; ok tells whether there is one.
func Lookup(name string) (f *Func, ok bool) {
	i, ok := slices.BinarySearchFunc(functions, name, func(f *Func, name string) int {
		return strings.Compare(f.Name, name)
	})
	if !ok {
		return nil, false
	}
	return functions[i], true
}
