package engine_test

import (
	"strings"
	"testing"
	"time"

	"waywright/engine"
	"waywright/engine/enginetest"
)

// A name that was mistyped is put right: all that was done in that sitting stands
// under the right one, and what somebody else did there stays theirs. Both names
// stay in the record.
func TestNameOfTheOperatorIsPutRight(t *testing.T) {
	plan := fromLibrary(t, "lathe/tailstock-by-test-cut")
	r, err := enginetest.Begin(plan, engine.Begun{})
	if err != nil {
		t.Fatal(err)
	}
	say := func(in engine.Input) *engine.Refusal {
		t.Helper()
		_, ref, err := r.Say(in)
		if err != nil {
			t.Fatal(err)
		}
		return ref
	}
	say(engine.Input{Text: "300"})
	if _, err := r.Record(engine.Paused{}, engine.Sat{Operator: "Tmo Acker"}); err != nil {
		t.Fatal(err)
	}
	say(engine.Input{Text: "250"})
	for _, in := range []engine.Input{
		{Verb: engine.Amend, Name: "operator", Text: "Tom Acker"},                               // no reason
		{Verb: engine.Amend, Name: "operator", Text: "12", Reason: "mistyped"},                  // no name
		{Verb: engine.Amend, Name: "operator", Text: "Tmo Acker", Reason: "mistyped"},           // the same
		{Verb: engine.Amend, Name: "operator", Take: 3, Text: "Tom Acker", Reason: "a sitting"}, // not there
	} {
		if say(in) == nil {
			t.Errorf("%+v was kept", in)
		}
	}
	if ref := say(engine.Input{Verb: engine.Amend, Name: "operator", Text: "Tom Acker", Reason: "mistyped"}); ref != nil {
		t.Fatal(ref)
	}
	s := r.State()
	if got := s.Operator(); got != "Tom Acker" {
		t.Errorf("at the machine: %s", got)
	}
	if at := s.Sittings(); len(at) != 2 || at[0].Operator != "A. Fitter" || at[1].Operator != "Tom Acker" {
		t.Errorf("sittings %+v", at)
	}
	by := map[string]string{}
	for _, ev := range s.Events() {
		if a, ok := ev.Data.(engine.Answered); ok {
			by[a.Name] = ev.By
		}
	}
	if by["centres"] != "A. Fitter" || by["span"] != "Tom Acker" {
		t.Errorf("answers by %v", by)
	}
	a := s.Amendments()
	if len(a) != 1 || a[0].Was != "Tmo Acker" || a[0].To != "Tom Acker" || !strings.Contains(a[0].Title, "sitting 2") {
		t.Errorf("amendments %+v", a)
	}
	kept := r.Events() // the journal keeps what was written
	again, err := engine.Fold(plan, kept)
	if err != nil || again.Operator() != "Tom Acker" || kept[4].By != "Tmo Acker" {
		t.Errorf("folded again: %v, %v, line by %s", again, err, kept[4].By)
	}
	if ref := say(engine.Input{Verb: engine.Back}); ref != nil {
		t.Fatal(ref)
	}
	if got := r.State().Operator(); got != "Tmo Acker" {
		t.Errorf("with the amendment taken back: %s", got)
	}
	if ref := say(engine.Input{Verb: engine.Amend, Name: "operator", Take: 1, Text: "B. Fitter", Reason: "mistyped"}); ref != nil {
		t.Fatal(ref)
	}
	if at := r.State().Sittings(); at[0].Operator != "B. Fitter" || at[1].Operator != "Tmo Acker" {
		t.Errorf("sittings %+v", at)
	}
}

// A run that was abandoned is at its end, with a reason, and keeps nothing more.
func TestAbandonedRunIsClosed(t *testing.T) {
	plan := fromLibrary(t, "lathe/tailstock-by-test-cut")
	r, err := enginetest.Begin(plan, engine.Begun{})
	if err != nil {
		t.Fatal(err)
	}
	if _, ref := r.State().Abandon(" ", ""); ref == nil {
		t.Error("it was abandoned without a reason")
	}
	if _, ref, err := r.Say(engine.Input{Verb: engine.Abandon, Reason: "begun by mistake"}); ref != nil || err != nil {
		t.Fatal(ref, err)
	}
	s := r.State()
	if q := s.Next(r.Clock); q.Kind != engine.End || s.Outcome() != engine.Discontinued || s.OnceSigned() != engine.Discontinued {
		t.Errorf("next %s, outcome %s, %s", q.Kind, s.Outcome(), s.OnceSigned())
	}
	if x := s.Abandoned(); x == nil || x.Reason != "begun by mistake" || x.By != "A. Fitter" {
		t.Errorf("abandoned %+v", x)
	}
	if _, ref := s.Reply(r.Clock, engine.Input{Text: "300"}); ref == nil {
		t.Error("it takes an answer")
	}
	if _, ref := s.Abandon("once more", ""); ref == nil {
		t.Error("it was abandoned twice")
	}
	for _, d := range []engine.Data{engine.Sat{Operator: "B"}, engine.Abandoned{Reason: "x"}, engine.Paused{}} {
		if _, err := s.With(engine.Event{N: s.Len() + 1, Time: time.Now(), Data: d}); err == nil {
			t.Errorf("%T stands behind it", d)
		}
	}
	if _, err := engine.Fold(plan, r.Events()); err != nil {
		t.Error(err)
	}
	if out, ref := settledState(t).Abandon("it was sold", "B. Seller"); ref != nil || out[0].(engine.Abandoned).Name != "B. Seller" {
		t.Errorf("a run that is only not signed: %v %v", out, ref)
	}
}

