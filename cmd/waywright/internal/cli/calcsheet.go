package cli

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/catalogue"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/procedures/diagnose"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
)

// sheet is a calculation: named values, each worked out from those before it,
// the last being the expression itself. Inputs written within an expression
// are values of their own.
type sheet struct {
	src   []byte // all that was written, one piece after the other
	parts []piece
	funcs compile.Funcs

	cells  []*cell
	names  map[string]compile.Symbol // of cells, as values of given
	inputs []*input
	diags  hcl.Diagnostics

	later   []string // names that --with gives further on
	undrawn string   // why no errors can be drawn; "" where they can
}

// piece is one thing that was written: the expression, or what follows --with.
type piece struct{ name, text string }

// cell is a value of the sheet.
type cell struct {
	name   string
	prog   *formula.Program // of an input its middle
	input  int              // index into the sheet's inputs; −1 for a formula
	exact  bool             // no input is in it
	called *catalogue.Func  // the function that it is a call of, if it is
	v      value.Value      // with all inputs as they are
	traits formula.Traits
}

// input is an independent source of error.
type input struct {
	shaped
	label     string
	typ       value.Type // of its value
	cell      *cell      // nil for a coefficient of expansion
	expansion string     // the material
	mix       []mixed    // the sources of its error; nil stands for its own alone
}

// the most named values of one calculation
const maxNamed = 200

func newSheet() *sheet {
	return &sheet{funcs: calcFuncs(), names: map[string]compile.Symbol{}}
}

// add compiles a piece; the expression begins at the byte from of its text.
// It is false where something was wrong, which then stands in diags.
func (s *sheet) add(p piece, from int, name string) bool {
	s.parts = append(s.parts, p)
	start := hcl.Pos{Line: 1 + strings.Count(p.text[:from], "\n"), Byte: len(s.src) + from}
	start.Column = 1 + len([]rune(p.text[strings.LastIndexByte(p.text[:from], '\n')+1:from]))
	s.src = append(append(s.src, p.text...), '\n')
	e, diags := hclsyntax.ParseExpression([]byte(p.text[from:]), p.name, start)
	if s.diags = append(s.diags, diags...); diags.HasErrors() {
		return false
	}
	w := &rewriter{sheet: s, name: name}
	e = w.expr(e)
	if s.diags.HasErrors() {
		return false
	}
	if name != "" && w.is(e) { // an input with the name of its own
		return true
	}
	return s.formula(e, name)
}

// formula adds a value that is worked out from those before it.
func (s *sheet) formula(e hclsyntax.Expression, name string) bool {
	prog, ok := s.compile(e, "the expression")
	if !ok {
		return false
	}
	c := &cell{name: name, prog: prog, input: -1, called: s.called(e)}
	s.put(c)
	return true
}

// compile compiles an expression in which inputs have been put apart.
func (s *sheet) compile(e hclsyntax.Expression, what string) (*formula.Program, bool) {
	sc := &compile.Scope{Names: map[formula.Space]map[string]compile.Symbol{formula.Given: s.names}, Funcs: s.funcs}
	prog, diags := compile.Expr(e, s.src, sc, compile.Any(what))
	s.diags = append(s.diags, diags...)
	return prog, prog != nil && !diags.HasErrors()
}

// put adds a cell, works it out, and lets those after it use it.
func (s *sheet) put(c *cell) {
	e := s.env(nil)
	c.v = c.prog.Eval(e)
	c.exact = c.input < 0 && !slices.ContainsFunc(c.prog.Refs(), func(r formula.Ref) bool { return !s.cell(r.Name).exact })
	c.traits = c.prog.Traits(func(r formula.Ref) formula.Traits {
		if r.Space == formula.Expansion {
			return formula.Traits{Varies: true}
		}
		return s.cell(r.Name).traits
	})
	typ := c.prog.Type()
	if c.input >= 0 {
		typ = s.inputs[c.input].typ
		c.traits.Varies, c.traits.NonNegative = true, false
	}
	s.cells = append(s.cells, c)
	s.names[c.name] = compile.Symbol{Type: typ}
}

func (s *sheet) cell(name string) *cell {
	for _, c := range s.cells {
		if c.name == name {
			return c
		}
	}
	panic("cli: calc has no value " + name)
}

// addInput adds an input as a cell, its middle being an expression or, where
// there is none, what its arguments came to.
func (s *sheet) addInput(in shaped, name, label string, mid *formula.Program, typ value.Type) {
	typ.Count = false
	if mid == nil {
		v := value.Num(in.mid)
		if typ.Kind == value.Point {
			v = value.Celsius(in.mid)
		}
		mid = formula.Const(v, typ)
	}
	c := &cell{name: name, prog: mid, input: len(s.inputs)}
	same := 1
	for _, other := range s.inputs {
		if other.label == label || strings.HasPrefix(other.label, label+" [") {
			same++
		}
	}
	if same > 1 {
		label = fmt.Sprintf("%s [%d]", label, same)
	}
	s.inputs = append(s.inputs, &input{shaped: in, label: label, typ: typ, cell: c})
	s.put(c)
}

