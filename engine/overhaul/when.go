package overhaul

import (
	"slices"
	"strings"
	"time"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// applies works out the condition of a task, and notes what it knows and what
// it does not. A task without one applies.
func (h *History) applies(t *procedures.Task, out *Task) value.Value {
	if t.When == nil {
		return value.Value{Kind: value.Truth, Truth: true}
	}
	e := &outside{h: h}
	v := t.When.Eval(e)
	out.Facts = e.facts
	if v.State != value.Present {
		out.Unknown = e.unknown
		if len(out.Unknown) == 0 {
			out.Unknown = []string{"its condition has no answer"}
		}
	}
	return v
}

// span works out a time that stands in a plan.
func span(p *formula.Program) (time.Duration, bool) {
	if p == nil {
		return 0, false
	}
	v := p.Eval(nil)
	return time.Duration(v.Num * float64(time.Second)), v.State == value.Present
}

// outside gives the conditions of tasks what is known of the machine, and what
// was accepted on it.
type outside struct {
	h              *History
	facts, unknown []string
}

// Value implements formula.Env.
func (e *outside) Value(r formula.Ref) value.Value {
	var v value.Value
	var said, miss string
	switch r.Space {
	case formula.Machine:
		v, said = e.machine(r.Name)
		miss = "the machine's entry has no " + strings.NewReplacer(".", " ", "_", " ").Replace(r.Name)
	case formula.Accepted:
		v, said, miss = e.accepted(r.Name)
	default:
		return value.Value{State: value.Missing}
	}
	if v.State != value.Present {
		e.unknown = once(e.unknown, miss)
		return value.Value{State: value.Missing}
	}
	e.facts = once(e.facts, said)
	return v
}

func once(list []string, s string) []string {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

func (e *outside) machine(name string) (v value.Value, said string) {
	said = strings.NewReplacer(".", " ", "_", " ").Replace(name) + " is "
	if n, ok := e.h.machine.Numbers[name]; ok {
		if u, err := quantity.Lookup(n.Unit); err == nil {
			x := n.Value * u.Factor
			return value.Value{Kind: value.Number, Num: x}, said + quantity.Plain(x, u)
		}
	}
	if w, ok := e.h.machine.Text[name]; ok {
		return value.Str(w), said + w
	}
	return value.Value{State: value.Missing}, ""
}

// accepted is a result of the newest accepted, undisturbed run (semantics rule
// 45).
func (e *outside) accepted(name string) (v value.Value, said, miss string) {
	procedure, result, _ := strings.Cut(name, ".")
	run, _, spoilt, ok := e.h.Newest(procedure)
	switch {
	case !ok:
		return value.Value{State: value.Missing}, "", procedure + " is not accepted yet"
	case len(spoilt) > 0 && e.h.History(run.Name):
		return value.Value{State: value.Missing}, "", procedure + " was accepted only before this was begun anew"
	case len(spoilt) > 0:
		return value.Value{State: value.Missing}, "", procedure + " was accepted, and spoilt since"
	}
	for _, r := range run.State.Results() {
		if r.Name == result {
			return r.Value, strings.ReplaceAll(result, "_", " ") + " is " + shown(r), "run " + run.Name + " has no value of it"
		}
	}
	return value.Value{State: value.Missing}, "", "run " + run.Name + " of " + procedure + " has no " + strings.ReplaceAll(result, "_", " ")
}

func shown(r engine.ResultValue) string {
	switch m := r.Value.Mean(); {
	case r.Value.Kind == value.Text:
		return r.Value.Text
	case r.Value.Kind == value.Truth && r.Value.Truth:
		return "true"
	case r.Value.Kind == value.Truth:
		return "false"
	case m.State == value.Present && m.Kind == value.Number && r.Result.Unit != nil:
		return quantity.Plain(m.Num, *r.Result.Unit)
	case m.State == value.Present && m.Kind == value.Number:
		return quantity.Plain(m.Num, quantity.Ratio.Default())
	}
	return "known"
}
