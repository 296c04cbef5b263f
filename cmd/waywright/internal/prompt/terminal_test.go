package prompt

import (
	"bufio"
	"bytes"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	tea "charm.land/bubbletea/v2"

	"waywright/engine"
)

// hand is a person, a gauge or a paste in front of a model. It calls Update as
// the program would, and lets the time pass that a screen needs to settle.
type hand struct {
	t *testing.T
	m *model
}

func newHand(t *testing.T, s Session, opts Options) *hand {
	h := &hand{t, newModel(s, opts)}
	h.m.Init()
	h.settled()
	return h
}

func (h *hand) send(msg tea.Msg) tea.Cmd {
	_, cmd := h.m.Update(msg)
	return cmd
}

// keys types text without a pause between the keys; "\r" is Enter.
func (h *hand) keys(text string) {
	for _, r := range text {
		switch r {
		case '\r':
			h.send(tea.KeyPressMsg{Code: tea.KeyEnter})
		case '\b':
			h.send(tea.KeyPressMsg{Code: tea.KeyBackspace})
		default:
			h.send(tea.KeyPressMsg{Code: r, Text: string(r)})
		}
	}
}

// settled lets so much time pass that the guard opens.
func (h *hand) settled() { h.send(readyMsg(h.m.guard.ticket)) }

// line types a line and waits, as a person does.
func (h *hand) line(text string) {
	h.keys(text + "\r")
	h.settled()
}

func (h *hand) screen() string { return h.m.View().Content }

func (h *hand) shows(want ...string) {
	h.t.Helper()
	for _, w := range want {
		if !strings.Contains(h.screen(), w) {
			h.t.Errorf("%q is not on the screen:\n%s", w, h.screen())
		}
	}
}

func TestPersonAnswersQuestionByQuestion(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	h := newHand(t, r, options(r))
	h.shows("Length of the bar between its centres?")
	h.line("300")
	h.shows("Collars: distance, middle to middle?")
	h.line("250")
	if got := kinds(r); got != "answered answered" {
		t.Errorf("kept %q", got)
	}
}

// Twenty lines in one burst: the first answers the question that is on the
// screen, nothing else is kept, and that is said.
func TestBurstOfLinesAnswersOneQuestion(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	h := newHand(t, r, options(r))
	h.keys(strings.Repeat("250\r", 20))
	h.settled()
	if got := kinds(r); got != "answered" {
		t.Errorf("kept %q", got)
	}
	h.shows("Collars: distance", "19 more lines came at once. Nothing of them was kept.")
	if got := h.m.text(); got != "" {
		t.Errorf("%q stands on the line", got)
	}
	h.line("240")
	if got := kinds(r); got != "answered answered" {
		t.Errorf("kept %q", got)
	}
}

// A line that began too early loses all of it, not its first figures: "24.9"
// must not become "4.9".
func TestLineBegunTooEarlyIsDroppedWhole(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	h := newHand(t, r, options(r))
	h.keys("300\r2")
	early := h.m.guard.ticket
	h.keys("4")
	h.send(readyMsg(early)) // the time of the first key is over; another came since
	h.keys("0\r")
	h.settled()
	h.shows("More came at once. Nothing of it was kept.")
	if got := kinds(r); got != "answered" || h.m.text() != "" {
		t.Errorf("kept %q, and %q on the line", got, h.m.text())
	}
	wait, _ := h.m.guard.shut()
	if wait != settle {
		t.Errorf("a new screen waits %v, want %v", wait, settle)
	}
	if wait, _ := h.m.guard.early(false, 0); wait != withinTimes*settle {
		t.Errorf("within a line the wait is %v, want %v", wait, withinTimes*settle)
	}
	if wait, _ := h.m.guard.early(true, 0); wait != settle {
		t.Errorf("after Enter the wait is %v, want %v", wait, settle)
	}
}

// A gauge that ends each value with Enter answers a question a value, when it
// sends one at a time.
func TestGaugeAnswersTheQuestionOnTheScreen(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	h := newHand(t, r, options(r))
	for _, l := range toMeasure {
		h.line(l)
	}
	before := kinds(r)
	for _, v := range []string{"20.011", "20.012", "20.011"} {
		h.line(v)
	}
	if got := strings.TrimPrefix(kinds(r), before); got != " answered answered answered" {
		t.Errorf("kept %q", got)
	}
	h.keys("20.011\r20.011\r") // pressed twice
	h.settled()
	h.shows("take 2 of 3", "More came at once. Nothing of it was kept.")
	if got := strings.TrimPrefix(kinds(r), before); got != " answered answered answered answered" {
		t.Errorf("kept %q", got)
	}
}

