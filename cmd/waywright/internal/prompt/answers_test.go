package prompt

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
	"waywright/report/evidence"
)

// answered plays an answers file on a run and returns what was written.
func answered(s Session, file string, opts Options) (string, Result, error) {
	var out strings.Builder
	result, err := Answers(strings.NewReader(file), "answers.txt", &out, s, opts)
	return out.String(), result, err
}

// kinds lists the events that a run kept, after it was begun.
func kinds(r interface{ Events() []engine.Event }) string {
	var out []string
	for _, e := range r.Events()[2:] {
		out = append(out, e.Data.Kind())
	}
	return strings.Join(out, " ")
}

const goodAnswers = `# test cut, small lathe
centres       = 300 mm
span          = 250 mm
one_setting   = yes
headstock_end = 20.011 20.012 20.011
tailstock_end = 20,011 20,012 20,011
fitter        = A. Fitter
inspector     = B. Inspector
`

func TestAnswersFileEndsARun(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	out, result, err := answered(r, goodAnswers, options(r))
	if err == nil {
		t.Fatal("a run with skipped cautions cannot be signed, but was")
	}
	want := "answers.txt:7:17: This run cannot be signed: not acknowledged, Take the test cut: caution rotating, caution centres, spindle turning; not acknowledged, Measure both collars: spindle stopped."
	if !strings.HasPrefix(err.Error(), want) {
		t.Errorf("error %q, want %q…", err, want)
	}
	if !result.Paused {
		t.Errorf("result %+v", result)
	}
	for _, line := range []string{"Diameter, HEADSTOCK-END collar, take 1 of 3?", "> 20.011 20.012 20.011", "PASS    The bar turns parallel"} {
		if !strings.Contains(out, line+"\n") {
			t.Errorf("%q is not in\n%s", line, out)
		}
	}
	r = begin(t, "tailstock-by-test-cut")
	whole := strings.NewReplacer("one_setting ", "cut.clear = yes\none_setting ", "headstock_end ", "measure.clear = yes\nheadstock_end ").Replace(goodAnswers)
	_, result, err = answered(r, whole, options(r))
	if err != nil || !result.Ended || result.Outcome != engine.Accepted {
		t.Errorf("result %+v, error %v", result, err)
	}
}

func TestAnswersThatEndBeforeTheRunPauseIt(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	_, result, err := answered(r, "centres = 300\nspan = 250\n", options(r))
	if err != nil || result != (Result{Paused: true, Outcome: engine.NotDecided, Reason: "the answers end"}) {
		t.Errorf("result %+v, error %v", result, err)
	}
	if q := r.Next(); q.Name != "cut.clear" {
		t.Errorf("the run asks %s; a caution is not left out because the file ends", q.Name)
	}
}

func TestAnswersThatStop(t *testing.T) {
	for _, tt := range []struct{ name, file, want, kept string }{
		{"another name", "centres = 300\nheadstock_end = 20.011", "answers.txt:2:1: this answers headstock_end, but span is asked: Collars: distance, middle to middle", "answered"},
		{"another name behind optional questions", "centres = 300\nspan = 250\nspan = 251", "answers.txt:3:1: this answers span, but one_setting is asked: Were both collars cut without touching the cross slide?", "answered answered"},
		{"wrong unit", "centres = 300 °C", "", ""},
		{"not a number", "centres = NaN", "", ""},
		{"too many", "centres = 300\nspan = 250\ncut.clear = yes\none_setting = yes\nmeasure.clear = yes\nheadstock_end = 20 20 20 20", "", "answered answered cleared answered cleared waited instrument"},
		{"out of range", "centres = 2000", "answers.txt:1:11: I read 2000 mm. Expected 80 mm to 1500 mm. Type it again, or keep it and say why. Here: write because and the reason behind the value.", ""},
		{"a line that is none", "centres = 300\n250", `answers.txt:2:1: I read "250". A line is name = value, or one of back, pause, note, attach, amend, cannot, disturb, leave_out, abandon.`, "answered"},
		{"a file that cannot be kept", "attach bed.jpg", `answers.txt:1:1: the file "bed.jpg" cannot be kept: this run keeps no files`, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := begin(t, "tailstock-by-test-cut")
			_, result, err := answered(r, tt.file, options(r))
			var fe *FileError
			if !errors.As(err, &fe) || fe.Line == 0 || tt.want != "" && err.Error() != tt.want {
				t.Errorf("got  %v\nwant %s", err, tt.want)
			}
			if !result.Paused {
				t.Errorf("result %+v: the run is kept, paused", result)
			}
			if got := kinds(r); got != tt.kept {
				t.Errorf("kept %q, want %q: nothing is left out on the way to a wrong name", got, tt.kept)
			}
		})
	}
}

