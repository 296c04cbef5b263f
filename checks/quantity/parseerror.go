package quantity

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Trouble is the kind of a [ParseError].
type Trouble uint8

// The kinds of trouble with a typed answer.
const (
	Empty       Trouble = iota + 1 // nothing was typed
	NotANumber                     // words, a date, two signs
	Unfinished                     // a sign or a fraction that does not go on
	UnknownUnit                    // no unit has that name
	WrongUnit                      // a unit of another dimension than is asked for
	TwoMeanings                    // could mean two things: asked back
	MixedUnits                     // some values of a row have a unit, some have none
	NoDivisions                    // divisions, but no instrument that has them
	NoDirection                    // a word that is not one of the two directions
	TooLarge                       // not finite, or far out of this world
	TooLong                        // more figures or values than anybody types
)

// A ParseError says why a typed answer cannot be used. The parts begin in
// lower case, have no full stop, and fit behind each other; a front end may
// dress them with [ParseError.Sentences].
type ParseError struct {
	Kind       Trouble
	Understood string // what was read: "1.2 tenths"
	Wrong      string // what is odd about it: `"tenths" may mean 0.1 mm or 0.0001 inch`
	Mend       string // what to type instead: "type 0.12 mm or 0.12 thou"
	At         int    // byte offset in the text at which the trouble begins
}

func (e *ParseError) Error() string {
	s := e.Wrong + "; " + e.Mend
	if e.Understood == "" {
		return s
	}
	return e.Understood + ": " + s
}

// Sentences returns what is wrong and what to do as sentences for a screen.
func (e *ParseError) Sentences() []string {
	return []string{sentence(e.Wrong), sentence(e.Mend)}
}

// sentence gives the phrase its capital and its full stop.
func sentence(s string) string {
	i := strings.IndexFunc(s, func(r rune) bool { return r != '"' })
	if i < 0 {
		return s
	}
	r, n := utf8.DecodeRuneInString(s[i:])
	// Only plain words take a capital: "mm" and figures keep theirs.
	word, _, _ := strings.Cut(s[i:], " ")
	if _, isUnit := spelt[word]; !isUnit {
		s = s[:i] + string(unicode.ToUpper(r)) + s[i+n:]
	}
	return s + "."
}
