package vet

import (
	"fmt"
	"slices"
	"strings"

	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
	"waywright/procedures/source"
)

func gateIn(g *procedures.Gate) string             { return fmt.Sprintf("gate %q", g.Name) }
func stepIn(s *procedures.Step) string             { return fmt.Sprintf("step %q", s.Name) }
func givenIn(g *procedures.Given) string           { return fmt.Sprintf("given %q", g.Name) }
func readingIn(r *procedures.Reading) string       { return fmt.Sprintf("reading %q", r.Name) }
func resultIn(r *procedures.Result) string         { return fmt.Sprintf("result %q", r.Name) }
func correctionIn(c *procedures.Correction) string { return fmt.Sprintf("correction %q", c.Name) }

// maxCount is the most that a count may be where the longest path hangs on
// it.
const maxCount = 1000

// counts refuses counts that nobody would answer, before anything is made
// from them.
func (v *vetting) counts() {
	for _, g := range v.ix.p.Givens {
		if !g.Count || g.Range[1] == nil {
			continue
		}
		w := newWorld(v.ix, map[string]float64{g.Name: 1})
		for _, other := range v.ix.givensOf(g.Range[:]...) {
			w.at[other] = 1
		}
		hi := g.Range[1].Eval(w.env())
		if hi.State == value.Present && hi.Num > maxCount {
			v.say("E113", givenIn(g), g.At, g.Range[1].At(), "A count goes up to %d at most; this one goes to %.0f, and so could the questions.", maxCount, hi.Num)
		}
	}
}

// ways proves that a gate has a way on (semantics rules 18, 30 and 33).
func (v *vetting) ways(g *procedures.Gate) {
	say := func(code string, at source.Range, format string, args ...any) {
		v.say(code, gateIn(g), g.At, at, format, args...)
	}
	n := len(g.IfFailed)
	if n == 0 && !v.whole {
		return // the names in it were wrong
	}
	if n == 0 {
		say("E401", g.At, "if_failed names no way on. Write if_failed = [correction.name, reject]")
		return
	}
	last := g.IfFailed[n-1]
	if last.Kind == procedures.Correct && last.Correction != nil {
		say("E401", last.At, "When %s cannot be taken any more, nothing is left. End the list with reject, or with concession where one may be granted.", last.Correction.Name)
	}
	if i := slices.IndexFunc(g.IfFailed, func(w procedures.Way) bool { return w.Kind == procedures.Note }); i >= 0 {
		if n > 1 {
			say("E401", g.IfFailed[i].At, "What is noted is left as it is found, so no other way is ever taken. Write if_failed = [noted], or take noted out.")
		}
		return
	}
	for _, w := range g.IfFailed[:n-1] {
		if w.Kind != procedures.Correct {
			say("E401", w.At, "What stands after %s is never reached. Put it last; reject may always be chosen besides a concession.", wayWord(w))
			break
		}
	}
	for _, w := range g.IfFailed {
		switch {
		case w.Kind == procedures.Correct && g.Step != nil && len(g.Step.Each) > 0:
			say("E402", w.At, "Step %q is worked once for each %s; a correction would spoil the rounds already worked. Judge in a later step.", g.Step.Name, eachNames(g.Step.Each))
		case w.Kind == procedures.Concede && !v.conceder():
			say("E403", w.At, "No sign-off has concedes = true, so nobody could grant the concession. Write it in the role that may, or end the list with reject.")
		}
	}
}

func wayWord(w procedures.Way) string {
	if w.Kind == procedures.Reject {
		return "reject"
	}
	return "concession"
}

func eachNames(es []*procedures.Each) string {
	var out []string
	for _, e := range es {
		out = append(out, e.Name)
	}
	return strings.Join(out, " and ")
}

func (v *vetting) conceder() bool {
	return slices.ContainsFunc(v.ix.p.Signoffs, func(s *procedures.Signoff) bool { return s.Concedes })
}

// leadsBack proves that after a correction the gate is judged on readings
// taken afresh (semantics rule 28).
func (v *vetting) leadsBack(g *procedures.Gate) {
	fresh := slices.ContainsFunc(v.ix.feeding(g), func(r *procedures.Reading) bool { return r.Step == nil || !r.Step.Lasting })
	if fresh {
		return
	}
	for _, w := range g.IfFailed {
		if w.Kind == procedures.Correct {
			v.say("E405", gateIn(g), g.At, w.At, "Nothing that this gate is decided from is read again after %s: it depends on givens and lasting steps only. Let it depend on a reading, or end the list without a correction.", w.Correction.Name)
			return
		}
	}
}

