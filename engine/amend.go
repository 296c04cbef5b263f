package engine

import (
	"fmt"
	"slices"
	"strings"

	"waywright/procedures"
)

func (s *State) amended(ev Event, d Amended) error {
	id, i, ok := s.takeAt(d.Name, d.Take)
	if !ok {
		return fmt.Errorf("it amends %q, take %d, which is not there", d.Name, d.Take)
	}
	f := s.edit(id)
	t := f.takes[i]
	t.amends = append(slices.Clip(t.amends), amend{n: ev.N, at: ev.Time, by: ev.By, was: t.typed, wasW: t.word, reason: d.Reason})
	if d.Word != "" {
		t.word = d.Word
	} else {
		turned := t.value == -t.raw && t.raw != 0
		if err := t.number(d.To); err != nil {
			return err
		}
		if turned {
			t.value = -t.raw
		}
	}
	f.takes[i] = t
	return nil
}

// takeAt finds the take that a name and a number (from 1; 0 is the last) mean
// among those that count.
func (s *State) takeAt(name string, number int) (id string, index int, ok bool) {
	id = name
	p := going
	for _, suffix := range []part{again, back} {
		if rest, ok := strings.CutSuffix(name, "."+string(suffix)); ok {
			id, p = rest, suffix
		}
	}
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

// Kept is an answer that may be amended.
type KeptAnswer struct {
	Name  string // as amend takes it
	Take  int    // from 1; 0 where there is one only
	Ask   string
	Value string // as it reads now
	N     int    // event
}

// Amendable returns the last answers that count and may be amended, the
// latest first, most of them at the most.
func (s *State) Amendable(most int) []KeptAnswer {
	var out []KeptAnswer
	for id, f := range s.facts {
		first, _ := cut(id)
		q, ok := s.asked(id)
		if !ok {
			continue
		}
		var st *procedures.Step
		if st = s.plan.stepOf[first]; st == nil && s.plan.givens[first] == nil {
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
			k := KeptAnswer{Name: name, Take: number[t.part], Ask: q.Ask, N: t.n, Value: t.word}
			if t.typed.Unit != "" {
				k.Value = s.inUnit(id, t.typed)
			}
			out = append(out, k)
		}
	}
	slices.SortFunc(out, func(a, b KeptAnswer) int {
		if a.N != b.N {
			return b.N - a.N
		}
		return b.Take - a.Take
	})
	return out[:min(most, len(out))]
}

func (s *State) amend(in Input) ([]Data, *Refusal) {
	name := strings.TrimSpace(in.Name)
	id, i, ok := s.takeAt(name, in.Take)
	if !ok {
		return nil, refuse("name", fmt.Sprintf("I read %s.", name), "There is no such answer to amend now.", "Name it as the run did: "+s.someNames()+".")
	}
	t := s.facts[id].takes[i]
	if strings.TrimSpace(in.Reason) == "" {
		return nil, reasonWanted("Amending an answer")
	}
	d := Amended{Name: name, Take: in.Take, Reason: in.Reason}
	q, known := s.asked(name)
	if !known {
		return nil, refuse("name", fmt.Sprintf("I read %s.", name), "That answer cannot be amended.", "Work the step again instead: say what was disturbed.")
	}
	if t.typed.Unit == "" {
		w, ok := in.Text, true
		switch {
		case len(q.Choices) > 0:
			w, ok = pick(in.Text, q.Choices)
		case !q.Text:
			var y bool
			if y, ok = yes(in.Text); ok && y {
				w = "yes"
			} else {
				w = "no"
			}
		}
		if !ok || strings.TrimSpace(w) == "" {
			return nil, refuse("choice", fmt.Sprintf("I read %q.", in.Text), "That is not one of the choices.", s.wanted(q))
		}
		d.Word = w
		return []Data{d}, nil
	}
	takes, _, ref := s.numbersFrom(q, in, 1)
	if ref != nil && !ref.Keep {
		return nil, ref
	}
	if len(takes) == 0 {
		return nil, ref
	}
	d.To = takes[0]
	return []Data{d}, nil
}

// someNames lists the latest answers that can be amended.
func (s *State) someNames() string {
	names := []string{}
	for _, a := range s.Amendable(4) {
		names = append(names, a.Name)
	}
	return strings.Join(names, ", ")
}

func (s *State) amendText(d Amended) string {
	id, i, ok := s.takeAt(d.Name, d.Take)
	if !ok {
		return "Amended."
	}
	t := s.facts[id].takes[i]
	a := t.amends[len(t.amends)-1]
	if d.Word != "" {
		return fmt.Sprintf("%s: %s, was %s, %s. Both stay in the record.", d.Name, d.Word, a.wasW, d.Reason)
	}
	return fmt.Sprintf("%s: %s, was %s, %s. Both stay in the record.", d.Name, s.inUnit(d.Name, d.To), s.inUnit(d.Name, a.was), d.Reason)
}
