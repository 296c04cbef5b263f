package catalogue

import (
	"slices"
	"strings"
)

// functions is every function, sorted by name. It is made once and never
// changed.
var functions = register(
	literals(),
	samples(),
	ordered(),
	arithmetic(),
	profiles(),
	turns(),
	plates(),
	levels(),
	turned(),
	aligned(),
	elastics(),
	tolerances(),
	reversals(),
	scraping(),
	statistics(),
	tables(),
)

func register(groups ...[]*Func) []*Func {
	all := slices.Concat(groups...)
	for _, f := range all {
		f.Kinked, f.KinkedIn = slices.Contains(kinked, f.Name), kinkedIn[f.Name]
		f.NonNegative = slices.Contains(nonNegative, f.Name)
		f.KeepsSign = slices.Contains(keepsSign, f.Name)
	}
	for _, f := range groups[0] { // the units: mm, thou, deg
		f.KeepsSign = !slices.Contains([]string{"celsius", "fahrenheit"}, f.Name) // nought on their scales is no bound
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
