package rehearse

import (
	"math"
	"strconv"
	"strings"

	"waywright/checks/montecarlo"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// model is the machine of one run: its hidden state, and what it answers.
type model struct {
	proc    *procedures.Procedure
	r       *procedures.Rehearsal
	rng     *montecarlo.Stream
	answers map[string]*formula.Program
	noises  map[string]*formula.Program

	hidden map[string]value.Value
	drawn  map[string]value.Value // the same, as it was at the start
	shop   *shop                  // instruments with errors of their own; nil in a plain rehearsal
}

func newModel(proc *procedures.Procedure, r *procedures.Rehearsal, rng *montecarlo.Stream) *model {
	m := &model{proc: proc, r: r, rng: rng, hidden: map[string]value.Value{}, drawn: map[string]value.Value{},
		answers: map[string]*formula.Program{}, noises: map[string]*formula.Program{}}
	for _, a := range r.Answer {
		m.answers[a.Name] = a.Value
	}
	for _, a := range r.Noise {
		m.noises[a.Name] = a.Value
	}
	return m
}

// scene gives the formulas of a rehearsal what they may use: the hidden state,
// the keys of the question, the words of a correction, and the facts.
type scene struct {
	m     *model
	facts formula.Env
	each  map[string]value.Value
	own   map[string]value.Value
}

// Value implements formula.Env.
func (e *scene) Value(r formula.Ref) value.Value {
	from := e.each
	switch r.Space {
	case formula.Hidden:
		return e.m.state(r.Name, e.facts)
	case formula.Own:
		from = e.own
	case formula.Each:
	default:
		return e.facts.Value(r)
	}
	if v, ok := from[r.Name]; ok {
		return v
	}
	return value.Value{State: value.Missing}
}

// state returns a hidden state. It is worked out when it is first used, for it
// may hang on a given.
func (m *model) state(name string, facts formula.Env) value.Value {
	if v, ok := m.hidden[name]; ok {
		return v
	}
	for _, a := range m.r.Hidden {
		if a.Name != name {
			continue
		}
		v := a.Value.Eval(&scene{m: m, facts: facts})
		if v.State == value.Present {
			v = m.spreadOut(name, v, facts)
			m.hidden[name], m.drawn[name] = v, v
		}
		return v
	}
	return value.Value{State: value.Missing}
}

// start works out every state that can be, so that what is drawn of one does
// not hang on the order of the questions.
func (m *model) start(facts formula.Env) {
	for _, a := range m.r.Hidden {
		m.state(a.Name, facts)
	}
}

// question is what is asked, with its keys.
type question struct {
	name string // of the given, reading, confirm or wait
	each map[string]value.Value
}

// asked reads the keys of an engine's question.
func (m *model) asked(q engine.Question) question {
	parts := strings.Split(q.Name, ".")
	out := question{name: parts[0], each: map[string]value.Value{}}
	keys := parts[1:]
	for _, g := range m.proc.Givens {
		if g.Name == out.name {
			bind(out.each, g.Each, keys)
			return out
		}
	}
	for _, st := range m.proc.Steps {
		for _, it := range st.Items {
			if it.ItemName() != out.name {
				continue
			}
			if r, ok := it.(*procedures.Reading); ok {
				m.place(out.each, r, q.Keys, q.Where, max(q.Take, 1))
				return out
			}
			bind(out.each, st.Each, keys)
			if q.Wait != nil {
				out.each["take"] = value.Num(float64(len(q.Wait.Last) + 1))
			}
			return out
		}
	}
	return out
}

// place binds what a place of a reading is known by (semantics rule 19).
func (m *model) place(each map[string]value.Value, r *procedures.Reading, keys []string, at float64, take int) {
	n := min(len(r.Step.Each), len(keys))
	bind(each, r.Step.Each, keys[:n])
	bind(each, r.Each, keys[n:])
	if r.Along != nil {
		each["station"] = value.Num(at)
	}
	if r.Around != nil {
		each["angle"] = value.Num(at)
	}
	if r.Repeat > 1 {
		each["take"] = value.Num(float64(take))
	}
}

func bind(each map[string]value.Value, of []*procedures.Each, keys []string) {
	for i, e := range of {
		if i >= len(keys) {
			return
		}
		each[e.Name] = keyValue(e, keys[i])
	}
}

// honest is what is truly to be answered, without noise.
func (m *model) honest(q question, facts formula.Env) value.Value {
	p := m.answers[q.name]
	if p == nil {
		return value.Value{State: value.Missing}
	}
	return p.Eval(&scene{m: m, facts: facts, each: q.each})
}

// noise is the standard deviation of one take; 0 where none is stated.
func (m *model) noise(q question, facts formula.Env) float64 {
	p := m.noises[q.name]
	if p == nil {
		return 0
	}
	v := p.Eval(&scene{m: m, facts: facts, each: q.each}).Mean()
	if v.State != value.Present {
		return 0
	}
	return math.Abs(v.Num)
}

// react lets a correction change the state: what truly moved first, then every
// state from those before.
func (m *model) react(re *procedures.Reacts, facts formula.Env, amount, moved value.Value, attempt int) {
	e := &scene{m: m, facts: facts, own: map[string]value.Value{"amount": amount, "moved": moved, "attempt": value.Num(float64(attempt))}}
	after := map[string]value.Value{}
	for _, a := range re.Hidden {
		if v := a.Value.Eval(e); v.State == value.Present {
			after[a.Name] = v
		}
	}
	for name, v := range after {
		m.hidden[name] = v
	}
}

// reacts returns what is said of a correction, or nil.
func (m *model) reacts(c *procedures.Correction) *procedures.Reacts {
	for i := range m.r.Reacts {
		if m.r.Reacts[i].Correction == c {
			return &m.r.Reacts[i]
		}
	}
	return nil
}

// truth is the run as it would be if every place were read without error, the
// hidden state being what it is now.
func (m *model) truth(s *engine.State) *engine.Supposed {
	var x *engine.Supposed
	asking := map[string]bool{} // readings that are being worked out
	x = s.Suppose(func(p engine.PlaceRead) value.Value {
		q := question{name: p.Reading.Name, each: map[string]value.Value{}}
		m.place(q.each, p.Reading, p.Keys, p.At, 1)
		if asking[q.name] {
			return value.Value{State: value.Missing} // its answer hangs on itself
		}
		asking[q.name] = true
		defer delete(asking, q.name)
		v := m.honest(q, x)
		if v.State == value.Present && v.Kind == value.Number && p.Reading.Repeat > 1 {
			t := value.Value{Kind: value.Takes}
			for range p.Reading.Repeat {
				t.Takes = append(t.Takes, v.Num)
			}
			return t
		}
		return v
	})
	return x
}

// keyValue is the value of each.NAME for a key.
func keyValue(e *procedures.Each, key string) value.Value {
	if e.Key.Count {
		if n, err := strconv.ParseFloat(key, 64); err == nil {
			return value.Num(n)
		}
	}
	return value.Value{Kind: value.Text, Text: key}
}
