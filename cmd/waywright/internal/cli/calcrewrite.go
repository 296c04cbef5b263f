package cli

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
)

// rewriter puts the inputs of an expression apart: each call of an input
// function becomes a name, as do the names of --with.
type rewriter struct {
	*sheet
	name string   // of the piece; "" for the expression
	vars []string // of the for outside
	made hclsyntax.Expression
}

// is tells whether the whole expression is the input that has the name.
func (w *rewriter) is(e hclsyntax.Expression) bool { return w.made != nil && w.made == e }

func (w *rewriter) all(es []hclsyntax.Expression) {
	for i := range es {
		es[i] = w.expr(es[i])
	}
}

// expr returns the expression without inputs. It changes what it is given.
func (w *rewriter) expr(e hclsyntax.Expression) hclsyntax.Expression {
	switch e := e.(type) {
	case *hclsyntax.FunctionCallExpr:
		return w.call(e)
	case *hclsyntax.ScopeTraversalExpr:
		return w.use(e)
	case *hclsyntax.RelativeTraversalExpr:
		e.Source = w.expr(e.Source)
	case *hclsyntax.ParenthesesExpr:
		e.Expression = w.expr(e.Expression)
	case *hclsyntax.BinaryOpExpr:
		e.LHS, e.RHS = w.expr(e.LHS), w.expr(e.RHS)
	case *hclsyntax.UnaryOpExpr:
		e.Val = w.expr(e.Val)
	case *hclsyntax.ConditionalExpr:
		e.Condition, e.TrueResult, e.FalseResult = w.expr(e.Condition), w.expr(e.TrueResult), w.expr(e.FalseResult)
	case *hclsyntax.IndexExpr:
		e.Collection, e.Key = w.expr(e.Collection), w.expr(e.Key)
	case *hclsyntax.TupleConsExpr:
		w.all(e.Exprs)
	case *hclsyntax.ObjectConsExpr:
		for i := range e.Items {
			e.Items[i].ValueExpr = w.expr(e.Items[i].ValueExpr)
		}
	case *hclsyntax.TemplateExpr:
		w.all(e.Parts)
	case *hclsyntax.TemplateWrapExpr:
		e.Wrapped = w.expr(e.Wrapped)
	case *hclsyntax.ForExpr:
		e.CollExpr = w.expr(e.CollExpr)
		w.vars = append(w.vars, e.KeyVar, e.ValVar)
		for _, part := range []*hclsyntax.Expression{&e.KeyExpr, &e.ValExpr, &e.CondExpr} {
			if *part != nil {
				*part = w.expr(*part)
			}
		}
		w.vars = w.vars[:len(w.vars)-2]
	}
	return e
}

// given is the name of a cell in the place of what was written.
func given(name string, at hcl.Range, rest hcl.Traversal) *hclsyntax.ScopeTraversalExpr {
	t := hcl.Traversal{hcl.TraverseRoot{Name: "given", SrcRange: at}, hcl.TraverseAttr{Name: name, SrcRange: at}}
	whole := at
	if len(rest) > 0 {
		whole = hcl.RangeBetween(at, rest[len(rest)-1].SourceRange())
	}
	return &hclsyntax.ScopeTraversalExpr{Traversal: append(t, rest...), SrcRange: whole}
}

// reserved are the words that begin the names of procedures.
var reserved = []string{"given", "reading", "result", "each", "table", "hidden", "machine", "accepted", "amount", "moved", "attempt",
	"step", "gate", "correction", "signoff", "instrument", "caution", "task"}

// use is a name that is used.
func (w *rewriter) use(e *hclsyntax.ScopeTraversalExpr) hclsyntax.Expression {
	root := e.Traversal.RootName()
	at := e.Traversal[0].SourceRange()
	if slices.Contains(w.vars, root) || slices.Contains(reserved, root) {
		return e
	}
	if _, ok := w.names[root]; ok {
		return given(root, at, e.Traversal[1:])
	}
	if root == "pi" && len(e.Traversal) == 1 {
		return &hclsyntax.LiteralValueExpr{Val: cty.NumberFloatVal(math.Pi), SrcRange: at}
	}
	if _, ok := lookup(root); ok || strings.Contains(root, "-") {
		if f := inputNamed(root); f != nil {
			w.say(compile.UnknownName, at, "%s is a function: write %s.", root, f.Signature())
		}
		return e
	}
	mend := fmt.Sprintf("Give it a value before the expression uses it: --with '%s = about(mm(20.011), um(3))', or whatever it is.", root)
	if slices.Contains(w.later, root) {
		mend = "A value uses only those named before it: write the --with that names it first."
		if root == w.name {
			mend = "It is what is being named."
		}
	} else if near := w.nearName(root); near != "" {
		mend = fmt.Sprintf("Is %s meant?", near)
	}
	w.say(compile.UnknownName, at, "%s is not known here. %s", root, mend)
	return e
}

// call is a call of a function, which may be an input.
func (w *rewriter) call(e *hclsyntax.FunctionCallExpr) hclsyntax.Expression {
	f := inputNamed(e.Name)
	if f == nil {
		w.all(e.Args)
		return e
	}
	whole := w.name != "" && w.made == nil && len(w.vars) == 0 && w.wholeText(e.Range())
	w.all(e.Args)
	if w.diags.HasErrors() {
		return e
	}
	if len(w.vars) > 0 {
		w.say(compile.NotHere, e.Range(), "%s is one input, and in a for it is not plain whether each element has an error of its own. Name it: --with 'x = %s', and use x.", e.Name, w.textAt(e.Range()))
		return e
	}
	if e.ExpandFinal {
		w.say(compile.NotUsed, e.Range(), "The arguments of %s are written one by one.", e.Name)
		return e
	}
	label, name := w.textAt(e.Range()), fmt.Sprintf("#%d", len(w.inputs)+1)
	if whole {
		label, name = w.name, w.name
	}
	if !w.input(f, e, name, label) {
		return e
	}
	out := given(name, e.Range(), nil)
	if whole {
		w.made = out
	}
	return out
}

