package prompt

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"waywright/engine"
)

// maxLine is the longest line that an answers file may have. A row of a
// thousand readings fits ten times over.
const maxLine = 64 << 10

// A Statement is one line of an answers file: an answer by name, or a verb.
type Statement struct {
	Line, Column int // of the name or verb, from 1
	ValueColumn  int // of the value, from 1; 0 where there is none
	engine.Input
	Path string // of the file to attach, as written

	NoPlace bool // the file is kept without where it was taken
}

// A FileError is something in an answers file that cannot be carried out.
type FileError struct {
	File         string
	Line, Column int    // from 1; 0 where the whole file is meant
	Text         string // what was understood, what is wrong, what to write
	Err          error  // the cause, where there is one
}

func (e *FileError) Error() string {
	switch {
	case e.Line == 0:
		return e.File + ": " + e.Text
	case e.Column == 0:
		return fmt.Sprintf("%s:%d: %s", e.File, e.Line, e.Text)
	}
	return fmt.Sprintf("%s:%d:%d: %s", e.File, e.Line, e.Column, e.Text)
}

func (e *FileError) Unwrap() error { return e.Err }

// A statementReader reads an answers file line by line, so that answers piped
// in one at a time are carried out one at a time.
type statementReader struct {
	file string
	in   *bufio.Reader
	line int
}

func newStatementReader(r io.Reader, file string) *statementReader {
	return &statementReader{file: file, in: bufio.NewReader(r)}
}

// Unreadable returns the first line of an answers file that is no statement,
// as a [FileError], or nil. What the lines answer is not looked at.
func Unreadable(r io.Reader, file string) error {
	in := newStatementReader(r, file)
	for {
		if _, err := in.next(); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
	}
}

// next returns the next statement, or io.EOF.
func (r *statementReader) next() (Statement, error) {
	for {
		raw, err := r.readLine()
		if err != nil {
			return Statement{}, err
		}
		st, ok, err := parseStatement(raw)
		if err != nil {
			var at *columnError
			errors.As(err, &at)
			return Statement{}, &FileError{File: r.file, Line: r.line, Column: at.column, Text: at.text}
		}
		if ok {
			st.Line = r.line
			return st, nil
		}
	}
}

// readLine returns the next line without its end.
func (r *statementReader) readLine() (string, error) {
	var line []byte
	for {
		chunk, err := r.in.ReadSlice('\n')
		line = append(line, chunk...)
		if len(line) > maxLine {
			return "", &FileError{File: r.file, Line: r.line + 1,
				Text: fmt.Sprintf("this line has more than %d characters: it is not an answers file", maxLine)}
		}
		if errors.Is(err, bufio.ErrBufferFull) {
			continue
		}
		if errors.Is(err, io.EOF) && len(line) == 0 {
			return "", io.EOF
		}
		if err != nil && !errors.Is(err, io.EOF) {
			return "", &FileError{File: r.file, Line: r.line + 1, Text: "cannot be read: " + err.Error(), Err: err}
		}
		break
	}
	r.line++
	if r.line == 1 {
		line = bytes.TrimPrefix(line, []byte("\uFEFF")) // a byte order mark
	}
	line = bytes.TrimSuffix(line, []byte("\n"))
	line = bytes.TrimSuffix(line, []byte("\r"))
	if text := unreadable(line); text != "" {
		return "", &FileError{File: r.file, Line: r.line, Text: text}
	}
	return string(line), nil
}

// unreadable says why a line is not text, or "".
func unreadable(line []byte) string {
	if !utf8.Valid(line) {
		return "this line is not UTF-8 text"
	}
	for i, c := range string(line) {
		if c != '\t' && unicode.IsControl(c) {
			return fmt.Sprintf("character %d is a control character (%U): it is not an answers file", i+1, c)
		}
	}
	return ""
}

// A columnError is what is wrong with one line.
type columnError struct {
	column int
	text   string
}

func (e *columnError) Error() string { return e.text }

func wrong(column int, format string, args ...any) *columnError {
	return &columnError{column, fmt.Sprintf(format, args...)}
}

// verbs are the words that may stand at the beginning of a line instead of a
// name, when no = follows.
var verbs = map[string]func(rest string, column int) (Statement, error){
	"back":    bareVerb(engine.Back),
	"pause":   pauseVerb,
	"note":    noteVerb,
	"attach":  attachVerb,
	"amend":   amendVerb,
	"cannot":  cannotVerb,
	"disturb": disturbVerb,
	"abandon": abandonVerb,

	"leave_out": leaveOutVerb,
}

