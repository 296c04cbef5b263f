package formula

import (
	"slices"

	"waywright/checks/catalogue"
	"waywright/checks/stat"
	"waywright/checks/value"
)

// A shape is a value as the planner knows it: its kind, keys, stations and words
// are those of the value, and in the place of each number stands the number of
// its operand. What is not there in any trial is not present in it; a number
// that is not there in some trials is NaN in its column.
//
// A collection that may not be there as a whole, because the function that gives
// it has no answer, has in Num one more than the number of an operand that is
// NaN then: its elements are too, but a for over it that does not look at them
// has no value either.

// mostPlanned is how many operands a program may have. What is larger is worked
// out trial by trial.
const mostPlanned = 20_000

// keep numbers an operand.
func (pl *planner) keep(o operand) float64 {
	pl.ops = append(pl.ops, o)
	return float64(len(pl.ops) - 1)
}

func (pl *planner) op(x float64) operand { return pl.ops[int(x)] }

// of returns the operand of a shape that is one number.
func (pl *planner) of(v *value.Value) operand {
	switch {
	case v.State != value.Present:
		return operand{k: nan}
	case v.Kind == value.Takes:
		return pl.meanOf(v)
	case v.Kind == value.Number || v.Kind == value.Point:
		return pl.op(v.Num)
	}
	return operand{k: nan}
}

// meanOf returns the mean of takes.
func (pl *planner) meanOf(v *value.Value) operand {
	x := make([]operand, len(v.Takes))
	changes := false
	for j, t := range v.Takes {
		x[j] = pl.op(t)
		changes = changes || x[j].col != nil
	}
	if !changes || len(x) == 0 {
		r := pl.real(*v)
		return constant(numberOf(&r))
	}
	return operand{col: &manyCol{x: x, f: stat.Mean}}
}

// fixed returns the shape of a value that does not change.
func (pl *planner) fixed(v value.Value) value.Value {
	if v.State != value.Present {
		return v
	}
	switch v.Kind {
	case value.Number, value.Point:
		v.Num = pl.keep(constant(numberOf(&v)))
		return v
	case value.Takes, value.Net, value.Zone:
		return catalogue.Place(v, func(x float64) float64 { return pl.keep(operand{k: x}) })
	}
	if len(v.Elems) > 0 {
		v.Num = 0
		elems := make([]value.Value, len(v.Elems))
		for i := range elems {
			elems[i] = pl.fixed(v.Elems[i])
		}
		v.Elems = elems
	}
	return v
}

// input returns the shape of a value among the inputs, with the slots in it.
func (pl *planner) input(v *value.Value) value.Value {
	out := *v
	if v.State != value.Present {
		return out
	}
	numbers := func(x []float64) []float64 {
		at := make([]float64, len(x))
		for j := range x {
			at[j] = pl.keep(pl.numberIn(v, x, j))
		}
		return at
	}
	switch v.Kind {
	case value.Number, value.Point:
		o := constant(numberOf(v))
		if k, ok := pl.slot[v]; ok {
			o = operand{col: &slotCol{b: pl.b, k: k}}
		}
		out.Num = pl.keep(o)
	case value.Takes:
		out.Takes = numbers(v.Takes)
	case value.Net:
		out.Z = numbers(v.Z)
	default:
		out.Num = 0
		out.Elems = make([]value.Value, len(v.Elems))
		for i := range out.Elems {
			out.Elems[i] = pl.input(&v.Elems[i])
		}
	}
	return out
}

// numberIn plans one of the takes or heights of a value.
func (pl *planner) numberIn(v *value.Value, x []float64, j int) operand {
	if k, ok := pl.part[&x[j]]; ok {
		return operand{col: &slotCol{b: pl.b, k: k}}
	}
	if k, ok := pl.slot[v]; ok {
		return operand{col: &takeCol{b: pl.b, k: k, j: j}}
	}
	return operand{k: x[j]}
}

// still tells that no number in a shape changes.
func (pl *planner) still(v value.Value) bool {
	if v.State != value.Present {
		return true
	}
	is := v.Num == 0 || !grouped(v) || pl.op(v.Num-1).col == nil
	switch v.Kind {
	case value.Number, value.Point:
		return pl.op(v.Num).col == nil
	case value.Takes, value.Net, value.Zone:
		catalogue.Place(v, func(x float64) float64 { is = is && pl.op(x).col == nil; return x })
		return is
	}
	return is && !slices.ContainsFunc(v.Elems, func(e value.Value) bool { return !pl.still(e) })
}

// grouped tells whether a value is a collection or an object.
func grouped(v value.Value) bool { return hasParts(&v) }

