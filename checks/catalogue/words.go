package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
)

// wanted says that argument i is of another type than the one it should have,
// and how that one is written.
func wanted(i int, have, want value.Type) *ArgError {
	return &ArgError{i, fmt.Sprintf("%s, but %s is wanted%s", is(have), want, howTo(want))}
}

// wantedWords is wanted, where many types will do.
func wantedWords(i int, have value.Type, want string) *ArgError {
	return &ArgError{i, is(have) + ", but " + want}
}

// is says what values of a type are, as the end of a sentence about one.
func is(t value.Type) string {
	if t.Kind == value.Keyed || t.Kind == value.Takes {
		return "holds " + t.String()
	}
	return "is " + t.String()
}

// howTo says how a value of a type is written, where that can be said.
func howTo(t value.Type) string {
	switch {
	case t.Kind == value.Point:
		return ": write celsius(…)"
	case t.Kind != value.Number:
		return ""
	case t.Count:
		return ", without a unit"
	}
	if t.Dim == quantity.Ratio {
		return ", such as um(20)/m(1), or tan(…) of an angle"
	}
	if t.Dim == quantity.Length {
		return ": write mm(…)"
	}
	if t.Dim == quantity.Angle {
		return ": write deg(…), or atan(…) of a ratio"
	}
	example := t.Dim.Example()
	if name, _, ok := strings.Cut(example, "("); ok && strings.Count(example, "(") == 1 {
		example = name + "(…)"
	}
	return ": write " + example
}

// oneOf refuses an argument that is not one of the words.
func oneOf(i int, t value.Type, words []string) *ArgError {
	if t.Kind != value.Text {
		return wantedWords(i, t, "one of "+list(words)+" is wanted")
	}
	if t.Words == nil {
		return &ArgError{i, "may be any text, but one of " + list(words) + " is wanted"}
	}
	for _, w := range t.Words {
		if !contains(words, w) {
			return &ArgError{i, fmt.Sprintf("is %q, but one of %s is wanted", w, list(words))}
		}
	}
	return nil
}

func contains(words []string, w string) bool { return slices.Contains(words, w) }

// list writes words with quotes: "outside", "bore".
func list(words []string) string {
	q := make([]string, len(words))
	for i, w := range words {
		q[i] = fmt.Sprintf("%q", w)
	}
	return strings.Join(q, ", ")
}
