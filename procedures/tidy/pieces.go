package tidy

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/procedures/source"
)

// piece is a token without the blanks around it. A comment up to the end of its
// line is a piece and its newline another; a heredoc is one piece.
type piece struct {
	typ   hclsyntax.TokenType
	text  string
	at    hcl.Range
	width int  // columns; of what takes several lines, nothing that means anything
	long  bool // it takes several lines
	ends  bool // a comment that reaches to the end of its line
}

var newline = piece{typ: hclsyntax.TokenNewline}
var comma = piece{typ: hclsyntax.TokenComma, text: ",", width: 1}

// piecesOf cuts a file into pieces.
func piecesOf(name string, src []byte) []piece {
	tokens, _ := hclsyntax.LexConfig(src, name, hcl.InitialPos) // its errors came from the parser already
	var out []piece
	for i := 0; i < len(tokens); i++ {
		t := tokens[i]
		switch t.Type {
		case hclsyntax.TokenEOF:
		case hclsyntax.TokenNewline:
			out = append(out, piece{typ: t.Type, at: t.Range})
		case hclsyntax.TokenOHeredoc:
			last := closing(tokens, i)
			at := hcl.RangeBetween(t.Range, tokens[last].Range)
			out = append(out, piece{typ: t.Type, text: string(at.SliceBytes(src)), at: at, long: true})
			i = last
		case hclsyntax.TokenComment:
			out = append(out, comment(t)...)
		default:
			out = append(out, piece{typ: t.Type, text: string(t.Bytes), at: t.Range, width: t.Range.End.Column - t.Range.Start.Column})
		}
	}
	return out
}

// closing returns the token that ends the heredoc which begins at i.
func closing(tokens hclsyntax.Tokens, i int) int {
	depth := 0
	for ; i < len(tokens)-1; i++ {
		switch tokens[i].Type {
		case hclsyntax.TokenOHeredoc:
			depth++
		case hclsyntax.TokenCHeredoc:
			if depth--; depth == 0 {
				return i
			}
		}
	}
	return i
}

// comment makes the pieces of a comment. One that begins with # or // takes the
// end of its line with it.
func comment(t hclsyntax.Token) []piece {
	p := piece{typ: t.Type, at: t.Range}
	if bytes.HasPrefix(t.Bytes, []byte("/*")) {
		p.text = strings.ReplaceAll(string(t.Bytes), "\r\n", "\n")
		p.long = strings.Contains(p.text, "\n")
		p.width = t.Range.End.Column - t.Range.Start.Column
		return []piece{p}
	}
	p.text = strings.TrimRight(string(t.Bytes), " \t\r\n")
	p.width = utf8.RuneCountInString(p.text)
	p.ends = true
	if !bytes.HasSuffix(t.Bytes, []byte("\n")) {
		return []piece{p} // the last line of the file
	}
	return []piece{p, {typ: hclsyntax.TokenNewline, at: t.Range}}
}

// differ holds two files against each other: what they say, and where their
// comments stand; blanks, newlines and commas before a closing bracket apart. It
// returns the first piece of the first that the second has not, or nil.
func differ(a, b []piece) *hcl.Range {
	aSays, aPlaces := meaning(a)
	bSays, bPlaces := meaning(b)
	if at := firstOther(aSays, bSays); at != nil {
		return at
	}
	return firstOther(aPlaces, bPlaces)
}

func firstOther(a, b []piece) *hcl.Range {
	for i := range a {
		if i >= len(b) || a[i].typ != b[i].typ || a[i].text != b[i].text {
			return &a[i].at
		}
	}
	if len(b) > len(a) {
		return &b[len(a)].at
	}
	return nil
}

// meaning returns the pieces that say something; and all but commas with the
// comments among them, since a comma may move to the other side of one.
func meaning(in []piece) (says, places []piece) {
	for i, p := range in {
		switch p.typ {
		case hclsyntax.TokenNewline:
			continue
		case hclsyntax.TokenComma:
			if !closes(next(in, i)) {
				says = append(says, p)
			}
			continue
		case hclsyntax.TokenComment:
		default:
			says = append(says, p)
		}
		places = append(places, p)
	}
	return says, places
}

// next returns the piece after i that is neither newline nor comment.
func next(in []piece, i int) piece {
	for _, p := range in[i+1:] {
		if p.typ != hclsyntax.TokenNewline && p.typ != hclsyntax.TokenComment {
			return p
		}
	}
	return piece{}
}

func opens(p piece) bool {
	switch p.typ {
	case hclsyntax.TokenOBrace, hclsyntax.TokenOBrack, hclsyntax.TokenOParen, hclsyntax.TokenTemplateInterp, hclsyntax.TokenTemplateControl:
		return true
	}
	return false
}

func closes(p piece) bool {
	switch p.typ {
	case hclsyntax.TokenCBrace, hclsyntax.TokenCBrack, hclsyntax.TokenCParen, hclsyntax.TokenTemplateSeqEnd:
		return true
	}
	return false
}

// lineEnds turns the newlines of out into what the file has had, heredocs
// apart.
func lineEnds(src, out []byte) []byte {
	if i := bytes.IndexByte(src, '\n'); i < 1 || src[i-1] != '\r' {
		return out
	}
	var b bytes.Buffer
	at := 0
	put := func(upTo int) {
		b.Write(bytes.ReplaceAll(out[at:upTo], []byte("\n"), []byte("\r\n")))
		at = upTo
	}
	for _, p := range piecesOf("", out) {
		if p.typ == hclsyntax.TokenOHeredoc {
			put(p.at.Start.Byte)
			b.WriteString(p.text)
			at = p.at.End.Byte
		}
	}
	put(len(out))
	return b.Bytes()
}

func rangeOf(name string, r *hcl.Range) source.Range {
	pos := func(p hcl.Pos) source.Pos { return source.Pos{Line: p.Line, Column: p.Column, Byte: p.Byte} }
	return source.Range{File: name, Start: pos(r.Start), End: pos(r.End)}
}
