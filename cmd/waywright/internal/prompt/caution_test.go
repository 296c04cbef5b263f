package prompt

import (
	"strings"
	"testing"
	"testing/fstest"

	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
)

// aPost is out by more than it may be, and its correction has a caution that
// nothing before it has.
const aPost = `procedure "post" {
  title    = "Set a post to height"
  machine  = "any"
  revision = "1"
  purpose  = "Read how high the post stands and move it."
}
caution "falls" {
  text   = "A slack post falls: prop it first."
  hazard = "crushing"
  source = "trade practice"
}
instrument "gauge" {
  kind          = "lever indicator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(0.5)
}
step "look" {
  title = "Read the post"
  reading "high" {
    ask      = "Post: reading"
    unit     = "um"
    with     = instrument.gauge
    positive = "high"
    range    = [-um(500), um(500)]
  }
  gate "level" {
    title     = "The post stands at its height"
    of        = reading.high
    within    = plus_minus(um(10))
    source    = "shop rule"
    if_failed = [correction.move, reject]
  }
}
correction "move" {
  title    = "Move the post"
  amount   = -reading.high
  unit     = "um"
  positive = "up"
  negative = "down"
  spindle  = "stopped"
  caution  = [caution.falls]
  do       = ["Slacken, move, clamp, read."]
  attempts = 3
  moved {
    ask  = "Post: movement after clamping, plus up"
    with = instrument.gauge
  }
}
signoff "fitter" { title = "Carried out by" }
`

func beginPost(t *testing.T) *enginetest.Runner {
	t.Helper()
	l, diags := hclfile.Parse(hclfile.Source{FS: fstest.MapFS{"post.hcl": {Data: []byte(aPost)}}, Path: "post.hcl"})
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	r, err := enginetest.Begin(engine.NewPlan(l.Procedure), engine.Begun{Machine: engine.Machine{ID: "lathe-2", Class: "centre lathe"}})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The caution of a correction stands in what is written before it is
// acknowledged, whether the way was chosen on a line of its own or not.
func TestAnswersFileShowsTheCautionBeforeItIsAcknowledged(t *testing.T) {
	for _, lines := range []string{"level = move\nmove.clear = yes\n", "move.clear = yes\n"} {
		r := beginPost(t)
		if _, _, err := answered(r, "high = 60\n", options(r)); err != nil {
			t.Fatal(err)
		}
		if q := r.Next(); q.Kind != engine.AskWay || q.Clear == nil || len(q.Clear.Cautions) != 1 {
			t.Fatalf("%s is asked, with %+v", q.Name, q.Clear)
		}
		out, _, err := answered(r, lines, options(r))
		if err != nil {
			t.Fatalf("%q: %v", lines, err)
		}
		chosen, hands := strings.Index(out, "> move\n"), strings.Index(out, "HANDS GO IN NOW.")
		text, yes := strings.Index(out, "A slack post falls: prop it first."), strings.Index(out, "> yes\n")
		if chosen < 0 || hands < chosen || text < hands || yes < text {
			t.Errorf("%q: acknowledged before it was shown:\n%s", lines, out)
		}
		if got := kinds(r); !strings.HasSuffix(got, "chosen cleared") {
			t.Errorf("%q: kept %q", lines, got)
		}
	}
}

// On the screen the way is chosen first, and its caution is a question of its
// own.
func TestChosenCorrectionAsksItsCautionOnTheScreen(t *testing.T) {
	r := beginPost(t)
	talk, _ := newTalk(r, options(r))
	for _, line := range []string{"60", "begin"} {
		for n := 0; talk.q.Kind == engine.AskInstrument && n < 2; n++ {
			talk.enter("G-1")
		}
		talk.enter(line)
	}
	if talk.q.Kind != engine.AskClear || !strings.Contains(strings.Join(talk.lines(), " "), "A slack post falls: prop it first.") {
		t.Errorf("%s (%s) is asked:\n%s", talk.q.Name, talk.q.Kind, strings.Join(talk.lines(), "\n"))
	}
	if got := kinds(r); strings.Contains(got, "cleared") {
		t.Errorf("kept %q before the caution was shown", got)
	}
}
