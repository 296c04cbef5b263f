package hclfile

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/procedures/diagnose"
)

// maxRepairs bounds how many slips of writing are mended in a copy, so that
// what stands below them can be read.
const maxRepairs = 8

// parseHCL parses the bytes of a file. A quote or a bracket that is not closed
// takes what stands below it along, down to the end of the file. It is closed
// in a copy then, and the copy is read: the slip is told once, at its place,
// and what stands below is held against the schema all the same.
//
// The copy is as long as the file, and no line of it moves, so its places are
// those of the file. (Behind a bracket that was put in, the next line begins a
// column earlier.)
func parseHCL(shown string, b []byte) (*hcl.File, diagnose.List) {
	f, ds := hclsyntax.ParseConfig(b, shown, hcl.InitialPos)
	plain := syntaxErrors(ds, b)
	if len(plain) == 0 {
		return f, nil
	}
	var told diagnose.List
	text, mended := bytes.Clone(b), f
	for range maxRepairs {
		next, slip := repair(shown, text, ds)
		if next == nil {
			break
		}
		told, text = append(told, slip), next
		mended, ds = hclsyntax.ParseConfig(text, shown, hcl.InitialPos)
	}
	lines := map[int]bool{}
	for _, d := range told {
		lines[d.Subject.Start.Line] = true
	}
	for _, d := range syntaxErrors(ds, text) {
		if !lines[d.Subject.Start.Line] {
			told = append(told, d)
		}
	}
	if len(told) > len(plain) {
		return f, plain
	}
	return mended, told.Sorted()
}

// repair mends the first slip that it knows in a copy of the text, and says
// what it is. It returns nil where there is none.
func repair(shown string, text []byte, ds hcl.Diagnostics) ([]byte, diagnose.Diagnostic) {
	for _, d := range ds {
		if d.Subject == nil {
			continue
		}
		at := d.Subject.Start.Byte
		from, to := lineAt(text, at)
		switch {
		case d.Summary == openQuote || d.Summary == "Unterminated template string":
			if next, open := closeQuote(text, from, to); next != nil {
				return next, diagnose.New("E010", place(shown, text, open, open+1), "%s", quoteWords(text, open, to))
			}
		case d.Summary == "Invalid character" && printersQuote.Match(text[at:min(d.Subject.End.Byte, len(text))]):
			return straighten(text, from, to), diagnose.New("E010", place(shown, text, at, d.Subject.End.Byte),
				"%s is a printer's quote. Write the straight one, \", at both ends of the text.", text[at:d.Subject.End.Byte])
		case d.Summary == "Missing item separator" || d.Summary == "Missing argument separator" || d.Summary == "Unbalanced parentheses":
			sign := byte(')')
			if d.Summary == "Missing item separator" {
				sign = ']'
			}
			if bytes.HasPrefix(text[at:], []byte("= ")) && sign == ')' { // one sign of equal where two are meant
				next := bytes.Clone(text)
				next[at+1] = '='
				return next, syntaxError(d, text)
			}
			if len(bytes.TrimSpace(text[from:at])) > 0 {
				continue
			}
			if next, end := closeBracket(text, from, to, sign); next != nil {
				return next, diagnose.New("E010", place(shown, text, end-1, end), "A %c is missing at the end of this line, or further up.", sign)
			}
		case d.Summary == "Unclosed configuration block":
			if next, open, at := closeBlock(text); next != nil {
				from, to := lineAt(text, at)
				return next, diagnose.New("E010", place(shown, text, from, to),
					"A } is missing above this line: the block that begins in line %d is not closed.", pos(text, open).Line)
			}
		}
	}
	return nil, diagnose.Diagnostic{}
}

