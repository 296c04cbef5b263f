package hclfile

import (
	"io/fs"
	"slices"
	"strings"
	"time"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/checks"
	"waywright/checks/value"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile/schema"
	"waywright/procedures/register"
)

// Machines reads a machines.hcl.
//
//	machine "lathe-2" {
//	  class         = "centre lathe"
//	  spindle_taper = "MT3"
//	  centre_height = mm(125)
//	  test_bar { length = mm(310) }
//	}
func Machines(fsys fs.FS, path string) ([]register.Machine, diagnose.List) {
	return entries(fsys, path, schema.MachinesFile, (*reader).machine)
}

// Instruments reads an instruments.hcl.
//
//	instrument "M-3" {
//	  kind       = "outside micrometer"
//	  resolution = um(1)
//	  error      = um(4)
//	  range      = [mm(0), mm(25)]
//	  due        = "2027-03-02"
//
//	  history {
//	    day  = "2025-11-03"
//	    what = "new spindle nut"
//	  }
//	}
func Instruments(fsys fs.FS, path string) ([]register.Instrument, diagnose.List) {
	return entries(fsys, path, schema.InstrumentsFile, (*reader).realInstrument)
}

// People reads a people.hcl.
//
//	person "anna" {
//	  name  = "Anna Brook"
//	  roles = ["fitter"]
//	  key   = "ssh-ed25519 AAAA…"
//	}
func People(fsys fs.FS, path string) ([]register.Person, diagnose.List) {
	return entries(fsys, path, schema.PeopleFile, (*reader).person)
}

// Shop reads a shop.hcl.
//
//	decision = "strict"
//	paper    = "letter"
func Shop(fsys fs.FS, path string) (register.Shop, diagnose.List) {
	r := newReader(Source{FS: fsys, Path: path}, nil)
	return r.shopFile(), r.diags.Sorted()
}

func (r *reader) shopFile() register.Shop {
	r.own = r.open(r.src.FS, r.src.Path, r.src.Path)
	if r.own.body == nil {
		return register.Shop{}
	}
	n := r.tree(schema.ShopFile, r.own.body, r.own, nil)
	var out register.Shop
	if rule, ok := checks.ParseRule(r.oneOf(n, "decision")); ok {
		out.Decision, out.At = rule, rng(n.attrs["decision"].Range())
	}
	out.Paper = r.oneOf(n, "paper")
	return out
}

// entries reads the blocks of a register. Entries with mistakes are returned
// too, as far as they were understood.
func entries[T any](fsys fs.FS, path string, kind *schema.Block, read func(*reader, *node) T) ([]T, diagnose.List) {
	r := newReader(Source{FS: fsys, Path: path}, nil)
	out := readEntries(r, kind, read)
	return out, r.diags.Sorted()
}

// loaded reads a register to be looked through only.
func loaded[T any](r *reader, name string, kind *schema.Block, read func(*reader, *node) T) (Loaded, diagnose.List) {
	n := len(readEntries(r, kind, read))
	return Loaded{Register: name, Entries: n, Files: r.allRead()}, r.diags.Sorted()
}

func readEntries[T any](r *reader, kind *schema.Block, read func(*reader, *node) T) []T {
	r.own = r.open(r.src.FS, r.src.Path, r.src.Path)
	if r.own.body == nil {
		return nil
	}
	var out []T
	seen := map[string]*node{}
	for _, n := range r.tree(kind, r.own.body, r.own, nil).kids {
		if first := seen[n.label]; first != nil && n.label != "" {
			r.say(n, "E203", n.name, "There is another %s %q in line %d. Give each its own.", n.kind.Type, n.label, first.at.Start.Line)
			continue
		}
		seen[n.label] = n
		out = append(out, read(r, n))
	}
	return out
}

func (r *reader) machine(n *node) register.Machine {
	m := register.Machine{
		ID: n.label, At: n.at,
		Class: r.word(n, "class"), Title: r.word(n, "title"), Maker: r.word(n, "maker"),
		Serial: r.word(n, "serial"), Stands: r.word(n, "stands"), Taper: r.word(n, "spindle_taper"),
		Sizes: map[string]register.Size{},
	}
	for _, a := range n.order {
		if n.kind.Attr(a.Name) == nil {
			r.size(n, a, a.Name, m.Sizes)
		}
	}
	for _, k := range n.kids {
		for _, a := range k.order {
			r.size(k, a, k.kind.Type+"."+a.Name, m.Sizes)
		}
	}
	return m
}

