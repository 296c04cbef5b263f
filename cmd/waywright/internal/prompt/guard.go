package prompt

import (
	"fmt"
	"time"
)

// A screen takes keys only when it has been there for a while and the keys
// have been still for as long. What comes sooner was typed for the screen
// before it, by a paste, by a gauge that sends line after line, or by a hand
// that was faster than the eye; nothing of it is kept, and that is said.
const (
	settle = 150 * time.Millisecond
	// A line that was begun too early is not to lose its first figures only:
	// until Enter, or until the keys are still for this many times as long, the
	// rest of it is not kept either.
	withinTimes = 5
)

// guard tells keys for the present screen from those that came too early. It
// has no clock: whoever holds it lets wait pass and then calls ready with the
// ticket.
type guard struct {
	settle time.Duration
	open   bool
	ticket int
	lines  int  // Enters that came too early
	within bool // since the last of them, other keys came
}

// shut is called when another screen is painted. It returns how long the keys
// must be still, and the ticket.
func (g *guard) shut() (wait time.Duration, ticket int) {
	g.open, g.lines, g.within = false, 0, false
	g.ticket++
	return g.settle, g.ticket
}

// early notes a key that came while shut, which is an Enter or another one;
// pasted tells how many lines came at once.
func (g *guard) early(enter bool, pasted int) (wait time.Duration, ticket int) {
	g.ticket++
	switch {
	case pasted > 0:
		g.lines += pasted
	case enter:
		g.lines++
		g.within = false
	default:
		g.within = true
	}
	if g.within {
		return withinTimes * g.settle, g.ticket
	}
	return g.settle, g.ticket
}

// ready opens the guard if nothing came since the ticket was given.
func (g *guard) ready(ticket int) bool {
	if ticket != g.ticket || g.open {
		return false
	}
	g.open = true
	return true
}

// dropped says what was not kept, or "".
func (g *guard) dropped() string {
	n := g.lines
	if g.within {
		n++
	}
	return droppedLines(n)
}

func droppedLines(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return "More came at once. Nothing of it was kept."
	}
	return fmt.Sprintf("%d more lines came at once. Nothing of them was kept.", n)
}
