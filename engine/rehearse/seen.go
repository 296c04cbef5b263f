package rehearse

import (
	"fmt"
	"maps"
	"slices"

	"waywright/checks"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/source"
)

// Seen is what runs went through: verdicts of gates, ways taken, corrections
// reported, conditions that held and did not.
type Seen struct {
	verdicts    map[verdictOf]bool
	ways        map[wayOf]bool
	corrections map[string]int
	branches    map[engine.Branch]bool
	steps       map[string]bool
}

type verdictOf struct {
	gate    string
	verdict checks.Verdict
}

type wayOf struct {
	gate string
	kind procedures.WayKind
	name string // of the correction
}

// NewSeen returns what no run went through yet.
func NewSeen() *Seen {
	return &Seen{map[verdictOf]bool{}, map[wayOf]bool{}, map[string]int{}, map[engine.Branch]bool{}, map[string]bool{}}
}

// Add takes over what another run went through.
func (s *Seen) Add(o *Seen) {
	maps.Copy(s.verdicts, o.verdicts)
	maps.Copy(s.ways, o.ways)
	maps.Copy(s.branches, o.branches)
	maps.Copy(s.steps, o.steps)
	for name, n := range o.corrections {
		s.corrections[name] += n
	}
}

func (s *Seen) asked(q engine.Question) {
	if q.Step.Name != "" {
		s.steps[q.Step.Name] = true
	}
}

func (s *Seen) judged(j *engine.Judgement) { s.verdicts[verdictOf{j.Gate.Name, j.Verdict}] = true }

func (s *Seen) corrected(name string) { s.corrections[name]++ }

func (s *Seen) took(gate string, w engine.Offered) {
	kinds := map[engine.WayKind]procedures.WayKind{engine.WayCorrection: procedures.Correct, engine.WayConcession: procedures.Concede, engine.WayReject: procedures.Reject}
	if k, ok := kinds[w.Kind]; ok {
		name := ""
		if k == procedures.Correct {
			name = w.Name
		}
		s.ways[wayOf{gate, k, name}] = true
	}
}

// stands looks at the conditions as they stand.
func (s *Seen) stands(st *engine.State) {
	for _, b := range st.Branches() {
		s.branches[b] = true
	}
}

// Coverage is what all rehearsals of a procedure went through, and what none
// did.
type Coverage struct {
	Gates       []GateSeen
	Corrections []CorrectionSeen
	Branches    []BranchSeen
	Missing     []Missing
}

// GateSeen says which verdicts of a gate were seen.
type GateSeen struct {
	Name                  string
	Pass, Fail, Undecided bool
}

// CorrectionSeen says how often a correction was reported.
type CorrectionSeen struct {
	Name string
	N    int
}

// BranchSeen says how a condition was seen.
type BranchSeen struct {
	Name        string // of the given, step, reading or correction
	True, False bool
	At          source.Range
}

// Missing is something that no rehearsal reached.
type Missing struct {
	What string // in words: "gate cylindrical was never seen to fail"
	At   source.Range
}

// Cover holds what was seen against what there is in a procedure.
func Cover(p *procedures.Procedure, seen *Seen) Coverage {
	var c Coverage
	miss := func(at source.Range, format string, args ...any) {
		c.Missing = append(c.Missing, Missing{fmt.Sprintf(format, args...), at})
	}
	for _, st := range p.Steps {
		if !seen.steps[st.Name] && asks(st) {
			miss(st.At, "step %s was never worked", st.Name)
		}
		for _, it := range st.Items {
			if g, ok := it.(*procedures.Gate); ok {
				c.gate(p, g, seen, miss)
			}
		}
	}
	for _, x := range p.Corrections {
		c.Corrections = append(c.Corrections, CorrectionSeen{x.Name, seen.corrections[x.Name]})
		if seen.corrections[x.Name] == 0 {
			miss(x.At, "correction %s was never carried out", x.Name)
		}
	}
	c.conditions(p, seen, miss)
	return c
}

func asks(st *procedures.Step) bool {
	return len(st.Do) > 0 || slices.ContainsFunc(st.Items, func(it procedures.Item) bool {
		switch it.(type) {
		case *procedures.Confirm, *procedures.Wait, *procedures.Reading:
			return true
		}
		return false
	})
}

func (c *Coverage) gate(p *procedures.Procedure, g *procedures.Gate, seen *Seen, miss func(source.Range, string, ...any)) {
	saw := func(v checks.Verdict) bool { return seen.verdicts[verdictOf{g.Name, v}] }
	x := GateSeen{g.Name, saw(checks.Pass), saw(checks.Fail), saw(checks.Undecided)}
	c.Gates = append(c.Gates, x)
	if !x.Pass {
		miss(g.At, "gate %s was never seen to pass", g.Name)
	}
	if !x.Fail {
		miss(g.At, "gate %s was never seen to fail", g.Name)
	}
	if !x.Undecided && ruleOf(p, g) != checks.Simple && !p.Counted(g) {
		miss(g.At, "gate %s was never seen undecided", g.Name)
	}
	for _, w := range g.IfFailed {
		name := ""
		word := "reject"
		switch w.Kind {
		case procedures.Note:
			continue // nothing is taken: the run goes on
		case procedures.Correct:
			name, word = w.Correction.Name, w.Correction.Name
		case procedures.Concede:
			word = "concession"
		}
		if !seen.ways[wayOf{g.Name, w.Kind, name}] {
			miss(w.At, "from gate %s the way %s was never taken", g.Name, word)
		}
	}
}

// ruleOf is the decision rule of a gate.
func ruleOf(p *procedures.Procedure, g *procedures.Gate) checks.Rule {
	switch {
	case g.Decision != checks.NoRule:
		return g.Decision
	case p.Decision != checks.NoRule:
		return p.Decision
	}
	return checks.Guarded
}

func (c *Coverage) conditions(p *procedures.Procedure, seen *Seen, miss func(source.Range, string, ...any)) {
	for _, w := range whens(p) {
		x := BranchSeen{Name: w.Name, At: w.At}
		w.Holds = true
		x.True = seen.branches[w]
		w.Holds = false
		x.False = seen.branches[w]
		c.Branches = append(c.Branches, x)
		for _, b := range []struct {
			saw  bool
			word string
		}{{x.True, "true"}, {x.False, "false"}} {
			if !b.saw {
				miss(w.At, "the condition of %s was never %s", w.Name, b.word)
			}
		}
	}
}

// whens lists the conditions of a procedure.
func whens(p *procedures.Procedure) []engine.Branch {
	var out []engine.Branch
	for _, g := range p.Givens {
		if g.When != nil {
			out = append(out, engine.Branch{Name: g.Name, At: g.When.At()})
		}
	}
	for _, st := range p.Steps {
		if st.When != nil {
			out = append(out, engine.Branch{Name: st.Name, At: st.When.At()})
		}
		for _, it := range st.Items {
			if r, ok := it.(*procedures.Reading); ok && r.When != nil {
				out = append(out, engine.Branch{Name: r.Name, At: r.When.At()})
			}
		}
	}
	for _, x := range p.Corrections {
		if x.When != nil {
			out = append(out, engine.Branch{Name: x.Name, At: x.When.At()})
		}
	}
	return out
}
