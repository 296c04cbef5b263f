package cli

import (
	"strings"
	"testing"
	"time"

	"waywright/engine/rehearse"
	"waywright/procedures/library"
	"waywright/procedures/proofread"
)

// How far it is is told now and then on one line, which is wiped away at the end.
func TestCounting(t *testing.T) {
	var b strings.Builder
	c := &counting{a: &app{Streams: Streams{Err: &b}}, what: "a bar", of: 300, told: time.Now().Add(-time.Hour)}
	c.done(7)
	c.done(8) // too soon
	if got := b.String(); got != "\r  a bar: 7 of 300" {
		t.Errorf("%q", got)
	}
	c.over()
	if got := b.String(); !strings.HasSuffix(got, "\r"+strings.Repeat(" ", len("  a bar: 300 of 300"))+"\r") {
		t.Errorf("not wiped away: %q", got)
	}
	if c := (&app{Streams: Streams{Err: &b}}).count("a bar", 3); c != nil || c.tell() != nil {
		t.Error("told where nobody watches")
	}
}

// Whatever is listed as never reached stands beside a line, and nothing else does.
// Several lines may name one place: gates that leave their way to the procedure.
func TestLinesAreTheCoverage(t *testing.T) {
	for _, name := range library.Procedures() {
		src, _ := library.Source(name)
		p := proofread.File(src).Procedure
		missing := map[string]bool{}
		for _, m := range rehearse.Cover(p, rehearse.NewSeen()).Missing {
			missing[m.At.String()] = true
		}
		beside := map[string]bool{}
		for _, l := range rehearse.Lines(p, rehearse.NewSeen()) {
			if len(l.Seen) > 0 || len(l.Left) == 0 || !missing[l.At.String()] {
				t.Errorf("%s: %s: seen %v, left %v of a run that nobody played", l.At, l.What, l.Seen, l.Left)
			}
			beside[l.At.String()] = true
		}
		for at := range missing {
			if !beside[at] {
				t.Errorf("%s: %s stands beside no line", name, at)
			}
		}
	}
}
