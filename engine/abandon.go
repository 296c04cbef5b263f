package engine

import (
	"errors"
	"strings"
	"time"
)

// Abandoned closes a run that nobody will go on with. It is decided nothing: no
// test passed or failed by it. What was done to the machine in it counts as it
// would in any other run.
type Abandoned struct {
	Reason string `json:"reason"`
	Name   string `json:"name,omitempty"` // who closed it, where nobody was at the machine
}

// Kind implements [Data].
func (Abandoned) Kind() string { return "abandoned" }

// Abandonment is how a run was closed that nobody will go on with.
type Abandonment struct {
	Reason, By string
	At         time.Time
	N          int
}

// Abandoned returns how the run was abandoned; nil where it was not.
func (s *State) Abandoned() *Abandonment { return s.abandoned }

func (s *State) abandon(ev Event, d Abandoned) error {
	if strings.TrimSpace(d.Reason) == "" {
		return errors.New("it abandons the run without a reason")
	}
	s.abandoned = &Abandonment{d.Reason, ev.By, ev.Time, ev.N}
	s.seated = false
	return nil
}

// Abandon judges the wish to close a run for good and returns the events to keep,
// or a refusal. It changes nothing. Who is where nobody was at the machine yet.
func (s *State) Abandon(reason, who string) ([]Data, *Refusal) {
	switch {
	case s.abandoned != nil:
		return nil, refuse("done", "", "It is abandoned already: "+strings.TrimRight(s.abandoned.Reason, ".")+".", "")
	case s.seal != nil:
		return nil, refuse("sealed", "", "It is signed: what was signed stays as it is.", "A correction makes a new record that points to this one.")
	case s.Outcome() != NotDecided:
		return nil, refuse("done", "", "It is decided already, and closed.", "What is to be done again is a new run.")
	case strings.TrimSpace(reason) == "":
		return nil, reasonWanted("Abandoning a run")
	}
	return []Data{Abandoned{Reason: strings.TrimSpace(reason), Name: who}}, nil
}
