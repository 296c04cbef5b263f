package cli

import (
	"math"
	"slices"
	"strconv"

	"waywright/checks/montecarlo"
	"waywright/checks/propagate"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/formula"
)

// last is the cell of the expression.
func (s *sheet) last() *cell { return s.cells[len(s.cells)-1] }

// problem is how well the expression is known, as a problem of propagation.
func (s *sheet) problem() (propagate.Problem, error) {
	m, err := s.model()
	if err != nil {
		return propagate.Problem{}, err
	}
	end := s.last()
	n := len(numbersOf(&end.v))
	var divisors []*formula.Program
	for _, c := range s.cells {
		if !c.exact {
			divisors = append(divisors, c.prog.Divisors()...)
		}
	}
	p := propagate.Problem{
		Model: m, Divisors: len(divisors), About: s.src, Start: s.start(),
		Eval: func(shift []float64) []float64 {
			e := s.env(shift)
			v := e.vals[end.name]
			out := numbersOf(&v)
			if len(out) != n {
				return nil
			}
			for _, d := range divisors {
				v := d.Eval(e)
				out = append(out, nearestNought(numbersOf(&v)))
			}
			return out
		},
	}
	for range n {
		p.Forms = append(p.Forms, propagate.Form{Kinked: end.traits.Kinked, NonNegative: end.traits.NonNegative && end.traits.Kinked, Turns: end.traits.Turns})
	}
	return p, nil
}

func nearestNought(xs []float64) float64 {
	least := math.NaN()
	for _, x := range xs {
		if !math.IsNaN(x) && !(math.Abs(x) >= math.Abs(least)) {
			least = x
		}
	}
	return least
}

// numbersOf returns all numbers of a value, in the order of
// [formula.Batch.Leaves]; what is not there is NaN.
func numbersOf(v *value.Value) []float64 {
	if (value.Type{Kind: v.Kind}).Collection() {
		var out []float64
		for i := range v.Elems {
			out = append(out, numbersOf(&v.Elems[i])...)
		}
		return out
	}
	if m := v.Mean(); v.State == value.Present && m.State == value.Present && (m.Kind == value.Number || m.Kind == value.Point) {
		return []float64{m.Num}
	}
	return []float64{math.NaN()}
}

// keysOf names the numbers of a value, in the same order.
func keysOf(v *value.Value, before string) []string {
	if !(value.Type{Kind: v.Kind}).Collection() {
		return []string{before}
	}
	var out []string
	for i := range v.Elems {
		key := strconv.Itoa(i + 1)
		switch {
		case i < len(v.Keys):
			key = v.Keys[i]
		case i < len(v.At) && v.Kind == value.Turn:
			key = placed(v.At[i], "deg")
		case i < len(v.At):
			key = placed(v.At[i], "mm")
		}
		if before != "" {
			key = before + ", " + key
		}
		out = append(out, keysOf(&v.Elems[i], key)...)
	}
	return out
}

func placed(x float64, unit string) string {
	u, err := quantity.Lookup(unit)
	if err != nil {
		panic("cli: " + err.Error())
	}
	return quantity.Plain(u.Base(steadyTo(u.Of(x), 9)), u)
}

// ofNumbers tells whether a type is of one number or of several.
func ofNumbers(t value.Type) bool {
	for t.Elem != nil && t.Collection() {
		t = *t.Elem
	}
	return t.Kind == value.Number || t.Kind == value.Point || t.Kind == value.Takes
}

// column is a cell that changes from trial to trial.
type column struct {
	*cell
	slots  []formula.Slot
	from   []feed
	leaves [][]int
	at     int
}

// feed is where a slot has its numbers from: a leaf of a column, or an input.
type feed struct {
	col   *column
	leaf  int
	input int
}

// start returns the expression for columns of shifts; nil where it cannot be
// worked out so.
func (s *sheet) start() func() montecarlo.Func {
	base := s.env(nil)
	cols := map[string]*column{}
	var order []*column
	for _, c := range s.cells {
		if c.exact {
			continue
		}
		col := &column{cell: c, at: len(order)}
		for i, r := range c.prog.Inputs() {
			switch from := cols[r.Name]; {
			case r.Space == formula.Expansion:
				col.slots = append(col.slots, formula.Slot{Ref: i})
				col.from = append(col.from, feed{input: s.expansionOf(r.Name)})
			case from != nil:
				col.feed(i, from)
			}
		}
		if len(col.slots) > 0 {
			b, err := c.prog.Each(base, col.slots)
			if err != nil {
				return nil
			}
			col.leaves = b.Leaves()
		} else {
			col.leaves = [][]int{nil}
		}
		cols[c.name], order = col, append(order, col)
	}
	return func() montecarlo.Func { return s.worker(base, order) }
}

