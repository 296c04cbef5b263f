package engine_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"waywright/engine"
	"waywright/engine/enginetest"
)

const concessionAsked = `begin post
height = 50
omit
zero = 0
clamp.clear = yes
clamp = yes
wiped = yes
high.left = 40
high.right = 40
level = concession because the customer only drills on it
mark = all
gap = 50`

const settledPost = `begin post
height = 50
omit
zero = 0
clamp.clear = yes
clamp = yes
wiped = yes
high.left = 0
high.right = 0
mark = all
gap = 50`

// add appends events and returns the state after them.
func add(t *testing.T, s *engine.State, ds ...engine.Data) *engine.State {
	t.Helper()
	for _, d := range ds {
		next, err := s.With(engine.Event{N: s.Len() + 1, Time: enginetest.Start.Add(48 * time.Hour), By: s.Author(d), Data: d})
		if err != nil {
			t.Fatal(err)
		}
		s = next
	}
	return s
}

// What became of a signed run is told without asking how well its values are
// known: a logbook of many runs is read often.
func TestOutcomeAsksNoDoubt(t *testing.T) {
	settled, asked := enginetest.Play(t, settledPost, load).State(), enginetest.Play(t, concessionAsked, load).State()
	conceded := add(t, asked, engine.Deciding{Role: "inspector", Name: "B. Osei"},
		engine.Decided{Role: "inspector", Gate: "level", Granted: true, Reason: "drills only", Name: "B. Osei"})
	for _, tt := range []struct {
		s      *engine.State
		want   engine.Outcome
		solved int
	}{{settled, engine.Accepted, 0}, {conceded, engine.Conceded, 1}} {
		plan := engine.NewPlan(tt.s.Procedure())
		s, err := engine.Fold(plan, tt.s.Events())
		if err != nil {
			t.Fatal(err)
		}
		s = add(t, s, engine.Sealed{})
		for _, role := range tt.s.Procedure().Signoffs {
			s = add(t, s, engine.Signed{Role: role.Name, Name: "the " + role.Name})
		}
		if got := s.Outcome(); got != tt.want || plan.Solved() > tt.solved {
			t.Errorf("outcome %s with %d values worked out, want %s with %d", got, plan.Solved(), tt.want, tt.solved)
		}
		s.Judgements()
		if plan.Solved() == 0 {
			t.Error("no value was worked out at all")
		}
	}
}

// A concession is decided before anybody signs, by name and with a reason, in a
// role that concedes; another role is refused.
func TestRule30DecidedBeforeSealing(t *testing.T) {
	s := enginetest.Play(t, concessionAsked, load).State()
	refused := func(d engine.Decision, want string) {
		t.Helper()
		if got, r := s.Decide(d); r == nil || !strings.Contains(r.Wrong+" "+r.Mend, want) {
			t.Errorf("Decide(%+v) = %v, %+v; want a refusal with %q", d, got, r, want)
		}
	}
	refused(engine.Decision{Role: "fitter", Name: "A. Fitter", Gate: "level", Grant: true, Reason: "so"}, "That is for: inspector.")
	refused(engine.Decision{Role: "owner", Name: "O.", Gate: "level", Reason: "so"}, `no role "owner"`)
	refused(engine.Decision{Role: "inspector", Name: "I.", Gate: "level"}, "reason")
	refused(engine.Decision{Role: "inspector", Gate: "level", Reason: "so"}, "a name")
	refused(engine.Decision{Role: "inspector", Name: "I.", Gate: "room", Reason: "so"}, "Asked for: level.")
	if _, r := s.Sign(engine.Signed{Role: "fitter", Name: "A. Fitter"}); r == nil || !strings.Contains(r.Wrong, "neither granted nor refused") {
		t.Errorf("signed before it was decided: %+v", r)
	}
	if o := s.OnceSigned(); o != engine.NotDecided {
		t.Errorf("before it is decided: %v", o)
	}
	for grant, want := range map[bool]engine.Outcome{true: engine.Conceded, false: engine.Rejected} {
		ds, r := s.Decide(engine.Decision{Role: "inspector", Name: "I. Inspector", Gate: "level", Grant: grant, Reason: "agreed by telephone"})
		if r != nil {
			t.Fatal(r)
		}
		after := add(t, s, ds...)
		if after.OnceSigned() != want || after.Outcome() != engine.NotDecided {
			t.Errorf("granted %v: %v once signed, %v now; want %v, not decided", grant, after.OnceSigned(), after.Outcome(), want)
		}
		c := after.Concessions()[0]
		if c.Decider != "I. Inspector" || c.Granted != grant || c.Because != "agreed by telephone" {
			t.Errorf("%+v", c)
		}
	}
}

