package value

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waywright/checks/stat"
)

// Worst returns the greatest state of v and its elements, at any depth, and
// the reason that goes with it. The parts of an object are each looked at when
// they are taken out of it.
func (v Value) Worst() (State, string) {
	s, why := v.State, v.Why
	if s != Present || v.Kind == Object {
		return s, why
	}
	for _, e := range v.Elems {
		if es, ew := e.Worst(); es > s {
			s, why = es, ew
		}
	}
	return s, why
}

// Blocked tells whether a result that needs every one of vs is not present,
// and returns what stands in its place: the greatest of their states with its
// reason (semantics rule 11).
func Blocked(vs ...Value) (Value, bool) {
	out := Value{}
	for _, v := range vs {
		if s, why := v.Worst(); s > out.State {
			out.State, out.Why = s, why
		}
	}
	return out, out.State != Present
}

// Mean lets takes stand for their mean, inside collections too (semantics
// rule 7). Other values are returned as they are. Of no takes at all the mean
// is absent.
func (v Value) Mean() Value {
	switch {
	case v.State != Present:
		return v
	case v.Kind == Takes:
		if len(v.Takes) == 0 {
			return AbsentFor("there are no takes")
		}
		m := stat.Mean(v.Takes)
		if math.IsNaN(m) || math.IsInf(m, 0) {
			return AbsentFor("the takes are too large for a mean")
		}
		return Num(m)
	case v.hasTakes():
		elems := make([]Value, len(v.Elems))
		for i, e := range v.Elems {
			elems[i] = e.Mean()
		}
		v.Elems = elems
	}
	return v
}

// hasTakes tells whether an element of v, at any depth, is takes.
func (v Value) hasTakes() bool {
	for i := range v.Elems {
		if v.Elems[i].Kind == Takes || v.Elems[i].hasTakes() {
			return true
		}
	}
	return false
}

// Index returns the element with that key. It is absent where no key is so
// called.
func (v Value) Index(key string) Value {
	if v.State != Present {
		return v
	}
	if i := slices.Index(v.Keys, key); i >= 0 {
		return v.Elems[i]
	}
	return AbsentFor(fmt.Sprintf("there is no %s; there is %s", key, strings.Join(v.Keys, ", ")))
}

// Map applies f to v, or, where v is a collection, to each of its elements at
// any depth. What is not present stays as it is.
func Map(f func(Value) Value, v Value) Value {
	switch {
	case v.State != Present:
		return v
	case !v.collection():
		return f(v)
	}
	elems := make([]Value, len(v.Elems))
	for i, e := range v.Elems {
		elems[i] = Map(f, e)
	}
	v.Elems = elems
	return v
}

// Zip applies f to vs element by element. Each of vs is a collection with the
// same stations, angles, keys or length as the others, or a single value,
// which goes with every element. Stations, angles and keys may stand in
// another order; the result has the order of the first collection.
//
// The error is a [*MismatchError] where two collections do not match.
func Zip(f func([]Value) Value, vs ...Value) (Value, error) {
	lead := -1
	for i, v := range vs {
		if v.State == Present && v.collection() {
			lead = i
			break
		}
	}
	if lead < 0 {
		if b, ok := Blocked(vs...); ok {
			return b, nil
		}
		return f(vs), nil
	}
	out := vs[lead]
	order := make([][]int, len(vs))
	for i, v := range vs {
		if v.State != Present || !v.collection() {
			continue
		}
		if order[i] = align(out, v); order[i] == nil {
			return Value{}, &MismatchError{out, v}
		}
	}
	elems := make([]Value, len(out.Elems))
	for k := range elems {
		args := slices.Clone(vs)
		for i := range args {
			if order[i] != nil {
				args[i] = vs[i].Elems[order[i][k]]
			}
		}
		e, err := Zip(f, args...)
		if err != nil {
			return Value{}, err
		}
		elems[k] = e
	}
	out.Elems = elems
	return out, nil
}

// align returns, for each element of a, the place of its partner in b; nil
// where they do not match.
func align(a, b Value) []int {
	if a.Kind != b.Kind || len(a.Elems) != len(b.Elems) {
		return nil
	}
	order := make([]int, len(a.Elems))
	for i := range order {
		order[i] = i // in most cases the order is the same
		switch {
		case (a.Kind == Profile || a.Kind == Turn) && !SamePlace(a.At[i], b.At[i]):
			order[i] = slices.IndexFunc(b.At, func(x float64) bool { return SamePlace(x, a.At[i]) })
		case a.Kind == Keyed && a.Keys[i] != b.Keys[i]:
			order[i] = slices.Index(b.Keys, a.Keys[i])
		}
		if order[i] < 0 {
			return nil
		}
	}
	return order
}

// samePlace is how far apart one station may be worked out in two ways, for
// each millimetre of it: far above rounding, far below anything measured.
const samePlace = 1e-9

// SamePlace tells whether two stations, or two angles, are the same but for
// rounding.
func SamePlace(a, b float64) bool {
	return math.Abs(a-b) <= samePlace*math.Max(1, math.Max(math.Abs(a), math.Abs(b)))
}

func (v Value) collection() bool { return Type{Kind: v.Kind}.Collection() }

// MismatchError says that two collections cannot be combined element by
// element.
type MismatchError struct{ A, B Value }

func (e *MismatchError) Error() string {
	a, b := places(e.A), places(e.B)
	switch {
	case e.A.Kind != e.B.Kind:
		return fmt.Sprintf("%s and %s do not go together", a, b)
	case e.A.Kind == List:
		return fmt.Sprintf("the lists have %d and %d elements", len(e.A.Elems), len(e.B.Elems))
	}
	return fmt.Sprintf("%s are not %s", a, b)
}

// places says what tells the elements of a collection apart.
func places(v Value) string {
	switch v.Kind {
	case Profile:
		return "stations " + numbers(v.At, 1) + " mm"
	case Turn:
		return "angles " + numbers(v.At, 180/math.Pi) + "°"
	case Keyed:
		return "keys " + strings.Join(v.Keys, ", ")
	}
	return "a list"
}

func numbers(x []float64, factor float64) string {
	s := make([]string, len(x))
	for i := range x {
		s[i] = fmt.Sprintf("%.6g", x[i]*factor)
	}
	return strings.Join(s, ", ")
}

// Equal tells whether two values are the same to the last bit: kind, state,
// and the fields of the kind. Reasons are not compared.
func Equal(a, b Value) bool {
	if a.State != b.State {
		return false
	}
	if a.State != Present {
		return true
	}
	return a.Kind == b.Kind && a.Num == b.Num && a.Truth == b.Truth && a.Text == b.Text &&
		slices.Equal(a.Takes, b.Takes) && slices.Equal(a.At, b.At) && slices.Equal(a.Keys, b.Keys) &&
		slices.Equal(a.X, b.X) && slices.Equal(a.Y, b.Y) && slices.Equal(a.Z, b.Z) &&
		a.Lo == b.Lo && a.Hi == b.Hi && slices.EqualFunc(a.Elems, b.Elems, Equal)
}
