package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
)

// absent is the value of a computation that is not defined.
func absent(format string, args ...any) value.Value {
	return value.AbsentFor(fmt.Sprintf(format, args...))
}

const noNumber = "these values give no number"

// number is a computed number in base units; no infinity leaves as a number.
func number(x float64) value.Value {
	if !isFinite(x) {
		return absent(noNumber)
	}
	return value.Num(x)
}

// like is number, of the kind that values of type t have.
func like(t value.Type, x float64) value.Value {
	v := number(x)
	if v.State == value.Present {
		v.Kind = t.Kind
	}
	return v
}

// generic completes a function whose check looks at the types itself: it
// counts the arguments, lets takes stand for their mean where the parameter
// does not want them as they are, and lets states through. A lazy function is
// evaluated though elements of its arguments may not be present.
func generic(f Func, lazy bool) *Func {
	check, eval := f.Check, f.Eval
	f.Lazy = lazy
	f.Check = func(args []value.Type) (value.Type, *ArgError) {
		if err := f.number(len(args)); err != nil {
			return value.Type{}, err
		}
		seen := make([]value.Type, len(args))
		for i, t := range args {
			seen[i] = t
			if t.Kind != value.Takes || !f.Params[i].Takes {
				seen[i] = t.Mean()
			}
		}
		return check(seen)
	}
	f.Eval = func(args []value.Value) value.Value {
		seen := make([]value.Value, len(args))
		whole := !lazy
		for i, v := range args {
			whole = whole || v.State != value.Present // the argument itself is not there
			seen[i] = v
			if v.Kind != value.Takes || i >= len(f.Params) || !f.Params[i].Takes {
				seen[i] = v.Mean()
			}
		}
		if whole {
			if b, ok := value.Blocked(seen...); ok {
				return b
			}
		}
		return finite(eval(seen))
	}
	return &f
}

// finite returns v, or an absent value where a number in it is none.
func finite(v value.Value) value.Value {
	if !allFinite(v) {
		return absent(noNumber)
	}
	return v
}

func allFinite(v value.Value) bool {
	if !isFinite(v.Num) || math.IsNaN(v.Lo) || math.IsNaN(v.Hi) {
		return false
	}
	for _, xs := range [...][]float64{v.At, v.Z} {
		for _, x := range xs {
			if !isFinite(x) {
				return false
			}
		}
	}
	for i := range v.Elems {
		if !allFinite(v.Elems[i]) {
			return false
		}
	}
	return true
}

func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// number says that there are too few or too many arguments.
func (f *Func) number(n int) *ArgError {
	least := 0
	var names []string
	for _, p := range f.Params {
		if p.Optional {
			names = append(names, "["+p.Name+"]")
			continue
		}
		least++
		names = append(names, p.Name)
	}
	if n >= least && n <= len(f.Params) {
		return nil
	}
	have := fmt.Sprintf("%d arguments", n)
	if n == 1 {
		have = "one argument"
	}
	return &ArgError{Arg: -1, What: fmt.Sprintf("has %s; write %s(%s)", have, f.Name, strings.Join(names, ", "))}
}

// Signature returns the function as it is called: "set_over(taper, centres,
// span)". Optional parameters stand in brackets.
func (f *Func) Signature() string {
	names := make([]string, len(f.Params))
	for i, p := range f.Params {
		names[i] = p.Name
		if p.Optional {
			names[i] = "[" + p.Name + "]"
		}
	}
	return f.Name + "(" + strings.Join(names, ", ") + ")"
}

// scalar describes a function of plain numbers.
type scalar struct {
	Func
	args  []arg
	gives quantity.Dim
	lift  bool // collections are taken element by element

	// domain says, in words, why the arguments have no result; "" where they do.
	domain func(a []float64) string

	// expands: the coefficient of a material is used; the last of the numbers
	// that f gets is by how much it is off, 1/K.
	expands bool

	// f computes the result in base units from the arguments in the units of
	// args; word is the one word among them. An infinity or no number becomes
	// an absent result.
	f func(a []float64, word string) float64
}

// arg describes a parameter of a function of plain numbers.
type arg struct {
	name, doc string
	dim       quantity.Dim
	unit      float64  // base units in one unit of the Go function; 0 stands for 1
	point     bool     // a temperature, °C
	words     []string // one of these words
	positive  bool     // must be above nothing
	nonzero   bool     // must not be nothing
	optional  bool     // when left out, it is fallback, or the first of words
	fallback  float64
}

func length(name, doc string) arg { return arg{name: name, doc: doc, dim: quantity.Length} }
func angle(name, doc string) arg  { return arg{name: name, doc: doc, dim: quantity.Angle} }
func ratio(name, doc string) arg  { return arg{name: name, doc: doc, dim: quantity.Ratio} }

// above returns the argument as one that must be above nothing.
func (a arg) above() arg { a.positive = true; return a }

// not0 returns the argument as one that must not be nothing.
func (a arg) not0() arg { a.nonzero = true; return a }

// or returns the argument as one that may be left out.
func (a arg) or(x float64) arg { a.optional, a.fallback = true, x; return a }

