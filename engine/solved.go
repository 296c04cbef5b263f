package engine

import (
	"crypto/sha256"
	"sync"

	"waywright/checks/propagate"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// solved keeps what was found of the same readings before: a run asks again
// for what it judged with every answer that changes nothing in it.
type solved struct {
	mu    sync.Mutex
	known map[[sha256.Size]byte][]propagate.Estimate
}

// mostSolved is how many are kept.
const mostSolved = 2000

func newSolved() *solved { return &solved{known: map[[sha256.Size]byte][]propagate.Estimate{}} }

// solve is [propagate.Solve], from memory where it can be.
func (pl *Plan) solve(p propagate.Problem) ([]propagate.Estimate, bool) {
	key := sha256.Sum256(p.Canonical())
	pl.solved.mu.Lock()
	out, ok := pl.solved.known[key]
	pl.solved.mu.Unlock()
	if ok {
		return out, true
	}
	out, ok = propagate.Solve(p)
	if !ok {
		return nil, false
	}
	pl.solved.mu.Lock()
	defer pl.solved.mu.Unlock()
	if len(pl.solved.known) >= mostSolved {
		clear(pl.solved.known)
	}
	pl.solved.known[key] = out
	return out, true
}

// traits is what is known of a program from its form, through all results
// that it uses. What a run reads varies, and what a given was measured with.
func (pl *Plan) traits(p *formula.Program) formula.Traits {
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
