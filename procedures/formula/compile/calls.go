package compile

import (
	"regexp"
	"slices"
	"strings"
	"sync"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/catalogue"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/formula"
)

// allFuncs are the functions of the catalogue, by name. Nobody changes them.
var allFuncs = sync.OnceValue(func() Funcs {
	out := Funcs{}
	for _, f := range catalogue.All() {
		out[f.Name] = f
	}
	return out
})

func (c *checker) call(e *hclsyntax.FunctionCallExpr) term {
	args := make([]term, len(e.Args))
	bad := false
	for i, a := range e.Args {
		args[i] = c.expr(a)
		bad = bad || args[i].bad
	}
	f, ok := c.funcs[e.Name]
	if !ok {
		return c.unknownFunc(e)
	}
	if e.ExpandFinal {
		return c.notUsed(e.Args[len(e.Args)-1].Range(), e.Range(), "An argument that ends in ...", "Write the arguments one by one, or give the list itself.")
	}
	if bad {
		return term{bad: true}
	}
	types := make([]value.Type, len(args))
	nodes := make([]formula.Node, len(args))
	for i, a := range args {
		if a.open != nil {
			return c.unknownType(a)
		}
		if i >= len(f.Params) || !f.Params[i].Takes || a.t.Kind != value.Takes {
			a = a.withoutTakes() // semantics rule 7
		}
		types[i], nodes[i] = a.t, a.node
	}
	t, wrong := f.Check(types)
	if wrong != nil {
		return c.wrongArg(f, wrong, args, e)
	}
	if f.Cite != nil {
		c.cite(f, nodes)
	}
	if f.Expands {
		nodes = append(nodes, c.expansion(e, nodes))
	}
	return term{node: formula.Call(f, nodes, t), t: t}
}

// cite notes where the values come from that a function looks up; where that
// depends on what is not known yet, from where they may come.
func (c *checker) cite(f *catalogue.Func, nodes []formula.Node) {
	if source := f.Cite(written(nodes)); source != "" {
		c.b.Cite(source)
		return
	}
	for _, source := range f.Tables {
		c.b.Cite(source)
	}
}

// written are the values of arguments that are written in figures and words;
// the others are not there.
func written(nodes []formula.Node) []value.Value {
	out := make([]value.Value, len(nodes))
	for i, n := range nodes {
		if folded, _ := formula.Fold(n); !formula.Open(n) {
			out[i] = formula.Written(folded)
		}
	}
	return out
}

// expansion is by how much the coefficient of the material may be off: a
// source of doubt that no author has to think of. Where all is written in
// figures there is nothing to judge, and none.
func (c *checker) expansion(e *hclsyntax.FunctionCallExpr, args []formula.Node) formula.Node {
	t := value.NumberType(quantity.Ratio)
	if !slices.ContainsFunc(args, formula.Open) {
		return formula.Lit(value.Num(0), t)
	}
	material := strings.Trim(c.quote(e.Args[len(e.Args)-1].Range()), "\"")
	return c.b.Name(formula.Ref{Space: formula.Expansion, Name: material}, t)
}

func (c *checker) wrongArg(f *catalogue.Func, wrong *catalogue.ArgError, args []term, e *hclsyntax.FunctionCallExpr) term {
	what := strings.TrimSuffix(wrong.What, ".") + "."
	if wrong.Arg < 0 || wrong.Arg >= len(args) {
		if len(f.Params) == 1 && len(args) == 2 && figures.MatchString(c.quote(args[0].rng)) && figures.MatchString(c.quote(args[1].rng)) {
			what += " If " + c.quote(args[0].rng) + "," + c.quote(args[1].rng) + " is one number, write it with a point: " + c.quote(args[0].rng) + "." + c.quote(args[1].rng) + "."
		}
		return c.say(ArgCount, e.NameRange, e.Range(), f.Name+" "+what)
	}
	a := args[wrong.Arg]
	detail := c.quote(a.rng) + " " + what
	if wrong.Arg < len(f.Params) && f.Params[wrong.Arg].Name != "" {
		detail = "The " + strings.ReplaceAll(f.Params[wrong.Arg].Name, "_", " ") + " of " + f.Name + ", " + c.quote(a.rng) + ", " + what
	}
	return c.say(WrongArg, a.rng, e.Range(), detail)
}

func (c *checker) unknownFunc(e *hclsyntax.FunctionCallExpr) term {
	if strings.Contains(e.Name, "-") {
		return c.blanks(e.NameRange, hcl.RangeOver(e.NameRange, e.Range()))
	}
	if micro.MatchString(e.Name) {
		return c.say(UnknownFunc, e.NameRange, e.Range(), "There is no function %s. Micrometres are written um.", e.Name)
	}
	names := make([]string, 0, len(c.funcs))
	for n := range c.funcs {
		names = append(names, n)
	}
	if guess := nearest(e.Name, names); guess != "" {
		return c.say(UnknownFunc, e.NameRange, e.Range(), "There is no function %s. Is %s meant? It gives %s.",
			e.Name, guess, strings.TrimSuffix(lowerFirst(c.funcs[guess].Doc), "."))
	}
	return c.say(UnknownFunc, e.NameRange, e.Range(),
		"There is no function %s. The functions are listed by the command calc --list.", e.Name)
}

// figures are the whole or the broken part of a number.
var figures = regexp.MustCompile(`^[0-9]+$`)

// micro is a micrometre with either of the two signs that look like a mu.
var micro = regexp.MustCompile("^[\u00b5\u03bc]m$")
