package engine

import (
	"crypto/sha256"
	"maps"
	"sync"

	"waywright/checks/montecarlo"
	"waywright/checks/propagate"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// solved keeps what was found of the same readings before: a run asks again
// for what it judged with every answer that changes nothing in it.
type solved struct {
	mu    sync.Mutex
	known map[[sha256.Size]byte]solution
}

type solution struct {
	of       []propagate.Estimate
	drawable bool            // there was a Start
	noise    map[int]float64 // of the numbers for which it was asked; see [Plan.isNoise]
}

// mostSolved is how many are kept.
const mostSolved = 2000

func newSolved() *solved { return &solved{known: map[[sha256.Size]byte]solution{}} }

// solve is [propagate.Solve], from memory where it can be. start gives the
// problem's Start, which is only put together where it is called.
func (pl *Plan) solve(p *propagate.Problem, start func() (func() montecarlo.Func, bool)) ([]propagate.Estimate, bool) {
	key := solvedKey(p)
	pl.solved.mu.Lock()
	x, ok := pl.solved.known[key]
	pl.solved.mu.Unlock()
	if ok {
		if x.drawable {
			p.Start = func() montecarlo.Func { f, _ := start(); return f() }
		}
		return x.of, true
	}
	p.Start, p.StartsAll = start()
	x.drawable = p.Start != nil
	if x.of, ok = propagate.Solve(*p); !ok {
		return nil, false
	}
	pl.solved.mu.Lock()
	defer pl.solved.mu.Unlock()
	if len(pl.solved.known) >= mostSolved {
		clear(pl.solved.known)
	}
	pl.solved.known[key] = x
	return x.of, true
}

func solvedKey(p *propagate.Problem) [sha256.Size]byte { return sha256.Sum256(p.Canonical()) }

// noise is [propagate.Noise], from memory where it can be: with the numbers of
// the problem the inputs are given, and so is the part without fault.
func (pl *Plan) noise(p propagate.Problem, flat []float64, k int) float64 {
	key := solvedKey(&p)
	pl.solved.mu.Lock()
	x, ok := pl.solved.known[key].noise[k]
	pl.solved.mu.Unlock()
	if ok {
		return x
	}
	x = propagate.Noise(p, flat, k)
	pl.solved.mu.Lock()
	defer pl.solved.mu.Unlock()
	if of, ok := pl.solved.known[key]; ok {
		noise := maps.Clone(of.noise)
		put(&noise, k, x)
		of.noise = noise
		pl.solved.known[key] = of
	}
	return x
}

// traits is what is known of a program from its form, through all results
// that it uses. What a run reads varies, and what a given was measured with.
func (pl *Plan) traits(p *formula.Program) formula.Traits {
	if k, ok := pl.forms[p]; ok {
		return k.Traits
	}
	return p.Traits(func(r formula.Ref) formula.Traits {
		switch r.Space {
		case formula.Reading, formula.Expansion:
			return formula.Traits{Varies: true}
		case formula.Given:
			g := pl.givens[r.Name]
			return formula.Traits{Varies: g != nil && (g.With != nil || g.From != nil), NonNegative: g != nil && g.NotBelowNought()}
		case formula.Result:
			if res, ok := pl.items[r.Name].(*procedures.Result); ok {
				return pl.traits(res.Value)
			}
		}
		return formula.Traits{}
	})
}

// formOf is what is known of a program from its form.
type formOf struct {
	formula.Traits
	divisors []*formula.Program // that vary
}

// know works out once what is known of the programs that are estimated.
func (pl *Plan) know() {
	all := map[*formula.Program]formOf{}
	note := func(p *formula.Program) {
		if p != nil {
			all[p] = formOf{pl.traits(p), pl.divisors(p)}
		}
	}
	for _, it := range pl.items {
		switch it := it.(type) {
		case *procedures.Gate:
			for _, p := range gatePrograms(it) {
				note(p)
			}
		case *procedures.Result:
			note(it.Value)
		}
	}
	for _, c := range pl.proc.Corrections {
		note(c.Amount)
	}
	pl.forms = all
}

// divisors are the divisors of a program that are worked out from what is
// measured.
func (pl *Plan) divisors(p *formula.Program) []*formula.Program {
	if k, ok := pl.forms[p]; ok {
		return k.divisors
	}
	var out []*formula.Program
	for _, d := range p.Divisors() {
		if pl.traits(d).Varies {
			out = append(out, d)
		}
	}
	return out
}

// apart names the readings whose takes the programs look at one by one,
// directly or through results.
func (pl *Plan) apart(programs ...*formula.Program) map[string]bool {
	out := map[string]bool{}
	seen := map[string]bool{}
	var visit func(p *formula.Program)
	visit = func(p *formula.Program) {
		for _, r := range p.Refs() {
			switch it := pl.items[r.Name].(type) {
			case *procedures.Reading:
				if r.Space == formula.Reading && p.Apart(r) {
					out[r.Name] = true
				}
			case *procedures.Result:
				if r.Space == formula.Result && !seen[r.Name] {
					seen[r.Name] = true
					visit(it.Value)
				}
			}
		}
	}
	for _, p := range programs {
		visit(p)
	}
	return out
}