func TestAnswersKeepOddValuesWithTheirReason(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	_, _, err := answered(r, "centres = 2000 because it is the long bed\n", options(r))
	if err != nil {
		t.Fatal(err)
	}
	e := r.Events()[2].Data.(engine.Answered)
	if e.Reason != "it is the long bed" || e.Odd == "" || e.Takes[0].Value != 2000 {
		t.Errorf("kept %+v", e)
	}
}

func TestAnswersFileVerbs(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	file := "centres = 300\nnote measured at the bench\nback\nback\ncentres = 301\namend centres 302 because mistyped\nattach bar.jpg the bar\npause because dinner\nspan = 250\n"
	opts := options(r)
	opts.Attach = func(path string, _ evidence.Keeping) (*engine.File, error) {
		return &engine.File{Name: path, SHA256: strings.Repeat("0", 64), Size: 1}, nil
	}
	_, result, err := answered(r, file, opts)
	if err != nil || !result.Paused || result.Reason != "stopped" {
		t.Errorf("result %+v, error %v", result, err)
	}
	if got, want := kinds(r), "answered noted withdrawn withdrawn answered amended noted paused"; got != want {
		t.Errorf("kept %q, want %q", got, want)
	}
	if f := r.Events()[8].Data.(engine.Noted).File; f == nil || f.Name != "bar.jpg" {
		t.Errorf("the file is %+v", f)
	}
}

func TestAnswersFileReportsTheFirstWay(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	file := `centres = 300
span = 250
one_setting = yes
headstock_end = 20.011 20.012 20.011
tailstock_end = 20.153 20.152 20.153
set_over.moved = 0.085 mm
`
	if _, _, err := answered(r, file, options(r)); err != nil {
		t.Fatal(err)
	}
	if got := kinds(r); !strings.HasSuffix(got, "chosen instrument reported") {
		t.Errorf("kept %q", got)
	}
}

// An instrument may be named when it is asked for, with what the logbook knows
// of it, and another one at any later question.
func TestAnswersFileNamesInstruments(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	s := WithInstruments(r, func(name, id string) (engine.Bound, bool) {
		return engine.Bound{Name: name, ID: id, Unit: "um", Resolution: 1, Due: "2027-03-31"}, id != "unknown"
	})
	file := `centres = 300
span = 250
one_setting = yes
instrument.micrometer = M-3
headstock_end = 20.011
instrument.micrometer = M-7 because M-3 was dropped
headstock_end = 20.011
`
	if _, _, err := answered(s, file, options(r)); err != nil {
		t.Fatal(err)
	}
	var bound []string
	for _, e := range r.Events() {
		if b, ok := e.Data.(engine.Bound); ok {
			bound = append(bound, fmt.Sprint(b.ID, " ", b.Due, " ", b.Reason))
		}
	}
	if got, want := strings.Join(bound, "; "), "M-3 2027-03-31 ; M-7 2027-03-31 M-3 was dropped"; got != want {
		t.Errorf("bound %q, want %q", got, want)
	}
	if _, _, err := answered(begin(t, "tailstock-by-test-cut"), "instrument.micrometer = M-3", options(r)); err == nil {
		t.Error("without a logbook an instrument was taken that is not asked for")
	}
}

// failing is a session whose journal cannot be written.
type failing struct{ Session }

func (failing) Say(engine.Input) ([]engine.Notice, *engine.Refusal, error) {
	return nil, nil, io.ErrShortWrite
}

func TestJournalThatFailsEndsEveryFrontEnd(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut")
	_, result, err := answered(failing{r}, "centres = 300\n", options(r))
	if !errors.Is(err, io.ErrShortWrite) || !result.Paused {
		t.Errorf("answers: %+v, %v", result, err)
	}
	result, err = Plain(strings.NewReader("300\n250\n"), io.Discard, failing{r}, options(r))
	if !errors.Is(err, io.ErrShortWrite) || !result.Paused {
		t.Errorf("plain: %+v, %v", result, err)
	}
}

