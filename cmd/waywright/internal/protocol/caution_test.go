package protocol

import (
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
)

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
step "look" {
  title = "Read the post"
  reading "high" {
    ask      = "Post: reading"
    unit     = "um"
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
  spindle  = "stopped"
  caution  = [caution.falls]
  do       = ["Slacken, move, clamp, read."]
  attempts = 3
}
signoff "fitter" { title = "Carried out by" }
`

// What may be acknowledged at a gate is shown there: a program that answers
// move.clear at once has had the words of the caution.
func TestWayShowsTheCautionThatMayBeAcknowledgedThere(t *testing.T) {
	l, diags := hclfile.Parse(hclfile.Source{FS: fstest.MapFS{"post.hcl": {Data: []byte(aPost)}}, Path: "post.hcl"})
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	r, err := enginetest.Begin(engine.NewPlan(l.Procedure), engine.Begun{Machine: engine.Machine{ID: "lathe-2", Class: "centre lathe"}})
	if err != nil {
		t.Fatal(err)
	}
	all, _ := converse(t, r, Options{}, says("60")...)
	q := of(all, "question")
	last := q[len(q)-1]
	if diff := cmp.Diff([]any{"move", "move.clear"}, last["also"]); last["kind"] != "way" || diff != "" {
		t.Fatalf("question: %v", last)
	}
	cautions, _ := last["cautions"].([]any)
	if len(cautions) != 1 || cautions[0].(map[string]any)["text"] != "A slack post falls: prop it first." || last["spindle_to"] != "stopped" {
		t.Errorf("question: %v", last)
	}
}
