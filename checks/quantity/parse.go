package quantity

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Context is what a typed answer is read by.
type Context struct {
	// Unit is the question's unit. What a bare number means is [Context.Bare].
	Unit Unit
	// Inch is true in an inch run, where "tenths" are of a thou.
	Inch bool
	// Division is one division of the bound instrument in base units; 0 where
	// there is none.
	Division float64
	// Any is true where a value of any dimension will do, as in a register of
	// machines; Unit is then that of a bare number only.
	Any bool
	// One is true where one value is wanted and no row: "5 3/8" is then one.
	One bool
	// Plus and Minus are the direction words of the two signs, whole phrases
	// or single words: "towards the operator", "away from the operator".
	Plus, Minus []string
}

// Bare returns the unit of a number that is typed without one. It is the one
// that the question must show.
func (c Context) Bare() Unit {
	u := c.Unit
	if !finite(u.Factor) || u.Factor == 0 {
		u = mustLookup("1")
	}
	return InRun(u, c.Inch)
}

// Typed is one value as it was typed and as it was understood.
type Typed struct {
	Text    string  // as typed, with its unit and direction
	Value   float64 // base units; a point in °C
	Unit    Unit    // what was understood
	HasUnit bool    // the unit was typed
	Way     string  // the direction that was typed, "" where the sign was
}

const (
	maxText   = 1 << 16 // bytes
	maxValues = 10000
)

// Parse reads the values of an answer as people type them: "0.003mm",
// "0,17", ".1 thou", "1/64 in", "1°26'16\"", "0.02 mm/m", "5 div", "0.03 away",
// or a row of them separated by blanks or semicolons. A comma is a decimal
// sign and a sign touches its number. In a row every value has its unit or
// none has (semantics rule 16).
//
// Every value is finite and, unless any will do, its unit is of the dimension
// that is asked for.
// The error is a *[ParseError]; nothing is returned with it.
func Parse(text string, c Context) ([]Typed, error) {
	if len(text) > maxText {
		return nil, &ParseError{Kind: TooLong, Wrong: "far too much text for a row of numbers", Mend: c.mend()}
	}
	if t, ok := plainly(text, c); ok {
		return []Typed{t}, nil
	}
	return parse(text, c)
}

func parse(text string, c Context) ([]Typed, error) {
	p := &parser{text: text, c: c, bare: c.Bare()}
	if err := p.row(); err != nil {
		return nil, err
	}
	return p.out, nil
}

// ParseOne reads an answer that must be one value.
func ParseOne(text string, c Context) (Typed, error) {
	out, err := Parse(text, c)
	if err != nil {
		return Typed{}, err
	}
	if len(out) != 1 {
		return Typed{}, &ParseError{
			Kind:       NotANumber,
			Understood: shorten(strings.TrimSpace(text)),
			Wrong:      fmt.Sprintf("that is %d values, but one is asked for", len(out)),
			Mend:       c.mend(),
		}
	}
	return out[0], nil
}

// mend says what to type, in the unit that the question shows.
func (c Context) mend() string {
	u := c.Bare()
	if u.Name == "1" {
		return "type a plain number, such as 0.5"
	}
	return "type a number in " + u.Spoken() + ", such as " + u.sample()
}

// Spoken returns what the unit is called in a sentence: its symbol, but a
// word where the symbol is a sign that can be overlooked.
func (u Unit) Spoken() string {
	switch u.Name {
	case "deg":
		return "degrees"
	case "arcmin":
		return "minutes of angle"
	case "arcsec":
		return "seconds of angle"
	case "inch":
		return "inch"
	case "1":
		return "plain numbers"
	}
	return u.Symbol
}

// sample is an answer in the unit, in signs that every keyboard has.
func (u Unit) sample() string {
	n := "20"
	switch u.Name {
	case "mm":
		n = "0.02"
	case "inch":
		n = "0.001"
	case "thou", "mm/m", "thou/foot", "m", "foot":
		n = "0.5"
	}
	return keyboard.Replace(WithSymbol(n, u))
}

var keyboard = strings.NewReplacer("µ", "u", "″", `"`, "′", "'", "°C", "C", "°F", "F", "·", ".")

// What returns what the unit measures in words, with its article.
func (u Unit) What() string {
	if u.Point {
		return "a temperature"
	}
	return u.Dim.String()
}

// Example returns what to write in a procedure for a value in this unit, as
// "um(20)" or "um(20)/m(1)".
func (u Unit) Example() string {
	if u.Name == "fahrenheit" {
		return "fahrenheit(68)"
	}
	if f := literalOf(u.Name); f != "" {
		return f + "(20)"
	}
	if top, under, ok := strings.Cut(u.Name, "/"); ok {
		f, g := literalOf(top), literalOf(under)
		if f != "" && g != "" {
			return f + "(20)/" + g + "(1)"
		}
	}
	return u.Dim.Example()
}

// parser reads one row from left to right.
type parser struct {
	text string
	pos  int
	c    Context
	bare Unit
	out  []Typed
}

func (p *parser) fail(kind Trouble, at int, understood, wrong, mend string) error {
	if mend == "" {
		mend = p.c.mend()
	}
	// What was typed may hold a line's end; what is said of it is one line.
	return &ParseError{Kind: kind, At: at, Understood: shorten(understood), Wrong: printable(wrong), Mend: printable(mend)}
}

func (p *parser) rest() string { return p.text[p.pos:] }

