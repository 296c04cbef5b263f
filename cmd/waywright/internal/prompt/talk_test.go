package prompt

import (
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
	"waywright/report/evidence"
)

// updating is the flag -update, which package enginetest has: it rewrites the
// golden talks.
func updating() bool { return flag.Lookup("update").Value.String() == "true" }

// play has a talk with what is typed, and returns it as it is read.
func play(s Session, opts Options, typed ...string) string {
	t, first := newTalk(s, opts)
	var b strings.Builder
	write := func(lines []string) {
		for _, l := range lines {
			b.WriteString(l + "\n")
		}
	}
	write(t.v.Lay(first.log))
	write(append(t.lines(), ""))
	for _, line := range typed {
		b.WriteString("> " + line + "\n")
		r := t.enter(line)
		write(t.v.Lay(r.log))
		write(t.v.Lay(r.remark))
		if t.result != nil {
			break
		}
		if r.fresh {
			write(append([]string{""}, t.lines()...))
		}
	}
	return b.String()
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name+".golden")
	if updating() {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", file, diff)
	}
}

// toMeasure brings a test cut to the first collar.
var toMeasure = []string{"300", "250", "2", "1", "2", "1", "1", "M-3"}

func TestTalks(t *testing.T) {
	for _, tt := range []struct {
		name, procedure string
		typed           []string
	}{
		{"wrong-way-caught-before-the-cut", "tailstock-by-test-cut", append(toMeasure[:8:8],
			"20.011 20.012 20.011", "20.153 20.152 20.153", "1.2 tenths", "0.085 away", "1", "0.17 towards")},
		{"needle-in-doubt-at-once", "tailstock-by-test-cut", append(toMeasure[:8:8],
			"20.011 20.012 20.011", "20.153 20.152 20.153", "-0.085", "3", "3", "2")},
		{"typed-towards-and-cut", "tailstock-by-test-cut", append(toMeasure[:8:8],
			"20.011 20.012 20.011", "20.153 20.152 20.153", "0.085 towards", "1", "1", "2", "1", "1",
			"20.011 20.012 20.011", "20.293 20.292 20.293", "2")},
		{"one-whole-turn", "tailstock-by-test-cut", append(toMeasure[:8:8], "20.011", "20.511", "2", "20.511", "3", "2", "20.013", "", "4 4", "pause")},
		{"a-slip-three-questions-later", "tailstock-by-test-cut", append(toMeasure[:8:8], "20.011", "20.001", "2", "the anvil was dirty", "20.012", "*", "9", "2", "2", "20.011", "1", "?")},
		{"cannot-be-taken", "tailstock-by-test-cut", append(toMeasure[:8:8], "*", "3", "1", "collar is in the steady", "1", "cannot", "2", "2")},
		{"signed-by-two", "tailstock-by-test-cut", append(toMeasure[:8:8], "20.011 20.012 20.011", "20.011 20.012 20.011",
			"7", "sign", "A. Fitter", "sign", "a. fitter", "B. Inspector", "no", "B. Inspector", "sign")},
		{"other-way-on", "tailstock-by-test-cut", append(toMeasure[:8:8], "20.011 20.012 20.011", "20.153 20.152 20.153", "*", "9", "2", "9", "it turns pump shafts",
			"B. Inspector", "2", "1", "A. Fitter", "sign", "B. Inspector", "sign")},
		{"large-letters", "tailstock-by-test-cut", append(toMeasure[:8:8], "*", "7", "20.011", "2", "20.012", "1")},
		{"a-row-with-its-picture", "lap-bar", []string{"25", "5", "200", "40", "2", "C-1", "2", "2",
			"25,0002", "25.0001", "25.0051", "25.0051 25.0081 25.0080 25.0049 25.0050 25.0008 25.0009", "25.0051 25.0081 25.0080 25.0049 25.0050 25.0008 25.0009"}},
		{"a-row-explained", "lap-bar", []string{"25", "5", "200", "40", "2", "C-1", "2", "2",
			"25,0002", "25.0001", "25.0051", "25.0051 25.0081 25.0080 25.0049 25.0050 25.0008 25.0009", "25.0001", "/"}},
		{"clean-and-try-again", "headstock-align", []string{"1", "25", "250", "30", "220", "M-3", "30.000 30.001 30.000", "30.002 30.002 30.002",
			"2", "2", "1", "1", "L-4",
			"1", "0", "14", "20", "4", "0", "1", "0", "14", "20", "4", "0",
			"1", "0", "14", "40", "24", "0", "2", "0", "-14", "-40", "-24", "0",
			"/", "3"}},
		{"a-set-that-shifted", "headstock-align", []string{"1", "25", "250", "30", "220", "M-3", "30.000 30.001 30.000", "30.002 30.002 30.002",
			"2", "2", "1", "1", "L-4", "1", "0", "14", "20", "4", "8", "0", "14", "20", "4", "1"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := begin(t, tt.procedure)
			golden(t, tt.name, play(r, options(r), tt.typed...))
		})
	}
}

