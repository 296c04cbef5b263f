package engine

import (
	"math"
	"slices"
	"strconv"

	"waywright/checks/montecarlo"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// columns works the programs of a chain out for many trials at once, each
// result in its turn.
type columns struct {
	c        *chain
	nodes    map[string]*node
	order    []*node
	main     int     // how many of order the numbers of the subject need; those behind them are for divisors
	divisors []*node // nil where one of them cannot be worked out in columns
}

// node is a program of the chain in its place. Where nothing in it changes it
// has no slots, and its numbers are what they are.
type node struct {
	placed
	env    *env
	slots  []formula.Slot
	from   []feed // where the column of each slot comes from
	leaves [][]int
	first  *formula.Batch // the one that leaves were found with, until a worker takes it
	index  int
}

// feed is a column: of an input of the model, or of a number of a node.
type feed struct {
	input int
	node  *node // nil for an input
	leaf  int
}

// root adds a program of the subject itself, which must have so many numbers.
func (pl *columns) root(p *formula.Program, numbers int) (*node, bool) {
	n, ok := pl.node(placed{p, pl.c.q.step, pl.c.q.round})
	return n, ok && (len(n.slots) == 0 || len(n.leaves) == numbers)
}

// addDivisors adds the divisors of the chain, behind all others; they are given where
// they are asked for.
func (pl *columns) addDivisors() {
	pl.main = len(pl.order)
	for _, d := range pl.c.divisors {
		n, ok := pl.node(d)
		if !ok {
			pl.order, pl.divisors = pl.order[:pl.main], nil
			return
		}
		pl.divisors = append(pl.divisors, n)
	}
}

// node adds a program and what it stands on; ok is false where it cannot be
// worked out in columns.
func (pl *columns) node(x placed) (n *node, ok bool) {
	n = &node{placed: x, env: pl.c.s.env().in(x.step, x.round)}
	for i, r := range x.p.Inputs() {
		switch r.Space {
		case formula.Reading:
			ok = pl.reading(n, i, r)
		case formula.Given:
			ok = pl.given(n, i, r)
		case formula.Result:
			ok = pl.result(n, i, r)
		case formula.Expansion:
			ok = pl.expansion(n, i, expansionOf(r))
		default:
			ok = true
		}
		if !ok {
			return nil, false
		}
	}
	if len(n.slots) == 0 {
		return n, true
	}
	b, err := n.p.Each(n.env, n.slots)
	if err != nil {
		return nil, false
	}
	n.leaves, n.first, n.index = b.Leaves(), b, len(pl.order)
	pl.order = append(pl.order, n)
	return n, true
}

// slot lets a number of the i-th name of n be given by a column.
func (n *node) slot(i int, path []int, from feed) {
	n.slots = append(n.slots, formula.Slot{Ref: i, Path: path})
	n.from = append(n.from, from)
}

func (pl *columns) reading(n *node, i int, r formula.Ref) bool {
	s := pl.c.s
	rd, ok := s.plan.items[r.Name].(*procedures.Reading)
	if !ok {
		return true
	}
	v := n.env.Value(r)
	for _, round := range s.roundsOf(rd.Step, r, n.round) {
		prefix, ok := roundPath(v, rd.Step, r, round)
		if !ok {
			continue
		}
		key := address(rd.Name, round...)
		own := s.asRead(rd, round, key)
		paths := s.pathsOf(rd, round, key, own)
		for k, in := range pl.c.est.inputs {
			if path, ok := paths[in.id]; ok {
				n.slot(i, in.path(prefix, path), feed{input: k})
			}
		}
	}
	return true
}

// path leads from a value to the input in it.
func (in input) path(prefix, path []int) []int {
	out := slices.Concat(prefix, path)
	if in.take >= 0 {
		out = append(out, in.take)
	}
	return out
}

// roundPath leads to the value of one round in what a name means.
func roundPath(v value.Value, st *procedures.Step, r formula.Ref, round []string) (path []int, ok bool) {
	if len(st.Each) == 0 || r.Round {
		return nil, true
	}
	for _, k := range round {
		i := slices.Index(v.Keys, k)
		if i < 0 {
			return nil, false
		}
		path = append(path, i)
		v = v.Elems[i]
	}
	return path, true
}

func (pl *columns) given(n *node, i int, r formula.Ref) bool {
	s := pl.c.s
	g := s.plan.givens[r.Name]
	if g == nil {
		return true
	}
	v := n.env.Value(r)
	combos, _ := s.combos(g.Each, s.env())
	for _, keys := range combos {
		at, path := v, []int{}
		for _, k := range keys {
			j := slices.Index(at.Keys, k)
			if j < 0 {
				return false
			}
			path = append(path, j)
			at = at.Elems[j]
		}
		for k, in := range pl.c.est.inputs {
			if in.id == address(g.Name, keys...) {
				n.slot(i, in.path(nil, path), feed{input: k})
			}
		}
	}
	return true
}

func (pl *columns) expansion(n *node, i int, id string) bool {
	for k, in := range pl.c.est.inputs {
		if in.id == id {
			n.slot(i, nil, feed{input: k})
		}
	}
	return true
}

func (pl *columns) result(n *node, i int, r formula.Ref) bool {
	s := pl.c.s
	res, ok := s.plan.items[r.Name].(*procedures.Result)
	if !ok {
		return true
	}
	v := n.env.Value(r)
	for _, round := range s.roundsOf(res.Step, r, n.round) {
		prefix, ok := roundPath(v, res.Step, r, round)
		if !ok {
			continue
		}
		if _, applies := s.env().in(res.Step, round).applies(res.Step); !applies {
			continue
		}
		id := strconv.Quote(address(res.Name, round...))
		from, ok := pl.nodes[id]
		if !ok {
			if from, ok = pl.node(placed{res.Value, res.Step, round}); !ok {
				return false
			}
			pl.nodes[id] = from
		}
		for leaf, path := range from.leaves {
			full := slices.Concat(prefix, path)
			if there(v, full) {
				n.slot(i, full, feed{node: from, leaf: leaf})
			}
		}
	}
	return true
}

// there tells whether the path leads to a number that is present.
func there(v value.Value, path []int) bool {
	for d, i := range path {
		if v.State == value.Present && v.Kind == value.Net {
			return i < len(v.Z) && d == len(path)-1
		}
		if v.State != value.Present || i >= len(v.Elems) {
			return false
		}
		v = v.Elems[i]
	}
	return v.State == value.Present
}

// worker is the function of one goroutine. Workers are made one after another.
func (pl *columns) worker(of *node, limits []*node) montecarlo.Func {
	batches := make([]*formula.Batch, len(pl.order))
	numbers := make([][][]float64, len(pl.order))
	for k, n := range pl.order {
		batches[k] = n.batch()
		numbers[k] = make([][]float64, len(n.leaves))
	}
	return func(in, out [][]float64) {
		trials := len(out[0])
		for i, x := range pl.c.est.inputs {
			for t := range in[i] {
				in[i][t] += x.value
			}
		}
		order := pl.order[:pl.main]
		if len(out) > pl.numbers() {
			order = pl.order
		}
		for k, n := range order {
			cols := make([][]float64, len(n.from))
			for j, f := range n.from {
				if f.node == nil {
					cols[j] = in[f.input]
				} else {
					cols[j] = numbers[f.node.index][f.leaf][:trials]
				}
			}
			room(numbers[k], trials)
			batches[k].RunEach(cols, upTo(numbers[k], trials))
		}
		pl.finish(of, limits, numbers, out)
	}
}

// numbers is how many there are without the divisors.
func (pl *columns) numbers() int { return len(pl.c.est.of) * (1 + b2i(pl.c.lo) + b2i(pl.c.hi)) }

// finish gives the numbers of the subject and their margins, and behind them the
// divisors where there is room for them.
func (pl *columns) finish(of *node, limits []*node, numbers [][][]float64, out [][]float64) {
	c := pl.c
	for k := pl.numbers(); k < len(out); k++ {
		pl.nearest(k-pl.numbers(), numbers, out[k])
	}
	out = out[:min(len(out), pl.numbers())]
	n := len(c.est.of)
	for i := range n {
		switch {
		case c.est.of[i].state != value.Present:
			fill(out[i], math.NaN())
		case len(of.slots) == 0:
			fill(out[i], c.est.of[i].y)
		default:
			copy(out[i], numbers[of.index][i])
		}
	}
	if len(limits) == 0 {
		return
	}
	lo, hi := pl.limit(limits[0], numbers, 0, c.est.lo), pl.limit(limits[len(limits)-1], numbers, 1, c.est.hi)
	rest := out[n:]
	if c.lo {
		for i := range n {
			for t, y := range out[i] {
				rest[i][t] = y - lo(t)
			}
		}
		rest = rest[n:]
	}
	if c.hi {
		for i := range n {
			for t, y := range out[i] {
				rest[i][t] = hi(t) - y
			}
		}
	}
}

// nearest gives a divisor: of several numbers the one nearest to nought.
func (pl *columns) nearest(k int, numbers [][][]float64, out []float64) {
	n := pl.divisors[k]
	if len(n.slots) == 0 {
		fill(out, pl.c.divisor(n.placed, pl.c.s.env()))
		return
	}
	fill(out, math.NaN())
	for _, col := range numbers[n.index] {
		for t, y := range col[:len(out)] {
			if y == y && !(math.Abs(y) >= math.Abs(out[t])) {
				out[t] = y
			}
		}
	}
}

// limit returns a limit by trial: the side-th number of a zone, or the only
// one.
func (pl *columns) limit(n *node, numbers [][][]float64, side int, fixed float64) func(t int) float64 {
	if len(n.slots) == 0 {
		return func(int) float64 { return fixed }
	}
	col := numbers[n.index][min(side, len(n.leaves)-1)]
	return func(t int) float64 { return col[t] }
}

// batch returns what works the node's program out for many trials.
func (n *node) batch() *formula.Batch {
	b := n.first
	if n.first = nil; b != nil {
		return b
	}
	b, err := n.p.Each(n.env, n.slots)
	if err != nil {
		panic("engine: " + err.Error()) // it could be made before
	}
	return b
}

// room lets the columns hold so many trials.
func room(cols [][]float64, trials int) {
	for i := range cols {
		if len(cols[i]) < trials {
			cols[i] = make([]float64, trials)
		}
	}
}

func upTo(cols [][]float64, n int) [][]float64 {
	out := make([][]float64, len(cols))
	for i := range cols {
		out[i] = cols[i][:n]
	}
	return out
}

func fill(col []float64, x float64) {
	for i := range col {
		col[i] = x
	}
}
