package prompt

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
)

// terminal is the program on a real terminal: the test binary itself, see
// TestMain.
type terminal struct {
	t    *testing.T
	f    *os.File
	cmd  *exec.Cmd
	kept string
	done chan struct{} // closed when all output was read

	cols, rows uint16

	mu  sync.Mutex
	out strings.Builder
}

func start(t *testing.T, cols, rows uint16, env ...string) *terminal {
	t.Helper()
	kept := filepath.Join(t.TempDir(), "kept")
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), append([]string{"PROMPT_CHILD=tailstock-by-test-cut", "PROMPT_KEPT=" + kept, "TERM=xterm-256color"}, env...)...)
	f, err := pty.StartWithSize(cmd, &pty.Winsize{Cols: cols, Rows: rows})
	if err != nil {
		t.Fatal(err)
	}
	p := &terminal{t: t, f: pollable(t, f), cmd: cmd, kept: kept, cols: cols, rows: rows, done: make(chan struct{})}
	t.Cleanup(func() {
		_ = p.f.Close()
		_ = cmd.Process.Kill()
	})
	go p.read()
	return p
}

// pollable returns the file so that closing it ends a read that waits, which
// is not so once its descriptor was asked for.
func pollable(t *testing.T, f *os.File) *os.File {
	t.Helper()
	fd, err := syscall.Dup(int(f.Fd()))
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(f.Close(), syscall.SetNonblock(fd, true)); err != nil {
		t.Fatal(err)
	}
	return os.NewFile(uintptr(fd), "ptmx")
}

func (p *terminal) read() {
	defer close(p.done)
	buf := make([]byte, 4096)
	for {
		n, err := p.f.Read(buf)
		p.mu.Lock()
		p.out.Write(buf[:n])
		p.mu.Unlock()
		if err != nil {
			return
		}
	}
}

func (p *terminal) raw() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.out.String()
}

var escapes = regexp.MustCompile("\x1b\\[[0-9;?$<>=]*[a-zA-Z]|\x1b[=>]")

// text is what was written, without what moves the cursor.
func (p *terminal) text() string { return escapes.ReplaceAllString(p.raw(), "") }

// waitFor waits until something was written. The time is how long a test may
// hang, not how long it takes.
func (p *terminal) waitFor(want string) {
	p.t.Helper()
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		if strings.Contains(p.text(), want) {
			return
		}
	}
	p.t.Fatalf("%q never came:\n%s", want, p.text())
}

func (p *terminal) write(s string) {
	p.t.Helper()
	if _, err := p.f.WriteString(s); err != nil {
		p.t.Fatal(err)
	}
}

// repainted has the whole screen painted afresh, so that its text comes in one
// piece, until it shows what is wanted.
func (p *terminal) repainted(want string) {
	p.t.Helper()
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); {
		mark := len(p.raw())
		p.rows ^= 1
		if err := pty.Setsize(p.f, &pty.Winsize{Cols: p.cols, Rows: p.rows}); err != nil {
			p.t.Fatal(err)
		}
		for soon := time.Now().Add(time.Second); time.Now().Before(soon); time.Sleep(5 * time.Millisecond) {
			if strings.Contains(escapes.ReplaceAllString(p.raw()[mark:], ""), want) {
				return
			}
		}
	}
	p.t.Fatalf("%q never stood on the screen:\n%s", want, p.text())
}

// ready waits until the question takes keys: its prompt comes then, and last.
func (p *terminal) ready() {
	p.t.Helper()
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		if strings.HasSuffix(strings.TrimRight(p.text(), " \r\n"), ">") {
			return
		}
	}
	p.t.Fatalf("the question takes no keys:\n%s", p.text())
}

// ended waits for the end and returns the exit code and what was kept.
func (p *terminal) ended() (code int, kept string) {
	p.t.Helper()
	done := make(chan error, 1)
	go func() { done <- p.cmd.Wait() }()
	select {
	case err := <-done:
		var exit *exec.ExitError
		if err != nil && !errors.As(err, &exit) {
			p.t.Fatal(err)
		}
	case <-time.After(30 * time.Second):
		p.t.Fatalf("the program does not end:\n%s", p.text())
	}
	select {
	case <-p.done:
	case <-time.After(5 * time.Second): // closed by the test itself
	}
	b, err := os.ReadFile(p.kept)
	if err != nil {
		p.t.Fatal(err)
	}
	return p.cmd.ProcessState.ExitCode(), string(b)
}

func (p *terminal) answers(kept string) int { return strings.Count(kept, "engine.Answered ") }

func TestPtyPersonAndPause(t *testing.T) {
	t.Parallel()
	p := start(t, 60, 24, "NO_COLOR=1")
	p.waitFor("Length of the bar between its centres?")
	p.ready()
	p.write("300\r")
	p.waitFor("Length of the bar between its centres: 300 mm. Kept.")
	p.repainted("Collars: distance, middle to middle?")
	p.write("\x03")
	code, kept := p.ended()
	if code != 3 || p.answers(kept) != 1 || !strings.Contains(kept, "engine.Paused") || !strings.Contains(kept, "Reason:stopped} <nil>") {
		t.Errorf("exit %d, kept\n%s", code, kept)
	}
	if !strings.Contains(p.text(), "Stopped. Everything that was read back as kept is kept.") {
		t.Errorf("the end is not told:\n%s", p.text())
	}
	if m := regexp.MustCompile("\x1b\\[[0-9;]*(3[0-7]|4[0-7]|38|48|9[0-7])m").FindString(p.raw()); m != "" {
		t.Errorf("a colour with NO_COLOR: %q", m)
	}
}

