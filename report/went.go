package report

import (
	"slices"
	"strings"
)

// ways are words by which a direction begins, with what they are called of
// something that moves.
var ways = map[string]string{
	"towards": "towards", "toward": "toward", "away": "away", "up": "up", "down": "down", "upwards": "upwards", "downwards": "downwards",
	"inwards": "inwards", "outwards": "outwards", "forwards": "forwards", "backwards": "backwards",
	"high": "higher", "higher": "higher", "low": "lower", "lower": "lower", "nearer": "nearer", "further": "further",
}

// comparing are words that say how something is, beside something else.
var comparing = []string{
	"larger", "smaller", "bigger", "fatter", "thinner", "thicker", "warmer", "colder", "steeper", "shallower",
	"longer", "shorter", "wider", "narrower", "tighter", "looser", "more", "less",
}

// mostSubject is of how many words the name of what moves is, at most.
const mostSubject = 3

// shift puts a change into words: who went, and how far which way. Of "free end
// towards the operator" the first is "The free end went", of "larger at the free
// end" it is "It became".
func (s sense) shift(n Number) (who, far string) {
	by := n.abs().WithUnit()
	if isNought(n.Text) {
		return "It changed by", by
	}
	if s.minus == "" {
		if n.Value < 0 {
			return "It went", "down by " + by
		}
		return "It went", "up by " + by
	}
	words := strings.Fields(s.way(n.Value))
	subject := 0 // where it begins: behind a comma or a colon
	for i, w := range words {
		way, ok := ways[w]
		switch {
		case ok && i == subject:
			who = "It went"
		case ok && i-subject <= mostSubject:
			who = "The " + strings.Join(words[subject:i], " ") + " went"
		case strings.ContainsAny(w, ",:;"):
			subject = i + 1
		}
		if who != "" {
			return who, strings.Join(slices.Concat([]string{by, way}, words[i+1:]), " ")
		}
	}
	way := strings.Join(words, " ")
	switch {
	case slices.Contains(comparing, words[0]):
		return "It became", by + " " + way
	case len(words) == 1:
		return "It became", by + " more " + way
	}
	return "It changed by", by + ", which is " + way
}
