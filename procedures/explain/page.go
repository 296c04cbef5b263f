package explain

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io/fs"
	"regexp"
	"strconv"
	"strings"
)

// A page is a file of lines. The first character says which of the two
// examples a line belongs to, and a blank follows it:
//
//	(blank)  both
//	-        the wrong one
//	+        the mended one
//	!        both; in the wrong one it earns the code
//	:        both; it is not shown
//
// ### at the end of a line of the wrong example says that it earns the code.
// @name stands for lines of [parts] that are not shown, "== name" begins a
// file, "> name" says which file is named to be proofread wrongly. "also E101"
// says which codes the example earns besides; it is for the tests.
//
// {{byte e9}} is a byte that no text has, {{repeat 300 "("}} so many of them,
// {{lines 5 "x%d = 1"}} so many lines.

// parts are what most examples have besides, and nobody needs to look at.
var parts = map[string]string{
	"head": `procedure "example" {
  title    = "An example"
  machine  = "any"
  revision = "1"
  purpose  = "Show what is said of it."
}`,
	"sign": `signoff "fitter" { title = "Carried out by" }`,
	"read": `step "read" {
  title = "Read the bar"
  reading "bow" {
    ask   = "Middle of the bar: height"
    unit  = "um"
    range = [um(-100), um(100)]
  }`,
	"withdial": `step "read" {
  title = "Read the bar"
  reading "bow" {
    ask   = "Middle of the bar: height"
    unit  = "um"
    with  = instrument.dial
    range = [um(-100), um(100)]
  }`,
	"judge":  gate("reject"),
	"judge2": gate("correction.shim, reject"),
	"judge3": gate("correction.clean, reject"),
	"end":    `}`,
	"lever": `instrument "lever" {
  kind          = "lever indicator"
  resolution    = um(2)
  error         = um(4)
  repeatability = um(1)
}`,
	"clean": `correction "clean" {
  title = "Clean it and try again"
  do    = ["Wipe the bar and the block under it."]
}`,
}

func gate(ways string) string {
	return `  gate "level" {
    title     = "The bar is level"
    of        = reading.bow
    within    = plus_minus(um(30))
    source    = "shop rule"
    if_failed = [` + ways + `]
  }`
}

// ownFile matches a page that says what its first file is called, and has a
// head of its own.
var ownFile = regexp.MustCompile(`^(?:(?:>|also) .*\n)*== `)

// pageReader takes a page apart.
type pageReader struct {
	wrong, mended Example
}

func parse(text string) (wrong, mended Example) {
	r := &pageReader{}
	if !ownFile.MatchString(text) {
		r.begin("example.hcl", ' ')
		r.part("head")
	}
	named := ""
	for _, line := range strings.Split(strings.TrimRight(text, "\n"), "\n") {
		switch {
		case strings.HasPrefix(line, "> "):
			named = line[2:]
		case strings.HasPrefix(line, "also "):
		case strings.HasPrefix(line, "@step"):
			for _, p := range []string{"read", "judge", "end"} {
				r.part(p)
			}
		case strings.HasPrefix(line, "@"):
			r.part(line[1:])
		case strings.HasPrefix(line, "== "):
			r.begin(line[3:], ' ')
		case strings.HasPrefix(line, "+ == "):
			r.begin(line[5:], '+')
		case line == "":
			r.line(' ', "")
		default:
			r.line(line[0], strings.TrimPrefix(line[1:], " "))
		}
	}
	r.finish()
	if named != "" {
		r.wrong.Path = named
	}
	return r.wrong, r.mended
}

// also are the codes that a page's wrong example earns besides.
func also(text string) []string {
	for _, line := range strings.Split(text, "\n") {
		if codes, ok := strings.CutPrefix(line, "also "); ok {
			return strings.Fields(codes)
		}
	}
	return nil
}

func (r *pageReader) begin(name string, margin byte) {
	add := func(e *Example) {
		if e.Path == "" {
			e.Path = name
		}
		e.Files = append(e.Files, File{Name: name})
	}
	add(&r.mended)
	if margin != '+' {
		add(&r.wrong)
	}
}

