package engine

import (
	"fmt"
	"slices"
	"strings"

	"waywright/procedures"
)

func (s *State) decided(ev Event, d Decided) error {
	c := s.conceded[d.Gate]
	if c == nil || s.plan.signoffs[d.Role] == nil {
		return fmt.Errorf("it decides a concession at %q that nobody asked for", d.Gate)
	}
	e := *c
	e.Decided, e.Granted, e.Role, e.Because, e.Decider = true, d.Granted, d.Role, d.Reason, d.Name
	s.conceded[d.Gate] = &e
	return nil
}

func (s *State) sign(ev Event, d Signed) error {
	role := s.plan.signoffs[d.Role]
	if role == nil {
		return fmt.Errorf("it signs as %q, a role that the procedure does not have", d.Role)
	}
	if s.hasSigned(role) {
		return fmt.Errorf("it signs a second time as %q", d.Role)
	}
	s.signed = append(s.signed, Signature{d, role, ev.Time, ev.N})
	return nil
}

func (s *State) hasSigned(role *procedures.Signoff) bool {
	return slices.ContainsFunc(s.signed, func(g Signature) bool { return g.Role == role })
}

// nextSignature asks for the decisions on concessions, then the roles to sign,
// in the order of the file.
func (s *State) nextSignature() Question {
	if s.seal == nil {
		if q, ok := s.nextConcession(); ok {
			return q
		}
	}
	open := s.Unsigned()
	if len(open) == 0 {
		return Question{Kind: End, Name: "end"}
	}
	role := open[0]
	q := Question{
		Kind: AskSign, Name: role.Name, Text: true, Role: role, Ask: words(role.Title, s.env()) + ": the signer's name", Open: s.obstacles(),
	}
	if len(q.Open) > 0 {
		q.Why = s.signMend()
	}
	return q
}

// obstacles tells what stands in the way of signing.
func (s *State) obstacles() []string {
	var out []string
	for _, k := range s.skipped {
		if s.clearedAfter(k) {
			continue
		}
		out = append(out, s.notAcknowledged(k))
	}
	return out
}

// notAcknowledged says what was skipped: of which piece of work, which cautions,
// which state of the spindle.
func (s *State) notAcknowledged(k Skipped) string {
	first, _ := cut(k.Name)
	work := first
	if st := s.plan.steps[first]; st != nil {
		work = s.stepTitle(st)
	} else if c := s.plan.corrections[first]; c != nil {
		work = words(c.Title, s.env())
	}
	said := ""
	s.lasting(func(ev Event) {
		if d, ok := ev.Data.(Cleared); ok && ev.N == k.N {
			said = skippedText(d)
		}
	})
	return fmt.Sprintf("not acknowledged, %s: %s", work, said)
}

// skippedText names the cautions and the state of the spindle that were not
// acknowledged, and the reason where one was given.
func skippedText(d Cleared) string {
	var what []string
	for _, name := range d.Cautions {
		what = append(what, "caution "+strings.ReplaceAll(name, "_", " "))
	}
	if d.Spindle != "" && d.Spindle != procedures.AnySpindle.String() {
		what = append(what, "spindle "+d.Spindle)
	}
	said := strings.Join(what, ", ")
	if d.Reason != "" {
		said += " (" + strings.TrimSuffix(d.Reason, ".") + ")"
	}
	return said
}

// clearedAfter reports whether what was skipped was acknowledged later, when
// the step was worked again.
func (s *State) clearedAfter(k Skipped) bool {
	later := false
	s.lasting(func(ev Event) {
		d, ok := ev.Data.(Cleared)
		later = later || ok && d.Name == k.Name && !d.Skipped && ev.N > k.N
	})
	return later
}

func (s *State) answerConcession(q Question, in Input) ([]Data, *Refusal) {
	w, ok := pick(in.Text, q.Choices)
	switch {
	case !ok:
		return nil, refuse("choice", fmt.Sprintf("I read %q.", in.Text), "That is not one of the choices.", s.wanted(q))
	case in.Reason == "":
		return nil, reasonWanted("Granting or refusing a concession")
	}
	return []Data{Decided{Role: q.Role.Name, Gate: q.Gate.Name, Granted: w == "grant", Reason: in.Reason, Name: s.decidesNow(q.Role)}}, nil
}

func (s *State) answerSign(q Question, in Input) ([]Data, *Refusal) {
	return s.Sign(Signed{Role: q.Role.Name, Name: in.Text})
}

// answerRelease takes the name of who releases a hold point. Where another role
// of the same run must be somebody else, and has acted, it is.
func (s *State) answerRelease(q Question, in Input) ([]Data, *Refusal) {
	if r := s.apart(q.Role, in.Text, "", "The hold point stays.", "Let the other person release it."); r != nil {
		return nil, r
	}
	return []Data{Answered{Name: q.Name, Word: in.Text}}, nil
}

// signMend says what makes good that something was not acknowledged: which steps
// are to be worked again, and how that is said.
func (s *State) signMend() string {
	var again []string
	for _, k := range s.skipped {
		first, _ := cut(k.Name)
		switch {
		case s.clearedAfter(k) || slices.Contains(again, first):
		case s.plan.corrections[first] != nil:
			return "What was corrected without them stays so in the record. A new run, with them, can be signed."
		default:
			again = append(again, first)
		}
	}
	if len(again) == 1 {
		return "Work the step again with its cautions: disturb " + again[0] + " because REASON."
	}
	return "Work the steps again with their cautions, each by: disturb STEP because REASON. The steps are " + strings.Join(again, ", ") + "."
}

// sameName compares names as people write them, whatever the case and blanks.
func sameName(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}
