// Package vet proves what it can of a whole procedure before it is run: that
// every gate has a way on, that corrections lead back to fresh readings, that
// limits stand the right way round for all allowed givens, that nothing is
// left unused, and how long it can take at most. It warns of what a careful
// author would look at again.
//
// It works on the model. What one place of the file alone can show has been
// told when the file was read.
package vet

import (
	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/source"
)

// Findings is what was found.
type Findings struct {
	Diagnostics diagnose.List
	Prompts     int    // on the longest path (semantics rule 51)
	Zones       []Zone // of the gates with limits, as written
}

// Procedure proves a procedure. The model must have been read without errors.
func Procedure(p *procedures.Procedure) Findings {
	v := &vetting{ix: newIndex(p), whole: true, bad: map[*procedures.Gate]bool{}}
	if v.counts(); v.out.Diagnostics.HasErrors() {
		return v.out // with counts beyond bounds nothing can be worked out
	}
	v.parts()
	for _, g := range v.ix.gates {
		v.leadsBack(g)
	}
	v.corrections()
	v.unused()
	v.steps()
	v.instruments()
	v.ix.machineBudget = machineBudget
	v.zones()
	v.out.Prompts = v.ix.longest()
	v.out.Diagnostics = v.out.Diagnostics.Sorted()
	return v.out
}

// Part proves what can be proved of a model that was read with errors: the
// rules that each gate, condition and text keeps by itself. What needs the
// whole, such as whether a reading is used, would be told wrongly.
func Part(p *procedures.Procedure) diagnose.List {
	v := &vetting{ix: newIndex(p), bad: map[*procedures.Gate]bool{}}
	if v.counts(); !v.out.Diagnostics.HasErrors() {
		v.parts()
	}
	return v.out.Diagnostics.Sorted()
}

func (v *vetting) parts() {
	v.conditions()
	v.keys()
	v.ranges()
	for _, g := range v.ix.gates {
		v.ways(g)
		v.limits(g)
		v.gateWarnings(g)
	}
	v.questions()
}

type vetting struct {
	ix    *index
	whole bool                      // the model has no errors
	bad   map[*procedures.Gate]bool // gates whose limits are wrong
	out   Findings
}

// say adds a diagnostic about a place in a block.
func (v *vetting) say(code, in string, block, at source.Range, format string, args ...any) {
	d := diagnose.New(code, at, format, args...).Within(in, diagnose.Over(block, at))
	v.out.Diagnostics = append(v.out.Diagnostics, d)
}
