package tidy

import (
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"
)

const step = 2 // blanks a bracket

// line is a line of the layout.
type line struct {
	pieces  []piece
	comment *piece // behind the rest; nil where there is none, or nothing else
	depth   int    // of its beginning
	in      int    // the innermost bracket at its beginning: a number of its own for each
	kind    kind   // and what that stands for
	equals  int    // where its one attribute has the equals sign; 0: it is not an attribute in one line
	gap     []int  // blanks before each piece
	behind  int    // blanks before the comment
}

// layout lays a file out.
func layout(in []piece, s *shape) []byte {
	lines := linesOf(arrange(in, s), s)
	// Where a list is broken the rest of its run can only move to the left, so
	// that once is enough.
	if s.breakLong(lines) {
		lines = linesOf(arrange(in, s), s)
	}
	return write(lines)
}

// linesOf cuts the pieces into lines and puts blanks before them.
func linesOf(in []piece, s *shape) []line {
	lines := cut(in)
	indent(lines, s)
	for i := range lines {
		lines[i].space(s)
	}
	runs(lines, line.attribute, alignEquals)
	runs(lines, line.attribute, alignComments)
	return lines
}

func cut(in []piece) []line {
	var out []line
	var now line
	for _, p := range in {
		if p.typ != hclsyntax.TokenNewline {
			now.pieces = append(now.pieces, p)
			continue
		}
		if n := len(now.pieces) - 1; n > 0 && now.pieces[n].ends {
			now.comment = &now.pieces[n]
			now.pieces = now.pieces[:n]
		}
		out = append(out, now)
		now = line{}
	}
	return out
}

// bracket is one that is open.
type bracket struct {
	id   int
	kind kind
	line int // where it was opened
}

// indent finds how deep each line stands, and which are attributes in one line.
func indent(lines []line, s *shape) {
	open := []bracket{{kind: body, line: -1}}
	ids := 0
	for i := range lines {
		l := &lines[i]
		leading := 0
		for leading < len(l.pieces) && closes(l.pieces[leading]) {
			leading++
		}
		left := open[:max(1, len(open)-leading)]
		l.depth = levels(left)
		l.in, l.kind = left[len(left)-1].id, left[len(left)-1].kind
		level := len(open)
		whole := leading == 0
		for j, p := range l.pieces {
			switch {
			case opens(p):
				ids++
				open = append(open, bracket{ids, s.kind(p), i})
			case closes(p) && len(open) > 1:
				open = open[:len(open)-1]
				whole = whole && len(open) >= level
			case p.typ == hclsyntax.TokenEqual && len(open) == level && l.equals == 0 && j > 0:
				l.equals = j
			case p.typ == hclsyntax.TokenComma && len(open) == level && j < len(l.pieces)-1:
				whole = false // several words in one line
			}
			whole = whole && !p.long
		}
		if !whole || len(open) != level || l.kind != body && l.kind != object {
			l.equals = 0
		}
	}
}

// levels counts the lines in which the brackets were opened.
func levels(open []bracket) int {
	n := 0
	for i, b := range open[1:] {
		if b.line != open[i].line {
			n++
		}
	}
	return n
}

// space puts one blank, or none, between the pieces.
func (l *line) space(s *shape) {
	l.gap = make([]int, len(l.pieces))
	for i := 1; i < len(l.pieces); i++ {
		if blank(l.pieces[i-1], l.pieces[i], s) {
			l.gap[i] = 1
		}
	}
	l.behind = 1
}

