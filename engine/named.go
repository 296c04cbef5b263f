package engine

import (
	"fmt"
	"maps"
	"strings"
)

// The name of who was at the machine in a sitting may be put right, as an answer
// may that was mistyped. What was done in that sitting then stands under the right
// name; the journal keeps both, and the record says so among its amendments.

// operatorName is the name under which the operator of a sitting is asked and
// amended. The take is the number of the sitting; 0 is the last one.
const operatorName = "operator"

// byName is an event under the name that was put right.
func (s *State) byName(ev Event) Event {
	name, ok := s.named[ev.N]
	if !ok {
		return ev
	}
	ev.By = name
	if d, ok := ev.Data.(Sat); ok {
		d.Operator = name
		ev.Data = d
	}
	return ev
}

// renaming folds the events again under the right name.
func (s *State) renaming(ev Event, d Amended) (*State, error) {
	if err := s.closed(ev); err != nil {
		return nil, fmt.Errorf("engine: event %d: %w", ev.N, err)
	}
	if n := s.sittingNumber(d.Take); n < 1 || n > len(s.sittings) || strings.TrimSpace(d.Word) == "" {
		return nil, fmt.Errorf("engine: event %d amends the operator of sitting %d, which is not there", ev.N, d.Take)
	}
	all := append(s.events[:len(s.events):len(s.events)], ev)
	t, err := s.refolded(maps.Clone(s.gone), namesOf(all, s.gone))
	if err != nil {
		return nil, err
	}
	return t, t.apply(ev)
}

func (s *State) sittingNumber(take int) int {
	if take == 0 {
		return len(s.sittings)
	}
	return take
}

// namesOf finds under which name events stand once those of sittings were put
// right. What somebody else did in such a sitting, a release or a decision, stays
// theirs.
func namesOf(events []Event, gone map[int]int) map[int]string {
	var sat []int // indices of the events that open sittings
	right := map[int]string{}
	for i, ev := range events {
		switch d := ev.Data.(type) {
		case Sat:
			if gone[ev.N] == 0 {
				sat = append(sat, i)
			}
		case Amended:
			n := d.Take
			if n == 0 {
				n = len(sat)
			}
			if d.Name == operatorName && gone[ev.N] == 0 && n >= 1 && n <= len(sat) {
				right[sat[n-1]] = d.Word
			}
		}
	}
	if len(right) == 0 {
		return nil
	}
	out := map[int]string{}
	for k, from := range sat {
		name, ok := right[from]
		if !ok {
			continue
		}
		was := events[from].Data.(Sat).Operator
		to := len(events)
		if k+1 < len(sat) {
			to = sat[k+1]
		}
		for _, ev := range events[from:to] {
			if ev.By == was {
				out[ev.N] = name
			}
		}
	}
	return out
}

// operatorAtFirst says who was at the machine in a sitting, as it was typed first.
func (s *State) operatorAtFirst(sitting int) string {
	n := 0
	for _, ev := range s.events {
		if d, ok := ev.Data.(Sat); ok && s.gone[ev.N] == 0 {
			if n++; n == sitting {
				return d.Operator
			}
		}
	}
	return ""
}

// keptOperator is the name of who is at the machine, as an answer that may be
// amended.
func (s *State) keptOperator() (KeptAnswer, bool) {
	if len(s.sittings) == 0 || s.sittings[len(s.sittings)-1].Operator == NotNamed {
		return KeptAnswer{}, false
	}
	k := KeptAnswer{Name: operatorName, Take: len(s.sittings), Ask: "Who is at the machine", Value: s.sittings[len(s.sittings)-1].Operator}
	for _, ev := range s.events {
		if _, ok := ev.Data.(Sat); ok && s.gone[ev.N] == 0 {
			k.N = ev.N
		}
	}
	return k, true
}

// amendOperator puts the name of who was at the machine right.
func (s *State) amendOperator(in Input) ([]Data, *Refusal) {
	n, name := s.sittingNumber(in.Take), strings.TrimSpace(in.Text)
	switch {
	case len(s.sittings) == 0:
		return nil, refuse("name", "I read "+operatorName+".", "Nobody has been at the machine yet.", "Say who it is.")
	case n < 1 || n > len(s.sittings):
		return nil, refuse("name", fmt.Sprintf("I read %s, take %d.", operatorName, in.Take), fmt.Sprintf("There were %d sittings.", len(s.sittings)), "Number them from 1.")
	case name == "" || strings.Trim(name, "+-0123456789., ") == "":
		return nil, refuse("value", fmt.Sprintf("I read %q.", in.Text), "That is not a name.", "Type the name of who was at the machine.")
	case name == s.sittings[n-1].Operator:
		return nil, refuse("value", "I read "+name+".", "That is the name already.", "Nothing is kept.")
	case strings.TrimSpace(in.Reason) == "":
		return nil, reasonWanted("Putting a name right")
	}
	return []Data{Amended{Name: operatorName, Take: n, Word: name, Reason: in.Reason}}, nil
}

// operatorAmended says what an amendment put in the place of what.
func (s *State) operatorAmended(n int, d Amended) string {
	was := s.operatorBefore(n, d.Take)
	return fmt.Sprintf("At the machine: %s, was %s, %s. Both stay in the record.", d.Word, was, d.Reason)
}

// operatorBefore is the name that an amendment, event n, put another for.
func (s *State) operatorBefore(n, sitting int) string {
	was := s.operatorAtFirst(sitting)
	for _, ev := range s.events {
		d, ok := ev.Data.(Amended)
		if ok && d.Name == operatorName && d.Take == sitting && ev.N < n && s.gone[ev.N] == 0 {
			was = d.Word
		}
	}
	return was
}
