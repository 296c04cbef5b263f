package rehearse

import (
	"waywright/engine"
	"waywright/procedures"
)

// Played plays one seed and returns the run as well.
func Played(plan *engine.Plan, r *procedures.Rehearsal, seed int) (*engine.State, Ended) {
	p := newPlay(plan, r, seed)
	e := p.toItsEnd()
	return p.s, e
}

// Decimal is how a number is typed.
var Decimal = decimal

// Tool draws an instrument.
var Tool = newTool

// Indication is the error of an instrument at a place of its scale.
func (t *tool) Indication(x float64) float64 { return t.indication(x) }

// Scatter is the standard deviation of one take.
func (t *tool) Scatter() float64 { return t.scatter }

// OnPaper plays one seed as if it had been written on a work sheet first, and
// returns the questions as well.
func OnPaper(plan *engine.Plan, r *procedures.Rehearsal, seed int) (*engine.State, []engine.Question, Ended) {
	p := newPlay(plan, r, seed)
	p.paper = true
	var asked []engine.Question
	p.asked = func(q engine.Question) { asked = append(asked, q) }
	e := p.toItsEnd()
	return p.s, asked, e
}
