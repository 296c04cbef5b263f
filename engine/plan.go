package engine

import (
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// Plan is a procedure prepared for running: its names and what feeds what.
// It is immutable and may be shared by any number of runs.
type Plan struct {
	proc *procedures.Procedure

	givens      map[string]*procedures.Given
	steps       map[string]*procedures.Step
	items       map[string]procedures.Item // of all steps, by name
	stepOf      map[string]*procedures.Step
	corrections map[string]*procedures.Correction
	signoffs    map[string]*procedures.Signoff
	instruments map[string]*procedures.Instrument
	rows        map[string]*procedures.Row // by "table.row"
	words       map[string]bool            // every name that a question may have as its first part

	feeds    map[string][]*procedures.Reading // readings that feed a gate or result, by its name
	standsOn map[string]map[string]bool       // what can change a gate's judgement, see standOn
	resultOn map[string]map[string]bool       // what can change a result
	shaping  map[string]bool                  // what can change which places there are to read
	spoils   map[string][]*procedures.Step    // steps worked again after a correction, by its name

	readWith []*procedures.Instrument // what givens, readings and waits are read with, in the order of the file
	numbers  map[string]string        // of what is asked, on a work sheet; see number
	blocks   map[*procedures.Step][]correctionsAt

	straights map[string]bool               // results that want all that they are worked out from, see straightResults
	forms     map[*formula.Program]formOf   // from the form of the programs that are estimated
	judges    map[string]*procedures.Result // what a gate judges, see judgeResults

	trials int // of results that are found by drawing errors; 0 for the usual number
	solved *solved
	read   *Plan // of an unread plan, the one that it was made from
	unread bool  // nobody reads what is only told beside a question
}

// Unread returns the plan for runs that nobody reads, as rehearsals: what is
// only told beside a question is left out of it, and of a gate whose verdict is
// plain no errors are drawn (see plain).
func (pl *Plan) Unread() *Plan {
	if pl.unread {
		return pl
	}
	out := *pl
	out.unread, out.solved, out.read = true, newSolved(), pl
	return &out
}

// Read returns the plan for runs that somebody reads: of an unread one, that
// which it was made from.
func (pl *Plan) Read() *Plan {
	if pl.unread {
		return pl.read
	}
	return pl
}

// WithTrials returns the plan with another number of trials for results that
// are found by drawing errors: few are enough to rehearse with. 0 stands for
// the usual number.
func (pl *Plan) WithTrials(n int) *Plan {
	out := *pl
	out.trials, out.solved = n, newSolved()
	return &out
}

// NewPlan prepares a procedure, which must have been proofread without errors.
func NewPlan(p *procedures.Procedure) *Plan {
	pl := &Plan{
		proc:        p,
		givens:      map[string]*procedures.Given{},
		steps:       map[string]*procedures.Step{},
		items:       map[string]procedures.Item{},
		stepOf:      map[string]*procedures.Step{},
		corrections: map[string]*procedures.Correction{},
		signoffs:    map[string]*procedures.Signoff{},
		instruments: map[string]*procedures.Instrument{},
		rows:        map[string]*procedures.Row{},
		words:       map[string]bool{},
		feeds:       map[string][]*procedures.Reading{},
		standsOn:    map[string]map[string]bool{},
		resultOn:    map[string]map[string]bool{},
		shaping:     map[string]bool{},
		spoils:      map[string][]*procedures.Step{},
		solved:      newSolved(),
		straights:   map[string]bool{},
		judges:      map[string]*procedures.Result{},
		numbers:     map[string]string{},
	}
	for _, g := range p.Givens {
		pl.givens[g.Name] = g
	}
	for _, i := range p.Instruments {
		pl.instruments[i.Name] = i
	}
	for _, t := range p.Tables {
		for _, r := range t.Rows {
			pl.rows[t.Name+"."+r.Name] = r
		}
	}
	for _, st := range p.Steps {
		pl.steps[st.Name] = st
		for _, it := range st.Items {
			pl.items[it.ItemName()] = it
			pl.stepOf[it.ItemName()] = st
		}
	}
	for _, c := range p.Corrections {
		pl.corrections[c.Name] = c
	}
	for _, s := range p.Signoffs {
		pl.signoffs[s.Name] = s
	}
	for _, st := range p.Steps {
		for _, it := range st.Items {
			switch it := it.(type) {
			case *procedures.Gate:
				pl.feeds[it.Name] = pl.readingsOf(gatePrograms(it)...)
			case *procedures.Result:
				pl.feeds[it.Name] = pl.readingsOf(it.Value)
			}
		}
	}
	pl.standOn()
	pl.know()
	pl.judgeResults()
	pl.straightResults()
	pl.number()
	for _, c := range p.Corrections {
		pl.spoils[c.Name] = pl.spoil(c)
	}
	return pl
}

// Procedure returns the procedure that the plan was made from.
func (pl *Plan) Procedure() *procedures.Procedure { return pl.proc }

func gatePrograms(g *procedures.Gate) []*formula.Program {
	return []*formula.Program{g.Of, g.Within, g.AtMost, g.AtLeast, g.Holds}
}

// readingsOf returns the readings that the programs use, directly or through
// results, in either branch of their conditionals, in the order of the file.
func (pl *Plan) readingsOf(programs ...*formula.Program) []*procedures.Reading {
	seen := map[string]bool{}
	var visit func(p *formula.Program)
	visit = func(p *formula.Program) {
		if p == nil {
			return
		}
		for _, r := range p.Refs() {
			if seen[r.Name] {
				continue
			}
			switch r.Space {
			case formula.Reading:
				seen[r.Name] = true
			case formula.Result:
				seen[r.Name] = true
				if res, ok := pl.items[r.Name].(*procedures.Result); ok {
					visit(res.Value)
				}
			}
		}
	}
	for _, p := range programs {
		visit(p)
	}
	var out []*procedures.Reading
	for _, st := range pl.proc.Steps {
		for _, it := range st.Items {
			if r, ok := it.(*procedures.Reading); ok && seen[r.Name] {
				out = append(out, r)
			}
		}
	}
	return out
}

// gates returns every gate, in the order of the file.
func (pl *Plan) gates() []*procedures.Gate {
	var out []*procedures.Gate
	for _, st := range pl.proc.Steps {
		for _, it := range st.Items {
			if g, ok := it.(*procedures.Gate); ok {
				out = append(out, g)
			}
		}
	}
	return out
}

// serves returns the gates that name c as a way on.
func (pl *Plan) serves(c *procedures.Correction) []*procedures.Gate {
	var out []*procedures.Gate
	for _, g := range pl.gates() {
		for _, w := range g.IfFailed {
			if w.Correction == c {
				out = append(out, g)
				break
			}
		}
	}
	return out
}

// SpoiltBy returns the steps that are worked again after c was reported, by
// semantics rule 28: those of every reading that feeds a gate which c serves
// or disturbs, and the steps these need; lasting steps are spared.
func (pl *Plan) SpoiltBy(c *procedures.Correction) []*procedures.Step { return pl.spoils[c.Name] }

func (pl *Plan) spoil(c *procedures.Correction) []*procedures.Step {
	gates := pl.serves(c)
	for _, t := range c.Disturbs {
		if t.Gate != nil {
			gates = append(gates, t.Gate)
		}
	}
	hit := map[*procedures.Step]bool{}
	for _, g := range gates {
		for _, r := range pl.feeds[g.Name] {
			pl.withNeeds(r.Step, hit)
		}
	}
	return pl.inOrder(hit)
}

func (pl *Plan) withNeeds(st *procedures.Step, hit map[*procedures.Step]bool) {
	if hit[st] || st.Lasting {
		return
	}
	hit[st] = true
	for _, n := range st.Needs {
		pl.withNeeds(n, hit)
	}
}

func (pl *Plan) inOrder(hit map[*procedures.Step]bool) []*procedures.Step {
	var out []*procedures.Step
	for _, st := range pl.proc.Steps {
		if hit[st] {
			out = append(out, st)
		}
	}
	return out
}

// needs reports whether st needs other, at any depth.
func needs(st, other *procedures.Step) bool {
	for _, n := range st.Needs {
		if n == other || needs(n, other) {
			return true
		}
	}
	return false
}

// base returns the type of one element: what remains when keys, stations and
// takes are peeled off.
func base(t value.Type) value.Type {
	for t.Elem != nil {
		t = *t.Elem
	}
	return t
}

// inputs lists what programs stand on, at any depth, in the order of the file.
func (pl *Plan) inputs(programs ...*formula.Program) (readings, givens, results []string) {
	seen := map[string]bool{}
	var visit func(p *formula.Program)
	visit = func(p *formula.Program) {
		if p == nil {
			return
		}
		for _, r := range p.Refs() {
			key := r.Space.String() + "." + r.Name
			if seen[key] {
				continue
			}
			seen[key] = true
			switch it := pl.items[r.Name].(type) {
			case *procedures.Result:
				if r.Space == formula.Result {
					visit(it.Value)
				}
			}
		}
	}
	for _, p := range programs {
		visit(p)
	}
	for _, g := range pl.proc.Givens {
		if seen["given."+g.Name] {
			givens = append(givens, g.Name)
		}
	}
	for _, st := range pl.proc.Steps {
		for _, it := range st.Items {
			switch {
			case seen["reading."+it.ItemName()]:
				readings = append(readings, it.ItemName())
			case seen["result."+it.ItemName()]:
				results = append(results, it.ItemName())
			}
		}
	}
	return readings, givens, results
}
