// Package compile makes typed programs from HCL expressions. It knows which
// names exist, of what kind and dimension they are, and refuses what does not
// fit with a diagnostic that says what is so, and what to write.
//
// Diagnostics are collected: one wrong part does not hide another, and a part
// that was not understood causes no further complaints. Each carries a stable
// [Code] as its Extra.
package compile

import (
	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/catalogue"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/formula"
	"waywright/procedures/source"
)

// Symbol is a name that an expression may use.
type Symbol struct {
	// Type is the type of the value where it is used. A zero Type is of a
	// name whose own definition is wrong: it is taken without further words.
	Type value.Type

	// Unit is the one that the block names; texts show the value in it. Nil:
	// the first of the dimension.
	Unit *quantity.Unit

	// Round is true for a name of the step with each that the expression
	// stands in: it means the present round's value.
	Round bool

	// Unusable says why the name may not be used in this place, though it
	// exists: "stands further down; a step uses only what is written above
	// it". Empty: it may.
	Unusable string
}

// Scope says which names an expression may use.
type Scope struct {
	// Names are the symbols by space. Those of Table are called "t.row"; Own
	// has amount, moved and attempt where they may stand.
	Names map[formula.Space]map[string]Symbol

	// Machine is true where machine may stand. MachineType returns the type
	// of an entry by its path, "test_bar.length"; where it is nil or knows
	// nothing, the entry has the type that is wanted in its place, and is
	// held against it when a run begins.
	Machine     bool
	MachineType func(path string) (Symbol, bool)

	// Accepted is true where accepted may stand. AcceptedResults returns the
	// results of a procedure by name; where it is nil or the procedure is
	// not known, a result has the type that is wanted in its place.
	Accepted        bool
	AcceptedResults func(procedure string) (map[string]Symbol, bool)

	// References are the labels that are no values, by kind, so that
	// "step.cut" can be called a step.
	References map[string][]string

	// Funcs are the functions that may be called; nil: those of the
	// catalogue.
	Funcs Funcs
}

// Funcs are functions by name.
type Funcs map[string]*catalogue.Func

// Want says what an expression must give.
type Want struct {
	Kinds []value.Kind   // one of these; nil: any
	Dim   *quantity.Dim  // of the numbers in it, whatever the kind; nil: any
	Unit  *quantity.Unit // the unit of the place: gives Dim, and words for the mend
	Count bool           // whole numbers
	What  string         // what the expression is for: "the range of given.span"
}

// Any accepts every value.
func Any(what string) Want { return Want{What: what} }

// Number wants one number of a dimension.
func Number(d quantity.Dim, what string) Want {
	return Want{Kinds: []value.Kind{value.Number}, Dim: &d, What: what}
}

// InUnit wants one number, or temperature, that can be shown in a unit.
func InUnit(u quantity.Unit, what string) Want {
	k := value.Number
	if u.Point {
		k = value.Point
	}
	return Want{Kinds: []value.Kind{k}, Unit: &u, What: what}
}

// Count wants a whole number.
func Count(what string) Want {
	return Want{Kinds: []value.Kind{value.Number}, Count: true, What: what}
}

// Truth wants a condition.
func Truth(what string) Want { return Want{Kinds: []value.Kind{value.Truth}, What: what} }

// Text wants words.
func Text(what string) Want { return Want{Kinds: []value.Kind{value.Text}, What: what} }

// dim returns the dimension that is wanted, if any is.
func (w Want) dim() (quantity.Dim, bool) {
	switch {
	case w.Unit != nil:
		return w.Unit.Dim, true
	case w.Dim != nil:
		return *w.Dim, true
	}
	return quantity.Dim{}, w.Count
}

// Expr compiles an expression. src is the whole file that it stands in.
//
// The program is nil where any part was not understood; then there is at
// least one error, unless the part uses a name with a zero Type.
func Expr(e hclsyntax.Expression, src []byte, sc *Scope, want Want) (*formula.Program, hcl.Diagnostics) {
	c := &checker{src: src, sc: sc, what: want.What, funcs: sc.Funcs}
	if c.funcs == nil {
		c.funcs = allFuncs()
	}
	t := c.fit(c.expr(e), want)
	if t.bad || c.diags.HasErrors() {
		return nil, c.diags
	}
	rng := e.Range()
	return c.b.Program(t.node, string(c.source(rng)), Range(rng)), c.diags
}

// Range converts a range of HCL.
func Range(r hcl.Range) source.Range {
	return source.Range{
		File:  r.Filename,
		Start: source.Pos{Line: r.Start.Line, Column: r.Start.Column, Byte: r.Start.Byte},
		End:   source.Pos{Line: r.End.Line, Column: r.End.Column, Byte: r.End.Byte},
	}
}

// checker compiles one expression.
type checker struct {
	src   []byte
	sc    *Scope
	what  string
	funcs Funcs
	b     formula.Builder
	vars  []variable // of the for outside, outermost first
	depth int
	deep  bool // it was said that the expression is too deep
	diags hcl.Diagnostics
}

// term is a compiled part.
type term struct {
	node formula.Node
	t    value.Type
	rng  hcl.Range
	// bad: not understood, and said so; what is made of it is bad too.
	bad bool
	// open: its type is not known; it takes that of its place.
	open func(value.Type) formula.Node
	// unit is the one that a named value is shown in. Other values are shown
	// in the first of their dimension.
	unit *quantity.Unit
}

func badAt(r hcl.Range) term { return term{bad: true, rng: r} }

// settle gives an open term a type.
func (t term) settle(as value.Type) term {
	if t.open != nil {
		t.node, t.t, t.open = t.open(as), as, nil
	}
	return t
}

// withoutTakes lets takes stand for their mean.
func (t term) withoutTakes() term {
	if !t.bad && t.open == nil && formula.HasTakes(t.t) {
		t.node = formula.Mean(t.node)
		t.t = t.node.Type()
	}
	return t
}