// feed lets the i-th name of a column's program be given by another column.
func (col *column) feed(i int, from *column) {
	for leaf, path := range from.leaves {
		if isThere(from.v, path) {
			col.slots = append(col.slots, formula.Slot{Ref: i, Path: path})
			col.from = append(col.from, feed{col: from, leaf: leaf})
		}
	}
}

func isThere(v value.Value, path []int) bool {
	for _, i := range path {
		if v.State != value.Present || i >= len(v.Elems) {
			return false
		}
		v = v.Elems[i]
	}
	return v.State == value.Present
}

func (s *sheet) expansionOf(material string) int {
	return slices.IndexFunc(s.inputs, func(in *input) bool { return in.cell == nil && in.expansion == material })
}

// worker is the function of one goroutine.
func (s *sheet) worker(base *sheetEnv, order []*column) montecarlo.Func {
	batches := make([]*formula.Batch, len(order))
	numbers := make([][][]float64, len(order))
	for k, c := range order {
		if len(c.slots) > 0 {
			b, err := c.prog.Each(base, c.slots)
			if err != nil {
				panic("cli: " + err.Error()) // it could be made before
			}
			batches[k] = b
		}
		for range c.leaves {
			numbers[k] = append(numbers[k], make([]float64, montecarlo.Block))
		}
	}
	end := s.last()
	still := numbersOf(&end.v)
	return func(in, out [][]float64) {
		n := len(out[0])
		for k, c := range order {
			given := make([][]float64, len(c.from))
			for j, f := range c.from {
				if f.col == nil {
					given[j] = in[f.input][:n]
				} else {
					given[j] = numbers[f.col.at][f.leaf][:n]
				}
			}
			s.run(c, batches[k], given, numbers[k], n, in)
		}
		for j := range out {
			for t := range out[j] {
				out[j][t] = still[j]
			}
			if !end.exact {
				copy(out[j], numbers[len(order)-1][j])
			}
		}
	}
}

// run works the column out for n trials.
func (s *sheet) run(c *column, b *formula.Batch, given, to [][]float64, n int, in [][]float64) {
	cut := make([][]float64, len(to))
	for j := range to {
		cut[j] = to[j][:n]
	}
	if b != nil {
		b.RunEach(given, cut)
	} else {
		for t := range cut[0] {
			cut[0][t] = c.v.Num
		}
	}
	if c.input >= 0 {
		s.addMoved(c.input, in, cut[0])
	}
}

// how says how an uncertainty is wanted.
type how struct {
	level    float64
	draw     bool
	straight bool // by sensitivities, whatever the formula
	adaptive bool
	trials   int
	seed     uint64
	digits   int
}

// worth is how well each number of the expression is known.
type worth struct {
	how
	est    []propagate.Estimate
	linear []propagate.Estimate // by sensitivities alone
}

// The least and the most trials.
const (
	fewestTrials = 1_000
	mostTrials   = 20_000_000
)

// usualTrials is how many trials leave 10⁴ of them, one in 10⁴/(1 − level), on
// the outside of an interval (JCGM 101:2008, 7.2.2).
func usualTrials(level float64) int {
	return min(10_000_000, int(math.Ceil(1e4/(1-level)-1e-6)))
}

func (s *sheet) solve(h how) (worth, error) {
	w := worth{how: h}
	p, err := s.problem()
	if err != nil {
		return w, err
	}
	if s.undrawn != "" {
		p.Start = nil
	}
	if h.draw && p.Start == nil {
		why := or(s.undrawn, "a value of --with is a condition or a zone; write it into the expression")
		return w, cannot("errors cannot be drawn here: %s", why)
	}
	p.Level, p.Asked, p.Trials = h.level, h.draw, h.trials
	if p.Trials == 0 {
		p.Trials = usualTrials(h.level)
	}
	if p.Seed = h.seed; p.Seed == 0 {
		// Of 53 bits, so that every reader of JSON has it whole.
		p.Seed = max(1, montecarlo.Seed(p.Canonical())>>11)
	}
	if h.adaptive {
		p.Until = &montecarlo.Until{Digits: h.digits, Part: 0.2, Most: h.trials}
	}
	straight := p
	straight.Start, straight.Asked, straight.Plain = nil, false, true
	if h.straight {
		p = straight
	}
	var ok bool
	if w.est, ok = propagate.Solve(p); !ok {
		return w, nil
	}
	w.linear, _ = propagate.Solve(straight)
	return w, nil
}

// validated holds the linear way against the trials, with the interval that is
// given (JCGM 101:2008, 8).
func (w worth) validated(k int, iv montecarlo.Interval) montecarlo.Validation {
	l := w.linear[k]
	return montecarlo.Validate(l.Value, l.U, l.Std, iv, w.digits)
}

func steadyTo(x float64, figures int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', figures-1, 64), 64)
	if err != nil {
		return x
	}
	return y
}