func (r *reader) size(n *node, a *hclsyntax.Attribute, path string, sizes map[string]register.Size) {
	var names []string
	for _, k := range schema.Machine.Attrs {
		names = append(names, k.Name)
	}
	if s, ok := literal(a.Expr); ok {
		r.say(n, "E101", rng(a.NameRange), "%s = %q is no size, which is a number with its unit.%s", path, s, didYouMean(a.Name, names))
		return
	}
	for _, k := range register.Sizes() {
		names = append(names, k.Path)
	}
	p := r.expr(n, a.Expr, &scope{none: true}, want{kinds: []value.Kind{value.Number}, what: path})
	if p == nil {
		return
	}
	v, ok := p.Static()
	if !ok || v.State != value.Present {
		return
	}
	k, have := register.SizeOf(path)
	switch near := didYouMean(path, names); {
	case have && (k.Type.Kind != value.Number || k.Type.Dim != p.Type().Dim):
		r.say(n, "E301", rng(a.Expr.Range()), "%s is %s, but this is %s.", path, k.Type, p.Type())
		return
	case !have && near != "":
		r.say(n, "W504", rng(a.NameRange), "%s is not one of the sizes that procedures usually ask for.%s", path, near)
	}
	sizes[path] = register.Size{Value: v, Type: p.Type(), Unit: writtenUnit(a.Expr, p.Type().Dim)}
}

func (r *reader) realInstrument(n *node) register.Instrument {
	in := r.readInstrument(n)
	out := register.Instrument{
		ID: n.label, At: n.at, Kind: in.Kind, Resolution: in.Resolution, Error: in.Error, HasError: in.HasError,
		Repeatability: in.Repeatability, RepeatabilityDoF: in.RepeatabilityDoF, Turn: in.Turn, Division: in.Resolution,
		Zero: in.Zero, HasZero: in.HasZero, Certificate: in.Certificate, Dim: in.Dim, Unit: in.Unit,
		Coverage: r.decimal(n, "coverage", 1, 10, 2), Maker: r.word(n, "maker"), Serial: r.word(n, "serial"),
		Calibrated: r.day(n, "calibrated"), Due: r.day(n, "due"), CalibratedBy: r.word(n, "calibrated_by"),
	}
	if v, _, ok := r.constant(n, "division", &in.Dim); ok {
		out.Division = v.Num
	}
	if v, _, ok := r.constant(n, "uncertainty", &in.Dim); ok {
		if v.Num <= 0 {
			r.say(n, "E113", rng(n.attr("uncertainty").Range()), "The uncertainty of a certificate is more than nothing. Write what stands in it, or leave this out.")
			v.Num = 0
		}
		out.Uncertainty = v.Num
	} else if n.has("coverage") && !n.has("uncertainty") {
		r.say(n, "E110", rng(n.attrs["coverage"].NameRange), "coverage belongs to the uncertainty of a certificate, but there is no uncertainty. Write it too, or leave this out.")
	}
	if out.Calibrated != "" && out.Due != "" && out.Due <= out.Calibrated {
		r.say(n, "E113", rng(n.attr("due").Range()), "The next calibration is due on %s, which is not after that of %s. Mend one of the days.", out.Due, out.Calibrated)
	}
	out.From, out.To, out.HasRange = r.span(n, "range", in.Dim)
	for _, k := range n.all("history") {
		out.History = append(out.History, register.Happening{Day: r.day(k, "day"), What: r.word(k, "what"), By: r.word(k, "by"), At: k.at})
	}
	slices.SortStableFunc(out.History, func(a, b register.Happening) int { return strings.Compare(a.Day, b.Day) })
	return out
}

// span reads two quantities, the lower first.
func (r *reader) span(n *node, name string, d dim) (lo, hi float64, ok bool) {
	e := n.attr(name)
	if e == nil {
		return 0, 0, false
	}
	t, isList := bare(e).(*hclsyntax.TupleConsExpr)
	if !isList || len(t.Exprs) != 2 {
		r.wrongForm(n, n.kind.Attr(name), e)
		return 0, 0, false
	}
	a, _, okA := r.constantExpr(n, t.Exprs[0], "the lower end", &d)
	b, _, okB := r.constantExpr(n, t.Exprs[1], "the upper end", &d)
	switch {
	case !okA || !okB:
		return 0, 0, false
	case a.Num >= b.Num:
		r.say(n, "E113", rng(e.Range()), "The lower end stands first and is less than the upper one. Turn them round, or mend one.")
		return 0, 0, false
	}
	return a.Num, b.Num, true
}

// day reads a date.
func (r *reader) day(n *node, name string) string {
	s := r.word(n, name)
	if s == "" {
		return ""
	}
	if _, err := time.Parse(time.DateOnly, s); err != nil {
		r.say(n, "E112", rng(n.attr(name).Range()), "%q is no day. Write year, month and day: %s = \"2027-03-02\"", s, name)
		return ""
	}
	return s
}

func (r *reader) person(n *node) register.Person {
	return register.Person{
		ID: n.label, At: n.at, Name: r.word(n, "name"),
		Roles: slices.Compact(r.words(n, "roles")), Key: r.word(n, "key"),
	}
}
