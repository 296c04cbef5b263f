package engine

import (
	"fmt"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/procedures"
)

// amended corrects a take, or a movement. What is computed from it changes;
// nothing becomes stale (semantics rule 43).
func (s *State) amended(ev Event, d Amended) error {
	if d.Name == operatorName {
		return nil // every event stands under the right name already
	}
	if c := s.movementOf(d.Name); c != nil {
		return s.amendMovement(ev, d, c)
	}
	id, i, ok := s.takeAt(d.Name, d.Take)
	form := s.formOf(id)
	if !ok || form == nil {
		return fmt.Errorf("it amends %q, take %d, which is not there", d.Name, d.Take)
	}
	takes := []Taken(nil)
	if d.To.Unit != "" {
		takes = []Taken{d.To}
	}
	if err := suits(d.Name, form, takes, d.Word); err != nil {
		return err
	}
	f := s.edit(id)
	t := f.takes[i]
	t.amends = append(slices.Clip(t.amends), amend{n: ev.N, at: ev.Time, by: ev.By, was: t.typed, wasW: t.word, reason: d.Reason})
	if d.Word != "" {
		t.word = d.Word
	} else if err := t.number(d.To); err != nil {
		return err
	}
	if first, _ := cut(id); s.plan.givens[first] != nil {
		t.from, t.u, t.dof = d.From, 0, d.DoF
		if u, err := quantity.Lookup(d.To.Unit); err == nil {
			t.u = d.U * u.Factor
		}
	}
	f.takes[i] = t
	s.forget()
	s.afterAmending(id, t)
	return nil
}

// formOf is what may be answered at an address: nil where nothing is asked.
func (s *State) formOf(id string) *procedures.Answer {
	first, _ := cut(id)
	switch it := s.plan.items[first].(type) {
	case *procedures.Reading:
		return &it.Answer
	case *procedures.Confirm:
		return &procedures.Answer{Choose: []string{"yes", "no"}}
	}
	if g := s.plan.givens[first]; g != nil {
		return &g.Answer
	}
	if id == "grade" {
		return s.grades()
	}
	return nil
}

// afterAmending works a step again whose confirmation is now no, and holds a
// set against its closing reading again: what an answer brings about, its
// correction does too.
func (s *State) afterAmending(id string, t take) {
	first, keys := cut(id)
	switch it := s.plan.items[first].(type) {
	case *procedures.Confirm:
		if t.word == "no" {
			s.spoil([]*procedures.Step{s.plan.stepOf[first]}, "answered no: "+words(it.Ask, s.env()))
		}
	case *procedures.Reading:
		n := len(it.Step.Each)
		if it.Closure == nil || len(keys) < n {
			return
		}
		s.close(it, keys[:n], t.pass, s.insisted(it, keys[:n], t.pass))
	}
}

// insisted reports whether a set was kept with a reason though its first place
// had moved.
func (s *State) insisted(r *procedures.Reading, round []string, pass int) bool {
	if s.voids[address(r.Name, round...)] < mostVoids {
		return false
	}
	places, _ := s.places(r, round)
	for _, p := range places {
		f := s.facts[p.element(r)]
		if f == nil {
			continue
		}
		for _, t := range f.takes {
			if t.part != going && t.pass == pass && t.void == "" && t.work == s.work[r.Step.Name] && t.reason != "" {
				return true
			}
		}
	}
	return false
}

// movementOf returns the correction whose movement a name means, or nil.
func (s *State) movementOf(name string) *procedures.Correction {
	c, ok := strings.CutSuffix(name, ".moved")
	if !ok || s.plan.corrections[c] == nil || s.plan.corrections[c].Moved == nil {
		return nil
	}
	return s.plan.corrections[c]
}

// movementAt finds a movement of the last attempt of a correction by its
// number, from 1; 0 is the last.
func (s *State) movementAt(c *procedures.Correction, number int) (attempt, index int, ok bool) {
	i := s.lastAttempt(c.Name)
	if i < 0 || len(s.attempts[i].moves) == 0 {
		return 0, 0, false
	}
	n := len(s.attempts[i].moves)
	if number == 0 {
		number = n
	}
	return i, number - 1, number >= 1 && number <= n
}

func (s *State) amendMovement(ev Event, d Amended, c *procedures.Correction) error {
	i, k, ok := s.movementAt(c, d.Take)
	if !ok {
		return fmt.Errorf("it amends %q, movement %d, which is not there", d.Name, d.Take)
	}
	if err := suits(d.Name, &procedures.Answer{Unit: &c.Moved.Unit}, []Taken{d.To}, ""); err != nil {
		return err
	}
	t := take{turned: s.turns(c, d.To)}
	if err := t.number(d.To); err != nil {
		return err
	}
	a := &s.attempts[i]
	a.moves = slices.Clone(a.moves)
	m := &a.moves[k]
	m.amends = append(slices.Clip(m.amends), amend{n: ev.N, at: ev.Time, by: ev.By, was: m.typed, reason: d.Reason})
	m.typed, m.value = d.To, t.value
	switch {
	case a.told:
		s.tell(i)
	case s.movedAmiss(a):
		s.moveOpen = i // nothing is known of its effect yet: it is said at once
	case s.moveOpen == i:
		s.moveOpen = -1
	}
	return nil
}

