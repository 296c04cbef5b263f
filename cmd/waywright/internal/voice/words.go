package voice

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"waywright/procedures/direction"
)

// You says to the person what a procedure says about the operator: "towards
// the operator" becomes "towards you". Records keep the procedure's words.
func You(s string) string {
	return youWords.Replace(s)
}

var youWords = strings.NewReplacer(
	"the operator's", "your", "The operator's", "Your", "THE OPERATOR'S", "YOUR",
	"the operator", "you", "The operator", "You", "THE OPERATOR", "YOU",
)

// polar returns the shortest words for plus and minus: "high" and "low" of
// "free end high", "towards you" and "away from you" of "bar towards the
// operator". ok is false where s has no word that is known to have an
// opposite.
func polar(positive string) (plus, minus string, ok bool) {
	against, ok := direction.Opposite(positive)
	if !ok {
		return "", "", false
	}
	p, m := strings.Fields(positive), strings.Fields(against)
	i := 0
	for i < len(p)-1 && i < len(m)-1 && p[i] == m[i] {
		i++
	}
	switch p[i] {
	case "towards", "toward", "away", "nearer", "further":
		p, m = p[i:], m[i:]
	case "headstock", "tailstock", "in", "out":
		// "larger at the tailstock end" goes no shorter.
	default:
		p, m = p[i:i+1], m[i:i+1]
	}
	return You(uptoColon(p)), You(uptoColon(m)), true
}

// uptoColon joins words as far as the first that ends a part of a sentence: a
// colon comes before what it means for the machine, as in "front high: the head
// nods".
func uptoColon(words []string) string {
	for i, w := range words {
		if strings.ContainsAny(w[len(w)-1:], ":;") {
			words = words[:i+1]
			break
		}
	}
	return strings.TrimRight(strings.Join(words, " "), ",:;")
}

// index returns where word stands in s as a whole word, or −1.
func index(s, word string) int {
	for from := 0; ; {
		i := strings.Index(s[from:], word)
		if i < 0 {
			return -1
		}
		i += from
		before, _ := utf8.DecodeLastRuneInString(s[:i])
		after, _ := utf8.DecodeRuneInString(s[i+len(word):])
		if !unicode.IsLetter(before) && !unicode.IsLetter(after) {
			return i
		}
		from = i + 1
	}
}

// shown are the words that stand in capitals where a mistake of place or
// direction costs metal.
var shown = []string{
	"headstock-end", "tailstock-end", "headstock", "tailstock", "front", "rear", "top", "bottom",
	"near", "far", "up", "down", "high", "low", "fat", "thin", "left", "right", "inner", "outer",
	"towards you", "away from you",
}

// Mark puts the words for places and directions in capitals.
func Mark(s string) string {
	for _, w := range shown {
		for from := 0; from < len(s); {
			i := index(s[from:], w)
			if i < 0 {
				break
			}
			i += from
			s = s[:i] + strings.ToUpper(s[i:i+len(w)]) + s[i+len(w):]
			from = i + len(w)
		}
	}
	r, n := utf8.DecodeRuneInString(s)
	for _, w := range shown { // at the beginning of a sentence
		capital := string(unicode.ToUpper(rune(w[0]))) + w[1:]
		if n > 0 && unicode.IsUpper(r) && index(s, capital) == 0 {
			return strings.ToUpper(capital) + s[len(capital):]
		}
	}
	return s
}

// lowerFirst returns s as it goes on within a sentence.
func lowerFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	next, _ := utf8.DecodeRuneInString(s[n:])
	if unicode.IsUpper(next) || unicode.IsDigit(next) { // M-3, PASS
		return s
	}
	return string(unicode.ToLower(r)) + s[n:]
}

// Capital returns s as it begins a sentence.
func Capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// Sentence gives s a capital and a full stop.
func Sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return ""
	}
	r, n := utf8.DecodeRuneInString(s)
	s = string(unicode.ToUpper(r)) + s[n:]
	if strings.ContainsAny(s[len(s)-1:], ".?:") {
		return s
	}
	return s + "."
}

// question gives s a question mark.
func question(s string) string {
	return strings.TrimRight(strings.TrimSpace(s), "?.:") + "?"
}

// name turns an identifier into words.
func name(s string) string { return strings.ReplaceAll(s, "_", " ") }

// list joins words as a sentence has them.
func list(s []string) string {
	switch len(s) {
	case 0:
		return ""
	case 1:
		return s[0]
	}
	return strings.Join(s[:len(s)-1], ", ") + " and " + s[len(s)-1]
}

// times returns "1 take", "2 takes".
func times(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return number(n) + " " + many
}
