package propagate

import (
	"encoding/binary"
	"math"

	"waywright/checks/montecarlo"
	"waywright/checks/uncert"
)

// Level is the coverage probability of U where none is stated.
const Level = 0.95

// Solve works out how well each number of the formula is known. ok is false
// where the formula has no numbers at all. A number that is not defined has a
// Value of NaN and nothing else.
//
// The linear way is u = √(Σ(c·u)²) over sources with the factor of Student's
// distribution (measure rule 9). Errors are drawn instead where the number is
// Kinked, where a divisor's doubt is above a tenth of it, and where the
// formula bends: where the interval of the drawn formula and that of its
// tangent under the same errors, by the adaptive procedure of JCGM 101:2008,
// 7.9.4, differ by more than the numerical tolerance of u to two figures. That is the test of JCGM 101:2008, 8 with one difference:
// both intervals are made from the same draws, so that it finds a bend and not
// the shape of a rectangular error, with which the linear way is on the safe
// side.
//
// Of a drawn number u is the standard deviation of the trials, and for one
// that cannot be negative no less than the linear u (measure rule 15); U is
// what 95 % of the trials are not further from the value than.
func Solve(p Problem) (out []Estimate, ok bool) {
	s := newSolver(p)
	if len(s.y) == 0 {
		return nil, false
	}
	out = make([]Estimate, len(s.y)-p.Divisors)
	var draw []int
	loose := s.looseDivisor()
	bent := s.bent(len(out))
	for k := range out {
		out[k] = s.linear(k)
		switch f := s.form(k); {
		case out[k].Undefined() || s.still || p.Start == nil:
			continue
		case f.Kinked:
			out[k].Drawn = &Drawn{Why: Kink}
		case loose:
			out[k].Drawn = &Drawn{Why: Divisor}
		case bent[k]:
			out[k].Drawn = &Drawn{Why: Curved}
		case s.Asked:
			out[k].Drawn = &Drawn{Why: Asked}
		default:
			continue
		}
		if s.Enough != nil && s.Enough(k, out[k]) {
			out[k].Drawn = nil
			continue
		}
		draw = append(draw, k)
	}
	if len(draw) > 0 {
		s.draw(out, draw)
	}
	return out, true
}

// Undefined tells that the formula has no such number.
func (e Estimate) Undefined() bool { return math.IsNaN(e.Value) }

// solver is a problem on the way.
type solver struct {
	Problem
	*gradients
	still    bool        // no input has any doubt
	bySource [][]float64 // the numbers with each source off to either side; see together
	funcs    *funcs
}

// funcs are the functions of a problem that were started. Between two runs of
// trials nobody works with them, so the next run has the same again.
type funcs struct {
	start func() montecarlo.Func
	made  []montecarlo.Func
	taken int
}

func (f *funcs) next() montecarlo.Func {
	if f.taken == len(f.made) {
		f.made = append(f.made, f.start())
	}
	f.taken++
	return f.made[f.taken-1]
}

func newSolver(p Problem) *solver {
	p = p.unrolled()
	u := p.Model.U()
	s := &solver{Problem: p, still: true}
	for _, x := range u {
		s.still = s.still && x == 0
	}
	y := p.Eval(make([]float64, len(u)))
	for k, v := range y {
		if math.IsInf(v, 0) {
			y[k] = math.NaN()
		}
	}
	s.gradients = &gradients{m: p.Model, u: u, y: y, f: p.Eval, plain: p.Plain, cache: map[[2]float64][]float64{}}
	if p.Start != nil {
		s.funcs = &funcs{start: p.Start}
		s.Start = s.funcs.next
	}
	if p.Divisors == 0 || p.StartsAll {
		s.start = s.Start
	}
	s.toEitherSide()
	return s
}

func (s *solver) form(k int) Form {
	if k < len(s.Forms) {
		return s.Forms[k]
	}
	return Form{}
}

// linear returns number k by the linear way, with the steepest branch at a
// kink.
func (s *solver) linear(k int) Estimate {
	if math.IsNaN(s.y[k]) {
		return Estimate{Value: math.NaN()}
	}
	c := s.row(k)
	r := s.m.Combine(c)
	if s.Level > 0 {
		r.K = uncert.CoverageAt(s.Level, r.DoF)
		r.U = r.K * r.Std
	}
	return Estimate{Value: s.y[k], Std: r.Std, DoF: r.DoF, K: r.K, U: r.U, Slopes: c, Budget: r.Budget}
}

// looseDivisor tells whether any |c·u| of a divisor is above a tenth of it
// (measure rule 10).
func (s *solver) looseDivisor() bool {
	for k := len(s.y) - s.Divisors; k < len(s.y); k++ {
		if d := s.y[k]; !math.IsNaN(d) && s.m.Std(s.central(k)) > math.Abs(d)/10 {
			return true
		}
	}
	return false
}

