package voice

import (
	"os"
	"strings"
	"testing"

	"waywright/checks/response"
	"waywright/engine"
	"waywright/engine/enginetest"
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
	{"unclear", response.Unclear, "40", "shift.moved = 80 down", "- = carry_on", "40", ""},
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

func planOf(t *testing.T, name string) *engine.Plan {
	t.Helper()
	dir := "../../../../testdata/procedures/engine"
	l, diags := hclfile.Parse(hclfile.Source{FS: os.DirFS(dir), Path: name + ".hcl"})
	if diags.HasErrors() {
		t.Fatalf("%s: %v", name, diags)
	}
	return engine.NewPlan(l.Procedure)
}
