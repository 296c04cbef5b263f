package explain

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"waywright/procedures/diagnose"
)

const width = 78 // columns of the text

// WriteText writes a page for a terminal. A line that earns the code has > in
// front of it, one that is new in the mended example +; no colour is needed.
func (p Page) WriteText(w io.Writer) error {
	var b strings.Builder
	kind := "an error: the file cannot be used"
	if p.Severity() == diagnose.Warning {
		kind = "a warning: the file can be used"
	}
	fmt.Fprintf(&b, "%s  %s\n%s\n\n%s", p.Code, p.Summary, kind, para(p.Why))
	b.WriteString("\nFor example:\n\n")
	write(&b, p.Wrong, '>')
	b.WriteString("\nproofread says:\n\n")
	for _, s := range p.Said[:1] {
		b.WriteString(indented(para(s)))
	}
	b.WriteString("\nThe mend. " + strings.TrimLeft(para("           "+p.Mend), " "))
	b.WriteString("\n")
	write(&b, p.Mended, '+')
	_, err := io.WriteString(w, b.String())
	return err
}

func write(b *strings.Builder, e Example, mark byte) {
	if e.Named() {
		fmt.Fprintf(b, "    waywright proofread %s\n", e.Path)
	}
	for _, f := range e.Files {
		lines := f.Shown()
		if len(lines) == 0 {
			continue
		}
		if f.Name != "example.hcl" || len(e.Files) > 1 {
			fmt.Fprintf(b, "  in %s:\n", f.Name)
		}
		for _, l := range lines {
			margin := ' '
			if mark == '>' && l.Marked || mark == '+' && l.Differ {
				margin = rune(mark)
			}
			b.WriteString(strings.TrimRight(fmt.Sprintf("  %c %s", margin, l.Text), " ") + "\n")
		}
	}
}

func indented(s string) string {
	return "    " + strings.ReplaceAll(strings.TrimRight(s, "\n"), "\n", "\n    ") + "\n"
}

// para breaks a text into lines. Blanks in front of it are counted and kept.
func para(s string) string {
	var b strings.Builder
	at := len(s) - len(strings.TrimLeft(s, " "))
	b.WriteString(s[:at])
	for i, word := range strings.Fields(s) {
		n := utf8.RuneCountInString(word)
		switch {
		case i > 0 && at+1+n > width-4:
			b.WriteString("\n")
			at = 0
		case i > 0:
			b.WriteString(" ")
			at++
		}
		b.WriteString(diagnose.Plain(word))
		at += n
	}
	return b.String() + "\n"
}
