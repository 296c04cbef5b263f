package hclfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"regexp"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/procedures/diagnose"
	"waywright/procedures/source"
)

// The bounds of what is read. The largest procedure that ships has some
// 20 KB and nests six deep.
const (
	maxBytes  = 1 << 20 // of a file
	maxSigns  = 150_000 // characters that are neither letters, figures nor blanks
	maxNest   = 100     // brackets within brackets
	maxOps    = 1000    // operators and brackets in one expression
	maxDigits = 60      // of a number
	maxSyntax = 60      // syntax errors told of one file
	maxSaid   = 500     // diagnostics told of one file
	maxBlocks = 1000    // of one file and what it shares
)

// file is a source file that was read and parsed as far as it goes.
type file struct {
	name  string // below the root of its library, as it is shown
	bytes []byte
	body  *hclsyntax.Body // nil where nothing could be read
}

// load reads and parses a file. What it returns has a body unless the bytes
// are no text at all.
func load(fsys fs.FS, path, shown string) (*file, diagnose.List) {
	b, d := read(fsys, path, shown)
	if d != nil {
		return &file{name: shown}, diagnose.List{*d}
	}
	return parse(shown, b)
}

// read returns the bytes of a file, and no more of them than the bound.
func read(fsys fs.FS, path, shown string) ([]byte, *diagnose.Diagnostic) {
	say := func(code, format string, args ...any) ([]byte, *diagnose.Diagnostic) {
		d := diagnose.New(code, source.Range{File: shown, Start: firstPos, End: firstPos}, format, args...)
		return nil, &d
	}
	if !fs.ValidPath(path) {
		return say("E001", "%s is no path inside the folder of procedures. Write it with / and without .. in it.", shown)
	}
	f, err := fsys.Open(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return say("E001", "There is no file %s. Look for a slip in its name, or in the folder.", shown)
	case err != nil:
		return say("E001", "%s cannot be opened: %v.", shown, err)
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return say("E001", "%s is a folder. Name a file in it that ends in .hcl.", shown)
	}
	b, err := io.ReadAll(io.LimitReader(f, maxBytes+1))
	if err != nil {
		return say("E001", "%s cannot be read: %v.", shown, err)
	}
	if len(b) > maxBytes {
		return say("E002", "%s is larger than 1 MiB, which no procedure is. Look whether it is the file that you mean.", shown)
	}
	return b, nil
}

var firstPos = source.Pos{Line: 1, Column: 1}

// parse parses the bytes of a file.
func parse(shown string, b []byte) (*file, diagnose.List) {
	out := &file{name: shown, bytes: b}
	if list := notText(shown, b); list != nil {
		return out, list
	}
	if n := signs(b); n > maxSigns {
		return out, diagnose.List{diagnose.New("E006", place(shown, b, 0, 0), "%d of its characters are signs, more than any procedure has. Look whether it is the file that you mean.", n)}
	}
	if list := tooDeep(shown, b); list != nil {
		return out, list
	}
	f, list := parseHCL(shown, b)
	if f != nil {
		out.body, _ = f.Body.(*hclsyntax.Body)
	}
	return out, list
}

// syntaxErrors turns what the HCL parser says into our own form. A quote that
// is not closed is told by it several times; once is enough.
func syntaxErrors(ds hcl.Diagnostics, text []byte) diagnose.List {
	var list diagnose.List
	told := map[int]bool{}
	for _, d := range ds {
		if len(list) == maxSyntax {
			break
		}
		x := syntaxError(d, text)
		line := x.Subject.Start.Line
		if x.Code == "E010" {
			again := told[line] || told[line-1] && d.Summary == openQuote
			told[line] = true
			if again {
				continue
			}
		}
		list = append(list, x)
	}
	return list
}

// openQuote is the parser's summary where a quote is not closed in its line.
const openQuote = "Invalid multi-line string"

// redefined is how the HCL parser says that an attribute stands twice.
var redefined = regexp.MustCompile(`^The argument "([^"]*)" was already set at .*:(\d+),`)

// syntaxError turns what the HCL parser says into our own form.
func syntaxError(d *hcl.Diagnostic, text []byte) diagnose.Diagnostic {
	var at source.Range
	if d.Subject != nil {
		at = rng(*d.Subject)
	}
	if m := redefined.FindStringSubmatch(d.Detail); m != nil {
		return diagnose.New("E106", at, "%s is set in line %s already. Keep one of the two.", m[1], m[2])
	}
	return diagnose.New("E010", at, "%s", said(d, text))
}