func (p *parser) peek() rune {
	r, _ := utf8.DecodeRuneInString(p.rest())
	if p.pos >= len(p.text) {
		return 0
	}
	return r
}

func isBlank(r rune) bool {
	switch r {
	case ' ', '\t', '\r', '\n', '\u00a0', '\u2009', '\u202f':
		return true
	}
	return false
}

// blanks passes over blanks and tells whether there were any.
func (p *parser) blanks() bool {
	start := p.pos
	for isBlank(p.peek()) {
		_, n := utf8.DecodeRuneInString(p.rest())
		p.pos += n
	}
	return p.pos > start
}

// row reads all values.
func (p *parser) row() error {
	p.blanks()
	if p.pos == len(p.text) {
		return p.fail(Empty, 0, "", "nothing was typed", "")
	}
	for p.pos < len(p.text) {
		if len(p.out) == maxValues {
			return p.fail(TooLong, p.pos, "", fmt.Sprintf("more than %d values", maxValues), "type one row at a time")
		}
		if err := p.value(); err != nil {
			return err
		}
		if err := p.separator(); err != nil {
			return err
		}
	}
	return p.allOrNone()
}

// separator reads what stands between two values, or the end.
func (p *parser) separator() error {
	blank := p.blanks()
	switch {
	case p.pos == len(p.text):
		return nil
	case p.peek() == ';':
		p.pos++
		p.blanks()
		if p.peek() == ';' {
			return p.fail(NotANumber, p.pos, ";;", "nothing stands between the semicolons", "")
		}
		return nil
	case blank:
		return nil
	}
	return p.strange(p.pos)
}

// strange reports something that stands where a blank should be.
func (p *parser) strange(at int) error {
	start := at
	for start > 0 {
		r, n := utf8.DecodeLastRuneInString(p.text[:start])
		if isBlank(r) || r == ';' {
			break
		}
		start -= n
	}
	word := p.word(start)
	r, _ := utf8.DecodeRuneInString(p.text[at:])
	switch {
	case !unicode.IsPrint(r):
		return p.fail(NotANumber, at, "", "there is a character in it that cannot be shown", "")
	case r == '/' && p.bare.Dim == Ratio:
		return p.fail(NotANumber, at, word, "its lengths have no units", "type it like 0.02 mm/300 mm")
	case r == ',':
		return p.fail(NotANumber, at, word, "a comma is a decimal sign here", "put a blank or a semicolon between two values")
	case unicode.IsDigit(r):
		return p.fail(NotANumber, at, word, "two values without a blank between them", "put a blank or a semicolon between two values")
	}
	return p.fail(NotANumber, at, word, fmt.Sprintf(`"%c" does not belong in a number`, r), "")
}

// word returns what stands at the offset up to the next blank or semicolon.
func (p *parser) word(at int) string {
	s := p.text[at:]
	if i := strings.IndexFunc(s, func(r rune) bool { return isBlank(r) || r == ';' }); i > 0 {
		s = s[:i]
	}
	return s
}

// allOrNone is semantics rule 16.
func (p *parser) allOrNone() error {
	var with, without *Typed
	for i := range p.out {
		t := &p.out[i]
		if t.HasUnit && with == nil {
			with = t
		}
		if !t.HasUnit && without == nil {
			without = t
		}
	}
	if with == nil || without == nil {
		return nil
	}
	return p.fail(MixedUnits, 0, strings.TrimSpace(p.text),
		fmt.Sprintf("%s has a unit, %s has none", with.Text, without.Text),
		"give every value its unit, or none")
}

// value reads one value: a number, its unit, its direction.
func (p *parser) value() error {
	start := p.pos
	n, err := p.number()
	if err != nil {
		return err
	}
	u, has, err := p.unit(n, start)
	if err != nil {
		return err
	}
	if n.mixed && !has && !p.c.One {
		return p.fail(TwoMeanings, start, p.text[start:p.pos], "it may be one value or two",
			fmt.Sprintf("type %s, or put a semicolon between two values", trimRat(n.size)))
	}
	if err := p.fractionIsPlain(n, u, has, start); err != nil {
		return err
	}
	total := n.size
	if has {
		if total, u, err = p.chain(n, u, start); err != nil {
			return err
		}
	}
	way, minus, err := p.direction(n, has, start)
	if err != nil {
		return err
	}
	if minus || n.sign < 0 {
		total = new(big.Rat).Neg(total)
	}
	v, err := p.float(u.base(total), start)
	if err != nil {
		return err
	}
	p.out = append(p.out, Typed{Text: p.text[start:p.pos], Value: v, Unit: u.Unit, HasUnit: has, Way: way})
	return nil
}

// float rounds the exact value, and refuses one that no float64 can hold.
func (p *parser) float(r *big.Rat, start int) (float64, error) {
	v, _ := r.Float64()
	if math.IsInf(v, 0) || (r.Sign() != 0 && math.Abs(v) < 1e-300) {
		return 0, p.outOfThisWorld(start)
	}
	return v, nil
}

func (p *parser) outOfThisWorld(start int) error {
	return p.fail(TooLarge, start, p.word(start), "no reading has that many noughts", "")
}

// shorten keeps what is quoted back to a line.
func shorten(s string) string {
	const most = 40
	s = printable(s)
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most-1]) + "…"
}

// printable puts a blank for what does not print, line ends among it.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
}

func trimRat(r *big.Rat) string {
	s := r.FloatString(12)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}
