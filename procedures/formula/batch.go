package formula

import (
	"fmt"
	"math"

	"waywright/checks/stat"
	"waywright/checks/value"
)

// Slot says where a number stands among the inputs of a program. Path leads
// from the value of the Ref through its elements, and at the end to one of
// its takes or heights. A Path that ends at takes means all of them together:
// a number there moves them so that it becomes their mean.
type Slot struct {
	Ref  int // index into the program's Inputs
	Path []int
}

// Batch evaluates a program of one number or truth for many trials at once,
// in which some numbers of its inputs change. It gives to the last bit what
// Eval gives trial by trial. It is for one goroutine.
//
// Numbers are worked out column by column, a for and collections too where keys
// and stations do not hang on what changes. What cannot be is worked out trial by
// trial within it.
type Batch struct {
	frame  *Frame
	leaves []leaf
	root   operand
	cols   [][]float64
	tidy   [][]float64 // copies of columns in which some numbers are not finite
	clean  []bool      // columns in which all are
	turn   int         // how often it was run
	all    *whole      // made by Each
}

// leaf is a number that changes.
type leaf struct {
	ref   int
	v     *value.Value
	num   *float64  // one take, or one height of a net
	takes []float64 // all takes, as they were
	mean  float64   // of them
}

// Batch returns a batch of the program with its inputs as env has them, and
// numbers to be given in place of those at slots. The error tells a slot that
// does not lead to a number that is present, or that the program gives
// neither a number nor a truth.
func (p *Program) Batch(env Env, slots []Slot) (*Batch, error) {
	if !single(p.typ) && p.typ.Kind != value.Truth {
		return nil, fmt.Errorf("formula: a batch gives numbers or truths, not %s", p.typ)
	}
	b, err := p.batch(env, slots)
	if err != nil {
		return nil, err
	}
	pl := newPlanner(b)
	if p.typ.Kind == value.Truth {
		b.root, _ = pl.truth(p.root, nil)
	} else {
		b.root, _ = pl.number(p.root, nil)
	}
	return b, nil
}

// batch returns a batch without a plan.
func (p *Program) batch(env Env, slots []Slot) (*Batch, error) {
	b := &Batch{frame: p.Frame(env), cols: make([][]float64, len(slots)), tidy: make([][]float64, len(slots)), clean: make([]bool, len(slots))}
	own := make([]bool, len(p.refs))
	for i, s := range slots {
		if s.Ref < 0 || s.Ref >= len(p.refs) {
			return nil, fmt.Errorf("formula: slot %d: the program has no input %d", i, s.Ref)
		}
		if !own[s.Ref] { // nobody else's numbers may change
			own[s.Ref] = true
			b.frame.in.vals[s.Ref] = clone(b.frame.in.vals[s.Ref])
		}
		l, ok := b.find(s)
		if !ok {
			return nil, fmt.Errorf("formula: slot %d: %s has no number at %v", i, p.refs[s.Ref], s.Path)
		}
		b.leaves = append(b.leaves, l)
	}
	return b, nil
}

// varied returns the refs in which some number changes.
func (b *Batch) varied() map[int]bool {
	refs := map[int]bool{}
	for _, l := range b.leaves {
		refs[l.ref] = true
	}
	return refs
}

// clone copies a value so that its numbers can be changed.
func clone(v value.Value) value.Value {
	v.Takes = append([]float64(nil), v.Takes...)
	v.Z = append([]float64(nil), v.Z...)
	elems := v.Elems
	v.Elems = make([]value.Value, len(elems))
	for i, e := range elems {
		v.Elems[i] = clone(e)
	}
	return v
}

func (b *Batch) find(s Slot) (leaf, bool) {
	l := leaf{ref: s.Ref, v: &b.frame.in.vals[s.Ref]}
	for d, i := range s.Path {
		numbers := l.v.Takes
		if l.v.Kind == value.Net {
			numbers = l.v.Z
		}
		switch {
		case l.v.State != value.Present || i < 0:
			return l, false
		case i < len(l.v.Elems):
			l.v = &l.v.Elems[i]
		case i < len(numbers) && d == len(s.Path)-1:
			l.num = &numbers[i]
			return l, true
		default:
			return l, false
		}
	}
	if l.v.State != value.Present {
		return l, false
	}
	switch l.v.Kind {
	case value.Number, value.Point:
		return l, true
	case value.Takes:
		if len(l.v.Takes) == 0 {
			return l, false
		}
		l.takes, l.mean = append([]float64(nil), l.v.Takes...), stat.Mean(l.v.Takes)
		return l, true
	}
	return l, false
}

// Run evaluates one trial for each element of out: cols[k][i] is the number
// at slot k in trial i. It gives 1 for true and 0 for false. Where a trial has
// no result, or a number given is not finite, out is NaN there; undefined
// counts these. It panics if there are not as many columns as slots, or they
// are shorter than out.
func (b *Batch) Run(cols [][]float64, out []float64) (undefined int) {
	n := len(out)
	b.take(cols, n)
	if b.root.col == nil {
		fill(out, b.root.k)
	} else {
		copy(out, b.root.col.run(n))
	}
	for _, y := range out {
		if y != y {
			undefined++
		}
	}
	return undefined
}

// take takes n trials of the columns as the numbers to be given.
func (b *Batch) take(cols [][]float64, n int) {
	if len(cols) != len(b.leaves) {
		panic(fmt.Sprintf("formula: %d columns for %d slots", len(cols), len(b.leaves)))
	}
	b.turn++
	for k, c := range cols {
		b.cols[k] = b.checked(k, c[:n])
	}
}

// checked returns the column with NaN in the place of infinities.
func (b *Batch) checked(k int, c []float64) []float64 {
	var off float64
	for _, x := range c {
		off += x - x
	}
	if b.clean[k] = off == 0; b.clean[k] {
		return c
	}
	b.tidy[k] = room(b.tidy[k], len(c))
	for i, x := range c {
		b.tidy[k][i] = x - (x - x)
	}
	return b.tidy[k]
}

// set gives the i-th slot a number; not a number stands for none.
func (b *Batch) set(i int, x float64) {
	l := &b.leaves[i]
	state, why := value.Present, ""
	if x != x {
		state, why = value.Absent, "not a finite number"
	}
	switch {
	case l.num != nil:
		*l.num = x // takes that are no number have no mean
	case l.takes != nil:
		for j, t := range l.takes {
			l.v.Takes[j] = t + float64(x-l.mean)
		}
		l.v.State, l.v.Why = state, why
	default:
		l.v.Num, l.v.State, l.v.Why = x, state, why
	}
	in := &b.frame.in
	in.nums[l.ref], in.gaps[l.ref] = numberOf(&in.vals[l.ref])
}

// room returns a column of n numbers, the old one where it is large enough.
func room(c []float64, n int) []float64 {
	if cap(c) < n {
		return make([]float64, n)
	}
	return c[:n]
}

func fill(c []float64, x float64) {
	for i := range c {
		c[i] = x
	}
}

var nan = math.NaN()
