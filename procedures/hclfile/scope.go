package hclfile

import (
	"maps"
	"slices"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/formula"
	"waywright/procedures/formula/compile"
	"waywright/procedures/register"
)

// sym is a name with its type; one that is not ready has a definition that is
// wrong, and is taken without further words.
type sym struct {
	typ   value.Type
	unit  *quantity.Unit
	ready bool
	no    string // why it cannot be used here, though it is known
}

// scope says which names an expression may use (semantics rules 3 to 5).
type scope struct {
	none    bool           // no names at all
	below   *node          // only what is written above this block; nil: everything
	gate    bool           // below is the place of the first gate that names a correction
	step    *node          // inside this step its names mean the present round
	each    map[string]sym // each.x
	own     map[string]sym // amount, moved, attempt
	hidden  map[string]sym // nil outside rehearsals
	only    func(formula.Space) string
	outside bool        // machine and accepted may stand
	guess   *value.Type // what an outside value is where nothing else is known

	made *compile.Scope
}

// with returns a copy that can be changed.
func (s *scope) with() *scope {
	out := *s
	out.made = nil
	return &out
}

// inside returns the scope of an item of a step: what is above it, the step's
// own names in the present round.
func (s *scope) inside(item, step *node) *scope {
	out := s.with()
	out.below, out.step = item, step
	return out
}

func (s *scope) eachPlus(name string, v sym) map[string]sym {
	s.made = nil
	out := maps.Clone(s.each)
	if out == nil {
		out = map[string]sym{}
	}
	out[name] = v
	return out
}

// givensOnly is for what is settled before the steps.
func givensOnly(s formula.Space) string {
	if s == formula.Reading || s == formula.Result {
		return "is not known yet: givens are asked before the steps"
	}
	return ""
}

// fromOnly is for the from of a given.
func fromOnly(s formula.Space) string { return givensOnly(s) }

// eachOnly is for keys.
func eachOnly(s formula.Space) string {
	if s == formula.Reading || s == formula.Result || s == formula.Table {
		return "cannot give keys: keys are words in the file, or numbered(n) of a given"
	}
	return ""
}

// scopeFor makes the compiler's form of a scope.
func (r *reader) scopeFor(s *scope) *compile.Scope {
	if s.made != nil {
		return s.made
	}
	out := &compile.Scope{Names: map[formula.Space]map[string]compile.Symbol{}, References: map[string][]string{}}
	s.made = out
	if s.none {
		return out
	}
	spaces := map[string]formula.Space{"given": formula.Given, "reading": formula.Reading, "result": formula.Result}
	for word, space := range spaces {
		names := map[string]compile.Symbol{}
		for name, d := range r.decls[word] {
			names[name] = r.symbol(s, space, d)
		}
		out.Names[space] = names
	}
	for word, ds := range r.decls {
		if _, value := spaces[word]; !value {
			out.References[word] = slices.Sorted(maps.Keys(ds))
		}
	}
	out.Names[formula.Table] = r.tableNames(s)
	out.Names[formula.Each] = symbols(s.each)
	out.Names[formula.Own] = symbols(s.own)
	out.Names[formula.Hidden] = symbols(s.hidden)
	out.Machine, out.Accepted = s.outside, s.outside
	out.MachineType = func(path string) (compile.Symbol, bool) { return r.machineType(s, path) }
	out.AcceptedResults = func(name string) (map[string]compile.Symbol, bool) { return r.acceptedResults(s, name) }
	return out
}

func symbols(in map[string]sym) map[string]compile.Symbol {
	out := map[string]compile.Symbol{}
	for name, v := range in {
		x := compile.Symbol{Unit: v.unit, Unusable: v.no}
		if v.ready {
			x.Type = v.typ
		}
		out[name] = x
	}
	return out
}

