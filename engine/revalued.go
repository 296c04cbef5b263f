package engine

import (
	"slices"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
)

// Revalued returns the run as it would be had it taken other values over: each
// answer that was taken from an accepted run is worked out anew from those that
// have its names. The readings are what they are. It is for asking what would
// come of it; nothing is kept.
func (s *State) Revalued(now ...AcceptedValue) *State {
	t := s.clone()
	t.begun.Accepted = slices.Clone(s.begun.Accepted)
	origins := map[string]bool{}
	for i, a := range t.begun.Accepted {
		k := slices.IndexFunc(now, func(b AcceptedValue) bool { return b.Name == a.Name })
		if k < 0 {
			continue
		}
		origins[a.origin()] = true
		t.begun.Accepted[i] = now[k]
	}
	for _, taken := range s.Taken() { // from a run that it no longer knows as the last one
		origins[taken.origin()] = true
	}
	for _, g := range t.plan.proc.Givens {
		if g.From == nil {
			continue
		}
		combos, _ := t.combos(g.Each, t.env())
		for _, keys := range combos {
			t.revalue(g, address(g.Name, keys...), t.env().bindAll(g.Each, keys), origins)
		}
	}
	t.forget()
	return t
}

// revalue gives a given that was taken over what it comes to now.
func (s *State) revalue(g *procedures.Given, id string, e *env, origins map[string]bool) {
	f := s.facts[id]
	if f == nil || len(f.takes) == 0 || g.Unit == nil || !origins[f.takes[len(f.takes)-1].from] {
		return
	}
	v := g.From.Eval(e)
	if v.State != value.Present || v.Kind != value.Number && v.Kind != value.Takes {
		return
	}
	var o Offer
	s.fromAccepted(&o, g.From)
	f = s.edit(id)
	take := &f.takes[len(f.takes)-1]
	num := v.Mean().Num
	if take.number(Taken{Typed: quantity.Plain(num, *g.Unit), Value: g.Unit.Of(num), Unit: g.Unit.Name}) == nil {
		take.from, take.u, take.dof = o.From, o.U, o.DoF
	}
}
