package voice

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"waywright/checks/response"
	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures"
	"waywright/procedures/hclfile"
)

// row is one row of the table of responses, played on the engine: what was
// asked, what the needle showed, what the result was then. Lengths are µm.
type row struct {
	name  string // of the screen
	word  response.Word
	off   string // what is read before
	chose string // the way chosen, with its report
	more  string // what is answered to a movement that was not as asked
	after string // what is read after
	then  string // what is answered to the test of the needle
}

// rows has every word, and beside it the cases that are worded otherwise.
var rows = []row{
	{"as expected", response.AsExpected, "40", "shift.moved = 40 down", "", "1", ""},
	{"wrong way", response.WrongWay, "40", "shift.moved = 40 up", "- = carry_on", "80", ""},
	{"wrong way, answered weakly", response.WrongWay, "40", "shift.moved = 40 up", "- = carry_on", "52", ""},
	{"wrong way, not read", response.WrongWay, "40", "low = tap\ntap = yes", "", "80", ""},
	{"wrong sign", response.WrongSign, "40", "shift.moved = 40 down", "", "80", ""},
	{"wrong sign, and the needle is right", response.WrongSign, "40", "shift.moved = 40 down", "", "80", "plus"},
	{"wrong sign, and it is turned", response.WrongSign, "40", "shift.moved = 40 down", "", "80", "minus"},
	{"reversed", response.Reversed, "40", "shift.moved = 40 up", "- = carry_on", "1", ""},
	{"undone", response.Undone, "40", "shift.moved = 40 down", "", "41", ""},
	{"undone, not read", response.Undone, "40", "low = tap\ntap = yes", "", "41", ""},
	{"not moved", response.NotMoved, "40", "shift.moved = 0", "- = carry_on", "40", ""},
	{"part", response.Part, "40", "shift.moved = 20 down", "- = carry_on", "20", ""},
	{"weak", response.Weak, "40", "shift.moved = 40 down", "", "20", ""},
	{"strong", response.Strong, "40", "shift.moved = 40 down", "", "-24", ""},
	{"strong, something else", response.Strong, "40", "shift.moved = 40 down", "", "-60", ""},
	{"too far", response.TooFar, "40", "shift.moved = 100 down", "- = carry_on", "-61", ""},
	{"unclear", response.Unclear, "40", "shift.moved = 80 down", "- = carry_on", "40", ""},
	{"unclear, less came", response.Unclear, "40", "shift.moved = 80 down", "- = carry_on", "-8", ""},
	{"unclear, more came", response.Unclear, "40", "shift.moved = 80 down", "- = carry_on", "-120", ""},
	{"unclear, the needle shows nothing", response.Unclear, "40", "shift.moved = 0", "- = carry_on", "2", ""},
	{"unclear, against the needle", response.Unclear, "40", "shift.moved = 80 down", "- = carry_on", "80", ""},
	{"reversed, and the needle is right", response.Reversed, "40", "shift.moved = 40 up", "- = carry_on", "8", "plus"},
	{"better", response.Better, "8", "shift.moved = 8 down", "", "1.9", ""},
	{"worse", response.Worse, "8", "shift.moved = 8 down", "", "16", ""},
	{"no difference", response.NoDifference, "8", "shift.moved = 8 down", "", "6", ""},
	{"a near thing", response.Weak, "14", "shift.moved = 14 down", "", "4", ""},
}