// notText refuses bytes that are no text of the kind a procedure is.
func notText(shown string, b []byte) diagnose.List {
	if !utf8.Valid(b) {
		i := 0
		for i < len(b) {
			r, n := utf8.DecodeRune(b[i:])
			if r == utf8.RuneError && n == 1 {
				break
			}
			i += n
		}
		return diagnose.List{diagnose.New("E003", place(shown, b, i, i+1),
			"%s is not UTF-8: byte %d is 0x%02x. Save it as UTF-8, or look whether it is the file that you mean.", shown, i, b[i])}
	}
	if i := bytes.IndexByte(b, 0); i >= 0 {
		return diagnose.List{diagnose.New("E003", place(shown, b, i, i+1),
			"%s has a NUL at byte %d, so it is no text. Look whether it is the file that you mean.", shown, i)}
	}
	var list diagnose.List
	for i, r := range string(b) {
		if r == '\n' || r == '\t' || r == '\r' && i+1 < len(b) && b[i+1] == '\n' || r == 0xFEFF && i == 0 || !diagnose.Control(r) {
			continue
		}
		list = append(list, diagnose.New("E005", place(shown, b, i, i+utf8.RuneLen(r)),
			"The character U+%04X is not seen on a screen, and can hide what a line says. Take it out.", r))
		if len(list) == 20 {
			break
		}
	}
	return list
}

// place returns the range of some bytes of a file.
func place(shown string, b []byte, from, to int) source.Range {
	return source.Range{File: shown, Start: pos(b, from), End: pos(b, min(to, len(b)))}
}

// pos counts lines and columns; a column here is a code point.
func pos(b []byte, at int) source.Pos {
	line := 1 + bytes.Count(b[:at], []byte("\n"))
	col := 1 + utf8.RuneCount(b[bytes.LastIndexByte(b[:at], '\n')+1:at])
	return source.Pos{Line: line, Column: col, Byte: at}
}

// signs counts the characters each of which can be a token of its own, since a
// parser takes a hundred bytes for every token.
func signs(b []byte) int {
	n := 0
	for _, c := range b {
		if c > ' ' && c < 0x80 && c != '_' && (c < '0' || c > '9') && (c < 'a' || c > 'z') && (c < 'A' || c > 'Z') {
			n++
		}
	}
	return n
}

// frame is an open bracket while the tokens are counted.
type frame struct {
	body bool // newlines end what is counted
	ops  int
}

// tooDeep refuses what would make a parser that calls itself run out of
// stack: brackets within brackets, and long chains of operators. It goes by
// the tokens, so that quotes and comments are read as the parser reads them.
func tooDeep(shown string, b []byte) diagnose.List {
	tokens, _ := hclsyntax.LexConfig(b, shown, hcl.InitialPos) // its errors come again from the parser
	stack := []frame{{body: true}}
	say := func(t hclsyntax.Token, format string, args ...any) diagnose.List {
		return diagnose.List{diagnose.New("E006", rng(t.Range), format, args...)}
	}
	for _, t := range tokens {
		top := &stack[len(stack)-1]
		switch t.Type {
		case hclsyntax.TokenOBrace, hclsyntax.TokenOParen, hclsyntax.TokenOBrack, hclsyntax.TokenOQuote,
			hclsyntax.TokenOHeredoc, hclsyntax.TokenTemplateInterp, hclsyntax.TokenTemplateControl:
			top.ops++
			stack = append(stack, frame{body: t.Type == hclsyntax.TokenOBrace})
			if len(stack) > maxNest {
				return say(t, "More than %d brackets stand within one another here. Work it out in several results, one after another.", maxNest)
			}
		case hclsyntax.TokenCBrace, hclsyntax.TokenCParen, hclsyntax.TokenCBrack, hclsyntax.TokenCQuote,
			hclsyntax.TokenCHeredoc, hclsyntax.TokenTemplateSeqEnd:
			if len(stack) > 1 {
				stack = stack[:len(stack)-1]
			}
		case hclsyntax.TokenNewline:
			if top.body {
				top.ops = 0
			}
		case hclsyntax.TokenComma:
			top.ops = 0
		case hclsyntax.TokenIdent, hclsyntax.TokenQuotedLit, hclsyntax.TokenStringLit, hclsyntax.TokenEqual, hclsyntax.TokenComment, hclsyntax.TokenEOF:
		case hclsyntax.TokenNumberLit:
			if len(t.Bytes) > maxDigits {
				return say(t, "A number has at most %d digits.", maxDigits)
			}
		default:
			top.ops++
		}
		if top.ops > maxOps {
			return say(t, "This expression has more than %d signs in it. Work it out in several results, one after another.", maxOps)
		}
	}
	return nil
}

// rng turns a range of the parser into one of ours. Of what breaks off in the
// middle the parser gives ranges that end before they begin.
func rng(r hcl.Range) source.Range {
	if r.End.Byte < r.Start.Byte {
		r.End = r.Start
	}
	return source.Range{
		File:  r.Filename,
		Start: source.Pos{Line: r.Start.Line, Column: r.Start.Column, Byte: r.Start.Byte},
		End:   source.Pos{Line: r.End.Line, Column: r.End.Column, Byte: r.End.Byte},
	}
}

// quoted lists words for a message: "a", "b" or "c".
func quoted(words []string, last string) string {
	var b bytes.Buffer
	for i, w := range words {
		switch {
		case i > 0 && i == len(words)-1:
			fmt.Fprintf(&b, " %s ", last)
		case i > 0:
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "%q", w)
	}
	return b.String()
}
