package engine

import (
	"math"
	"strings"

	"waywright/checks"
	"waywright/checks/propagate"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// Where nobody reads more of a gate than its verdict, as in rehearsals, not more
// is worked out than that needs. Every verdict is that of a run, but for those
// that [chain.plain] speaks of.

// plainly is how sure a verdict must be, by twice the linear doubt, to be given
// without drawing errors where nobody reads more of a gate than its verdict.
const plainly = 1e-4

// plain tells whether the verdict on number k is the same whatever drawing its
// errors would give: it is decided as read, or so far from both limits that
// with twice the doubt not one value in ten thousand lies on the other side.
// What drawing adds at a kink or a bend is less than that: the greatest of a
// dozen equals is high by 1.6 of their u and scatters less than each of them
// (H. A. David, H. N. Nagaraja, Order Statistics, from memory). So a rehearsal
// gives another verdict than a run in less than one of ten thousand gates that
// are found so.
func (c *chain) plain(k int, linear propagate.Estimate) bool {
	if c.s.rule(c.q.gate) == checks.Simple {
		return true
	}
	n := len(c.est.of)
	sure := func(margin float64) bool {
		return math.IsInf(margin, 0) || linear.Std > 0 && checks.TCDF(-math.Abs(margin)/(2*linear.Std), linear.DoF) < plainly
	}
	if k >= n { // a margin, which is held against nought
		return sure(linear.Value)
	}
	lo, hi := linear.Value-c.est.lo, c.est.hi-linear.Value
	return sure(hi) && (sure(lo) || c.est.form.NonNegative && c.est.lo <= 0)
}

// judgeAsRead judges a gate under the simple rule where nobody reads how well its
// value is known: the verdict does not hang on that. Only where the bar may be
// taken for the machine it does; then false is returned, as wherever the doubt is
// wanted.
func (s *State) judgeAsRead(j *Judgement, of []number) bool {
	if !s.plan.unread || j.Rule != checks.Simple || len(of) == 0 {
		return false
	}
	est := estimate{of: of, lo: j.Lo, hi: j.Hi, form: propagate.Form{NonNegative: s.plan.traits(j.Gate.Of).NonNegative}}
	for _, n := range of {
		e := propagate.Estimate{Value: n.y, DoF: math.Inf(1)}
		if math.IsInf(n.y, 0) {
			e.Value = math.NaN()
		}
		est.e = append(est.e, e)
	}
	as := *j
	s.judgeEach(&as, &est)
	verdict := as.Verdict
	if s.distrustTurns(&as, weighed{}); as.Verdict != verdict {
		return false
	}
	*j = as
	return true
}

// fromResult gives what a gate is judged from where it judges a result that is
// estimated for a correction anyway, and nobody reads more than the verdict. Where
// no errors were drawn the two differ in nothing.
func (s *State) fromResult(g *procedures.Gate, of []number, lo, hi float64) (est estimate, ok bool) {
	res := s.plan.judges[g.Name]
	if !s.plan.unread || res == nil || len(of) != 1 || of[0].state != value.Present {
		return estimate{}, false
	}
	if est, ok = s.estimateOf(res); !ok || est.e[0].Drawn != nil {
		return estimate{}, false
	}
	est.of, est.lo, est.hi = of, lo, hi
	return est, true
}

// judgeResults finds the gates that judge nothing but the one number of a result
// that a correction should change, within limits that hang on no reading.
func (pl *Plan) judgeResults() {
	for _, g := range pl.gates() {
		if g.Of == nil || pl.traits(g.Of).Kinked || pl.varies(g.Within, g.AtMost, g.AtLeast) {
			continue
		}
		name, bare := strings.CutPrefix(strings.TrimSpace(g.Of.Source()), "result.")
		res, ok := pl.items[name].(*procedures.Result)
		if !bare || !ok || len(res.Step.Each) > 0 || len(g.Step.Each) > 0 {
			continue
		}
		for _, c := range pl.proc.Corrections {
			if c.Should != nil && c.Should.Result == res {
				pl.judges[g.Name] = res
			}
		}
	}
}

// varies tells whether any of the programs hangs on something that was read.
func (pl *Plan) varies(programs ...*formula.Program) bool {
	for _, p := range programs {
		if p != nil && pl.traits(p).Varies {
			return true
		}
	}
	return false
}