// wholeText tells whether a place is all that the piece gives its name to.
func (w *rewriter) wholeText(r hcl.Range) bool {
	p := w.parts[len(w.parts)-1].text
	begin := len(w.src) - 1 - len(p)
	_, after, _ := strings.Cut(p, "=")
	return strings.TrimSpace(after) == strings.TrimSpace(p[min(len(p), max(0, r.Start.Byte-begin)):min(len(p), max(0, r.End.Byte-begin))])
}

// input compiles the arguments of an input and adds it.
func (w *rewriter) input(f *inputFunc, e *hclsyntax.FunctionCallExpr, name, label string) bool {
	if wrong := f.counted(len(e.Args)); wrong != "" {
		w.say(compile.ArgCount, e.NameRange, "%s.", wrong)
		return false
	}
	what := f.args(len(e.Args))
	progs := make([]*formula.Program, len(e.Args))
	x := make([]float64, len(e.Args))
	var typ value.Type // of the input
	for i, arg := range e.Args {
		p, ok := w.compile(arg, "an argument of "+f.Name)
		if !ok {
			return false
		}
		progs[i] = p
		if typ.Kind == 0 && what[i] == rolePlace {
			typ = p.Type()
		}
	}
	if typ.Kind == 0 {
		typ = progs[0].Type() // a half width alone
	}
	for i, p := range progs {
		if !w.fits(f, e.Args[i], p.Type(), what[i], typ, i) || !w.known(f, e.Args[i], p, i == 0 && what[0] == rolePlace && f.mayVary()) {
			return false
		}
		x[i] = p.Eval(w.env(nil)).Num
	}
	in, where, wrong := f.build(x)
	if wrong == "" && !(in.u >= 0) {
		where, wrong = min(where, len(x)-1), "an uncertainty, or a half width, has no sign"
	}
	if wrong == "" && !(isFinite(in.u) && isFinite(in.mid)) {
		wrong = "this is too large to compute with"
	}
	if wrong != "" {
		at := e.Args[where].Range()
		w.say(compile.WrongArg, at, "%s in %s: %s.", w.textAt(at), f.Name, wrong)
		return false
	}
	var mid *formula.Program
	if f.mayVary() {
		mid = progs[0]
	}
	w.addInput(in, name, label, mid, typ)
	return true
}

// mayVary tells whether the first argument is the value that the error is
// about, which may have inputs in it.
func (f *inputFunc) mayVary() bool {
	return f.Name == "about" || f.Name == "normal" || f.Name == "student"
}

// fits holds the type of an argument against that of the input.
func (w *rewriter) fits(f *inputFunc, arg hclsyntax.Expression, t value.Type, what role, typ value.Type, i int) bool {
	want := typ
	switch what {
	case roleWidth:
		if d, ok := typ.Difference(); ok {
			want = d
		}
	case rolePlain:
		want = value.NumberType(quantity.Ratio)
	}
	want.Count, t.Count = false, false
	switch {
	case t.Kind != value.Number && t.Kind != value.Point:
		w.say(compile.WrongArg, arg.Range(), "%s in %s is %s, but an input is one number.", w.textAt(arg.Range()), f.Name, t)
		return false
	case t.Kind != want.Kind || t.Dim != want.Dim:
		mend := want.Dim.Example()
		if want.Kind == value.Point {
			mend = "celsius(20)"
		} else if what == rolePlain || want.Dim == quantity.Ratio {
			mend = "a number without unit"
		}
		also := ""
		if v, ok := w.zero(arg); ok && v {
			also = " Zero has its unit too."
		}
		w.say(compile.WrongArg, arg.Range(), "%s in %s is %s, but %s is wanted: write %s.%s", w.textAt(arg.Range()), f.Name, t, want, mend, also)
		return false
	}
	return true
}

// zero tells whether a nought is written there.
func (w *rewriter) zero(arg hclsyntax.Expression) (is, ok bool) {
	l, ok := arg.(*hclsyntax.LiteralValueExpr)
	return ok && strings.Trim(w.textAt(l.SrcRange), "0.") == "", ok
}

// known holds that an argument has a value, and where it may not vary, that no
// input is in it.
func (w *rewriter) known(f *inputFunc, arg hclsyntax.Expression, p *formula.Program, mayVary bool) bool {
	v := p.Eval(w.env(nil))
	if v.State != value.Present || math.IsNaN(v.Num) || math.IsInf(v.Num, 0) {
		w.say(compile.NoValue, arg.Range(), "%s in %s has no value: %s.", w.textAt(arg.Range()), f.Name, or(v.Why, "something in it is not known"))
		return false
	}
	if mayVary {
		return true
	}
	for _, r := range p.Refs() {
		if !w.cell(r.Name).exact {
			w.say(compile.WrongArg, arg.Range(), "%s in %s has an uncertainty itself. Write a number; what is itself uncertain is the first argument of about, normal or student, or added to the input.", w.textAt(arg.Range()), f.Name)
			return false
		}
	}
	return true
}