// symbol is a name of the file as an expression sees it.
func (r *reader) symbol(s *scope, space formula.Space, d *decl) compile.Symbol {
	out := compile.Symbol{Unit: d.unit}
	if s.only != nil {
		out.Unusable = s.only(space)
	}
	if s.below != nil && !d.node.before(s.below) && out.Unusable == "" {
		out.Unusable = r.below(d, s)
	}
	if !d.ready {
		return out
	}
	out.Type = d.outer
	if s.step != nil && d.step == s.step {
		out.Type = d.inner
		out.Round = s.step.child("each") != nil
	}
	return out
}

// tableNames are the rows of all tables in sight, the nearest definition of a
// name winning.
func (r *reader) tableNames(s *scope) map[string]compile.Symbol {
	if r.rows == nil {
		r.rows = map[string]compile.Symbol{}
		seen := map[string]bool{}
		for _, h := range r.shared {
			for name, n := range h.defs["table"] {
				if !seen[name] {
					r.addRows(h, n)
				}
				seen[name] = true
			}
		}
	}
	if s.only == nil || s.only(formula.Table) == "" {
		return r.rows
	}
	out := map[string]compile.Symbol{}
	for name, sym := range r.rows {
		sym.Unusable = s.only(formula.Table)
		out[name] = sym
	}
	return out
}

// addRows adds the rows of a table. A table has to be read to know their
// types; it is not used for that.
func (r *reader) addRows(h *home, n *node) {
	t, ok := h.made[n].(*procedures.Table)
	if !ok {
		t = r.readTable(n)
		h.made[n] = t
	}
	for _, x := range t.Rows {
		r.rows[t.Name+"."+x.Name] = compile.Symbol{Type: x.Type, Unit: &x.Unit}
	}
}

// row returns a row of a table by "t.row", or nil.
func (r *reader) row(name string) *procedures.Row {
	for _, t := range r.p.Tables {
		for _, row := range t.Rows {
			if t.Name+"."+row.Name == name {
				return row
			}
		}
	}
	return nil
}

// machineType is an entry of the machine's register as from sees it.
func (r *reader) machineType(s *scope, path string) (compile.Symbol, bool) {
	if size, ok := register.SizeOf(path); ok {
		return compile.Symbol{Type: size.Type, Unit: size.Unit}, true
	}
	return compile.Symbol{}, s.guess == nil || s.guess.Kind == 0
}

// want says what an expression must give.
type want struct {
	typ     *value.Type  // a value of this kind and dimension
	kinds   []value.Kind // one of these kinds
	any     bool         // whatever it is
	result  bool         // of a result: no zone
	around  bool         // a list of angles, or a count
	judged  bool         // numbers, one or many
	amount  bool         // a number, or one for each station
	limitOf string       // it is a limit of this: style of its own message
	what    string
}

// formula compiles the expression of an attribute; nil where it is not
// written or wrong.
func (r *reader) formula(n *node, name string, sc *scope, w want) *formula.Program {
	e := n.attr(name)
	if e == nil {
		return nil
	}
	if w.what == "" {
		w.what = name
	}
	return r.expr(n, e, sc, w)
}

func (r *reader) expr(n *node, e hclsyntax.Expression, sc *scope, w want) *formula.Program {
	cw := compile.Want{What: w.what}
	switch {
	case w.limitOf != "" || w.any || w.around || w.judged || w.amount:
	case w.typ != nil:
		cw.Kinds, cw.Count = []value.Kind{w.typ.Kind}, w.typ.Count
		if d, ok := dimension(*w.typ); ok && !w.typ.Count {
			cw.Dim = &d
		}
	default:
		cw.Kinds = w.kinds
	}
	if w.limitOf != "" && w.typ != nil && w.typ.Kind == value.Point { // points are refused by kind
		w.limitOf = ""
		cw.Kinds = []value.Kind{value.Point}
	}
	p, ds := compile.Expr(e, r.bytesOf(e), r.scopeFor(sc), cw)
	r.formulaSays(n, e, ds)
	if p == nil {
		return nil
	}
	r.useTables(p)
	return r.fits(n, e, p, w)
}

