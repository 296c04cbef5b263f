package voice

import (
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/response"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// updating tells whether -update was said; package enginetest has the flag.
func updating() bool { return flag.Lookup("update").Value.String() == "true" }

func unit(t testing.TB, name string) quantity.Unit {
	t.Helper()
	u, err := quantity.Lookup(name)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

var now = time.Date(2026, 11, 3, 9, 0, 0, 0, time.UTC)

// The screens of a set-over that goes the wrong way first, and of others: one
// golden file holds them in order, as somebody would read them.
func TestScreens(t *testing.T) {
	mm, um := unit(t, "mm"), unit(t, "um")
	v := Voice{Title: "Tailstock in line: test cut between centres", Machine: "lathe-2"}
	micrometer := &engine.InHand{Name: "micrometer", Kind: "outside micrometer", ID: "M-3", Resolution: 0.001, Unit: mm}
	indicator := &engine.InHand{Name: "indicator", Kind: "dial indicator", ID: "I-2", Resolution: 0.01, Unit: mm}
	setOver := &procedures.Correction{Name: "set_over", Moved: &procedures.Moved{}}
	taper := engine.Judgement{Name: "cylindrical", Title: "Taper over 200 mm", Verdict: checks.Fail, Value: 0.045, U: 0.0069, Lo: -0.0133, Hi: 0.0133,
		Unit: mm, Positive: "larger at the tailstock end"}
	with := func(j engine.Judgement, edit func(*engine.Judgement)) *engine.Judgement { edit(&j); return &j }
	advice := &engine.Advice{Correction: setOver, Title: "Move the tailstock", HasAmount: true, Amount: 0.029, Unit: mm, Direction: "towards the operator",
		Divisions: 2.9, Instrument: indicator, Left: 5, Report: "set_over.moved", Spoils: []string{"Cut again", "Measure both collars"},
		Do: []string{"Indicator on the front of the barrel: needle goes plus", "Slacken, move, lock, then read"}}
	wrong := &engine.MoveAdvice{Correction: setOver, Band: response.BandMinus, Asked: 0.029, AskedWay: "towards the operator", Moved: -0.030,
		MovedWay: "away from the operator", Left: 0.059, LeftWay: "towards the operator", Divisions: 5.9, Unit: mm, Instrument: indicator}
	grew := engine.Response{Correction: setOver, Attempt: 1, Unit: mm, Before: 0.045, After: 0.091, UDelta: 0.0098, Shown: true, Expected: -0.045, Amount: 0.029, Moved: 0.030,
		HasMoved: true, AmountUnit: mm, Direction: "towards the operator", MovedWay: "towards the operator", Finding: response.Finding{Word: response.WrongSign, HasMoved: true}}

	for _, sc := range []struct {
		name  string
		voice Voice
		said  Screen
		q     engine.Question
		goOn  int
	}{
		{name: "spindle turns", q: engine.Question{Kind: engine.AskClear, Step: engine.Place{N: 1, Of: 5}, SpindleTo: procedures.Turning,
			Cautions: []engine.CautionText{{Text: "Wind the travel by hand: clear at both ends?"}}}, goOn: 2},
		{name: "hands go in", q: engine.Question{Kind: engine.AskClear, Step: engine.Place{N: 3, Of: 5}, SpindleTo: procedures.Stopped}, goOn: 1},
		{name: "a take", q: engine.Question{Kind: engine.AskReading, Step: engine.Place{N: 3, Of: 5, Title: "Measure both collars"}, Spindle: procedures.Stopped,
			Ask: "Headstock-end collar: diameter", Unit: &mm, Decimals: 3, Take: 2, Takes: 3, Remaining: 2, Instrument: micrometer, Range: &engine.Range{From: 5, To: 120}}},
		{name: "a whole turn", said: v.Refused(engine.Refusal{Code: "turn", Understood: "I read 32.347.", Wrong: "That is 0.500 above take 1: one whole turn of the thimble.", Keep: true})},
		{name: "tenths", said: v.Refused(engine.Refusal{Understood: "", Wrong: "\"Tenths\" may mean 0.1 mm or 0.0001 inch", Mend: "Nothing kept. Type 0.12 mm or 0.12 thou"})},
		{name: "taper fails", q: engine.Question{Kind: engine.AskWay, Gate: &taper, Unit: &mm, Also: []string{"set_over.moved"},
			Ways: []engine.Offered{{Name: "set_over", Kind: engine.WayCorrection, Advice: advice}, {Name: "concession", Kind: engine.WayConcession}}}},
		{name: "wrong way, nothing cut", q: engine.Question{Kind: engine.AskMove, Move: wrong, Unit: &mm}},
		{name: "typed towards, and cut", q: engine.Question{Kind: engine.AskMove, Response: &grew, Move: &engine.MoveAdvice{Correction: setOver, Nudge: true, NudgeWay: "towards the operator"}}},
		{name: "moved the wrong way", said: v.Responded(engine.Response{Correction: setOver, Unit: mm, Before: 0.045, After: 0.091, UDelta: 0.0098, Shown: true, Expected: -0.045, HasMoved: true, Verdict: checks.Fail,
			Direction: "towards the operator", MovedWay: "away from the operator", Finding: response.Finding{Word: response.WrongWay, HasMoved: true}})},
		{name: "taper passes", said: append(v.Responded(engine.Response{Finding: response.Finding{Word: response.AsExpected}}), v.Judged(*with(taper, func(j *engine.Judgement) {
			j.Verdict, j.Value = checks.Pass, -0.0012
		}))...)},
		{name: "cannot tell", q: engine.Question{Kind: engine.AskWay, Unit: &mm, Gate: with(taper, func(j *engine.Judgement) {
			j.Verdict, j.Value, j.Budget = checks.Undecided, 0.009, []uncert.Line{{Kind: uncert.Indication, Source: "M-3, its own error", Share: 0.9}, {Kind: uncert.Takes, Source: "M-3, scatter of 3 takes of both collars", Share: 0.1}}
		}), Ways: []engine.Offered{
			{Name: "set_over", Kind: engine.WayCorrection, Advice: &engine.Advice{Correction: setOver, Title: "Move the tailstock", HasAmount: true, Amount: 0.006, Unit: mm, Direction: "towards the operator"}},
			{Name: "concession", Kind: engine.WayConcession}, {Name: "reject", Kind: engine.WayReject}}}},
		{name: "the clamp took it back", q: engine.Question{Kind: engine.AskMove, Unit: &mm, Move: &engine.MoveAdvice{Correction: setOver, Band: response.BandPart, Asked: 0.03,
			AskedWay: "towards the operator", Moved: 0.01, MovedWay: "towards the operator", Left: 0.02, LeftWay: "towards the operator", Divisions: 2, Unit: mm, Instrument: indicator}}},
		{name: "no difference", said: v.Responded(engine.Response{Unit: mm, Before: 0.010, After: 0.012, UDelta: 0.007, Verdict: checks.Undecided, Finding: response.Finding{Word: response.NoDifference}})},
		{name: "undone, and no difference", said: v.Responded(engine.Response{Title: "Taper", Unit: mm, Before: 0.045, After: 0.043, UDelta: 0.007, Expected: -0.045, Verdict: checks.Fail, Finding: response.Finding{Word: response.Undone}})},
		{name: "a difference", said: v.Told(engine.Notice{Kind: engine.Settled, Change: changed(0.045, -0.0012, 0.0069), Judgement: with(taper, func(j *engine.Judgement) {
			j.Verdict, j.Value = checks.Pass, -0.0012
		})})},
		{name: "a difference close by that is noise", said: v.Told(engine.Notice{Kind: engine.Settled, Change: changed(0.0155, 0.0090, 0.0069), Judgement: with(taper, func(j *engine.Judgement) {
			j.Verdict, j.Value = checks.Undecided, 0.0090
		})})},
		{name: "a difference as large as its doubt", said: v.Told(engine.Notice{Kind: engine.Settled, Change: changed(0.0180, 0.0249, 0.00685), Judgement: with(taper, func(j *engine.Judgement) {
			j.Value = 0.0249
		})})},
		{name: "a difference at one station", said: v.Told(engine.Notice{Kind: engine.Settled, Change: func() *engine.Change { c := changed(0.001, 0.004, 0.001); c.Element = "100"; return c }(),
			Judgement: &engine.Judgement{Title: "One size along the bar", Verdict: checks.Fail, Value: 0.004, U: 0.001, Lo: -0.002, Hi: 0.002, Unit: mm, Positive: "fat", Element: "100",
				Elements: []engine.Element{{Key: "0"}, {Key: "50"}, {Key: "100"}}, Gate: &procedures.Gate{Of: formula.Const(value.Value{}, value.Type{Kind: value.Profile})}}})},
		{name: "seen from the front", said: v.Judged(engine.Judgement{Title: "Seen from the front", Verdict: checks.Fail, Value: 24, U: 4, Lo: 0, Hi: 16, Unit: thousandth(um), Positive: "free end high"})},
		{name: "seen from above", said: v.Judged(engine.Judgement{Title: "Seen from above", Verdict: checks.Undecided, Value: 2, U: 4, Lo: 0, Hi: 12, Unit: thousandth(um), Positive: "free end towards the operator"})},
		{name: "metal off", q: engine.Question{Kind: engine.AskWay, Gate: &engine.Judgement{Title: "Axis rises, never falls", Verdict: checks.Fail, Value: 24, U: 4, Lo: 0, Hi: 16, Unit: thousandth(um), Positive: "free end high"},
			Ways: []engine.Offered{{Name: "scrape", Kind: engine.WayCorrection, Advice: &engine.Advice{Correction: &procedures.Correction{Name: "scrape"}, Title: "Scrape both nose-end pads", HasAmount: true,
				Amount: 0.013, Unit: mm, Direction: "off, fading to nothing at the rear pads", NoReturn: true, Report: "scrape", Left: 1, Do: []string{"Power off and locked; support the head"},
				Spoils: []string{"hold-down screws", "both planes", "tailstock height and line"}}},
				{Name: "shim", Kind: engine.WayCorrection, Advice: &engine.Advice{Title: "Shim at the rear instead"}}}}},
		{name: "once more", q: engine.Question{Kind: engine.AskReading, Step: engine.Place{N: 4, Of: 7, Title: "Read the bar, front"}, Spindle: procedures.Stopped, Ask: "Front, near, mark up", Unit: &mm,
			Decimals: 3, Again: true, Positive: "bar nearer to the operator", Instrument: &engine.InHand{Name: "indicator", ID: "I-4"}}},
		{name: "something shifted", said: v.Told(engine.Notice{Kind: engine.SetVoid, Drift: &engine.Drift{Moved: 0.006, Allowed: 0.002, Voids: 1, Reading: &procedures.Reading{Answer: procedures.Answer{Unit: &mm}}}})},
		{name: "a row so far", q: engine.Question{Kind: engine.AskReading, Ask: "Height at 150 from the headstock end", Unit: &um, Station: 4, Stations: 5, At: []float64{0, 50, 100, 150, 200},
			So: []float64{0, 0.003, 0.004, math.NaN(), math.NaN()}, Remaining: 2, Step: engine.Place{N: 2, Of: 3, Title: "Read the way"}, Positive: "high"}},
		{name: "fat in the middle", said: v.Judged(engine.Judgement{Title: "One size along the bar", Verdict: checks.Fail, Value: 0.004, U: 0.001, Lo: -0.002, Hi: 0.002, Unit: mm, Positive: "fat", Element: "100",
			Elements: []engine.Element{{Key: "0"}, {Key: "50"}, {Key: "100"}}, Gate: &procedures.Gate{Of: formula.Const(value.Value{}, value.Type{Kind: value.Profile})}})},
		{name: "a wait", q: engine.Question{Kind: engine.AskWait, Step: engine.Place{N: 2, Of: 3, Title: "Measure"}, Why: "the bar is warm from the cut", Wait: &engine.Waiting{Over: now.Add(5 * time.Minute)}}},
		{name: "readings that must agree", q: engine.Question{Kind: engine.AskWait, Step: engine.Place{N: 2, Of: 3, Title: "Measure"}, Why: "a warm bar measures too big", Ask: "Diameter at the middle", Unit: &mm, Decimals: 4,
			Wait: &engine.Waiting{Reading: true, Last: []float64{24.9982}, Agree: 0.0005, Every: 5 * time.Minute, Takes: 24}}},
		{name: "a wait that is watched", voice: Voice{Watched: true}, q: engine.Question{Kind: engine.AskWait, Step: engine.Place{N: 2, Of: 3, Title: "Measure"}, Why: "a warm bar measures too big", Ask: "Diameter at the middle", Unit: &mm, Decimals: 4,
			Wait: &engine.Waiting{From: now.Add(-2 * time.Minute), Over: now.Add(3 * time.Minute), Last: []float64{24.9982}, Agree: 0.0005, Every: 5 * time.Minute, Takes: 24}}},
		{name: "readings that do not agree", q: engine.Question{Kind: engine.AskWait, Step: engine.Place{N: 2, Of: 3, Title: "Measure"}, Why: "a warm bar measures too big", Ask: "Diameter at the middle", Unit: &mm, Decimals: 4,
			Wait: &engine.Waiting{From: now, Over: now.Add(5 * time.Minute), Last: []float64{24.9982, 24.9961, 24.9982}, Agree: 0.0005, Every: 5 * time.Minute, Takes: 3}}},
		{name: "taken off so far", said: v.Advised(engine.Advice{Correction: setOver, Title: "Scrape the strip", HasAmount: true, Unit: um, Direction: "scrape off", At: []float64{0, 100}, Amounts: []float64{0.012, 0.004}, NoReturn: true, Ledger: "strip",
			SoFar: []engine.LedgerLine{{Place: "strip at 0", Way: "scrape off", Total: 0.02, Unit: um, Planned: true, Correction: &procedures.Correction{}}, {Place: "strip at 100", Way: "scrape off", Total: 0.03, Unit: um, Planned: true, Correction: &procedures.Correction{}},
				{Place: "strip", Way: "shim under the strip", Total: 0.012, Unit: um, Correction: &procedures.Correction{Moved: &procedures.Moved{}}}}})},
		{name: "inches", voice: Voice{Inch: true}, said: Voice{Inch: true}.Advised(engine.Advice{Correction: setOver, Title: "Move the tailstock", HasAmount: true, Amount: 0.029, Unit: um, Direction: "towards the operator",
			Divisions: 2.28, Instrument: &engine.InHand{ID: "I-9", Resolution: 0.0127}})},
		{name: "an offer", q: engine.Question{Kind: engine.AskGiven, Ask: "Length of the bar between its centres", Unit: &mm, Offer: &engine.Offer{Value: 300, Text: "300 mm", From: "the entry of lathe-2"}}},
		{name: "all tries used", q: engine.Question{Kind: engine.AskWay, Gate: &taper, Open: []string{"bed twist", "headstock line"}, Ways: []engine.Offered{{Name: "reject", Kind: engine.WayReject}}}},
		{name: "not measured", said: v.Judged(engine.Judgement{Title: "One size over the whole length", Verdict: checks.NotMeasured, Why: "cannot reach it: boss under the driver"})},
		{name: "settled", said: v.Ended(engine.NotDecided, []engine.Judgement{{Title: "Straight", Verdict: checks.Pass}, {Title: "Round", Verdict: checks.Pass},
			{Title: "One size over the whole length", Verdict: checks.NotMeasured, Conceded: &engine.Concession{Reason: "end used only for driving"}}})},
		{name: "concession", q: engine.Question{Kind: engine.AskConcession, Role: &procedures.Signoff{Name: "inspector"}, Gate: &engine.Judgement{Title: "One size over the whole length", Verdict: checks.NotMeasured,
			Why: "cannot reach it", Conceded: &engine.Concession{By: "A. Fitter", Reason: "end used only for driving"}}}},
		{name: "signature", q: engine.Question{Kind: engine.AskSign, Ask: "Accepted by: the signer's name", Role: &procedures.Signoff{Name: "inspector", OtherThan: &procedures.Signoff{Name: "fitter"}}}},
		{name: "sign now", said: v.SignNow("B. Inspector", engine.Conceded, []engine.Judgement{{Title: "One size over the whole length", Verdict: checks.NotMeasured, Conceded: &engine.Concession{Decided: true, Granted: true}}})},
		{name: "back", said: append(say(v.Back(9*24*time.Hour)), v.Told(engine.Notice{Kind: engine.Resumed, Text: "Nothing that was kept is lost.", Titles: []string{"zero of M-3", "Cycle 3, stations 1 to 3"}})...)},
		{name: "menu", said: v.MenuScreen(v.Menu())},
		{name: "stopped", said: v.Paused()},
		{name: "large", voice: Voice{Large: true}, q: engine.Question{Kind: engine.AskReading, Step: engine.Place{N: 2, Of: 3, Title: "Measure along the bar"}, Ask: "Diameter at 100 from the first station",
			Unit: &mm, Decimals: 3, Station: 3, Stations: 5, Instrument: micrometer}},
	} {
		t.Run(sc.name, func(t *testing.T) {
			if sc.voice == (Voice{}) {
				sc.voice = v
			}
			got := lay(sc.voice, sc.said, sc.q, sc.goOn)
			checkScreen(t, sc.voice, got)
			golden(t, sc.name, got)
		})
	}
}

// changed is a change as the engine tells it.
func changed(from, to, u float64) *engine.Change {
	return &engine.Change{From: from, To: to, Since: 1, Difference: uncert.Differ(to-from, uncert.Result{Std: u / 2, K: 2, U: u, DoF: math.Inf(1)})}
}

// thousandth makes the numbers of a test readable: 24 stands for 24 µm.
func thousandth(um quantity.Unit) quantity.Unit {
	um.Factor = 1
	return quantity.Unit{Name: "um", Symbol: um.Symbol, UCUM: um.UCUM, Dim: um.Dim, Factor: 1}
}

func lay(v Voice, said Screen, q engine.Question, goOn int) []string {
	if q.Kind == "" {
		return v.Lay(said)
	}
	a := v.Ask(q, goOn, now)
	var out []string
	for i, p := range v.Pages(a) {
		if i > 0 {
			out = append(out, "----")
		}
		out = append(out, p...)
	}
	return out
}

// checkScreen holds a screen against what every screen keeps to.
func checkScreen(t *testing.T, v Voice, lines []string) {
	t.Helper()
	for _, l := range lines {
		if n := utf8.RuneCountInString(l); n > v.columns() {
			t.Errorf("%d columns, want %d at most: %q", n, v.columns(), l)
		}
		for _, r := range l {
			switch {
			case r == '!':
				t.Errorf("an exclamation mark: %q", l)
			case r < ' ' || r >= 0x2500 && r < 0x2600: // control characters, box drawing and blocks
				t.Errorf("a character that is not to be read (%U): %q", r, l)
			}
		}
		if strings.Contains(l, "operator") && !strings.Contains(l, "Operator") {
			t.Errorf("the person is called you: %q", l)
		}
	}
}

func golden(t *testing.T, name string, got []string) {
	t.Helper()
	file := filepath.Join("testdata", strings.ReplaceAll(strings.ReplaceAll(name, ",", ""), " ", "-")+".golden")
	text := strings.Join(got, "\n") + "\n"
	if updating() {
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), text); diff != "" {
		t.Errorf("%s (-want +got):\n%s", file, diff)
	}
}
