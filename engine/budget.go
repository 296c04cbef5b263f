package engine

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waywright/checks"
	"waywright/checks/montecarlo"
	"waywright/checks/propagate"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
)

// Budget says where each part of the uncertainty of a gate's value comes from.
type Budget struct {
	Judgement        // of the value that decides, or of the element that was asked for
	Parts     []Part // the greatest first
	Missing   []string
	Unmoving  int     // of a drawn value: how many readings have no part, because as they stand they do not move it
	Risk      float64 // that the verdict is wrong, at most; NaN where there is no verdict to be wrong, or no doubt is stated

	s   *State
	est estimate
	i   int
}

// Part is a row of a budget.
type Part struct {
	uncert.Line               // Source is in words; U in Unit times its factor
	Gives       float64       // standard uncertainty that it gives to the value
	Unit        quantity.Unit // of U
}

// Remedy is a way to make an uncertainty smaller, with what it is about in
// words.
type Remedy struct {
	uncert.Remedy
	Instrument string        // "M-3", "the micrometer"; empty where there is none
	Place      string        // what is read or given
	Unit       quantity.Unit // of From and To, where these are no counts
}

// Reduction is what would make the uncertainty of a gate's value smaller.
type Reduction struct {
	uncert.Reduction
	Remedies []Remedy
	Largest  Part
	Owner    string // whose the largest part is: an instrument, or empty
}

// Budget returns the budget of a gate, named with the keys of its round. The
// element is one of a gate over many values by its key; empty is the worst.
// ok is false where there is no such gate, or no such element.
func (s *State) Budget(gate, element string) (b Budget, ok bool) {
	g, round, ok := s.gateAt(gate)
	if !ok {
		return Budget{}, false
	}
	b = Budget{Judgement: s.judge(g, round), Risk: math.NaN(), s: s}
	if b.Verdict == checks.Open {
		b.Missing = s.missing(gate)
		return b, true
	}
	if b.Holds || !b.judged() {
		return b, true
	}
	if b.est, ok = s.estimate(ofGate(g, round)); !ok {
		return Budget{}, false
	}
	if element == "" {
		element = b.Element
	}
	b.i = slices.IndexFunc(b.est.of, func(n number) bool { return n.key == element })
	if b.i < 0 {
		return Budget{}, false
	}
	b.of()
	return b, true
}

// unmoving counts the inputs that do not move a value whose errors were drawn as
// they stand: those between the greatest and the least. Their errors may make
// one of them the greatest, and were drawn too.
func (est *estimate) unmoving(e propagate.Estimate) int {
	if e.Drawn == nil {
		return 0
	}
	n := 0
	for i, u := range est.problem.Model.U() {
		if u > 0 && e.Slopes[i] == 0 {
			n++
		}
	}
	return n
}

// judged tells whether there is a value that was held against limits.
func (j *Judgement) judged() bool {
	return j.Verdict == checks.Pass || j.Verdict == checks.Fail || j.Verdict == checks.Undecided
}

// of fills in what concerns the one number that the budget is of.
func (b *Budget) of() {
	e := b.est.e[b.i]
	if key := b.est.of[b.i].key; key != b.Element {
		el := b.est.judge(b.i, b.Rule, b.s.readAgain(b.Gate))
		b.Element, b.Value, b.U, b.P, b.Bound, b.Verdict = key, el.Value, el.U, el.P, el.Bound, el.Verdict
		b.K, b.Dof, b.Drawn, b.Noise = e.K, e.DoF, e.Drawn, b.s.plan.isNoise(&b.est, b.i)
	}
	b.Judgement.Budget = b.s.sourced(&b.est, e.Budget)
	b.Unmoving = b.est.unmoving(e)
	b.Risk = b.Judgement.Risk()
	for _, l := range b.Judgement.Budget {
		b.Parts = append(b.Parts, b.part(l))
	}
	slices.SortStableFunc(b.Parts, func(x, y Part) int {
		switch d := x.Share - y.Share; {
		case d > 1e-9:
			return -1
		case d < -1e-9:
			return 1
		}
		return 0
	})
}

func (b *Budget) part(l uncert.Line) Part {
	p := Part{Line: l, Gives: math.Abs(l.Sensitivity) * l.U, Unit: quantity.InRun(b.Judgement.Unit, b.s.begun.Inch).Difference()}
	if u, ok := b.s.unitOfInput(&b.est, l.On); ok && u.Dim != p.Unit.Dim {
		p.Unit = u
	}
	return p
}

