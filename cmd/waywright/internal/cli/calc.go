package cli

import (
	"fmt"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/spf13/cobra"

	"waywright/checks/catalogue"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/cmd/waywright/internal/voice"
	"waywright/procedures/diagnose"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
)

func (a *app) calcCommand() *cobra.Command {
	var list, asJSON bool
	var in string
	c := &cobra.Command{
		Use:   "calc EXPRESSION",
		Short: "Any computation of the library at the prompt, with units",
		Long: `Work out an expression of the procedure language. Every number has its unit:
mm(0.02), thou(2), deg(5). The name of a function alone explains the function.`,
		Example: `  waywright calc 'set_over(um(170), mm(300), mm(250))'
  waywright calc 'inch(1.2538)' --in mm
  waywright calc set_over
  waywright calc --list`,
		Args: func(c *cobra.Command, args []string) error {
			if list {
				return takes(0, 0, "no expression with --list")(c, args)
			}
			return takes(1, 1, "one expression; it stands in quotes")(c, args)
		},
		ValidArgsFunction: func(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return names(functionNames(), typed)
		},
		RunE: func(c *cobra.Command, args []string) error {
			if list {
				return a.functions(asJSON)
			}
			if f, ok := catalogue.Lookup(args[0]); ok {
				return a.function(f, asJSON)
			}
			return a.calc(args[0], in, asJSON)
		},
	}
	c.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return cannot("%w. An expression that begins with a minus goes behind two: waywright calc -- '-um(5)'", err)
	})
	c.Flags().BoolVar(&list, "list", false, "all functions, with a line about each")
	c.Flags().StringVar(&in, "in", "", "the unit of the result, such as mm, thou or arcsec")
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	return c
}

func functionNames() []string {
	var out []string
	for _, f := range catalogue.All() {
		out = append(out, f.Name)
	}
	return out
}

// maxExpression is the longest expression, in bytes.
const maxExpression = 4096

// calculated is what calc --json says.
type calculated struct {
	Expression string   `json:"expression"`
	Text       string   `json:"text"`
	Value      *float64 `json:"value,omitempty"` // in Unit, where it is one number
	Unit       string   `json:"unit,omitempty"`
	Code       string   `json:"ucum,omitempty"`
	Plus       string   `json:"sign,omitempty"`
	Source     string   `json:"source,omitempty"`
}

func (a *app) calc(expr, in string, asJSON bool) error {
	p, f, err := a.compiled(expr)
	if err != nil {
		return err
	}
	v := p.Eval(unknown{})
	if v.State != value.Present {
		return cannot("%s has no value: %s", expr, or(v.Why, "something in it is not known"))
	}
	u, err := unitFor(p.Type(), in)
	if err != nil {
		return err
	}
	out := calculated{Expression: expr, Text: diagnose.Plain(formula.Show(v, p.Type(), u))}
	if f != nil {
		out.Plus, out.Source = f.Signs, f.Source
	}
	if u != nil && (v.Kind == value.Number || v.Kind == value.Point) && p.Type().Elem == nil {
		x := u.Of(v.Num)
		out.Value, out.Unit, out.Code = &x, u.Symbol, u.UCUM
	}
	if asJSON {
		return a.json(out)
	}
	a.printf("%s\n", out.Text)
	if out.Plus != "" {
		a.printf("%s\n", voice.Sentence(out.Plus))
	}
	return nil
}

// compiled compiles an expression, and returns the function that it is a call
// of, where it is one.
func (a *app) compiled(expr string) (*formula.Program, *catalogue.Func, error) {
	if len(expr) > maxExpression {
		return nil, nil, cannot("the expression has %d characters, and there is room for %d", len(expr), maxExpression)
	}
	if strings.TrimSpace(expr) == "" {
		return nil, nil, cannot("the expression is empty. Example: waywright calc 'set_over(um(170), mm(300), mm(250))'")
	}
	if mend := asTyped(expr); mend != "" {
		return nil, nil, cannot("%q is written as at the machine. In an expression the unit is a function: %s", shortened(expr), mend)
	}
	src := []byte(expr)
	e, hds := hclsyntax.ParseExpression(src, "expression", hcl.InitialPos)
	if !hds.HasErrors() {
		var p *formula.Program
		if p, hds = compile.Expr(e, src, &compile.Scope{}, compile.Any("the expression")); p != nil && !hds.HasErrors() {
			return p, called(e), nil
		}
	}
	for _, d := range hds {
		a.note("%s: %s", d.Summary, diagnose.Plain(strings.ReplaceAll(d.Detail, "\n", " ")))
		if d.Subject != nil && d.Subject.Start.Line == 1 && d.Subject.End.Line == 1 && !strings.Contains(expr, "\n") {
			a.note("  %s\n  %s%s", diagnose.Plain(expr), strings.Repeat(" ", max(0, d.Subject.Start.Column-1)), strings.Repeat("^", max(1, d.Subject.End.Column-d.Subject.Start.Column)))
		}
	}
	if near := diagnose.Nearest(strings.TrimSpace(expr), functionNames()); near != "" {
		return nil, nil, cannot("%q cannot be worked out. Did you mean the function %s?", shortened(expr), near)
	}
	return nil, nil, cannot("%q cannot be worked out. Functions are listed by: waywright calc --list", shortened(expr))
}