// closeBlock closes the first block in which a line begins another block no
// further in than itself, in an empty line above, and says where the two begin.
func closeBlock(text []byte) (next []byte, open, at int) {
	type block struct{ in, at int }
	var stack []block
	blank := false
	for from := 0; from < len(text); {
		_, to := lineAt(text, from)
		line := text[from:to]
		in := len(line) - len(bytes.TrimLeft(line, " \t"))
		switch {
		case beginsBlock.Match(line):
			if n := len(stack); n > 0 && stack[n-1].in >= in {
				room := from + bytes.IndexByte(line, ' ')
				if !blank || room < from {
					return nil, 0, 0
				}
				next = append(bytes.Clone(text[:from-1]), "}\n"...)
				next = append(next, text[from:room]...)
				return append(next, text[room+1:]...), stack[n-1].at, from
			}
			if !bytes.HasSuffix(bytes.TrimRight(line, " \t\r"), []byte("}")) {
				stack = append(stack, block{in, from})
			}
		case bytes.HasSuffix(bytes.TrimRight(line, " \t\r"), []byte("{")):
			stack = append(stack, block{in, from})
		case len(stack) > 0 && bytes.HasPrefix(bytes.TrimLeft(line, " \t"), []byte("}")):
			stack = stack[:len(stack)-1]
		}
		blank = len(bytes.TrimSpace(line)) == 0
		from = to + 1
	}
	return nil, 0, 0
}

var beginsBlock = regexp.MustCompile(`^[ \t]*[a-z][a-z0-9_]*[ \t]+("[^"]*"[ \t]*)?\{([ \t\r]*|.*\}[ \t\r]*)$`)

var (
	printersQuote = regexp.MustCompile("[“”„‟«»]")
	beginsNext    = regexp.MustCompile(`^[ \t]+([a-z][a-z0-9_]*[ \t]*=[^=]|[a-z][a-z0-9_]*[ \t]+("[^"]*"[ \t]*)?\{)`)
)

// lineAt returns where the line begins and ends in which a byte stands.
func lineAt(text []byte, at int) (from, to int) {
	at = min(at, len(text))
	from = bytes.LastIndexByte(text[:at], '\n') + 1
	if n := bytes.IndexByte(text[at:], '\n'); n >= 0 {
		return from, at + n
	}
	return from, len(text)
}

// openAt returns where a text begins that is not closed in its line, and where
// the last value in it ends; -1 where every text is closed.
func openAt(text []byte, from, to int) (open, value int) {
	open, value = -1, from
	depth := 0
	for i := from; i < to; i++ {
		switch c := text[i]; {
		case open >= 0 && depth == 0 && c == '\\':
			i++
		case open >= 0 && depth == 0 && c == '$' && i+1 < to && text[i+1] == '{':
			depth, i = 1, i+1
		case depth > 0 && c == '{':
			depth++
		case depth > 0 && c == '}':
			depth--
			value = i + 1
		case depth > 0:
		case c == '"' && open >= 0:
			open = -1
		case c == '"':
			open, value = i, i+1
		case open < 0 && c == '#':
			return -1, value
		}
	}
	return open, value
}

// closeQuote closes the text that is open at the end of a line, for which a
// blank before it makes room, or takes the quote away where nothing stands
// behind it: there the first one is missing.
func closeQuote(text []byte, from, to int) (next []byte, open int) {
	open, value := openAt(text, from, to)
	if open < 0 {
		return nil, 0
	}
	next = bytes.Clone(text)
	end := to
	for end > value && strings.IndexByte(" \t\r,)]}", next[end-1]) >= 0 {
		end--
	}
	switch {
	case end == open+1:
		next[open] = ' '
	default:
		room := bytes.LastIndexAny(text[from:open], " \t")
		if room < 0 {
			return nil, 0
		}
		copy(next[from+room:], text[from+room+1:end])
		next[end-1] = '"'
	}
	return next, open
}

// quoteWords says what is wrong with a quote that is not closed in its line.
func quoteWords(text []byte, open, to int) string {
	if strings.Trim(string(text[open+1:to]), " \t\r,)]}") == "" {
		return "A text ends here with a quote, and does not begin with one. Put one before it."
	}
	return "A quote is opened here and not closed in the same line. Close it; a text stands in one line."
}

// straighten turns the printer's quotes of a line that stand outside of texts
// into straight ones.
func straighten(text []byte, from, to int) []byte {
	next := bytes.Clone(text)
	inText, opened := false, false
	for i := from; i < to; {
		r, n := utf8.DecodeRune(text[i:to])
		switch {
		case r == '"':
			inText = !inText
		case !inText && printersQuote.MatchString(string(r)):
			for j := i; j < i+n; j++ {
				next[j] = ' '
			}
			if opened {
				next[i] = '"'
			} else {
				next[i+n-1] = '"'
			}
			opened = !opened
		}
		i += n
	}
	return next
}

