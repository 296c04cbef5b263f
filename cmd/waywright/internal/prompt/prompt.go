// Package prompt puts the questions of a run to a person and takes the
// answers: on a terminal, line by line, or from a file.
//
// It decides nothing. Every answer is judged by the engine, through a
// [Session], and what the engine says is put into words by package voice. All
// front ends stop in the same way: nothing that was read back as kept is lost,
// and the run can be gone on with.
package prompt

import (
	"strings"
	"time"

	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
	"waywright/report/evidence"
)

// Session is a run being worked on; *drive.Session is one.
type Session interface {
	Next() engine.Question
	Say(engine.Input) ([]engine.Notice, *engine.Refusal, error)
	Record(...engine.Data) ([]engine.Notice, error)
	State() *engine.State
	Now() time.Time
}

// Options are what a front end needs to know besides the run.
type Options struct {
	Voice voice.Voice

	// Before is said before the first question.
	Before []engine.Notice

	// Attach puts a file into its place beside the run. Without it no file
	// can be kept.
	Attach func(path string, how evidence.Keeping) (*engine.File, error)

	// Instruments lists those of the logbook that are of a kind; the Word of
	// each is its id.
	Instruments func(kind string) []engine.Choice

	// Grade was said beforehand: the session answers with it when it is asked.
	Grade string

	// Settle is how long a question has to be on the screen, and the keys to be
	// still, before keys count for it; 0 is a good sixth of a second. Longer
	// suits a gauge that sends slowly and does not stop.
	Settle time.Duration

	// Env is the environment of the terminal; nil is the process's.
	Env []string
}

// Result tells how a sitting ended.
type Result struct {
	Ended   bool           // nothing more is asked
	Outcome engine.Outcome // what has become of the run
	Paused  bool           // the run can be gone on with
	Reason  string         // why it paused: "stopped", "the answers end", "the terminal went away"
}

// WithInstruments returns a session that completes the answer to "which
// instrument": bind gives the figures that the logbook has for an id. It also
// takes that answer, under the name instrument.NAME, while something else is
// asked: another instrument was taken into the hand.
func WithInstruments(s Session, bind func(name, id string) (engine.Bound, bool)) Session {
	return instrumented{s, bind}
}

type instrumented struct {
	Session
	bind func(name, id string) (engine.Bound, bool)
}

func (s instrumented) Say(in engine.Input) ([]engine.Notice, *engine.Refusal, error) {
	name := in.Name
	if q := s.Next(); name == "" && q.Kind == engine.AskInstrument {
		name = q.Name
	}
	name, ok := strings.CutPrefix(name, "instrument.")
	id := strings.TrimSpace(in.Text)
	if !ok || in.Verb != engine.Answer || id == "" || strings.EqualFold(id, "none") {
		return s.Session.Say(in)
	}
	if b, ok := s.bind(name, id); ok {
		in.Known = &b
	}
	return s.Session.Say(in)
}

// Typed returns the word that an answer stands for: a sign alone takes what
// the question offers under it.
func Typed(q engine.Question, text string) string {
	switch sign := strings.TrimSpace(text); {
	case sign == "-" && q.Kind == engine.AskInstrument:
		return "none"
	case sign == "+" && q.Kind == engine.AskGiven && q.Offer != nil:
		return "offered"
	}
	return text
}
