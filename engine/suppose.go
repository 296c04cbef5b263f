package engine

import (
	"maps"

	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
	"waywright/procedures/source"
)

// Value returns a fact of the run, or what is worked out from its facts, as
// formulas outside the steps see it.
func (s *State) Value(r formula.Ref) value.Value { return s.env().Value(r) }

// WorkingOf returns which working of a step this is, from 1.
func (s *State) WorkingOf(st *procedures.Step) int { return s.work[st.Name] + 1 }

// PlaceRead is one place of a reading: keys of the step's round and its own, and
// the station (mm) or angle (rad) of a row.
type PlaceRead struct {
	Reading *procedures.Reading
	Keys    []string
	At      float64
	Row     bool // there are stations or angles
}

// Supposed is the facts of a run as they would be if every place read as told,
// without doubt: what a machine whose state is known would show. Givens and
// words that were answered stand as they are. It is for one goroutine, as the
// State is.
type Supposed struct {
	e *env
	s *State
}

// Suppose returns the facts with readings as read tells them.
func (s *State) Suppose(read func(PlaceRead) value.Value) *Supposed {
	e := &env{s: s, memo: map[string]value.Value{}}
	e.suppose = func(r *procedures.Reading, p place) value.Value {
		return read(PlaceRead{r, p.keys, p.at, p.key != ""})
	}
	return &Supposed{e, s}
}

// Value implements [formula.Env].
func (x *Supposed) Value(r formula.Ref) value.Value { return x.e.Value(r) }

// Sound is whether a gate holds as supposed, where that can be told.
type Sound struct {
	Gate  *procedures.Gate
	Round []string
	Holds bool
	Known bool   // else nothing can be told, or the gate does not apply
	Why   string // where not known
}

// Gates holds every gate against its limits, without any doubt.
func (x *Supposed) Gates() []Sound {
	var out []Sound
	for _, g := range x.s.plan.gates() {
		for _, round := range x.s.rounds(g.Step) {
			out = append(out, x.gate(g, round))
		}
	}
	return out
}

func (x *Supposed) gate(g *procedures.Gate, round []string) Sound {
	e := x.e.in(g.Step, round)
	out := Sound{Gate: g, Round: round}
	if v, ok := e.applies(g.Step); !ok {
		out.Why = v.Why
		return out
	}
	if g.Holds != nil {
		v := g.Holds.Eval(e)
		out.Holds, out.Known, out.Why = v.Truth, v.State == value.Present, v.Why
		return out
	}
	of, lo, hi, st, why := sides(g, e)
	if st != value.Present {
		out.Why = why
		return out
	}
	out.Holds = true
	for _, n := range of {
		if n.state != value.Present {
			out.Why = n.why
			continue
		}
		out.Known = true
		out.Holds = out.Holds && lo <= n.y && n.y <= hi
	}
	return out
}

// Effects tells of the step from one state to the next only what corrections
// did and which sets became void: of [Notices] what a rehearsal listens to.
func Effects(before, after *State) []Notice {
	return append(voided(before.voids, after), answered(before, after)...)
}

// Advance is [State.With] for a state that nobody needs any more as it was: the
// receiver itself goes on, which spares copying it. It tells the [Effects].
// After an error the state is of no use.
func (s *State) Advance(events ...Event) ([]Notice, error) {
	voids, told := maps.Clone(s.voids), s.toldSoFar()
	for _, ev := range events {
		if w, ok := ev.Data.(Withdrawn); ok {
			t, err := s.without(ev, w)
			if err != nil {
				return nil, err
			}
			*s = *t
			continue
		}
		if err := s.apply(ev); err != nil {
			return nil, err
		}
	}
	return append(voided(voids, s), toldSince(told, s)...), nil
}

// Branch is a condition of the procedure and how it stands.
type Branch struct {
	Name  string // of the given, step, reading or correction
	Holds bool
	At    source.Range
}

// Branches returns the conditions of givens, steps, readings and corrections
// that can be told as the run stands, one for each key.
func (s *State) Branches() []Branch {
	var out []Branch
	tell := func(name string, when *formula.Program, e *env) {
		if when == nil {
			return
		}
		if v := when.Eval(e); v.State == value.Present {
			out = append(out, Branch{name, v.Truth, when.At()})
		}
	}
	for _, g := range s.plan.proc.Givens {
		if g.When == nil {
			continue
		}
		combos, _ := s.combos(g.Each, s.env())
		for _, keys := range combos {
			tell(g.Name, g.When, s.env().bindAll(g.Each, keys))
		}
	}
	for _, st := range s.plan.proc.Steps {
		for _, round := range s.rounds(st) {
			e := s.env().in(st, round)
			tell(st.Name, st.When, e)
			for _, it := range st.Items {
				r, ok := it.(*procedures.Reading)
				if !ok || r.When == nil {
					continue
				}
				combos, _ := s.combos(r.Each, e)
				for _, keys := range combos {
					tell(r.Name, r.When, e.bindAll(r.Each, keys))
				}
			}
		}
	}
	for _, c := range s.plan.proc.Corrections {
		tell(c.Name, c.When, s.env())
	}
	return out
}
