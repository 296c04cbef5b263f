package quantity

import (
	"fmt"
	"slices"
	"strings"
)

// opposites are the direction words of the trade in pairs. Where a question
// has words for one sign only, the other word of the pair stands for the
// other sign.
var opposites = [][2]string{
	{"plus", "minus"}, {"towards", "away"}, {"up", "down"}, {"high", "low"},
	{"higher", "lower"}, {"above", "below"}, {"larger", "smaller"}, {"fatter", "thinner"},
	{"fat", "thin"}, {"left", "right"}, {"front", "rear"}, {"forward", "back"}, {"in", "out"},
	{"steeper", "shallower"}, {"steep", "shallow"}, {"warmer", "colder"}, {"raise", "lower"},
	{"clockwise", "anticlockwise"}, {"rising", "falling"},
}

// little words do not tell one direction from another.
var little = []string{"a", "an", "the", "of", "from", "to", "at", "on", "by", "and", "or", "is", "end", "side"}

// isDirection tells whether the next word is one of the directions.
func (p *parser) isDirection() bool {
	ws, _ := p.words()
	if len(ws) == 0 {
		return false
	}
	plus, minus := p.c.ways()
	return fits(ws[:1], plus) || fits(ws[:1], minus)
}

// direction reads the words behind a value that say which way it goes. It
// returns them as typed, and whether they mean minus.
func (p *parser) direction(n number, has bool, start int) (way string, minus bool, err error) {
	mark := p.pos
	ws, size := p.words()
	if len(ws) == 0 {
		return "", false, nil
	}
	at := p.pos
	typed := p.text[start : p.pos+size]
	shown := n.figure
	if has { // a count of divisions without its unit would be millimetres
		shown = strings.TrimSpace(strings.TrimLeft(p.text[start:mark], "+-−"))
	}
	plusWays, minusWays := p.c.ways()
	isPlus, isMinus := fits(ws, plusWays), fits(ws, minusWays)
	if isPlus == isMinus {
		wrong := fmt.Sprintf("%q is neither a unit nor a direction here", shorten(strings.Join(ws, " ")))
		if isPlus {
			wrong = fmt.Sprintf("%q may be either direction", shorten(strings.Join(ws, " ")))
		}
		return "", false, p.fail(NoDirection, at, typed, wrong, p.c.mendDirection(shown))
	}
	if n.sign < 0 || n.sign > 0 && isMinus {
		return "", false, p.fail(NoDirection, at, typed, "it has a sign and a direction", p.c.mendDirection(shown))
	}
	p.pos = mark + size
	return strings.TrimSpace(p.text[mark:p.pos]), isMinus, nil
}

// mendDirection shows how the two directions are typed behind a value.
func (c Context) mendDirection(size string) string {
	if len(c.Plus) == 0 && len(c.Minus) == 0 {
		return c.mend()
	}
	plus, minus := c.ways()
	return fmt.Sprintf("type %s %s, or %s %s", size, key(plus, minus), size, key(minus, plus))
}

// key returns the first word of the phrases that tells them from the others.
func key(phrases, others [][]string) string {
	for _, ph := range phrases {
		for i, w := range ph {
			if fits(ph[i:i+1], phrases) && !fits(ph[i:i+1], others) {
				return w
			}
		}
	}
	return ""
}

// ways returns the phrases of both signs as words, each set with what its
// opposites give the other.
func (c Context) ways() (plus, minus [][]string) {
	plus, minus = phrases(c.Plus), phrases(c.Minus)
	if len(minus) == 0 {
		minus = turned(plus)
	} else if len(plus) == 0 {
		plus = turned(minus)
	}
	plus = append(plus, []string{"plus"})
	minus = append(minus, []string{"minus"})
	return plus, minus
}

// phrases splits texts into words. "The operator" is the person who types,
// and may be called you.
func phrases(texts []string) [][]string {
	var out [][]string
	for _, t := range texts {
		ws := strings.FieldsFunc(strings.ToLower(t), func(r rune) bool {
			return strings.ContainsRune(" \t\n,;:.()", r)
		})
		if len(ws) == 0 {
			continue
		}
		out = append(out, ws)
		you := strings.Replace(strings.Join(ws, " "), "the operator", "you", 1)
		if other := strings.Fields(you); len(other) != len(ws) {
			out = append(out, other)
		}
	}
	return out
}

// turned returns the phrases with one direction word replaced by its
// opposite. Turning two would turn nothing: the front end high is the rear end
// low. Words after "at", "of" and their like tell a place, not a direction.
func turned(phrases [][]string) [][]string {
	var out [][]string
	for _, ph := range phrases {
		for i, w := range ph {
			if i > 0 && slices.Contains(places, w) {
				break
			}
			o := opposite(w)
			if o == "" {
				continue
			}
			other := slices.Clone(ph)
			other[i] = o
			if o == "away" {
				other = slices.Insert(other, i+1, "from")
			}
			out = append(out, other)
		}
	}
	return out
}

var places = []string{"at", "of", "in", "on", "under", "than", "by", "below", "above"}

func opposite(w string) string {
	for _, pair := range opposites {
		switch w {
		case pair[0]:
			return pair[1]
		case pair[1]:
			return pair[0]
		}
	}
	return ""
}

// fits tells whether the typed words occur in one of the phrases, in their
// order, and the first of them says something.
func fits(typed []string, phrases [][]string) bool {
	if slices.Contains(little, typed[0]) {
		return false
	}
	for _, ph := range phrases {
		i := 0
		for _, w := range ph {
			if i < len(typed) && sameWord(typed[i], w) {
				i++
			}
		}
		if i == len(typed) {
			return true
		}
	}
	return false
}

// sameWord tells whether the typed word is the other or a good part of its
// beginning. Three letters are too few: min is not minus.
func sameWord(typed, word string) bool {
	if typed == word || strings.TrimSuffix(typed, "s") == word {
		return true
	}
	return len(typed) >= 4 && spelt[typed] == nil && strings.HasPrefix(word, typed)
}
