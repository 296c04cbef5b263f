package montecarlo

import (
	"sync"
	"sync/atomic"
)

// runner tries a problem, block after block.
type runner struct {
	p       *Problem
	seed    uint64
	workers []*worker
	blocks  []moments   // of block b and output k at b·outputs + k
	values  [][]float64 // of each output, in the order of the trials
}

// worker is what one goroutine works with.
type worker struct {
	p       *Problem
	f       Func
	own     []int // of each source: the only input that it is drawn into, or −1
	sources [][]float64
	pools   [][]float64
	inputs  [][]float64
	in, out [][]float64 // the same, cut to the length of the block
}

func newRunner(p Problem, o Options) *runner {
	r := &runner{p: &p, seed: o.Seed, values: make([][]float64, p.outputs())}
	for range o.workers() {
		r.workers = append(r.workers, newWorker(&p))
	}
	return r
}

func newWorker(p *Problem) *worker {
	w := &worker{
		p: p, f: p.Start(), own: owners(p),
		sources: make([][]float64, len(p.Sources)),
		pools:   columns(len(p.Pools)), inputs: columns(len(p.Inputs)),
		in: make([][]float64, len(p.Inputs)), out: make([][]float64, p.outputs()),
	}
	for k, i := range w.own {
		if i >= 0 {
			w.sources[k] = w.inputs[i]
		} else {
			w.sources[k] = make([]float64, Block)
		}
	}
	return w
}

func columns(n int) [][]float64 {
	c := make([][]float64, n)
	for i := range c {
		c[i] = make([]float64, Block)
	}
	return c
}

// owners finds the sources that one input alone uses, as its first term: they
// are drawn where the input stands.
func owners(p *Problem) []int {
	own := make([]int, len(p.Sources))
	for k := range own {
		own[k] = -1
	}
	uses := make([]int, len(p.Sources))
	for i, in := range p.Inputs {
		for j, t := range in.Terms {
			uses[t.Source]++
			if j == 0 {
				own[t.Source] = i
			}
		}
	}
	for k, n := range uses {
		if n != 1 {
			own[k] = -1
		}
	}
	return own
}

// extend goes on until there are n trials. All but the last block are whole,
// so it is only called again after a whole number of blocks.
func (r *runner) extend(n int) {
	first, last := len(r.values[0])/Block, (n+Block-1)/Block
	for k := range r.values {
		r.values[k] = append(r.values[k], make([]float64, n-len(r.values[k]))...)
	}
	r.blocks = append(r.blocks, make([]moments, (last-first)*len(r.values))...)
	var next atomic.Int64
	next.Store(int64(first))
	work := func(w *worker) {
		for {
			b := int(next.Add(1)) - 1
			if b >= last {
				return
			}
			r.try(w, b, min(n, (b+1)*Block))
		}
	}
	var wg sync.WaitGroup
	for i, w := range r.workers {
		if i == 0 || i >= last-first {
			continue
		}
		wg.Go(func() { work(w) })
	}
	work(r.workers[0])
	wg.Wait()
}

// try does block b, the trials up to end.
func (r *runner) try(w *worker, b, end int) {
	start := b * Block
	w.draw(r.seed, uint64(b))
	for i := range w.in {
		w.in[i] = w.inputs[i][:end-start]
	}
	for k := range w.out {
		w.out[k] = r.values[k][start:end:end]
	}
	w.f(w.in, w.out)
	for k := range w.out {
		r.blocks[b*len(r.values)+k] = momentsOf(w.out[k])
	}
}

// draw fills the inputs with the trials of a block: all of them, so that a
// block that is cut short begins like the whole one.
func (w *worker) draw(seed, block uint64) {
	for k, nu := range w.p.Pools {
		// Pools are numbered from the other end, so that another source does
		// not change their numbers.
		g := stream(seed, block, ^uint64(k))
		for i := range w.pools[k] {
			w.pools[k][i] = g.stretch(nu)
		}
	}
	for k := range w.p.Sources {
		s := &w.p.Sources[k]
		g := stream(seed, block, uint64(k))
		var stretch []float64
		if s.shape == pooled {
			stretch = w.pools[s.pool]
		}
		s.fill(&g, w.sources[k], stretch)
	}
	for i := range w.p.Inputs {
		w.add(&w.p.Inputs[i], w.inputs[i])
	}
}

// add puts an input together from its value and its terms. Each product is
// rounded by itself, so that no processor may fuse it with the sum.
func (w *worker) add(in *Input, dst []float64) {
	v := in.Value
	for _, t := range in.Terms {
		v += float64(t.Coefficient * w.p.Sources[t.Source].Mean())
	}
	if len(in.Terms) == 0 {
		for i := range dst {
			dst[i] = v
		}
	}
	rest := in.Terms
	for first := true; len(rest) > 0; first = false {
		switch x, c := w.scaled(rest[0]); {
		case first:
			for i, y := range x[:len(dst)] {
				dst[i] = v + float64(c*y)
			}
		case len(rest) >= 4: // in the same order, with less going to and fro
			w.addFour([4]Term(rest), dst)
			rest = rest[3:]
		default:
			for i, y := range x[:len(dst)] {
				dst[i] += float64(c * y)
			}
		}
		rest = rest[1:]
	}
}

// scaled returns what was drawn of a term's source, and what it is multiplied by.
func (w *worker) scaled(t Term) (x []float64, by float64) {
	return w.sources[t.Source], t.Coefficient * w.p.Sources[t.Source].scale
}

func (w *worker) addFour(terms [4]Term, dst []float64) {
	n := len(dst)
	a, ca := w.scaled(terms[0])
	b, cb := w.scaled(terms[1])
	c, cc := w.scaled(terms[2])
	d, cd := w.scaled(terms[3])
	a, b, c, d = a[:n], b[:n], c[:n], d[:n]
	for i, y := range dst {
		dst[i] = y + float64(ca*a[i]) + float64(cb*b[i]) + float64(cc*c[i]) + float64(cd*d[i])
	}
}

// samples returns what has been tried so far.
func (r *runner) samples() []Sample {
	out := make([]Sample, len(r.values))
	for k := range out {
		m := r.reduce(k, 0, len(r.blocks)/len(r.values))
		out[k] = newSample(r.values[k], m)
	}
	return out
}

// reduce puts the moments of output k in some blocks together, in their order.
func (r *runner) reduce(k, from, to int) moments {
	var m moments
	for b := from; b < to; b++ {
		m = m.with(r.blocks[b*len(r.values)+k])
	}
	return m
}