// parseStatement reads one line; ok is false for an empty one and for a
// comment. The error is a *columnError.
func parseStatement(line string) (st Statement, ok bool, err error) {
	line = strings.TrimRightFunc(uncommented(line), unicode.IsSpace)
	body := strings.TrimLeftFunc(line, unicode.IsSpace)
	if body == "" {
		return Statement{}, false, nil
	}
	column := utf8.RuneCountInString(line) - utf8.RuneCountInString(body) + 1
	name, value, answer := strings.Cut(body, "=")
	if !answer || strings.ContainsAny(strings.TrimSpace(name), " \t\"") {
		word, rest, _ := strings.Cut(body, " ")
		parse, known := verbs[word]
		switch {
		case known:
			st, err = parse(strings.TrimSpace(rest), column)
			st.Column = column
			return st, err == nil, err
		case answer:
			return Statement{}, false, wrong(column, "%q is not the name of a question: names have no blanks", strings.TrimSpace(name))
		}
		return Statement{}, false, wrong(column, "I read %q. A line is name = value, or one of back, pause, note, attach, amend, cannot, disturb, leave_out, abandon.", body)
	}
	if strings.TrimSpace(name) == "" {
		return Statement{}, false, wrong(column, "no name stands before the =")
	}
	st, err = answerStatement(strings.TrimSpace(name), value, column+utf8.RuneCountInString(name)+1)
	st.Column = column
	return st, err == nil, err
}

// answerStatement reads what stands behind "name =".
func answerStatement(name, value string, column int) (Statement, error) {
	trimmed := strings.TrimLeftFunc(value, unicode.IsSpace)
	column += utf8.RuneCountInString(value) - utf8.RuneCountInString(trimmed)
	text, reason, err := because(trimmed, column)
	if err != nil {
		return Statement{}, err
	}
	if strings.TrimSpace(text) == "" {
		return Statement{}, wrong(column, "%s has no value: write %s = value", name, name)
	}
	st := Statement{ValueColumn: column, Input: engine.Input{Name: name, Text: text, Reason: reason}}
	if text == "cannot" {
		if reason == "" {
			return Statement{}, wrong(column, "%s cannot be taken, but no reason is given: write %s = cannot because REASON", name, name)
		}
		st.Verb, st.Text = engine.Cannot, ""
	}
	return st, nil
}

// because parts a value from its reason, and takes the quotes off the value.
func because(s string, column int) (text, reason string, err error) {
	if strings.HasPrefix(s, `"`) {
		end := quoteEnd(s)
		if end < 0 {
			return "", "", wrong(column, `the quotation mark is not closed: write "…"`)
		}
		text, err := strconv.Unquote(s[:end])
		if err != nil {
			return "", "", wrong(column, `%s is not understood: within quotation marks write \" for a quotation mark and \\ for a backslash`, s[:end])
		}
		rest := strings.TrimSpace(s[end:])
		reason, found := strings.CutPrefix(rest, "because ")
		if rest != "" && !found {
			return "", "", wrong(column+utf8.RuneCountInString(s[:end]), "%q stands behind the quoted value: only because REASON may", rest)
		}
		return text, strings.TrimSpace(reason), nil
	}
	fields := strings.Fields(s)
	for i, f := range fields {
		if f == "because" {
			if i+1 == len(fields) {
				return "", "", wrong(column, "because is not followed by a reason")
			}
			return strings.Join(fields[:i], " "), strings.Join(fields[i+1:], " "), nil
		}
	}
	return strings.Join(fields, " "), "", nil
}

// quoteEnd returns the offset behind the closing quotation mark, or −1.
func quoteEnd(s string) int {
	for i := 1; i < len(s); i++ {
		switch s[i] {
		case '\\':
			i++
		case '"':
			return i + 1
		}
	}
	return -1
}

// uncommented cuts a comment off: from a # that begins the line or follows a
// blank, outside quotation marks.
func uncommented(line string) string {
	quoted, blank := false, true
	for i := 0; i < len(line); i++ {
		switch c := line[i]; {
		case quoted && c == '\\':
			i++
		case c == '"' && (quoted || blank || line[i-1] == '='):
			quoted = !quoted
		case c == '#' && blank && !quoted:
			return line[:i]
		}
		blank = i < len(line) && (line[i] == ' ' || line[i] == '\t')
	}
	return line
}

func bareVerb(v engine.Verb) func(string, int) (Statement, error) {
	return func(rest string, column int) (Statement, error) {
		if rest != "" {
			return Statement{}, wrong(column, "%s stands alone on its line; %q is left over", v, rest)
		}
		return Statement{Input: engine.Input{Verb: v}}, nil
	}
}

