// Package outline writes a first procedure from answers to plain questions: what
// is measured, along what, which limits, what is done to correct it, with which
// instrument. The file it writes proofreads clean and has rehearsals that hold;
// it is the author's from then on.
//
// Five shapes are known: a difference between two places, a profile along a
// length, readings round a turn, squareness over a span, a single size. Nothing
// here asks or writes a file; the questions are a list, and an answer is judged
// by what proofreading says of a procedure with it.
package outline

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"waywright/checks/quantity"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/proofread"
	"waywright/procedures/tidy"
	"waywright/procedures/vet"
)

// Answers are the answers so far, by the names of their questions. What was left
// out is not there.
type Answers map[string]string

// The shapes.
const (
	Difference = "difference"
	Profile    = "profile"
	Turn       = "turn"
	Square     = "square"
	Size       = "size"
)

// Question is one thing to ask.
type Question struct {
	Name  string
	Ask   string
	Words []string // one of these; nil: anything that Check lets pass
	Need  bool     // it cannot be left out
	check func(a Answers, text string) error
}

// refusal is what is wrong with an answer, in sentences that are shown as they
// are.
type refusal string

func (r refusal) Error() string { return string(r) }

func refused(format string, args ...any) refusal { return refusal(fmt.Sprintf(format, args...)) }

// Check tells what is wrong with an answer; the error is one or more sentences.
func (q Question) Check(a Answers, text string) error {
	if len(q.Words) > 0 {
		if !slices.Contains(q.Words, text) {
			return refused("That is none of the words. Type one of: %s.", strings.Join(q.Words, ", "))
		}
		return nil
	}
	if strings.ContainsFunc(text, diagnose.Control) {
		return refusal("That is not plain text. Type it on one line.")
	}
	if q.check != nil {
		return q.check(a, text)
	}
	return nil
}

// Next returns the first question that is open: neither answered nor left out,
// and asked of such a procedure. ok is false where there is none.
func Next(a Answers) (q Question, ok bool) {
	for _, x := range all {
		if _, answered := a[x.Name]; answered || x.when != nil && !x.when(a) {
			continue
		}
		q := x.Question
		if x.words != nil {
			q.Words = x.words(a)
		}
		if x.text != nil {
			q.Ask = x.text(a)
		}
		return q, true
	}
	return Question{}, false
}

// LeftOut is kept where a question was left out.
const LeftOut = ""

// asked is a question with when it is asked.
type asked struct {
	Question
	when    func(Answers) bool
	words   func(Answers) []string
	text    func(Answers) string
	inWords bool // its answer becomes part of what people read
}

func (a Answers) is(name, word string) bool { return a[name] == word }
func (a Answers) has(name string) bool      { return a[name] != "" }

func shapes(names ...string) func(Answers) bool {
	return func(a Answers) bool { return slices.Contains(names, a["shape"]) }
}

func both(f, g func(Answers) bool) func(Answers) bool {
	return func(a Answers) bool { return f(a) && g(a) }
}

// corrected tells whether something is done to bring the value right, and moved
// whether that has an amount.
func corrected(a Answers) bool { return a.is("correct", "yes") }
func moved(a Answers) bool {
	return corrected(a) && !slices.Contains([]string{Profile, Turn}, a["shape"])
}

// spanned tells whether the distance between two places is asked at each machine,
// because what is allowed grows with it.
func spanned(a Answers) bool { return a.has("per") }

// File is the name of the procedure's file.
func (a Answers) File() string { return a["name"] + ".hcl" }

// Source writes the procedure. The error says which answers do not go together,
// and what to answer instead.
func (a Answers) Source() ([]byte, error) {
	d, err := a.draft()
	if err != nil {
		return nil, err
	}
	out, err := tidy.Bytes(a.File(), []byte(d.source()))
	if err != nil {
		return nil, fmt.Errorf("outline: %w", err)
	}
	return out, nil
}

// Proofread proofreads what the answers give, by itself.
func Proofread(name string, src []byte) proofread.Result {
	return proofread.File(hclfile.Source{FS: onlyFile{name, src}, Path: name})
}

// reads judges words by what proofreading says of a procedure that has them: the
// words so far, with figures that are beyond doubt.
func reads(name string) func(Answers, string) error {
	return func(a Answers, text string) error {
		fixes := slices.Contains([]string{"fix", "fix_do", "move_plus", "move_minus", "move_with"}, name)
		trial := sample(a["shape"], fixes)
		for _, q := range all {
			if v := a[q.Name]; v != "" && q.inWords {
				trial[q.Name] = v
			}
		}
		trial[name] = text
		d, err := trial.draft()
		if err != nil {
			return err
		}
		read, found := hclfile.Parse(hclfile.Source{FS: onlyFile{trial.File(), []byte(d.source())}, Path: trial.File()})
		if read.Procedure != nil {
			found = append(found, vet.Part(read.Procedure)...)
		}
		for _, d := range found {
			return refusal(strings.TrimSpace(d.Detail))
		}
		return nil
	}
}

// short wants few letters, because the words become part of a question that is
// read at a glance.
func short(n int, name string) func(Answers, string) error {
	return func(a Answers, text string) error {
		if have := utf8.RuneCountInString(text); have > n {
			return refused("That has %d letters, and it becomes part of a question that is read at a glance. Use at most %d.", have, n)
		}
		return reads(name)(a, text)
	}
}

// sizeOf wants a size in a unit of the reading's kind.
func sizeOf(kind func(Answers) quantity.Dim, positive bool) func(Answers, string) error {
	return func(a Answers, text string) error {
		v, err := parse(text)
		switch {
		case err != nil:
			return err
		case v.unit.Dim != kind(a):
			return refused("That is %s, and %s is wanted. Type it with its unit, such as %s.", v.unit.Dim, kind(a), example(kind(a)))
		case positive && v.base <= 0:
			return refusal("It has to be above nothing.")
		}
		return nil
	}
}

func example(d quantity.Dim) string {
	if d == quantity.Angle {
		return "20 arcsec"
	}
	return "0.02 mm"
}

func ofReading(a Answers) quantity.Dim {
	if u, err := quantity.Lookup(a["unit"]); err == nil {
		return u.Dim
	}
	return quantity.Length
}

func length(Answers) quantity.Dim { return quantity.Length }

// sized is a size that was typed.
type sized struct {
	base float64 // mm or rad
	unit quantity.Unit
}

func parse(text string) (sized, error) {
	ts, err := quantity.Parse(text, quantity.Context{Any: true})
	if err != nil {
		var pe *quantity.ParseError
		if errors.As(err, &pe) {
			return sized{}, refusal(strings.Join(pe.Sentences(), " "))
		}
		return sized{}, err
	}
	if len(ts) != 1 || !ts[0].HasUnit {
		return sized{}, refusal("One figure with its unit is wanted, such as 0.02 mm.")
	}
	return sized{ts[0].Value, ts[0].Unit}, nil
}
