package cli

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
)

// welcome says what a sitting begins with: what is kept, that nothing is lost,
// and what is to be done again.
func welcome(v voice.Voice, s *engine.State, now time.Time) []engine.Notice {
	last, kept := lastAnswer(s)
	line := func(format string, args ...any) engine.Notice {
		return engine.Notice{Kind: engine.Resumed, Text: fmt.Sprintf(format, args...)}
	}
	since := time.Duration(0)
	if evs := s.Events(); len(evs) > 0 {
		since = now.Sub(evs[len(evs)-1].Time)
	}
	out := []engine.Notice{line("%s", v.Back(since))}
	switch kept {
	case 0:
		return append(out, line("Nothing was answered yet."))
	case 1:
		out = append(out, line("Kept: one answer, %s.", inWords(s, last)))
	default:
		out = append(out, line("Kept: %d answers, up to %s.", kept, inWords(s, last)))
	}
	out = append(out, line("Lost: nothing that was read back as kept."))
	if again := doneAgain(s, now); len(again) > 0 {
		n := line("These were not whole when the last sitting ended.")
		n.Titles = again
		out = append(out, n)
	}
	return out
}

// inWords is an answer as its question has it: “Headstock-end collar:
// diameter”; one that cannot be found, by its name.
func inWords(s *engine.State, name string) string {
	if ask := strings.TrimRight(voice.You(s.Asked(name)), "?.: "); ask != "" {
		return "“" + ask + "”"
	}
	return strings.NewReplacer("_", " ", ".", ", ").Replace(name)
}

// lastAnswer returns the name of the newest answer that stands, and how many
// there are.
func lastAnswer(s *engine.State) (name string, n int) {
	gone := map[int]bool{}
	for _, ev := range s.Events() {
		if w, ok := ev.Data.(engine.Withdrawn); ok {
			gone[w.Of] = true
		}
	}
	for _, ev := range s.Events() {
		if gone[ev.N] {
			continue
		}
		switch d := ev.Data.(type) {
		case engine.Answered:
			name, n = d.Name, n+1
		case engine.Reported:
			if d.Moved != nil {
				name, n = d.Correction+".moved", n+1
			}
		}
	}
	return name, n
}

// doneAgain returns what a new sitting breaks: sets of readings that are not
// whole.
func doneAgain(s *engine.State, now time.Time) []string {
	next := s.Len() + 1
	after, err := s.With(engine.Event{N: next, Time: now, Data: engine.Paused{}}, engine.Event{N: next + 1, Time: now, Data: engine.Sat{Operator: "?"}})
	if err != nil {
		return nil // the run itself will say so
	}
	whole := map[string]string{}
	for _, set := range s.Readings() {
		whole[set.ID] = set.State
	}
	var out []string
	for _, set := range after.Readings() {
		if set.State != whole[set.ID] && !slices.Contains(out, set.Ask) {
			out = append(out, set.Ask)
		}
	}
	return out
}
