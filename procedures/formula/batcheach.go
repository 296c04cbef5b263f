package formula

import (
	"fmt"
	"slices"

	"waywright/checks/value"
)

// whole is how a batch gives values of many numbers.
type whole struct {
	like   value.Value // what the program gives with its inputs as they are
	leaves [][]int     // paths to the numbers in it
	x      []operand   // a column for each; nil where it is worked out trial by trial
}

// Each returns a batch for a program that gives many numbers, as a profile or
// values by key, or for one that gives a single number. Its [Batch.RunEach]
// gives them all. The error is that of Batch.
func (p *Program) Each(env Env, slots []Slot) (*Batch, error) {
	b, err := p.batch(env, slots)
	if err != nil {
		return nil, err
	}
	pl := newPlanner(b)
	b.all = &whole{like: p.root.eval(&b.frame.in, nil)}
	b.all.leaves = leavesOf(&b.all.like, nil)
	if single(p.typ) {
		o, _ := pl.number(p.root, nil)
		b.all.x = []operand{o}
		return b, nil
	}
	b.all.like = clone(b.all.like) // what lies in the inputs will change
	if v, ok := pl.shape(p.root, nil); ok && v.State == value.Present && b.all.like.State == value.Present && alike(&v, &b.all.like) {
		if x := pl.leaves(nil, &v); len(x) == len(b.all.leaves) {
			b.all.x = x
		}
	}
	return b, nil
}

// Leaves returns the paths of the numbers that RunEach gives, in its order:
// as in a [Slot], through the elements of the program's value; a zone has its
// lower limit at 0 and its upper one at 1, infinite where there is none. The
// caller must not change them.
func (b *Batch) Leaves() [][]int { return b.all.leaves }

// RunEach is Run for a batch made by Each: out[j][i] is the number at Leaves
// j in trial i. A number that is not there in a trial is NaN, and all of them
// are where the value is not there, or has other keys or stations than with
// the inputs as they are. It panics as Run does.
func (b *Batch) RunEach(cols, out [][]float64) {
	if len(out) != len(b.all.leaves) {
		panic(fmt.Sprintf("formula: %d columns for %d numbers", len(out), len(b.all.leaves)))
	}
	if len(out) == 0 {
		return
	}
	n := len(out[0])
	b.take(cols, n)
	if b.all.x == nil {
		b.eachTrial(n, out)
		return
	}
	for j := range out {
		copy(out[j], spreadOver(&b.all.x[j], b.all.x[j]).run(n))
	}
}

func (b *Batch) eachTrial(n int, out [][]float64) {
	for i := range n {
		lost := false
		for k := range b.leaves {
			x := b.cols[k][i]
			b.set(k, x)
			lost = lost || x != x && b.leaves[k].num != nil
		}
		v := b.frame.p.root.eval(&b.frame.in, nil)
		if lost = lost || !alike(&v, &b.all.like); lost {
			for j := range out {
				out[j][i] = nan
			}
			continue
		}
		rest := out
		flatten(&v, i, &rest)
	}
}

// leavesOf returns the paths of all numbers in v, there or not.
func leavesOf(v *value.Value, path []int) (out [][]int) {
	below := func(i int) []int { return append(slices.Clone(path), i) }
	switch {
	case v.Kind == value.Net:
		for i := range v.Z {
			out = append(out, below(i))
		}
	case v.Kind == value.Zone && v.State == value.Present:
		out = append(out, below(0), below(1))
	case hasParts(v):
		for i := range v.Elems {
			out = append(out, leavesOf(&v.Elems[i], below(i))...)
		}
	default:
		out = append(out, path)
	}
	return out
}

// leaves lists the operands of a shape in the order of leavesOf; takes stand for
// their mean.
func (pl *planner) leaves(out []operand, v *value.Value) []operand {
	switch {
	case v.State != value.Present:
		return append(out, operand{k: nan})
	case v.Kind == value.Net || v.Kind == value.Zone:
		return pl.numbers(out, *v)
	case hasParts(v):
		for i := range v.Elems {
			out = pl.leaves(out, &v.Elems[i])
		}
		return out
	}
	return append(out, pl.of(v))
}

// hasParts tells whether a value holds other values.
func hasParts(v *value.Value) bool {
	return v.Kind == value.Object || value.Type{Kind: v.Kind}.Collection()
}

// flatten puts the numbers of v into trial i of the columns, in the order of
// leavesOf.
func flatten(v *value.Value, i int, out *[][]float64) {
	put := func(x float64, g *gap) {
		if g != nil {
			x = nan
		}
		(*out)[0][i] = x
		*out = (*out)[1:]
	}
	switch {
	case v.Kind == value.Net:
		for _, z := range v.Z {
			put(finite(z))
		}
	case v.Kind == value.Zone && v.State == value.Present:
		put(v.Lo, nil)
		put(v.Hi, nil)
	case hasParts(v):
		for j := range v.Elems {
			flatten(&v.Elems[j], i, out)
		}
	default:
		put(numberOf(v))
	}
}

// alike tells whether two values have their numbers in the same places.
func alike(a, b *value.Value) bool {
	if b.Kind == value.Zone {
		return a.Kind == b.Kind && a.State == b.State
	}
	if !hasParts(b) && b.Kind != value.Net {
		return !hasParts(a) && a.Kind != value.Net
	}
	if a.Kind != b.Kind || a.State != b.State || len(a.Elems) != len(b.Elems) || len(a.Z) != len(b.Z) ||
		!slices.Equal(a.Keys, b.Keys) || !slices.Equal(a.At, b.At) || !slices.Equal(a.X, b.X) || !slices.Equal(a.Y, b.Y) {
		return false
	}
	for i := range a.Elems {
		if !alike(&a.Elems[i], &b.Elems[i]) {
			return false
		}
	}
	return true
}
