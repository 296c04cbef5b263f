package cli

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/spf13/cobra"

	"waywright/checks/catalogue"
	"waywright/checks/propagate"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/cmd/waywright/internal/voice"
	"waywright/procedures/diagnose"
	"waywright/procedures/formula"
)

func (a *app) calcCommand() *cobra.Command {
	var list, page bool
	o := calcOptions{}
	c := &cobra.Command{
		Use:   "calc EXPRESSION",
		Short: "Any computation of the library at the prompt, with units and uncertainty",
		Long: `Work out an expression of the procedure language. Every number has its unit:
mm(0.02), thou(2), deg(5). The name of a function alone explains the function.

What is uncertain is written as a function too, because the language is HCL, and
HCL has neither ± nor ~ between two values:

  about(mm(20.011), um(3))       expanded uncertainty U, k = 2
  about(mm(20.011), um(3), 3)    the same with k = 3; a fourth number is its
                                 degrees of freedom
  normal(x, u)                   standard uncertainty u
  student(x, s, dof)             standard deviation s known with some degrees of freedom
  takes(x1, x2, …)               repeated observations
  rectangular(lo, hi)            limits; also triangular, arcsine, trapezoid and
                                 curvilinear_trapezoid

Each of them, wherever it stands, is an input of its own, independent of all
others. To use one twice, name it with --with; a named value may use those named
before it, and what they share is counted once. Two named inputs that are not
independent have a --correlation.

The result has its expanded uncertainty U for 95 %, or for --level, with the
factor of Student's distribution at the effective degrees of freedom (JCGM 100).
Where the formula has a kink or bends too much for that, or with --draw, the
errors are drawn (JCGM 101), the same ones each time unless --seed is another;
--linear keeps to JCGM 100 whatever the formula.
Coefficients of expansion from the table count as known to 1 µm/m/K.

For sums of other trades there are plain numbers, pi, and the functions at the
end of the list.`,
		Example: `  waywright calc 'set_over(um(170), mm(300), mm(250))'
  waywright calc 'inch(1.2538)' --in mm
  waywright calc 'set_over(about(um(170), um(4)), about(mm(300), mm(1)), mm(250))' --budget
  waywright calc '(a - b)/2' --with 'a = about(mm(20.011), um(3))' --with 'b = takes(mm(19.982), mm(19.985))'
  waywright calc 'abs(about(um(1), um(3)))' --level 0.99 --json
  waywright calc 'x*x' --with 'x = rectangular(mm(9), mm(11))' --draw --adaptive
  waywright calc set_over
  waywright calc --list
  waywright calc --list --html > functions.html`,
		Args: func(c *cobra.Command, args []string) error {
			if list || page {
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
			if page {
				return a.referencePage(list, o.json)
			}
			if list {
				return a.functions(o.json)
			}
			if f, ok := lookup(strings.TrimSpace(args[0])); ok {
				return a.function(f, o.json)
			}
			return a.calc(args[0], o)
		},
	}
	c.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return cannot("%w. An expression that begins with a minus goes behind two: waywright calc -- '-um(5)'", err)
	})
	f := c.Flags()
	f.BoolVar(&list, "list", false, "all functions, with a line about each")
	f.BoolVar(&page, "html", false, "with --list: the reference of all functions as a page, to save in a file")
	f.StringVar(&o.in, "in", "", "the `unit` of the result, such as mm, thou or arcsec")
	f.StringArrayVar(&o.with, "with", nil, "a named `value`, 'd = about(mm(20.011), um(3))'; may stand several times")
	f.StringArrayVar(&o.correlation, "correlation", nil, "the `correlation` of two inputs of --with, 'x, y = 0.9'; may stand several times")
	f.StringVar(&o.level, "level", "", "the coverage `probability` of U, such as 0.99; 0.95 where none is given")
	f.BoolVar(&o.budget, "budget", false, "a line for each input: what it adds to the uncertainty")
	f.BoolVar(&o.draw, "draw", false, "draw the errors in any case, and hold the sensitivities against that")
	f.BoolVar(&o.linear, "linear", false, "by sensitivities alone, as JCGM 100 has it, whatever the formula")
	f.IntVar(&o.trials, "trials", 0, "how many times errors are drawn, or with --adaptive at most; draws them")
	f.BoolVar(&o.adaptive, "adaptive", false, "draw errors until the result is stable (JCGM 101, 7.9.4)")
	f.IntVar(&o.digits, "digits", 2, "figures of u that matter for --adaptive and for the comparison: 1 to 4")
	f.Uint64Var(&o.seed, "seed", 0, "the seed of the draws; draws the errors")
	f.BoolVar(&o.json, "json", false, "as JSON, with unrounded numbers")
	return c
}

