package prompt

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"

	tea "charm.land/bubbletea/v2"
	"charm.land/huh/v2"

	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
)

// Terminal asks on a terminal, one question at a time, until nothing more is
// asked, the person stops, or the terminal goes away. The error is one of the
// journal or of the terminal; the run is safe in any case.
func Terminal(ctx context.Context, in, out *os.File, s Session, opts Options) (Result, error) {
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGHUP, syscall.SIGTERM)
	defer stop()
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()

	env := opts.Env
	if env == nil {
		env = os.Environ()
	}
	opts.Voice.Bare = opts.Voice.Bare || bare(env)
	m := newModel(s, opts)
	if m.t.result != nil {
		fmt.Fprintln(out, strings.Join(m.farewell(), "\n"))
		return *m.t.result, m.t.err
	}
	// Said before the program has the screen: it would write over what stands
	// above it there.
	if len(m.first) > 0 {
		fmt.Fprintln(out, strings.Join(m.first, "\n"))
	}
	// Signals end the context, and only that: with a handler of the program's
	// own beside it, chance would say which of the two is first.
	p := tea.NewProgram(m, tea.WithoutSignalHandler(), tea.WithContext(ctx), tea.WithInput(&untilGone{in, cancel}), tea.WithOutput(out), tea.WithEnvironment(env))
	_, err := p.Run()
	if m.t.result == nil { // the program was ended from outside
		reason := "the terminal went away"
		if err == nil || errors.Is(err, tea.ErrInterrupted) || errors.Is(err, context.Canceled) && ctx.Err() == nil {
			reason = "stopped"
		}
		m.t.stop(reason)
	}
	if ctx.Err() == nil {
		fmt.Fprintln(out, strings.Join(m.farewell(), "\n"))
	}
	return *m.t.result, m.t.err
}

// bare tells whether a terminal is not to be given pictures: it says that it can
// show little, or its person that no more than text is wanted.
func bare(env []string) bool {
	value := map[string]string{}
	for _, e := range env {
		name, v, _ := strings.Cut(e, "=")
		value[name] = v
	}
	return value["NO_COLOR"] != "" || value["TERM"] == "dumb" || value["TERM"] == ""
}

// untilGone is the terminal as input. It tells when the terminal is gone,
// which the program itself takes for silence.
type untilGone struct {
	*os.File
	gone func()
}

func (u *untilGone) Read(p []byte) (int, error) {
	n, err := u.File.Read(p)
	if err != nil && !errors.Is(err, os.ErrDeadlineExceeded) {
		u.gone()
	}
	if n == 0 && errors.Is(err, io.EOF) {
		u.gone()
	}
	return n, err
}

// model is the one program of a sitting.
type model struct {
	t      *talk
	field  huh.Field
	guard  guard
	width  int
	height int
	remark []string // about the line typed last
	early  string   // what came too early
	stale  bool     // the line was refused: it stays, until something else is typed
	first  []string // said before the first question
	rang   bool     // the bell of the present wait
}

type (
	readyMsg  int // a guard's ticket
	secondMsg struct{}
)

func newModel(s Session, opts Options) *model {
	t, r := newTalk(s, opts)
	m := &model{t: t, width: 80, height: 24, guard: guard{settle: cmp.Or(opts.Settle, settle)}}
	t.redraws, t.rows = true, m.height
	t.v.Watched = true
	t.again()
	m.first = t.v.Lay(r.log)
	m.newField("")
	return m
}

// newField makes an empty field for a new screen. The field holds the text
// that is typed and nothing else; Enter is never its own.
func (m *model) newField(text string) {
	m.field = huh.NewInput().Prompt("> ").Value(&text).WithTheme(huh.ThemeFunc(func(bool) *huh.Styles { return new(huh.Styles) }))
	m.field = m.field.WithWidth(max(m.width, 20))
	m.field.Focus() // its command makes the cursor blink; it stays still
}

func (m *model) text() string {
	s, _ := m.field.GetValue().(string)
	return s
}

func (m *model) Init() tea.Cmd {
	wait, ticket := m.guard.shut()
	return tea.Batch(after(wait, ticket), m.second())
}

func after(wait time.Duration, ticket int) tea.Cmd {
	return tea.Tick(wait, func(time.Time) tea.Msg { return readyMsg(ticket) })
}

// second comes round while there is a wait to be watched.
func (m *model) second() tea.Cmd {
	if m.t.q.Kind != engine.AskWait {
		return nil
	}
	return tea.Tick(time.Second, func(time.Time) tea.Msg { return secondMsg{} })
}

func (m *model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
		m.t.v.Width, m.t.rows = msg.Width, msg.Height
		m.field = m.field.WithWidth(max(msg.Width, 4))
		return m, nil
	case readyMsg:
		if m.guard.ready(int(msg)) {
			m.early = m.guard.dropped()
		}
		return m, nil
	case secondMsg:
		return m, m.tick()
	case tea.PasteMsg:
		return m, m.paste(msg.Content)
	case tea.KeyPressMsg:
		return m, m.key(msg)
	}
	return m, nil
}

