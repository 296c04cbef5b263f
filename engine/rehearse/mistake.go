package rehearse

import (
	"slices"

	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
)

// mistake is one made on purpose, and what became of it.
type mistake struct {
	*procedures.Mistake
	known  bool   // the person knows of it and reckons with it
	done   bool   // a slip that was made
	name   string // under which it was typed
	take   int
	honest string // what should have been typed
}

// at returns the mistake of a kind that is made at a correction now, or nil.
func (p *play) at(c *procedures.Correction, kind procedures.MistakeKind, attempt int) *mistake {
	for i := range p.mistakes {
		x := &p.mistakes[i]
		if x.Correction == c && x.Kind == kind && (x.Nth == attempt || kind == procedures.Reversed && x.Nth <= attempt) {
			return x
		}
	}
	return nil
}

// in returns the mistake of a kind that is made at a reading in a working.
func (p *play) in(reading string, kind procedures.MistakeKind, working int) *mistake {
	for i := range p.mistakes {
		x := &p.mistakes[i]
		switch {
		case x.Reading == nil || x.Kind != kind:
		case x.Reading.Name == reading && (x.Nth == working || kind == procedures.Reversed && x.Nth <= working):
			return x
		case kind == procedures.Reversed && p.sameNeedle(reading, x.Reading):
			return x
		}
	}
	return nil
}

// sameNeedle tells whether a reading is read with the needle of another one, not
// touched since.
func (p *play) sameNeedle(reading string, other *procedures.Reading) bool {
	for _, st := range p.s.Procedure().Steps {
		for _, it := range st.Items {
			if r, ok := it.(*procedures.Reading); ok && r.Name == reading {
				return r.Tested != nil && r.Tested != r && (r.Tested == other || p.sameNeedle(r.Tested.Name, other))
			}
		}
	}
	return false
}

// correct carries a correction out and returns what its indicator shows. What
// truly moved is worked out first, then the states.
func (p *play) correct(ad *engine.Advice) (shown value.Value) {
	c, attempt := ad.Correction, p.rounds[ad.Correction.Name]+1
	amount := value.Value{State: value.Missing}
	switch {
	case len(ad.At) > 0:
		amount = value.ProfileOf(ad.At, value.Nums(ad.Amounts...))
	case ad.HasAmount:
		amount = value.Num(ad.Amount)
	}
	moved, re := amount, p.m.reacts(c)
	if re != nil && re.Moved != nil {
		moved = re.Moved.Eval(&scene{m: p.m, facts: p.s, own: map[string]value.Value{"amount": amount, "attempt": value.Num(float64(attempt))}})
	}
	if p.at(c, procedures.WrongWay, attempt) != nil {
		moved = times(moved, -1)
	}
	if p.at(c, procedures.Half, attempt) != nil {
		moved = times(moved, 0.5)
	}
	shown = moved
	if x := p.at(c, procedures.Reversed, attempt); x != nil && x.known {
		shown = times(moved, -1) // moved rightly; the needle is as it is
	} else if x != nil {
		moved = times(moved, -1) // moved until the needle shows what is asked for
	}
	if p.at(c, procedures.Undone, attempt) != nil {
		moved = times(moved, 0)
	}
	if re != nil {
		p.m.react(re, p.s, amount, moved, attempt)
	}
	if p.reacted != nil {
		p.reacted(c, map[string]value.Value{"amount": amount, "moved": moved, "attempt": value.Num(float64(attempt))})
	}
	return shown
}

func times(v value.Value, k float64) value.Value {
	return value.Map(func(x value.Value) value.Value {
		if x.State == value.Present && x.Kind == value.Number {
			x.Num *= k
		}
		return x
	}, v)
}

// typed is a movement as the indicator shows it.
func (p *play) typed(q engine.Question, moved value.Value) string {
	m := moved.Mean()
	if m.State != value.Present {
		p.noAnswer(q, m)
		return ""
	}
	return p.inUnit(q, rounded(q, p.m.readMove(q, m.Num)))
}

// move answers what is asked about a movement: told at once of a wrong one the
// person carries on and measures; asked to push by hand, it says what the needle
// does.
func (p *play) move(q engine.Question) string {
	if !q.Move.Nudge {
		return "carry_on"
	}
	c := q.Move.Correction
	if x := p.at(c, procedures.Reversed, p.rounds[c.Name]); x != nil {
		x.known = true
		return "minus"
	}
	return "plus"
}

// needle says what the needle of a reading does when the part is pushed.
func (p *play) needle(q engine.Question) string {
	name := p.m.asked(q).name
	if p.in(name, procedures.Reversed, max(q.Working, 1)) != nil {
		return "minus"
	}
	return "plus"
}

// misreading is what the person takes for the answer: of a place that is
// swapped that of another one, and it tells whether a turn slips.
func (p *play) misreading(q engine.Question, asked question) (value.Value, *mistake) {
	if q.Kind != engine.AskReading {
		return p.m.honest(asked, p.s), nil
	}
	if x := p.in(asked.name, procedures.Swapped, q.Working); x != nil {
		p.swap(x.Reading, asked)
	}
	x := p.in(asked.name, procedures.SlipTurn, q.Working)
	if x == nil || x.done {
		return p.m.honest(asked, p.s), nil
	}
	x.done, x.name, x.take = true, q.Name, max(q.Take, 1)
	return p.m.honest(asked, p.s), x
}

// swap puts the key or station in the place of the one as far from the other
// end.
func (p *play) swap(r *procedures.Reading, asked question) {
	e := &scene{m: p.m, facts: p.s, each: asked.each}
	if len(r.Each) > 0 {
		keys := r.Each[0].Of.Eval(e)
		name := r.Each[0].Name
		if i := slices.IndexFunc(keys.Elems, func(v value.Value) bool { return value.Equal(v, asked.each[name]) }); i >= 0 {
			asked.each[name] = keys.Elems[len(keys.Elems)-1-i]
		}
		return
	}
	if r.Along == nil {
		return
	}
	at := r.Along.Eval(e)
	if i := slices.IndexFunc(at.Elems, func(v value.Value) bool { return value.SamePlace(v.Num, asked.each["station"].Num) }); i >= 0 {
		asked.each["station"] = at.Elems[len(at.Elems)-1-i]
	}
}

// mend amends a slip that a later value brought to light.
func (p *play) mend(q engine.Question, ref *engine.Refusal) bool {
	if ref.Code != "turn" && ref.Code != "spread" {
		return false
	}
	for i := range p.mistakes {
		x := &p.mistakes[i]
		if !x.done || x.known || x.name != q.Name {
			continue
		}
		x.known = true
		ref := p.tell(q, engine.Input{Verb: engine.Amend, Name: x.name, Take: x.take, Text: x.honest, Reason: "misread by a turn"})
		return ref == nil
	}
	return false
}

// misread tells whether a reading that feeds a gate is wrong by a mistake in
// its present working.
func (p *play) misread(g *procedures.Gate) bool {
	for i := range p.mistakes {
		x := &p.mistakes[i]
		if x.Reading == nil || x.known || x.Kind == procedures.Reversed {
			continue
		}
		if p.s.WorkingOf(x.Reading.Step) == x.Nth {
			x.known = true
			return true
		}
	}
	return false
}
