package formula

import (
	"slices"

	"waywright/checks/value"
	"waywright/procedures/source"
)

// Builder collects the names of a program while its nodes are made.
type Builder struct {
	refs  []Ref
	types []value.Type
	made  []*name
	cites []string
}

// Cite notes where values come from that a function looks up.
func (b *Builder) Cite(source string) {
	if source != "" && !slices.Contains(b.cites, source) {
		b.cites = append(b.cites, source)
	}
}

// Name returns a use of a name of type t.
func (b *Builder) Name(r Ref, t value.Type) Node {
	i := slices.Index(b.refs, r)
	if i < 0 {
		i = len(b.refs)
		b.refs = append(b.refs, r)
		b.types = append(b.types, t)
	}
	n := &name{r, i, t}
	b.made = append(b.made, n)
	return n
}

// Program returns the program with that root. All names in it must have been
// made by b, which must not be used afterwards.
func (b *Builder) Program(root Node, text string, at source.Range) *Program {
	p := &Program{typ: root.Type(), at: at, text: text, cites: b.cites, root: root}
	// What the author did not write stands behind what he did.
	place := make([]int, len(b.refs))
	for _, hidden := range []bool{false, true} {
		for i, r := range b.refs {
			if (r.Space == Expansion) == hidden {
				place[i] = len(p.refs)
				p.refs, p.types = append(p.refs, r), append(p.types, b.types[i])
			}
		}
		if !hidden {
			p.written = len(p.refs)
		}
	}
	for _, n := range b.made {
		n.idx = place[n.idx]
	}
	return p
}

// Frame evaluates one program again and again with some of its inputs
// changed, without asking an Env each time. It is for one goroutine.
type Frame struct {
	p    *Program
	in   slots
	root scalar
}

// slots is the Env of a Frame: names are found by position.
type slots struct {
	vals []value.Value
	nums []float64
	gaps []*gap
}

// Value is not reached: names look into the slots themselves.
func (s *slots) Value(r Ref) value.Value { panic("formula: name without a place: " + r.String()) }

// Frame returns a frame of the program with its inputs as env has them.
func (p *Program) Frame(env Env) *Frame {
	n := len(p.refs)
	f := &Frame{p: p, root: asScalar(p.root), in: slots{make([]value.Value, n), make([]float64, n), make([]*gap, n)}}
	for i, r := range p.refs {
		f.Set(i, env.Value(r))
	}
	return f
}

// Set gives the i-th of the program's Refs a value.
func (f *Frame) Set(i int, v value.Value) {
	n := name{ref: f.p.refs[i], t: f.p.types[i]}
	f.in.vals[i] = n.fit(v)
	f.in.nums[i], f.in.gaps[i] = numberOf(&f.in.vals[i])
}

// SetNum gives the i-th of the program's Refs, a number or point, a value in
// base units.
func (f *Frame) SetNum(i int, x float64) {
	v := &f.in.vals[i]
	v.Kind, v.State, v.Num = f.p.types[i].Kind, value.Present, x
	f.in.nums[i], f.in.gaps[i] = finite(x)
}

// Eval returns the value of the program.
func (f *Frame) Eval() value.Value { return f.p.root.eval(&f.in, nil) }

// Num returns the value of a program that gives one number, and its state.
func (f *Frame) Num() (float64, value.State) {
	x, g := f.root.num(&f.in, nil)
	if g != nil {
		return 0, g.state
	}
	return x, value.Present
}
