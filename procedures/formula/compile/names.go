package compile

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"waywright/checks/value"
	"waywright/procedures/formula"
)

// spaces are the words before a dot that hold values (semantics rule 4).
var spaces = map[string]formula.Space{
	"given": formula.Given, "reading": formula.Reading, "result": formula.Result,
	"each": formula.Each, "table": formula.Table, "hidden": formula.Hidden,
	"machine": formula.Machine, "accepted": formula.Accepted,
}

// references are the words before a dot that point at something, and what one
// of it is called.
var references = map[string]string{
	"step": "a step", "gate": "a gate", "correction": "a correction", "signoff": "a sign-off",
	"instrument": "an instrument", "caution": "a caution", "task": "a task",
}

// ownWords and where each may stand (semantics rule 5).
var ownWords = map[string]string{
	"amount":  "should_change and in reacts",
	"moved":   "reacts",
	"attempt": "reacts",
}

// traversal compiles a use of a name, with the keys that follow it.
func (c *checker) traversal(e *hclsyntax.ScopeTraversalExpr) term {
	root := e.Traversal.RootName()
	for i := len(c.vars) - 1; i >= 0; i-- {
		if v, ok := c.vars[i].use(root, len(c.vars)-1-i); ok {
			v.rng = e.Traversal[0].SourceRange()
			return c.steps(v, e.Traversal[1:])
		}
	}
	if _, own := ownWords[root]; own {
		return c.own(root, e)
	}
	space, ok := spaces[root]
	if !ok {
		return c.unknownRoot(root, e)
	}
	switch space {
	case formula.Machine:
		return c.machine(e)
	case formula.Accepted:
		return c.accepted(e)
	}
	return c.known(space, e)
}

// known compiles a name of a space that has its symbols in the scope.
func (c *checker) known(space formula.Space, e *hclsyntax.ScopeTraversalExpr) term {
	names := c.sc.Names[space]
	n := 1 // steps after the root that make the name
	if space == formula.Table {
		n = 2
	}
	parts, ok := attrs(e.Traversal[1:], n)
	if !ok {
		return c.say(UnknownName, e.SrcRange, e.SrcRange,
			"%s needs the label of what is meant: write %s.%s.", c.quote(e.SrcRange), space, some(names))
	}
	name := strings.Join(parts, ".")
	sym, ok := names[name]
	if !ok {
		return c.unknownName(space, name, e)
	}
	if sym.Unusable != "" {
		r := hcl.RangeBetween(e.Traversal[0].SourceRange(), e.Traversal[n].SourceRange())
		return c.say(NotHere, r, e.SrcRange,
			"%s.%s %s.", space, name, sym.Unusable)
	}
	t := c.use(formula.Ref{Space: space, Name: name, Round: sym.Round}, sym)
	t.rng = hcl.RangeBetween(e.Traversal[0].SourceRange(), e.Traversal[n].SourceRange())
	return c.steps(t, e.Traversal[1+n:])
}

// wordOf returns the place of a step without its dot.
func wordOf(s hcl.Traverser) hcl.Range {
	r := s.SourceRange()
	if _, ok := s.(hcl.TraverseAttr); ok && r.End.Byte-r.Start.Byte > 1 {
		r.Start.Byte++
		r.Start.Column++
	}
	return r
}

// use returns a term for a symbol.
func (c *checker) use(r formula.Ref, sym Symbol) term {
	if sym.Type.Kind == 0 {
		return term{bad: true}
	}
	return term{node: c.b.Name(r, sym.Type), t: sym.Type, unit: sym.Unit}
}

// attrs returns the first n steps as names; ok is false where they are not.
func attrs(steps hcl.Traversal, n int) (names []string, ok bool) {
	if len(steps) < n {
		return nil, false
	}
	for _, s := range steps[:n] {
		a, ok := s.(hcl.TraverseAttr)
		if !ok {
			return nil, false
		}
		names = append(names, a.Name)
	}
	return names, true
}

