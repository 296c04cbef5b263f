// Package formula holds compiled expressions: formulas, conditions and texts
// with values in them. There is one kind of program and one evaluator for all
// three.
//
// A program is typed: its dimension is known before it runs. Numbers are
// float64 in the base units of [quantity]. Package
// [waywright/procedures/formula/compile] makes programs from HCL expressions;
// this package never sees HCL.
//
// A value that is not there spreads: the result has the greatest state of the
// inputs that were used. Where a computation is not defined, as in a division
// by nothing, the result is absent and says why; a present number is always
// finite.
package formula

import (
	"waywright/checks/value"
	"waywright/procedures/source"
)

// Space is the kind of thing a reference names: the word before its dot.
type Space uint8

// The spaces.
const (
	Given    Space = iota + 1 // given.x
	Reading                   // reading.x
	Result                    // result.x
	Each                      // each.x: the key, station, angle or take now asked for
	Table                     // table.t.row, under the run's grade; Name is "t.row"
	Hidden                    // hidden.x, in a rehearsal
	Machine                   // machine.a.b; Name is "a.b"
	Accepted                  // accepted["p"].result.x; Name is "p.x"
	Own                       // amount, moved, attempt; Name is the word
	// Expansion is by how much the coefficient of expansion of a material is off
	// the table's, 1/K; Name is the material as it is written. No author writes
	// it: it stands in every computation that uses a coefficient, and is nought
	// where an Env does not say (measure rule 7).
	Expansion
)

var spaceWords = [...]string{"", "given", "reading", "result", "each", "table", "hidden", "machine", "accepted", "", "expansion of"}

// String returns the word before the dot; it is empty for Own.
func (s Space) String() string {
	if int(s) < len(spaceWords) {
		return spaceWords[s]
	}
	return ""
}

// Ref is a use of a name.
type Ref struct {
	Space Space
	Name  string
	// Round is true where the name belongs to a step with each and is used
	// inside that step: it means the value of the present round alone.
	Round bool
}

// String returns the name as it is written in a procedure, "given.span".
func (r Ref) String() string {
	if w := r.Space.String(); w != "" {
		return w + "." + r.Name
	}
	return r.Name
}

// Env supplies the values of references. A value that is not there has a
// State other than Present.
//
// A value with elements (keyed, profile, turn, list) is Present as soon as
// its elements are known by name; each of them has a State of its own.
type Env interface {
	Value(Ref) value.Value
}

// Program is a compiled expression. It is immutable and may be used from
// several goroutines at once.
type Program struct {
	typ   value.Type
	at    source.Range
	text  string
	refs  []Ref
	types []value.Type // of refs
	// written is how many of refs the author wrote; they stand first.
	written int
	cites   []string // where values come from that functions look up
	root    Node
}

// Const returns a program that always gives v.
func Const(v value.Value, t value.Type) *Program {
	return &Program{typ: t, root: Lit(v, t)}
}

// Cites says where the values come from that functions of the program look up
// in standard tables, each once.
func (p *Program) Cites() []string { return p.cites }

// Type returns the type of the program's result.
func (p *Program) Type() value.Type { return p.typ }

// At returns where the expression stands.
func (p *Program) At() source.Range { return p.at }

// Source returns the expression as it was written.
func (p *Program) Source() string { return p.text }

// Refs returns every name that is written in the program, in either branch of
// a conditional, each once, in the order of writing. The caller must not
// change the slice.
func (p *Program) Refs() []Ref { return p.refs[:p.written] }

// Inputs returns Refs, and behind them what stands in the program without
// being written (see [Expansion]).
func (p *Program) Inputs() []Ref { return p.refs }

// RefType returns the type that the program expects of a name it uses; ok is
// false where it does not use it. The Kind is 0 where any is taken.
func (p *Program) RefType(r Ref) (t value.Type, ok bool) {
	for i, have := range p.refs {
		if have == r {
			return p.types[i], true
		}
	}
	return value.Type{}, false
}

// Eval returns the value of the program. Only the branch taken of a
// conditional, && or || is evaluated and counts as an input.
func (p *Program) Eval(env Env) value.Value { return p.root.eval(env, nil) }

// Static returns the value of a program that uses no names; ok is false when
// it uses any.
func (p *Program) Static() (v value.Value, ok bool) {
	if len(p.refs) > 0 {
		return value.Value{}, false
	}
	return p.root.eval(nil, nil), true
}

// Words returns the value of the program as it is read by a person. In a
// text, values that are not there show as "…".
func (p *Program) Words(env Env) string { return words(p.root, nil, env, nil) }

// Used returns the names that count as inputs of the value that Eval gives:
// those of the conditions and of the branches taken, each once, in the order
// of writing.
func (p *Program) Used(env Env) []Ref {
	seen := make([]bool, len(p.refs))
	mark(p.root, seen, env, nil)
	var out []Ref
	for i, r := range p.Refs() {
		if seen[i] {
			out = append(out, r)
		}
	}
	return out
}