// takeAt finds the take that a name and a number (from 1; 0 is the last) mean
// among those that count.
func (s *State) takeAt(name string, number int) (id string, index int, ok bool) {
	id, p := s.elementOf(name)
	f := s.facts[id]
	if f == nil {
		return "", 0, false
	}
	first, _ := cut(id)
	st := s.plan.stepOf[first]
	n := 0
	last := -1
	for i, t := range f.takes {
		if t.void != "" || t.part != p || st != nil && t.work != s.work[st.Name] {
			continue
		}
		n++
		last = i
		if n == number {
			return id, i, true
		}
	}
	return id, last, number == 0 && last >= 0
}

// elementOf parts a question's name into the address of its element and the
// passage. A key may itself be called back or again.
func (s *State) elementOf(name string) (id string, p part) {
	if s.facts[name] != nil {
		return name, going
	}
	for _, suffix := range []part{again, back} {
		if rest, ok := strings.CutSuffix(name, "."+string(suffix)); ok {
			return rest, suffix
		}
	}
	return name, going
}

// Asked is the question that an answer of this name was the answer to, or
// nothing.
func (s *State) Asked(name string) string {
	id, _ := s.elementOf(name)
	q, _ := s.asked(id)
	return q.Ask
}

// KeptAnswer is an answer that may be amended.
type KeptAnswer struct {
	Name  string // as amend takes it
	Take  int    // from 1
	Ask   string // as it was asked
	Moved int    // of a movement, which it was; 0 for what is no movement
	Value string // as it reads now, a movement with its direction in words
	N     int    // event
}

// Amendable returns the last answers that count and may be amended, the
// latest first, most of them at the most.
func (s *State) Amendable(most int) []KeptAnswer {
	type kept struct {
		KeptAnswer
		nth int
	}
	var all []kept
	for id, f := range s.facts {
		first, _ := cut(id)
		st := s.plan.stepOf[first]
		q, ok := s.asked(id)
		if !ok || q.File {
			continue
		}
		number := map[part]int{}
		for _, t := range f.takes {
			if t.void != "" || st != nil && t.work != s.work[st.Name] {
				continue
			}
			number[t.part]++
			name := id
			if t.part != going {
				name += "." + string(t.part)
			}
			k := KeptAnswer{Name: name, Take: number[t.part], N: t.n, Value: t.word, Ask: q.Ask + passage(t.part)}
			if t.typed.Unit != "" {
				k.Value = s.inUnit(id, t.typed)
			}
			all = append(all, kept{k, t.nth})
		}
	}
	for name, c := range s.plan.corrections {
		i, _, ok := s.movementAt(c, 0)
		if !ok {
			continue
		}
		a := &s.attempts[i]
		for k, m := range a.moves {
			all = append(all, kept{KeptAnswer{Name: name + ".moved", Take: k + 1, Moved: k + 1, Ask: words(c.Moved.Ask, s.env()), N: m.n,
				Value: a.movedText(m, s.begun.Inch)}, 0})
		}
	}
	if k, ok := s.keptOperator(); ok {
		all = append(all, kept{k, 0})
	}
	slices.SortFunc(all, func(a, b kept) int {
		switch {
		case a.N != b.N:
			return b.N - a.N
		case a.nth != b.nth:
			return b.nth - a.nth
		}
		return b.Take - a.Take
	})
	out := []KeptAnswer(nil)
	for _, k := range all[:min(most, len(all))] {
		out = append(out, k.KeptAnswer)
	}
	return out
}

// passage is what stands behind the question for a place that is read again.
func passage(p part) string {
	switch p {
	case again:
		return ", once more"
	case back:
		return ", on the way back"
	}
	return ""
}

// movedText is a movement as it is read back: how far, and which way in words.
func (a *attempt) movedText(m movement, inch bool) string {
	if way := a.way(m.value); way != "" {
		return shown(*a.corr.Unit, abs(m.value), inch) + " " + way
	}
	return shown(*a.corr.Unit, m.value, inch)
}