func (m *model) key(msg tea.KeyPressMsg) tea.Cmd {
	if msg.String() == "ctrl+c" {
		return m.reply(m.t.stopNow())
	}
	enter := msg.Code == tea.KeyEnter || msg.Code == tea.KeyKpEnter || msg.String() == "ctrl+j"
	if !m.guard.open {
		wait, ticket := m.guard.early(enter, 0)
		m.early = m.guard.dropped()
		return after(wait, ticket)
	}
	if enter {
		return m.reply(m.t.enter(m.text()))
	}
	m.refresh(msg.Text != "")
	m.pass(msg)
	return nil
}

// refresh begins a new line where the last one was refused and is now typed
// again, by hand or by a gauge, rather than mended.
func (m *model) refresh(typed bool) {
	if m.stale && typed {
		m.newField("")
	}
	m.stale = false
}

// pass gives a message to the field. The field's own commands are not run:
// all they do is blink, or read the clipboard.
func (m *model) pass(msg tea.Msg) {
	f, _ := m.field.Update(msg)
	if f, ok := f.(huh.Field); ok {
		m.field = f
	}
}

// paste takes a bracketed paste. It answers nothing: what fits the question is
// put on the line, to be looked at. A column of as many values as the question
// takes becomes a row.
func (m *model) paste(content string) tea.Cmd {
	lines := nonBlank(content)
	if !m.guard.open {
		wait, ticket := m.guard.early(false, max(len(lines), 1))
		m.early = m.guard.dropped()
		return after(wait, ticket)
	}
	if len(lines) == 0 {
		return nil
	}
	if n := len(lines); n > 1 && n == m.t.q.Remaining && m.t.page == nil {
		lines = []string{strings.Join(lines, " ")}
	}
	m.refresh(true)
	m.pass(tea.PasteMsg{Content: lines[0]})
	if n := len(lines) - 1; n > 0 {
		m.remark = m.t.v.Lay(voice.Screen{
			{Text: fmt.Sprintf("%d lines were pasted. The first stands on the line; Enter answers with it. Nothing of the others is kept.", n+1)},
		})
	}
	return nil
}

func nonBlank(s string) []string {
	var out []string
	for _, l := range strings.FieldsFunc(s, func(r rune) bool { return r == '\n' || r == '\r' }) {
		if l = strings.TrimSpace(l); l != "" {
			out = append(out, l)
		}
	}
	return out
}

// reply shows what a line led to. Keys that came with it are not for the new
// screen.
func (m *model) reply(r reply) tea.Cmd {
	wait, ticket := m.guard.shut()
	m.early = ""
	m.remark = m.t.v.Lay(r.remark)
	m.stale = !r.fresh
	cmds := []tea.Cmd{after(wait, ticket)}
	if r.fresh {
		m.newField("")
		m.rang = false
		cmds = append(cmds, m.second())
	}
	log := m.t.v.Lay(r.log)
	if m.t.result != nil {
		return tea.Sequence(say(log), tea.Quit)
	}
	if over := len(m.t.lines()) + len(m.remark) + 2 - m.height; over > 0 && r.fresh {
		log = append(log, m.t.lines()[:min(over, len(m.t.lines()))]...)
	}
	if len(log) > 0 {
		cmds = append(cmds, say(log))
	}
	return tea.Batch(cmds...)
}

// say prints lines above the question, each by itself: several at once land in
// the middle of a question that fills the window.
func say(lines []string) tea.Cmd {
	if len(lines) == 0 {
		return nil
	}
	cmds := make([]tea.Cmd, len(lines))
	for i, line := range lines {
		cmds[i] = tea.Println(cmp.Or(line, " ")) // an empty text would print no line
	}
	return tea.Sequence(cmds...)
}

// tick looks at the wait again. When the time has passed the bell rings once.
func (m *model) tick() tea.Cmd {
	if m.t.q.Kind != engine.AskWait || m.t.result != nil {
		return nil
	}
	changed := m.t.lookAgain()
	cmds := []tea.Cmd{m.second()}
	if changed && m.t.page == nil {
		m.remark = nil // it was said of what is not asked any more
		m.newField("")
		wait, ticket := m.guard.shut()
		cmds = append(cmds, after(wait, ticket))
	}
	if changed && !m.rang {
		m.rang = true
		cmds = append(cmds, tea.Raw("\a"))
	}
	return tea.Batch(cmds...)
}

// farewell says how the run can be gone on with.
func (m *model) farewell() []string {
	if m.t.result == nil || !m.t.result.Paused {
		return nil
	}
	return m.t.v.Lay(m.t.v.Paused())
}

func (m *model) View() tea.View {
	if m.t.result != nil {
		return tea.NewView("")
	}
	lines := append([]string{""}, m.t.lines()...)
	if over := len(lines) + len(m.remark) + 2 - m.height; over > 0 {
		lines = lines[min(over, len(lines)):]
	}
	lines = append(lines[:len(lines):len(lines)], m.remark...)
	if m.early != "" {
		lines = append(lines, m.t.v.Lay(voice.Screen{{Text: m.early}})...)
	}
	field := m.field.View()
	if !m.guard.open { // the sign that keys count comes when they do
		field = strings.Replace(field, ">", " ", 1)
	}
	lines = append(lines, field)
	return tea.NewView(strings.Join(lines, "\n"))
}
