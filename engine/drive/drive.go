// Package drive joins the engine to a journal and a clock, in the one right
// order: an answer is judged, its events are appended and synced, and only
// then is anything shown.
//
// It knows no terminal and no file: the journal and the clock are given.
package drive

import (
	"fmt"
	"time"

	"waywright/engine"
)

// Journal keeps events. Append returns after they are safe, or not at all.
type Journal interface {
	// Next returns the number that the next event will have. A journal has
	// lines that are no events, so it is not always one more than the last.
	Next() int
	Append(events ...engine.Event) error
}

// Session is a run being worked on.
type Session struct {
	state   *engine.State
	journal Journal
	now     func() time.Time
	seal    func(*engine.State) (engine.Sealed, error)
}

// Seal has f say what the seal of a run holds: what its record is when it is
// made from the state and from the journal as it stands. Without it a run is
// sealed, but nothing is said of its record.
func (s *Session) Seal(f func(*engine.State) (engine.Sealed, error)) { s.seal = f }

// New returns a session for a run in the given state. The state is the fold
// of everything in the journal.
func New(s *engine.State, j Journal, now func() time.Time) *Session {
	return &Session{state: s, journal: j, now: now}
}

// State returns the present state. It is not to be changed.
func (s *Session) State() *engine.State { return s.state }

// Now returns the session's time.
func (s *Session) Now() time.Time { return s.now().UTC().Truncate(time.Millisecond) }

// Next returns what is to be settled next.
func (s *Session) Next() engine.Question { return s.state.Next(s.Now()) }

// Say keeps what a person says. A refusal leaves the run as it was, and so
// does an error, which means that the journal could not be written: the
// session must end.
func (s *Session) Say(in engine.Input) ([]engine.Notice, *engine.Refusal, error) {
	now := s.Now()
	data, refusal := s.state.Reply(now, in)
	if refusal != nil {
		return nil, refusal, nil
	}
	return s.keep(now, data)
}

// Record keeps events that no person typed, such as the beginning of a run.
func (s *Session) Record(data ...engine.Data) ([]engine.Notice, error) {
	notices, _, err := s.keep(s.Now(), data)
	return notices, err
}

func (s *Session) keep(now time.Time, data []engine.Data) ([]engine.Notice, *engine.Refusal, error) {
	before := s.state
	events := make([]engine.Event, len(data))
	first := s.journal.Next()
	for i, d := range data {
		by := before.Author(d)
		if _, ok := d.(engine.Sealed); ok {
			var err error
			if d, err = s.sealed(first + i - 1); err != nil {
				return nil, nil, err
			}
			if i+1 < len(data) {
				by = before.Author(data[i+1]) // who signs
			}
		}
		events[i] = engine.Event{N: first + i, Time: now, By: by, Data: d}
	}
	after, err := before.With(events...)
	if err != nil {
		return nil, nil, fmt.Errorf("drive: %w", err)
	}
	if err := s.journal.Append(events...); err != nil {
		return nil, nil, err
	}
	s.state = after
	return engine.Notices(before, after, now), nil, nil
}

// sealed says what the seal behind that many lines holds.
func (s *Session) sealed(lines int) (engine.Data, error) {
	if s.seal == nil {
		return engine.Sealed{}, nil
	}
	d, err := s.seal(s.state)
	if err != nil {
		return nil, fmt.Errorf("drive: %w", err)
	}
	if d.Lines != lines {
		return nil, fmt.Errorf("drive: the record is of %d lines, and the seal would stand behind %d", d.Lines, lines)
	}
	return d, nil
}
