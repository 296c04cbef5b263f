package formula

import "math"

// column is a node that is worked out for many trials at once. Where a trial
// has no number the column holds NaN; a truth is 1 or 0.
type column interface {
	// run returns n numbers, which stay as they are until the next run.
	run(n int) []float64
}

// operand is a column, or the same number in every trial.
type operand struct {
	col column
	k   float64
}

func constant(x float64, g *gap) operand {
	if g != nil {
		return operand{k: nan}
	}
	return operand{k: x}
}

// spread returns an operand as a column.
func spread(o operand) column {
	if o.col != nil {
		return o.col
	}
	return &constCol{k: o.k}
}

// defined returns x, or NaN where it is not finite. It keeps the sign of 0.
func defined(x float64) float64 { return x - (x - x) }

// buffer is the room that a column has for its numbers.
type buffer []float64

func (b *buffer) of(n int) []float64 {
	*b = room(*b, n)
	return *b
}

type constCol struct {
	k    float64
	done buffer
}

func (c *constCol) run(n int) []float64 {
	if len(c.done) < n {
		c.done = make([]float64, n)
		fill(c.done, c.k)
	}
	return c.done[:n]
}

// slotCol is a number that is given for each trial.
type slotCol struct {
	b *Batch
	k int
}

func (c *slotCol) run(n int) []float64 { return c.b.cols[c.k][:n] }

// takeCol is one of the takes that are moved together.
type takeCol struct {
	b    *Batch
	k, j int
	buf  buffer
}

func (c *takeCol) run(n int) []float64 {
	out, l := c.buf.of(n), &c.b.leaves[c.k]
	for i, x := range c.b.cols[c.k][:n] {
		out[i] = l.takes[c.j] + float64(x-l.mean)
	}
	return out
}

type negCol struct {
	a   column
	buf buffer
}

func (c *negCol) run(n int) []float64 {
	out := c.buf.of(n)
	for i, x := range c.a.run(n) {
		out[i] = -x
	}
	return out
}

// paired returns a op b.
func paired(op Op, a, b operand) operand {
	if a.col == nil && b.col == nil {
		if a.k != a.k || b.k != b.k {
			return operand{k: nan}
		}
		return constant(compute(op, a.k, b.k))
	}
	return operand{col: &pairCol{op: op, a: a, b: b}}
}

type pairCol struct {
	op   Op
	a, b operand
	buf  buffer
}

func (c *pairCol) run(n int) []float64 {
	out := c.buf.of(n)
	switch {
	case c.a.col == nil:
		c.left(out, c.b.col.run(n))
	case c.b.col == nil:
		c.right(out, c.a.col.run(n))
	default:
		c.both(out, c.a.col.run(n), c.b.col.run(n))
	}
	return out
}

// left has a constant on its left.
func (c *pairCol) left(out, b []float64) {
	k := c.a.k
	b = b[:len(out)]
	switch c.op {
	case Add:
		for i := range out {
			out[i] = defined(k + b[i])
		}
	case Sub:
		for i := range out {
			out[i] = defined(k - b[i])
		}
	case Mul:
		for i := range out {
			out[i] = defined(float64(k * b[i]))
		}
	case Div:
		for i := range out {
			out[i] = defined(k / b[i])
		}
	default:
		for i := range out {
			out[i] = defined(math.Mod(k, b[i]))
		}
	}
}

// right has a constant on its right.
func (c *pairCol) right(out, a []float64) {
	k := c.b.k
	a = a[:len(out)]
	switch c.op {
	case Add:
		for i := range out {
			out[i] = defined(a[i] + k)
		}
	case Sub:
		for i := range out {
			out[i] = defined(a[i] - k)
		}
	case Mul:
		for i := range out {
			out[i] = defined(float64(a[i] * k))
		}
	case Div:
		for i := range out {
			out[i] = defined(a[i] / k)
		}
	default:
		for i := range out {
			out[i] = defined(math.Mod(a[i], k))
		}
	}
}

func (c *pairCol) both(out, a, b []float64) {
	a, b = a[:len(out)], b[:len(out)]
	switch c.op {
	case Add:
		for i := range out {
			out[i] = defined(a[i] + b[i])
		}
	case Sub:
		for i := range out {
			out[i] = defined(a[i] - b[i])
		}
	case Mul:
		for i := range out {
			out[i] = defined(float64(a[i] * b[i]))
		}
	case Div:
		for i := range out {
			out[i] = defined(a[i] / b[i])
		}
	default:
		for i := range out {
			out[i] = defined(math.Mod(a[i], b[i]))
		}
	}
}