// settledState is a run in which all is settled and nobody has signed.
func settledState(t *testing.T) *engine.State {
	t.Helper()
	return enginetest.Play(t, settledPost, load).State()
}

// A note is taken back as an answer is.
func TestRule42TakesANoteBack(t *testing.T) {
	plan := fromLibrary(t, "lathe/tailstock-by-test-cut")
	r, err := enginetest.Begin(plan, engine.Begun{})
	if err != nil {
		t.Fatal(err)
	}
	for _, in := range []engine.Input{{Text: "300"}, {Verb: engine.Note, Text: "the wrong one"}, {Verb: engine.Note, Text: "oil on it"}, {Verb: engine.Back}} {
		if _, ref, err := r.Say(in); ref != nil || err != nil {
			t.Fatal(in, ref, err)
		}
	}
	if n := r.State().Notes(); len(n) != 1 || n[0].Text != "the wrong one" {
		t.Errorf("notes %+v", n)
	}
	if q := r.State().Next(r.Clock); q.Name != "span" {
		t.Errorf("%s is asked: the answer went with the note", q.Name)
	}
}

// A test is left out before anybody sits down, and can be let in again until then.
func TestTestIsLeftOutByWordBeforeTheWork(t *testing.T) {
	plan := fromLibrary(t, "lathe/make-bar")
	s, err := engine.Fold(plan, []engine.Event{{N: 1, Time: enginetest.Start, Data: engine.Begun{Procedure: plan.Procedure().Name}}})
	if err != nil {
		t.Fatal(err)
	}
	words := func(cs []engine.Choice) (out []string) {
		for _, c := range cs {
			out = append(out, c.Word)
		}
		return out
	}
	if got := words(s.LeavesOut()); strings.Join(got, " ") == "" || !strings.Contains(strings.Join(got, " "), "parallel") {
		t.Errorf("may be left out: %v", got)
	}
	for _, in := range []engine.Input{
		{Verb: engine.Exclude, Name: "parallel", Text: "B. Buyer"},
		{Verb: engine.Exclude, Name: "parallel", Reason: "not needed"},
		{Verb: engine.Exclude, Name: "no_such", Text: "B. Buyer", Reason: "not needed"},
		{Verb: engine.Exclude, Text: "B. Buyer", Reason: "not needed"},
	} {
		if _, ref := s.Reply(enginetest.Start, in); ref == nil || ref.Mend == "" {
			t.Errorf("%+v: %+v", in, ref)
		}
	}
	data, ref := s.Reply(enginetest.Start, engine.Input{Verb: engine.Exclude, Name: "parallel", Text: "B. Buyer", Reason: "not needed"})
	if ref != nil {
		t.Fatal(ref)
	}
	s = add(t, s, data...)
	if _, ref := s.Reply(enginetest.Start, engine.Input{Verb: engine.Exclude, Name: "parallel", Text: "B. Buyer", Reason: "not needed"}); ref == nil {
		t.Error("it was left out twice")
	}
	if data, ref = s.Reply(enginetest.Start, engine.Input{Verb: engine.Back}); ref != nil {
		t.Fatal(ref)
	}
	if s = add(t, s, data...); len(s.LeftOut()) != 0 {
		t.Errorf("still left out: %+v", s.LeftOut())
	}
	s = add(t, s, engine.Sat{Operator: "A"})
	if _, ref := s.Reply(enginetest.Start, engine.Input{Verb: engine.Exclude, Name: "parallel", Text: "B. Buyer", Reason: "not needed"}); ref == nil || len(s.LeavesOut()) > 0 {
		t.Error("a test was left out after the work began")
	}
}
