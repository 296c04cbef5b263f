package cli

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"strings"
	"time"
	"unicode/utf8"

	"waywright/engine/rehearse"
	"waywright/procedures"
	"waywright/procedures/diagnose"
)

// lineSeen is a line of the procedure's source, and what rehearsals saw of what
// begins there.
type lineSeen struct {
	File string `json:"file"`
	Line int    `json:"line"`
	What string `json:"what"` // "gate straight"
	Seen string `json:"seen"` // "pass, fail"; "" where nothing was
	Left string `json:"left"` // what was never reached: "undecided"; "" where nothing is
}

func linesOf(p *procedures.Procedure, seen *rehearse.Seen) []lineSeen {
	out := []lineSeen{}
	for _, l := range rehearse.Lines(p, seen) {
		out = append(out, lineSeen{l.At.File, l.At.Start.Line, l.What, strings.Join(l.Seen, ", "), strings.Join(l.Left, ", ")})
	}
	return out
}

// listing prints the source with what was seen of each line beside it, up to the
// rehearsals, which are no part of a run. A line of which something was never
// reached has a mark.
func (a *app) listing(p *procedures.Procedure, lines []lineSeen) {
	for _, f := range p.Files {
		marks := map[int][]lineSeen{}
		width := 0
		for _, l := range lines {
			if l.File == f.Name {
				marks[l.Line] = append(marks[l.Line], l)
				width = max(width, utf8.RuneCountInString(beside(marks[l.Line])))
			}
		}
		if len(marks) == 0 {
			continue
		}
		a.printf("  %s\n", diagnose.Plain(f.Name))
		for i, text := range bytes.Split(f.Bytes, []byte("\n")) {
			n := i + 1
			if strings.HasPrefix(string(text), "rehearsal ") {
				break
			}
			flag := " "
			for _, l := range marks[n] {
				if l.Left != "" {
					flag = "!"
				}
			}
			m := beside(marks[n])
			pad := strings.Repeat(" ", width-utf8.RuneCountInString(m))
			a.printf("%s\n", strings.TrimRight(fmt.Sprintf("  %s %s%s %4d | %s", flag, m, pad, n, diagnose.Plain(string(text))), " "))
		}
	}
	a.printf("  A line with ! has something that no rehearsal reached.\n")
}

// beside is what stands beside a line: what was seen, then what was not.
func beside(ls []lineSeen) string {
	var out []string
	for _, l := range ls {
		s := l.Seen
		if l.Left != "" {
			s = strings.TrimLeft(s+"; never "+l.Left, "; ")
		}
		out = append(out, s)
	}
	return strings.Join(out, " / ")
}

// counting tells on a terminal how far a long computation is.
type counting struct {
	a    *app
	what string
	of   int
	told time.Time
	open bool // a line is begun
}

// every is how often it is told.
const every = 200 * time.Millisecond

// count returns what tells how many are done, or nil where nobody watches.
func (a *app) count(what string, of int) *counting {
	if !watched(a.Err) {
		return nil
	}
	return &counting{a: a, what: what, of: of, told: time.Now()}
}

// watched tells whether somebody sees at once what is written.
func watched(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && isTerminal(f)
}

// done tells of it at most every now and then.
func (c *counting) done(n int) {
	if now := time.Now(); now.Sub(c.told) >= every {
		c.told, c.open = now, true
		fmt.Fprintf(c.a.Err, "\r  %s: %d of %d", c.what, n, c.of)
	}
}

// tell is done, as a function that may be nil.
func (c *counting) tell() func(int) {
	if c == nil {
		return nil
	}
	return c.done
}

// over wipes the line away.
func (c *counting) over() {
	if c != nil && c.open {
		fmt.Fprintf(c.a.Err, "\r%s\r", strings.Repeat(" ", utf8.RuneCountInString(fmt.Sprintf("  %s: %d of %d", c.what, c.of, c.of))))
	}
}