// bent tells of each of the first n numbers whether it bends within the doubt
// of its inputs.
func (s *solver) bent(n int) []bool {
	bent := make([]bool, n)
	if s.still || s.Start == nil || !s.strays(bent) {
		return bent
	}
	rows := make([][]float64, n)
	tolerance := make([]float64, n)
	for k := range n {
		if bent[k] {
			rows[k] = s.central(k)
			tolerance[k] = montecarlo.Tolerance(s.m.Std(rows[k]), 2)
		}
	}
	a, err := montecarlo.Adapt(s.trial(false, 2*n, s.beside(rows)), montecarlo.Options{Seed: s.seed()},
		montecarlo.Until{Level: s.level(), Digits: 2, Most: s.trials()})
	if err != nil {
		panic("propagate: " + err.Error()) // a model has only finite numbers
	}
	for k := range n {
		if !bent[k] {
			continue
		}
		f, line := a.Intervals[k], a.Intervals[n+k]
		bent[k] = !(math.Abs(f.Low-line.Low) <= tolerance[k] && math.Abs(f.High-line.High) <= tolerance[k])
	}
	return bent
}

// beside puts beside the numbers of the formula those of its tangents.
func (s *solver) beside(rows [][]float64) func() montecarlo.Func {
	return func() montecarlo.Func {
		f := s.Start()
		own := make([][]float64, len(s.u))
		return func(in, out [][]float64) {
			// f may overwrite what it is given.
			for i := range in {
				own[i] = append(own[i][:0], in[i]...)
			}
			f(own, out[:len(rows)])
			for k, c := range rows {
				line := out[len(rows)+k]
				for t := range line {
					line[t] = s.y[k]
				}
				for i, ci := range c {
					if ci == 0 {
						continue
					}
					for t, x := range in[i] {
						line[t] += float64(ci * x)
					}
				}
			}
		}
	}
}

// looks is how many places around the readings are looked at for a bend.
const looks = 12

// strays looks at a few places, with all sources off at once by 1.7 of their
// u one way or the other, whether any number is off its tangent by more than a
// fifth of what would matter; it notes which.
func (s *solver) strays(stray []bool) bool {
	d := s.m.Draws(true)
	tolerance := make([]float64, len(stray))
	for k := range tolerance {
		tolerance[k] = montecarlo.Tolerance(s.m.Std(s.central(k)), 2) / 5
	}
	places := columns(looks, len(s.u))
	for look, x := range places {
		for i, in := range d.Inputs {
			for _, t := range in.Terms {
				x[i] += t.Coefficient * side(look, t.Source) * d.Sources[t.Source].Scale()
			}
		}
	}
	any := false
	for look, y := range s.many(places) {
		for k := range stray {
			if math.IsNaN(s.y[k]) || s.form(k).Kinked {
				continue
			}
			line := s.y[k]
			for i, c := range s.central(k) {
				line += c * places[look][i]
			}
			// ! of ≤, so that a NaN strays.
			if k >= len(y) || !(math.Abs(y[k]-line) <= tolerance[k]+1e-12*math.Abs(s.y[k])) {
				stray[k], any = true, true
			}
		}
	}
	return any
}

// side returns +1.7 or −1.7, without any order over looks and sources.
func side(look, source int) float64 {
	h := uint64(look+1)*0x9e3779b97f4a7c15 ^ uint64(source+1)*0xbf58476d1ce4e5b9
	h ^= h >> 31
	h *= 0x94d049bb133111eb
	if h>>63 == 1 {
		return 1.7
	}
	return -1.7
}

// trials is how many trials a drawn result has.
func (s *solver) trials() int {
	if s.Trials > 0 {
		return s.Trials
	}
	return montecarlo.Usual
}

// draw replaces what the linear way gave for some numbers.
func (s *solver) draw(out []Estimate, which []int) {
	n := s.trials()
	samples, seed, stable := s.enough(true, n, len(out))
	var apart []montecarlo.Sample
	d := s.m.Draws(true)
	if d.Doubtful {
		apart, _, _ = s.enough(false, n, len(out))
	}
	for _, k := range which {
		e := s.drawn(out[k], samples[k], seed, k, d.Wild())
		if apart != nil {
			if o := s.drawn(out[k], apart[k], seed, k, d.Wild()); o.U > e.U {
				e = o
			}
		}
		if e.Drawn != nil {
			e.Drawn.Stable = stable
		}
		out[k] = e
	}
}

// drawn puts what the trials gave in the place of the linear way.
func (s *solver) drawn(e Estimate, sample montecarlo.Sample, seed uint64, k int, wild bool) Estimate {
	if sample.Trials == sample.Undefined {
		e.Drawn = nil
		return e
	}
	d := Drawn{
		Bias: sample.Mean - e.Value, Std: sample.Std, Symmetric: sample.Symmetric(s.level()), Shortest: sample.Shortest(s.level()),
		Trials: sample.Trials, Undefined: sample.Undefined, Seed: seed, Why: e.Drawn.Why,
	}
	if k < len(s.Zones) {
		d.Below = 1 - sample.Share(s.Zones[k].Lo, math.Inf(1))
		d.Above = 1 - sample.Share(math.Inf(-1), s.Zones[k].Hi)
	}
	if wild {
		// The mean and standard deviation of such trials are those of the
		// wildest one.
		median := sample.Symmetric(0).Low
		d.Bias, d.Std = median-e.Value, sample.Symmetric(Level).Length()/(2*1.96)
	}
	e.Std, e.U, e.DoF = d.Std, sample.Radius(e.Value, s.level()), math.Inf(1)
	if s.form(k).NonNegative {
		if linear := s.m.Std(s.central(k)); linear > e.Std {
			e.Std = math.Max(e.Std, math.Min(linear, s.together(k)))
		}
	}
	e.K = 0
	if e.Std > 0 {
		e.K = e.U / e.Std
	}
	e.Drawn = &d
	return e
}