// closeBracket closes a bracket at the end of the line above, where the line
// in which something is wrong begins with what can only stand outside of it.
// One blank of that line makes room for it.
func closeBracket(text []byte, from, to int, sign byte) (next []byte, end int) {
	if !beginsNext.Match(text[from:to]) {
		return nil, 0
	}
	above := bytes.TrimRight(text[:from], " \t\r\n")
	start, _ := lineAt(text, len(above))
	if bytes.IndexByte(above[start:], '#') >= 0 {
		return nil, 0
	}
	end = len(above)
	next = append(bytes.Clone(above), sign)
	next = append(next, text[end:from]...)
	return append(next, text[from+1:]...), end
}

// said gives what the parser says in words of our own. What is not known here
// comes in its words.
func said(d *hcl.Diagnostic, text []byte) string {
	var from, to int
	if d.Subject != nil {
		from, to = min(d.Subject.Start.Byte, len(text)), min(d.Subject.End.Byte, len(text))
	}
	token := string(text[from:max(from, to)])
	switch d.Summary {
	case openQuote, "Unterminated template string", "Unterminated string literal":
		return "A quote is opened here and not closed in the same line. Close it; a text stands in one line."
	case "Unclosed configuration block", "Unclosed configuration body":
		return "This block is not closed: a } is missing, or one further up stands too early."
	case "Unterminated tuple constructor expression":
		return "The list that begins here is not closed. Write ] at its end."
	case "Unterminated function call":
		return "The bracket that is opened here is not closed. Write ) at its end."
	case "Unterminated object constructor expression":
		return "The { that is opened here is not closed. Write } at its end."
	case "Missing item separator":
		return "Before this a comma is missing between two things of a list, or a ] at its end."
	case "Missing argument separator":
		if token == "x" {
			return "Times is written *, not x."
		}
		return "Before this a comma is missing between two values in brackets, or a ) at their end."
	case "Unbalanced parentheses":
		if token == "=" {
			return "A ) is missing before this. If two values are to be compared, write == for equal."
		}
		return "A ) is missing before this."
	case "Missing newline after argument":
		if m := numberBefore.FindSubmatch(text[:from]); m != nil && unitWord.MatchString(token) {
			return fmt.Sprintf("The unit stands before the number, which is in brackets: write %s(%s).", token, m[1])
		}
		return "The value ends before this. Write each attribute in a line of its own."
	case "Missing newline after block definition":
		if token == "}" {
			return "This } is one too many: the block is closed before it. Take it out."
		}
		return "The block is closed before this. Begin a new line."
	case "Invalid single-argument block definition", "Argument definition required":
		return "A block in one line has one attribute and ends with } in that line. Write it over several lines, an attribute in each."
	case "Argument or block definition required":
		if rest := strings.TrimLeft(string(text[to:]), " \t"); strings.HasPrefix(rest, ":") {
			return fmt.Sprintf("Between an attribute and its value stands an equals sign: write %s = …", token)
		}
		if token == "}" {
			return "This } is one too many. Take it out, or look further up for one that stands too early."
		}
		return "Here an attribute is wanted, name = value, or a block, or the } that ends one."
	case "Invalid block definition":
		return "A block begins with its type, its name in quotes where it has one, and a { in the same line."
	case "Invalid argument name":
		return "The name of an attribute is written without quotes."
	case "Invalid expression", "Missing expression":
		return "A value is missing here, or has a sign in it that is not of this language."
	case "Missing false expression in conditional":
		return "A choice has three parts: condition ? value if so : value if not. The last one is missing."
	case "Invalid character":
		return badCharacter(token)
	}
	return d.Summary + ": " + d.Detail
}

var (
	numberBefore = regexp.MustCompile(`([0-9]+(?:[.][0-9]+)?)[ \t]*$`)
	unitWord     = regexp.MustCompile(`^(mm|um|nm|cm|m|inch|thou|deg|arcmin|arcsec|minutes|hours|days|celsius|kelvin)$`)
)

func badCharacter(token string) string {
	switch {
	case strings.HasPrefix(token, "'"):
		return "A text stands in double quotes, \"…\", not in single ones."
	case strings.HasPrefix(token, ";"):
		return "A semicolon has no place here. Begin a new line, or write a comma in a list."
	case printersQuote.MatchString(token):
		return token + " is a printer's quote. Write the straight one, \", at both ends of the text."
	}
	return fmt.Sprintf("The character %s has no place outside of a text. Take it out, or put the text in quotes.", diagnose.Plain(token))
}