// A row may stand under the name of its reading; one value alone has to name
// its place.
func TestAnswersFileGivesARowByTheReadingsName(t *testing.T) {
	before := "diameter = 25\nstations = 5\nlength = 200\nlap_length = 40\n"
	ten := "25.0002 25.0001 25.0051 25.0051 25.0081 25.0080 25.0049 25.0050 25.0008 25.0009"
	r := begin(t, "lap-bar")
	if _, _, err := answered(r, before+"bar = "+ten+"\n", options(r)); err != nil {
		t.Fatal(err)
	}
	events := r.Events()
	if a, ok := events[len(events)-1].Data.(engine.Answered); !ok || a.Name != "bar.0" || len(a.Takes) != 10 {
		t.Errorf("kept %+v", events[len(events)-1].Data)
	}
	for line, want := range map[string]string{
		"bar = 25.0002":    "answers.txt:5:1: this answers bar, but bar.0 is asked",
		"bar = 25 25 25":   "answers.txt:5:7: I read 3 values",
		"bar = 25.0002 mm": "answers.txt:5:1: this answers bar, but bar.0 is asked",
		"bar.50 = " + ten:  "answers.txt:5:1: this answers bar.50, but bar.0 is asked",
	} {
		r := begin(t, "lap-bar")
		if _, _, err := answered(r, before+line, options(r)); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: got %v, want %s…", line, err, want)
		}
	}
}

func TestRowName(t *testing.T) {
	for _, tt := range []struct {
		q    engine.Question
		want string
	}{
		{engine.Question{Name: "bar.12.5", At: []float64{0, 12.5, 25}}, "bar"},
		{engine.Question{Name: "line.2.100", At: []float64{0, 100}}, "line.2"},
		{engine.Question{Name: "way.100.back", At: []float64{0, 100}}, "way.back"},
		{engine.Question{Name: "round.90", At: []float64{0, math.Pi / 2}}, "round"},
		{engine.Question{Name: "bar.0.again", At: []float64{0, 100}, Again: true}, ""},
		{engine.Question{Name: "front.near.0"}, ""},
	} {
		if got := rowName(tt.q); got != tt.want {
			t.Errorf("rowName(%s) = %q, want %q", tt.q.Name, got, tt.want)
		}
	}
}

// The signs that a question offers mean in a file what they mean on a screen.
func TestAnswersFileTakesTheSignsThatAreOffered(t *testing.T) {
	offered := engine.Question{Kind: engine.AskGiven, Offer: &engine.Offer{}}
	for _, tt := range []struct {
		q          engine.Question
		text, want string
	}{
		{engine.Question{Kind: engine.AskInstrument}, "-", "none"},
		{engine.Question{Kind: engine.AskInstrument}, "M-3", "M-3"},
		{offered, " + ", "offered"},
		{offered, "+3", "+3"},
		{engine.Question{Kind: engine.AskGiven}, "+", "+"},
		{engine.Question{Kind: engine.AskReading}, "-", "-"},
	} {
		if got := Typed(tt.q, tt.text); got != tt.want {
			t.Errorf("%s: %q stands for %q, want %q", tt.q.Kind, tt.text, got, tt.want)
		}
	}
	r := begin(t, "tailstock-by-test-cut")
	file := strings.Replace(goodAnswers, "headstock_end =", "measure.clear = yes\ninstrument.micrometer = -\nheadstock_end =", 1)
	out, _, _ := answered(r, file, options(r)) // stops at the signature: a caution was left out
	if strings.Contains(out, "micrometer -") {
		t.Errorf("an instrument without a number is called -:\n%s", out)
	}
	var bound []engine.Bound
	for _, ev := range r.Events() {
		if b, ok := ev.Data.(engine.Bound); ok {
			bound = append(bound, b)
		}
	}
	if diff := cmp.Diff([]engine.Bound{{Name: "micrometer"}}, bound); diff != "" {
		t.Errorf("instruments (-want +got):\n%s", diff)
	}
}
