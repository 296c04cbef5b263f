package formula

import (
	"slices"

	"waywright/checks/catalogue"
	"waywright/checks/value"
)

// kernel is a call that is worked out trial by trial from the numbers of its
// arguments, without making values of them where the function can do that.
type kernel struct {
	b    *Batch
	lazy bool // it is called though numbers are not there
	f    catalogue.Kernel

	row  []float64 // all numbers of the arguments; those that do not change stand in it
	from []changing
	turn int
	cols [][]float64
	out  []float64
	done [][]float64 // its numbers, and behind them whether there is any result
}

// changing is a column, and where its number goes.
type changing struct {
	at  int
	col column
}

// kernelOut is one of the numbers that a kernel gives.
type kernelOut struct {
	k *kernel
	j int
}

func (c *kernelOut) run(n int) []float64 {
	c.k.run(n)
	return c.k.done[c.j][:n]
}

func newKernel(b *Batch, x []operand, numbers int, lazy bool, f catalogue.Kernel) *kernel {
	k := &kernel{b: b, lazy: lazy, f: f, row: make([]float64, len(x)), out: make([]float64, numbers), done: make([][]float64, numbers+1)}
	for i, o := range x {
		if k.row[i] = o.k; o.col != nil {
			k.from = append(k.from, changing{i, o.col})
		}
	}
	k.cols = make([][]float64, len(k.from))
	return k
}

func (k *kernel) run(n int) {
	if k.turn == k.b.turn {
		return
	}
	k.turn = k.b.turn
	clean := true
	for j, c := range k.from {
		k.cols[j] = c.col.run(n)
		s, ok := c.col.(*slotCol)
		clean = clean && ok && k.b.clean[s.k]
	}
	for j := range k.done {
		k.done[j] = room(k.done[j], n)
	}
	there := k.done[len(k.out)]
	for i := range n {
		if there[i] = 0; !k.take(i, clean || k.lazy) || !k.f(k.row, k.out) {
			for j := range k.done {
				k.done[j][i] = nan
			}
			continue
		}
		for j, y := range k.out {
			k.done[j][i] = y
		}
	}
}

// take takes the numbers of trial i, and tells whether they are there; sure: that
// is not asked.
func (k *kernel) take(i int, sure bool) bool {
	if sure {
		for j, c := range k.from {
			k.row[c.at] = k.cols[j][i]
		}
		return true
	}
	off := 0.0
	for j, c := range k.from {
		x := k.cols[j][i]
		k.row[c.at] = x
		off += x - x
	}
	return off == 0
}

// given returns the shape of what a kernel gives, which is like a value.
func (pl *planner) given(k *kernel, like value.Value) value.Value {
	j := -1
	v := catalogue.Place(like, func(float64) float64 {
		j++
		return pl.keep(operand{col: &kernelOut{k, j}})
	})
	if grouped(v) {
		v.Num = pl.keep(operand{col: &kernelOut{k, len(k.out)}}) + 1
	}
	return v
}

// called plans a call from the shapes of its arguments; ok is false where the
// function can only be evaluated trial by trial with all that it stands in.
func (pl *planner) called(n *call, sc *scope) (v value.Value, ok bool) {
	args := make([]value.Value, len(n.args))
	nowhere := value.Value{Kind: n.t.Kind, State: value.Absent}
	gaps := false
	for i, a := range n.args {
		v, ok := pl.shape(a, sc)
		if !ok {
			return v, false
		}
		if i >= len(n.f.Params) || !n.f.Params[i].Takes {
			v = pl.mean(v)
		}
		if v.State != value.Present {
			return nowhere, true
		}
		s, _ := v.Worst()
		gaps = gaps || s != value.Present
		args[i] = v
	}
	if gaps && !n.f.Lazy {
		return nowhere, true
	}
	if n.f.Moves != nil {
		return pl.moved(n, args)
	}
	if n.f.Over != nil && !gaps {
		like := make([]value.Value, len(args))
		for i := range args {
			like[i] = catalogue.Place(args[i], func(x float64) float64 { return pl.op(x).known() })
		}
		x := pl.all(args)
		if !n.f.Lazy && slices.ContainsFunc(x, func(o operand) bool { return o.col == nil && o.k != o.k }) {
			return nowhere, true
		}
		if gives, f := n.f.Over(like); f != nil {
			return pl.given(newKernel(pl.b, x, catalogue.Numbers(gives), n.f.Lazy, f), gives), true
		}
	}
	if n.t.Kind == value.Number || n.t.Kind == value.Point {
		return pl.evaluated(n, args), true
	}
	return v, false
}

