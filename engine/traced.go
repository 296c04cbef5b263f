package engine

import "waywright/checks/value"

// traced is a reading or a result together with the elements that it used.
type traced struct {
	v    value.Value
	used leaves
}

// tracing tells that elements are noted and nothing is moved, so that what a
// reading or a result used once it will use again.
func (e *env) tracing() bool { return e.trace != nil && len(e.shift) == 0 && e.suppose == nil }

// traced gives a reading or a result by its address, and notes the elements
// that it uses in the order in which working it out would.
func (e *env) traced(id string, make func(*env) value.Value) value.Value {
	t, ok := e.s.traces[id]
	if !ok {
		t = &traced{}
		t.used.known = map[string]leaf{}
		t.v = make(&env{s: e.s, trace: &t.used})
		e.s.traces[id] = t
	}
	for _, k := range t.used.order {
		e.trace.add(k, t.used.known[k])
	}
	return t.v
}