// some returns one name as an example.
func some(names map[string]Symbol) string {
	for _, n := range slices.Sorted(maps.Keys(names)) {
		return n
	}
	return "x"
}

// own compiles amount, moved and attempt.
func (c *checker) own(root string, e *hclsyntax.ScopeTraversalExpr) term {
	sym, ok := c.sc.Names[formula.Own][root]
	if !ok {
		return c.say(NotHere, e.Traversal[0].SourceRange(), e.SrcRange,
			"%s stands only in %s.", root, ownWords[root])
	}
	if sym.Unusable != "" {
		return c.say(NotHere, e.Traversal[0].SourceRange(), e.SrcRange,
			"%s %s.", root, sym.Unusable)
	}
	t := c.use(formula.Ref{Space: formula.Own, Name: root}, sym)
	t.rng = e.Traversal[0].SourceRange()
	return c.steps(t, e.Traversal[1:])
}

// machine compiles an entry of the machine's register.
func (c *checker) machine(e *hclsyntax.ScopeTraversalExpr) term {
	parts, ok := attrs(e.Traversal[1:], len(e.Traversal)-1)
	if !ok || len(parts) == 0 {
		return c.say(UnknownName, e.SrcRange, e.SrcRange,
			"An entry of the machine's register is named with words and dots: write machine.test_bar.length.")
	}
	if !c.sc.Machine {
		return c.say(NotHere, e.Traversal[0].SourceRange(), e.SrcRange,
			"machine stands only in `from` and in the `when` of a task, so that every input of a formula is a fact of the run. Ask for it in a given with from = "+c.quote(e.SrcRange)+", and use the given.")
	}
	path := strings.Join(parts, ".")
	ref := formula.Ref{Space: formula.Machine, Name: path}
	if c.sc.MachineType != nil {
		if sym, ok := c.sc.MachineType(path); ok {
			return c.use(ref, sym)
		}
	}
	return c.later(ref)
}

// later returns an open term: its type is that of its place. The keys that
// follow can only be texts or counts then, and are refused by the caller.
func (c *checker) later(r formula.Ref) term {
	return term{open: func(t value.Type) formula.Node { return c.b.Name(r, t) }}
}

// accepted compiles accepted["p"].result.x.
func (c *checker) accepted(e *hclsyntax.ScopeTraversalExpr) term {
	t := e.Traversal
	proc, name, ok := acceptedParts(t)
	if !ok {
		return c.say(UnknownName, e.SrcRange, e.SrcRange,
			`A value of an accepted run is written accepted["lathe-level-twist"].result.twist.`)
	}
	if !c.sc.Accepted {
		return c.say(NotHere, t[0].SourceRange(), e.SrcRange,
			"accepted stands only in `from`, in the `when` of a task, in `disturbs` and in `upstream`. Take the value in a given with from = "+c.quote(e.SrcRange)+", and use the given.")
	}
	ref := formula.Ref{Space: formula.Accepted, Name: proc + "." + name}
	if c.sc.AcceptedResults != nil {
		if results, ok := c.sc.AcceptedResults(proc); ok {
			sym, ok := results[name]
			if !ok {
				return c.say(UnknownName, wordOf(t[3]), e.SrcRange,
					"The procedure %s has no result %s.%s", proc, name, c.suggest(name, maps.Keys(results)))
			}
			v := c.use(ref, sym)
			v.rng = hcl.RangeBetween(t[0].SourceRange(), t[3].SourceRange())
			return c.steps(v, t[4:])
		}
	}
	if len(t) > 4 {
		return c.say(UnknownType, hcl.RangeBetween(t[4].SourceRange(), t[len(t)-1].SourceRange()), e.SrcRange,
			"The procedure %s cannot be read here, so the keys of its result are not known. Put its file into the library.", proc)
	}
	return c.later(ref)
}

