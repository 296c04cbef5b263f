package quantity

import (
	"fmt"
	"math/big"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// number is a number as it was typed.
type number struct {
	size   *big.Rat // without its sign
	sign   int      // −1, +1, or 0 where none was typed
	whole  bool     // only figures: no point, fraction or power
	over   bool     // a fraction: "1/64"
	mixed  bool     // with a blank, "1 1/2": two values unless a unit follows
	figure string   // the figures as a decimal or a fraction
	under  string   // of a fraction: what stands below the stroke
}

func (n number) signed() *big.Rat {
	if n.sign < 0 {
		return new(big.Rat).Neg(n.size)
	}
	return n.size
}

var (
	decimalNumber = regexp.MustCompile(`^(?:[0-9]+(?:\.[0-9]*|,[0-9]+)?|[.,][0-9]+)(?:[eE][+\-−]?[0-9]+)?`)
	fractionTail  = regexp.MustCompile(`^/([0-9]+)`)
	mixedTail     = regexp.MustCompile(`^(-| +)([0-9]+)/([0-9]+)`)
	onlyFigures   = regexp.MustCompile(`^[0-9]+$`)
)

// minusSigns are the signs that keyboards, gauges and documents write for
// minus.
const minusSigns = "-−–﹣－"

// number reads a number with its sign.
func (p *parser) number() (number, error) {
	start := p.pos
	var n number
	if r := p.peek(); r == '+' || strings.ContainsRune(minusSigns, r) {
		n.sign = -1
		if r == '+' {
			n.sign = 1
		}
		p.pos += utf8.RuneLen(r)
		if err := p.signTouches(start); err != nil {
			return n, err
		}
	}
	m := decimalNumber.FindString(p.rest())
	if m == "" {
		return n, p.notANumber(start)
	}
	p.pos += len(m)
	if err := p.oneDecimalSign(start, m); err != nil {
		return n, err
	}
	return p.finish(n, m, start)
}

// signTouches refuses "--5" and "- 5".
func (p *parser) signTouches(start int) error {
	r := p.peek()
	switch {
	case r == '+' || strings.ContainsRune(minusSigns, r) && p.pos < len(p.text):
		return p.fail(NotANumber, start, p.word(start), "it has two signs", "type one sign, or none")
	case p.pos == len(p.text) || isBlank(r):
		return p.fail(Unfinished, start, p.text[start:p.pos], "a sign stands alone", "let the sign touch its number, as in -0.5")
	}
	return nil
}

// notANumber reports what stands where a number should begin.
func (p *parser) notANumber(start int) error {
	word := p.word(start)
	r, size := utf8.DecodeRuneInString(p.text[start:])
	switch {
	case r == utf8.RuneError && size <= 1, !unicode.IsPrint(r):
		return p.fail(NotANumber, start, "", "there is a character in it that cannot be shown", "")
	case strings.EqualFold(strings.TrimLeft(word, "+-"), "nan"), strings.HasPrefix(strings.ToLower(strings.TrimLeft(word, "+-")), "inf"):
		return p.fail(NotANumber, start, word, "that is not a reading", "")
	}
	return p.fail(NotANumber, start, word, "a number must come first", "")
}

// oneDecimalSign refuses "1.234,5", "1.2.3" and "1,". The comma at the end is
// that of a list.
func (p *parser) oneDecimalSign(start int, m string) error {
	r := p.peek()
	if r != '.' && r != ',' {
		return nil
	}
	next, _ := utf8.DecodeRuneInString(p.rest()[1:])
	word := p.word(start)
	switch {
	case !strings.ContainsAny(m, ".,"), !unicode.IsDigit(next):
		return p.strange(p.pos)
	case strings.ContainsRune(m, r):
		return p.fail(NotANumber, p.pos, word, "it has two decimal signs", "")
	}
	return p.fail(TwoMeanings, p.pos, word, "it has a point and a comma", "type one decimal sign and no mark for thousands")
}

var asFigures = strings.NewReplacer(",", ".", "−", "-")

// finish makes the number of its figures, and reads the rest of a fraction.
func (p *parser) finish(n number, m string, start int) (number, error) {
	n.figure = asFigures.Replace(m)
	n.whole = onlyFigures.MatchString(m)
	if len(m) > maxFigures {
		return n, p.fail(TooLong, start, p.word(start), "more figures than any instrument shows", "")
	}
	f, err := strconv.ParseFloat(n.figure, 64)
	if err != nil || f > 1e300 || (f < 1e-300 && strings.ContainsAny(mantissa(n.figure), "123456789")) {
		return n, p.outOfThisWorld(start)
	}
	n.size = new(big.Rat)
	if f != 0 {
		n.size = ratio(n.figure)
	}
	if !n.whole {
		return n, nil
	}
	if t := mixedTail.FindStringSubmatch(p.rest()); t != nil && f != 0 {
		return p.fraction(n, t, start)
	}
	if t := fractionTail.FindStringSubmatch(p.rest()); t != nil {
		return p.fraction(n, []string{t[0], "", "", t[1]}, start)
	}
	return n, nil
}

func mantissa(s string) string {
	m, _, _ := strings.Cut(strings.ToLower(s), "e")
	return m
}

// fraction adds a fraction to the whole number n, or makes n its upper part.
// The tail is: all of it, the joint, the upper and the lower figures.
func (p *parser) fraction(n number, tail []string, start int) (number, error) {
	p.pos += len(tail[0])
	if len(tail[0]) > maxFigures {
		return n, p.fail(TooLong, start, p.word(start), "more figures than any instrument shows", "")
	}
	lower := ratio(tail[3])
	if lower.Sign() == 0 {
		return n, p.fail(NotANumber, start, p.word(start), "nothing can be divided by nought", "")
	}
	n.whole, n.over, n.under = false, true, tail[3]
	if tail[2] == "" {
		n.size = over(n.size, lower)
		n.figure += tail[0]
		return n, nil
	}
	part := over(ratio(tail[2]), lower)
	if part.Cmp(ratio("1")) >= 0 {
		return n, p.fail(NotANumber, start, p.text[start:p.pos], "its fraction is not below one", "")
	}
	n.mixed = tail[1] != "-"
	n.size = new(big.Rat).Add(n.size, part)
	return n, nil
}

// fractionIsPlain refuses fractions that are more likely a date or a ratio:
// without a unit only halves, quarters and so on are taken.
func (p *parser) fractionIsPlain(n number, u exactUnit, has bool, start int) error {
	if !n.over {
		return nil
	}
	if p.peek() == '/' {
		return p.fail(NotANumber, start, p.word(start), "it has two strokes", "")
	}
	switch n.under {
	case "2", "4", "8", "16", "32", "64", "128":
		return nil
	}
	if has {
		return nil
	}
	d := Usual(u.Unit) + 2
	return p.fail(TwoMeanings, start, p.text[start:p.pos], "a fraction without a unit",
		fmt.Sprintf("type %s, if that is meant", Format(u.Base(ratFloat(n.signed())), u.Unit, d)))
}

func ratFloat(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}
