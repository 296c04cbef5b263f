package diagnose

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"waywright/procedures/source"
)

const (
	width      = 78  // columns of the text
	lineWidth  = 160 // of a source line; what is longer is cut
	headLines  = 2   // lines shown from the head of the block
	aboveLines = 3   // lines shown above the subject where the block is long
	underLines = 6   // lines shown of a long subject
)

// WriteText writes each diagnostic with the lines it is about. The source of
// a file is asked for by the name in its range; nil leaves out the lines.
//
//	Error: Limit has the wrong dimension (E304)
//
//	  on bed.hcl line 24, in gate "level":
//	  22:   gate "level" {
//	  23:     of      = result.bow
//	  24:     at_most = arcsec(12)
//
//	result.bow is a length, but this limit is an angle. Write the limit as a
//	length, such as um(20).
//
// What a file contains never reaches the terminal as a control character.
func WriteText(w io.Writer, list List, src func(file string) []byte) error {
	var b strings.Builder
	for _, d := range list {
		writeOne(&b, d, src)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func writeOne(b *strings.Builder, d Diagnostic, src func(string) []byte) {
	word := d.Severity.String()
	fmt.Fprintf(b, "%s%s: %s (%s)\n\n", strings.ToUpper(word[:1]), word[1:], Plain(d.Summary), d.Code)
	if d.Subject.File != "" {
		fmt.Fprintf(b, "  on %s", Plain(d.Subject.File))
		if src != nil && len(src(d.Subject.File)) > 0 { // a file that was not read has no lines
			fmt.Fprintf(b, " line %d", d.Subject.Start.Line)
		}
		if d.In != "" {
			fmt.Fprintf(b, ", in %s", Plain(d.In))
		}
		b.WriteString(":\n")
		if src != nil {
			writeLines(b, d, src(d.Subject.File))
		}
		b.WriteString("\n")
	}
	if d.Detail != "" {
		b.WriteString(wrap(Plain(d.Detail)))
		b.WriteString("\n\n")
	}
}

// writeLines writes the lines of the context down to the last of the subject.
// Where they are many, the head of the block and the nearest are enough.
func writeLines(b *strings.Builder, d Diagnostic, src []byte) {
	if len(src) == 0 {
		return
	}
	first, last := d.Subject.Start.Line, lastLine(d.Subject)
	head := first
	if d.Context.File == d.Subject.File && d.Context.Start.Line > 0 && d.Context.Start.Line < first {
		head = d.Context.Start.Line
	}
	lines := strings.Split(string(src), "\n")
	digits := len(fmt.Sprint(min(last, len(lines))))
	show := func(n int) {
		if n >= 1 && n <= len(lines) {
			line := strings.TrimRight(fmt.Sprintf("  %*d: %s", digits, n, cut(lines[n-1])), " ")
			b.WriteString(line + "\n")
		}
	}
	n := head
	if first-head > headLines+aboveLines {
		show(head)
		fmt.Fprintf(b, "  %*s\n", digits+1, "…")
		n = first - aboveLines
	}
	for ; n <= last; n++ {
		if n-first >= underLines && n < last {
			fmt.Fprintf(b, "  %*s\n", digits+1, "…")
			return
		}
		show(n)
	}
}

// lastLine is the last line that holds something of the range.
func lastLine(r source.Range) int {
	if r.End.Line > r.Start.Line && r.End.Column == 1 {
		return r.End.Line - 1
	}
	return max(r.Start.Line, r.End.Line)
}

func cut(line string) string {
	line = Plain(strings.TrimRight(strings.ReplaceAll(line, "\t", "  "), "\r"))
	if utf8.RuneCountInString(line) <= lineWidth {
		return line
	}
	return string([]rune(line)[:lineWidth]) + " …"
}

// Plain returns the text with every character that a terminal could take for
// a command, or that would turn the direction of reading, written as its code.
func Plain(s string) string {
	if strings.IndexFunc(s, unsafe) < 0 && utf8.ValidString(s) {
		return s
	}
	var b strings.Builder
	for i, r := range s {
		switch {
		case r == utf8.RuneError && !strings.HasPrefix(s[i:], "\uFFFD"):
			fmt.Fprintf(&b, `\x%02x`, s[i])
		case unsafe(r):
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

func unsafe(r rune) bool { return r != '\n' && Control(r) }

// Control tells whether a character has no place in the text of a procedure:
// the control characters, and those that turn the direction of reading, with
// which a line can be made to look as it is not.
func Control(r rune) bool {
	return unicode.IsControl(r) || r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069 ||
		r == 0x2028 || r == 0x2029 || r == 0xFEFF
}

// wrap breaks the text into lines. Lines that begin with a blank are left as
// they are.
func wrap(s string) string {
	var out []string
	for _, para := range strings.Split(s, "\n") {
		if strings.HasPrefix(para, " ") || para == "" {
			out = append(out, para)
			continue
		}
		line := ""
		for _, word := range strings.Fields(para) {
			if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width {
				out = append(out, line)
				line = ""
			}
			if line != "" {
				line += " "
			}
			line += word
		}
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}