func functionNames() []string {
	var out []string
	for _, f := range catalogue.All() {
		out = append(out, f.Name)
	}
	for _, f := range inputFuncs {
		out = append(out, f.Name)
	}
	for _, f := range plainFuncs {
		out = append(out, f.Name)
	}
	return out
}

// maxExpression is the longest expression, in bytes: a profile of some ten
// thousand points.
const maxExpression = 1 << 20

// calcOptions are the flags of calc.
type calcOptions struct {
	in, level                            string
	with, correlation                    []string
	budget, draw, linear, adaptive, json bool
	trials, digits                       int
	seed                                 uint64
}

// how reads the flags that say how uncertainty is worked out.
func (o calcOptions) how() (how, error) {
	h := how{level: propagate.Level, trials: o.trials, seed: o.seed, adaptive: o.adaptive, digits: o.digits, straight: o.linear}
	h.draw = o.draw || o.adaptive || o.trials != 0 || o.seed != 0
	if h.draw && h.straight {
		return h, cannot("--linear draws no errors: leave it out, or --draw, --adaptive, --trials and --seed")
	}
	if o.level != "" {
		text, hundred := strings.CutSuffix(strings.TrimSpace(o.level), "%")
		x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
		if hundred || x >= 50 {
			x /= 100
		}
		if err != nil || !(x >= 0.5 && x <= 0.9999) {
			return h, cannot("--level %s: a coverage probability is from 0.5 to 0.9999. Write 0.99 or 99%%", o.level)
		}
		h.level = x
	}
	if o.trials != 0 && (o.trials < fewestTrials || o.trials > mostTrials) {
		return h, cannot("--trials %d: from %s to %s", o.trials, thousands(fewestTrials), thousands(mostTrials))
	}
	if o.digits < 1 || o.digits > 4 {
		return h, cannot("--digits %d: from 1 to 4 figures of u", o.digits)
	}
	if o.seed > 1<<53 {
		return h, cannot("--seed %d: up to %d, so that every reader of JSON has it whole", o.seed, uint64(1<<53))
	}
	return h, nil
}

func (a *app) calc(expr string, o calcOptions) error {
	h, err := o.how()
	if err != nil {
		return err
	}
	s, err := a.sheet(expr, o.with, o.correlation)
	if err != nil {
		return err
	}
	end := s.last()
	t := end.prog.Type()
	if end.v.State != value.Present {
		return cannot("%s has no value: %s", shortened(expr), or(end.v.Why, "something in it is not known"))
	}
	in := o.in
	if in == "" && t.Kind == value.Number && t.Dim == quantity.Angle && math.Abs(end.v.Num) >= math.Pi/180 {
		in = "deg" // whole turns in seconds tell nobody anything
	}
	u, err := unitFor(t, in)
	if err != nil {
		return err
	}
	out := calculated{Expression: expr, Text: diagnose.Plain(formula.Show(end.v, t, u))}
	if end.called != nil {
		out.Plus, out.Source = end.called.Signs, end.called.Source
	}
	out.Tables = s.cites()
	if !ofNumbers(t) {
		return a.notNumbers(s, h, out, o)
	}
	w, err := s.solve(h)
	if err != nil {
		return err
	}
	if s.undrawn != "" && !h.straight {
		a.note("No errors are drawn, whatever the formula: %s.", s.undrawn)
	}
	if o.json {
		return a.json(s.json(out, w, *u))
	}
	if len(s.inputs) == 0 {
		a.printf("%s\n", out.Text)
		if h.draw || o.budget {
			a.note("All numbers in it are exact: there are no errors to draw, and no budget. See: waywright calc about")
		}
	} else {
		s.print(a, w, *u, o.budget)
	}
	if out.Plus != "" {
		a.printf("%s\n", voice.Sentence(out.Plus))
	}
	a.tables(out.Tables)
	return nil
}