// Risk is the probability that a verdict is wrong, at most: 1 − p of a pass, p
// of a fail (measure rule 17). It is NaN where there is no verdict to be wrong,
// or where no doubt is stated.
func (j *Judgement) Risk() float64 {
	switch {
	case j.Holds || !(j.U > 0):
		return math.NaN()
	case j.Verdict == checks.Pass:
		return 1 - j.P
	case j.Verdict == checks.Fail:
		return j.P
	}
	return math.NaN()
}

// RunRisk is an upper bound of the probability that any of the gates that
// passed does not conform, and over how many it is; gates whose value counts
// as exact are left out (measure rule 17).
func (s *State) RunRisk() (risk float64, gates int) {
	var ps []float64
	for _, j := range s.Judgements() {
		if j.Verdict == checks.Pass && !math.IsNaN(j.Risk()) {
			ps = append(ps, j.P)
		}
	}
	return checks.RunRisk(ps...), len(ps)
}

// Reduce finds what would make the uncertainty smaller. ok is false where
// there is none.
func (b *Budget) Reduce() (out Reduction, ok bool) {
	if len(b.Parts) == 0 {
		return Reduction{}, false
	}
	again, now := b.s.readAgain(b.Gate), true
	r, err := uncert.Reduce(b.est.ins, b.est.obs, b.est.sources, b.est.e[b.i].Slopes, func(m *uncert.Model) uncert.Outcome {
		if now { // asked first, of what there is
			now = false
			return uncert.Outcome{U: b.U, Decided: b.Verdict != checks.Undecided}
		}
		est := b.est.under(m)
		el := est.judge(b.i, b.Rule, again)
		return uncert.Outcome{U: el.U, Decided: el.Verdict != checks.Undecided}
	})
	if err != nil {
		return Reduction{}, false
	}
	out = Reduction{Reduction: r, Largest: b.Parts[0], Owner: b.owner(b.Parts[0].On)}
	for _, x := range r.Remedies {
		y := Remedy{Remedy: x, Place: b.s.inputPlaces(&b.est, x.Line.On), Unit: b.Parts[0].Unit}
		if x.Instrument >= 0 {
			y.Instrument = b.owner(x.Line.On)
		}
		if u, ok := b.s.unitOfInput(&b.est, x.Line.On); ok {
			y.Unit = u
		}
		out.Remedies = append(out.Remedies, y)
	}
	return out, true
}

func (b *Budget) owner(on []int) string { return b.est.instrumentName(b.s, on) }

// under is the estimate with other uncertainties of its inputs. It is not
// kept: it is about readings that nobody took.
func (est estimate) under(m *uncert.Model) estimate {
	p := est.problem
	p.Model = m
	if p.Trials == 0 {
		p.Trials = montecarlo.Usual / 10
	}
	n := len(est.of)
	solved, ok := propagate.Solve(p)
	if !ok {
		return est
	}
	est.e, solved = solved[:n], solved[n:]
	if est.below != nil {
		est.below, solved = solved[:n], solved[n:]
	}
	if est.above != nil {
		est.above = solved[:n]
	}
	return est
}

// mostMissing is how many missing answers are named.
const mostMissing = 6

// missing names what a gate is still waiting for.
func (s *State) missing(gate string) []string {
	readings, givens, _ := s.Feeds(gate)
	var out []string
	add := func(what string) {
		if what = strings.TrimRight(strings.TrimSpace(what), "?:."); what != "" && !slices.Contains(out, what) {
			out = append(out, what)
		}
	}
	if len(s.plan.proc.Grades) > 0 && s.Grade() == "" {
		add("The grade")
	}
	for _, name := range givens {
		g := s.plan.givens[name]
		combos, _ := s.combos(g.Each, s.env())
		for _, keys := range combos {
			if id := address(name, keys...); len(s.live(id, nil)) == 0 {
				add(s.givenQuestion(g, id, s.env().bindAll(g.Each, keys)).Ask)
			}
		}
	}
	for _, name := range readings {
		r, _ := s.readingOf(name)
		if r == nil {
			continue
		}
		for _, round := range s.rounds(r.Step) {
			open, _ := s.open(r, round)
			for _, p := range open {
				if q, ok := s.asked(p.name(r)); ok {
					add(q.Ask)
				}
			}
		}
	}
	if n := len(out) - mostMissing; n > 0 {
		out = append(out[:mostMissing], fmt.Sprintf("and %d more", n))
	}
	return out
}
