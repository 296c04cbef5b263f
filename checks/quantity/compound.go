package quantity

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// unitExpr is a unit as it was written: factors with exponents.
type unitExpr struct {
	factors []unitFactor
	whole   string // the spelling without blanks, with · and / between the factors
	size    int    // bytes read
}

// unitFactor is one named unit of a product; a count stands before it in
// "mm/300mm".
type unitFactor struct {
	key   string
	exp   int // negative below the line
	count string
}

const maxFactors = 8

// scanUnit reads the longest unit expression at the start of s:
//
//	unit   = ["/"] factor { ("/" | "·" | "*" | "." | "-" | "per") factor }
//	factor = [figures] word [exponent]
//
// What follows a stroke may stand in brackets: "um/(m·K)". A size of 0 means
// that s does not begin with one. Words are not yet looked up.
func scanUnit(s string) unitExpr {
	var x unitExpr
	below, bracket := false, false
	pos := 0
	if c, n := operator(s); c == "/" {
		below, pos = true, n
		x.whole = "/"
	}
	if strings.HasPrefix(s, "1/") {
		below, pos = true, 2
		x.whole = "/"
	}
	for len(x.factors) < maxFactors {
		if below && !bracket && strings.HasPrefix(s[pos:], "(") {
			bracket = true
			pos++
		}
		f, n := scanFactor(s[pos:], below)
		if n == 0 {
			break
		}
		pos += n
		x.whole += f.count + f.key + raised(f.exp)
		if below {
			f.exp = -f.exp
		}
		x.factors = append(x.factors, f)
		if bracket && strings.HasPrefix(s[pos:], ")") {
			bracket = false
			pos++
		}
		x.size = pos
		op, n := operator(s[pos:])
		if n == 0 {
			break
		}
		pos += n
		if !bracket {
			below = op == "/"
		}
		x.whole += op
	}
	x.whole = strings.TrimRight(x.whole, "·/")
	if bracket {
		return unitExpr{}
	}
	return x
}

// narrow are the blanks that may stand within a unit.
const (
	narrow = " \t\u00a0\u2009\u202f"
	gap    = "[" + narrow + "]"
)

// operator reads what stands between two units and returns it as · or /.
// Blanks may stand round a stroke only; a sign or a point joins two units
// only where a letter follows, so that "1mm -2mm" stays two values.
func operator(s string) (op string, n int) {
	t := strings.TrimLeft(s, narrow)
	blanks := len(s) - len(t)
	behind, isPer := strings.CutPrefix(t, "per")
	rest := strings.TrimLeft(behind, narrow)
	switch {
	case isPer && blanks > 0 && len(rest) < len(behind):
		return "/", len(s) - len(rest)
	case strings.HasPrefix(t, "/"):
		rest := strings.TrimLeft(t[1:], narrow)
		return "/", len(s) - len(rest)
	case blanks > 0:
		return "", 0
	}
	r, n := utf8.DecodeRuneInString(s)
	next, _ := utf8.DecodeRuneInString(s[n:])
	if strings.ContainsRune("·⋅*.-", r) && unicode.IsLetter(next) {
		return "·", n
	}
	return "", 0
}

var (
	tenthsOf = regexp.MustCompile(`^(?i)tenths?(?:` + gap + `+of)?(?:` + gap + `+an?)?` + gap + `+thou(?:s|sandths?)?\b`)
	counted  = regexp.MustCompile(`^[1-9][0-9]{0,5}(?:\.[0-9]{1,6})?` + gap + `*`)
	exponent = regexp.MustCompile(`^(?:\^?[2-9]|[²³⁴⁵⁶⁷⁸⁹])`)
)

// scanFactor reads one named unit with its exponent.
func scanFactor(s string, below bool) (f unitFactor, n int) {
	f.exp = 1
	if below {
		f.count = strings.TrimRight(counted.FindString(s), narrow)
		n = len(counted.FindString(s))
	}
	key, k := unitWord(s[n:])
	if k == 0 {
		return f, 0
	}
	f.key = key
	n += k
	e := exponent.FindString(s[n:])
	next, _ := utf8.DecodeRuneInString(s[n+len(e):])
	if e != "" && !unicode.IsLetter(next) && !unicode.IsDigit(next) && isWord(key) {
		f.exp = int(normalFigures.Replace(strings.TrimPrefix(e, "^"))[0] - '0')
		n += len(e)
	}
	return f, n
}

var normalFigures = strings.NewReplacer("²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6", "⁷", "7", "⁸", "8", "⁹", "9")

// unitWord reads a word or sign that may be a unit and returns it in its
// usual spelling: the micro sign for the Greek letter, ' and " for primes.
func unitWord(s string) (key string, n int) {
	if m := tenthsOf.FindString(s); m != "" {
		return "tenth_thou", len(m)
	}
	for n < len(s) {
		r, w := utf8.DecodeRuneInString(s[n:])
		if !unicode.IsLetter(r) && (r != '_' || n == 0) {
			break
		}
		n += w
	}
	if n > 0 {
		return strings.ReplaceAll(s[:n], "μ", "µ"), n
	}
	r, w := utf8.DecodeRuneInString(s)
	next, v := utf8.DecodeRuneInString(s[w:])
	switch r {
	case '%':
		return "%", w
	case '°', 'º':
		after, _ := utf8.DecodeRuneInString(s[w+v:])
		if strings.ContainsRune("CFcf", next) && !unicode.IsLetter(after) {
			return "°" + strings.ToUpper(string(next)), w + v
		}
		return "°", w
	case '"', '″', '”':
		return `"`, w
	case '\'', '′', '’':
		if next == r {
			return `"`, w + v
		}
		return "'", w
	}
	return "", 0
}

