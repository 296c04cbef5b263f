package formula

import (
	"slices"

	"waywright/checks/catalogue"
	"waywright/checks/stat"
	"waywright/checks/value"
)

// planner makes columns of the nodes of a program.
type planner struct {
	b      *Batch
	varied map[int]bool // by ref: some number in it changes
}

// varies tells whether the value of n changes from trial to trial.
func (pl *planner) varies(n Node) bool {
	switch n := n.(type) {
	case *name:
		return pl.varied[n.idx]
	case *pick:
		if v := pl.inputs(n); v != nil {
			return pl.within(v)
		}
	}
	return slices.ContainsFunc(n.kids(), pl.varies)
}

// inputs returns where the value of n lies among the inputs; nil where it does
// not lie there.
func (pl *planner) inputs(n Node) *value.Value {
	base := n
	for {
		p, ok := base.(*pick)
		if !ok {
			break
		}
		base = p.coll
	}
	if _, ok := base.(*name); !ok {
		return nil
	}
	return n.(viewer).view(&pl.b.frame.in, nil)
}

// within tells whether a number that changes stands in v.
func (pl *planner) within(v *value.Value) bool {
	if slices.ContainsFunc(pl.b.leaves, func(l leaf) bool { return l.v == v }) {
		return true
	}
	for i := range v.Elems {
		if pl.within(&v.Elems[i]) {
			return true
		}
	}
	return false
}

// number plans a node of one number.
func (pl *planner) number(n Node) operand {
	if !pl.varies(n) {
		x, g := asScalar(n).num(&pl.b.frame.in, nil)
		return constant(x, g)
	}
	switch n := n.(type) {
	case boxed:
		return pl.number(n.Node)
	case *name, *pick:
		if o, ok := pl.place(n); ok {
			return o
		}
	case *meaned:
		return pl.number(n.a)
	case *add:
		return pl.pair(Add, n.pair)
	case *sub:
		return pl.pair(Sub, n.pair)
	case *mul:
		return pl.pair(Mul, n.pair)
	case *div:
		return pl.pair(Div, n.pair)
	case *mod:
		return pl.pair(Mod, n.pair)
	case *neg:
		return operand{col: &negCol{a: spread(pl.number(n.a))}}
	case *ifNumber:
		return pl.choose(n.c, func() operand { return pl.number(n.an) }, func() operand { return pl.number(n.bn) })
	case *call:
		if o, ok := pl.call(n); ok {
			return o
		}
	}
	s := asScalar(n)
	return pl.byTrial(n, func() (float64, *gap) { return s.num(&pl.b.frame.in, nil) })
}

// truth plans a node of a truth.
func (pl *planner) truth(n Node) operand {
	t := asTruther(n)
	one := func() (float64, *gap) {
		b, g := t.truth(&pl.b.frame.in, nil)
		if b {
			return 1, g
		}
		return 0, g
	}
	if !pl.varies(n) {
		return constant(one())
	}
	switch n := n.(type) {
	case boxed:
		return pl.truth(n.Node)
	case *compare:
		return operand{col: &compareCol{op: n.op, a: spread(pl.number(n.a)), b: spread(pl.number(n.b))}}
	case *not:
		return operand{col: &notCol{a: spread(pl.truth(n.a))}}
	case *junction:
		// a && b is a ? b : a, and a || b is a ? a : b.
		a := func() operand { return pl.truth(n.a) }
		b := func() operand { return pl.truth(n.b) }
		if n.and {
			return pl.choose(n.a, b, a)
		}
		return pl.choose(n.a, a, b)
	case *ifTruth:
		return pl.choose(n.c, func() operand { return pl.truth(n.at) }, func() operand { return pl.truth(n.bt) })
	}
	return pl.byTrial(n, one)
}

// choose plans a conditional. Both branches are worked out, unless every trial
// takes the same; only the one taken counts.
func (pl *planner) choose(c Node, a, b func() operand) operand {
	cond := pl.truth(c)
	if cond.col == nil {
		switch {
		case cond.k != cond.k:
			return operand{k: nan}
		case cond.k == 1:
			return a()
		}
		return b()
	}
	return operand{col: &chooseCol{c: cond.col, a: spread(a()), b: spread(b())}}
}

func (pl *planner) pair(op Op, p pair) operand {
	return paired(op, pl.number(p.a), pl.number(p.b))
}

// place plans a number that stands in the inputs; ok is false where it does
// not lie there as one number.
func (pl *planner) place(n Node) (operand, bool) {
	v := pl.inputs(n)
	if v == nil {
		return pl.picked(n)
	}
	return pl.stored(v)
}

// picked plans an element of what is written in braces.
func (pl *planner) picked(n Node) (operand, bool) {
	p, ok := n.(*pick)
	if !ok {
		return operand{}, false
	}
	if g, ok := p.coll.(*gather); ok {
		if i := slices.Index(g.keys, p.key); i >= 0 {
			return pl.number(g.elems[i]), true
		}
	}
	return operand{}, false
}