// Enters alone, however many, answer nothing anywhere.
func TestEntersAnswerNothing(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	h := newHand(t, r, options(r))
	for range 5 {
		h.keys("\r\r\r")
		h.settled()
	}
	if got := kinds(r); got != "" {
		t.Errorf("kept %q", got)
	}
	h.shows("Length of the bar between its centres?")
}

func TestBracketedPasteIsOnlyPutOnTheLine(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	h := newHand(t, r, options(r))
	h.send(tea.PasteMsg{Content: "300\n250\nyes\nyes\n"})
	if got := kinds(r); got != "" || h.m.text() != "300" {
		t.Errorf("kept %q, and %q on the line", got, h.m.text())
	}
	h.shows("4 lines were pasted. The first stands on the line; Enter", "Nothing of the others is kept.")
	h.keys("\r")
	h.send(tea.PasteMsg{Content: "250\n251\n"})
	h.settled()
	h.shows("2 more lines came at once. Nothing of them was kept.")
	if got := kinds(r); got != "answered" {
		t.Errorf("kept %q", got)
	}
	h.send(tea.PasteMsg{Content: "\n\n"})
	if h.m.text() != "" {
		t.Errorf("%q on the line", h.m.text())
	}
}

func TestPastedColumnThatFitsBecomesARow(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	h := newHand(t, r, options(r))
	for _, l := range toMeasure {
		h.line(l)
	}
	h.send(tea.PasteMsg{Content: "20.011\r\n20.012\r\n20.011\r\n"})
	if got := h.m.text(); got != "20.011 20.012 20.011" {
		t.Errorf("%q on the line", got)
	}
}

// What was refused stays on the line to be mended; typed afresh it is a new
// line, so that a gauge's next value does not run on.
func TestRefusedLineStaysUntilSomethingElseIsTyped(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	h := newHand(t, r, options(r))
	h.line("300 °C")
	h.shows("> 300 °C")
	h.keys("\b\b\b")
	if got := h.m.text(); got != "300" {
		t.Errorf("%q on the line", got)
	}
	h.line("apples")
	h.settled()
	h.keys("31")
	if got := h.m.text(); got != "31" {
		t.Errorf("%q on the line", got)
	}
}

func TestControlCIsAPause(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	h := newHand(t, r, options(r))
	h.line("300")
	h.keys("25")
	h.send(tea.KeyPressMsg{Code: 'c', Mod: tea.ModCtrl})
	if h.m.t.result == nil || !h.m.t.result.Paused || h.m.t.result.Reason != "stopped" {
		t.Errorf("result %+v", h.m.t.result)
	}
	if got := kinds(r); got != "answered paused" {
		t.Errorf("kept %q", got)
	}
	if h.screen() != "" {
		t.Errorf("the screen still shows %q", h.screen())
	}
}

func TestScreenIsAsWideAsTheTerminal(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	h := newHand(t, r, options(r))
	for _, l := range toMeasure[:2] {
		h.line(l)
	}
	for _, width := range []int{100, 60, 40, 20} {
		h.send(tea.WindowSizeMsg{Width: width, Height: 40})
		for _, l := range strings.Split(h.screen(), "\n") {
			if n := len([]rune(strings.TrimRight(l, " "))); n > min(width, 60) && !strings.HasPrefix(l, ">") {
				t.Errorf("%d columns: a line of %d: %q", width, n, l)
			}
		}
	}
}

// On a terminal with few rows the end of the question stays in sight.
func TestLowTerminalShowsTheEndOfTheQuestion(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	h := newHand(t, r, options(r))
	h.send(tea.WindowSizeMsg{Width: 60, Height: 8})
	h.line("300")
	h.line("250")
	h.shows("1  not yet", "2  all clear", ">")
	if n := strings.Count(h.screen(), "\n") + 1; n > 8 {
		t.Errorf("%d rows on a terminal of 8", n)
	}
}

