package catalogue

import (
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
)

// numberDims are the dimensions that arguments have.
var numberDims = []quantity.Dim{quantity.Length, quantity.Ratio, quantity.Angle, quantity.TempDiff, quantity.Force, quantity.Time, filmDim}

// Kinds says for each parameter what it may be, in words: "a length", "a
// profile or a list of angles". It is found by asking Check, so that it cannot
// say anything else.
func (f *Func) Kinds() []string {
	lengths, angles := f.base(quantity.Length), f.base(quantity.Angle)
	out := make([]string, len(f.Params))
	for i, p := range f.Params {
		a, b := f.kind(lengths, i), f.kind(angles, i)
		switch {
		case p.Kind != "":
			out[i] = p.Kind
		case a == b:
			out[i] = a
		default:
			out[i] = sameDimension(a)
		}
	}
	return out
}

// Gives says what the function gives, in words.
func (f *Func) Gives() string {
	a, err := f.Check(f.base(quantity.Length))
	if err != nil {
		return ""
	}
	b, err := f.Check(f.base(quantity.Angle))
	if err == nil && a.Equal(b) {
		return a.String()
	}
	return sameDimension(a.String())
}

// sameDimension says of what depends on the other arguments that it does.
func sameDimension(kind string) string {
	kind = strings.ReplaceAll(kind, "lengths", "numbers of the same dimension")
	kind = strings.ReplaceAll(kind, "a ratio", "a number of the same dimension")
	return strings.ReplaceAll(kind, "a length", "a number of the same dimension")
}

// base returns types that the function takes, a number of dimension first
// where any is taken.
func (f *Func) base(first quantity.Dim) []value.Type {
	pool := kindPool(first)
	ts := make([]value.Type, len(f.Params))
	for i := range ts {
		for j := i; j < len(ts); j++ { // what comes behind is not looked at yet
			ts[j] = value.TruthType()
		}
		if words, ok := f.words(ts, i); ok {
			ts[i] = value.TextType(words[0])
			continue
		}
		for _, t := range pool {
			if ts[i] = t; f.fits(ts, i) {
				break
			}
		}
	}
	return ts
}

// fits tells whether the arguments up to i are taken.
func (f *Func) fits(ts []value.Type, i int) bool {
	_, err := f.Check(ts)
	return err == nil || err.Arg > i
}

// words returns the words of which an argument must be one.
func (f *Func) words(ts []value.Type, i int) (words []string, ok bool) {
	try := slices.Clone(ts)
	try[i] = value.TextType()
	_, err := f.Check(try)
	if err == nil || err.Arg != i {
		return nil, false
	}
	_, rest, ok := strings.Cut(err.What, "one of ")
	if !ok {
		return nil, false
	}
	list, _, ok := strings.Cut(rest, " is wanted")
	if !ok {
		return nil, false
	}
	for _, w := range strings.Split(list, ", ") {
		words = append(words, strings.Trim(w, `"`))
	}
	return words, true
}

func (f *Func) kind(base []value.Type, i int) string {
	ts := slices.Clone(base)
	if words, ok := f.words(ts, i); ok {
		return "one of " + list(words)
	}
	takes := func(t value.Type) bool {
		ts[i] = t
		return f.fits(ts, i)
	}
	out := scalarKinds(takes)
	for _, c := range collectionKinds(takes, f.Params[i].Takes) {
		if len(out) > 0 && strings.Count(c, ",") >= 2 {
			c = "a collection of these"
		}
		out = append(out, c)
	}
	if takes(value.NetType(quantity.Length)) {
		out = append(out, value.NetType(quantity.Length).String())
	}
	if len(out) == 0 {
		for _, t := range nested() {
			if takes(t) {
				out = append(out, t.String())
			}
		}
	}
	return or(out)
}

// or joins what may be.
func or(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// scalarKinds says which single numbers are taken.
func scalarKinds(takes func(value.Type) bool) (out []string) {
	for _, d := range numberDims {
		if takes(value.NumberType(d)) {
			out = append(out, d.String())
		}
	}
	switch {
	case len(out) == len(numberDims):
		out = []string{"a number of any dimension"}
	case len(out) == 0 && takes(value.CountType()):
		out = []string{"a whole number"}
	}
	if takes(value.PointType()) {
		out = append(out, "a temperature")
	}
	return out
}

// collections make a collection of an element.
var collections = []struct {
	name string
	make func(value.Type) value.Type
}{
	{"repeated takes", value.TakesType},
	{"a profile", value.ProfileType},
	{"a turn", value.TurnType},
	{"a list", value.ListType},
	{"values by key", func(e value.Type) value.Type { return value.KeyedType(value.Key{}, e) }},
}

// collectionKinds says which collections are taken, those of one sort of
// number together.
func collectionKinds(takes func(value.Type) bool, withTakes bool) (out []string) {
	var of []string
	names := map[string][]string{}
	for _, c := range collections {
		if c.name == "repeated takes" && !withTakes {
			continue // they stand for their mean
		}
		var dims []string
		for _, d := range numberDims {
			if takes(c.make(value.NumberType(d))) {
				dims = append(dims, strings.TrimPrefix(value.ListType(value.NumberType(d)).String(), "a list of "))
			}
		}
		if len(dims) == 0 {
			continue
		}
		what := " of " + or(dims)
		if len(dims) == len(numberDims) {
			what = ""
		}
		if names[what] == nil {
			of = append(of, what)
		}
		names[what] = append(names[what], c.name)
	}
	for _, what := range of {
		out = append(out, or(names[what])+what)
	}
	return out
}

// nested are kinds of which few functions take one.
func nested() []value.Type {
	length := value.NumberType(quantity.Length)
	by := func(name string, e value.Type) value.Type { return value.KeyedType(value.Key{Name: name}, e) }
	return []value.Type{
		by("line", value.ProfileType(value.NumberType(quantity.Ratio))), by("line", value.ProfileType(value.NumberType(quantity.Angle))),
		by("pad", value.ListType(length)),
		by("person", by("part", value.ListType(length))),
	}
}

// kindPool are types to begin with, the plainest first.
func kindPool(first quantity.Dim) []value.Type {
	dims := append([]quantity.Dim{first}, numberDims...)
	var pool []value.Type
	for _, d := range dims {
		pool = append(pool, value.NumberType(d))
	}
	pool = append(pool, value.CountType(), value.PointType())
	for _, c := range collections {
		for _, d := range dims {
			pool = append(pool, c.make(value.NumberType(d)))
		}
	}
	return append(append(pool, value.NetType(quantity.Length)), nested()...)
}