// stored plans a value of the inputs as one number.
func (pl *planner) stored(v *value.Value) (operand, bool) {
	at := slices.IndexFunc(pl.b.leaves, func(l leaf) bool { return l.v == v })
	switch {
	case at < 0:
		if pl.within(v) {
			return operand{}, false
		}
		return constant(numberOf(v)), true
	case v.Kind == value.Takes:
		takes := pl.takes(v)
		return operand{col: &manyCol{x: takes, f: stat.Mean}}, true
	}
	return operand{col: &slotCol{b: pl.b, k: pl.last(v)}}, true
}

// last returns the slot that a value has its number from: where two lead to
// one place, the later.
func (pl *planner) last(v *value.Value) int {
	for i := len(pl.b.leaves) - 1; i >= 0; i-- {
		if pl.b.leaves[i].v == v {
			return i
		}
	}
	panic("formula: a value without a slot")
}

// takes plans each take of a value by itself.
func (pl *planner) takes(v *value.Value) []operand {
	out := make([]operand, len(v.Takes))
	for j := range v.Takes {
		out[j] = operand{k: v.Takes[j]}
		for i, l := range pl.b.leaves {
			switch {
			case l.num == &v.Takes[j]:
				out[j] = operand{col: &slotCol{b: pl.b, k: i}}
			case l.v == v && l.num == nil:
				out[j] = operand{col: &takeCol{b: pl.b, k: i, j: j}}
			}
		}
	}
	return out
}

// call plans a call whose function has a way for plain numbers, or for many.
func (pl *planner) call(n *call) (operand, bool) {
	switch {
	case n.f.Num != nil && plain(n.f, n.args):
		x := make([]operand, len(n.args))
		for i, a := range n.args {
			x[i] = pl.number(a)
		}
		return operand{col: &manyCol{x: x, room: len(n.f.Params), f: n.f.Num}}, true
	case n.f.Many != nil && len(n.args) == 1:
		if m, ok := pl.elements(n.args[0]); ok {
			return operand{col: &manyCol{x: m.x, f: n.f.Many}}, true
		}
	}
	return operand{}, false
}

// plain tells whether all arguments come to the function as one number.
func plain(f *catalogue.Func, args []Node) bool {
	for i, a := range args {
		switch a.Type().Kind {
		case value.Number, value.Point:
		case value.Takes:
			if f.Params[i].Takes {
				return false
			}
		default:
			return false
		}
	}
	return true
}

// many is a collection, or takes, of planned numbers.
type many struct {
	kind value.Kind
	keys []string
	at   []float64
	x    []operand
}

// elements plans many numbers; ok is false where that cannot be.
func (pl *planner) elements(n Node) (m many, ok bool) {
	switch n := n.(type) {
	case boxed:
		return pl.elements(n.Node)
	case *unTake:
		return pl.elements(n.a)
	case *gather:
		return pl.gathered(n)
	case *spread2:
		return pl.zipped(n)
	case *name, *pick:
		if v := pl.inputs(n); v != nil && v.State == value.Present {
			return pl.listed(v)
		}
	}
	return many{}, false
}

func (pl *planner) gathered(n *gather) (many, bool) {
	m := many{kind: n.t.Kind, keys: n.keys, x: make([]operand, len(n.elems))}
	for i, e := range n.elems {
		if !single(e.Type()) {
			return many{}, false
		}
		m.x[i] = pl.number(e)
	}
	return m, true
}

// single tells whether a value stands for one number.
func single(t value.Type) bool {
	return t.Kind == value.Number || t.Kind == value.Point || t.Kind == value.Takes
}

func (pl *planner) listed(v *value.Value) (many, bool) {
	m := many{kind: v.Kind, keys: v.Keys, at: v.At}
	switch v.Kind {
	case value.Takes:
		m.x = pl.takes(v)
		return m, true
	case value.Profile, value.Turn, value.Keyed, value.List:
	default:
		return many{}, false
	}
	for i := range v.Elems {
		o, ok := pl.stored(&v.Elems[i])
		if !ok {
			return many{}, false
		}
		m.x = append(m.x, o)
	}
	return m, true
}

// zipped plans arithmetic element by element, where the elements stand in the
// same order on both sides.
func (pl *planner) zipped(n *spread2) (many, bool) {
	a, okA := pl.side(n.a)
	b, okB := pl.side(n.b)
	if !okA || !okB {
		return many{}, false
	}
	out, other := a, b
	if a.kind == value.Number {
		out, other = b, a
	}
	if other.kind != value.Number && (a.kind != b.kind || len(a.x) != len(b.x) || !slices.Equal(a.keys, b.keys) || !slices.Equal(a.at, b.at)) {
		return many{}, false
	}
	out.x = make([]operand, len(out.x))
	for i := range out.x {
		out.x[i] = paired(n.op, a.element(i), b.element(i))
	}
	return out, true
}

// side plans one side of arithmetic element by element; a number by itself is
// of kind Number.
func (pl *planner) side(n Node) (many, bool) {
	if single(n.Type()) {
		return many{kind: value.Number, x: []operand{pl.number(n)}}, true
	}
	return pl.elements(n)
}

func (m many) element(i int) operand {
	if m.kind == value.Number {
		i = 0
	}
	return m.x[i]
}