// notNumbers answers where the result is a condition, words or a zone.
func (a *app) notNumbers(s *sheet, h how, out calculated, o calcOptions) error {
	if o.json {
		out.Parts = piecesOf(s.last().v, s.last().prog.Type())
		return a.json(out)
	}
	a.printf("%s\n", out.Text)
	a.tables(out.Tables)
	if len(s.inputs) > 0 {
		a.note("This is %s: no uncertainty is worked out for it.", s.last().prog.Type())
	}
	return nil
}

// json is the result for other programs.
func (s *sheet) json(out calculated, w worth, u quantity.Unit) calculated {
	out.Unit, out.Code, out.Level = u.Symbol, u.UCUM, w.level
	keys := keysOf(&s.last().v, "")
	if len(keys) == 1 && keys[0] == "" {
		out.numberJSON = s.numberOf(w, 0, u)
		if len(s.inputs) > 0 {
			out.Text = diagnose.Plain(w.said(0, u))
		}
		return out
	}
	for k, key := range keys {
		n := s.numberOf(w, k, u)
		n.Key = key
		out.Values = append(out.Values, n)
	}
	return out
}

// sheet compiles an expression and the named values before it.
func (a *app) sheet(expr string, with, correlation []string) (*sheet, error) {
	if strings.TrimSpace(expr) == "" {
		return nil, cannot("the expression is empty. Example: waywright calc 'set_over(um(170), mm(300), mm(250))'")
	}
	if len(with) > maxNamed {
		return nil, cannot("there are %d named values, and there is room for %d", len(with), maxNamed)
	}
	s := newSheet()
	for i, text := range with {
		s.later = namesOf(with[i:])
		if err := a.named(s, text); err != nil {
			return nil, err
		}
	}
	s.later = nil
	if err := s.correlate(correlation); err != nil {
		return nil, err
	}
	if len(expr) > maxExpression {
		return nil, cannot("the expression has %d characters, and there is room for %d", len(expr), maxExpression)
	}
	if mend := asTyped(expr); mend != "" {
		return nil, cannot("%q is written as at the machine. In an expression the unit is a function: %s", shortened(expr), mend)
	}
	if mend := asSigned(expr); mend != "" {
		return nil, cannot("%q: %s", shortened(expr), mend)
	}
	if s.add(piece{"expression", expr}, 0, "") {
		s.expansions()
		return s, nil
	}
	s.show(a)
	if near := diagnose.Nearest(strings.TrimSpace(expr), functionNames()); near != "" && !strings.ContainsAny(expr, "()[]{}\" ") {
		return nil, cannot("%q cannot be worked out. Did you mean the function %s?", shortened(expr), near)
	}
	return nil, cannot("%q cannot be worked out. Functions are listed by: waywright calc --list", shortened(expr))
}

// namesOf are the names that some --with give.
func namesOf(with []string) []string {
	var out []string
	for _, text := range with {
		name, _, _ := strings.Cut(text, "=")
		out = append(out, strings.TrimSpace(name))
	}
	return out
}

// named adds a value of --with.
func (a *app) named(s *sheet, text string) error {
	const example = "Write --with 'd = about(mm(20.011), um(3))'"
	name, rest, ok := strings.Cut(text, "=")
	from := len(name) + 1
	name = strings.TrimSpace(name)
	_, twice := s.names[name]
	switch {
	case len(text) > maxExpression:
		return cannot("--with %s: it has %d characters, and there is room for %d", shortened(text), len(text), maxExpression)
	case !ok || strings.TrimSpace(rest) == "" || strings.HasPrefix(rest, "="):
		return cannot("--with %q: a name, =, and what it stands for. %s", shortened(text), example)
	case !hclsyntax.ValidIdentifier(name) || strings.Contains(name, "-"):
		return cannot("--with %q: %q is no name. A name is letters, figures and _, and begins with a letter", shortened(text), name)
	case slices.Contains(reserved, name), slices.Contains([]string{"for", "in", "if", "true", "false", "null"}, name):
		return cannot("--with %q: %s is a word of the language. Choose another name", shortened(text), name)
	case twice:
		return cannot("--with %q: %s stands for something already. Choose another name", shortened(text), name)
	}
	if mend := asTyped(rest); mend != "" {
		return cannot("--with %q is written as at the machine. In an expression the unit is a function: %s = %s", shortened(text), name, mend)
	}
	if mend := asSigned(rest); mend != "" {
		return cannot("--with %q: %s", shortened(text), mend)
	}
	if !s.add(piece{"--with " + name, text}, from, name) {
		s.show(a)
		return cannot("%s cannot be worked out", name)
	}
	if c := s.cell(name); c.v.State != value.Present {
		return cannot("%s has no value: %s", shortened(text), or(c.v.Why, "something in it is not known"))
	}
	return nil
}

