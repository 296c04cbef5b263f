package engine

import (
	"fmt"
	"strings"
	"time"

	"waywright/checks"
	"waywright/checks/quantity"
)

// answerWay takes the way chosen at a gate. Reporting the correction that is
// offered first chooses it (semantics rule 36).
func (s *State) answerWay(_ time.Time, q Question, in Input) ([]Data, *Refusal) {
	first := q.Ways[0]
	if len(q.Also) > 0 && in.Name != "" && in.Name != q.Name {
		return s.chooseAndReport(q, first, in)
	}
	if w, ok := pick(in.Text, q.Choices); ok {
		for _, o := range q.Ways {
			if o.Name == w {
				return s.chosenWay(q, o, in)
			}
		}
	}
	if first.Kind == WayCorrection && first.Advice.Correction.Moved != nil && !s.clearPending(first.Advice) {
		if out, ref := s.chooseAndReport(q, first, Input{Name: first.Advice.Report, Text: in.Text, Reason: in.Reason}); ref == nil || looksNumeric(in.Text) {
			return out, ref
		}
	}
	return nil, notAWay(q, in.Text)
}

// notAWay says what the ways on are, and what each means.
func notAWay(q Question, text string) *Refusal {
	wrong := "That is not one of the ways on."
	if strings.EqualFold(strings.TrimSpace(text), string(WayAgain)) {
		wrong = "Further takes are offered only where they could decide."
	}
	ways := make([]string, len(q.Ways))
	for i, w := range q.Ways {
		ways[i] = w.Name + " (" + w.meaning(q.Gate.Verdict) + ")"
	}
	return refuse("choice", fmt.Sprintf("I read %q.", text), wrong, "Ways on: "+strings.Join(ways, "; ")+".")
}

// meaning says in half a sentence what a way on does.
func (o Offered) meaning(v checks.Verdict) string {
	switch {
	case o.Kind == WayAgain && v == checks.NotMeasured:
		return "measured after all"
	case o.Advice != nil:
		return o.Advice.Title
	}
	switch o.Kind {
	case WayAgain:
		return "further takes, added to those there are"
	case WayAfresh:
		return "all of it read once more, with a reason; what was cut or set stays"
	case WayConcession:
		return "left as it is, with a reason: not accepted unless a concession is granted"
	case WayReject:
		return "given up, with a reason: the machine is rejected"
	}
	return "a correction"
}

func looksNumeric(text string) bool { return strings.ContainsAny(text, "0123456789") }

func (s *State) clearPending(ad *Advice) bool {
	_, ok := s.clearQuestion("", ad.Correction.Cautions, ad.Correction.Spindle, s.env())
	return ok
}

func (s *State) chosenWay(q Question, o Offered, in Input) ([]Data, *Refusal) {
	d := Chosen{Gate: q.Gate.Name, Way: o.Name, Reason: in.Reason}
	switch o.Kind {
	case WayConcession:
		if in.Reason == "" {
			return nil, reasonWanted("Asking for a concession")
		}
	case WayReject:
		if in.Reason == "" {
			return nil, reasonWanted("Giving the machine up")
		}
	case WayAfresh:
		if in.Reason == "" {
			return nil, reasonWanted("Reading afresh")
		}
		return []Data{Disturbed{What: "step", Name: s.readIn(q.Gate.Gate).Name, Reason: in.Reason}}, nil
	case WayCorrection:
		d = chosenCorrection(q, o, in.Reason)
	}
	return []Data{d}, nil
}

func chosenCorrection(q Question, o Offered, reason string) Chosen {
	d := Chosen{Gate: q.Gate.Name, Way: o.Name, Reason: reason, Correction: true}
	ad := o.Advice
	for _, v := range ad.Amounts {
		d.Amounts = append(d.Amounts, Stored{Value: ad.Unit.Of(v), Unit: ad.Unit.Name})
	}
	d.Stations = ad.At
	if ad.Gain != 1 {
		d.Gain = ad.Gain
	}
	if ad.Expects != nil {
		d.Expects = &Stored{Value: ad.ExpectUnit.Difference().Of(*ad.Expects), Unit: ad.ExpectUnit.Difference().Name}
	}
	return d
}

// chooseAndReport chooses the correction that is offered first and reports
// it, or acknowledges its cautions.
func (s *State) chooseAndReport(q Question, o Offered, in Input) ([]Data, *Refusal) {
	ad := o.Advice
	if ad == nil {
		return nil, refuse("choice", "", "No correction is offered here.", "Answer "+list(q.Choices)+".")
	}
	out := []Data{chosenCorrection(q, o, "")}
	c := ad.Correction
	clear, pending := s.clearQuestion(c.Name+".clear", c.Cautions, c.Spindle, s.env())
	if in.Name == clear.Name && pending {
		more, ref := s.answerClear(clear, in)
		return append(out, more...), ref
	}
	if pending {
		skipped := cleared(clear)
		skipped.Skipped = true
		out = append(out, skipped)
	}
	if tells(c) {
		done := Question{Kind: AskDone, Name: c.Name, Ways: []Offered{o}}
		if len(ad.Amounts) == 1 {
			u := quantity.InRun(ad.Unit, s.begun.Inch)
			done.Unit = &u
		}
		more, ref := s.answerDone(done, in)
		if ref != nil {
			return nil, ref
		}
		return append(out, more...), nil
	}
	if c.Moved == nil {
		y, ok := yes(in.Text)
		if !ok || !y {
			return nil, refuse("choice", fmt.Sprintf("I read %q.", in.Text), "The correction is reported with yes, once it is done.", "Answer yes, or choose another way.")
		}
		return append(out, Reported{Correction: c.Name, Reason: in.Reason}), nil
	}
	more, ref := s.answerMoved(s.movedQuestion(c, s.env()), ad.Amount, in)
	if ref != nil {
		return nil, ref
	}
	if w := c.Moved.With; w != nil {
		if _, ok := s.bound[w.Name]; !ok {
			out = append(out, Bound{Name: w.Name, Skipped: true})
		}
	}
	return append(out, more...), nil
}