// corrections proves that the change expected of each depends on its amount.
func (v *vetting) corrections() {
	for _, c := range v.ix.p.Corrections {
		if c.Should == nil || c.Should.By == nil || c.Amount == nil {
			continue
		}
		if !slices.ContainsFunc(c.Should.By.Refs(), func(r formula.Ref) bool { return r.Space == formula.Own && r.Name == "amount" }) {
			v.say("E412", correctionIn(c), c.At, c.Should.By.At(), "by does not use amount, so a large move would be expected to change as much as none. Write it in terms of amount, such as -amount.")
		}
	}
}

// conditions tells of parts that can never be reached, and of gates that the
// file alone decides.
func (v *vetting) conditions() {
	never := func(in string, block source.Range, p *formula.Program) {
		if p == nil {
			return
		}
		if x, ok := p.Static(); ok && x.State == value.Present && !x.Truth {
			v.say("E407", in, block, p.At(), "This is never true, so nothing of it is ever reached. Mend the condition, or take the part out.")
		}
	}
	for _, g := range v.ix.p.Givens {
		never(givenIn(g), g.At, g.When)
	}
	for _, s := range v.ix.p.Steps {
		never(stepIn(s), s.At, s.When)
		for _, item := range s.Items {
			if r, ok := item.(*procedures.Reading); ok {
				never(readingIn(r), r.At, r.When)
			}
		}
	}
	for _, c := range v.ix.p.Corrections {
		never(correctionIn(c), c.At, c.When)
	}
	for _, g := range v.ix.gates {
		if g.Holds == nil {
			continue
		}
		if _, ok := g.Holds.Static(); ok {
			v.say("E410", gateIn(g), g.At, g.Holds.At(), "Nothing that is read or given stands in this condition, so the file alone decides it.")
		}
	}
}

// unused tells of what is read or worked out for nothing.
func (v *vetting) unused() {
	used := func(s formula.Space, name string) bool { return v.ix.used[formula.Ref{Space: s, Name: name}] }
	for _, g := range v.ix.p.Givens {
		if !used(formula.Given, g.Name) {
			v.say("W608", givenIn(g), g.At, g.At, "Nothing uses given.%s. Use it, or do not ask for it.", g.Name)
		}
	}
	for _, s := range v.ix.p.Steps {
		for _, item := range s.Items {
			switch x := item.(type) {
			case *procedures.Reading:
				if !x.File && !x.Text && !used(formula.Reading, x.Name) {
					v.say("E406", readingIn(x), x.At, x.At, "Nothing uses reading.%s. Use it in a result, or take it out. What is only for the record is a text or a file.", x.Name)
				}
			case *procedures.Result:
				if !x.Kept && !used(formula.Result, x.Name) && !v.shouldChange(x) {
					v.say("E406", resultIn(x), x.At, x.At, "Nothing uses result.%s. Judge it in a gate, use it in another result, or take it out. Where the record or another procedure is to have it, write kept = true.", x.Name)
				}
			}
		}
	}
	v.unusedCorrections()
}

func (v *vetting) shouldChange(x *procedures.Result) bool {
	return slices.ContainsFunc(v.ix.p.Corrections, func(c *procedures.Correction) bool { return c.Should != nil && c.Should.Result == x })
}

func (v *vetting) unusedCorrections() {
	named := map[*procedures.Correction]bool{}
	for _, g := range v.ix.gates {
		for _, w := range g.IfFailed {
			named[w.Correction] = true
		}
	}
	for _, c := range v.ix.p.Corrections {
		if !named[c] {
			v.say("E406", correctionIn(c), c.At, c.At, "No gate names correction.%s in its if_failed. Name it there, or take it out.", c.Name)
		}
	}
}

// steps tells of steps with nothing to do.
func (v *vetting) steps() {
	needed := map[*procedures.Step]bool{}
	for _, s := range v.ix.p.Steps {
		for _, n := range s.Needs {
			needed[n] = true
		}
	}
	for _, s := range v.ix.p.Steps {
		if len(s.Items) == 0 && len(s.Do) == 0 && s.HoldPoint == nil && len(s.Cautions) == 0 {
			v.say("E406", stepIn(s), s.At, s.At, "There is nothing to do in this step. Write do, a reading or a gate, or take it out.")
		}
	}
}