// finish signs what needs a signature and has none.
func (r *pageReader) finish() {
	for _, e := range []*Example{&r.wrong, &r.mended} {
		f := &e.Files[0]
		if text := string(f.Text()); f.Name == "example.hcl" && !strings.Contains(text, "signoff ") {
			f.Lines = append(f.Lines, hidden("sign")...)
		}
	}
}

func hidden(part string) []Line {
	text, ok := parts[part]
	if !ok {
		panic("explain: there is no part " + part)
	}
	var out []Line
	for _, l := range strings.Split(text, "\n") {
		out = append(out, Line{Text: l, full: l, Hidden: true})
	}
	return out
}

func (r *pageReader) part(name string) {
	r.add(&r.wrong, hidden(name)...)
	r.add(&r.mended, hidden(name)...)
}

func (r *pageReader) add(e *Example, l ...Line) {
	f := &e.Files[len(e.Files)-1]
	f.Lines = append(f.Lines, l...)
}

func (r *pageReader) line(margin byte, text string) {
	text, marked := strings.CutSuffix(text, " ###")
	lines := written(text)
	for i := range lines {
		lines[i].Marked = (marked || margin == '!') && i == 0
		lines[i].Differ = margin == '-' || margin == '+'
		lines[i].Hidden = margin == ':' || i > shownLines
	}
	if margin != '+' {
		r.add(&r.wrong, lines...)
	}
	if margin != '-' {
		for i := range lines {
			lines[i].Marked = false
		}
		r.add(&r.mended, lines...)
	}
}

// shownLines is how many lines of many that are alike are shown.
const shownLines = 1

var made = regexp.MustCompile(`\{\{(byte|repeat|lines) ([0-9a-f]+)(?: ("(?:[^"\\]|\\.)*"))?\}\}`)

// written returns the lines that a line of a page stands for.
func written(text string) []Line {
	m := made.FindStringSubmatch(text)
	if m == nil {
		return []Line{{Text: text, full: text}}
	}
	if m[1] == "lines" {
		before, n := indent(text), number(m[2], 10)
		var out []Line
		for i := range n {
			l := before + fmt.Sprintf(unquote(m[3]), i+1)
			out = append(out, Line{Text: l, full: l})
		}
		out[shownLines].Text = before + "…" // and as many more
		return out
	}
	full := made.ReplaceAllStringFunc(text, func(s string) string { return expand(s, 1<<30) })
	short := made.ReplaceAllStringFunc(text, func(s string) string { return expand(s, 8) })
	return []Line{{Text: short, full: full}}
}

// expand returns what one {{…}} stands for; of more than so many the first,
// for showing.
func expand(s string, most int) string {
	m := made.FindStringSubmatch(s)
	if m[1] == "byte" {
		b := string([]byte{byte(number(m[2], 16))})
		if most < 1<<30 {
			return fmt.Sprintf("\\x%02x", b[0])
		}
		return b
	}
	n, x := number(m[2], 10), unquote(m[3])
	if n > most {
		return strings.Repeat(x, most/min(most, len(x))) + "…"
	}
	return strings.Repeat(x, n)
}

func number(s string, base int) int {
	n, err := strconv.ParseInt(s, base, 32)
	if err != nil {
		panic("explain: " + err.Error())
	}
	return int(n)
}

func unquote(s string) string {
	out, err := strconv.Unquote(s)
	if err != nil {
		panic("explain: " + s + ": " + err.Error())
	}
	return out
}

// folder returns the files as a file system.
func (e Example) folder() fs.FS {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range e.Files {
		out, err := w.CreateHeader(&zip.FileHeader{Name: f.Name, Method: zip.Store})
		if err == nil {
			_, err = out.Write(f.Text())
		}
		if err != nil {
			panic("explain: " + err.Error()) // nothing is written but memory
		}
	}
	if err := w.Close(); err != nil {
		panic("explain: " + err.Error())
	}
	r, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		panic("explain: " + err.Error())
	}
	return r
}