// uExpansion is the standard uncertainty of a coefficient of expansion from a
// table, 1/K (measure rule 7).
const uExpansion = 1e-6

// expansions makes inputs of the coefficients of expansion that the values
// stand on, where there are other inputs. Figures alone are exact.
func (s *sheet) expansions() {
	if len(s.inputs) == 0 {
		return
	}
	seen := map[string]bool{}
	for _, c := range s.cells {
		for _, r := range c.prog.Inputs() {
			if r.Space != formula.Expansion {
				continue
			}
			c.exact = false
			if !seen[r.Name] {
				seen[r.Name] = true
				s.inputs = append(s.inputs, &input{
					shaped: shaped{u: uExpansion, name: "normal"}, label: "expansion of " + strings.ReplaceAll(r.Name, "_", " "),
					typ: value.NumberType(quantity.Dim{Temp: -1}), expansion: r.Name,
				})
			}
		}
	}
	for _, c := range s.cells {
		c.exact = c.exact && !slices.ContainsFunc(c.prog.Refs(), func(r formula.Ref) bool { return !s.cell(r.Name).exact })
	}
}

// sheetEnv answers the names of a sheet.
type sheetEnv struct {
	vals      map[string]value.Value
	expansion map[string]float64
}

func (e *sheetEnv) Value(r formula.Ref) value.Value {
	if r.Space == formula.Expansion {
		return value.Num(e.expansion[r.Name])
	}
	if v, ok := e.vals[r.Name]; ok {
		return v
	}
	return value.NotYet()
}

// env works all cells out with the inputs shifted; nil stands for no shifts.
func (s *sheet) env(shift []float64) *sheetEnv {
	e := &sheetEnv{vals: make(map[string]value.Value, len(s.cells)), expansion: map[string]float64{}}
	if shift != nil {
		for i, in := range s.inputs {
			if in.cell == nil {
				e.expansion[in.expansion] = shift[i]
			}
		}
	}
	for _, c := range s.cells {
		v := c.v
		if shift != nil && !c.exact {
			if v = c.prog.Eval(e); c.input >= 0 {
				v.Num += s.moved(c.input, shift)
			}
		}
		e.vals[c.name] = v
	}
	return e
}

// model is what the inputs are worth.
func (s *sheet) model() (*uncert.Model, error) {
	var sources []uncert.Source
	for _, in := range s.inputs {
		sources = append(sources, uncert.Source{ID: in.label, U: in.u, DoF: in.dof, Shape: in.shape})
	}
	return uncert.New(nil, nil, sources)
}

// called returns the function that an expression is a call of, if it is.
func (s *sheet) called(e hclsyntax.Expression) *catalogue.Func {
	if call, ok := e.(*hclsyntax.FunctionCallExpr); ok {
		return s.funcs[call.Name]
	}
	return nil
}

// textAt returns what is written at a place, on one line.
func (s *sheet) textAt(r hcl.Range) string {
	if !r.CanSliceBytes(s.src) {
		return ""
	}
	return strings.Join(strings.Fields(string(r.SliceBytes(s.src))), " ")
}

// say notes what is wrong at a place.
func (s *sheet) say(code compile.Code, at hcl.Range, format string, args ...any) {
	s.diags = append(s.diags, &hcl.Diagnostic{Severity: hcl.DiagError, Summary: code.Summary(), Detail: fmt.Sprintf(format, args...), Subject: at.Ptr(), Extra: code})
}

// show prints what is wrong, each with its place.
func (s *sheet) show(a *app) {
	for _, d := range s.diags {
		text, before := "", ""
		if d.Subject != nil {
			for _, p := range s.parts {
				if p.name == d.Subject.Filename {
					text = p.text
				}
			}
			if strings.HasPrefix(d.Subject.Filename, "--") {
				before = d.Subject.Filename + ": "
			}
		}
		summary, detail := calcSaid(d)
		a.note("%s%s: %s", before, summary, diagnose.Plain(strings.ReplaceAll(detail, "\n", " ")))
		if d.Subject != nil && d.Subject.Start.Line == 1 && d.Subject.End.Line == 1 && text != "" && !strings.Contains(text, "\n") {
			a.note("  %s\n  %s%s", diagnose.Plain(text), strings.Repeat(" ", max(0, d.Subject.Start.Column-1)), strings.Repeat("^", max(1, d.Subject.End.Column-d.Subject.Start.Column)))
		}
	}
}

// nearName is the name that was perhaps meant, or "".
func (s *sheet) nearName(name string) string {
	var known []string
	for n := range maps.Keys(s.names) {
		if !strings.HasPrefix(n, "#") {
			known = append(known, n)
		}
	}
	slices.Sort(known)
	return diagnose.Nearest(name, known)
}

func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