// The menu, the pages and the choices never hand a number on to the question
// behind them.
func TestNumberBesideTheChoicesAnswersNothing(t *testing.T) {
	for _, way := range [][]string{{"*", "12"}, {"*", "3", "8"}, {"*", "6", "7"}, {"*", "2", "99"}, {"cannot", "24.5"}} {
		r := begin(t, "tailstock-by-test-cut")
		play(r, options(r), append(toMeasure[:8:8], "20.011")...)
		before := kinds(r)
		play(r, options(r), way...)
		if got := kinds(r); got != before {
			t.Errorf("%q kept %q", way, strings.TrimPrefix(got, before))
		}
	}
}

// At a caution the number that goes on is never the one that went on last, all
// through a run. A plain yes stands still.
func TestCautionsNeverGoOnByTheNumberBefore(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	tk, _ := newTalk(r, options(r))
	last, cautions, confirms := 0, 0, 0
	for _, line := range []string{
		"300", "250", "go", "go", "go", "short", "because of tests", "none", "20 20 20", "20.2 20.2 20.2", "0.12 towards",
		"go", "go", "go", "short", "because of tests", "20 20 20", "20.1 20.1 20.1", "0.12 towards", "go",
	} {
		if line == "go" {
			n := 1 + slices.IndexFunc(tk.asked.Options, func(o voice.Option) bool { return o.Word == "yes" })
			switch tk.q.Kind {
			case engine.AskClear:
				cautions++
				if n == last {
					t.Errorf("at %s %d goes on, and did so before", tk.q.Name, n)
				}
			case engine.AskConfirm:
				confirms++
				if n != 1 {
					t.Errorf("at %s yes is %d", tk.q.Name, n)
				}
			default:
				t.Fatalf("%s is not a question that goes on", tk.q.Name)
			}
			last, line = n, strconv.Itoa(n)
		}
		tk.enter(line)
	}
	if cautions != 5 || confirms != 2 {
		t.Errorf("%d cautions and %d confirms, want 5 and 2", cautions, confirms)
	}
}

// Beside the choices at a movement that was not as asked, a bare whole number is a
// slip of the finger and no 8 mm.
func TestBareNumberIsNoMovementBesideTheChoices(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	play(r, options(r), append(toMeasure[:8:8], "20.011 20.012 20.011", "20.153 20.152 20.153", "0.085 away")...)
	before := kinds(r)
	if out := play(r, options(r), "8", "05"); kinds(r) != before || !strings.Contains(out, "I read 8. That is none of the choices") {
		t.Errorf("kept %q\n%s", strings.TrimPrefix(kinds(r), before), out)
	}
	play(r, options(r), "1", "0.17 towards")
	if kinds(r) == before {
		t.Error("a movement with its direction was not kept")
	}
}

func TestWordsAtEveryQuestion(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	opts := options(r)
	opts.Attach = func(path string, _ evidence.Keeping) (*engine.File, error) {
		if path == "gone.jpg" {
			return nil, errors.New("no such file")
		}
		return &engine.File{Name: path, SHA256: strings.Repeat("0", 64), Size: 1}, nil
	}
	out := play(r, opts, "300", "back", "302", "note the long bar", "attach bar.jpg both ends", "attach gone.jpg", "amend centres 303 mm because mistyped",
		"amend centres", "disturb machine because it was moved", "pause")
	if got, want := kinds(r), "answered withdrawn answered noted noted amended disturbed paused"; got != want {
		t.Errorf("kept %q, want %q\n%s", got, want, out)
	}
	for _, want := range []string{`I read the file name "gone.jpg". It cannot be kept: no such`, "Amend needs a name and a value:"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not in\n%s", want, out)
		}
	}
}

