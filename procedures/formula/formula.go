// Package formula holds compiled expressions: formulas, conditions and texts
// with values in them. There is one kind of program and one evaluator for all
// three.
//
// A program is typed: its dimension is known before it runs. Numbers are
// float64 in the base units of [quantity]. Package
// [waywright/procedures/formula/compile] makes programs from HCL expressions;
// this package never sees HCL.
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
)

// Ref is a use of a name.
type Ref struct {
	Space Space
	Name  string
	// Round is true where the name belongs to a step with each and is used
	// inside that step: it means the value of the present round alone.
	Round bool
}

// Env supplies the values of references. A value that is not there has a
// State other than Present.
type Env interface {
	Value(Ref) value.Value
}

// Program is a compiled expression. It is immutable and may be used from
// several goroutines at once.
type Program struct {
	typ  value.Type
	at   source.Range
	text string
	refs []Ref
	root node
}

// Type returns the type of the program's result.
func (p *Program) Type() value.Type { return p.typ }

// At returns where the expression stands.
func (p *Program) At() source.Range { return p.at }

// Source returns the expression as it was written.
func (p *Program) Source() string { return p.text }

// Refs returns every name the program uses, in either branch of a
// conditional, each once, in the order of writing.
func (p *Program) Refs() []Ref { return p.refs }

// Eval returns the value of the program. Only the branch taken of a
// conditional, && or || is evaluated and counts as an input.
func (p *Program) Eval(env Env) value.Value { return p.root.eval(env) }

type node interface {
	eval(Env) value.Value
}
