package quantity

import (
	"strconv"
	"strings"
	"sync"
)

// plainUnits are the units that a plain answer may have: written in one word,
// with a factor that only moves the point.
var plainUnits = sync.OnceValue(func() map[string]Unit {
	out := map[string]Unit{}
	for _, e := range entries {
		u := e.Unit
		one := !strings.ContainsFunc(u.Name, func(r rune) bool { return r < 'a' || r > 'z' })
		if one && e.offset == nil && u.Offset == 0 && !u.Point && (u.Factor == 1 || u.tens() != 0) {
			out[u.Name] = u
		}
	}
	return out
})

// plainly reads what most answers are: one decimal of at most fifteen figures, a
// blank and the question's own unit. It gives what the parser gives; ok is false
// for everything else.
func plainly(text string, c Context) (t Typed, ok bool) {
	figure, word, ok := strings.Cut(text, " ")
	if !ok || c.Inch || len(c.Plus)+len(c.Minus) > 0 || len(figure) > 15 {
		return Typed{}, false
	}
	u, ok := plainUnits()[word]
	if !ok || u != c.Unit {
		return Typed{}, false
	}
	points, digits := 0, 0
	for i := range len(figure) {
		switch ch := figure[i]; {
		case ch >= '0' && ch <= '9':
			digits++
		case ch == '.' && i > 0 && figure[i-1] != '-' && i < len(figure)-1:
			points++
		case ch == '-' && i == 0:
		default:
			return Typed{}, false
		}
	}
	v, err := strconv.ParseFloat(figure, 64)
	if err != nil || points > 1 || digits == 0 {
		return Typed{}, false
	}
	if v == 0 {
		v = 0 // without a sign
	}
	return Typed{Text: text, Value: u.Base(v), Unit: u, HasUnit: true}, true
}
