package engine

import (
	"math"
	"slices"
	"strconv"

	"waywright/checks/montecarlo"
	"waywright/checks/propagate"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// chain is all that a subject is worked out by, from its readings through the
// results on the way. Its numbers are those of the subject, then the margins
// to its limits where these come from readings too, then the divisors.
type chain struct {
	s   *State
	q   subject
	est *estimate

	form     formula.Traits
	lo, hi   bool // the margin to that limit is a number of its own
	margin   formula.Traits
	divisors []placed
}

// placed is a program in a round of its step.
type placed struct {
	p     *formula.Program
	step  *procedures.Step
	round []string
}

func (s *State) chain(q subject, est *estimate) *chain {
	c := &chain{s: s, q: q, est: est, form: s.plan.traits(q.of)}
	for _, p := range q.limits() {
		t := s.plan.traits(p)
		if t.Varies {
			c.margin.Kinked = c.margin.Kinked || t.Kinked
			c.lo, c.hi = !math.IsInf(est.lo, 0), !math.IsInf(est.hi, 0)
		}
	}
	for _, x := range c.reached() {
		for _, d := range x.p.Divisors() {
			c.divisors = append(c.divisors, placed{d, x.step, x.round})
		}
	}
	return c
}

// reached lists the programs that the subject is worked out by, each once.
func (c *chain) reached() []placed {
	var out []placed
	seen := map[string]bool{}
	var visit func(x placed)
	visit = func(x placed) {
		out = append(out, x)
		for _, r := range x.p.Refs() {
			res, ok := c.s.plan.items[r.Name].(*procedures.Result)
			if !ok || r.Space != formula.Result {
				continue
			}
			for _, round := range c.s.roundsOf(res.Step, r, x.round) {
				if id := address(res.Name, round...); !seen[id] {
					seen[id] = true
					visit(placed{res.Value, res.Step, round})
				}
			}
		}
	}
	for _, p := range append([]*formula.Program{c.q.of}, c.q.limits()...) {
		visit(placed{p, c.q.step, c.q.round})
	}
	return out
}

// roundsOf are the rounds of a step that a name means: the present one, or
// all.
func (s *State) roundsOf(st *procedures.Step, r formula.Ref, present []string) [][]string {
	switch {
	case len(st.Each) == 0:
		return oneRound
	case r.Round:
		return [][]string{present}
	}
	return s.rounds(st)
}

// forms tells what is known of each number but the divisors, and the limits
// that the share of trials beyond is wanted of.
func (c *chain) forms() (forms []propagate.Form, zones []propagate.Zone) {
	n := len(c.est.of)
	add := func(f propagate.Form, z propagate.Zone) {
		for range n {
			forms, zones = append(forms, f), append(zones, z)
		}
	}
	add(c.est.form, propagate.Zone{Lo: c.est.lo, Hi: c.est.hi})
	margin := propagate.Form{Kinked: c.form.Kinked || c.margin.Kinked, NonNegative: c.form.NonNegative}
	for _, there := range []bool{c.lo, c.hi} {
		if there {
			add(margin, propagate.Zone{Lo: 0, Hi: math.Inf(1)})
		}
	}
	return forms, zones
}

// parts takes what was solved apart: the numbers, and their margins.
func (c *chain) parts(solved []propagate.Estimate) (e, below, above []propagate.Estimate) {
	n := len(c.est.of)
	e, solved = solved[:n], solved[n:]
	if c.lo {
		below, solved = solved[:n], solved[n:]
	}
	if c.hi {
		above = solved[:n]
	}
	return e, below, above
}

// eval gives the numbers with the inputs shifted; see [propagate.Problem].
func (c *chain) eval(shift []float64) []float64 {
	e := &env{s: c.s, shift: map[string]float64{}, memo: map[string]value.Value{}}
	for i, d := range shift {
		if d != 0 {
			e.shift[c.est.inputs[i].key()] = d
		}
	}
	if len(e.shift) == 0 {
		e = c.s.env()
	}
	of, lo, hi, st, _ := c.q.numbers(e)
	if st != value.Present || len(of) != len(c.est.of) {
		return nil
	}
	out := make([]float64, 0, 3*len(of)+len(c.divisors))
	for i, n := range of {
		y := math.NaN()
		if n.state == value.Present && n.state == c.est.of[i].state {
			y = n.y
		}
		out = append(out, y)
	}
	out = c.addMargins(out, lo, hi)
	for _, d := range c.divisors {
		out = append(out, c.divisor(d, e))
	}
	return out
}

func (c *chain) addMargins(out []float64, lo, hi float64) []float64 {
	n := len(c.est.of)
	if c.lo {
		for i := range n {
			out = append(out, out[i]-lo)
		}
	}
	if c.hi {
		for i := range n {
			out = append(out, hi-out[i])
		}
	}
	return out
}

// divisor evaluates a divisor: of several the one nearest to nought.
func (c *chain) divisor(d placed, e *env) float64 {
	v := d.p.Eval(e.in(d.step, d.round))
	least := math.NaN()
	for _, n := range leavesOf(v) {
		if n.state == value.Present && !(math.Abs(n.y) >= math.Abs(least)) {
			least = n.y
		}
	}
	return least
}

// start returns the numbers, but for the divisors, for columns of shifts; nil
// where they cannot be worked out so.
func (c *chain) start() func() montecarlo.Func {
	pl := &columns{c: c, nodes: map[string]*node{}}
	of, ok := pl.root(c.q.of, len(c.est.of))
	if !ok {
		return nil
	}
	var limits []*node
	if c.lo || c.hi {
		for _, p := range c.q.limits() {
			n, ok := pl.root(p, 1+b2i(p == c.q.gate.Within))
			if !ok {
				return nil
			}
			limits = append(limits, n)
		}
	}
	return func() montecarlo.Func { return pl.worker(of, limits) }
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// columns works the programs of a chain out for many trials at once, each
// result in its turn.
type columns struct {
	c     *chain
	nodes map[string]*node
	order []*node
}

// node is a program of the chain in its place. Where nothing in it changes it
// has no slots, and its numbers are what they are.
type node struct {
	placed
	env    *env
	slots  []formula.Slot
	from   []feed // where the column of each slot comes from
	leaves [][]int
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
	n.leaves, n.index = b.Leaves(), len(pl.order)
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
		own := s.once(key, func() value.Value { return s.env().reading(rd, round) })
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
	for _, i := range path {
		if v.State != value.Present || i >= len(v.Elems) {
			return false
		}
		v = v.Elems[i]
	}
	return v.State == value.Present
}

// worker is the function of one goroutine.
func (pl *columns) worker(of *node, limits []*node) montecarlo.Func {
	batches := make([]*formula.Batch, len(pl.order))
	numbers := make([][][]float64, len(pl.order))
	for k, n := range pl.order {
		b, err := n.p.Each(n.env, n.slots)
		if err != nil {
			panic("engine: " + err.Error()) // it could be made before
		}
		batches[k], numbers[k] = b, room(len(n.leaves))
	}
	return func(in, out [][]float64) {
		trials := len(out[0])
		for i, x := range pl.c.est.inputs {
			for t := range in[i] {
				in[i][t] += x.value
			}
		}
		for k, n := range pl.order {
			cols := make([][]float64, len(n.from))
			for j, f := range n.from {
				if f.node == nil {
					cols[j] = in[f.input]
				} else {
					cols[j] = numbers[f.node.index][f.leaf][:trials]
				}
			}
			batches[k].RunEach(cols, upTo(numbers[k], trials))
		}
		pl.finish(of, limits, numbers, out)
	}
}

// finish gives the numbers of the subject and their margins.
func (pl *columns) finish(of *node, limits []*node, numbers [][][]float64, out [][]float64) {
	c := pl.c
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

// limit returns a limit by trial: the side-th number of a zone, or the only
// one.
func (pl *columns) limit(n *node, numbers [][][]float64, side int, fixed float64) func(t int) float64 {
	if len(n.slots) == 0 {
		return func(int) float64 { return fixed }
	}
	col := numbers[n.index][min(side, len(n.leaves)-1)]
	return func(t int) float64 { return col[t] }
}

func room(n int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, montecarlo.Block)
	}
	return out
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