// A photograph that says where it was taken is kept only when somebody said
// whether that is to be kept too.
func TestThePlaceOfAPhotographIsAskedAbout(t *testing.T) {
	for _, tt := range []struct {
		lines []string
		kept  string
	}{
		{[]string{"attach bar.jpg both ends", "1"}, "bar.jpg without its place, both ends"},
		{[]string{"note", "attach bar.jpg both ends", "1"}, "bar.jpg without its place, both ends"},
		{[]string{"attach bar.jpg both ends", "2"}, "bar.jpg, both ends"},
		{[]string{"attach --no-place bar.jpg both ends"}, "bar.jpg without its place, both ends"},
		{[]string{"attach bar.jpg both ends", "back", "300"}, ""},
	} {
		r := begin(t, "tailstock-by-test-cut")
		opts := options(r)
		opts.Attach = func(path string, how evidence.Keeping) (*engine.File, error) {
			switch how {
			case evidence.AskPlace:
				return nil, evidence.ErrSaysPlace
			case evidence.NoPlace:
				path += " without its place"
			}
			return &engine.File{Name: path, SHA256: strings.Repeat("0", 64), Size: 1}, nil
		}
		out := play(r, opts, tt.lines...)
		kept := ""
		for _, ev := range r.Events() {
			if d, ok := ev.Data.(engine.Noted); ok {
				kept = d.File.Name + ", " + d.Text
			}
		}
		if kept != tt.kept || strings.Contains(out, "Keep that?") != (len(tt.lines) > 1) {
			t.Errorf("%q kept %q, want %q\n%s", tt.lines, kept, tt.kept, out)
		}
	}
}

// The headings of remarks are there by number too.
func TestRemarksUnderAHeading(t *testing.T) {
	for _, tt := range []struct {
		lines []string
		want  engine.Noted
	}{
		{[]string{"note", "1", "belt on"}, engine.Noted{Text: "belt on"}},
		{[]string{"note", "3", "half-nut, bronze"}, engine.Noted{Text: "half-nut, bronze", About: engine.AboutPart}},
		{[]string{"note", "4", "0.01 high"}, engine.Noted{Text: "0.01 high", About: engine.AboutCompensation}},
		{[]string{"note", "5", "bed ground"}, engine.Noted{Text: "bed ground", About: engine.AboutOthers}},
		{[]string{"note", "6", "in March"}, engine.Noted{Text: "in March", About: engine.AboutAgain}},
		{[]string{"note from others: bed ground"}, engine.Noted{Text: "bed ground", About: engine.AboutOthers}},
	} {
		r := begin(t, "tailstock-by-test-cut")
		out := play(r, options(r), tt.lines...)
		got, _ := r.Events()[len(r.Events())-1].Data.(engine.Noted)
		if tt.want.Name = got.Name; got != tt.want {
			t.Errorf("%q kept %+v, want %+v\n%s", tt.lines, got, tt.want, out)
		}
	}
}

func TestOfferIsTakenWithPlus(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	q := r.Next()
	q.Offer = &engine.Offer{Value: 300, Text: "300 mm", From: "the entry of lathe-2"}
	s := &fixed{Session: r, q: q}
	play(s, options(r), "+")
	if len(s.said) == 0 || s.said[0].Text != "offered" {
		t.Errorf("said %+v", s.said)
	}
}

// fixed asks one question for ever and notes what is said to it.
type fixed struct {
	Session
	q    engine.Question
	now  time.Time
	said []engine.Input
}

func (f *fixed) Next() engine.Question { return f.q }
func (f *fixed) Now() time.Time        { return f.now }
func (f *fixed) Say(in engine.Input) ([]engine.Notice, *engine.Refusal, error) {
	f.said = append(f.said, in)
	return nil, nil, nil
}

// A reading that is typed one question too early is not taken for the number
// of the instrument without being asked about.
func TestReadingIsNoNumberOfAnInstrumentUnasked(t *testing.T) {
	for line, asked := range map[string]bool{"24.812": true, "0,10": true, "0.1 mm": true, "25mm": true, "9": false, "M-7": false, "M-7.2": false, "-": false} {
		r := begin(t, "tailstock-by-test-cut")
		play(r, options(r), append(toMeasure[:7:7], line)...)
		if got := kinds(r); strings.HasSuffix(got, "instrument") == asked {
			t.Errorf("%q kept %q", line, got)
		}
		play(r, options(r), append(toMeasure[:0:0], line, "yes")...)
		if got := kinds(r); asked && !strings.HasSuffix(got, "instrument") {
			t.Errorf("%q, confirmed, kept %q", line, got)
		}
	}
}