func acceptedParts(t hcl.Traversal) (proc, name string, ok bool) {
	if len(t) < 4 {
		return "", "", false
	}
	i, ok1 := t[1].(hcl.TraverseIndex)
	r, ok2 := t[2].(hcl.TraverseAttr)
	x, ok3 := t[3].(hcl.TraverseAttr)
	if !ok1 || !ok2 || !ok3 || r.Name != "result" || !isString(i.Key) {
		return "", "", false
	}
	return i.Key.AsString(), x.Name, true
}

func isString(v cty.Value) bool {
	return v.IsKnown() && !v.IsNull() && v.Type() == cty.String
}

// unknownName says that a space has no such name.
func (c *checker) unknownName(space formula.Space, name string, e *hclsyntax.ScopeTraversalExpr) term {
	last := 1 + strings.Count(name, ".")
	if space == formula.Table {
		last = 2
	}
	last = min(last, len(e.Traversal)-1) // bytes that are no text may hold a point
	subject := wordOf(e.Traversal[last])
	if strings.Contains(name, "-") {
		return c.blanks(subject, e.SrcRange)
	}
	full := space.String() + "." + name
	if space == formula.Each {
		if len(c.sc.Names[space]) == 0 {
			return c.say(UnknownName, subject, e.SrcRange,
				full+" is not known: nothing is repeated here. each.x belongs to an each block of the same step, given or reading.")
		}
	}
	for _, other := range slices.Sorted(maps.Keys(c.sc.Names)) {
		if _, ok := c.sc.Names[other][name]; ok && other != space {
			return c.say(UnknownName, subject, e.SrcRange,
				"There is no %s, but there is %s. Write that, if it is meant.", full, formula.Ref{Space: other, Name: name})
		}
	}
	return c.say(UnknownName, subject, e.SrcRange,
		"There is no %s.%s", full, c.suggest(name, maps.Keys(c.sc.Names[space])))
}

// blanks says that a hyphen was read as part of a name (semantics rule 2).
func (c *checker) blanks(subject, context hcl.Range) term {
	return c.say(BlanksAtMinus, subject, context,
		fmt.Sprintf("%s is read as one name. Put blanks round the minus: %s.",
			c.quote(context), strings.ReplaceAll(c.quote(context), "-", " - ")))
}

// unknownRoot says that a name begins with a word that means nothing.
func (c *checker) unknownRoot(root string, e *hclsyntax.ScopeTraversalExpr) term {
	subject := e.Traversal[0].SourceRange()
	if noun, ok := references[root]; ok {
		return c.say(NotAValue, e.SrcRange, e.SrcRange,
			"%s is %s; it can be pointed at, but has no value to compute with. Use a reading, given or result.", c.quote(e.SrcRange), noun)
	}
	if strings.Contains(root, "-") {
		return c.blanks(subject, e.SrcRange)
	}
	for _, space := range slices.Sorted(maps.Keys(c.sc.Names)) {
		if _, ok := c.sc.Names[space][root]; ok && space != formula.Own {
			return c.say(UnknownName, subject, e.SrcRange,
				"%s alone is not a name. Write %s.%s.", root, space, root)
		}
	}
	if u, ok := c.funcs[root]; ok {
		return c.say(UnknownName, subject, e.SrcRange,
			"%s is a function: write %s(…). It gives %s.", root, root, lowerFirst(u.Doc))
	}
	var near []string
	near = append(near, slices.Collect(maps.Keys(spaces))...)
	near = append(near, slices.Collect(maps.Keys(ownWords))...)
	for _, v := range c.vars {
		near = append(near, v.key, v.val)
	}
	if guess := nearest(root, near); guess != "" {
		return c.say(UnknownName, subject, e.SrcRange,
			"%s is not a name. Is %s meant?", root, guess)
	}
	return c.say(UnknownName, subject, e.SrcRange,
		"%s is not a name. Values are written given.x, reading.x, result.x or table.t.row; a word is written between quotation marks: %q.", root, root)
}
