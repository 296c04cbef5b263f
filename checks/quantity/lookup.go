package quantity

import (
	"fmt"
	"maps"
	"math/big"
	"slices"
	"strings"
	"unicode/utf8"
)

// The spellings of the named units, each with the numbers of the entries that
// it may mean, and the same in lower case.
var spelt, folded = indexSpellings()

func indexSpellings() (exact, lower map[string][]int) {
	exact, lower = map[string][]int{}, map[string][]int{}
	add := func(m map[string][]int, key string, i int) {
		if !slices.Contains(m[key], i) {
			m[key] = append(m[key], i)
		}
	}
	for i, e := range entries {
		for _, key := range append([]string{e.Name, e.Symbol}, e.aliases...) {
			add(exact, key, i)
			if utf8.RuneCountInString(key) > 1 {
				add(lower, strings.ToLower(key), i)
			}
		}
	}
	delete(exact, "") // the symbol of a plain number
	return exact, lower
}

// candidates returns what the spelling may mean. Capitals are forgiven where
// that leaves one meaning: MM is mm, but NM may be nm or N·m.
func candidates(key string, want func(Unit) bool) []int {
	if c := spelt[key]; c != nil {
		return c
	}
	c := folded[strings.ToLower(key)]
	if len(c) > 1 {
		c = slices.DeleteFunc(slices.Clone(c), func(i int) bool { return !want(entries[i].Unit) })
		if len(c) != 1 {
			return nil
		}
	}
	return c
}

// exactUnit is a unit with its exact factor; offset is nil but for points.
type exactUnit struct {
	Unit
	factor, offset *big.Rat
}

// A UnitError says that a name is not that of a unit.
type UnitError struct {
	Name    string
	Nearest string // the unit with the nearest spelling, or ""
	Means   string // what an ambiguous name may mean, or ""
}

func (e *UnitError) Error() string {
	switch {
	case e.Means != "":
		return fmt.Sprintf("unit %q may mean %s; write mm, um, thou or tenth_thou", e.Name, e.Means)
	case e.Nearest != "":
		return fmt.Sprintf("no unit is named %q; did you mean %q?", e.Name, e.Nearest)
	}
	return fmt.Sprintf("no unit is named %q; units are written like mm, um, arcsec, um/m, %%", e.Name)
}

// Lookup returns the unit of that name. A name is one of those of [Units] or
// another spelling of it, or a product or quotient of them: "um/m",
// "mm/300mm", "N*m", "mm2", "um/m/K". The error is a *[UnitError].
func Lookup(name string) (Unit, error) {
	e, err := lookup(strings.TrimSpace(name), func(Unit) bool { return true })
	return e.Unit, err
}

func lookup(name string, want func(Unit) bool) (exactUnit, error) {
	x := scanUnit(name)
	if name == "1" {
		x = unitExpr{whole: "1", size: 1}
	}
	if x.size == 0 || x.size != len(name) {
		return exactUnit{}, &UnitError{Name: name, Nearest: nearest(name, want)}
	}
	return x.resolve(want)
}

func mustLookup(name string) Unit {
	u, err := Lookup(name)
	if err != nil {
		panic("quantity: " + err.Error())
	}
	return u
}

// exact returns the exact factor and offset of the unit; those of a unit that
// is not from [Lookup] are the decimals that its Factor and Offset print as.
func (u Unit) exact() exactUnit {
	if i := slices.IndexFunc(entries, func(e entry) bool { return e.Unit == u }); i >= 0 {
		return exactUnit{u, entries[i].factor, entries[i].offset}
	}
	if strings.ContainsAny(u.Name, "/*23456789") {
		e, err := lookup(u.Name, func(v Unit) bool { return v.Dim == u.Dim })
		if err == nil && e.Unit == u {
			return e
		}
	}
	e := exactUnit{Unit: u, factor: decimal(u.Factor)}
	if u.Point {
		e.offset = decimal(u.Offset)
	}
	return e
}

// nearest returns the name of the unit with the most similar spelling, or ""
// when none is similar. Units that are wanted come first.
func nearest(name string, want func(Unit) bool) string {
	best, name := "", strings.ToLower(name)
	if name == "" || len(name) > 40 {
		return ""
	}
	least := 1 + min(2, utf8.RuneCountInString(name)/3)
	for _, wanted := range []bool{true, false} {
		for _, key := range slices.Sorted(maps.Keys(spelt)) {
			i := spelt[key][0]
			if j := slices.IndexFunc(spelt[key], func(i int) bool { return want(entries[i].Unit) }); j >= 0 {
				i = spelt[key][j]
			}
			if want(entries[i].Unit) != wanted || utf8.RuneCountInString(key) < 2 {
				continue
			}
			if d := distance(name, strings.ToLower(key)); d < least {
				best, least = entries[i].Name, d
			}
		}
		if best != "" {
			return best
		}
	}
	return ""
}

// distance returns how many letters must be put in, taken out, changed or
// swapped with their neighbour to make b of a.
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	var two []int // the row before the last
	last := make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i := range s {
		row := make([]int, len(t)+1)
		row[0] = i + 1
		for j := range t {
			cost := 1
			if s[i] == t[j] {
				cost = 0
			}
			row[j+1] = min(row[j]+1, last[j+1]+1, last[j]+cost)
			if i > 0 && j > 0 && s[i] == t[j-1] && s[i-1] == t[j] {
				row[j+1] = min(row[j+1], two[j-1]+1)
			}
		}
		two, last = last, row
	}
	return last[len(t)]
}
