package formula

import (
	"slices"

	"waywright/checks/catalogue"
	"waywright/checks/value"
)

// planner makes columns of the nodes of a program.
type planner struct {
	b      *Batch
	varied map[int]bool         // by ref: some number in it changes
	slot   map[*value.Value]int // the slot that a value has its number from
	part   map[*float64]int     // the same of one of its takes or heights
	holds  map[*value.Value]bool
	ops    []operand // of shapes
}

func newPlanner(b *Batch) *planner {
	pl := &planner{b: b, varied: b.varied(), slot: map[*value.Value]int{}, part: map[*float64]int{}, holds: map[*value.Value]bool{}}
	for i, l := range b.leaves { // where two lead to one place, the later
		pl.holds[l.v] = true
		if l.num != nil {
			pl.part[l.num] = i
		} else {
			pl.slot[l.v] = i
		}
	}
	return pl
}

// scope is a variable of a for while its body is planned; up are those outside
// it.
type scope struct {
	up       *scope
	key, val value.Value // val is a shape
	in       *locals     // the same as values, as far as they do not change
}

// locals returns the variables for what is evaluated while it is planned.
func (sc *scope) locals() *locals {
	if sc == nil {
		return nil
	}
	return sc.in
}

// out returns the scope so many for outwards.
func (sc *scope) out(hops int) *scope {
	for range hops {
		sc = sc.up
	}
	return sc
}

// varies tells whether the value of n changes from trial to trial.
func (pl *planner) varies(n Node, sc *scope) bool { return pl.changes(n, sc, 0) }

// changes is varies within so many for that are not entered yet, over what does
// not change.
func (pl *planner) changes(n Node, sc *scope, inner int) bool {
	switch n := n.(type) {
	case *name:
		return pl.varied[n.idx]
	case *local:
		return n.hops >= inner && !n.isKey && !pl.still(sc.out(n.hops-inner).val)
	case *loop:
		return pl.changes(n.over, sc, inner) || n.cond != nil && pl.changes(n.cond, sc, inner+1) || pl.changes(n.body, sc, inner+1)
	case *pick:
		if v := pl.inputs(n); v != nil {
			return pl.within(v)
		}
		if l, ok := n.coll.(*local); ok && !l.isKey && l.hops >= inner {
			if v, g := element(&sc.out(l.hops-inner).val, n.key); g == nil {
				return !pl.still(*v)
			}
		}
	}
	return slices.ContainsFunc(n.kids(), func(k Node) bool { return pl.changes(k, sc, inner) })
}

// bound tells whether n uses a variable of a for outside it.
func bound(n Node, inner int) bool {
	switch n := n.(type) {
	case *local:
		return n.hops >= inner
	case *loop:
		return bound(n.over, inner) || n.cond != nil && bound(n.cond, inner+1) || bound(n.body, inner+1)
	}
	return slices.ContainsFunc(n.kids(), func(k Node) bool { return bound(k, inner) })
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
	if pl.holds[v] {
		return true
	}
	for i := range v.Elems {
		if pl.within(&v.Elems[i]) {
			return true
		}
	}
	return false
}

// number plans a node of one number. Inside a for it may be that it cannot be,
// and the for has to be worked out trial by trial; else ok is true.
func (pl *planner) number(n Node, sc *scope) (o operand, ok bool) {
	if !pl.varies(n, sc) {
		x, g := asScalar(n).num(&pl.b.frame.in, sc.locals())
		return constant(x, g), true
	}
	switch n := n.(type) {
	case boxed:
		return pl.number(n.Node, sc)
	case *meaned:
		return pl.number(n.a, sc)
	case *name, *pick, *pickBy, *local:
		if v, ok := pl.found(n, sc); ok {
			return pl.of(&v), true
		}
	case *add:
		o, ok = pl.pair(Add, n.pair, sc)
	case *sub:
		o, ok = pl.pair(Sub, n.pair, sc)
	case *mul:
		o, ok = pl.pair(Mul, n.pair, sc)
	case *div:
		o, ok = pl.pair(Div, n.pair, sc)
	case *mod:
		o, ok = pl.pair(Mod, n.pair, sc)
	case *neg:
		if o, ok = pl.number(n.a, sc); ok {
			o = operand{col: &negCol{a: spread(o)}}
		}
	case *ifNumber:
		o, ok = pl.choose(n.c, func() (operand, bool) { return pl.number(n.an, sc) }, func() (operand, bool) { return pl.number(n.bn, sc) }, sc)
	case *call:
		o, ok = pl.call(n, sc)
	}
	if ok || bound(n, 0) {
		return o, ok
	}
	s := asScalar(n)
	return pl.byTrial(n, func() (float64, *gap) { return s.num(&pl.b.frame.in, nil) }), true
}

