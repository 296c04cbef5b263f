package seal

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// place is where two texts differ first.
type place struct {
	line      int
	path      string // tests[2].found.value
	want, got string
}

func (p place) where(file string) string {
	if p.path == "" {
		return at(file, p.line)
	}
	return field(file, p.line, p.path)
}

func at(file string, line int) string { return fmt.Sprintf("%s line %d", file, line) }

func field(file string, line int, path string) string { return at(file, line) + ", " + path }

// difference finds the first line in which two texts differ. want is JSON as
// this program lays it out, an item a line.
func difference(want, got []byte) place {
	w, g := strings.Split(string(want), "\n"), strings.Split(string(got), "\n")
	n := 0
	for n < len(w) && n < len(g) && w[n] == g[n] {
		n++
	}
	p := place{line: n + 1, want: "no more", got: "no more"}
	if n < len(w) {
		p.want, p.path = shortened(w[n]), pathOf(w, n)
	}
	if n < len(g) {
		p.got = shortened(g[n])
	}
	return p
}

// shortened is a line as it can be shown.
func shortened(s string) string {
	const most = 80
	s = strings.TrimSuffix(strings.TrimSpace(s), ",")
	if s == "" {
		return "nothing"
	}
	if !utf8.ValidString(s) {
		return fmt.Sprintf("%.80q", s)
	}
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "…"
	}
	return s
}

// pathOf names what stands in a line of laid-out JSON, from the outside in.
func pathOf(lines []string, n int) string {
	var parts []string
	deep := indent(lines[n])
	if name := nameIn(lines[n]); name != "" {
		parts = append(parts, name)
	}
	items := 0 // before this one, in its list
	if nameIn(lines[n]) == "" && !closes(lines[n]) {
		items = 1
	}
	for i := n - 1; i >= 0; i-- {
		switch d := indent(lines[i]); {
		case d > deep:
		case d == deep:
			if nameIn(lines[i]) == "" && !closes(lines[i]) {
				items++
			}
		default: // what it stands in
			name := nameIn(lines[i])
			if strings.HasSuffix(lines[i], "[") && items > 0 {
				parts = append(parts, fmt.Sprintf("%s[%d]", name, items-1))
			} else if name != "" {
				parts = append(parts, name)
			}
			deep, items = d, 0
			if name == "" && strings.TrimSpace(lines[i]) != "" {
				items = 1
			}
		}
	}
	slices.Reverse(parts)
	return strings.ReplaceAll(strings.Join(parts, "."), ".[", "[")
}

func indent(s string) int { return len(s) - len(strings.TrimLeft(s, " ")) }

func closes(s string) bool {
	s = strings.TrimSpace(s)
	return strings.HasPrefix(s, "}") || strings.HasPrefix(s, "]")
}

// nameIn returns the name at the beginning of a line, or "".
func nameIn(s string) string {
	s = strings.TrimSpace(s)
	if !strings.HasPrefix(s, `"`) {
		return ""
	}
	name, rest, ok := strings.Cut(s[1:], `"`)
	if !ok || !strings.HasPrefix(rest, ":") {
		return ""
	}
	return name
}

func sumOf(b []byte) string {
	h := sha256.Sum256(b)
	return hex.EncodeToString(h[:])
}

// onlyEndings says of a file whose lines end in another way than those that have
// this hash, and that is the same else.
func onlyEndings(b []byte, sum string) (said string, ok bool) {
	if again, ok := unixEndings(b); ok && sumOf(again) == sum {
		return "Its line endings were changed, and nothing else: a mail program or an editor does that. Have the file sent packed, or take it from where it was made.", true
	}
	return "", false
}

// unixEndings gives every line the ending that this program writes; ok is false
// where they all have it.
func unixEndings(b []byte) (out []byte, ok bool) {
	return bytes.ReplaceAll(b, []byte("\r\n"), []byte("\n")), bytes.Contains(b, []byte("\r\n"))
}

func clock(t time.Time) string { return t.UTC().Format("2006-01-02 15:04:05 UTC") }

func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return strings.ToUpper(string(r)) + s[n:]
}

func count(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}