func TestWaitCountsDownAndRingsOnce(t *testing.T) {
	over := time.Date(2026, 11, 3, 9, 10, 0, 0, time.UTC)
	f := &fixed{Session: begin(t, "tailstock-by-test-cut"), now: over.Add(-65 * time.Second),
		q: engine.Question{Kind: engine.AskWait, Name: "cool", Why: "the bar is warm", Wait: &engine.Waiting{From: over.Add(-10 * time.Minute), Over: over}}}
	h := newHand(t, f, Options{})
	h.shows("1 min 5 s left", "["+strings.Repeat("#", 35)+strings.Repeat(".", 5)+"]") // 535 s of 600, in 40
	f.now = over.Add(-time.Second)
	h.keys("12")
	if cmd := h.send(secondMsg{}); rings(cmd) {
		t.Error("rang before the time")
	}
	h.shows("1 s left", "> 12") // what is typed meanwhile stays
	h.m.remark = []string{"There is 1 s to go."}
	f.now = over
	if cmd := h.send(secondMsg{}); !rings(cmd) {
		t.Error("did not ring when the time was up")
	}
	h.shows("THE TIME IS UP.", "1  go on")
	if strings.Contains(h.screen(), "to go") {
		t.Errorf("what was refused before the time still stands there:\n%s", h.screen())
	}
	if cmd := h.send(secondMsg{}); rings(cmd) {
		t.Error("rang twice")
	}
	h.keys("1\r") // typed before it settled: not for this screen
	if len(f.said) != 0 {
		t.Errorf("said %+v", f.said)
	}
	h.settled()
	h.keys("1\r")
	if len(f.said) != 1 || f.said[0].Text != "over" {
		t.Errorf("said %+v", f.said)
	}
}

// Line by line a wait is told once a minute, and the end of it with the bell,
// but only where there is one.
func TestPlainTellsAWaitByTheMinute(t *testing.T) {
	over := time.Date(2026, 11, 3, 9, 10, 0, 0, time.UTC)
	for _, bell := range []bool{true, false} {
		f := &fixed{Session: begin(t, "tailstock-by-test-cut"), now: over.Add(-3 * time.Minute),
			q: engine.Question{Kind: engine.AskWait, Name: "cool", Why: "the bar is warm", Wait: &engine.Waiting{From: over.Add(-10 * time.Minute), Over: over}}}
		var out bytes.Buffer
		p := &plain{out: bufio.NewWriter(&out), rings: bell}
		p.t, _ = newTalk(f, Options{})
		told := f.now
		for f.now.Before(over.Add(5 * time.Second)) {
			f.now = f.now.Add(time.Second)
			told = p.watch(told)
		}
		_ = p.out.Flush()
		said := out.String()
		if n := strings.Count(said, " left, until "); n != 2 { // at 2 minutes and at 1
			t.Errorf("told %d times how long it still is, want 2:\n%s", n, said)
		}
		if strings.Contains(said, "#") || strings.Contains(said, "\x1b") {
			t.Errorf("a bar or an escape sequence:\n%q", said)
		}
		want := 0
		if bell {
			want = 1
		}
		if n := strings.Count(said, "\a"); n != want || strings.Count(said, "THE TIME IS UP.") != 1 {
			t.Errorf("rang %d times, want %d:\n%q", n, want, said)
		}
	}
}

// rings tells whether a command holds the terminal's bell.
func rings(cmd tea.Cmd) bool {
	if cmd == nil {
		return false
	}
	done := make(chan tea.Msg, 1)
	go func() { done <- cmd() }()
	select {
	case msg := <-done:
		switch msg := msg.(type) {
		case tea.BatchMsg:
			for _, c := range msg {
				if rings(c) {
					return true
				}
			}
		case tea.RawMsg:
			return msg.Msg == "\a"
		}
	case <-time.After(50 * time.Millisecond): // a tick
	}
	return false
}

func TestLargeLettersTurnPagesWithEnter(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	opts := options(r)
	opts.Voice.Large = true
	h := newHand(t, r, opts)
	h.line("300")
	h.line("1")
	h.line("250")
	h.line("1")
	h.shows("Tailstock in line")
	h.line("2") // the caution was not read yet
	h.shows("There is more to read first.")
	if got := kinds(r); got != "answered answered" {
		t.Errorf("kept %q", got)
	}
	for range 4 {
		h.line("")
	}
	h.shows("2  all clear")
	h.line("2")
	if got := kinds(r); got != "answered answered cleared" {
		t.Errorf("kept %q", got)
	}
}

