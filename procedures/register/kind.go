package register

import (
	"slices"
	"strings"
	"unicode"
)

// SameKind tells whether a real instrument, by its kind in words, is of the
// kind that a procedure asks for. The two name the same thing, and neither
// says what the other does not allow: "outside micrometer" is a "micrometer",
// and "lever indicator" is a "lever indicator, 0.002 mm"; an "inside
// micrometer" is no "outside micrometer", a "dial indicator" no "micrometer".
//
// Sizes do not count, nor does what stands behind a comma or a word such as
// with or on. Where a shop has several words for one thing (clock, dial gauge,
// dial indicator) they are one: common practice.
func SameKind(real, asked string) bool {
	a, b := kindWords(real), kindWords(asked)
	if len(a) == 0 || len(b) == 0 {
		return strings.EqualFold(strings.TrimSpace(real), strings.TrimSpace(asked))
	}
	if a[len(a)-1] != b[len(b)-1] {
		return false
	}
	return within(a, b) || within(b, a)
}

// within tells whether all words of a stand in b too.
func within(a, b []string) bool {
	return !slices.ContainsFunc(a, func(w string) bool { return !slices.Contains(b, w) })
}

// Absolute tells whether an instrument of a kind shows the size itself, on a
// scale that cannot be set to nothing anywhere: a micrometer, a caliper, a
// thermometer. An indicator shows how far it is from where it was set.
func Absolute(kind string) bool {
	w := kindWords(kind)
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(x string) bool { return slices.Contains(w, x) })
	}
	switch {
	case has("micrometer", "caliper", "thermometer", "rule", "protractor", "height"):
		return true
	case has("indicator", "comparator", "probe", "level", "autocollimator", "laser"):
		return false
	}
	return true
}

// kindWords are the words that say what an instrument is, the noun last, each
// in one spelling.
func kindWords(kind string) []string {
	kind = strings.ToLower(kind)
	if i := strings.IndexAny(kind, ",;:("); i >= 0 {
		kind = kind[:i]
	}
	var out []string
words:
	for _, w := range strings.FieldsFunc(kind, func(r rune) bool { return unicode.IsSpace(r) || r == '-' || r == '–' }) {
		switch {
		case strings.ContainsFunc(w, unicode.IsDigit), slices.Contains(unitWords, w), slices.Contains(plainWords, w):
			continue
		case slices.Contains(joints, w):
			if len(out) > 0 {
				break words
			}
			continue
		}
		if s, ok := spellings[w]; ok {
			w = s
		}
		out = append(out, w)
	}
	return oneName(out)
}

// oneName gives an indicator one name, whatever the shop calls it.
func oneName(w []string) []string {
	n := len(w)
	if n == 0 {
		return w
	}
	has := func(x string) bool { return slices.Contains(w, x) }
	dialled := w[n-1] == "clock" || w[n-1] == "dti" || w[n-1] == "gauge" && (has("dial") || has("lever") || has("test") || has("plunger")) || w[n-1] == "dial"
	if dialled {
		dti := w[n-1] == "dti"
		if w[n-1] = "indicator"; dti {
			return append(w[:n-1], "lever", "indicator")
		}
		if n == 1 {
			return []string{"dial", "indicator"}
		}
	}
	if w[n-1] != "indicator" {
		return w
	}
	lever := has("lever") || has("test") || has("finger")
	var out []string
	for _, x := range w[:n-1] {
		switch {
		case x == "test" || x == "finger" || x == "lever" || x == "dial" && lever:
		case x == "plunger":
			out = append(out, "dial")
		default:
			out = append(out, x)
		}
	}
	if lever {
		out = append(out, "lever")
	}
	return append(slices.Compact(out), "indicator")
}

var (
	joints    = []string{"with", "on", "for", "of", "in", "at", "to", "from", "by", "and", "or", "under", "reading"}
	unitWords = []string{"mm", "um", "µm", "μm", "inch", "inches", "thou", "m", "cm", "mm/m", "um/m"}
	// plainWords say how an instrument shows what it reads, or how well: not
	// what it is.
	plainWords = []string{"a", "an", "the", "digital", "electronic", "analogue", "analog", "mechanical", "precision", "accurate", "good", "small", "large", "new", "old"}
	spellings  = map[string]string{
		"micrometre": "micrometer", "micrometers": "micrometer", "micrometres": "micrometer", "mike": "micrometer", "mic": "micrometer",
		"calliper": "caliper", "callipers": "caliper", "calipers": "caliper", "gage": "gauge", "indicators": "indicator",
		"external": "outside", "internal": "inside", "ruler": "rule",
	}
)