// all lists the operands of several shapes.
func (pl *planner) all(args []value.Value) (out []operand) {
	for _, a := range args {
		out = pl.numbers(out, a)
	}
	return out
}

// moved plans a call that only moves numbers.
func (pl *planner) moved(n *call, args []value.Value) (v value.Value, ok bool) {
	args = slices.Clone(args)
	var whole operand
	var x []operand
	for i := range args {
		if slices.Contains(n.f.Moves, i) {
			whole = pl.mark(args[i])
			x = pl.numbers(x, args[i])
			continue
		}
		if !pl.still(args[i]) {
			return v, false
		}
		args[i] = pl.real(args[i])
	}
	v = n.f.Eval(args)
	if v.State != value.Present {
		return value.Value{Kind: n.t.Kind, State: v.State, Why: v.Why}, true
	}
	if n.f.Lazy {
		if whole.col != nil && grouped(v) {
			v = pl.guarded(v, whole)
		}
		return v, true
	}
	if slices.ContainsFunc(x, func(o operand) bool { return o.col == nil && o.k != o.k }) {
		return value.Value{Kind: n.t.Kind, State: value.Absent}, true
	}
	// Where one number is not there, the result is not.
	place := map[float64]int{}
	for i := range args {
		if slices.Contains(n.f.Moves, i) {
			catalogue.Place(args[i], func(at float64) float64 { place[at] = len(place); return at })
		}
	}
	var from []int
	like := catalogue.Place(v, func(at float64) float64 { from = append(from, place[at]); return 0 })
	return pl.given(newKernel(pl.b, x, len(from), false, func(x, out []float64) bool {
		for j, k := range from {
			out[j] = x[k]
		}
		return true
	}), like), true
}

// evaluated plans a call that gives one number and is evaluated trial by trial,
// with its arguments in place.
func (pl *planner) evaluated(n *call, args []value.Value) value.Value {
	e := &evaluator{f: n.f, args: make([]value.Value, len(args))}
	var x []operand
	for i := range args {
		e.args[i] = pl.real(args[i])
		x = e.hold(pl, x, &args[i], &e.args[i])
	}
	return pl.given(newKernel(pl.b, x, 1, n.f.Lazy, e.call), value.Value{Kind: n.t.Kind})
}

// evaluator is a kernel that calls Eval.
type evaluator struct {
	f    *catalogue.Func
	args []value.Value
	at   []spot
}

// spot is where a number that changes stands in the arguments: by itself, or
// among takes or heights.
type spot struct {
	v   *value.Value
	num *float64
}

// hold finds the places of the numbers that change.
func (e *evaluator) hold(pl *planner, x []operand, shape, v *value.Value) []operand {
	several := func(at []float64, in []float64) {
		for j := range at {
			if o := pl.op(at[j]); o.col != nil {
				x = append(x, o)
				e.at = append(e.at, spot{v, &in[j]})
			}
		}
	}
	switch {
	case shape.State != value.Present:
	case shape.Kind == value.Number || shape.Kind == value.Point:
		if o := pl.op(shape.Num); o.col != nil {
			x = append(x, o)
			v.Kind, v.State = shape.Kind, value.Present
			e.at = append(e.at, spot{v: v})
		}
	case shape.Kind == value.Takes:
		several(shape.Takes, v.Takes)
	case shape.Kind == value.Net:
		several(shape.Z, v.Z)
	default:
		for i := range shape.Elems {
			x = e.hold(pl, x, &shape.Elems[i], &v.Elems[i])
		}
	}
	return x
}

func (e *evaluator) call(x, out []float64) bool {
	lost := false
	for i, p := range e.at {
		switch {
		case p.num != nil:
			*p.num = x[i]
			lost = lost || x[i] != x[i] // takes that are no number have no mean
		case x[i] != x[i]:
			p.v.Num, p.v.State, p.v.Why = 0, value.Absent, "not a finite number"
		default:
			p.v.Num, p.v.State, p.v.Why = x[i], value.Present, ""
		}
	}
	if lost {
		return false
	}
	v := e.f.Eval(e.args)
	if v.State != value.Present || !wellFormed(&v) {
		return false
	}
	y, g := numberOf(&v)
	out[0] = y
	return g == nil
}
