package rehearse

import (
	"fmt"
	"strings"

	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/source"
)

// Typed is one answer of a rehearsal, with the places that it comes from.
type Typed struct {
	N        int // which answer, from 1
	Question string
	Text     string
	Refused  string       // why it was not taken, in a word of the engine; "" where it was
	From     source.Range // in the rehearsal, or of the rehearsal where nothing is stated for it
	Asked    source.Range // in the procedure; the zero Range where that does not ask it
}

// mostTrail is how many answers before a failure are told.
const mostTrail = 6

// trail keeps the last answers.
type trail struct {
	last [mostTrail]Typed
	n    int // of all
}

func (t *trail) add(a Typed) {
	t.last[t.n%mostTrail] = a
	t.n++
}

// list returns the last answers in their order, with their places.
func (p *play) list() []Typed {
	var out []Typed
	for i := max(0, p.trail.n-mostTrail); i < p.trail.n; i++ {
		a := p.trail.last[i%mostTrail]
		a.From, a.Asked = p.stated(a.Question), asking(p.plan.Procedure(), a.Question)
		out = append(out, a)
	}
	return out
}

// stated is where the rehearsal answers a question, or where it stands.
func (p *play) stated(question string) source.Range {
	name, _, _ := strings.Cut(question, ".")
	for _, a := range p.r.Answer {
		if a.Name == name {
			return a.At
		}
	}
	for _, re := range p.r.Reacts {
		if re.Correction.Name == name {
			return re.At
		}
	}
	return p.r.At
}

// asking is where a procedure asks a question.
func asking(p *procedures.Procedure, question string) source.Range {
	name, rest, _ := strings.Cut(question, ".")
	for _, g := range p.Givens {
		if g.Name == name {
			return g.At
		}
	}
	for _, x := range p.Instruments {
		if name == "instrument" && x.Name == rest {
			return x.At
		}
	}
	for _, st := range p.Steps {
		if st.Name == name {
			return st.At
		}
		for _, it := range st.Items {
			if it.ItemName() == name {
				return placeOf(it)
			}
		}
	}
	for _, c := range p.Corrections {
		switch {
		case c.Name != name:
		case rest == "moved" && c.Moved != nil:
			return c.Moved.At
		default:
			return c.At
		}
	}
	for _, s := range p.Signoffs {
		if s.Name == name {
			return s.At
		}
	}
	return source.Range{}
}

func placeOf(it procedures.Item) source.Range {
	switch it := it.(type) {
	case *procedures.Confirm:
		return it.At
	case *procedures.Wait:
		return it.At
	case *procedures.Reading:
		return it.At
	case *procedures.Result:
		return it.At
	case *procedures.Gate:
		return it.At
	}
	return source.Range{}
}

// made lists the mistakes on purpose, and whether each came about.
func (p *play) made() []string {
	var out []string
	for i := range p.mistakes {
		x := &p.mistakes[i]
		of, n := "", 0
		if x.Correction != nil {
			of, n = x.Correction.Name, p.rounds[x.Correction.Name]
		} else {
			of, n = x.Reading.Name, p.s.WorkingOf(x.Reading.Step)
		}
		text := fmt.Sprintf("%s at %s, number %d", x.Kind, of, x.Nth)
		if n < x.Nth {
			text += ": it never came to that"
		}
		out = append(out, text)
	}
	return out
}

// reported lists how often each correction was, in the order of the file.
func (p *play) reported() []string {
	var out []string
	for _, c := range p.plan.Procedure().Corrections {
		if n := p.rounds[c.Name]; n > 0 {
			out = append(out, c.Name+" "+timesWord(n))
		}
	}
	return out
}

// read returns the gates as a run that is read judges them: with the doubt of
// each, which a rehearsal leaves out where the verdict does not hang on it.
func (p *play) read() []engine.Judgement {
	s, err := engine.Fold(p.plan.Read(), p.s.Events())
	if err != nil {
		s = p.s // it was folded before: this cannot be
	}
	return s.Judgements()
}