// blank tells whether a blank stands between two pieces.
func blank(a, b piece, s *shape) bool {
	switch {
	case b.typ == hclsyntax.TokenComment || a.typ == hclsyntax.TokenComment:
		return true
	case literal(a) || literal(b) || a.typ == hclsyntax.TokenOQuote || b.typ == hclsyntax.TokenCQuote:
		return false // within quotes
	case a.typ == hclsyntax.TokenTemplateSeqEnd || b.typ == hclsyntax.TokenTemplateInterp || b.typ == hclsyntax.TokenTemplateControl:
		return false
	case a.typ == hclsyntax.TokenTemplateControl:
		return true
	case a.typ == hclsyntax.TokenNumberLit && b.typ == hclsyntax.TokenDot:
		return true // or it would be a decimal point
	case a.typ == hclsyntax.TokenDot || b.typ == hclsyntax.TokenDot:
		return false
	case a.typ == hclsyntax.TokenDoubleColon || b.typ == hclsyntax.TokenDoubleColon:
		return false
	case b.typ == hclsyntax.TokenComma || b.typ == hclsyntax.TokenEllipsis:
		return false
	case s.sign[a.at.Start.Byte] && (a.typ == hclsyntax.TokenMinus || a.typ == hclsyntax.TokenBang):
		return false
	case b.typ == hclsyntax.TokenOParen && s.kind(b) == call, b.typ == hclsyntax.TokenOBrack && s.kind(b) == index:
		return false
	}
	return inBraces(a, b)
}

// inBraces has a blank inside braces and none inside other brackets.
func inBraces(a, b piece) bool {
	openBrace, closeBrace := a.typ == hclsyntax.TokenOBrace, b.typ == hclsyntax.TokenCBrace
	switch {
	case openBrace && closeBrace:
		return false
	case openBrace || closeBrace:
		return true
	}
	return !opens(a) && !closes(b)
}

func literal(p piece) bool {
	return p.typ == hclsyntax.TokenQuotedLit || p.typ == hclsyntax.TokenStringLit
}

// attribute tells whether a line holds one attribute, all of it.
func (l line) attribute() bool { return l.equals > 0 }

// runs finds lines next to one another, in one bracket.
func runs(lines []line, belongs func(line) bool, align func([]line)) {
	for i := 0; i < len(lines); i++ {
		first := i
		for i < len(lines) && belongs(lines[i]) && lines[i].in == lines[first].in {
			i++
		}
		if i > first {
			align(lines[first:i])
			i--
		}
	}
}

func alignEquals(run []line) {
	widest := 0
	for _, l := range run {
		widest = max(widest, l.columns(l.equals))
	}
	for _, l := range run {
		l.gap[l.equals] = widest - l.columns(l.equals) + 1
	}
}

func alignComments(run []line) {
	widest := 0
	for _, l := range run {
		if l.comment != nil {
			widest = max(widest, l.columns(len(l.pieces)))
		}
	}
	for i, l := range run {
		run[i].behind = widest - l.columns(len(l.pieces)) + 1
	}
}

// columns returns how far the line reaches with its first n pieces.
func (l line) columns(n int) int {
	w := l.depth * step
	for i, p := range l.pieces[:n] {
		w += l.gap[i] + p.width
	}
	return w
}

// breakLong finds the lists that make their lines too long.
func (s *shape) breakLong(lines []line) bool {
	found := false
	for _, l := range lines {
		if l.equals == 0 || len(l.pieces) <= l.equals+1 || l.columns(len(l.pieces)) <= Width {
			continue
		}
		if l.comment != nil && answering.MatchString(l.comment.text) {
			continue
		}
		if at := l.pieces[l.equals+1].at.Start.Byte; s.whole[at] && l.kind == body {
			s.broken[at] = true
			found = true
		}
	}
	return found
}

func write(lines []line) []byte {
	var b strings.Builder
	for _, l := range lines {
		for i, p := range l.pieces {
			if i == 0 {
				b.WriteString(strings.Repeat(" ", l.depth*step))
			}
			b.WriteString(strings.Repeat(" ", l.gap[i]))
			b.WriteString(p.text)
		}
		if l.comment != nil {
			b.WriteString(strings.Repeat(" ", l.behind))
			b.WriteString(l.comment.text)
		}
		b.WriteByte('\n')
	}
	return []byte(b.String())
}