// A paste of twenty lines that the terminal does not mark, in one write: one
// answer.
func TestPtyPasteOfTwentyLines(t *testing.T) {
	for _, cols := range []uint16{60, 40} {
		t.Run(strconv.Itoa(int(cols)), func(t *testing.T) {
			t.Parallel()
			p := start(t, cols, 24)
			p.waitFor("Length of the bar between its")
			p.ready()
			p.write(strings.Repeat("250\r", 20))
			p.repainted("19 more lines came at once.")
			p.repainted("> ")
			p.write("*\r")
			p.repainted("8  stop for today")
			p.repainted("> ")
			p.write("8\r")
			code, kept := p.ended()
			if code != 3 || p.answers(kept) != 1 {
				t.Errorf("%d columns: exit %d, kept\n%s", cols, code, kept)
			}
		})
	}
}

// A gauge that sends a value every 20 ms, a key at a time as a keyboard wedge
// does, answers one question only.
func TestPtyGaugeThatDoesNotStop(t *testing.T) {
	t.Parallel()
	p := start(t, 60, 24, "PROMPT_SETTLE=1s") // so that no stall of the test itself looks like a rest
	p.waitFor("Length of the bar between its centres?")
	p.ready()
	for range 10 {
		for _, key := range "250\r" {
			p.write(string(key))
			time.Sleep(5 * time.Millisecond)
		}
	}
	p.repainted("9 more lines came at once.")
	p.write("\x03")
	if _, kept := p.ended(); p.answers(kept) != 1 {
		t.Errorf("kept\n%s", kept)
	}
}

// What is typed before the program asks is for no question.
func TestPtyTypedBeforeTheFirstQuestion(t *testing.T) {
	t.Parallel()
	p := start(t, 60, 24)
	p.write("300\r250\r2\r")
	p.waitFor("Length of the bar between its centres?")
	p.ready()
	p.write("\x03")
	if _, kept := p.ended(); p.answers(kept) != 0 {
		t.Errorf("kept\n%s", kept)
	}
}

func TestPtyBracketedPaste(t *testing.T) {
	t.Parallel()
	p := start(t, 60, 24)
	p.waitFor("Length of the bar between its centres?")
	p.ready()
	p.write("\x1b[200~300\n250\nyes\n\x1b[201~")
	p.waitFor("3 lines were pasted.")
	p.write("\x03")
	if _, kept := p.ended(); p.answers(kept) != 0 {
		t.Errorf("kept\n%s", kept)
	}
}

// The terminal goes away in the middle of a question: by a hang-up, by its
// other end closing, or by a request to end. What was kept stays kept.
func TestPtyTerminalGoesAway(t *testing.T) {
	t.Parallel()
	for name, leave := range map[string]func(p *terminal) error{
		"hang-up": func(p *terminal) error { return p.cmd.Process.Signal(syscall.SIGHUP) },
		"closed":  func(p *terminal) error { return p.f.Close() },
		"end":     func(p *terminal) error { return p.cmd.Process.Signal(syscall.SIGTERM) },
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := start(t, 60, 24)
			p.waitFor("Length of the bar between its centres?")
			p.ready()
			p.write("300\r")
			p.waitFor("300 mm. Kept.")
			p.ready()
			p.write("25")
			p.repainted("> 25")
			if err := leave(p); err != nil {
				t.Fatal(err)
			}
			code, kept := p.ended()
			if code != 3 || p.answers(kept) != 1 || !strings.Contains(kept, "the terminal went away") || !strings.Contains(kept, "engine.Paused") {
				t.Errorf("exit %d, kept\n%s", code, kept)
			}
		})
	}
}

func TestPtyResize(t *testing.T) {
	t.Parallel()
	p := start(t, 80, 24)
	p.waitFor("Length of the bar between its centres?")
	p.ready()
	p.write("300\r")
	p.waitFor("Collars: distance")
	p.ready()
	p.cols, p.rows = 40, 20
	p.repainted("middle to middle?")
	p.write("250\r")
	p.waitFor("No gloves, rings, watch or loose sleeves")
	p.ready()
	p.write("\x03")
	if _, kept := p.ended(); p.answers(kept) != 2 {
		t.Errorf("kept\n%s", kept)
	}
}

// Line by line on a terminal, as for a screen reader: the lines that come with
// an answer are dropped too, and nothing is redrawn.
func TestPtyPlainPasteOfTwentyLines(t *testing.T) {
	t.Parallel()
	p := start(t, 60, 24, "PROMPT_PLAIN=1")
	p.waitFor("Length of the bar between its centres?")
	p.ready()
	p.write(strings.Repeat("250\n", 20))
	p.waitFor("19 more lines came at once. Nothing of them was kept.")
	p.ready()
	p.write("pause\n")
	code, kept := p.ended()
	if code != 3 || p.answers(kept) != 1 {
		t.Errorf("exit %d, kept\n%s", code, kept)
	}
	if strings.Contains(p.raw(), "\x1b") {
		t.Errorf("escape sequences in %q", p.raw())
	}
}