// truth plans a node of a truth, as number does one of a number.
func (pl *planner) truth(n Node, sc *scope) (o operand, ok bool) {
	t := asTruther(n)
	one := func(l *locals) (float64, *gap) {
		b, g := t.truth(&pl.b.frame.in, l)
		if b {
			return 1, g
		}
		return 0, g
	}
	if !pl.varies(n, sc) {
		return constant(one(sc.locals())), true
	}
	switch n := n.(type) {
	case boxed:
		return pl.truth(n.Node, sc)
	case *compare:
		a, okA := pl.number(n.a, sc)
		b, okB := pl.number(n.b, sc)
		o, ok = operand{col: &compareCol{op: n.op, a: spread(a), b: spread(b)}}, okA && okB
	case *not:
		if o, ok = pl.truth(n.a, sc); ok {
			o = operand{col: &notCol{a: spread(o)}}
		}
	case *junction:
		// a && b is a ? b : a, and a || b is a ? a : b.
		a := func() (operand, bool) { return pl.truth(n.a, sc) }
		b := func() (operand, bool) { return pl.truth(n.b, sc) }
		if n.and {
			o, ok = pl.choose(n.a, b, a, sc)
		} else {
			o, ok = pl.choose(n.a, a, b, sc)
		}
	case *ifTruth:
		o, ok = pl.choose(n.c, func() (operand, bool) { return pl.truth(n.at, sc) }, func() (operand, bool) { return pl.truth(n.bt, sc) }, sc)
	}
	if ok || bound(n, 0) {
		return o, ok
	}
	return pl.byTrial(n, func() (float64, *gap) { return one(nil) }), true
}

// choose plans a conditional. Both branches are worked out, unless every trial
// takes the same; only the one taken counts.
func (pl *planner) choose(c Node, a, b func() (operand, bool), sc *scope) (operand, bool) {
	cond, ok := pl.truth(c, sc)
	switch {
	case !ok:
		return operand{}, false
	case cond.col != nil:
	case cond.k != cond.k:
		return operand{k: nan}, true
	case cond.k == 1:
		return a()
	default:
		return b()
	}
	x, okX := a()
	y, okY := b()
	return operand{col: &chooseCol{c: cond.col, a: spread(x), b: spread(y)}}, okX && okY
}

func (pl *planner) pair(op Op, p pair, sc *scope) (operand, bool) {
	a, okA := pl.number(p.a, sc)
	b, okB := pl.number(p.b, sc)
	if !okA || !okB {
		return operand{}, false
	}
	return paired(op, a, b), true
}

