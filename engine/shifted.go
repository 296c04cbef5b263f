package engine

import (
	"slices"
	"strconv"
	"strings"

	"waywright/checks/value"
	"waywright/procedures"
)

// shifts reports whether an element of one of the named readings and givens is
// shifted.
func (e *env) shifts(names map[string]bool) bool {
	for key := range e.shift {
		if names[nameIn(key)] {
			return true
		}
	}
	return false
}

// nameIn is the reading or given of the key of a shift.
func nameIn(key string) string {
	id, _, _ := strings.Cut(key, takeMark)
	first, _, _ := strings.Cut(id, ".")
	return first
}

// once returns what is worked out once for a state: a reading or a given with
// nothing shifted.
func (s *State) once(key string, make func() value.Value) value.Value {
	v, ok := s.values[key]
	if !ok {
		v = make()
		put(&s.values, key, v)
	}
	return v
}

// readingIn returns a reading in one round, with those elements moved that are
// shifted.
func (e *env) readingIn(r *procedures.Reading, round []string) value.Value {
	key := address(r.Name, round...)
	switch {
	case e.still():
		return e.traced(key, func(f *env) value.Value { return f.reading(r, round) })
	case e.trace != nil:
		return e.reading(r, round)
	case e.memo == nil:
		return e.moved(r, round, key)
	}
	v, ok := e.memo[key]
	if !ok {
		v = e.moved(r, round, key)
		e.memo[key] = v
	}
	return v
}

func (e *env) moved(r *procedures.Reading, round []string, key string) value.Value {
	v := e.s.asRead(r, round, key)
	for name, d := range e.shift {
		if nameIn(name) != r.Name {
			continue
		}
		id, nth, one := strings.Cut(name, takeMark)
		path, ok := e.s.pathsOf(r, round, key, v)[id]
		if one {
			j, err := strconv.Atoi(nth)
			ok = ok && err == nil
			path = append(slices.Clip(path), j)
		}
		if ok {
			v = move(v, path, d)
		}
	}
	return v
}

// givenIn returns a given, with those elements moved that are shifted.
func (e *env) givenIn(name string) value.Value {
	if e.trace != nil || e.shifts(map[string]bool{name: true}) {
		return e.given(name)
	}
	return e.s.once(name, func() value.Value { return e.s.env().given(name) })
}

// pathsOf tells where the elements of a reading are in its value v.
func (s *State) pathsOf(r *procedures.Reading, round []string, key string, v value.Value) map[string][]int {
	if out, ok := s.paths[key]; ok {
		return out
	}
	out := map[string][]int{}
	places, _ := s.places(r, round)
	for _, p := range places {
		if p.part != going || p.pass != 0 {
			continue
		}
		at, path := v, []int{}
		for _, k := range p.keys[len(round):] {
			i := slices.Index(at.Keys, k)
			if i < 0 {
				break
			}
			path = append(path, i)
			at = at.Elems[i]
		}
		if p.key != "" && p.station < len(at.Elems) {
			path = append(path, p.station)
		}
		out[p.element(r)] = path
	}
	put(&s.paths, key, out)
	return out
}

// move returns v with one of its elements moved by d, or one take of it.
func move(v value.Value, path []int, d float64) value.Value {
	if len(path) == 1 && v.Kind == value.Takes {
		v.Takes = slices.Clone(v.Takes)
		v.Takes[path[0]] += d
		return v
	}
	if len(path) == 0 {
		v.Num += d
		v.Takes = slices.Clone(v.Takes)
		for i := range v.Takes {
			v.Takes[i] += d
		}
		return v
	}
	v.Elems = slices.Clone(v.Elems)
	v.Elems[path[0]] = move(v.Elems[path[0]], path[1:], d)
	return v
}
