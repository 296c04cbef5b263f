package procedures

import "waywright/procedures/formula"

// Counted tells whether a gate judges only what is counted, chosen or seen: then
// nothing that it judges has an uncertainty, it can never be undecided, and no
// decision rule makes a difference (semantics rule 15).
func (p *Procedure) Counted(g *Gate) bool {
	seen := map[formula.Ref]bool{}
	var exact func(programs ...*formula.Program) bool
	exact = func(programs ...*formula.Program) bool {
		for _, x := range programs {
			if x == nil {
				continue
			}
			for _, ref := range x.Refs() {
				ref.Round = false
				if seen[ref] {
					continue
				}
				seen[ref] = true
				if !p.exactly(ref, exact) {
					return false
				}
			}
		}
		return true
	}
	return exact(g.Of, g.Holds, g.Within, g.AtMost, g.AtLeast)
}

func (p *Procedure) exactly(ref formula.Ref, exact func(...*formula.Program) bool) bool {
	switch ref.Space {
	case formula.Given:
		for _, g := range p.Givens {
			if g.Name == ref.Name {
				return g.With == nil && g.From == nil
			}
		}
	case formula.Reading, formula.Result:
		for _, st := range p.Steps {
			for _, it := range st.Items {
				if it.ItemName() != ref.Name {
					continue
				}
				switch it := it.(type) {
				case *Reading:
					return it.Unit == nil && exact(it.When)
				case *Result:
					return exact(it.Value)
				}
			}
		}
	case formula.Accepted, formula.Machine, formula.Expansion:
		return false
	}
	return true
}
