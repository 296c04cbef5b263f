package tidy

import (
	"regexp"
	"slices"

	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// arrange settles where lines end: it adds and takes away newlines, and commas
// behind last elements.
func arrange(in []piece, s *shape) []piece {
	a := &arranging{in: in, shape: s, closer: map[int]int{}, level: map[int]bool{}}
	a.match()
	for i := 0; i < len(in); i++ {
		a.put(i)
	}
	for len(a.out) > 0 && a.last().typ == hclsyntax.TokenNewline {
		a.out = a.out[:len(a.out)-1]
	}
	if len(a.out) > 0 {
		a.out = append(a.out, newline)
	}
	return a.out
}

type arranging struct {
	in     []piece
	shape  *shape
	closer map[int]int  // of an opening bracket, by where they stand
	level  map[int]bool // opening brackets with a newline directly inside
	commas map[int]bool // opening brackets with a comma directly inside, none behind the last
	out    []piece
	open   []int // the brackets that are open, by where they stand
}

// match finds the pairs of brackets, and those broken over lines.
func (a *arranging) match() {
	a.commas = map[int]bool{}
	var open []int
	for i, p := range a.in {
		switch {
		case opens(p):
			open = append(open, i)
		case closes(p) && len(open) > 0:
			a.closer[open[len(open)-1]] = i
			open = open[:len(open)-1]
		case p.typ == hclsyntax.TokenNewline && len(open) > 0:
			a.level[open[len(open)-1]] = true
		case p.typ == hclsyntax.TokenComma && len(open) > 0 && !closes(next(a.in, i)):
			a.commas[open[len(open)-1]] = true
		}
	}
}

func (a *arranging) last() piece {
	if len(a.out) == 0 {
		return piece{typ: hclsyntax.TokenNil}
	}
	return a.out[len(a.out)-1]
}

// inside returns the innermost open bracket and what it stands for.
func (a *arranging) inside() (at int, k kind) {
	if len(a.open) == 0 {
		return -1, body
	}
	at = a.open[len(a.open)-1]
	return at, a.shape.kind(a.in[at])
}

// many tells whether a list or object stands in several lines.
func (a *arranging) many(at int) bool {
	return at >= 0 && (a.level[at] || a.shape.broken[a.in[at].at.Start.Byte])
}

func (a *arranging) put(i int) {
	p := a.in[i]
	at, k := a.inside()
	switch {
	case p.typ == hclsyntax.TokenNewline:
		a.newline(at, k)
	case opens(p):
		a.out = append(a.out, p)
		a.open = append(a.open, i)
		if k := a.shape.kind(p); (k == list || k == object) && a.many(i) && a.closer[i] != i+1 && !a.lineEnds(i+1) && !a.answers(i+1) {
			a.out = append(a.out, newline)
		}
	case closes(p) && at >= 0:
		a.close(at, k, a.answers(i))
		a.out = append(a.out, p)
		a.open = a.open[:len(a.open)-1]
	case p.typ == hclsyntax.TokenComma && at >= 0 && (k == list || k == object || k == call):
		if closes(next(a.in, i)) {
			return // whether one stands there is settled at the bracket
		}
		if !a.comma() {
			a.out = append(a.out, p)
		}
		if k == list && a.shape.broken[a.in[at].at.Start.Byte] && a.last().typ != hclsyntax.TokenNewline && !a.lineEnds(i+1) {
			a.out = append(a.out, newline)
		}
	default:
		a.out = append(a.out, p)
	}
}

// lineEnds tells whether nothing but a comment stands before the end of the
// line, from the piece i on.
func (a *arranging) lineEnds(i int) bool {
	for ; i < len(a.in); i++ {
		switch a.in[i].typ {
		case hclsyntax.TokenNewline:
			return true
		case hclsyntax.TokenComment:
		default:
			return false
		}
	}
	return true
}

// answering is how a comment begins that answers a warning of its line.
var answering = regexp.MustCompile(`^(#|//)\s*W\d{3}`)

// answers tells whether the line in which the piece i stands is answered for by
// the comment at its end. Then nothing of it goes to another line.
func (a *arranging) answers(i int) bool {
	for ; i < len(a.in) && a.in[i].typ != hclsyntax.TokenNewline; i++ {
		if a.in[i].ends && answering.MatchString(a.in[i].text) {
			return true
		}
	}
	return false
}

// newline keeps an end of line, and at most one blank line where there may be
// one.
func (a *arranging) newline(at int, k kind) {
	n := len(a.out)
	blank := n > 0 && a.out[n-1].typ == hclsyntax.TokenNewline
	switch {
	case n == 0:
		return // at the beginning of the file
	case blank && k != body && k != list && k != object:
		return
	case blank && at >= 0 && n > 1 && opens(a.out[n-2]):
		return // at the beginning of a block or list
	case blank && n > 1 && a.out[n-2].typ == hclsyntax.TokenNewline:
		return
	}
	a.out = append(a.out, newline)
}

// close prepares for a closing bracket: no blank line before it, and the comma
// behind the last element. Where it has to stay in its line it does.
func (a *arranging) close(at int, k kind, stays bool) {
	lines := 0
	for len(a.out) > 0 && a.last().typ == hclsyntax.TokenNewline {
		a.out = a.out[:len(a.out)-1]
		lines++
	}
	wanted := lines > 0
	if (k == list || k == object) && a.many(at) && !stays {
		wanted = true
	}
	if opens(a.last()) && k != body { // nothing inside
		wanted = false
	}
	if wanted && (k == list || k == call && !a.shape.expand[a.in[at].at.Start.Byte] || k == object && a.commas[at]) {
		a.comma()
	}
	if wanted {
		a.out = append(a.out, newline)
	}
}

// comma puts a comma behind the last element, before the comments and newlines
// that follow it. Behind a heredoc none can stand in its line.
func (a *arranging) comma() bool {
	i := len(a.out) - 1
	for i >= 0 && (a.out[i].typ == hclsyntax.TokenComment || a.out[i].typ == hclsyntax.TokenNewline) {
		i--
	}
	if i < 0 || opens(a.out[i]) || a.out[i].typ == hclsyntax.TokenComma || a.out[i].typ == hclsyntax.TokenOHeredoc {
		return false
	}
	a.out = slices.Insert(a.out, i+1, comma)
	return true
}
