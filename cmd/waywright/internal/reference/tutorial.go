package reference

import (
	_ "embed" // the texts
	"fmt"
	"strings"
)

//go:embed text/tutorial.md
var tutorial string

// Tutorial returns the parts of the first chapter, for who follows it step by
// step.
func Tutorial() []Piece { return pieces(tutorial) }

// Put returns a procedure file with blocks put into it as the tutorial has it:
// each takes the place of the block with its head; a new one comes below the
// block whose head is given.
func Put(file, blocks, below string) (string, error) {
	lines := strings.SplitAfter(file, "\n")
	for _, b := range outermost(strings.SplitAfter(blocks, "\n")) {
		head, _, _ := strings.Cut(b[0], " {")
		from, to, ok := find(lines, head)
		switch {
		case ok:
		case below == "":
			return "", fmt.Errorf("there is no %s, and nothing says below what it comes", head)
		default:
			_, to, ok = find(lines, below)
			if !ok {
				return "", fmt.Errorf("there is no %s", below)
			}
			from, b = to, append([]string{"\n"}, b...)
		}
		out := append([]string{}, lines[:from]...)
		out = append(out, b...)
		lines = append(out, lines[to:]...)
		below = head
	}
	return strings.Join(lines, ""), nil
}

// find returns the lines of the outermost block with that head.
func find(lines []string, head string) (from, to int, ok bool) {
	for i, l := range lines {
		if strings.HasPrefix(l, head+" {") {
			return i, i + length(lines[i:]), true
		}
	}
	return 0, 0, false
}

// length counts the lines of a block that begins with the first.
func length(lines []string) int {
	if strings.HasSuffix(strings.TrimRight(lines[0], "\n"), "}") {
		return 1
	}
	for n, l := range lines {
		if strings.HasPrefix(l, "}") {
			return n + 1
		}
	}
	return len(lines)
}

// outermost returns the blocks of a text, each as its lines.
func outermost(lines []string) [][]string {
	var out [][]string
	for i := 0; i < len(lines); {
		if strings.TrimSpace(lines[i]) == "" {
			i++
			continue
		}
		n := length(lines[i:])
		out = append(out, lines[i:i+n])
		i += n
	}
	return out
}