// asSigned says how an uncertainty, or a power, is written where a sign for it
// was.
func asSigned(expr string) string {
	if before, _, ok := strings.Cut(expr, "^"); ok && !strings.Contains(before, `"`) {
		return "HCL has no sign ^. A square is x*x or square(x), any other power of a plain number power(x, n)"
	}
	for _, sign := range []string{"±", "+/-", "~", "+-"} {
		if before, after, ok := strings.Cut(expr, sign); ok && !strings.Contains(before, `"`) {
			if sign == "+-" && strings.TrimSpace(before) != "" { // x + -3 is arithmetic
				continue
			}
			return fmt.Sprintf("HCL has no sign %s. What is uncertain is a function: about(%s, %s)", sign, or(strings.TrimSpace(before), "mm(20.011)"), or(strings.TrimSpace(after), "um(3)"))
		}
	}
	return ""
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
	switch u.Dim {
	case quantity.Length:
		return fmt.Sprintf("mm(%.9g)", typed[0].Value)
	case quantity.Angle:
		return fmt.Sprintf("deg(%.9g)", typed[0].Value*180/math.Pi)
	case quantity.Ratio:
		return fmt.Sprintf("um(%.9g)/m(1)", typed[0].Value*1e6)
	}
	return ""
}

func shortened(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return s
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
	if t.Kind == value.Point && u.Point {
		return &u, nil
	}
	if t.Kind != value.Number || u.Dim != t.Dim || u.Point {
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
	Tables  []string `json:"values_from,omitempty"`
	Example string   `json:"example,omitempty"`
	Gives   string   `json:"gives,omitempty"`
}

func describedFunc(f *catalogue.Func) described {
	d := described{Name: f.Name, Call: f.Signature(), Doc: f.Doc, Signs: f.Signs, Source: f.Source, Tables: f.Tables, Example: f.Example.Expr, Gives: f.Example.Want}
	for _, p := range f.Params {
		d.Params = append(d.Params, fmt.Sprintf("%s: %s", p.Name, p.Doc))
	}
	return d
}

func (a *app) functions(asJSON bool) error {
	groups := []struct {
		title, name string
		of          []*catalogue.Func
	}{
		{"Inputs with their uncertainty, in calc only. Each is independent of all others.", "inputs", nil},
		{"Functions of procedures", "functions", catalogue.All()},
		{"Plain mathematics, in calc only", "mathematics", plainFuncs},
	}
	for _, f := range inputFuncs {
		groups[0].of = append(groups[0].of, &f.Func)
	}
	if asJSON {
		out := map[string][]described{}
		for _, g := range groups {
			out[g.name] = []described{}
			for _, f := range g.of {
				out[g.name] = append(out[g.name], describedFunc(f))
			}
		}
		return a.json(out)
	}
	for i, g := range groups {
		if i > 0 {
			a.printf("\n")
		}
		a.printf("%s\n\n", g.title)
		for _, f := range g.of {
			a.printf("%s\n%s", f.Signature(), fill(f.Doc, "    ", 78))
		}
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
	for _, table := range d.Tables {
		a.printf("%s", fill("Values from: "+table, "  ", 78))
	}
	if d.Example != "" {
		a.printf("  Example: %s\n  gives %s\n", d.Example, d.Gives)
	}
	return nil
}
