package quantity

import (
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// wanted tells whether values in v answer the question.
func (p *parser) wanted(v Unit) bool {
	return p.c.Any || v.Dim == p.bare.Dim && v.Point == p.bare.Point
}

// unit reads the unit behind a number. Where there is none, the bare one is
// returned, and has is false.
func (p *parser) unit(n number, start int) (u exactUnit, has bool, err error) {
	mark := p.pos
	p.blanks()
	at := p.pos
	x := scanUnit(p.rest())
	if x.size == 0 || p.isDirection() && !p.isWanted(x) {
		p.pos = mark
		return p.bare.exact(), false, nil
	}
	p.pos += x.size
	typed := p.text[start:p.pos]
	if isDivision(x.whole) {
		u, err = p.division(typed, at)
		return u, true, err
	}
	if two, ok := twoMeanings[strings.ToLower(x.whole)]; ok {
		u, err = p.twoMeanings(n, typed, at, two.metric, two.inch, x.whole)
		return u, true, err
	}
	u, err = x.resolve(p.wanted)
	if err != nil {
		return u, false, p.unknown(err, typed, at)
	}
	if !p.wanted(u.Unit) {
		return u, false, p.fail(WrongUnit, at, typed,
			fmt.Sprintf("that is %s, but %s is asked for", u.What(), p.bare.What()), "")
	}
	return u, true, nil
}

func (p *parser) isWanted(x unitExpr) bool {
	u, err := x.resolve(p.wanted)
	return err == nil && p.wanted(u.Unit)
}

// unknown reports a word behind a number that is neither unit nor direction.
func (p *parser) unknown(err error, typed string, at int) error {
	var ue *UnitError
	if !errors.As(err, &ue) {
		return p.fail(UnknownUnit, at, typed, err.Error(), "")
	}
	if ue.Means != "" {
		return p.fail(TwoMeanings, at, typed, fmt.Sprintf("%q may mean %s", ue.Name, ue.Means), "")
	}
	mend := ""
	if ue.Nearest != "" {
		mend = fmt.Sprintf("type %s if that is meant", ue.Nearest)
	}
	return p.fail(UnknownUnit, at, typed, fmt.Sprintf("no unit is called %q", shorten(ue.Name)), mend)
}

func isDivision(word string) bool {
	switch strings.ToLower(word) {
	case "div", "divs", "division", "divisions":
		return true
	}
	return false
}

// division returns the unit of the scale of the bound instrument.
func (p *parser) division(typed string, at int) (exactUnit, error) {
	if !finite(p.c.Division) || p.c.Division <= 0 || p.bare.Point {
		return exactUnit{}, p.fail(NoDivisions, at, typed, "no instrument with divisions is in use here", "")
	}
	return p.c.divisionUnit().exact(), nil
}

func (c Context) divisionUnit() Unit {
	return Unit{Name: "div", Symbol: "div", UCUM: "{div}", Dim: c.Bare().Dim, Factor: c.Division}
}

// twoMeanings decides what a word like "tenths" means: in an inch run that of
// the inch shop; in a metric run it is asked back with both.
func (p *parser) twoMeanings(n number, typed string, at int, metric, inch, word string) (exactUnit, error) {
	if p.bare.Dim != Length && !p.c.Any {
		return exactUnit{}, p.fail(WrongUnit, at, typed,
			fmt.Sprintf("that is a length, but %s is asked for", p.bare.What()), "")
	}
	if p.c.Inch {
		return mustLookup(inch).exact(), nil
	}
	size, _, _ := strings.Cut(metric, " ")
	inMM := times(n.signed(), ratio(size))
	inThou := mustLookup("thou").exact().of(mustLookup(inch).exact().base(n.signed()))
	return exactUnit{}, p.fail(TwoMeanings, at, typed,
		fmt.Sprintf("%q may mean %s", word, twoMeanings[strings.ToLower(word)].means),
		fmt.Sprintf("type %s mm or %s thou", trimRat(inMM), trimRat(inThou)))
}

// link is a unit that may be followed by a smaller one in the same value, and
// how many of this one the next larger holds.
type link struct {
	name string
	of   int64
}

var chains = [][]link{
	{{"deg", 0}, {"arcmin", 60}, {"arcsec", 60}},
	{{"foot", 0}, {"inch", 12}},
	{{"day", 0}, {"h", 24}, {"min", 60}, {"s", 60}},
}

// chain reads the smaller parts of a value like 1°26'16", which have no signs
// of their own. It returns the size of the whole in its smallest unit.
func (p *parser) chain(n number, u exactUnit, start int) (*big.Rat, exactUnit, error) {
	total, last := n.size, n
	for {
		part, v, ok := p.nextLink(u.Unit)
		if !ok {
			break
		}
		if !last.whole {
			return nil, u, p.fail(TwoMeanings, start, p.text[start:p.pos],
				fmt.Sprintf("only the last part may be broken, not %s", last.figure), "")
		}
		if limit := linkOf(v.Name); part.size.Cmp(big.NewRat(limit, 1)) >= 0 {
			return nil, u, p.fail(NotANumber, start, p.text[start:p.pos],
				fmt.Sprintf("%d or more %s make the next larger unit", limit, v.Spoken()), "")
		}
		total = over(times(total, u.factor), v.factor)
		total.Add(total, part.size)
		u, last = v, part
	}
	return total, u, nil
}

// nextLink reads a number and a unit that continue a chain, or nothing.
func (p *parser) nextLink(u Unit) (number, exactUnit, bool) {
	mark := p.pos
	p.blanks()
	if r := p.peek(); r < '0' || r > '9' {
		p.pos = mark
		return number{}, exactUnit{}, false
	}
	n, err := p.number()
	if err == nil {
		p.blanks()
		x := scanUnit(p.rest())
		v, err := x.resolve(p.wanted)
		if x.size > 0 && err == nil && continues(u, v.Unit) {
			p.pos += x.size
			return n, v, true
		}
	}
	p.pos = mark
	return number{}, exactUnit{}, false
}

// continues tells whether v is the next smaller link after u, or one below.
func continues(u, v Unit) bool {
	for _, c := range chains {
		i := slices.IndexFunc(c, func(l link) bool { return l.name == u.Name })
		j := slices.IndexFunc(c, func(l link) bool { return l.name == v.Name })
		if i >= 0 && j > i {
			return true
		}
	}
	return false
}

func linkOf(name string) int64 {
	for _, c := range chains {
		for _, l := range c {
			if l.name == name {
				return l.of
			}
		}
	}
	return 0
}

// words returns the words that follow, up to the next number, and their size.
func (p *parser) words() (ws []string, size int) {
	s := p.rest()
	for size < len(s) {
		rest := strings.TrimLeft(s[size:], narrow)
		gap := len(s) - size - len(rest)
		n := 0
		for n < len(rest) {
			r, w := utf8.DecodeRuneInString(rest[n:])
			if !unicode.IsLetter(r) && (r != '-' && r != '\'' || n == 0) {
				break
			}
			n += w
		}
		if n == 0 {
			break
		}
		ws = append(ws, strings.ToLower(rest[:n]))
		size += gap + n
	}
	return ws, size
}