func (s scalar) build() *Func {
	for _, a := range s.args {
		s.Params = append(s.Params, Param{Name: a.name, Doc: a.doc, Optional: a.optional})
	}
	s.Expands = s.expands
	s.Check = func(args []value.Type) (value.Type, *ArgError) {
		if s.lift {
			return zipTypes(args, s.check)
		}
		return s.check(args)
	}
	s.Eval = func(args []value.Value) value.Value {
		if s.lift {
			return zip(s.eval, args...)
		}
		return s.eval(args)
	}
	if !slices.ContainsFunc(s.args, func(a arg) bool { return a.words != nil }) {
		s.Num = func(x []float64) float64 { return s.num(x, "") }
	}
	s.Over = s.over
	return generic(s.Func, false)
}

// over is the Over of a function of plain numbers.
func (s scalar) over(args []value.Value) (gives value.Value, k Kernel) {
	word := ""
	for i, a := range s.args {
		switch {
		case a.words == nil:
		case i >= len(args):
			word = a.words[0]
		default:
			if word = args[i].Text; !contains(a.words, word) {
				return gives, nil
			}
		}
	}
	return lifted(args, func(x []float64) float64 { return s.num(x, word) }, len(s.args)+1)
}

func (s scalar) check(args []value.Type) (value.Type, *ArgError) {
	for i, t := range args {
		if err := s.args[i].check(i, t); err != nil {
			return value.Type{}, err
		}
	}
	return value.NumberType(s.gives), nil
}

func (s scalar) eval(args []value.Value) value.Value {
	x := make([]float64, len(s.args), len(s.args)+1)
	word := ""
	for i, a := range s.args {
		switch {
		case i >= len(args) && a.words != nil:
			word = a.words[0]
		case i >= len(args):
			x[i] = a.fallback
		case a.words != nil:
			if word = args[i].Text; !contains(a.words, word) {
				return absent("the %s is %q, not %s", a.name, word, list(a.words))
			}
		default:
			if x[i] = args[i].Num; a.unit != 0 {
				x[i] /= a.unit
			}
		}
		if a.positive && x[i] <= 0 {
			return absent("the %s must be above nothing", a.name)
		}
		if a.nonzero && x[i] == 0 {
			return absent("the %s must not be nothing", a.name)
		}
	}
	if s.domain != nil {
		if why := s.domain(x); why != "" {
			return value.AbsentFor(why)
		}
	}
	if s.expands {
		off := 0.0
		if len(args) > len(s.args) {
			off = args[len(s.args)].Num
		}
		x = append(x, off)
	}
	return number(s.f(x, word))
}

// num is eval for plain numbers; in the place of the word there is nothing of
// use.
func (s scalar) num(x []float64, word string) float64 {
	given := len(x)
	x = x[:max(len(s.args), given)]
	for i := range s.args {
		a := &s.args[i]
		switch {
		case a.words != nil:
			continue
		case i >= given:
			x[i] = a.fallback
		case a.unit != 0:
			x[i] /= a.unit
		}
		if a.positive && x[i] <= 0 || a.nonzero && x[i] == 0 {
			return math.NaN()
		}
	}
	if s.domain != nil && s.domain(x) != "" {
		return math.NaN()
	}
	if s.expands && given <= len(s.args) {
		x = append(x, 0)
	}
	return s.f(x, word)
}

// unless returns the reason where what it says of the arguments is not so.
func unless(holds bool, why string) string {
	if holds {
		return ""
	}
	return why
}

func (a arg) check(i int, t value.Type) *ArgError {
	switch {
	case a.words != nil:
		return oneOf(i, t, a.words)
	case a.point && t.Kind == value.Point:
		return nil
	case a.point:
		return wanted(i, t, value.PointType())
	case t.Kind != value.Number || t.Dim != a.dim:
		return wanted(i, t, value.NumberType(a.dim))
	}
	return nil
}

// zip is value.Zip, with an absent value where two collections do not match.
func zip(f func([]value.Value) value.Value, vs ...value.Value) value.Value {
	v, err := value.Zip(f, vs...)
	if err != nil {
		return value.AbsentFor(err.Error())
	}
	return v
}

// zipTypes is value.Zip for types: it returns the type that f gives, as
// element of the collections among ts where there are such.
func zipTypes(ts []value.Type, f func([]value.Type) (value.Type, *ArgError)) (value.Type, *ArgError) {
	lead := -1
	elems := make([]value.Type, len(ts))
	for i, t := range ts {
		elems[i] = t
		if !t.Collection() {
			continue
		}
		elems[i] = *t.Elem
		if lead < 0 {
			lead = i
			continue
		}
		if err := match(i, t, ts[lead]); err != nil {
			return value.Type{}, err
		}
	}
	if lead < 0 {
		return f(ts)
	}
	e, err := zipTypes(elems, f)
	if err != nil {
		return value.Type{}, err
	}
	out := ts[lead]
	out.Elem = &e
	return out, nil
}

// match refuses two collections that can never be combined.
func match(i int, t, lead value.Type) *ArgError {
	if t.Kind != lead.Kind {
		return &ArgError{i, fmt.Sprintf("%s, which does not go together with %s", is(t), lead)}
	}
	a, b := t.Key.Words, lead.Key.Words
	if a != nil && b != nil && !sameWords(a, b) {
		return &ArgError{i, fmt.Sprintf("has the keys %s, the other has %s", list(a), list(b))}
	}
	return nil
}

func sameWords(a, b []string) bool {
	for _, w := range a {
		if !contains(b, w) {
			return false
		}
	}
	return len(a) == len(b)
}
