package outline_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"waywright/engine"
	"waywright/engine/rehearse"
	"waywright/procedures/outline"
	"waywright/procedures/tidy"
)

// Whatever is answered, the procedure proofreads without a word, lies as tidy
// lays it, and its rehearsals hold.
func TestEveryAnswerGivesASoundProcedure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := answered(t)
		src, err := a.Source()
		if err != nil {
			t.Fatalf("%v: %v", a, err)
		}
		sound(t, a, src)
	})
}

type failer interface {
	Fatalf(string, ...any)
	Errorf(string, ...any)
}

func sound(t failer, a outline.Answers, src []byte) {
	r := outline.Proofread(a.File(), src)
	if len(r.Diagnostics) > 0 || r.Procedure == nil {
		t.Fatalf("%v\n%v\n%s", a, r.Diagnostics, src)
	}
	again, err := tidy.Bytes(a.File(), src)
	if err != nil || !bytes.Equal(again, src) {
		t.Fatalf("tidy changes it: %v\n%s", err, src)
	}
	if n := len(r.Procedure.Rehearsals); n < 2 {
		t.Errorf("%d rehearsals", n)
	}
	plan := engine.NewPlan(r.Procedure).WithTrials(200)
	for _, x := range r.Procedure.Rehearsals {
		for _, e := range rehearse.Seeds(plan, x, 3, 1, nil) {
			if e.Failure != nil {
				t.Fatalf("rehearsal %q, seed %d: %s\n%v\n%s", x.Name, e.Seed, e.Failure.Sentence(), e.Failure.Gates, src)
			}
		}
	}
}

// answered answers the questions by chance, as they come, with an instrument
// that is fine enough.
func answered(t *rapid.T) outline.Answers {
	a := outline.Answers{}
	l := rapid.SampledFrom([]float64{10, 20, 30, 50, 100}).Draw(t, "limit") // µm or, of angles, seconds
	for range 100 {
		q, ok := outline.Next(a)
		if !ok {
			return a
		}
		text := one(t, q, a, l)
		if text == "" && !q.Need {
			a[q.Name] = outline.LeftOut
			continue
		}
		if err := q.Check(a, text); err != nil {
			t.Fatalf("%s = %q is refused: %v (%v)", q.Name, text, err, a)
		}
		a[q.Name] = text
	}
	t.Fatalf("the questions have no end: %v", a)
	return nil
}

// one is an answer to a question.
func one(t *rapid.T, q outline.Question, a outline.Answers, l float64) string {
	pick := func(words ...string) string { return rapid.SampledFrom(words).Draw(t, q.Name) }
	angle := strings.HasPrefix(a["unit"], "arc") || a["unit"] == "deg"
	in := func(x float64) string { // x µm, or as many seconds
		switch {
		case angle:
			return fmt.Sprintf("%g arcsec", x)
		case a["unit"] == "inch" || a["unit"] == "thou":
			return fmt.Sprintf("%g um", x)
		}
		return pick(fmt.Sprintf("%g um", x), fmt.Sprintf("%g mm", x/1000))
	}
	if len(q.Words) > 0 {
		return pick(q.Words...)
	}
	fine := l
	if a["per"] != "" { // over a tenth of the distance a tenth is allowed
		fine /= 10
	}
	switch q.Name {
	case "name":
		return pick("drill-table", "a", "quill-2")
	case "title":
		return pick("Drill table square to the spindle", "Quill runs true", `A "title" of 5 % and ${braces}`)
	case "machine":
		return pick("", "bench drill")
	case "part":
		return pick("Table", "Quill", `V-block "A"`)
	case "quantity":
		return pick("", "height", "diameter")
	case "first":
		return pick("near end", "left", "at 0")
	case "second":
		return pick("far end", "right", "2nd place")
	case "span_least", "length_least":
		return pick("100 mm", "4 inch", "200 mm")
	case "span_most", "length_most":
		return pick("300 mm", "1 m", "0,6 m")
	case "places":
		return pick("3", "5", "9")
	case "angles":
		return pick("4", "6", "8")
	case "least":
		return in(-40 * l)
	case "most":
		return in(40 * l)
	case "lower":
		return in(-l)
	case "upper":
		return in(l)
	case "limit":
		return in(l)
	case "per":
		return pick("", "300 mm", "1 m", "150 mm")
	case "plus":
		return pick("high", "larger at the far end", "towards the operator", "far end up")
	case "source":
		return pick("shop rule", "the drawing")
	case "kind":
		return pick("dial indicator", "outside micrometer")
	case "resolution", "move_resolution":
		return in(fine / 50)
	case "error":
		return in(fine / 40)
	case "repeatability":
		return in(fine / 100)
	case "takes":
		return pick("1", "3")
	case "hurts":
		return pick("", "The table may drop")
	case "do":
		return pick("", "Wipe it; set the needle to zero", "Wipe it.")
	case "fix":
		return pick("shim the foot", "Turn the table")
	case "fix_do":
		return pick("Slacken the clamp; move it; lock it", "Scrape where it is blue.")
	case "move_plus":
		return pick("up", "towards the operator", "raise the left foot")
	case "move_minus":
		return pick("", "down", "away from the operator", "lower the left foot")
	case "ratio":
		return pick("1", "2", "0,5", "3")
	case "move_with":
		return pick("", "dial indicator")
	}
	t.Fatalf("nothing is answered to %s", q.Name)
	return ""
}
