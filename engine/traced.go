package engine

import (
	"waywright/checks/value"
	"waywright/procedures"
)

// traced is a reading or a result together with the elements that it used.
type traced struct {
	v    value.Value
	used leaves
}

// still tells that the facts are taken as they are, nothing moved or supposed:
// then what a reading or a result gave and used once it will give and use again.
func (e *env) still() bool { return len(e.shift) == 0 && e.suppose == nil }

// traced gives a reading or a result by its address, and notes the elements
// that it uses in the order in which working it out would.
func (e *env) traced(id string, make func(*env) value.Value) value.Value {
	t, ok := e.s.traces[id]
	if !ok {
		t = &traced{}
		t.used.known = map[string]leaf{}
		t.v = make(&env{s: e.s, trace: &t.used})
		put(&e.s.traces, id, t)
	}
	if e.trace != nil {
		for _, k := range t.used.order {
			e.trace.add(k, t.used.known[k])
		}
	}
	return t.v
}

// asRead is a reading in one round as it was read.
func (s *State) asRead(r *procedures.Reading, round []string, key string) value.Value {
	return s.env().traced(key, func(f *env) value.Value { return f.reading(r, round) })
}
