package value

import (
	"slices"
	"strings"

	"waywright/checks/quantity"
)

// NumberType is the type of a number with that dimension.
func NumberType(d quantity.Dim) Type { return Type{Kind: Number, Dim: d} }

// CountType is the type of a whole number without a unit.
func CountType() Type { return Type{Kind: Number, Count: true} }

// PointType is the type of a temperature.
func PointType() Type { return Type{Kind: Point} }

// TruthType is the type of what is true or false.
func TruthType() Type { return Type{Kind: Truth} }

// TextType is the type of a text; with words, of one of these.
func TextType(words ...string) Type { return Type{Kind: Text, Words: words} }

// TakesType is the type of repeated takes of elem, a number or a temperature.
func TakesType(elem Type) Type { return scalars(Takes, elem) }

// ZoneType is the type of a tolerance zone of elem, a number or a temperature.
func ZoneType(elem Type) Type { return scalars(Zone, elem) }

func scalars(k Kind, elem Type) Type {
	if elem.Kind == Point {
		return Type{Kind: k, Dim: quantity.TempDiff, Elem: &elem}
	}
	return Type{Kind: k, Dim: elem.Dim}
}

// NetType is the type of heights of that dimension over the points of a plane.
func NetType(d quantity.Dim) Type { return Type{Kind: Net, Dim: d} }

// ProfileType is the type of a profile of elem.
func ProfileType(elem Type) Type { return Type{Kind: Profile, Elem: &elem} }

// TurnType is the type of a turn of elem.
func TurnType(elem Type) Type { return Type{Kind: Turn, Elem: &elem} }

// ListType is the type of a list of elem.
func ListType(elem Type) Type { return Type{Kind: List, Elem: &elem} }

// KeyedType is the type of values elem by key.
func KeyedType(k Key, elem Type) Type { return Type{Kind: Keyed, Key: k, Elem: &elem} }

// Part is a part of an object, with its name.
type Part struct {
	Name string
	Type Type
}

// ObjectType is the type of values that belong together, by name.
func ObjectType(parts ...Part) Type {
	t := Type{Kind: Object}
	for _, p := range parts {
		t.Key.Words, t.Parts = append(t.Key.Words, p.Name), append(t.Parts, p.Type)
	}
	return t
}

// Part returns the type of the part of an object with that name; ok tells
// whether there is one.
func (t Type) Part(name string) (p Type, ok bool) {
	i := slices.Index(t.Key.Words, name)
	if t.Kind != Object || i < 0 {
		return Type{}, false
	}
	return t.Parts[i], true
}

// Collection tells whether values of type t have elements.
func (t Type) Collection() bool {
	return t.Kind == Profile || t.Kind == Turn || t.Kind == Keyed || t.Kind == List
}

// Scalar returns the type of one take or limit of t, which is Takes or Zone.
// Other types it returns as they are.
func (t Type) Scalar() Type {
	if t.Kind != Takes && t.Kind != Zone {
		return t
	}
	if t.Elem != nil {
		return *t.Elem
	}
	return NumberType(t.Dim)
}

// Mean returns the type that values of type t have once takes stand for their
// mean, inside collections too (semantics rule 7).
func (t Type) Mean() Type {
	switch {
	case t.Kind == Takes:
		return t.Scalar()
	case t.Collection() && t.Elem != nil:
		e := t.Elem.Mean()
		t.Elem = &e
	}
	return t
}

// Difference returns the type of the difference of two values of type t: of
// two temperatures it is a number. ok is false where nothing can be taken off.
func (t Type) Difference() (d Type, ok bool) {
	switch t.Kind {
	case Point:
		return NumberType(quantity.TempDiff), true
	case Number:
		return NumberType(t.Dim), true
	}
	return Type{}, false
}

