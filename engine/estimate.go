package engine

import (
	"math"
	"strconv"

	"waywright/checks"
	"waywright/checks/propagate"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/register"
)

// estimate is one or more numbers worked out from readings, with how each
// depends on every element that was read.
type estimate struct {
	y   []float64
	c   [][]float64 // sensitivities: one row for each number, in the order of obs
	obs []uncert.Observation
	ins []uncert.Instrument
}

// estimate evaluates f, which works numbers out from the facts that the
// environment gives it; ok is false where one of them is not finite. The
// sensitivities are taken over the whole chain of results, so that what
// readings share is counted once.
func (s *State) estimate(f func(e *env) ([]float64, bool)) (est estimate, ok bool) {
	tr := &leaves{known: map[string]leaf{}}
	y, ok := f(&env{s: s, trace: tr, memo: nil})
	if !ok {
		return estimate{}, false
	}
	est.y = y
	index := map[string]int{}
	for _, id := range tr.order {
		est.observe(s, id, tr.known[id], index)
	}
	m, err := est.model()
	if err != nil {
		return est, true
	}
	solved, ok := propagate.Solve(propagate.Problem{Model: m, Eval: func(shifted []float64) []float64 {
		shift := map[string]float64{}
		for i, v := range shifted {
			if v != 0 {
				shift[tr.order[i]] = v
			}
		}
		out, ok := f(&env{s: s, shift: shift, memo: map[string]value.Value{}})
		if !ok || len(out) != len(y) {
			return nil
		}
		return out
	}})
	for _, e := range solved {
		est.c = append(est.c, e.Slopes)
	}
	return est, ok
}

// observe adds the element as an observation of its instrument.
func (est *estimate) observe(s *State, id string, l leaf, index map[string]int) {
	var with *procedures.Instrument
	var takes []take
	step, turned := "", false
	work := 0
	if l.reading != nil {
		with, takes = l.reading.With, s.live(id, l.reading.Step)
		step, turned = l.reading.Step.Name, l.reading.Turned
		work = s.work[step]
	} else {
		with, takes = l.given.With, s.live(id, nil)
	}
	o := uncert.Observation{ID: id + "@" + strconv.Itoa(work), Value: meanOf(takes), Instrument: -1}
	if len(takes) > 1 {
		for _, t := range takes {
			o.Takes = append(o.Takes, t.value)
		}
	}
	t := takes[len(takes)-1]
	o.Setting = t.setting
	o.Turned = turned != t.turned
	name := "without an instrument: " + id
	in := uncert.Instrument{Name: name}
	if with != nil {
		b := s.boundAs(t.bound)
		name = with.Name + " " + b.ID
		in = known(with, b)
	}
	o.Pool = name + " in " + step + " " + strconv.Itoa(work)
	i, ok := index[name]
	if !ok {
		i = len(est.ins)
		index[name] = i
		est.ins = append(est.ins, in)
	}
	o.Instrument = i
	est.obs = append(est.obs, o)
}

func (est *estimate) model() (*uncert.Model, error) {
	return uncert.New(est.ins, est.obs, nil)
}

// combine returns the uncertainty of the number with those sensitivities.
func (est *estimate) combine(c []float64) uncert.Result {
	m, err := est.model()
	if err != nil || len(c) != m.Len() {
		return uncert.Result{DoF: math.Inf(1), K: checks.TQuantile(0.975, math.Inf(1))}
	}
	return m.Combine(c)
}

// row returns the sensitivities of number k, zeros where there are none.
func (est *estimate) row(k int) []float64 {
	if k >= 0 && k < len(est.c) {
		return est.c[k]
	}
	return make([]float64, len(est.obs))
}

// instrument is what is known of the instrument in the hand.
func (s *State) instrument(p *procedures.Instrument) uncert.Instrument {
	return known(p, s.bound[p.Name])
}

// known puts what the shop knows of a real instrument in the place of the
// procedure's own figures.
func known(p *procedures.Instrument, b Bound) uncert.Instrument {
	in := uncert.Instrument{
		Name: p.Name, Kind: p.Kind, Resolution: p.Resolution, Error: p.Error, HasError: p.HasError, Zero: p.Zero, HasZero: p.HasZero,
		Repeatability: p.Repeatability, RepeatabilityDoF: p.RepeatabilityDoF, Turn: p.Turn,
	}
	if b.ID == "" {
		return in
	}
	in.Name = b.ID
	if u, err := quantity.Lookup(b.Unit); err == nil && u.Dim != p.Dim {
		return in // it reads something else: its figures say nothing here
	}
	f := factor(b.Unit, p.Unit)
	if b.What != "" && !register.SameKind(b.What, p.Kind) {
		in.Kind, in.Turn = b.What, 0
	}
	if b.Resolution > 0 {
		in.Resolution = b.Resolution * f
	}
	if b.Error > 0 {
		in.Error, in.HasError = b.Error*f, true
	}
	if b.Repeatability > 0 {
		in.Repeatability = b.Repeatability * f
	}
	if b.RepeatabilityDoF > 0 {
		in.RepeatabilityDoF = b.RepeatabilityDoF
	}
	if b.HasZero {
		in.Zero, in.HasZero = b.Zero*f, true
	}
	if b.Turn > 0 {
		in.Turn = b.Turn * f
	}
	in.CertU, in.CertK = b.CertU*f, b.CertK
	return in
}

// difference returns the standard uncertainty and degrees of freedom of b's
// number less a's, each the first of its estimate; what they share cancels.
func difference(a, b estimate) uncert.Result {
	joint := estimate{ins: a.ins}
	index := map[string]int{}
	for i, in := range a.ins {
		index[in.Name] = i
	}
	var c []float64
	seen := map[string]int{}
	for i, o := range a.obs {
		seen[o.ID] = len(joint.obs)
		joint.obs = append(joint.obs, o)
		c = append(c, -a.row(0)[i])
	}
	for i, o := range b.obs {
		if k, ok := seen[o.ID]; ok {
			c[k] += b.row(0)[i]
			continue
		}
		in := b.ins[o.Instrument]
		k, ok := index[in.Name]
		if !ok {
			k = len(joint.ins)
			index[in.Name] = k
			joint.ins = append(joint.ins[:k:k], in)
		}
		o.Instrument = k
		joint.obs = append(joint.obs, o)
		c = append(c, b.row(0)[i])
	}
	return joint.combine(c)
}

// factor is the size of a bound instrument's unit in base units.
func factor(name string, usual quantity.Unit) float64 {
	if u, err := quantity.Lookup(name); err == nil {
		return u.Factor
	}
	return usual.Factor
}
