// Package direction turns the words for one way into those for the other, so
// that a value below nothing can be told in words: "0.001 larger at the
// headstock end" instead of "−0.001 larger at the tailstock end".
//
// It knows the words of the shop only, and changes nothing else in a sentence.
package direction

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// pair is two words for opposite ways.
type pair struct{ a, b string }

// The pairs, by the order in which they are looked for: a sentence is turned
// by the first class that it has a word of. "The front way falls" turns by
// falling, not by the front; "towards the rear" turns by the rear.
var classes = [][]pair{
	{ // of comparing, and of up and down
		{"larger", "smaller"}, {"bigger", "smaller"}, {"large", "small"}, {"big", "small"},
		{"fatter", "thinner"}, {"fat", "thin"}, {"thicker", "thinner"}, {"thick", "thin"},
		{"higher", "lower"}, {"high", "low"}, {"raise", "lower"}, {"raised", "lowered"},
		{"rises", "falls"}, {"rise", "fall"}, {"rising", "falling"}, {"rises", "drops"}, {"rise", "drop"},
		{"up", "down"}, {"upwards", "downwards"}, {"upward", "downward"}, {"above", "below"},
		{"convex", "concave"}, {"crowned", "hollow"}, {"proud", "hollow"},
		{"deeper", "shallower"}, {"steeper", "shallower"}, {"steep", "shallow"},
		{"wider", "narrower"}, {"wide", "narrow"}, {"longer", "shorter"}, {"long", "short"},
		{"warmer", "colder"}, {"warm", "cold"}, {"tighter", "looser"}, {"tight", "loose"},
		{"more", "less"}, {"faster", "slower"}, {"ahead", "behind"}, {"opens", "closes"},
		{"nearer", "further"}, {"clockwise", "anticlockwise"},
	},
	{ // of place
		{"headstock", "tailstock"}, {"front", "rear"}, {"front", "back"}, {"left", "right"},
		{"top", "bottom"}, {"inside", "outside"}, {"inwards", "outwards"}, {"inward", "outward"},
		{"forwards", "backwards"}, {"forward", "backward"},
	},
	{ // of going
		{"towards", "away"}, {"toward", "away"},
	},
	{ // as the last word only: elsewhere they mean something else
		{"in", "out"}, {"plus", "minus"},
	},
}

const (
	placeClass = 1
	lastClass  = 3
)

// Opposite returns the words for the way opposite to that of words, such as
// "away from the operator" for "towards the operator". ok is false where there
// is no word in it that can be turned, or no value below nothing is possible.
func Opposite(words string) (other string, ok bool) {
	parts := split(words)
	if slices.ContainsFunc(parts, func(p string) bool { return word(p) == "never" || word(p) == "always" }) {
		return "", false
	}
	order := []int{0, 1, 2, 3}
	if betweenEnds(parts) {
		order = []int{placeClass}
	}
	for _, c := range order {
		if out, changed := turn(parts, c); changed {
			return out, true
		}
	}
	return "", false
}

// betweenEnds tells whether words compare the sizes at the two ends of a
// machine: then the other end is named, as a turner would.
func betweenEnds(parts []string) bool {
	has := func(ws ...string) bool {
		return slices.ContainsFunc(parts, func(p string) bool { return slices.Contains(ws, word(p)) })
	}
	return has("larger", "bigger", "fatter", "smaller", "thinner") && has("headstock", "tailstock")
}

func turn(parts []string, class int) (out string, changed bool) {
	parts = slices.Clone(parts)
	for i := range parts {
		if class == lastClass && i != len(parts)-1 {
			continue
		}
		w := word(parts[i])
		other := counterpart(w, class)
		if other == "" {
			continue
		}
		if w == "lower" && i+1 < len(parts) && word(parts[i+1]) == "the" {
			other = "raise" // an instruction
		}
		parts[i] = replace(parts[i], other)
		link(parts, i, w, other)
		changed = true
	}
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), " "), changed
}

// link mends the little word behind a turned one: away from, towards; nearer
// to, further from.
func link(parts []string, i int, was, now string) {
	last := i == len(parts)-1
	next := ""
	if !last {
		next = word(parts[i+1])
	}
	switch {
	case last:
	case now == "away" && next != "from":
		parts[i] += " from"
	case was == "away" && next == "from":
		parts[i+1] = ""
	case was == "nearer" && next == "to", was == "nearer" && next == "than":
		if next == "to" {
			parts[i+1] = replace(parts[i+1], "from")
		}
	case was == "nearer":
		parts[i] += " from"
	case was == "further" && next == "from":
		parts[i+1] = replace(parts[i+1], "to")
	}
}

func counterpart(w string, class int) string {
	for _, p := range classes[class] {
		switch w {
		case p.a:
			return p.b
		case p.b:
			return p.a
		}
	}
	return ""
}

func split(s string) []string { return strings.Fields(s) }

// word is the part of a blank-separated piece that is letters, in lower case.
func word(piece string) string {
	return strings.ToLower(strings.TrimFunc(piece, func(r rune) bool { return !unicode.IsLetter(r) }))
}

// replace puts a word in the place of the letters of piece, keeping what stands
// round them and a capital.
func replace(piece, by string) string {
	isLetter := func(r rune) bool { return unicode.IsLetter(r) }
	from := strings.IndexFunc(piece, isLetter)
	to := strings.LastIndexFunc(piece, isLetter)
	if from < 0 {
		return piece
	}
	_, size := utf8.DecodeRuneInString(piece[to:])
	if first, _ := utf8.DecodeRuneInString(piece[from:]); unicode.IsUpper(first) {
		r, n := utf8.DecodeRuneInString(by)
		by = string(unicode.ToUpper(r)) + by[n:]
	}
	return piece[:from] + by + piece[to+size:]
}