// formulaSays adds what the compiler found.
func (r *reader) formulaSays(n *node, e hclsyntax.Expression, ds hcl.Diagnostics) {
	for _, d := range ds {
		at := rng(e.Range())
		if d.Subject != nil {
			at = rng(*d.Subject)
		}
		code := "F023"
		if c, ok := d.Extra.(compile.Code); ok {
			code = string(c)
		}
		r.say(n, code, at, "%s", d.Detail)
	}
}

// fits holds what the compiler cannot know against the want.
func (r *reader) fits(n *node, e hclsyntax.Expression, p *formula.Program, w want) *formula.Program {
	t := p.Type()
	switch {
	case w.around:
		if t.Kind == value.List && t.Elem.Kind == value.Number && t.Elem.Dim == quantity.Angle || t.Kind == value.Number && t.Count {
			return p
		}
		r.say(n, "E301", rng(e.Range()), "around is %s. Write a whole number of even steps, or a list of angles such as [deg(0), deg(90)].", t)
		return nil
	case w.judged:
		if s := scalarOf(t); s.Kind == value.Number || s.Kind == value.Point {
			return p
		}
		r.say(n, "F023", rng(e.Range()), "What is judged against a limit is a number, but this is %s. Name a number, or write a condition with holds.", t)
		return nil
	case w.amount:
		if t.Mean().Kind == value.Number || (t.Kind == value.Profile || t.Kind == value.Turn) && scalarOf(t).Kind == value.Number {
			return p
		}
		r.say(n, "F023", rng(e.Range()), "The amount is a number, or a profile with one amount a station, but this is %s.", t)
		return nil
	case w.limitOf != "" && w.typ != nil:
		return r.limitFits(n, e, p, w)
	case w.result && t.Kind == value.Zone:
		r.say(n, "E301", rng(e.Range()), "A result is a value, but this is %s, which belongs in the within of a gate.", t)
		return nil
	}
	return p
}

// limitFits holds a limit against what it limits.
func (r *reader) limitFits(n *node, e hclsyntax.Expression, p *formula.Program, w want) *formula.Program {
	t, d := p.Type(), w.typ.Dim
	have := scalarOf(t)
	say := func(format string, args ...any) *formula.Program {
		r.say(n, "E304", rng(e.Range()), format, args...)
		return nil
	}
	zone := w.typ.Kind == value.Zone
	switch {
	case zone && t.Kind != value.Zone:
		return say("within takes a zone, but this is %s. Write plus_minus(…) or between(…, …); for one limit write at_most or at_least.", t)
	case !zone && t.Kind == value.Zone:
		return say("This is a zone with two limits. Write it as within, or write one limit here.")
	case have.Kind != value.Number && !zone:
		return say("%s is %s, but this limit is %s. Write the limit as %s, such as %s.", w.limitOf, d, t, d, d.Example())
	case dimOf(t) != d:
		return say("%s is %s, but this limit is %s. Write the limit as %s, such as %s.", w.limitOf, d, dimOf(t), d, d.Example())
	}
	return p
}

// useTables notes the tables that a program uses.
func (r *reader) useTables(p *formula.Program) {
	for _, ref := range p.Refs() {
		if ref.Space != formula.Table || r.p == nil {
			continue
		}
		name := ref.Name
		for i := range name {
			if name[i] == '.' {
				name = name[:i]
				break
			}
		}
		if t := r.table(name); t != nil && !slices.Contains(r.p.Tables, t) {
			r.p.Tables = append(r.p.Tables, t)
		}
	}
}

// condition compiles an expression that is true or false.
func (r *reader) condition(n *node, name string, sc *scope) *formula.Program {
	return r.formula(n, name, sc, want{kinds: []value.Kind{value.Truth}})
}

// time compiles a time.
func (r *reader) time(n *node, name string, sc *scope) *formula.Program {
	t := value.NumberType(quantity.Time)
	p := r.formula(n, name, sc, want{typ: &t})
	if p == nil {
		return nil
	}
	if v, ok := p.Static(); ok && v.State == value.Present && v.Num <= 0 {
		r.say(n, "E113", rng(n.attr(name).Range()), "%s is a time longer than nothing.", name)
	}
	return p
}