// Every row of the table is reached on the engine and said so that the next
// thing to do is plain.
func TestRowsOfTheResponseTable(t *testing.T) {
	plan := planOf(t, "fine")
	for _, tt := range rows {
		t.Run(tt.name, func(t *testing.T) {
			script := strings.Join([]string{"begin fine", "omit", "off = " + tt.off, tt.chose, tt.more}, "\n")
			r := enginetest.Play(t, script, func(string) (*engine.Plan, error) { return plan, nil })
			notices, refusal, err := r.Say(engine.Input{Name: "off", Text: tt.after})
			if err != nil || refusal != nil {
				t.Fatalf("%+v %v, while %s is asked", refusal, err, r.Next().Name)
			}
			var got response.Word
			for _, n := range notices {
				if n.Kind == engine.Answers {
					got = n.Response.Finding.Word
				}
			}
			if got != tt.word {
				t.Fatalf("the word is %s, want %s", got, tt.word)
			}
			if tt.then != "" {
				if _, refusal, err := r.Say(engine.Input{Text: tt.then}); err != nil || refusal != nil {
					t.Fatalf("%s is refused: %+v %v", tt.then, refusal, err)
				}
			}
			v := Voice{Title: "Set a post", Machine: "lathe-2"}
			lines := lay(v, nil, r.Next(), 2)
			checkScreen(t, v, lines)
			golden(t, "row "+tt.name, lines)
		})
	}
	reached := map[response.Word]bool{}
	for _, r := range rows {
		reached[r.word] = true
	}
	for _, w := range response.Words() {
		if !reached[w] {
			t.Errorf("no row reaches %s", w)
		}
	}
}

// What a correction did is told otherwise where the result passes: nothing is left
// to be moved, and no amount follows.
func TestRowsOfAResultThatPasses(t *testing.T) {
	plan := planOf(t, "fine", "plus_minus(um(1))", "plus_minus(um(20))")
	for _, tt := range []row{
		{"weak, and it passes", response.Weak, "40", "shift.moved = 40 down", "", "15", ""},
		{"strong, and it passes", response.Strong, "40", "shift.moved = 40 down", "", "-15", ""},
		{"part, and it passes", response.Part, "40", "shift.moved = 24 down", "- = carry_on", "15", ""},
		{"too far, and it passes", response.TooFar, "40", "shift.moved = 60 down", "- = carry_on", "-16", ""},
		{"unclear, and it passes", response.Unclear, "40", "shift.moved = 80 down", "- = carry_on", "-5", ""},
		{"reversed, and it passes", response.Reversed, "40", "shift.moved = 40 up", "- = carry_on", "1", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			script := strings.Join([]string{"begin fine", "omit", "off = " + tt.off, tt.chose, tt.more}, "\n")
			r := enginetest.Play(t, script, func(string) (*engine.Plan, error) { return plan, nil })
			notices, refusal, err := r.Say(engine.Input{Name: "off", Text: tt.after})
			if err != nil || refusal != nil {
				t.Fatalf("%+v %v", refusal, err)
			}
			v := Voice{Title: "Set a post", Machine: "lathe-2"}
			var lines []string
			for _, n := range notices {
				if n.Kind == engine.Answers && n.Response.Finding.Word != tt.word {
					t.Errorf("the word is %s, want %s", n.Response.Finding.Word, tt.word)
				}
				lines = append(lines, v.Lay(v.Told(n))...)
			}
			all := strings.Join(lines, " ")
			if !strings.Contains(all, "PASS") {
				t.Errorf("it does not pass:\n%s", all)
			}
			for _, no := range []string{"amount", "easure again", "MOVE", "Move", "to be moved", "asked again", "follows"} {
				if strings.Contains(all, no) {
					t.Errorf("%q is said of a result that passes:\n%s", no, all)
				}
			}
			checkScreen(t, v, lines)
			golden(t, "row "+tt.name, lines)
		})
	}
}