// asTyped returns how a value that was typed as at the machine, 0.02mm, is
// written in an expression; it is empty where that is not what was typed.
func asTyped(expr string) string {
	typed, err := quantity.Parse(expr, quantity.Context{Any: true})
	if err != nil || len(typed) != 1 || !typed[0].HasUnit {
		return ""
	}
	u := typed[0].Unit
	for _, f := range []string{u.Name, map[string]string{"in": "inch"}[u.Name]} {
		if _, ok := catalogue.Lookup(f); ok {
			return fmt.Sprintf("%s(%.9g)", f, u.Of(typed[0].Value))
		}
	}
	return ""
}

func shortened(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return s
}

func called(e hclsyntax.Expression) *catalogue.Func {
	call, ok := e.(*hclsyntax.FunctionCallExpr)
	if !ok {
		return nil
	}
	f, ok := catalogue.Lookup(call.Name)
	if !ok {
		return nil
	}
	return f
}

// unitFor returns the unit of a result: the one asked for, or the usual one of
// its dimension; nil where it has none.
func unitFor(t value.Type, in string) (*quantity.Unit, error) {
	for t.Elem != nil {
		t = *t.Elem
	}
	if in == "" {
		if t.Kind != value.Number && t.Kind != value.Point {
			return nil, nil
		}
		u := t.Dim.Default()
		if t.Kind == value.Point {
			u, _ = quantity.Lookup("celsius")
		}
		return &u, nil
	}
	u, err := quantity.Lookup(in)
	if err != nil {
		return nil, cannot("--in %s: %w", in, err)
	}
	if t.Kind != value.Number && t.Kind != value.Point || u.Dim != t.Dim || u.Point != (t.Kind == value.Point) {
		return nil, cannot("--in %s: the result is %s, and %s is %s", in, t, in, u.What())
	}
	return &u, nil
}

// described is a function in calc --list --json.
type described struct {
	Name    string   `json:"name"`
	Call    string   `json:"call"`
	Doc     string   `json:"doc"`
	Params  []string `json:"parameters,omitempty"`
	Signs   string   `json:"sign,omitempty"`
	Source  string   `json:"source,omitempty"`
	Example string   `json:"example,omitempty"`
	Gives   string   `json:"gives,omitempty"`
}

func describedFunc(f *catalogue.Func) described {
	d := described{Name: f.Name, Call: f.Signature(), Doc: f.Doc, Signs: f.Signs, Source: f.Source, Example: f.Example.Expr, Gives: f.Example.Want}
	for _, p := range f.Params {
		d.Params = append(d.Params, fmt.Sprintf("%s: %s", p.Name, p.Doc))
	}
	return d
}

func (a *app) functions(asJSON bool) error {
	if asJSON {
		out := []described{}
		for _, f := range catalogue.All() {
			out = append(out, describedFunc(f))
		}
		return a.json(struct {
			Functions []described `json:"functions"`
		}{out})
	}
	for _, f := range catalogue.All() {
		a.printf("%s\n%s", f.Signature(), fill(f.Doc, "    ", 78))
	}
	return nil
}

func (a *app) function(f *catalogue.Func, asJSON bool) error {
	d := describedFunc(f)
	if asJSON {
		return a.json(d)
	}
	a.printf("%s\n%s", d.Call, fill(d.Doc, "  ", 78))
	for _, p := range d.Params {
		a.printf("%s", fill(p, "    ", 78))
	}
	if d.Signs != "" {
		a.printf("%s", fill("Sign: "+d.Signs, "  ", 78))
	}
	if d.Source != "" {
		a.printf("%s", fill("Source: "+d.Source, "  ", 78))
	}
	if d.Example != "" {
		a.printf("  Example: %s\n  gives %s\n", d.Example, d.Gives)
	}
	return nil
}