// The take that was mistyped stands out among those of its place, and not
// among those of the other place.
func TestOddOneOutIsMarked(t *testing.T) {
	take := func(name string, n int, v string) engine.KeptAnswer {
		return engine.KeptAnswer{Name: name, Take: n, Value: v}
	}
	for _, c := range []struct {
		kept []engine.KeptAnswer
		want int
	}{
		{[]engine.KeptAnswer{take("d.a", 3, "24.950 mm"), take("d.a", 2, "24.811 mm"), take("d.a", 1, "24.812 mm"), take("d.b", 2, "24.962 mm"), take("d.b", 1, "24.962 mm")}, 0},
		{[]engine.KeptAnswer{take("d.a", 2, "24.811 mm"), take("d.a", 1, "24.812 mm"), take("d.b", 2, "24.962 mm"), take("d.b", 1, "24.962 mm")}, -1},
		{[]engine.KeptAnswer{take("p.1", 1, "2 µm"), take("p.2", 1, "3 µm"), take("p.3", 1, "30 µm"), take("p.4", 1, "4 µm")}, 2},
		{[]engine.KeptAnswer{take("p.1", 1, "2 µm"), take("p.2", 1, "yes"), take("p.3", 1, "30 µm")}, -1},
	} {
		if got := oddOneOut(c.kept); got != c.want {
			t.Errorf("%v: the odd one is %d, want %d", c.kept, got, c.want)
		}
	}
}

func TestInstrumentsAreListedByNumber(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	opts := options(r)
	opts.Instruments = func(kind string) []engine.Choice {
		if kind != "outside micrometer" {
			return nil
		}
		return []engine.Choice{{Word: "M-3", Label: "M-3, 0 to 25"}, {Word: "M-7", Label: "M-7, 25 to 50"}}
	}
	s := WithInstruments(r, func(name, id string) (engine.Bound, bool) {
		return engine.Bound{Name: name, ID: id}, true
	})
	play(s, opts, append(toMeasure[:7:7], "2", "20.011", "*", "5", "1")...)
	if got := kinds(r); !strings.HasSuffix(got, "instrument answered instrument") {
		t.Errorf("kept %q", got)
	}
}

func TestPlainSaysEachHeadOnceAndNoEscapes(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	var out strings.Builder
	result, err := Plain(strings.NewReader(strings.Join(append(toMeasure[:8:8], "20.011", "20.012"), "\n")), &out, r, options(r))
	if err != nil || result != (Result{Paused: true, Outcome: engine.NotDecided, Reason: "the input ended"}) {
		t.Errorf("result %+v, error %v", result, err)
	}
	if strings.ContainsAny(out.String(), "\x1b\a\r") {
		t.Errorf("control characters in %q", out.String())
	}
	if n := strings.Count(out.String(), "Step 2 of 2, measure both collars."); n != 2 { // at the wait, and again after the reason that was asked in between
		t.Errorf("the step is said %d times", n)
	}
	if !strings.HasSuffix(out.String(), "Stopped. Everything that was read back as kept is kept.\n") {
		t.Errorf("ends %q", out.String())
	}
	if got := kinds(r); !strings.HasSuffix(got, "answered answered paused") {
		t.Errorf("kept %q", got)
	}
}

// The end of the input, an empty line or silence never answer.
func TestPlainInventsNoAnswer(t *testing.T) {
	for _, in := range []string{"", "\n\n\n\n", "300", "300\n\n\n"} {
		r := begin(t, "tailstock-by-test-cut")
		result, err := Plain(strings.NewReader(in), io.Discard, r, options(r))
		if err != nil || !result.Paused {
			t.Errorf("%q: %+v, %v", in, result, err)
		}
		want := "paused"
		if strings.HasPrefix(in, "300") {
			want = "answered paused"
		}
		if got := kinds(r); got != want {
			t.Errorf("%q kept %q, want %q", in, got, want)
		}
	}
}

type noOutput struct{}

func (noOutput) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

func TestPlainStopsWhenTheOutputIsGone(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	result, err := Plain(strings.NewReader("300\n250\n"), noOutput{}, r, options(r))
	if err != nil || result.Reason != "the output could not be written" {
		t.Errorf("%+v, %v", result, err)
	}
}