// real returns what a shape stands for, as far as it does not change; a number
// that does is as if it were not there.
func (pl *planner) real(v value.Value) value.Value {
	if v.State != value.Present {
		return v
	}
	switch v.Kind {
	case value.Number, value.Point:
		x := pl.op(v.Num).known()
		if x != x {
			return value.Value{Kind: v.Kind, State: value.Absent}
		}
		v.Num = x
		return v
	case value.Takes, value.Net, value.Zone:
		return catalogue.Place(v, func(x float64) float64 { return pl.op(x).known() })
	}
	if len(v.Elems) > 0 {
		v.Num = 0
		elems := make([]value.Value, len(v.Elems))
		for i := range elems {
			elems[i] = pl.real(v.Elems[i])
		}
		v.Elems = elems
	}
	return v
}

// known is the number of an operand that does not change, else NaN.
func (o operand) known() float64 {
	if o.col != nil {
		return nan
	}
	return o.k
}

// mean lets takes in a shape stand for their mean.
func (pl *planner) mean(v value.Value) value.Value {
	switch {
	case v.State != value.Present:
		return v
	case v.Kind == value.Takes:
		return value.Value{Kind: value.Number, Num: pl.keep(pl.meanOf(&v))}
	case len(v.Elems) > 0:
		elems := make([]value.Value, len(v.Elems))
		for i := range elems {
			elems[i] = pl.mean(v.Elems[i])
		}
		v.Elems = elems
	}
	return v
}

// numbers lists the operands of a shape, as [catalogue.Numbers] orders them.
func (pl *planner) numbers(out []operand, v value.Value) []operand {
	catalogue.Place(v, func(x float64) float64 {
		out = append(out, pl.op(x))
		return x
	})
	return out
}

// mark returns the operand that is NaN where a shape is not there as a whole.
func (pl *planner) mark(v value.Value) operand {
	if !grouped(v) || v.Num == 0 {
		return operand{}
	}
	return pl.op(v.Num - 1)
}

// marked tells whether any of the elements of a shape may not be there as a
// whole.
func marked(v value.Value) bool {
	return slices.ContainsFunc(v.Elems, func(e value.Value) bool { return grouped(e) && e.Num != 0 || marked(e) })
}

// guarded returns a shape whose numbers are not there where mark is NaN.
func (pl *planner) guarded(v value.Value, mark operand) value.Value {
	if mark.col == nil || v.State != value.Present {
		return v
	}
	guard := func(x float64) float64 {
		return pl.keep(operand{col: &guardCol{mark: mark.col, a: spread(pl.op(x))}})
	}
	switch v.Kind {
	case value.Number, value.Point, value.Takes, value.Net, value.Zone:
		return catalogue.Place(v, guard)
	}
	if grouped(v) {
		if v.Num == 0 {
			v.Num = pl.keep(mark) + 1
		} else {
			v.Num = guard(v.Num-1) + 1
		}
		elems := make([]value.Value, len(v.Elems))
		for i := range elems {
			elems[i] = pl.guarded(v.Elems[i], mark)
		}
		v.Elems = elems
	}
	return v
}

// once lets the columns of a shape be worked out once however often they are
// used.
func (pl *planner) once(v value.Value) value.Value {
	return catalogue.Place(v, func(x float64) float64 {
		switch c := pl.op(x).col.(type) {
		case nil, *slotCol, *onceCol, *kernelOut:
			return x
		default:
			return pl.keep(operand{col: &onceCol{b: pl.b, a: c}})
		}
	})
}

// guardCol is a, but NaN where mark is.
type guardCol struct {
	mark, a column
	buf     buffer
}

func (c *guardCol) run(n int) []float64 {
	out, mark, a := c.buf.of(n), c.mark.run(n), c.a.run(n)
	for i, m := range mark {
		out[i] = a[i]
		if m != m {
			out[i] = nan
		}
	}
	return out
}

// eitherCol is 0 where one of two is a number.
type eitherCol struct {
	a, b column
	buf  buffer
}

func (c *eitherCol) run(n int) []float64 {
	out, a, b := c.buf.of(n), c.a.run(n), c.b.run(n)
	for i := range out {
		out[i] = 0
		if a[i] != a[i] && b[i] != b[i] {
			out[i] = nan
		}
	}
	return out
}

// onceCol works a column out once for each set of trials.
type onceCol struct {
	b    *Batch
	a    column
	turn int
	done []float64
}

func (c *onceCol) run(n int) []float64 {
	if c.turn != c.b.turn {
		c.turn, c.done = c.b.turn, c.a.run(n)
	}
	return c.done[:n]
}