// Equal tells whether two types are the same, words and keys included.
func (t Type) Equal(u Type) bool {
	if t.Kind != u.Kind || t.Dim != u.Dim || t.Count != u.Count || !slices.Equal(t.Words, u.Words) {
		return false
	}
	if t.Key.Name != u.Key.Name || t.Key.Count != u.Key.Count || !slices.Equal(t.Key.Words, u.Key.Words) {
		return false
	}
	if !slices.EqualFunc(t.Parts, u.Parts, Type.Equal) {
		return false
	}
	if t.Elem == nil || u.Elem == nil {
		return t.Elem == u.Elem
	}
	return t.Elem.Equal(*u.Elem)
}

// Join returns the type of a value that is of type t or of type u, as the
// elements of a list and the two branches of a conditional are. ok is false
// where they are not of one kind and dimension (semantics rule 6).
func (t Type) Join(u Type) (j Type, ok bool) {
	if t.Kind != u.Kind || t.Dim != u.Dim || t.Kind == Object && !t.Equal(u) {
		return Type{}, false
	}
	j = t
	j.Count = t.Count && u.Count
	if j.Words = nil; t.Words != nil && u.Words != nil {
		j.Words = union(t.Words, u.Words)
	}
	if t.Kind == Keyed {
		if t.Key.Count != u.Key.Count {
			return Type{}, false
		}
		if !slices.Equal(t.Key.Words, u.Key.Words) {
			j.Key.Words = nil
		}
	}
	if t.Elem == nil || u.Elem == nil {
		return j, t.Elem == u.Elem
	}
	e, ok := t.Elem.Join(*u.Elem)
	j.Elem = &e
	return j, ok
}

func union(a, b []string) []string {
	out := slices.Clone(a)
	for _, w := range b {
		if !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

// String says what values of type t are, with an article where one is wanted:
// "a length", "takes of a length", "a profile of lengths", "lengths keyed by
// seat", "one of large, small".
func (t Type) String() string {
	switch t.Kind {
	case Number:
		if t.Count {
			return "a whole number"
		}
		return t.Dim.String()
	case Point:
		return "a temperature"
	case Truth:
		return "true or false"
	case Text:
		switch len(t.Words) {
		case 0:
			return "a text"
		case 1:
			return "the word " + t.Words[0]
		}
		return "one of " + strings.Join(t.Words, ", ")
	case Takes:
		return "takes of " + t.Scalar().String()
	case Zone:
		return "limits of " + t.Scalar().String()
	case Net:
		return "heights over a plane, each " + t.Dim.String()
	case Profile, Turn, List:
		return "a " + t.plural(false)
	case Keyed:
		return t.plural(true)
	case Object:
		return "values that belong together (" + strings.Join(t.Key.Words, ", ") + ")"
	}
	return "nothing"
}

// plural says what many values of type t are; for a collection with many
// false, what one is, without its article.
func (t Type) plural(many bool) string {
	s := ""
	if many {
		s = "s"
	}
	switch t.Kind {
	case Number:
		if t.Count {
			return "whole numbers"
		}
		return plural(t.Dim)
	case Point:
		return "temperatures"
	case Truth:
		return "truths"
	case Text:
		return "texts"
	case Takes:
		return "takes of " + t.Scalar().plural(true)
	case Zone:
		return "limits of " + t.Scalar().plural(true)
	case Net:
		return "heights over planes"
	case Object:
		return "sets of values (" + strings.Join(t.Key.Words, ", ") + ")"
	case Profile, Turn, List:
		name := map[Kind]string{Profile: "profile", Turn: "turn", List: "list"}[t.Kind] + s
		if t.Elem == nil {
			return name
		}
		return name + " of " + t.Elem.plural(true)
	case Keyed:
		by := ""
		for t.Kind == Keyed && t.Elem != nil { // a table has several keys
			name := t.Key.Name
			if name == "" {
				name = "key"
			}
			by += map[bool]string{true: " keyed by ", false: " and "}[by == ""] + name
			t = *t.Elem
		}
		return t.plural(true) + by
	}
	return "nothing"
}