// interval compiles the two ends of a range.
func (r *reader) interval(n *node, name string, sc *scope, w want) (out [2]*formula.Program) {
	e := n.attr(name)
	if e == nil {
		return out
	}
	t, ok := bare(e).(*hclsyntax.TupleConsExpr)
	if !ok || len(t.Exprs) != 2 {
		r.say(n, "E112", rng(e.Range()), "%s is a list of two values, the lower first. Write, for example, %s = %s", name, name, n.kind.Attr(name).Example)
		return out
	}
	lo, hi := r.expr(n, t.Exprs[0], sc, w), r.expr(n, t.Exprs[1], sc, w)
	if lo == nil || hi == nil {
		return out
	}
	a, ok1 := lo.Static()
	b, ok2 := hi.Static()
	if ok1 && ok2 && a.State == value.Present && b.State == value.Present && a.Num >= b.Num {
		r.say(n, "E113", rng(e.Range()), "The lower end stands first and is less than the upper one. Turn them round, or mend one.")
	}
	return [2]*formula.Program{lo, hi}
}

// sentence compiles a text that may have values in it.
func (r *reader) sentence(n *node, name string, sc *scope) procedures.Text {
	e := n.attr(name)
	if e == nil {
		return nil
	}
	return r.oneSentence(n, name, e, sc)
}

func (r *reader) sentences(n *node, name string, sc *scope) []procedures.Text {
	e := n.attr(name)
	if e == nil {
		return nil
	}
	t, ok := bare(e).(*hclsyntax.TupleConsExpr)
	if !ok {
		if s, isText := literal(e); isText {
			r.say(n, "E112", rng(e.Range()), "%s is a list, of one text too. Write %s = [%q]", name, name, s)
			return nil
		}
		r.wrongForm(n, n.kind.Attr(name), e)
		return nil
	}
	var out []procedures.Text
	for _, x := range t.Exprs {
		if p := r.oneSentence(n, name, x, sc); p != nil {
			out = append(out, p)
		}
	}
	return out
}

func (r *reader) oneSentence(n *node, name string, e hclsyntax.Expression, sc *scope) procedures.Text {
	if s, ok := literal(e); ok && blank(s) {
		r.say(n, "E112", rng(e.Range()), "%s is empty. Write, for example, %s = %s", name, name, n.kind.Attr(name).Example)
		return nil
	}
	switch bare(e).(type) {
	case *hclsyntax.TemplateExpr, *hclsyntax.TemplateWrapExpr, *hclsyntax.ConditionalExpr:
	default:
		r.say(n, "E112", rng(e.Range()), "%s is a text: put it in quotes. Values in it are written ${…}.", name)
		return nil
	}
	return r.expr(n, e, sc, want{kinds: []value.Kind{value.Text}, what: name})
}

// constant returns a number that is known from the file alone.
func (r *reader) constant(n *node, name string, d *dim) (v value.Value, t value.Type, ok bool) {
	e := n.attr(name)
	if e == nil {
		return v, t, false
	}
	return r.constantExpr(n, e, name, d)
}

func (r *reader) constantExpr(n *node, e hclsyntax.Expression, what string, d *dim) (v value.Value, t value.Type, ok bool) {
	w := want{kinds: []value.Kind{value.Number}, what: what}
	if d != nil {
		x := value.NumberType(*d)
		w.typ = &x
	}
	p := r.expr(n, e, &scope{none: true}, w)
	if p == nil {
		return v, t, false
	}
	v, ok = p.Static()
	if !ok || v.State != value.Present {
		r.say(n, "E112", rng(e.Range()), "%s must be known from the file alone: %s", what, v.Why)
		return v, t, false
	}
	return v, p.Type(), true
}

// text is the source of an expression.
func (r *reader) text(e hcl.Expression) string {
	rg := e.Range()
	if !rg.CanSliceBytes(r.bytesOf(e)) {
		return "the value"
	}
	return string(rg.SliceBytes(r.bytesOf(e)))
}

func newAt(code string, at rangeOf, format string, args ...any) diagnose.Diagnostic {
	return diagnose.New(code, at, format, args...)
}
