package engine

import (
	"slices"
	"strings"
	"time"

	"waywright/checks/value"
	"waywright/procedures"
)

// Next returns what is to be settled next: the first fact in the order of the
// procedure that is missing or no longer true at the time now. It is a pure
// question; asking it changes nothing.
func (s *State) Next(now time.Time) Question {
	if a := s.cache.asked; a != nil && a.at.Equal(now) {
		return a.Question
	}
	q := s.next(now)
	s.onPaper(&q)
	q.Outcome = s.Outcome()
	s.cache.asked = &asking{q, now}
	return q
}

func (s *State) next(now time.Time) Question {
	switch {
	case s.rejected != nil || s.abandoned != nil || s.finished():
		return Question{Kind: End, Name: "end"}
	case s.seal != nil:
		return s.nextSignature()
	case !s.seated:
		return Question{Kind: AskOperator, Name: "operator", Optional: true, Text: true, Ask: "Who is at the machine?", Choices: s.people()}
	}
	if s.onSheet() {
		if q, ok := s.sheetHead(); ok {
			return q
		}
	}
	if len(s.plan.proc.Grades) > 0 && s.Grade() == "" {
		return s.gradeQuestion()
	}
	if s.nudgeOpen >= 0 { // before a movement is judged that the needle showed
		return s.nudgeQuestion(&s.attempts[s.nudgeOpen])
	}
	if s.moveOpen >= 0 {
		return s.moveQuestion(&s.attempts[s.moveOpen])
	}
	if s.onSheet() {
		if q, ok := s.nextOnSheet(now); ok {
			return q
		}
	}
	if s.cache.settled == 0 {
		if q, ok := s.nextGiven(); ok {
			return q
		}
		s.cache.settled = 1
	}
	for i, st := range s.plan.proc.Steps[s.cache.settled-1:] {
		i += s.cache.settled - 1
		if q, ok := s.nextInStep(i, st, now); ok {
			s.cache.settled = i + 1
			return s.goesOn(q)
		}
	}
	return s.nextSignature()
}

func (s *State) finished() bool {
	return len(s.plan.proc.Signoffs) > 0 && len(s.signed) == len(s.plan.proc.Signoffs)
}

// NotNamed stands for the operator where an answers file names none.
const NotNamed = "not named"

// people are those who were at the machine last, the last first.
func (s *State) people() []Choice {
	var out []Choice
	for _, t := range slices.Backward(s.sittings) {
		c := Choice{t.Operator, t.Operator}
		if t.Operator != NotNamed && !slices.Contains(out, c) && len(out) < 3 {
			out = append(out, c)
		}
	}
	return out
}

func choices(words []string) []Choice {
	out := make([]Choice, len(words))
	for i, w := range words {
		out[i] = Choice{w, w}
	}
	return out
}

// settled reports whether every step is settled as far as it can be told
// without the time.
func (s *State) settled() bool {
	if _, ok := s.nextGiven(); ok {
		return false
	}
	for i, st := range s.plan.proc.Steps {
		if _, ok := s.nextInStep(i, st, s.last); ok {
			return false
		}
	}
	return true
}

func (s *State) nextGiven() (Question, bool) {
	e := s.env()
	for _, g := range s.plan.proc.Givens {
		if s.idle.givens[g.Name] {
			continue
		}
		combos, ok := s.combos(g.Each, e)
		if !ok {
			continue // its keys come from a given further down: never, by rule 3
		}
		for _, keys := range combos {
			id := address(g.Name, keys...)
			ek := e.bindAll(g.Each, keys)
			if g.When != nil {
				if w := g.When.Eval(ek); w.State != value.Present || !w.Truth {
					continue
				}
			}
			if len(s.live(id, nil)) > 0 {
				continue
			}
			if q, ok := s.instrumentQuestion(g.With); ok {
				return q, true
			}
			return s.givenQuestion(g, id, ek), true
		}
	}
	return Question{}, false
}

func (s *State) stepTitle(st *procedures.Step) string {
	if len(st.Each) == 0 {
		return words(st.Title, s.env())
	}
	title, _, open := strings.Cut(st.Title.Words(s.env().in(st, nil)), "…")
	if !open {
		return title
	}
	// Of every round together what stands before its key is said: "Read the bar"
	// of "Read the bar, seated as …".
	if i := strings.LastIndex(title, ", "); i > 0 {
		title = title[:i]
	}
	if title = strings.TrimSpace(title); title == "" {
		return st.Name
	}
	return title
}

// nextInStep returns the first unsettled question of a step.
func (s *State) nextInStep(i int, st *procedures.Step, now time.Time) (Question, bool) {
	if s.idle.steps[st.Name] {
		return Question{}, false
	}
	for _, round := range s.rounds(st) {
		e := s.env().in(st, round)
		if st.When != nil {
			if w := st.When.Eval(e); w.State != value.Present || !w.Truth {
				continue
			}
		}
		q, _, ok := s.nextInRound(st, round, e, now)
		if !ok {
			continue
		}
		if q.Expired == "" { // else it is of a step that this one needs, and says so itself
			q.Step = Place{N: i + 1, Of: len(s.plan.proc.Steps), Name: st.Name, Title: s.told(st.Title, e), Keys: round}
			q.Spindle = st.Spindle
		}
		return q, true
	}
	return Question{}, false
}