// A move that did nothing, by an indicator too coarse to name a cause: the gate
// still fails by far more than its doubt, so another round would show very well.
func TestNothingCameAndItStillFails(t *testing.T) {
	plan := planOf(t, "fine", "plus_minus(um(1))", "plus_minus(um(8))", `kind          = "dial indicator"
  resolution    = um(0.1)`, `kind          = "dial indicator"
  resolution    = um(20)`)
	v := Voice{Title: "Set a post", Machine: "lathe-2"}
	script := "begin fine\nomit\noff = 18\nshift.moved = 20 down\noff = 18"
	r := enginetest.Play(t, script, func(string) (*engine.Plan, error) { return plan, nil })
	q := r.Next()
	if q.Response == nil || q.Response.Finding.Word != response.NoDifference {
		t.Fatalf("%s is asked: %+v", q.Name, q.Response)
	}
	lines := lay(v, nil, q, 2)
	checkScreen(t, v, lines)
	golden(t, "row no difference, and it still fails", lines)
	// Read once more, it stands as it did.
	for _, in := range []engine.Input{{Text: "afresh", Reason: "to see"}, {Name: "off", Text: "18"}} {
		if _, refusal, err := r.Say(in); refusal != nil || err != nil {
			t.Fatalf("%+v: %+v %v", in, refusal, err)
		}
	}
	lines = lay(v, nil, r.Next(), 2)
	golden(t, "row no difference, read once more", lines)
	if all := strings.Join(lines, " "); strings.Contains(all, "once more. If") || strings.Contains(all, "would show no more") {
		t.Errorf("it is told again to read once more:\n%s", all)
	}
}

func planOf(t *testing.T, name string, instead ...string) *engine.Plan {
	t.Helper()
	text, err := os.ReadFile("../../../../testdata/procedures/engine/" + name + ".hcl")
	if err != nil {
		t.Fatal(err)
	}
	source := strings.NewReplacer(instead...).Replace(string(text))
	if len(instead) > 0 && source == string(text) {
		t.Fatal("nothing was put instead")
	}
	l, diags := hclfile.Parse(hclfile.Source{FS: fstest.MapFS{name + ".hcl": {Data: []byte(source)}}, Path: name + ".hcl"})
	if diags.HasErrors() {
		t.Fatalf("%s: %v", name, diags)
	}
	return engine.NewPlan(l.Procedure)
}

// Where metal goes that nobody reads, what was done is asked with the first pass
// that was advised, and the words of each answer are understood.
func TestHowMuchWasDone(t *testing.T) {
	for _, tt := range []struct{ script, name string }{
		{"true = shim", "done, how much"}, {"true = scrape", "done, half at every station"},
	} {
		plan := planOf(t, "corr-ways")
		r := enginetest.Play(t, "begin corr-ways\nomit\nhigh.0 = 20 30 20\nomit\nends = 0\n"+tt.script, func(string) (*engine.Plan, error) { return plan, nil })
		v := Voice{Title: "Make a strip true", Machine: "lathe-2"}
		q := r.Next()
		if q.Kind != engine.AskDone {
			t.Fatalf("%s is asked", q.Name)
		}
		lines := lay(v, nil, q, 2)
		checkScreen(t, v, lines)
		golden(t, tt.name, lines)
		for _, o := range v.Ask(q, 2, now).Options {
			if o.Act != 0 {
				continue
			}
			if _, refusal := r.State().Reply(now, engine.Input{Name: o.Name, Text: o.Word}); refusal != nil {
				t.Errorf("%q is refused: %+v", o.Word, refusal)
			}
		}
	}
}

// What cannot be signed is said with what stands in the way and what makes it
// good, before a name is asked for.
func TestSignSaysWhatMakesItGood(t *testing.T) {
	q := engine.Question{Kind: engine.AskSign, Role: &procedures.Signoff{Name: "fitter"}, Ask: "Carried out by: the signer's name",
		Open: []string{"not acknowledged, Cut: caution hands"}, Why: "Work the step again with its cautions: disturb cut because REASON."}
	var v Voice
	said := strings.Join(v.Lay(v.Ask(q, 2, now).All()), "\n")
	want := "You sign as FITTER.\nIt cannot be signed yet:\n not acknowledged, Cut: caution hands\nWork the step again with its cautions: disturb cut because\nREASON.\nCarried out by: the signer's name."
	if said != want {
		t.Errorf("got\n%s\nwant\n%s", said, want)
	}
}