// The library makes room above the question for what is printed at once, and
// there is only one line of room where the question fills the window.
func TestLinesAboveAQuestionArePrintedOneByOne(t *testing.T) {
	seq := reflect.ValueOf(say([]string{"With: dial indicator", "", "Plus means: towards you"})())
	if seq.Kind() != reflect.Slice || seq.Len() != 3 {
		t.Fatalf("it prints %v; want three messages, one a line", seq)
	}
	for i := range seq.Len() {
		msg := seq.Index(i).Interface().(tea.Cmd)()
		text := fmt.Sprintf("%s", msg)
		if strings.Contains(text, "\n") || strings.Trim(text, "{}") == "" {
			t.Errorf("message %d is %q; want one line that is not empty", i, text)
		}
	}
}

// What is said of a doubt does not push the question off a screen of 24 lines:
// it is read by pages, and the number that turns them never answers.
func TestExplainingAGateIsReadByPages(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	h := newHand(t, r, options(r))
	h.send(tea.WindowSizeMsg{Width: 60, Height: 24})
	for _, l := range append(toMeasure[:8:8], "20.011 20.012 20.011", "20.153 20.152 20.153") {
		h.line(l)
	}
	h.shows("FAIL")
	before, question := kinds(r), h.screen()
	h.line("?")
	text := ""
	for range 10 {
		if n := strings.Count(h.screen(), "\n") + 1; n > 24 {
			t.Fatalf("%d rows on a terminal of 24:\n%s", n, h.screen())
		}
		text += h.screen()
		h.shows("back to the question")
		if !strings.Contains(h.screen(), "read on") {
			break
		}
		h.line("1")
	}
	for _, want := range []string{"Source", "M-3, its own error", "M-3, scatter of 3 takes", "instead of", "Risk that this verdict is wrong: less than 0.1 out of 100."} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), strings.Join(strings.Fields(want), " ")) {
			t.Errorf("%q was not said:\n%s", want, text)
		}
	}
	h.line("1") // once too often
	h.shows("back to the question")
	h.line("2")
	if h.screen() != question || kinds(r) != before {
		t.Errorf("after reading the screen is\n%s\nwant\n%s", h.screen(), question)
	}
}

// A terminal that says it shows little, or whose person wants no more than
// text, is given no pictures.
func TestBareTerminals(t *testing.T) {
	for _, tt := range []struct {
		env  []string
		want bool
	}{
		{[]string{"TERM=xterm-256color"}, false}, {[]string{"TERM=xterm", "NO_COLOR="}, false}, {[]string{"TERM=xterm", "NO_COLOR=1"}, true},
		{[]string{"TERM=dumb"}, true}, {nil, true},
	} {
		if got := bare(tt.env); got != tt.want {
			t.Errorf("bare(%q) = %v, want %v", tt.env, got, tt.want)
		}
	}
}

// A gate with more to say than the screen has rows is read from its verdict on,
// leaf by leaf. The number of a way on does not count before the last leaf is seen,
// and turning past it shows the first again.
func TestVerdictIsSeenBeforeTheWaysOn(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	h := newHand(t, r, options(r))
	h.send(tea.WindowSizeMsg{Width: 60, Height: 14})
	for _, l := range append(toMeasure[:8:8], "20.011 20.012 20.011", "20.153 20.152 20.153") {
		h.line(l)
	}
	first, before := h.screen(), kinds(r)
	if !strings.HasPrefix(strings.TrimSpace(first), "FAIL") || strings.Contains(first, "How far") {
		t.Fatalf("the first leaf is\n%s", first)
	}
	h.shows("Allowed", "There is more: Enter turns the page.")
	h.line("2")
	h.shows("There is more to read first.")
	if kinds(r) != before {
		t.Error("a number typed at the first leaf was taken for an answer")
	}
	h.line("")
	h.shows("DIVISIONS   TOWARDS YOU", "How far after locking")
	if rows := strings.Count(h.screen(), "\n") + 1; rows > 14 {
		t.Errorf("%d rows on a terminal of 14:\n%s", rows, h.screen())
	}
	h.line("")
	if h.screen() != first {
		t.Errorf("past the last leaf stands\n%s\nwant\n%s", h.screen(), first)
	}
}