// nextInRound returns the first unsettled question of a round, and the index of
// the item that it stands at: −1 before the first.
func (s *State) nextInRound(st *procedures.Step, round []string, e *env, now time.Time) (q Question, item int, ok bool) {
	if s.held(st, round) {
		return s.before(st, round, e, Question{}, now), -1, true
	}
	if asksNothing(st) && len(st.Do) > 0 {
		id := address(st.Name, round...)
		if w, ok := s.word(id, st, now); !ok || w != "yes" {
			q := Question{Kind: AskDone, Name: id, Ask: "Done?", Do: s.sentences(st.Do, e), Tools: s.sentences(st.Tools, e)}
			return s.before(st, round, e, q, now), -1, true
		}
	}
	for i, it := range st.Items {
		if g, ok := it.(*procedures.Gate); ok {
			if q, ok := s.gateQuestion(g, round, e); ok {
				return q, i, true
			}
			continue
		}
		if q, ok := s.itemQuestion(st, it, round, e, now); ok {
			return s.before(st, round, e, q, now), i, true
		}
	}
	return Question{}, 0, false
}

// held reports whether a step waits for its hold point to be released. It is
// released before anything in the step, a gate too.
func (s *State) held(st *procedures.Step, round []string) bool {
	if st.HoldPoint == nil {
		return false
	}
	_, ok := s.word(releaseOf(st, round), st, time.Time{})
	return !ok
}

func releaseOf(st *procedures.Step, round []string) string {
	return address(st.Name, append(slices.Clone(round), "release")...)
}

func asksNothing(st *procedures.Step) bool {
	for _, it := range st.Items {
		switch it.(type) {
		case *procedures.Confirm, *procedures.Wait, *procedures.Reading:
			return false
		}
	}
	return true
}

// before puts what the step needs and no longer holds by its age, cautions, the
// change of the spindle and the hold point in front of the first question of a
// step.
func (s *State) before(st *procedures.Step, round []string, e *env, q Question, now time.Time) Question {
	if s.onSheet() {
		if late, ok := s.inTime(st, round); ok {
			return late
		}
	} else if old, ok := s.aged(st, now); ok {
		return old
	}
	if c, ok := s.clearQuestion(address(st.Name, append(slices.Clone(round), "clear")...), st.Cautions, st.Spindle, e); ok {
		return c
	}
	if s.held(st, round) {
		return Question{Kind: AskRelease, Name: releaseOf(st, round), Text: true, Role: st.HoldPoint,
			Ask: "Hold point. Who releases it, as " + strings.ReplaceAll(st.HoldPoint.Name, "_", " ") + "?"}
	}
	if q.Kind != AskInstrument && !s.plan.unread && s.untouched(st, round) {
		q.Do, q.Tools = s.sentences(st.Do, e), s.sentences(st.Tools, e)
	}
	return q
}

// untouched reports whether nothing of this working of the round was
// answered yet, so that its instructions are still to be shown.
func (s *State) untouched(st *procedures.Step, round []string) bool {
	for _, it := range st.Items {
		switch it := it.(type) {
		case *procedures.Confirm, *procedures.Wait:
			if _, ok := s.word(address(it.ItemName(), round...), st, time.Time{}); ok {
				return false
			}
		case *procedures.Reading:
			places, _ := s.places(it, round)
			for _, p := range places {
				if len(s.live(p.element(it), st)) > 0 {
					return false
				}
			}
		}
	}
	return true
}

func (s *State) clearQuestion(name string, cautions []*procedures.Caution, spindle procedures.Spindle, e *env) (Question, bool) {
	q := Question{Kind: AskClear, Name: name, Optional: true, Ask: "All clear?"}
	for _, c := range cautions {
		if !s.cleared[c.Name] {
			q.Cautions = append(q.Cautions, CautionText{c.Name, words(c.Text, e), c.Hazard, c.Source})
		}
	}
	if spindle != procedures.AnySpindle && spindle != s.spindle {
		q.SpindleTo = spindle
	}
	return q, len(q.Cautions) > 0 || q.SpindleTo != procedures.AnySpindle
}

// word returns the last word kept at an address in the present working; ok is
// false when there is none, or when it no longer holds by its age. A zero now
// does not judge the age.
func (s *State) word(id string, st *procedures.Step, _ time.Time) (string, bool) {
	f := s.facts[id]
	if f == nil || len(f.takes) == 0 {
		return "", false
	}
	t := f.takes[len(f.takes)-1]
	if t.work != s.work[st.Name] || t.void != "" {
		return "", false
	}
	return t.word, true
}

func (s *State) itemQuestion(st *procedures.Step, it procedures.Item, round []string, e *env, now time.Time) (Question, bool) {
	switch it := it.(type) {
	case *procedures.Confirm:
		id := address(it.Name, round...)
		if w, ok := s.word(id, st, now); ok && w == "yes" {
			return Question{}, false
		}
		return Question{Kind: AskConfirm, Name: id, Ask: words(it.Ask, e)}, true
	case *procedures.Wait:
		return s.waitQuestion(it, st, round, e, now)
	case *procedures.Reading:
		return s.readingQuestion(it, round, e)
	}
	return Question{}, false
}
