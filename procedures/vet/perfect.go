package vet

import (
	"math"

	"waywright/checks"
	"waywright/checks/montecarlo"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// sure is how often a perfect machine has to pass (measure rule 15).
const sure = 0.95

// goes are how many perfect machines are measured: a few first, and more where
// these leave it open. Of thirty only the mean and the standard deviation are
// used: no distribution has more than 1 part in 26 further than five standard
// deviations above its mean (Cantelli's inequality).
var goes = [...]int{30, 200, 600, 2000}

const farOff = 5

// traits is what is known of a formula from its form, through results. What is
// read varies, and what a given is measured with.
func (ix *index) traits(p *formula.Program) formula.Traits {
	return p.Traits(func(r formula.Ref) formula.Traits {
		switch r.Space {
		case formula.Reading, formula.Expansion:
			return formula.Traits{Varies: true}
		case formula.Given:
			g := ix.givens[r.Name]
			return formula.Traits{Varies: g != nil && (g.With != nil || g.From != nil), NonNegative: g != nil && g.NotBelowNought()}
		case formula.Result:
			if x := ix.results[r.Name]; x != nil && x.Value != nil {
				return ix.traits(x.Value)
			}
		}
		return formula.Traits{}
	})
}

// perfect works out how often a perfect machine passes a gate whose value
// cannot be negative: one on which all readings are equal but for their errors.
// These alone make the value larger than nought, so that a limit that lies far
// beyond the doubt of a reading may still be too near. ok is false where
// readings that are equal do not make nothing, or there is no upper limit.
//
// It costs up to two thousand evaluations of the gate, and none where the
// procedure has had its share of them.
//
// What is found depends on nothing but the procedure: errors are drawn with a
// seed that is the gate's own.
func (ix *index) perfect(g *procedures.Gate, base *world, reqs []checks.Request) (share float64, ok bool) {
	y, ok := margins(g, base)
	if !ok || len(y) != len(reqs) {
		return 0, false
	}
	for _, m := range y {
		if math.Abs(m.value) > 1e-9*math.Abs(m.hi) || m.lo > 0 || math.IsInf(m.hi, 1) {
			return 0, false
		}
	}
	rest := ix.budget
	defer func() { ix.budget = rest }()
	m, ids := ix.model(base)
	if m == nil {
		return 0, false
	}
	d := m.Draws(false)
	p := montecarlo.Problem{Sources: d.Sources, Pools: d.Pools, Inputs: d.Inputs, Outputs: len(y), Start: func() montecarlo.Func {
		return func(in, out [][]float64) { ix.machines(g, base, ids, in, out) }
	}}
	opts := montecarlo.Options{Seed: montecarlo.Seed([]byte(ix.p.Name + " " + g.Name)), Workers: 1}
	for i, n := range goes {
		opts.Trials = n
		if ix.machineBudget -= opts.Trials * len(ids); ix.machineBudget < 0 {
			return 0, false
		}
		ix.budget = opts.Trials
		samples, err := montecarlo.Run(p, opts)
		if err != nil {
			return 0, false
		}
		most, ok := passingUpTo(samples, reqs)
		switch {
		case !ok:
			return 0, false
		case most == nil:
			return 0, true // no machine passes
		case i == 0 && farBelow(samples, most):
			return 1, true
		case i == 0:
			continue
		}
		share = passing(samples, most)
		if math.Abs(share-sure) > 3*math.Sqrt(sure*(1-sure)/float64(n)) {
			break
		}
	}
	return share, true
}

// machines evaluates a gate on perfect machines, one a trial.
func (ix *index) machines(g *procedures.Gate, base *world, ids []string, in, out [][]float64) {
	for t := range out[0] {
		shift := make(map[string]float64, len(ids))
		for i, id := range ids {
			shift[id] = in[i][t]
		}
		y, ok := margins(g, base.shifted(shift))
		for k := range out {
			out[k][t] = math.NaN()
			if ok && len(y) == len(out) {
				out[k][t] = y[k].value
			}
		}
	}
}

// passingUpTo returns the greatest value that passes, of each number. The doubt
// at a value is the larger of the linear one and that of the machines. It is
// nil where nothing passes; ok is false where a machine has no value.
func passingUpTo(samples []montecarlo.Sample, reqs []checks.Request) (most []float64, ok bool) {
	for k, q := range reqs {
		if samples[k].Undefined > 0 {
			return nil, false
		}
		q.AtHi.U = math.Max(q.AtHi.U, samples[k].Std)
		_, to, ok := q.PassZone()
		if !ok {
			return nil, true
		}
		most = append(most, to)
	}
	return most, true
}

func farBelow(samples []montecarlo.Sample, most []float64) bool {
	for k, s := range samples {
		if !(s.Mean+farOff*s.Std <= most[k]) {
			return false
		}
	}
	return true
}

// passing is the share of machines of which every number passes.
func passing(samples []montecarlo.Sample, most []float64) float64 {
	n, trials := 0, samples[0].Trials
	for t := range trials {
		pass := true
		for k := range most {
			pass = pass && samples[k].Values()[t] <= most[k]
		}
		if pass {
			n++
		}
	}
	return float64(n) / float64(trials)
}