// amend takes a correction of an answer, from the person.
func (s *State) amend(in Input) ([]Data, *Refusal) {
	name := strings.TrimSpace(in.Name)
	if name == operatorName {
		return s.amendOperator(in)
	}
	q, ok := s.asked(name)
	number, word, there := s.amends(name, in.Take)
	switch {
	case !ok && there || q.File:
		return nil, refuse("name", fmt.Sprintf("I read %s.", name), "That answer cannot be amended.", "Work the step again instead: say what was disturbed.")
	case !ok || !there:
		return nil, s.nothingToAmend(in)
	case strings.TrimSpace(in.Reason) == "":
		return nil, reasonWanted("Amending an answer")
	}
	d := Amended{Name: name, Take: number, Reason: in.Reason}
	if word {
		w, ok := s.wordFor(q, in.Text)
		if !ok {
			return nil, refuse("choice", fmt.Sprintf("I read %q.", in.Text), "That is not one of the choices.", s.wanted(q))
		}
		d.Word = w
		return []Data{d}, nil
	}
	switch over, ok := takeOver(q, in); {
	case ok && len(over.Takes) == 1:
		d.To, d.From, d.U, d.DoF = over.Takes[0], over.From, over.U, over.DoF
		return []Data{d}, nil
	case ok:
		d.From, in.Text = over.From, q.Offer.exact
	case q.Kind == Blocked || q.OfferOnly:
		return nil, cannotBeTyped(q, in)
	}
	in.Reason = "" // it says why the old value was wrong, not why an odd one is right
	takes, _, ref := s.numbersFrom(q, in, 1)
	if ref != nil && ref.Keep {
		ref.Keep, ref.Mend = false, "Type what was read. What was read wrong is read again: say what was disturbed."
	}
	if ref != nil {
		return nil, ref
	}
	d.To = takes[0]
	return []Data{d}, nil
}

func (s *State) nothingToAmend(in Input) *Refusal {
	understood := "I read no name."
	if name := strings.TrimSpace(in.Name); name != "" {
		understood = fmt.Sprintf("I read %s.", name)
		if in.Take > 0 {
			understood = fmt.Sprintf("I read %s, take %d.", name, in.Take)
		}
	}
	mend := "Nothing is kept yet that can be amended."
	if names := s.someNames(); names != "" {
		mend = "Name it as the run did: " + names + "."
	}
	return refuse("name", understood, "There is no such answer to amend now.", mend)
}

// amends finds what a name and a number mean: the number of the take, and
// whether a word stands there.
func (s *State) amends(name string, number int) (take int, word, ok bool) {
	if c := s.movementOf(name); c != nil {
		_, k, ok := s.movementAt(c, number)
		return k + 1, false, ok
	}
	id, i, ok := s.takeAt(name, number)
	if !ok {
		return 0, false, false
	}
	// The number is kept even where the person left it out: the last take is
	// another once more are taken.
	_, p := s.elementOf(name)
	first, _ := cut(id)
	st := s.plan.stepOf[first]
	for _, t := range s.facts[id].takes[:i+1] {
		if t.void == "" && t.part == p && (st == nil || t.work == s.work[st.Name]) {
			take++
		}
	}
	return take, s.facts[id].takes[i].typed.Unit == "", true
}

// wordFor reads the word that is to stand in place of another.
func (s *State) wordFor(q Question, text string) (string, bool) {
	text = strings.TrimSpace(text)
	switch {
	case len(q.Choices) > 0:
		return pick(text, q.Choices)
	case q.Text:
		return text, text != ""
	}
	y, ok := yes(text)
	if y {
		return "yes", ok
	}
	return "no", ok
}

// someNames lists the latest answers that can be amended.
func (s *State) someNames() string {
	names := []string{}
	for _, a := range s.Amendable(4) {
		names = append(names, a.Name)
	}
	return strings.Join(names, ", ")
}

func (s *State) amendText(n int, d Amended) string {
	if d.Name == operatorName {
		return s.operatorAmended(n, d)
	}
	to := d.Word
	if d.To.Unit != "" {
		to = s.inUnit(d.Name, d.To)
	}
	label := d.Name
	if q, ok := s.asked(d.Name); ok && q.Ask != "" {
		label = strings.TrimRight(q.Ask, "?.: ")
	}
	return fmt.Sprintf("%s: %s, was %s, %s. Both stay in the record.", label, to, s.wasText(d.Name, n), d.Reason)
}

// wasText is what stood in a place before the amendment of event n. What was
// amended need not count any longer: an amendment may void its set or end the
// working of its step.
func (s *State) wasText(name string, n int) string {
	a, ok := s.amendedBy(n)
	if !ok || a.was.Unit == "" {
		return a.wasW
	}
	return s.inUnit(name, a.was)
}

// amendedBy finds what event n put another value for: in a take, or in a
// movement of a correction.
func (s *State) amendedBy(n int) (amend, bool) {
	is := func(a amend) bool { return a.n == n }
	for _, f := range s.facts {
		for _, t := range f.takes {
			if i := slices.IndexFunc(t.amends, is); i >= 0 {
				return t.amends[i], true
			}
		}
	}
	for _, a := range s.attempts {
		for _, m := range a.moves {
			if i := slices.IndexFunc(m.amends, is); i >= 0 {
				return m.amends[i], true
			}
		}
	}
	return amend{}, false
}