// isWord tells a spelled unit from a sign.
func isWord(key string) bool {
	r, _ := utf8.DecodeRuneInString(key)
	return unicode.IsLetter(r)
}

// resolve finds the units of the expression. Where a spelling has several
// meanings, the first that gives a wanted unit is taken, or else the first.
func (x unitExpr) resolve(want func(Unit) bool) (exactUnit, error) {
	if c := candidates(x.whole, want); c != nil {
		pick := c[0]
		for _, i := range c {
			if want(entries[i].Unit) {
				pick = i
				break
			}
		}
		return exactUnit{entries[pick].Unit, entries[pick].factor, entries[pick].offset}, nil
	}
	if len(x.factors) == 1 && x.factors[0].count == "" && x.factors[0].exp == 1 {
		return exactUnit{}, unknownUnit(x.whole, want)
	}
	choices := make([][]int, len(x.factors))
	for i, f := range x.factors {
		c := candidates(f.key, func(Unit) bool { return true })
		for _, j := range c {
			if !entries[j].Point { // a slope of temperature is one of differences
				choices[i] = append(choices[i], j)
			}
		}
		if len(choices[i]) == 0 {
			return exactUnit{}, unknownUnit(f.key, want)
		}
	}
	u := x.choose(choices, want)
	if !(u.Factor > 1e-200 && u.Factor < 1e200) {
		return exactUnit{}, unknownUnit(x.whole, want)
	}
	return u, nil
}

// choose tries the meanings of the factors in turn, the last varying fastest.
func (x unitExpr) choose(choices [][]int, want func(Unit) bool) exactUnit {
	at := make([]int, len(choices))
	first := x.build(choices, at)
	for u, tries := first, 0; tries < 64; tries++ {
		if want(u.Unit) {
			return u
		}
		i := len(at) - 1
		for ; i >= 0; i-- {
			if at[i]++; at[i] < len(choices[i]) {
				break
			}
			at[i] = 0
		}
		if i < 0 {
			break
		}
		u = x.build(choices, at)
	}
	return first
}

// build multiplies the factors in their chosen meanings.
func (x unitExpr) build(choices [][]int, at []int) exactUnit {
	u := exactUnit{factor: big.NewRat(1, 1)}
	for i, f := range x.factors {
		e := entries[choices[i][at[i]]]
		under := f.exp < 0
		n := max(f.exp, -f.exp)
		for range n {
			if under {
				u.Dim, u.factor = u.Dim.Div(e.Dim), over(u.factor, e.factor)
			} else {
				u.Dim, u.factor = u.Dim.Mul(e.Dim), times(u.factor, e.factor)
			}
		}
		if f.count != "" {
			u.factor = over(u.factor, ratio(f.count))
		}
		op := ""
		switch {
		case under:
			op = "/"
		case i > 0:
			op = "*"
		}
		u.join(op, e.Unit, n, f.count)
	}
	u.Factor, _ = u.factor.Float64()
	return u
}

// join puts the unit, raised to n, at the end of the three spellings.
func (u *exactUnit) join(op string, v Unit, n int, count string) {
	digits := ""
	if n > 1 {
		digits = fmt.Sprint(n)
	}
	if op == "/" && u.Name == "" {
		u.Name = "1"
	}
	u.Name += op + count + v.Name + digits
	gap := ""
	if count != "" {
		gap = " "
	}
	u.Symbol += strings.Replace(op, "*", "·", 1) + count + gap + v.Symbol + raised(n)

	code := v.UCUM + digits
	if strings.ContainsAny(v.UCUM, "./{") {
		code = strings.Repeat("."+v.UCUM, n)[1:]
	}
	if count != "" {
		code = count + "." + code
	}
	if op == "/" && strings.ContainsAny(code, "./") {
		code = "(" + code + ")"
	}
	u.UCUM += strings.Replace(op, "*", ".", 1) + code
}

// The words that mean one length in a metric shop and another in an inch
// shop. They are asked back; see [Parse].
var twoMeanings = map[string]struct{ metric, inch, means string }{
	"tenth":       {"0.1 mm", "tenth_thou", "0.1 mm or 0.0001 inch"},
	"tenths":      {"0.1 mm", "tenth_thou", "0.1 mm or 0.0001 inch"},
	"thousandth":  {"0.001 mm", "thou", "0.001 mm or 0.001 inch"},
	"thousandths": {"0.001 mm", "thou", "0.001 mm or 0.001 inch"},
	"mil":         {"1 mm", "thou", "1 mm or 0.001 inch"},
	"mils":        {"1 mm", "thou", "1 mm or 0.001 inch"},
}

func unknownUnit(name string, want func(Unit) bool) *UnitError {
	if two, ok := twoMeanings[strings.ToLower(name)]; ok {
		return &UnitError{Name: name, Means: two.means}
	}
	return &UnitError{Name: name, Nearest: nearest(name, want)}
}