func pauseVerb(rest string, column int) (Statement, error) {
	_, reason, err := because(rest, column)
	return Statement{Input: engine.Input{Verb: engine.Pause, Reason: reason}}, err
}

func noteVerb(rest string, column int) (Statement, error) {
	if rest == "" {
		return Statement{}, wrong(column, "the note is empty: write note TEXT")
	}
	return Statement{Input: engine.Input{Verb: engine.Note, Text: rest}}, nil
}

// noPlace stands before a file of which the place where it was taken is not
// kept.
const noPlace = "--no-place"

// placed parts a file's name from the wish that its place is not kept.
func placed(s string) (path string, without bool) {
	rest, ok := strings.CutPrefix(s, noPlace)
	if !ok || rest != "" && rest[0] != ' ' && rest[0] != '\t' {
		return s, false
	}
	return strings.TrimSpace(rest), true
}

func attachVerb(rest string, column int) (Statement, error) {
	rest, without := placed(rest)
	path, text := rest, ""
	if end := quoteEnd(rest); strings.HasPrefix(rest, `"`) && end > 0 {
		path, text = rest[1:end-1], strings.TrimSpace(rest[end:])
	} else if p, t, ok := strings.Cut(rest, " "); ok {
		path, text = p, strings.TrimSpace(t)
	}
	if path == "" {
		return Statement{}, wrong(column, "no file is named: write attach FILE, and what it shows")
	}
	return Statement{Path: path, NoPlace: without, Input: engine.Input{Verb: engine.Attach, Text: text}}, nil
}

func amendVerb(rest string, column int) (Statement, error) {
	name, value, _ := strings.Cut(rest, " ")
	st := Statement{Input: engine.Input{Verb: engine.Amend, Name: name}}
	equals := func(s string) string { return strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(s), "=")) }
	value = equals(value)
	if after, ok := strings.CutPrefix(value, "take "); ok {
		number, tail, _ := strings.Cut(strings.TrimSpace(after), " ")
		n, err := strconv.Atoi(number)
		if err != nil || n < 1 {
			return Statement{}, wrong(column, "take %q is not a whole number above 0: write amend %s take 2 VALUE because REASON", number, name)
		}
		st.Take, value = n, equals(tail)
	}
	text, reason, err := because(value, column)
	switch {
	case err != nil:
		return Statement{}, err
	case name == "" || text == "":
		return Statement{}, wrong(column, "amend needs a name and a value: write amend NAME VALUE because REASON")
	case reason == "":
		return Statement{}, wrong(column, "%s is amended without a reason: write amend %s %s because REASON", name, name, text)
	}
	st.Text, st.Reason = text, reason
	return st, nil
}

func cannotVerb(rest string, column int) (Statement, error) {
	_, reason, err := because(rest, column)
	if err == nil && reason == "" {
		err = wrong(column, "no reason is given: write cannot because REASON")
	}
	return Statement{Input: engine.Input{Verb: engine.Cannot, Reason: reason}}, err
}

func disturbVerb(rest string, column int) (Statement, error) {
	name, reason, err := because(rest, column)
	if err == nil && (name == "" || reason == "") {
		err = wrong(column, "write disturb NAME because REASON, with the name of a step, an instrument, or machine")
	}
	return Statement{Input: engine.Input{Verb: engine.Disturb, Name: name, Reason: reason}}, err
}

func abandonVerb(rest string, column int) (Statement, error) {
	_, reason, err := because(rest, column)
	if err == nil && reason == "" {
		err = wrong(column, "no reason is given: write abandon because REASON. Nobody can go on with a run that is abandoned")
	}
	return Statement{Input: engine.Input{Verb: engine.Abandon, Reason: reason}}, err
}

// leaveOutVerb reads which test is left out, who agreed to it and why:
// leave_out TEST agreed NAME because REASON.
func leaveOutVerb(rest string, column int) (Statement, error) {
	said, reason, err := because(rest, column)
	if err != nil {
		return Statement{}, err
	}
	test, agreed, ok := strings.Cut(said, " agreed ")
	if !ok || reason == "" || strings.TrimSpace(agreed) == "" {
		return Statement{}, wrong(column, "write leave_out TEST agreed NAME because REASON, with who agreed to it")
	}
	return Statement{Input: engine.Input{Verb: engine.Exclude, Name: strings.TrimSpace(test), Text: strings.TrimSpace(agreed), Reason: reason}}, nil
}