// Roles sign in any order; the first signature seals, and no later one touches
// what was sealed.
func TestSignedInAnyOrder(t *testing.T) {
	r := enginetest.Play(t, settledPost, load)
	for _, order := range [][]string{{"fitter", "inspector"}, {"inspector", "fitter"}} {
		s := r.State()
		for i, role := range order {
			ds, refusal := s.Sign(engine.Signed{Role: role, Name: "The " + role})
			if refusal != nil {
				t.Fatal(refusal)
			}
			if _, seals := ds[0].(engine.Sealed); seals != (i == 0) {
				t.Errorf("signature %d of %v gives %+v", i+1, order, ds)
			}
			s = add(t, s, ds...)
		}
		before, err := s.BeforeSeal()
		if err != nil || s.Outcome() != engine.Accepted || len(before.Events()) != len(r.Events()) || len(before.Signatures()) != 0 {
			t.Errorf("%v: %v, %v; %d events before the seal, want %d", order, s.Outcome(), err, len(before.Events()), len(r.Events()))
		}
	}
}

// What stands behind a seal is signatures, what was printed, and pauses; any
// other event is damage.
func TestNothingFollowsTheSealButSignatures(t *testing.T) {
	s := enginetest.Play(t, settledPost+"\nfitter = A. Fitter", load).State()
	for _, d := range every {
		_, err := s.With(engine.Event{N: s.Len() + 1, Time: enginetest.Start, Data: d})
		switch d.(type) {
		case engine.Issued, engine.Paused:
			if err != nil {
				t.Errorf("%s: %v", d.Kind(), err)
			}
		default:
			if err == nil {
				t.Errorf("%s may stand behind the seal", d.Kind())
			}
		}
	}
	for _, v := range []engine.Verb{engine.Amend, engine.Disturb, engine.Note, engine.Back, engine.Cannot, engine.Attach} {
		in := engine.Input{Verb: v, Name: "gap", Text: "49", Reason: "misread"}
		if ds, r := s.Reply(enginetest.Start, in); r == nil || r.Code != "sealed" {
			t.Errorf("verb %v: %v, %+v; want it refused", v, ds, r)
		}
	}
	if q := s.Next(enginetest.Start); q.Kind != engine.AskSign || q.Name != "inspector" {
		t.Errorf("asked is %v %s; want the signature of the inspector", q.Kind, q.Name)
	}
	wrong := engine.Event{N: s.Len() + 1, Data: engine.Sealed{}}
	if _, err := s.With(wrong); err == nil {
		t.Error("it is sealed a second time")
	}
	open := enginetest.Play(t, settledPost, load).State()
	if _, err := open.With(engine.Event{N: open.Len() + 1, Data: engine.Sealed{Lines: open.Len() - 1}}); err == nil {
		t.Error("a seal of fewer lines than stand before it is taken")
	}
}

// One key does not sign in two roles that must be two people, nor does one
// name; a role that need not differ may.
func TestOtherThanComparesKeysAndNames(t *testing.T) {
	s := enginetest.Play(t, settledPost, load).State()
	ds, _ := s.Sign(engine.Signed{Role: "fitter", Name: "A. Fitter", Key: "SHA256:one"})
	s = add(t, s, ds...)
	for _, tt := range []struct {
		name, key, want string
	}{
		{"B. Other", "SHA256:one", "must sign with another key"},
		{"a.  FITTER", "SHA256:two", "must be somebody else"},
		{"B. Other", "SHA256:two", ""},
		{"B. Other", "", ""},
	} {
		_, r := s.Sign(engine.Signed{Role: "inspector", Name: tt.name, Key: tt.key})
		if got := r != nil; got != (tt.want != "") || r != nil && !strings.Contains(r.Wrong, tt.want) {
			t.Errorf("%s with %q: %+v; want %q", tt.name, tt.key, r, tt.want)
		}
	}
}

// Journals that were kept before there were seals stay readable: a signature
// without one, and what was changed under it.
func TestSignaturesWithoutASealStayReadable(t *testing.T) {
	s := enginetest.Play(t, settledPost, load).State()
	s = add(t, s, engine.Signed{Role: "fitter", Name: "A. Fitter"})
	if s.Seal() != nil || len(s.Signatures()) != 1 {
		t.Fatalf("seal %v, signatures %v", s.Seal(), s.Signatures())
	}
	changed := add(t, s, engine.Amended{Name: "gap", Take: 1, To: engine.Taken{Typed: "40", Value: 40, Unit: "um"}, Reason: "misread"})
	if len(changed.Signatures()) != 0 {
		t.Error("the signature stands though what was signed has changed")
	}
	if s = add(t, s, engine.Signed{Role: "inspector", Name: "I. Inspector"}); s.Outcome() != engine.Accepted {
		t.Errorf("signed by both: %v", s.Outcome())
	}
}

// A run corrects one record, and says so with number and digest.
func TestSupersedesOnce(t *testing.T) {
	s := enginetest.Play(t, settledPost, load).State()
	d := engine.Superseding{Number: "post-1", Digest: strings.Repeat("a", 64), Because: "misread", Name: "A. Fitter"}
	s = add(t, s, d)
	if x := s.Supersedes(); x == nil || x.Number != "post-1" || x.By != "A. Fitter" {
		t.Errorf("Supersedes = %+v", s.Supersedes())
	}
	if _, err := s.With(engine.Event{N: s.Len() + 1, Data: d}); err == nil {
		t.Error("it corrects a second record")
	}
	if !slices.ContainsFunc(every, func(d engine.Data) bool { return d.Kind() == "supersedes" }) {
		t.Error("the events of the tests lack this kind")
	}
}