// call plans a call of a function that gives one number.
func (pl *planner) call(n *call, sc *scope) (operand, bool) {
	if n.f.Num != nil && plain(n.f, n.args) {
		x := make([]operand, len(n.args))
		for i, a := range n.args {
			o, ok := pl.number(a, sc)
			if !ok {
				return o, false
			}
			x[i] = o
		}
		return operand{col: &manyCol{x: x, room: len(n.f.Params), f: n.f.Num}}, true
	}
	if n.f.Many != nil && len(n.args) == 1 {
		v, ok := pl.shape(n.args[0], sc)
		if !ok {
			return operand{}, false
		}
		if !n.f.Params[0].Takes {
			v = pl.mean(v)
		}
		if s, _ := v.Worst(); s != value.Present {
			return operand{k: nan}, true
		}
		return operand{col: &manyCol{x: pl.numbers(nil, v), f: n.f.Many}}, true
	}
	v, ok := pl.called(n, sc)
	if !ok {
		return operand{}, false
	}
	return pl.of(&v), true
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

// single tells whether a value stands for one number.
func single(t value.Type) bool {
	return t.Kind == value.Number || t.Kind == value.Point || t.Kind == value.Takes
}

// shape plans a node of any value; ok is false where keys, stations, words or
// how many numbers there are may change from trial to trial, or that cannot be
// told.
func (pl *planner) shape(n Node, sc *scope) (v value.Value, ok bool) {
	if len(pl.ops) > mostPlanned {
		return v, false
	}
	if !pl.varies(n, sc) {
		return pl.fixed(n.eval(&pl.b.frame.in, sc.locals())), true
	}
	if k := n.Type().Kind; k == value.Number || k == value.Point {
		o, ok := pl.number(n, sc)
		return value.Value{Kind: k, Num: pl.keep(o)}, ok
	}
	switch n := n.(type) {
	case boxed:
		return pl.shape(n.Node, sc)
	case *unTake:
		v, ok = pl.shape(n.a, sc)
		return pl.mean(v), ok
	case *name, *pick, *pickBy, *local:
		return pl.found(n, sc)
	case *gather:
		return pl.gathered(n, sc)
	case *loop:
		return pl.loop(n, sc)
	case *spread2:
		return pl.zipped(n, sc)
	case *choice:
		switch c, ok := pl.truth(n.c, sc); {
		case !ok || c.col != nil:
			return v, false
		case c.k != c.k:
			return value.Value{Kind: n.t.Kind, State: value.Absent}, true
		case c.k == 1:
			return pl.shape(n.a, sc)
		}
		return pl.shape(n.b, sc)
	case *call:
		return pl.called(n, sc)
	}
	return v, false
}

// found plans what is named or picked.
func (pl *planner) found(n Node, sc *scope) (v value.Value, ok bool) {
	if at := pl.inputs(n); at != nil {
		return pl.input(at), true
	}
	var coll Node
	var key string
	switch n := n.(type) {
	case *local:
		return sc.out(n.hops).val, true
	case *pick:
		coll, key = n.coll, n.key
		if g, ok := coll.(*gather); ok {
			if i := slices.Index(g.keys, key); i >= 0 {
				return pl.shape(g.elems[i], sc)
			}
		}
	case *pickBy:
		if pl.varies(n.key, sc) {
			return v, false
		}
		k := n.key.eval(&pl.b.frame.in, sc.locals())
		var g *gap
		if key, g = keyOf(&k); g != nil {
			return g.value(n.Type().Kind), true
		}
		coll = n.coll
	default:
		return v, false
	}
	c, ok := pl.shape(coll, sc)
	if !ok {
		return v, false
	}
	at, g := element(&c, key)
	if g != nil {
		return g.value(n.Type().Kind), true
	}
	return pl.guardedPart(*at, c), true
}

// guardedPart is an element of a collection, which is not there where the
// collection is not.
func (pl *planner) guardedPart(v, of value.Value) value.Value {
	if m := pl.mark(of); grouped(v) && m.col != nil {
		return pl.guarded(v, m)
	}
	return v
}

func (pl *planner) gathered(n *gather, sc *scope) (v value.Value, ok bool) {
	v = value.Value{Kind: n.t.Kind, Keys: n.keys, Elems: make([]value.Value, len(n.elems))}
	for i, e := range n.elems {
		if v.Elems[i], ok = pl.shape(e, sc); !ok {
			return v, false
		}
	}
	return v, true
}

// loop plans a for, element by element. What it leaves out must be the same in
// every trial.
func (pl *planner) loop(n *loop, sc *scope) (v value.Value, ok bool) {
	over, ok := pl.shape(n.over, sc)
	if !ok || over.State != value.Present {
		return value.Value{Kind: n.t.Kind, State: over.State, Why: over.Why}, ok
	}
	over = pl.once(over)
	mark := pl.mark(over)
	v = value.Value{Kind: n.t.Kind, Elems: []value.Value{}}
	if mark.col != nil {
		v.Num = pl.keep(mark) + 1
	}
	for i, e := range over.Elems {
		in := &scope{up: sc, key: keyAt(&over, i, n.over.Type()), val: e}
		in.in = &locals{up: sc.locals(), key: in.key, val: pl.real(e)}
		if n.cond != nil {
			switch c, ok := pl.truth(n.cond, in); {
			case !ok || c.col != nil:
				return v, false
			case c.k != c.k:
				return value.Value{Kind: n.t.Kind, State: value.Absent}, true
			case c.k == 0:
				continue
			}
		}
		body, ok := pl.shape(n.body, in)
		if !ok {
			return v, false
		}
		switch n.t.Kind {
		case value.Keyed:
			v.Keys = append(v.Keys, over.Keys[i])
		case value.Profile, value.Turn:
			v.At = append(v.At, over.At[i])
		}
		v.Elems = append(v.Elems, pl.guarded(body, mark))
	}
	return v, true
}

// zipped plans arithmetic element by element.
func (pl *planner) zipped(n *spread2, sc *scope) (v value.Value, ok bool) {
	a, okA := pl.shape(n.a, sc)
	b, okB := pl.shape(n.b, sc)
	if !okA || !okB {
		return v, false
	}
	both := grouped(a) && grouped(b) && a.State == value.Present && b.State == value.Present
	if both && (marked(a) || marked(b)) {
		return v, false
	}
	v, err := value.Zip(func(v []value.Value) value.Value {
		return value.Value{Kind: n.leaf, Num: pl.keep(paired(n.op, pl.of(&v[0]), pl.of(&v[1])))}
	}, a, b)
	if err != nil {
		return value.Value{Kind: n.t.Kind, State: value.Absent, Why: err.Error()}, true
	}
	if v.State != value.Present {
		v.Kind = n.t.Kind
	}
	if both {
		x, y := pl.mark(a), pl.mark(b)
		if v.Num = 0; x.col != nil && y.col != nil {
			v.Num = pl.keep(operand{col: &eitherCol{a: x.col, b: y.col}}) + 1
		}
	}
	return v, true
}
