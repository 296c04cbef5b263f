// Package diagnose holds what a checker says about a procedure file: one
// [Diagnostic] a mistake, with a stable code, its place, the reason and the
// mend. It prints them with the lines they are about, and explains a code.
//
// A code never changes its meaning and is never used again for another.
// Codes that begin with E are errors: the file cannot be used. Codes that
// begin with W are warnings: it can, but a careful author would look.
//
// Nothing here parses or proves anything.
package diagnose

import (
	"cmp"
	"fmt"
	"slices"

	"waywright/procedures/source"
)

// Severity is how bad a diagnostic is.
type Severity uint8

// The severities, worst first.
const (
	Error   Severity = iota + 1 // the file cannot be used
	Warning                     // it can be used; something deserves a look
)

func (s Severity) String() string { return [...]string{"", "error", "warning"}[s] }

// Diagnostic is one thing that was found.
type Diagnostic struct {
	Code     string // "E203"
	Severity Severity
	Summary  string       // short and general; one summary a code
	Detail   string       // what is so, then what to write
	Subject  source.Range // the least that a person would underline
	Context  source.Range // what has to be seen to understand it; zero: Subject
	In       string       // the block it stands in: `gate "level"`; may be empty
}

// New returns a diagnostic with the summary and severity of its code. It
// panics if the code is not in the table, which is a bug.
func New(code string, subject source.Range, detail string, args ...any) Diagnostic {
	e, ok := Explain(code)
	if !ok {
		panic("diagnose: no such code: " + code)
	}
	if len(args) > 0 {
		detail = fmt.Sprintf(detail, args...)
	}
	return Diagnostic{Code: code, Severity: e.Severity(), Summary: e.Summary, Detail: detail, Subject: subject}
}

// Within returns the diagnostic with the block that it stands in.
func (d Diagnostic) Within(in string, context source.Range) Diagnostic {
	d.In, d.Context = in, context
	return d
}

// List is what was found, in one file or several.
type List []Diagnostic

// HasErrors tells whether there is an error among them.
func (l List) HasErrors() bool { return l.Count(Error) > 0 }

// Count returns how many there are of a severity.
func (l List) Count(s Severity) int {
	n := 0
	for _, d := range l {
		if d.Severity == s {
			n++
		}
	}
	return n
}

// Sorted returns the list in the order of the places: the files as they first
// occur, then by line. What is said twice of the same place is said once.
func (l List) Sorted() List {
	rank := map[string]int{}
	for _, d := range l {
		if _, ok := rank[d.Subject.File]; !ok {
			rank[d.Subject.File] = len(rank)
		}
	}
	out := slices.Clone(l)
	slices.SortStableFunc(out, func(a, b Diagnostic) int {
		return cmp.Or(
			cmp.Compare(rank[a.Subject.File], rank[b.Subject.File]),
			cmp.Compare(a.Subject.Start.Byte, b.Subject.Start.Byte),
			cmp.Compare(a.Severity, b.Severity),
		)
	})
	return slices.CompactFunc(out, func(a, b Diagnostic) bool {
		return a.Code == b.Code && a.Subject == b.Subject && a.Detail == b.Detail
	})
}

// Over returns the range from the start of a to the end of b, which stand in
// one file.
func Over(a, b source.Range) source.Range {
	if a.File == "" || a.File != b.File {
		return b
	}
	out := a
	if b.Start.Byte < a.Start.Byte {
		out.Start = b.Start
	}
	if b.End.Byte > a.End.Byte {
		out.End = b.End
	}
	return out
}

// Nearest returns the name that is most likely meant by a word, or "" where
// none is near. Of names equally near, the first is taken.
func Nearest(word string, names []string) string {
	if len(word) < 3 {
		return "" // everything is near to so short a word
	}
	best, dist := "", 1+min(2, len(word)/4+1)
	for _, n := range names {
		if n == word {
			continue
		}
		if d := distance(word, n); d < dist {
			best, dist = n, d
		}
	}
	return best
}

// distance counts the letters to put in, take out, change or swap with the
// next one.
func distance(a, b string) int {
	if d := len(a) - len(b); d > 3 || d < -3 {
		return 9
	}
	before, last := []int(nil), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := range len(a) {
		row := make([]int, len(b)+1)
		row[0] = i + 1
		for j := range len(b) {
			change := 1
			if a[i] == b[j] {
				change = 0
			}
			row[j+1] = min(row[j]+1, last[j+1]+1, last[j]+change)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last = last, row
	}
	return last[len(b)]
}
