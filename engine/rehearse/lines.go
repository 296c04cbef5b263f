package rehearse

import (
	"fmt"

	"waywright/checks"
	"waywright/procedures"
	"waywright/procedures/source"
)

// Line is something that begins on a line of the source, and what of it was
// seen.
type Line struct {
	At   source.Range
	What string   // "gate straight", "the way press"
	Seen []string // "pass", "3 times", "true"
	Left []string // what no rehearsal reached
}

// Lines tells line by line, in the order of the procedure, what was seen of its
// steps, conditions, gates, ways on and corrections.
func Lines(p *procedures.Procedure, seen *Seen) []Line {
	var out []Line
	for _, w := range whens(p) {
		l := Line{At: w.At, What: "the condition of " + w.Name}
		for _, holds := range []bool{true, false} {
			w.Holds = holds
			l.saw(seen.branches[w], fmt.Sprint(holds))
		}
		out = append(out, l)
	}
	for _, st := range p.Steps {
		if asks(st) {
			l := Line{At: st.At, What: "step " + st.Name}
			l.saw(seen.steps[st.Name], "worked")
			out = append(out, l)
		}
		for _, it := range st.Items {
			if g, ok := it.(*procedures.Gate); ok {
				out = append(out, seen.gateLines(p, g)...)
			}
		}
	}
	for _, c := range p.Corrections {
		l := Line{At: c.At, What: "correction " + c.Name}
		n := seen.corrections[c.Name]
		l.saw(n > 0, "carried out")
		if n > 0 {
			l.Seen = []string{timesWord(n)}
		}
		out = append(out, l)
	}
	return out
}

func (l *Line) saw(it bool, word string) {
	if it {
		l.Seen = append(l.Seen, word)
	} else {
		l.Left = append(l.Left, word)
	}
}

func (s *Seen) gateLines(p *procedures.Procedure, g *procedures.Gate) []Line {
	l := Line{At: g.At, What: "gate " + g.Name}
	for _, v := range []checks.Verdict{checks.Pass, checks.Fail, checks.Undecided} {
		saw := s.verdicts[verdictOf{g.Name, v}]
		if v == checks.Undecided && !saw && (ruleOf(p, g) == checks.Simple || p.Counted(g)) {
			continue // it is never undecided
		}
		l.saw(saw, v.String())
	}
	out := []Line{l}
	for _, w := range g.IfFailed {
		name, word := "", "reject"
		switch w.Kind {
		case procedures.Note:
			continue // nothing is taken: the run goes on
		case procedures.Correct:
			name, word = w.Correction.Name, w.Correction.Name
		case procedures.Concede:
			word = "concession"
		}
		x := Line{At: w.At, What: "from gate " + g.Name + " the way " + word}
		x.saw(s.ways[wayOf{g.Name, w.Kind, name}], word)
		out = append(out, x)
	}
	return out
}