type compareCol struct {
	op   Op
	a, b column
	buf  buffer
}

func (c *compareCol) run(n int) []float64 {
	out, a, b := c.buf.of(n), c.a.run(n), c.b.run(n)
	for i := range out {
		out[i] = compared(c.op, a[i], b[i])
	}
	return out
}

func compared(op Op, a, b float64) float64 {
	if a != a || b != b {
		return nan
	}
	is := false
	switch op {
	case Eq:
		is = a == b
	case Ne:
		is = a != b
	case Lt:
		is = a < b
	case Le:
		is = a <= b
	case Gt:
		is = a > b
	default:
		is = a >= b
	}
	if is {
		return 1
	}
	return 0
}

type notCol struct {
	a   column
	buf buffer
}

func (c *notCol) run(n int) []float64 {
	out := c.buf.of(n)
	for i, x := range c.a.run(n) {
		out[i] = 1 - x
	}
	return out
}

// chooseCol is c ? a : b. A branch that no trial takes is not worked out.
type chooseCol struct {
	c, a, b column
	buf     buffer
}

func (c *chooseCol) run(n int) []float64 {
	out, cond := c.buf.of(n), c.c.run(n)
	yes, no := 0, 0
	for _, x := range cond {
		switch x {
		case 1:
			yes++
		case 0:
			no++
		}
	}
	fill(out, nan)
	for _, branch := range [...]struct {
		takers int
		when   float64
		col    column
	}{{yes, 1, c.a}, {no, 0, c.b}} {
		if branch.takers == 0 {
			continue
		}
		y := branch.col.run(n)
		for i, x := range cond {
			if x == branch.when {
				out[i] = y[i]
			}
		}
	}
	return out
}

// manyCol is a function of several numbers.
type manyCol struct {
	x    []operand
	room int // how many numbers f may use the room of, if more than len(x)
	f    func(x []float64) float64
	cols [][]float64
	args []float64
	buf  buffer
}

func (c *manyCol) run(n int) []float64 {
	if c.cols == nil {
		c.cols = make([][]float64, len(c.x))
		c.args = make([]float64, max(len(c.x), c.room))
	}
	for j, o := range c.x {
		c.cols[j] = spreadOver(&c.x[j], o).run(n)
	}
	out := c.buf.of(n)
	args := c.args[:len(c.x)]
	for i := range out {
		whole := 0.0
		for j, col := range c.cols {
			args[j] = col[i]
			whole += col[i] - col[i]
		}
		if whole != 0 {
			out[i] = nan
			continue
		}
		out[i] = defined(c.f(args))
	}
	return out
}

// spreadOver makes a column of a constant once.
func spreadOver(at *operand, o operand) column {
	if o.col == nil {
		at.col = spread(o)
	}
	return at.col
}

// trialCol works a node out trial by trial.
type trialCol struct {
	b     *Batch
	slots []int
	one   func() (float64, *gap)
	buf   buffer
}

// byTrial plans a node that has no columns.
func (pl *planner) byTrial(n Node, one func() (float64, *gap)) operand {
	c := &trialCol{b: pl.b, one: one}
	refs := map[int]bool{}
	collect(n, refs)
	for i, l := range pl.b.leaves {
		if refs[l.ref] {
			c.slots = append(c.slots, i)
		}
	}
	return operand{col: c}
}

// collect finds the refs that a node uses.
func collect(n Node, refs map[int]bool) {
	if n, ok := n.(*name); ok {
		refs[n.idx] = true
	}
	for _, k := range n.kids() {
		collect(k, refs)
	}
}

func (c *trialCol) run(n int) []float64 {
	out := c.buf.of(n)
	for i := range out {
		whole := true
		for _, k := range c.slots {
			x := c.b.cols[k][i]
			c.b.set(k, x)
			whole = whole && (x == x || c.b.leaves[k].num == nil)
		}
		x, g := c.one()
		if g != nil || !whole {
			x = nan
		}
		out[i] = x
	}
	return out
}
