package prompt

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"golang.org/x/term"

	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
)

// settlePlain is how long a question has to stand before a terminal's lines
// answer it. Within a line a terminal tells nothing, so it is longer than for
// single keys.
const settlePlain = 400 * time.Millisecond

// Plain asks line by line: for screen readers, scripts and terminals that
// cannot redraw. It writes no escape sequences and never goes back over what
// it wrote. The end of the input is a pause.
//
// Where r is a terminal, lines that come at once with an answer are dropped and
// said, as they were typed for no question that was on the screen. From a pipe
// every line counts; one that fits no choice that is asked in between ends the
// sitting, as those behind it would be taken for what they do not mean.
func Plain(r io.Reader, w io.Writer, s Session, opts Options) (Result, error) {
	p := &plain{out: bufio.NewWriter(w), in: linesOf(r)}
	f, ok := r.(*os.File)
	p.live = ok && term.IsTerminal(int(f.Fd()))
	o, ok := w.(*os.File)
	p.rings = p.live && ok && term.IsTerminal(int(o.Fd()))
	defer close(p.in.stop)
	opts.Voice.Bare = true
	t, first := newTalk(s, opts)
	p.t = t
	p.show(first)
	for t.result == nil && p.err == nil {
		p.ask()
		p.settle()
		p.prompt()
		line, ok := p.next()
		if !ok {
			t.stop("the input ended")
			break
		}
		before := t.page
		r := t.enter(line)
		p.show(r)
		if p.stray(before, line, r) {
			p.write(t.v.Lay(lines("That answers nothing that is asked. What comes behind it was meant for later questions, so it stops here.")))
			t.stop("a line answered nothing that was asked")
		}
	}
	if t.result == nil {
		t.stop("the output could not be written")
	}
	if t.result.Paused {
		p.write(t.v.Lay(t.v.Paused()))
	}
	_ = p.out.Flush()
	return *t.result, t.err
}

// stray tells whether a line from a pipe fits nothing that is asked in between: a
// choice, a reason. Nobody is there to mend it, and the lines behind it would be
// taken for what they do not mean.
func (p *plain) stray(before *page, line string, r reply) bool {
	return !p.live && before != nil && p.t.page == before && !r.fresh && strings.TrimSpace(line) != ""
}

type plain struct {
	t     *talk
	in    *lineSource
	out   *bufio.Writer
	live  bool   // a person types: what comes too soon does not count
	rings bool   // the output is a terminal too: it has a bell
	new   bool   // the screen is to be said
	head  string // what was said last of where the question stands
	err   error
}

// lineSource reads lines in the background, so that those that come too soon
// can be told.
type lineSource struct {
	lines chan string // closed at the end of the input
	stop  chan struct{}
}

func linesOf(r io.Reader) *lineSource {
	src := &lineSource{make(chan string), make(chan struct{})}
	go func() {
		defer close(src.lines)
		sc := bufio.NewScanner(r)
		sc.Buffer(nil, maxLine)
		for sc.Scan() {
			select {
			case src.lines <- strings.TrimSuffix(sc.Text(), "\r"):
			case <-src.stop:
				return
			}
		}
	}()
	return src
}

func (p *plain) write(lines []string) {
	for _, l := range lines {
		if _, err := fmt.Fprintln(p.out, l); err != nil {
			p.err = err
		}
	}
}

// show says what a line led to.
func (p *plain) show(r reply) {
	p.write(p.t.v.Lay(r.log))
	p.write(p.t.v.Lay(r.remark))
	p.new = p.new || r.fresh
}

// ask says the question, unless it was said.
func (p *plain) ask() {
	if p.new {
		p.write([]string{""})
		p.write(p.t.linesAfter(p.head))
		p.head, p.new = p.t.head(), false
	}
	if err := p.out.Flush(); err != nil {
		p.err = err
	}
}

// prompt is the sign that a line counts from now on.
func (p *plain) prompt() {
	_, err := p.out.WriteString("> ")
	if err == nil {
		err = p.out.Flush()
	}
	if err != nil {
		p.err = err
	}
}

// settle drops the lines that came with the last one.
func (p *plain) settle() {
	if !p.live {
		return
	}
	n := 0
	for quiet := false; !quiet; {
		select {
		case _, ok := <-p.in.lines:
			if !ok {
				quiet = true
				break
			}
			n++
		case <-time.After(max(settlePlain, p.t.opts.Settle)):
			quiet = true
		}
	}
	if said := droppedLines(n); said != "" {
		p.write(p.t.v.Lay(voice.Screen{{Text: said}}))
	}
}

// next waits for a line. While a wait is on it is watched.
func (p *plain) next() (line string, ok bool) {
	told := p.t.s.Now()
	for {
		var tick <-chan time.Time
		if p.live && p.t.q.Kind == engine.AskWait {
			tick = time.After(time.Second)
		}
		select {
		case line, ok = <-p.in.lines:
			return line, ok
		case <-tick:
			told = p.watch(told)
		}
	}
}

// watch looks at a wait again: each minute it tells how long it still is, and
// at the end that it is over, with the bell. It returns when it told last.
func (p *plain) watch(told time.Time) time.Time {
	changed := p.t.lookAgain()
	now, w := p.t.s.Now(), p.t.q.Wait
	switch {
	case p.t.page != nil: // something is asked in between
	case changed:
		p.ring()
		p.new = true
		p.ask()
		p.prompt()
	case w != nil && !w.Reading && w.Over.After(now) && now.Sub(told) >= time.Minute:
		told = now
		p.write([]string{""})
		p.write(p.t.v.Lay(voice.Screen{{Text: p.t.v.Left(w.Over, now)}}))
		p.prompt()
	}
	return told
}

// ring ends the line of the prompt, and rings where there is a bell.
func (p *plain) ring() {
	end := ""
	if p.rings {
		end = "\a"
	}
	p.write([]string{end})
}
