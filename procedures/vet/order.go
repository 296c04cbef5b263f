package vet

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"waywright/procedures"
	"waywright/procedures/direction"
	"waywright/procedures/source"
)

// quantities are words for what is read; behind them a place is named by one
// of the prepositions.
var (
	quantities = []string{"diameter", "radius", "length", "height", "width", "depth", "distance", "thickness", "size", "gap", "play", "angle", "slope", "tilt",
		"lean", "runout", "run-out", "reading", "temperature", "mass", "weight", "force", "torque", "pressure", "speed", "number", "movement", "travel", "clearance"}
	prepositions = []string{"of", "at", "in", "on", "between", "from", "over", "under", "across", "along", "near", "behind", "above", "below"}
)

// placeFirst warns of a question that names what is read before where.
func (v *vetting) placeFirst(in string, block source.Range, p procedures.Text, text string) {
	ws := strings.Fields(strings.ToLower(text))
	if len(ws) < 3 || !slices.Contains(prepositions, ws[1]) {
		return
	}
	if !slices.Contains(quantities, ws[0]) && !slices.Contains(quantities, strings.TrimSuffix(ws[0], "s")) {
		return
	}
	what, where := strings.Fields(text)[0], strings.Join(strings.Fields(text)[2:], " ")
	for _, article := range []string{"the ", "its ", "a ", "an "} {
		where = strings.TrimPrefix(where, article)
	}
	v.say("W614", in, block, p.At(), "The hand is at the place before the eye is on the scale, so the place is named first. Write, for example, %q.", upper(where)+": "+strings.ToLower(what))
}

func upper(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// partWords is how many words may name the part in front of its direction:
// "free end high", "marked end of the vial down".
const partWords = 5

// directionFirst warns of words for a way that stand behind others.
func (v *vetting) directionFirst(in string, block source.Range, p procedures.Text, text string) {
	ws := strings.Fields(text)
	if len(ws) <= partWords {
		return
	}
	if at := firstWay(ws); at > partWords {
		v.say("W615", in, block, p.At(), "The way stands behind %d other words, and who stands at the machine acts on the first ones. Begin with it: %q.", at, strings.Join(ws[at:], " "))
	}
}

// firstWay is the place of the first word that says a way, or −1.
func firstWay(ws []string) int {
	return slices.IndexFunc(ws, func(w string) bool {
		w = strings.ToLower(strings.TrimFunc(w, func(r rune) bool { return !unicode.IsLetter(r) }))
		if slices.Contains(ways, w) && w != "of" {
			return true
		}
		_, turns := direction.Opposite(w)
		return turns
	})
}
