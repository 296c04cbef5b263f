package compile

import (
	"iter"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"waywright/procedures/diagnose"
)

// nearest returns the name that is most likely meant by a word, or "".
func nearest(s string, names []string) string {
	return diagnose.Nearest(s, slices.Sorted(slices.Values(names)))
}

// suggest returns a sentence, with a blank before it, about what could have
// been meant; "" where nothing is to be said.
func (c *checker) suggest(s string, names iter.Seq[string]) string {
	all := slices.Sorted(names)
	if guess := nearest(s, all); guess != "" {
		return meant(guess)
	}
	if len(all) > 0 && len(all) <= 6 {
		return " There is " + list(all, "and") + "."
	}
	return ""
}

// list joins words as a sentence does: "a, b and c".
func list(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	n := len(words) - 1
	return strings.Join(words[:n], ", ") + " " + last + " " + words[n]
}

func lowerFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToLower(r)) + s[n:]
}