// Canonical returns bytes that are equal for equal problems only: the inputs,
// the sources of their errors, the numbers of the formula and what it is about.
// The seed is made of them.
func (p *Problem) Canonical() []byte {
	b := append(p.Model.Canonical(), p.About...)
	num := func(x float64) { b = binary.BigEndian.AppendUint64(b, math.Float64bits(x)) }
	for _, y := range p.Eval(make([]float64, p.Model.Len())) {
		num(y)
	}
	for _, z := range p.Zones {
		num(z.Lo)
		num(z.Hi)
	}
	return b
}

// try draws the errors of the inputs.
func (s *solver) try(together bool, trials, outputs int, start func() montecarlo.Func) ([]montecarlo.Sample, uint64) {
	seed := s.seed()
	samples, err := montecarlo.Run(s.trial(together, outputs, start), montecarlo.Options{Trials: trials, Seed: seed, Workers: workers(trials)})
	if err != nil {
		panic("propagate: " + err.Error()) // a model has only finite numbers
	}
	return samples, seed
}

// workers is how many goroutines are worth it for so many trials; 0 stands for as
// many as there are processors.
func workers(trials int) int {
	if trials <= 10*montecarlo.Block {
		return 1
	}
	return 0
}

// enough draws the errors of the inputs for the numbers of the formula: so many
// times, or until that is enough.
func (s *solver) enough(together bool, trials, outputs int) (samples []montecarlo.Sample, seed uint64, stable bool) {
	if s.Until == nil {
		samples, seed = s.try(together, trials, outputs, s.Start)
		return samples, seed, false
	}
	seed = s.seed()
	until := *s.Until
	until.Level = s.level()
	a, err := montecarlo.Adapt(s.trial(together, outputs, s.Start), montecarlo.Options{Seed: seed}, until)
	if err != nil {
		panic("propagate: " + err.Error()) // a model has only finite numbers
	}
	return a.Samples, seed, a.Within
}

func (s *solver) trial(together bool, outputs int, start func() montecarlo.Func) montecarlo.Problem {
	d := s.m.Draws(together)
	if s.funcs != nil {
		s.funcs.taken = 0
	}
	return montecarlo.Problem{Sources: d.Sources, Pools: d.Pools, Inputs: d.Inputs, Outputs: outputs, Start: start}
}

func (s *solver) seed() uint64 {
	if s.Seed != 0 {
		return s.Seed
	}
	return montecarlo.Seed(s.Canonical())
}

func (s *solver) level() float64 {
	if s.Level > 0 {
		return s.Level
	}
	return Level
}

// Noise returns what the errors of the inputs alone make of number k in 95 of
// 100 cases: of a part without fault, on which the inputs are where shift
// brings them. It is NaN where that cannot be drawn.
func Noise(p Problem, shift []float64, k int) float64 {
	if p.Start == nil {
		return math.NaN()
	}
	s := newSolver(p)
	if k >= len(s.y)-p.Divisors {
		return math.NaN()
	}
	trials := min(s.trials(), montecarlo.Usual/10)
	samples, _ := s.try(true, trials, len(s.y)-p.Divisors, func() montecarlo.Func {
		f := p.Start()
		return func(in, out [][]float64) {
			for i, d := range shift {
				for t := range in[i] {
					in[i][t] += d
				}
			}
			f(in, out)
		}
	})
	return samples[k].Radius(0, Level)
}

// unrolled returns the problem with the angles round a turn brought to within
// half a turn of where they are, so that they can be averaged.
func (p Problem) unrolled() Problem {
	turns := map[int]bool{}
	for k, f := range p.Forms {
		if f.Turns {
			turns[k] = true
		}
	}
	if len(turns) == 0 {
		return p
	}
	eval, start := p.Eval, p.Start
	at := eval(make([]float64, p.Model.Len()))
	if len(at) == 0 {
		return p
	}
	near := func(k int, x float64) float64 { return at[k] + math.Remainder(x-at[k], 2*math.Pi) }
	p.Eval = func(shift []float64) []float64 {
		y := eval(shift)
		for k := range y {
			if turns[k] {
				y[k] = near(k, y[k])
			}
		}
		return y
	}
	if start != nil {
		p.Start = func() montecarlo.Func {
			f := start()
			return func(in, out [][]float64) {
				f(in, out)
				for k := range out {
					if !turns[k] {
						continue
					}
					for t, x := range out[k] {
						out[k][t] = near(k, x)
					}
				}
			}
		}
	}
	return p
}
