// Package flowmap shows how a procedure runs: its steps from top to bottom, the
// gates in them, what is done where a gate is not passed, from where it is
// worked again then, what is repeated and what is left out under a condition.
// As a picture for [waywright/report/draw], and as lines of text for a screen:
// both say the same.
//
// The map is of the procedure alone and knows no run. Texts with values in
// them have the names of these in brackets: "Bar, (station) station".
package flowmap

import (
	"slices"

	"waywright/engine"
	"waywright/procedures"
)

// Kind is a kind of part.
type Kind uint8

// The kinds.
const (
	Begin  Kind = iota + 1 // what is stated before
	Work                   // a step, as far as its first gate
	Gate                   // a gate
	More                   // of a step, what comes after a gate of it
	Signed                 // the end
)

// Part is a piece of the way through a procedure.
type Part struct {
	Kind  Kind
	No    int    // of the step, from 1
	Name  string // as it is written in the procedure: step.measure, gate.true
	Title string
	Said  []string // what there is to say of it, a line each
	Ways  []Way    // of a gate: what is done where it is not passed
	Again int      // the part from which it is worked once more, for the next key; −1 for none
	Next  string   // for what that is: "each seat: marked, turned"
	Past  int      // where the condition does not hold, the part that is next; −1 for none
}

// Way is a way on from a gate that is not passed.
type Way struct {
	Kind  procedures.WayKind
	Name  string // correction.turn; "" for no correction
	Title string
	Said  []string
	Seen  bool // a correction that stands beside a gate further up already
	Back  int  // of a correction, the part from which it is worked again; −1 for none
}

// Flow is how a procedure runs.
type Flow struct {
	Title string
	Parts []Part
}

// Of makes the map of a procedure, which must have been proofread without
// errors.
func Of(p *procedures.Procedure) Flow {
	b := &builder{proc: p, plan: engine.NewPlan(p), first: map[*procedures.Step]int{}, seen: map[*procedures.Correction]bool{}}
	b.f.Title = p.Title
	b.limits = sheetLimits(b.plan)
	b.begin()
	for i, st := range p.Steps {
		b.step(i+1, st)
	}
	b.loops()
	b.past()
	b.end()
	return b.f
}

type builder struct {
	proc   *procedures.Procedure
	plan   *engine.Plan
	f      Flow
	limits map[*procedures.Gate][]engine.SheetLimit
	first  map[*procedures.Step]int // part with which a step begins
	seen   map[*procedures.Correction]bool
	after  []*procedures.Step // of each part, its step
}

func (b *builder) add(p Part, st *procedures.Step) *Part {
	p.Again, p.Past = -1, -1
	b.f.Parts = append(b.f.Parts, p)
	b.after = append(b.after, st)
	return &b.f.Parts[len(b.f.Parts)-1]
}

func (b *builder) begin() {
	var said []string
	if g := b.proc.Grades; len(g) > 0 {
		said = append(said, "the grade: "+list(g))
	}
	for _, g := range b.proc.Givens {
		s := words(g.Ask)
		if s == "" {
			s = words(g.Title)
		}
		if g.When != nil {
			s += ", only where " + b.condition(g.When)
		}
		said = append(said, s)
	}
	if len(said) > 0 {
		b.add(Part{Kind: Begin, Title: "Stated before", Said: said}, nil)
	}
}

// step adds a step: its work as far as its first gate, its gates, and the work
// between and after them.
func (b *builder) step(no int, st *procedures.Step) {
	b.first[st] = len(b.f.Parts)
	p := b.add(Part{Kind: Work, No: no, Name: "step." + st.Name, Title: title(st.Title, st.Name), Said: b.conditions(st)}, st)
	for _, it := range st.Items {
		if g, ok := it.(*procedures.Gate); ok {
			b.gate(no, g)
			p = nil
			continue
		}
		said := b.item(it)
		if said == "" {
			continue
		}
		if p == nil {
			p = b.add(Part{Kind: More, No: no, Title: "Then, in the same step"}, st)
		}
		p.Said = append(p.Said, said)
	}
}

func (b *builder) gate(no int, g *procedures.Gate) {
	x := Part{Kind: Gate, No: no, Name: "gate." + g.Name, Title: title(g.Title, g.Name), Said: b.allowed(g)}
	for _, w := range g.IfFailed {
		x.Ways = append(x.Ways, b.way(g, w))
	}
	b.add(x, g.Step)
}

func (b *builder) way(g *procedures.Gate, w procedures.Way) Way {
	out := Way{Kind: w.Kind, Back: -1}
	switch w.Kind {
	case procedures.Concede:
		out.Title = "Conceded, or not passed"
	case procedures.Reject:
		out.Title = "Rejected"
	case procedures.Note:
		out.Title = "Noted as found; it goes on"
	case procedures.Correct:
		c := w.Correction
		out.Name, out.Title = "correction."+c.Name, title(c.Title, c.Name)
		spoilt := b.plan.SpoiltBy(c)
		from := g.Step
		if len(spoilt) > 0 {
			from = spoilt[0]
		}
		out.Back = b.first[from]
		out.Seen = b.seen[c]
		b.seen[c] = true
		if !out.Seen {
			out.Said = b.correction(c, spoilt)
		}
	}
	return out
}

// loops joins the last part of a step that is worked for each of some keys with
// its first.
func (b *builder) loops() {
	for i, st := range b.after {
		if st == nil || len(st.Each) == 0 || i+1 < len(b.after) && b.after[i+1] == st {
			continue
		}
		b.f.Parts[i].Again = b.first[st]
		var each []string
		for _, e := range st.Each {
			each = append(each, keys(e))
		}
		b.f.Parts[i].Next = list(each)
	}
}

// past joins a step that has a condition with what comes after the steps that
// have the same one.
func (b *builder) past() {
	steps := b.proc.Steps
	for i := 0; i < len(steps); i++ {
		st := steps[i]
		if st.When == nil {
			continue
		}
		for i+1 < len(steps) && steps[i+1].When != nil && steps[i+1].When.Source() == st.When.Source() {
			i++
		}
		to := len(b.f.Parts)
		if i+1 < len(steps) {
			to = b.first[steps[i+1]]
		}
		b.f.Parts[b.first[st]].Past = to
	}
}

// end adds who signs.
func (b *builder) end() {
	x := Part{Kind: Signed, Title: "The record is sealed"}
	for _, s := range b.proc.Signoffs {
		said := "signed: " + title(s.Title, s.Name)
		if s.OtherThan != nil {
			said += ", by another person than " + title(s.OtherThan.Title, s.OtherThan.Name)
		}
		if s.Concedes {
			said += "; grants or refuses concessions"
		}
		x.Said = append(x.Said, said)
	}
	x.Said = append(x.Said, b.ends()...)
	b.add(x, nil)
}

// ends says how a run can end.
func (b *builder) ends() []string {
	noted := false
	can := map[procedures.WayKind]bool{}
	for _, p := range b.f.Parts {
		for _, w := range p.Ways {
			can[w.Kind] = true
			noted = noted || w.Kind == procedures.Note
		}
	}
	out := []string{"accepted, where every gate is passed"}
	if noted && !slices.ContainsFunc([]procedures.WayKind{procedures.Reject, procedures.Concede, procedures.Correct}, func(k procedures.WayKind) bool { return can[k] }) {
		return []string{"recorded as found: nothing is judged for acceptance"}
	}
	if can[procedures.Concede] {
		out = append(out, "accepted with concessions, where these are granted")
	}
	return append(out, "rejected, where that is chosen")
}
